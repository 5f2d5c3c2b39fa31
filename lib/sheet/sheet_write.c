/* sheet_write.c - what is written on a piece of an elevation: its posts, its length, its board, a box to tick
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#include <math.h>
#include <stdio.h>

#define GAP 5.0   /* between two of them */
#define WIDE 9.0  /* between two of them where there is room */
#define CLOSE 3.0 /* between two of them where there are two lines */
#define LINE 5.2  /* how far the middle of either of two lines is from that of the piece */

/* The words of a piece, and their widths in the styles of a fit. */
typedef struct words
{
  char posts[64];
  char length[SW_LENGTH_TEXT];
  double posts_wide;
  double length_wide;
  double ring_wide;
  double box_wide;
  bool ticked; /* the piece is in its place already */
} words;

static const struct
{
  sw_sheet_style posts;
  sw_sheet_style length;
  sw_sheet_style board;
} styles[] = {
  [SW_SHEET_FIT_POSTS] = { SW_SHEET_SMALL_STRONG, SW_SHEET_SMALL_STRONG, SW_SHEET_SMALL },
  [SW_SHEET_FIT_SMALL] = { SW_SHEET_SMALL_STRONG, SW_SHEET_SMALL_STRONG, SW_SHEET_SMALL },
  [SW_SHEET_FIT_TWO] = { SW_SHEET_SMALL_STRONG, SW_SHEET_STRONG, SW_SHEET_SMALL_STRONG },
  [SW_SHEET_FIT_ONE] = { SW_SHEET_STRONG, SW_SHEET_LARGE, SW_SHEET_STRONG },
};

/* A piece that is in its place already comes from no board of this plan. */
static const char in_place[] = "fixed";

static double
board_width (sw_sheet *sheet, const sw_piece *piece, sw_sheet_style style)
{
  return piece->board == SW_NONE ? sw_sheet_measure (sheet, SW_SHEET_SMALL, in_place)
                                 : sw_sheet_ring_width (sheet, style, piece->board);
}

static void
write_board (sw_sheet *sheet, const sw_piece *piece, sw_sheet_style style, double x, double y)
{
  if (piece->board == SW_NONE)
    sw_sheet_text_turned (sheet, SW_SHEET_SMALL, x, y, 0, in_place);
  else
    sw_sheet_ring (sheet, style, x, y, piece->board);
}

static words
words_of (sw_sheet *sheet, const sw_piece *piece, bool box, sw_sheet_fit fit)
{
  words w;
  snprintf (w.posts, sizeof w.posts, "%zu-%zu", piece->from + 1, piece->to + 1);
  sw_view_length (sheet->job, piece->cut, w.length);
  w.posts_wide = sw_sheet_measure (sheet, styles[fit].posts, w.posts);
  w.length_wide = sw_sheet_measure (sheet, styles[fit].length, w.length);
  w.ring_wide = board_width (sheet, piece, styles[fit].board);
  w.box_wide = box ? SW_SHEET_BOX : 0;
  w.ticked = piece->board == SW_NONE;
  return w;
}

/* Is there room for FIT? */
static bool
fits (sw_sheet *sheet, const sw_piece *piece, const sw_sheet_writing *at, sw_sheet_fit fit)
{
  const words w = words_of (sheet, piece, at->box, fit);
  if (fit == SW_SHEET_FIT_POSTS)
    return w.posts_wide <= at->room - at->upper;
  if (fit == SW_SHEET_FIT_ONE)
    return w.box_wide + w.posts_wide + w.length_wide + w.ring_wide + 3 * GAP + at->upper <= at->room;
  const double upper = w.posts_wide + (at->box ? w.box_wide + CLOSE : 0);
  return upper <= at->room - at->upper && w.length_wide + CLOSE + w.ring_wide <= at->room;
}

sw_sheet_fit
sw_sheet_fit_of (sw_sheet *sheet, const sw_piece *piece, const sw_sheet_writing *at)
{
  sw_sheet_fit fit = SW_SHEET_FIT_ONE;
  while (fit > SW_SHEET_FIT_NONE && !fits (sheet, piece, at, fit))
    fit--;
  return fit;
}

/* Draw the box from X on at the middle line Y; returns where it ends. */
static double
write_box (sw_sheet *sheet, double x, double y, const words *w, double gap)
{
  if (w->box_wide <= 0)
    return x;
  sw_sheet_tick_box (sheet, x, y + SW_SHEET_BOX / 2 - 0.9);
  if (w->ticked)
    sw_sheet_tick (sheet, x, y + SW_SHEET_BOX / 2 - 0.9);
  return x + w->box_wide + gap;
}

static void
write_centred (sw_sheet *sheet, sw_sheet_style style, double x, double wide, double y, const char *text)
{
  sw_sheet_text_turned (sheet, style, x + wide / 2, y, 0, text);
}

static void
write_one_line (sw_sheet *sheet, const sw_piece *piece, const sw_sheet_writing *at)
{
  const words w = words_of (sheet, piece, at->box, SW_SHEET_FIT_ONE);
  const double all = w.box_wide + w.posts_wide + w.length_wide + w.ring_wide;
  const double gap = fmin (fmax ((at->room - at->upper - all) / 4, GAP), WIDE + 3);
  double x = -(all + (at->box ? 3 : 2) * gap) / 2;
  x = write_box (sheet, x, 0, &w, gap);
  write_centred (sheet, styles[SW_SHEET_FIT_ONE].posts, x, w.posts_wide, 0, w.posts);
  x += w.posts_wide + gap;
  write_centred (sheet, styles[SW_SHEET_FIT_ONE].length, x, w.length_wide, 0, w.length);
  x += w.length_wide + gap;
  write_board (sheet, piece, styles[SW_SHEET_FIT_ONE].board, x + w.ring_wide / 2, 0);
}

static void
write_two_lines (sw_sheet *sheet, const sw_piece *piece, const sw_sheet_writing *at, sw_sheet_fit fit)
{
  const words w = words_of (sheet, piece, at->box, fit);
  double x = -(w.posts_wide + (at->box ? w.box_wide + CLOSE : 0)) / 2;
  x = write_box (sheet, x, -LINE, &w, CLOSE);
  write_centred (sheet, styles[fit].posts, x, w.posts_wide, -LINE, w.posts);
  x = -(w.length_wide + CLOSE + w.ring_wide) / 2;
  write_centred (sheet, styles[fit].length, x, w.length_wide, LINE - 0.5, w.length);
  write_board (sheet, piece, styles[fit].board, x + w.length_wide + CLOSE + w.ring_wide / 2, LINE - 0.5);
}

void
sw_sheet_write_piece (sw_sheet *sheet, const sw_piece *piece, const sw_sheet_writing *at)
{
  const sw_sheet_fit fit = sw_sheet_fit_of (sheet, piece, at);
  if (fit == SW_SHEET_FIT_NONE || sheet->cr == NULL)
    return;
  sw_sheet_turn (sheet, at->x, at->y, at->angle);
  if (fit == SW_SHEET_FIT_ONE)
    write_one_line (sheet, piece, at);
  else if (fit == SW_SHEET_FIT_POSTS)
    {
      const words w = words_of (sheet, piece, false, fit);
      write_centred (sheet, styles[fit].posts, -w.posts_wide / 2, w.posts_wide, 0, w.posts);
    }
  else
    write_two_lines (sheet, piece, at, fit);
  sw_sheet_unturn (sheet);
}
