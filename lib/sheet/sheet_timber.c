/* sheet_timber.c - the pieces of a run in elevation, as they are seen from the outside
 *
 * Timber on edge shows its outer face, and timber that is laid flat its outer
 * edge.  The piece ends on paper at a long point on that side, and its short
 * point is hidden behind it.  A long point on the other side sticks out from
 * behind, and the sloping cut between the two points is seen.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#include "view/cuts.h"
#include "job/seat.h"

#include <math.h>

#define GREY 0.84
#define DARK 0.5       /* a sloping cut */
#define LEAN 9.0       /* how far a cut of 45 degrees leans, at least */
#define FLAT_LEAST 4.0 /* height of timber that is laid flat, at least */
#define FLAT_MOST 6.0
#define WRITTEN 20.0 /* height of what is written over it */
#define BLOCK_WIDE 6.0
#define BLOCK_HIGH 10.0
#define FAR 1e6 /* no block is so wide */

/* A piece as a straight band from x1 at height h1 to x2 at height h2, with plumb ends.  Its upper edge is `above` the
 * row's middle and its lower edge `below`. */
typedef struct band
{
  double x1, h1, x2, h2;
  double y1, y2; /* height of the row's middle at its ends */
  double above, below;
  bool cut_start; /* it goes on beyond the block */
  bool cut_finish;
} band;

static const sw_level *
level_of (const sw_sheet_frame *f, const sw_piece *piece)
{
  return &f->sheet->job->levels.items[piece->level];
}

/* False: nothing of the piece shows in this block. */
static bool
find_length (const sw_sheet_frame *f, const sw_piece *piece, band *out)
{
  const sw_elevation *e = f->e;
  const sw_run *run = e->run;
  const sw_job *job = f->sheet->job;
  size_t last_bay = piece->to - 1;
  double before, after; /* how far it reaches past the centres of its two posts */
  if (piece->kind == SW_PIECE_BETWEEN)
    {
      before = -sw_sheet_half_post (f, piece->from);
      after = -sw_sheet_half_post (f, piece->to);
    }
  else
    {
      const sw_level *level = level_of (f, piece);
      before
          = e->scale * (double)sw_seat_reach (job, level, &run->bays[piece->from].start, run->posts[piece->from].width);
      after = e->scale * (double)sw_seat_reach (job, level, &run->bays[last_bay].finish, run->posts[piece->to].width);
    }
  out->x1 = sw_sheet_post_x (f, piece->from) - before;
  out->h1 = e->height[piece->from] - before * sw_sheet_bay_slope (e, piece->from);
  out->x2 = sw_sheet_post_x (f, piece->to) + after;
  out->h2 = e->before[piece->to] + after * sw_sheet_bay_slope (e, last_bay);
  double start = sw_sheet_post_x (f, f->block->first) - (f->block->mark_first > 0 ? SW_SHEET_STUB : FAR);
  double finish = sw_sheet_post_x (f, f->block->last) + (f->block->mark_last > 0 ? SW_SHEET_STUB : FAR);
  if (out->x2 <= start + 0.5 || out->x1 >= finish - 0.5 || out->x2 <= out->x1)
    return false;
  double slope = (out->h2 - out->h1) / (out->x2 - out->x1);
  out->cut_start = out->x1 < start - 0.5;
  out->cut_finish = out->x2 > finish + 0.5;
  if (out->cut_start)
    {
      out->h1 += slope * (start - out->x1);
      out->x1 = start;
    }
  if (out->cut_finish)
    {
      out->h2 += slope * (finish - out->x2);
      out->x2 = finish;
    }
  return true;
}

/* The same, and where its edges are.  A piece laid flat is as much lower as its section is thinner than wide. */
static bool
find_band (const sw_sheet_frame *f, const sw_piece *piece, band *out)
{
  size_t row = f->e->rows[piece->level];
  if (row < f->block->row_first || row >= f->block->row_end || !find_length (f, piece, out))
    return false;
  out->y1 = sw_sheet_row_y (f, row, out->h1);
  out->y2 = sw_sheet_row_y (f, row, out->h2);
  out->above = out->below = SW_SHEET_BAND / 2;
  if (sw_cuts_flat (f->sheet->job, piece))
    {
      const sw_section *section = &f->sheet->job->sections.items[piece->section];
      double high = SW_SHEET_BAND * (double)section->thickness / (double)section->width;
      out->above = fmax (FLAT_LEAST, fmin (high, FLAT_MOST)) - out->below;
    }
  return true;
}

/* Add one edge of a band, from its upper corner down (or back up): straight, or torn where the piece goes on. */
static size_t
add_edge (double *points, size_t count, double x, double upper, double lower, bool torn)
{
  double step = (lower - upper) / 3;
  for (int i = 0; i <= 3; i++)
    {
      if (!torn && (i == 1 || i == 2))
        continue;
      points[2 * count] = x + (i == 1 ? 2.5 : i == 2 ? -2.5 : 0);
      points[2 * count + 1] = upper + i * step;
      count++;
    }
  return count;
}

/* Draw a mitred end of the band, from X1 leaning to X2, which is farther in. */
static void
draw_slope (const sw_sheet_frame *f, const band *b, double x1, double x2, sw_side side)
{
  double slope = (b->y2 - b->y1) / (b->x2 - b->x1);
  double outside = b->y1 + slope * (x1 - b->x1), inside = b->y1 + slope * (x2 - b->x1);
  const double cut[] = { x1, outside - b->above, x2, inside - b->above, x2, inside + b->below, x1, outside + b->below };
  if (side == SW_SIDE_OUTER)
    sw_sheet_dashed (f->sheet, x2, inside - b->above, x2, inside + b->below, 0.8);
  else
    sw_sheet_polygon (f->sheet, cut, 4, DARK, 0.9);
}

/* How far a cut leans on paper: more, the further the saw is set over, and never so little that it is lost. */
static double
lean (const sw_sheet_frame *f, const sw_piece *piece, const band *b, int32_t saw)
{
  double tangent = tan (saw / 1000.0 * G_PI / 180);
  double back = (double)sw_seat_sawn_through (f->sheet->job, level_of (f, piece)) * f->e->scale * tangent;
  return fmin (fmax (back, LEAN * tangent), (b->x2 - b->x1) / 3);
}

static void
draw_mitres (const sw_sheet_frame *f, const sw_piece *piece, const band *b)
{
  if (piece->start_saw != 0 && !b->cut_start)
    draw_slope (f, b, b->x1, b->x1 + lean (f, piece, b, piece->start_saw), piece->start_long);
  if (piece->finish_saw != 0 && !b->cut_finish)
    draw_slope (f, b, b->x2, b->x2 - lean (f, piece, b, piece->finish_saw), piece->finish_long);
}

/* How much less room the upper line has because of the two blocks at the ends of the upper edge. */
static double
upper_taken (const sw_sheet_frame *f, const sw_piece *piece)
{
  return level_of (f, piece)->blocks > 0 && piece->kind == SW_PIECE_BETWEEN ? 2 * BLOCK_WIDE + 2 : 0;
}

bool
sw_sheet_writing_of (const sw_sheet_frame *f, const sw_piece *piece, sw_sheet_writing *out)
{
  band b;
  double taken[2] = { 0, 0 };
  if (!find_band (f, piece, &b))
    return false;
  if (piece->start_saw != 0 && !b.cut_start)
    taken[0] = lean (f, piece, &b, piece->start_saw);
  if (piece->finish_saw != 0 && !b.cut_finish)
    taken[1] = lean (f, piece, &b, piece->finish_saw);
  out->angle = atan2 (b.y2 - b.y1, b.x2 - b.x1);
  out->room = hypot (b.x2 - b.x1, b.y2 - b.y1) - 4 - taken[0] - taken[1];
  out->upper = upper_taken (f, piece);
  double aside = (taken[0] - taken[1]) / 2;
  out->x = (b.x1 + b.x2) / 2 + aside;
  out->y = (b.y1 + b.y2) / 2 + aside * tan (out->angle);
  /* Timber that is laid flat is too low to write on, so the writing goes over it. */
  if (sw_cuts_flat (f->sheet->job, piece))
    out->y -= b.above + WRITTEN / 2 / cos (out->angle);
  /* The middle between its posts tells in which block of a long run most of the piece is. */
  const double *at = f->e->at;
  double middle = (at[piece->from] + at[piece->to]) / 2;
  out->box = (f->block->mark_first == 0 || middle > at[f->block->first])
             && (f->block->mark_last == 0 || middle <= at[f->block->last]);
  return true;
}

/* Draw the fixing blocks of a bay: one behind each end of its piece, and any more along its foot. */
static void
draw_blocks (const sw_sheet_frame *f, const sw_piece *piece, const band *b)
{
  const int64_t blocks = level_of (f, piece)->blocks;
  const double slope = (b->y2 - b->y1) / (b->x2 - b->x1), width = b->x2 - b->x1;
  if (blocks <= 0 || piece->kind != SW_PIECE_BETWEEN || width < 3 * BLOCK_WIDE)
    return;
  sw_sheet_block_sign (f->sheet, b->x1, b->y1 - b->above, BLOCK_WIDE, BLOCK_HIGH);
  if (blocks > 1)
    sw_sheet_block_sign (f->sheet, b->x2 - BLOCK_WIDE, b->y2 - b->above, BLOCK_WIDE, BLOCK_HIGH);
  const int64_t most = (int64_t)(width / BLOCK_WIDE / 2), between = blocks - 2 < most ? blocks - 2 : most;
  for (int64_t i = 1; i <= between; i++)
    {
      double x = width * (double)i / (double)(between + 1);
      sw_sheet_block_sign (f->sheet, b->x1 + x - BLOCK_WIDE / 2, b->y1 + slope * x + b->below - 5, BLOCK_WIDE, 5);
    }
}

static void
draw_pieces (const sw_sheet_frame *f)
{
  for (size_t i = sw_sheet_next_piece (f, 0); i < f->block->piece_end; i = sw_sheet_next_piece (f, i + 1))
    {
      const sw_piece *piece = &f->sheet->plan->pieces[i];
      const size_t in_level = i - sw_sheet_level_start (f, i);
      band b;
      if (!find_band (f, piece, &b))
        continue;
      double points[16];
      size_t count = add_edge (points, 0, b.x2, b.y2 - b.above, b.y2 + b.below, b.cut_finish);
      count = add_edge (points, count, b.x1, b.y1 + b.below, b.y1 - b.above, b.cut_start);
      sw_sheet_polygon (f->sheet, points, count, in_level % 2 == 0 ? 1 : GREY, 0.9);
      draw_mitres (f, piece, &b);
      draw_blocks (f, piece, &b);
      sw_sheet_writing w;
      if (f->sheet->cr != NULL && sw_sheet_writing_of (f, piece, &w))
        sw_sheet_write_piece (f->sheet, piece, &w);
    }
}

/* Draw a bar over every post centre where two pieces meet. */
static void
draw_joins (const sw_sheet_frame *f)
{
  for (size_t i = sw_sheet_next_piece (f, 0); i < f->block->piece_end; i = sw_sheet_next_piece (f, i + 1))
    {
      const sw_piece *piece = &f->sheet->plan->pieces[i];
      band b;
      if (piece->kind != SW_PIECE_THROUGH || piece->finish_end != SW_END_ON || piece->to < f->block->first
          || piece->to > f->block->last || !find_band (f, piece, &b))
        continue;
      double x = sw_sheet_post_x (f, piece->to);
      double y = sw_sheet_row_y (f, f->e->rows[piece->level], f->e->before[piece->to]);
      sw_sheet_line (f->sheet, x, y - b.above - 3, x, y + b.below + 3, 2.6);
    }
}

void
sw_sheet_timber (const sw_sheet_frame *f)
{
  draw_pieces (f);
  draw_joins (f);
}
