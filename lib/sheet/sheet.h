/* sheet.h - the sheet to carry on site: what its parts share
 *
 * Only the files of this room use cairo and pango.  Everything is drawn
 * through the functions below, so that one pass can count the pages without
 * drawing, and no user text reaches pango before it is made safe.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SHEET_H
#define SW_SHEET_H

#include "plan/plan.h"
#include "view/figures.h"
#include "view/pencil.h"
#include "view/setout.h"

#include <pango/pangocairo.h>

/* The most pages of a part.  No one would print or leaf through more, and so many take seconds to draw, however large
 * the job is. */
#define SW_SHEET_MOST_PAGES 500

/* Points: 72 an inch. */
#define SW_SHEET_MARGIN 27.0
#define SW_SHEET_LINE 14.0  /* from one line of text to the next */
#define SW_SHEET_CLOSE 10.5 /* the same for small text */
#define SW_SHEET_BOX 9.0    /* the side of a box to tick */

typedef enum sw_sheet_style
{
  SW_SHEET_BODY,
  SW_SHEET_STRONG, /* numbers that are looked for */
  SW_SHEET_SMALL,
  SW_SHEET_SMALL_STRONG,
  SW_SHEET_LARGE, /* text that is read with the saw in hand */
  SW_SHEET_HEADING,
  SW_SHEET_TITLE,
  SW_SHEET_FIXED, /* characters of equal width, for columns */
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
  char *stamp;  /* says which plan this is, at the foot of every page */
  double width; /* of the page */
  double height;
  double left; /* where things may be drawn */
  double right;
  double top;
  double bottom;
  double lowest; /* bottom, except on the last page that a part may have */
  double y;      /* how far down the page is filled */
  size_t page;   /* from 1 */
  size_t pages;  /* 0: not yet known */
  bool page_open;
  const char *part;  /* what the page shows */
  const char *also;  /* the tables that have what is left out of the part */
  size_t part_pages; /* of it so far */
  bool full;         /* the part has all the pages it may have, so nothing more is drawn */
  cairo_t *resumes;  /* cr for the page that the next part begins on */
  char note[200];    /* beside the part's name, at the right */
  size_t first_run;  /* the first run that this page shows, or SW_NONE */
  size_t last_run;
  size_t key_page;                     /* the page with the key; 0: not known */
  size_t *run_pages;                   /* for each run: the page it is drawn on first; 0: not known, or none */
  struct sw_sheet_runs *laid_runs;     /* where the runs are drawn, once that is known (sheet_runs.c) */
  struct sw_sheet_boards *laid_boards; /* where the boards are drawn (sheet_boards.c) */
  PangoFontMap *fonts;
  PangoContext *context;
  PangoLayout *layouts[SW_SHEET_STYLES];
  double advances[SW_SHEET_STYLES][128]; /* width of a character of ASCII; under 0: not yet known */
  sw_text clean;                         /* the text that is drawn now, made safe */
  cairo_t *cr;                           /* NULL while pages are counted */
  sw_status status;                      /* that of the first failure */
  /* Called when a page begins (sets cr) and when it is complete. */
  void (*begin_page) (struct sw_sheet *sheet);
  void (*end_page) (struct sw_sheet *sheet);
  void *sink;         /* theirs */
  sw_page_fn page_fn; /* the caller's, or NULL */
  void *page_data;
  sw_report *report;
} sw_sheet;

/* ---- Pages (sheet_page.c) ---- */

/* Set the fonts, the page size and what the parts look up; SW_NO_MEMORY, or SW_IO when no font is installed. */
sw_status sw_sheet_open (sw_sheet *sheet, const sw_plan *plan);
void sw_sheet_close (sw_sheet *sheet);
/* Begin a part, with PART as its title and NOTE (may be NULL) at the right.  It begins on the page where the last part
 * ended when that page is mostly empty and LEAST more points fit on it, else on a new page; LEAST 0: always on a new
 * page.  ALSO: the tables that have what does not fit on the part's last page. */
void sw_sheet_new_part (sw_sheet *sheet, const char *part, const char *note, const char *also, double least);
/* Is there any use in drawing on?  Loops over many things ask this. */
bool sw_sheet_goes_on (const sw_sheet *sheet);
/* Begin a new page unless HEIGHT more points fit on this one; true when a page was begun. */
bool sw_sheet_need (sw_sheet *sheet, double height);
/* Begin a new page of the same part; false when the part has all the pages it may have. */
bool sw_sheet_next_page (sw_sheet *sheet);
/* Note that run INDEX is on this page, so that the foot names it. */
void sw_sheet_mention_run (sw_sheet *sheet, size_t index);
/* Complete the last page of the part and of the sheet. */
void sw_sheet_finish (sw_sheet *sheet);

/* ---- Text (sheet_text.c) ---- */

/* Note a failure; the first one counts. */
void sw_sheet_fail (sw_sheet *sheet, sw_status status);

/* Write TEXT in one line, BASELINE down the page.  LIMIT > 0: it is cut off there with an ellipsis. */
void sw_sheet_text (sw_sheet *sheet, sw_sheet_style style, sw_sheet_align align, double x, double baseline,
                    double limit, const char *text);
/* Write text centred on x, y and turned by ANGLE (radians, clockwise). */
void sw_sheet_text_turned (sw_sheet *sheet, sw_sheet_style style, double x, double y, double angle, const char *text);
/* How wide TEXT is, or very little less: letters that stand closer in pairs are not looked at. */
double sw_sheet_measure (sw_sheet *sheet, sw_sheet_style style, const char *text);
/* Write TEXT from y on, broken into lines of WIDTH; the height is right also when pages are only counted. */
double sw_sheet_paragraph (sw_sheet *sheet, sw_sheet_style style, double x, double y, double width, const char *text);
double sw_sheet_paragraph_height (sw_sheet *sheet, sw_sheet_style style, double width, const char *text);
/* Is there a font for every letter of TEXT? */
bool sw_sheet_has_letters (sw_sheet *sheet, const char *text);

/* ---- Lines and shapes (sheet_draw.c) ---- */

void sw_sheet_line (sw_sheet *sheet, double x1, double y1, double x2, double y2, double thick);
void sw_sheet_dashed (sw_sheet *sheet, double x1, double y1, double x2, double y2, double thick);
/* GREY: 0 is black, 1 is white; negative: not filled.  THICK 0: no outline. */
void sw_sheet_box (sw_sheet *sheet, double x, double y, double width, double height, double grey, double thick);
/* COUNT points: x, y, x, y ... */
void sw_sheet_polygon (sw_sheet *sheet, const double *points, size_t count, double grey, double thick);
/* Fill a rectangle with slanting lines. */
void sw_sheet_hatch (sw_sheet *sheet, double x, double y, double width, double height);
/* A black disc with white TEXT. */
void sw_sheet_disc (sw_sheet *sheet, double x, double y, double radius, const char *text);
/* Draw a board's NUMBER (from 0) in its ring, centred on X and Y; then: how wide that is. */
void sw_sheet_ring (sw_sheet *sheet, sw_sheet_style style, double x, double y, size_t number);
double sw_sheet_ring_width (sw_sheet *sheet, sw_sheet_style style, size_t number);
/* Draw a box to tick, SW_SHEET_BOX wide, with its foot on BASELINE. */
void sw_sheet_tick_box (sw_sheet *sheet, double x, double baseline);
/* Draw the tick in such a box. */
void sw_sheet_tick (sw_sheet *sheet, double x, double baseline);
/* Draw a fixing block: a box with one diagonal, as blocking is drawn. */
void sw_sheet_block_sign (sw_sheet *sheet, double x, double y, double width, double height);
/* Nothing is drawn outside until sw_sheet_unclip. */
void sw_sheet_clip (sw_sheet *sheet, double x, double y, double width, double height);
void sw_sheet_unclip (sw_sheet *sheet);
/* Make X and Y the origin and turn what is drawn by ANGLE, until sw_sheet_unturn. */
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
