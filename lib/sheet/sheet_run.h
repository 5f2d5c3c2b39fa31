/* sheet_run.h - a run in elevation, strip by strip
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SHEET_RUN_H
#define SW_SHEET_RUN_H

#include "sheet/sheet.h"

#define SW_SHEET_NAMES 96.0  /* points for the levels' names at the left of a strip */
#define SW_SHEET_BEFORE 14.0 /* between them and whatever sticks out before the first post */
#define SW_SHEET_STUB 9.0    /* what is drawn of timber that runs on past a strip's end */
#define SW_SHEET_PITCH 28.0  /* from row to row of timber */
#define SW_SHEET_BAND 18.0   /* how high timber on edge is drawn, whatever its width */

/* A run at its scale, seen from the outside.  Lengths, rises and steps are
 * drawn to the same scale; the levels that the run has stand one above the
 * other in rows at equal distances, because a rail drawn to scale is too low
 * to write on.  The ground is drawn as if it went along with every step. */
typedef struct sw_elevation
{
  size_t run_index;
  const sw_run *run;
  int64_t denominator; /* of the scale: 50 for 1 : 50 */
  double scale;        /* points a nanometre */
  double *at;          /* where each post stands, points from the run's first */
  double *before;      /* how high the bay before each post ends there, points above the run's first post */
  double *height;      /* and how high the bay after it begins: elsewhere only where the fence steps */
  size_t *levels;      /* of each row, from the lowest */
  size_t *rows;        /* of each level; SW_NONE: the run lacks it */
  size_t row_count;
  size_t piece_first; /* of the plan's pieces, those of the run */
  size_t piece_end;
  double overhang; /* most that anything sticks out past a strip's end posts */
} sw_elevation;

/* A part of it: posts FIRST to LAST, rows ROW_FIRST to ROW_END - 1. */
typedef struct sw_strip
{
  size_t first;
  size_t last;
  size_t row_first;
  size_t row_end;
  size_t mark_first; /* number of the match mark at either end; 0: none */
  size_t mark_last;
  double low; /* of the ground at its posts */
  double high;
  double dimensions; /* height of the row of dimensions */
  size_t note_rows;  /* rows of notes on ends under them */
  bool rises;        /* a row of rises */
} sw_strip;

/* A strip while it is drawn. */
typedef struct sw_sheet_frame
{
  sw_sheet *sheet;
  const sw_elevation *e;
  const sw_strip *strip;
  double x0;     /* of the first post */
  double top;    /* of the row of post numbers */
  double ground; /* at strip->low */
} sw_sheet_frame;

/* ---- sheet_strip.c ---- */

/* What the strip's rows need; fills dimensions, note_rows, rises. */
double sw_sheet_strip_height (sw_sheet *sheet, const sw_elevation *elevation, sw_strip *strip);
/* Drawn from sheet->y on, which moves down. */
void sw_sheet_strip (sw_sheet *sheet, const sw_elevation *elevation, const sw_strip *strip);

double sw_sheet_post_x (const sw_sheet_frame *f, size_t post);
/* Half a post's width on paper: never so thin that it is lost. */
double sw_sheet_half_post (const sw_sheet_frame *f, size_t post);
/* Middle of a row over ground that is at HEIGHT. */
double sw_sheet_row_y (const sw_sheet_frame *f, size_t row, double height);
/* How steep a bay is, up: over 0. */
double sw_sheet_bay_slope (const sw_elevation *e, size_t bay);

/* ---- sheet_timber.c ---- */

/* The strip's pieces and joins, in front of the posts. */
void sw_sheet_timber (const sw_sheet_frame *f);

/* ---- sheet_rows.c: what stands under a strip ---- */

/* Fills the strip's dimensions, note_rows and rises. */
void sw_sheet_measure_rows (const sw_sheet_frame *f, sw_strip *strip);
/* From Y down. */
void sw_sheet_draw_rows (const sw_sheet_frame *f, double y);

#endif
