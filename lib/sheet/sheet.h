/* sheet.h - the sheet to carry on site: what its parts share
 *
 * The files sheet_*.c are the only users of cairo and pango.  Everything is
 * drawn through the functions below, so that one pass can count the pages
 * without drawing, and no user text reaches pango as it came.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SHEET_H
#define SW_SHEET_H

#include "plan/plan.h"
#include "view/figures.h"

#include <pango/pangocairo.h>

/* Pages of a part at most: what no one would print or leaf through, and what
 * takes seconds to draw however large the job. */
#define SW_SHEET_MOST_PAGES 500

/* Points: 72 an inch. */
#define SW_SHEET_MARGIN 30.0
#define SW_SHEET_LINE 14.0 /* from one line of text to the next */

typedef enum sw_sheet_style
{
  SW_SHEET_BODY,
  SW_SHEET_STRONG, /* piece labels, numbers to look for */
  SW_SHEET_HEADING,
  SW_SHEET_TITLE,
  SW_SHEET_FIXED, /* characters of one width, for columns */
  SW_SHEET_FIXED_STRONG,
  SW_SHEET_STYLES
} sw_sheet_style;

typedef enum sw_sheet_align
{
  SW_SHEET_LEFT,
  SW_SHEET_CENTRE,
  SW_SHEET_RIGHT
} sw_sheet_align;

/* One pass over the sheet. */
typedef struct sw_sheet
{
  const sw_plan *plan;
  const sw_job *job;
  double width; /* of the page */
  double height;
  double left; /* where things may be drawn */
  double right;
  double top;
  double bottom;
  double lowest; /* bottom, but for the last page that a part may have */
  double y;     /* how far down the page is filled */
  size_t page;  /* from 1 */
  size_t pages; /* 0: not known yet */
  bool page_open;
  const char *part; /* what the page shows */
  const char *also; /* the tables that have what is left out of it */
  size_t part_pages; /* of it so far */
  bool full;         /* it has all the pages it may have: nothing is drawn */
  cairo_t *resumes;  /* cr for when the next part begins */
  char note[160];   /* beside it, at the right */
  size_t first_run; /* shown on this page, or SW_NONE */
  size_t last_run;
  PangoFontMap *fonts;
  PangoContext *context;
  PangoLayout *layouts[SW_SHEET_STYLES];
  char *title;      /* of the job; NULL: it has none */
  sw_text clean;    /* the text that is being drawn, made safe */
  cairo_t *cr;      /* NULL while pages are counted */
  sw_status status; /* of the first failure */
  /* Called when a page begins (sets cr) and when it is complete. */
  void (*begin_page) (struct sw_sheet *sheet);
  void (*end_page) (struct sw_sheet *sheet);
  void *sink; /* theirs */
  sw_page_fn page_fn; /* of the caller, or NULL */
  void *page_data;
  sw_report *report;
} sw_sheet;

/* ---- Pages (sheet_page.c) ---- */

/* Fonts and page size; SW_NO_MEMORY, or SW_IO when no font is installed. */
sw_status sw_sheet_open (sw_sheet *sheet, const sw_plan *plan);
void sw_sheet_close (sw_sheet *sheet);
/* Begin a part: PART at the head of its pages and NOTE (may be NULL) at the
 * right.  ALSO: the tables that have what does not go on its last page. */
void sw_sheet_new_part (sw_sheet *sheet, const char *part, const char *note, const char *also);
/* Is there any use in drawing on?  For loops over many things. */
bool sw_sheet_goes_on (const sw_sheet *sheet);
/* A new page unless HEIGHT more points fit on this one; true when there was one. */
bool sw_sheet_need (sw_sheet *sheet, double height);
/* Run INDEX is on this page: its name stands at the foot. */
void sw_sheet_mention_run (sw_sheet *sheet, size_t index);
/* The last page is complete, of the part and of the sheet. */
void sw_sheet_finish (sw_sheet *sheet);

/* ---- Drawing (sheet_draw.c) ---- */

/* Text in one line, BASELINE down the page.  LIMIT > 0: cut off with an ellipsis beyond it. */
void sw_sheet_text (sw_sheet *sheet, sw_sheet_style style, sw_sheet_align align, double x, double baseline,
                    double limit, const char *text);
/* Centred on x, y and turned by ANGLE (radians, clockwise). */
void sw_sheet_text_turned (sw_sheet *sheet, sw_sheet_style style, double x, double y, double angle, const char *text);
double sw_sheet_measure (sw_sheet *sheet, sw_sheet_style style, const char *text);
/* Text broken into lines of WIDTH from y on; true height, also when it is only counted. */
double sw_sheet_paragraph (sw_sheet *sheet, sw_sheet_style style, double x, double y, double width, const char *text);
double sw_sheet_paragraph_height (sw_sheet *sheet, sw_sheet_style style, double width, const char *text);

void sw_sheet_line (sw_sheet *sheet, double x1, double y1, double x2, double y2, double thick);
void sw_sheet_dashed (sw_sheet *sheet, double x1, double y1, double x2, double y2, double thick);
/* GREY: 0 black to 1 white; negative: not filled.  THICK 0: no outline. */
void sw_sheet_box (sw_sheet *sheet, double x, double y, double width, double height, double grey, double thick);
/* COUNT points: x, y, x, y ... */
void sw_sheet_polygon (sw_sheet *sheet, const double *points, size_t count, double grey, double thick);
/* Slanting lines all over a rectangle. */
void sw_sheet_hatch (sw_sheet *sheet, double x, double y, double width, double height);
/* A black disc with white TEXT. */
void sw_sheet_disc (sw_sheet *sheet, double x, double y, double radius, const char *text);
/* A box to tick, its foot on BASELINE; width 10. */
void sw_sheet_tick_box (sw_sheet *sheet, double x, double baseline);
/* Nothing is drawn outside until sw_sheet_unclip. */
void sw_sheet_clip (sw_sheet *sheet, double x, double y, double width, double height);
void sw_sheet_unclip (sw_sheet *sheet);

/* ---- Parts ---- */

void sw_sheet_order (sw_sheet *sheet);  /* sheet_order.c */
void sw_sheet_runs (sw_sheet *sheet);   /* sheet_run.c */
void sw_sheet_boards (sw_sheet *sheet); /* sheet_boards.c */
void sw_sheet_setout (sw_sheet *sheet); /* sheet_setout.c */
void sw_sheet_fit (sw_sheet *sheet);    /* sheet_fit.c */

#endif
