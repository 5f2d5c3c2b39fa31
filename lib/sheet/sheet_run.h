/* sheet_run.h - runs in elevation, with their set-out under them
 *
 * From the lowest file up: sheet_place (where things are), sheet_stand
 * (posts, ground, gates), sheet_timber (pieces), sheet_stick (the margin),
 * sheet_columns (figures under the posts), sheet_words (what stands under
 * them), sheet_block (one block), sheet_runs (all of them).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SHEET_RUN_H
#define SW_SHEET_RUN_H

#include "sheet/sheet.h"
#include "sheet/sheet_pack.h"

#define SW_SHEET_NAMES 98.0   /* points for the names of the levels in the margin of a block */
#define SW_SHEET_BEFORE 28.0  /* points from the names to what sticks out before the first post; the stick is there */
#define SW_SHEET_STUB 9.0     /* how much is drawn of timber that runs on past a block's end */
#define SW_SHEET_PITCH 26.0   /* from one row of timber to the next */
#define SW_SHEET_BAND 22.5    /* height of timber on edge on paper, whatever its width */
#define SW_SHEET_NUMBERS 14.0 /* height of the row of post numbers */
#define SW_SHEET_HEADING_ROW 14.0
#define SW_SHEET_OVER 5.0  /* posts reach this far above the top row */
#define SW_SHEET_UNDER 4.0 /* the ground lies this far below the lowest row */
#define SW_SHEET_BURIED 3.0
#define SW_SHEET_ROWS_A_BLOCK 12
#define SW_SHEET_COLUMN_ROWS (SW_SHEET_ROWS_A_BLOCK + 6)

/* A run at the scale of the sheet, seen from the outside.  Lengths, rises and steps are drawn to the same scale.  The
 * levels of the run are drawn in rows at equal distances, because a rail drawn to scale is too low to write on.  The
 * ground is drawn as if it rose and fell with every step. */
typedef struct sw_elevation
{
  size_t run_index;
  const sw_run *run;
  int64_t denominator; /* of the scale: 50 for 1 : 50 */
  double scale;        /* points in a nanometre */
  double *at;          /* for each post: its place, in points from the run's first post */
  double *before;      /* for each post: the height at which the bay before it ends, in points above the run's first
                          post */
  double *height;      /* for each post: the height at which the bay after it begins; the two differ only where the
                          fence steps */
  sw_length *distance; /* for each post: its distance along the run */
  sw_length *ground;   /* for each post: how much higher its ground is than that of the first */
  sw_length *lifted;   /* for each post: how much higher the levels are before it than at the first */
  size_t *levels;      /* for each row, from the lowest: its level */
  size_t *rows;        /* for each level: its row; SW_NONE: the run does not have it */
  size_t row_count;
  size_t piece_first; /* the pieces of the run in the plan, without its blocks */
  size_t piece_end;
  size_t blocks_first; /* the fixing blocks of the run */
  size_t blocks_end;
  double overhang; /* the most that anything sticks out past a block's end posts */
  bool rises;
  bool steps;
} sw_elevation;

/* A part of a run on paper: posts FIRST to LAST, rows ROW_FIRST to ROW_END - 1. */
typedef struct sw_sheet_block
{
  size_t run;
  size_t piece_first, piece_end; /* as in its elevation */
  size_t blocks_first, blocks_end;
  size_t first;
  size_t last;
  size_t row_first;
  size_t row_end;
  size_t mark_first; /* number of the match mark at that end; 0: there is none */
  size_t mark_last;
  double low; /* of the ground at its posts */
  double high;
} sw_sheet_block;

/* A block while it is measured or drawn. */
typedef struct sw_sheet_frame
{
  sw_sheet *sheet;
  const sw_elevation *e;
  const sw_sheet_block *block;
  double left;   /* of the block */
  double width;  /* of the block */
  double x0;     /* place of the first post */
  double top;    /* of the block */
  double ground; /* at block->low */
} sw_sheet_frame;

/* ---- sheet_place.c: where things are ---- */

/* Make room for any run of the job; false when memory runs out.  To be cleared in either case. */
bool sw_elevation_open (sw_elevation *e, const sw_job *job);
void sw_elevation_clear (sw_elevation *e);
/* Lay out run INDEX at 1 : DENOMINATOR.  O(bays + levels). */
void sw_elevation_set (sw_elevation *e, const sw_job *job, size_t index, int64_t denominator);
/* Widen LOW to HIGH so that they hold the heights of the bays between posts FIRST and LAST. */
void sw_elevation_heights (const sw_elevation *e, size_t first, size_t last, double *low, double *high);
/* Is the bay drawn wider than the scale has it, or shorter? */
bool sw_elevation_is_broken (const sw_elevation *e, size_t bay);

/* The frame of BLOCK with its corner at LEFT and TOP. */
sw_sheet_frame sw_sheet_frame_of (sw_sheet *sheet, const sw_elevation *e, const sw_sheet_block *block, double left,
                                  double top);
/* The next of the plan's pieces, from INDEX on, that may be seen in the block; block->piece_end: there is none.
 * Logarithmic in the run's pieces. */
size_t sw_sheet_next_piece (const sw_sheet_frame *f, size_t index);
/* The first piece of the run on the same level as piece INDEX. */
size_t sw_sheet_level_start (const sw_sheet_frame *f, size_t index);
/* Points from the block's left edge to its first post; then from its last post to its right edge. */
double sw_sheet_block_before (const sw_elevation *e);
double sw_sheet_block_after (const sw_elevation *e, bool breaks_off);
double sw_sheet_post_x (const sw_sheet_frame *f, size_t post);
/* Half the width of a post on paper, never so thin that it is lost. */
double sw_sheet_half_post (const sw_sheet_frame *f, size_t post);
double sw_sheet_ground_y (const sw_sheet_frame *f, double height);
/* The middle of a row over ground that is at HEIGHT. */
double sw_sheet_row_y (const sw_sheet_frame *f, size_t row, double height);
/* The lower height at which a bay of this block meets POST; then the higher one. */
double sw_sheet_low_side (const sw_sheet_frame *f, size_t post);
double sw_sheet_high_side (const sw_sheet_frame *f, size_t post);
/* The top of the rows at a post. */
double sw_sheet_rows_top (const sw_sheet_frame *f, size_t post);
/* The slope of a bay; over 0: it rises. */
double sw_sheet_bay_slope (const sw_elevation *e, size_t bay);

/* ---- sheet_stand.c ---- */

/* Draw posts with their numbers, the ground and gates. */
void sw_sheet_stand (const sw_sheet_frame *f);
/* Draw the match marks where the block breaks off: the same letter at both ends. */
void sw_sheet_matches (const sw_sheet_frame *f);

/* ---- sheet_timber.c, sheet_write.c ---- */

/* Draw the block's pieces and joins, in front of the posts. */
void sw_sheet_timber (const sw_sheet_frame *f);

/* The band of a piece on paper, with what is to be written on it. */
typedef struct sw_sheet_writing
{
  double x, y; /* the middle of the writing */
  double angle;
  double room;  /* along the piece */
  double upper; /* the upper of two lines has so much less room */
  bool box;     /* with a box to tick, because most of the piece is in this block */
} sw_sheet_writing;

/* How much of the writing there is room for. */
typedef enum sw_sheet_fit
{
  SW_SHEET_FIT_NONE,
  SW_SHEET_FIT_POSTS, /* only its posts */
  SW_SHEET_FIT_SMALL, /* all of it in two lines, small */
  SW_SHEET_FIT_TWO,
  SW_SHEET_FIT_ONE
} sw_sheet_fit;

sw_sheet_fit sw_sheet_fit_of (sw_sheet *sheet, const sw_piece *piece, const sw_sheet_writing *w);
/* Write posts, length, board and box. */
void sw_sheet_write_piece (sw_sheet *sheet, const sw_piece *piece, const sw_sheet_writing *w);
/* Find where PIECE is to be written in the block; false: it is not seen there. */
bool sw_sheet_writing_of (const sw_sheet_frame *f, const sw_piece *piece, sw_sheet_writing *out);

/* ---- sheet_stick.c ---- */

/* Draw the names and marks of the levels, and the stick. */
void sw_sheet_margin (const sw_sheet_frame *f);

/* ---- sheet_columns.c ---- */

typedef enum sw_sheet_figure
{
  SW_SHEET_BAY,
  SW_SHEET_DISTANCE,
  SW_SHEET_WIDTH,
  SW_SHEET_GROUND,
  SW_SHEET_LIFTED,
  SW_SHEET_DEPTH
} sw_sheet_figure;

/* A row of figures under the posts. */
typedef struct sw_sheet_column_row
{
  sw_sheet_figure figure;
  size_t level; /* for depths: the lowest of the COUNT levels that the row is for, which are all alike */
  size_t count;
  double height;
  bool turned; /* the figures stand upright, because they are wider than the bays */
} sw_sheet_column_row;

typedef struct sw_sheet_columns
{
  size_t count;
  sw_sheet_column_row rows[SW_SHEET_COLUMN_ROWS];
  double height; /* of all */
} sw_sheet_columns;

void sw_sheet_columns_of (const sw_sheet_frame *f, sw_sheet_columns *out);
/* From Y down. */
void sw_sheet_columns_draw (const sw_sheet_frame *f, const sw_sheet_columns *columns, double y);

/* ---- sheet_ends.c, sheet_words.c: what stands under the figures ---- */

/* Write how timber ends and where the fence steps, each under its post, from Y on; returns the height. */
double sw_sheet_ends (const sw_sheet_frame *f, double y, bool draw);
/* List pieces that are too short to be written on, and fixing blocks; returns the height. */
double sw_sheet_words (const sw_sheet_frame *f, double y, bool draw);

/* ---- sheet_block.c ---- */

double sw_sheet_block_height (const sw_sheet_frame *f);
double sw_sheet_block_width (const sw_elevation *e, const sw_sheet_block *block);
void sw_sheet_block_draw (const sw_sheet_frame *f);

#endif
