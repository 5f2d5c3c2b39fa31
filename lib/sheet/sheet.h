/* sheet.h - the sheet to carry on site: what its parts share
 *
 * The files of this room are the only users of cairo and pango.  Everything
 * is drawn through the functions below, so that one pass can count the pages
 * without drawing, and no user text reaches pango as it came.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SHEET_H
#define SW_SHEET_H

#include "plan/plan.h"
#include "view/figures.h"
#include "view/pencil.h"
#include "view/setout.h"

#include <pango/pangocairo.h>

/* Pages of a part at most: what no one would print or leaf through, and what
 * takes seconds to draw however large the job. */
#define SW_SHEET_MOST_PAGES 500

/* Points: 72 an inch. */
#define SW_SHEET_MARGIN 27.0
#define SW_SHEET_LINE 14.0  /* from one line of text to the next */
#define SW_SHEET_CLOSE 10.5 /* the same of small text */
#define SW_SHEET_BOX 9.0    /* the side of a box to tick */

typedef enum sw_sheet_style
{
  SW_SHEET_BODY,
  SW_SHEET_STRONG, /* numbers to look for */
  SW_SHEET_SMALL,
  SW_SHEET_SMALL_STRONG,
  SW_SHEET_LARGE, /* what is read with the saw in hand */
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
  sw_pencils pencils;
  sw_setout setout;
  char *stamp;  /* which plan this is, at the foot of every page */
  double width; /* of the page */
  double height;
  double left; /* where things may be drawn */
  double right;
  double top;
  double bottom;
  double lowest; /* bottom, but for the last page that a part may have */
  double y;      /* how far down the page is filled */
  size_t page;   /* from 1 */
  size_t pages;  /* 0: not known yet */
  bool page_open;
  const char *part;  /* what the page shows */
  const char *also;  /* the tables that have what is left out of it */
  size_t part_pages; /* of it so far */
  bool full;         /* it has all the pages it may have: nothing is drawn */
  cairo_t *resumes;  /* cr for when the next part begins */
  char note[200];    /* beside it, at the right */
  size_t first_run;  /* shown on this page, or SW_NONE */
  size_t last_run;
  size_t key_page;                     /* where the key is; 0: not known */
  size_t *run_pages;                   /* of each run, where it is drawn first; 0: not known, or nowhere */
  struct sw_sheet_runs *laid_runs;     /* where they are drawn, once that is known (sheet_runs.c) */
  struct sw_sheet_boards *laid_boards; /* and the boards (sheet_boards.c) */
  PangoFontMap *fonts;
  PangoContext *context;
  PangoLayout *layouts[SW_SHEET_STYLES];
  double advances[SW_SHEET_STYLES][128]; /* how wide a character of ASCII is; under 0: not known yet */
  sw_text clean;                         /* the text that is being drawn, made safe */
  cairo_t *cr;                           /* NULL while pages are counted */
  sw_status status;                      /* of the first failure */
  /* Called when a page begins (sets cr) and when it is complete. */
  void (*begin_page) (struct sw_sheet *sheet);
  void (*end_page) (struct sw_sheet *sheet);
  void *sink;         /* theirs */
  sw_page_fn page_fn; /* of the caller, or NULL */
  void *page_data;
  sw_report *report;
} sw_sheet;

/* ---- Pages (sheet_page.c) ---- */

/* Fonts, page size and what the parts look up; SW_NO_MEMORY, or SW_IO when no font is installed. */
sw_status sw_sheet_open (sw_sheet *sheet, const sw_plan *plan);
void sw_sheet_close (sw_sheet *sheet);
/* Begin a part: PART over it and NOTE (may be NULL) at the right.  It begins
 * on the page that the last part ended on when that is mostly empty and LEAST
 * more points fit there, else on a new one; LEAST 0: always on a new one.
 * ALSO: the tables that have what does not go on its last page. */
void sw_sheet_new_part (sw_sheet *sheet, const char *part, const char *note, const char *also, double least);
/* Is there any use in drawing on?  For loops over many things. */
bool sw_sheet_goes_on (const sw_sheet *sheet);
/* A new page unless HEIGHT more points fit on this one; true when there was one. */
bool sw_sheet_need (sw_sheet *sheet, double height);
/* A new page of the same part; false when the part has all that it may have. */
bool sw_sheet_next_page (sw_sheet *sheet);
/* Run INDEX is on this page: its name stands at the foot. */
void sw_sheet_mention_run (sw_sheet *sheet, size_t index);
/* The last page is complete, of the part and of the sheet. */
void sw_sheet_finish (sw_sheet *sheet);

/* ---- Text (sheet_text.c) ---- */

/* The first failure counts. */
void sw_sheet_fail (sw_sheet *sheet, sw_status status);

/* Text in one line, BASELINE down the page.  LIMIT > 0: cut off with an ellipsis beyond it. */
void sw_sheet_text (sw_sheet *sheet, sw_sheet_style style, sw_sheet_align align, double x, double baseline,
                    double limit, const char *text);
/* Centred on x, y and turned by ANGLE (radians, clockwise). */
void sw_sheet_text_turned (sw_sheet *sheet, sw_sheet_style style, double x, double y, double angle, const char *text);
/* How wide TEXT is, or hardly less: letters that stand closer in pairs are not looked at. */
double sw_sheet_measure (sw_sheet *sheet, sw_sheet_style style, const char *text);
/* Text broken into lines of WIDTH from y on; true height, also when it is only counted. */
double sw_sheet_paragraph (sw_sheet *sheet, sw_sheet_style style, double x, double y, double width, const char *text);
double sw_sheet_paragraph_height (sw_sheet *sheet, sw_sheet_style style, double width, const char *text);
/* Is there a font for every letter of TEXT? */
bool sw_sheet_has_letters (sw_sheet *sheet, const char *text);

/* ---- Lines and shapes (sheet_draw.c) ---- */

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
/* A board's NUMBER (from 0) in its ring, centred on X and Y, or only how wide that is. */
void sw_sheet_ring (sw_sheet *sheet, sw_sheet_style style, double x, double y, size_t number);
double sw_sheet_ring_width (sw_sheet *sheet, sw_sheet_style style, size_t number);
/* A box to tick, SW_SHEET_BOX wide, its foot on BASELINE. */
void sw_sheet_tick_box (sw_sheet *sheet, double x, double baseline);
/* The tick in such a box. */
void sw_sheet_tick (sw_sheet *sheet, double x, double baseline);
/* A fixing block: a box with one diagonal, as blocking is drawn. */
void sw_sheet_block_sign (sw_sheet *sheet, double x, double y, double width, double height);
/* Nothing is drawn outside until sw_sheet_unclip. */
void sw_sheet_clip (sw_sheet *sheet, double x, double y, double width, double height);
void sw_sheet_unclip (sw_sheet *sheet);
/* X and Y are the origin, and what is drawn is turned by ANGLE, until sw_sheet_unturn. */
void sw_sheet_turn (sw_sheet *sheet, double x, double y, double angle);
void sw_sheet_unturn (sw_sheet *sheet);

/* ---- Parts ---- */

void sw_sheet_order (sw_sheet *sheet);  /* sheet_order.c */
void sw_sheet_key (sw_sheet *sheet);    /* sheet_key.c: what the signs mean, on the order's pages */
void sw_sheet_index (sw_sheet *sheet);  /* sheet_index.c: where each run is, on the order's pages */
void sw_sheet_runs (sw_sheet *sheet);   /* sheet_runs.c */
void sw_sheet_boards (sw_sheet *sheet); /* sheet_boards.c */
void sw_sheet_runs_free (struct sw_sheet_runs *runs);
void sw_sheet_boards_free (struct sw_sheet_boards *boards);
/* Warn of names that no font has letters for (sheet_letters.c). */
void sw_sheet_check_letters (sw_sheet *sheet);

#endif
