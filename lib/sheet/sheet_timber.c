/* sheet_timber.c - the pieces of a run in elevation, as they are seen from the outside
 *
 * Timber on edge shows its outer face, timber that is laid flat its outer
 * edge: a long point on that side is where the piece ends on paper, and its
 * short point is behind it.  A long point on the other side stands out from
 * behind, and the sloping cut between the two is seen.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#include "view/cuts.h"
#include "job/seat.h"

#include <math.h>
#include <stdio.h>

#define GREY 0.84
#define DARK 0.5       /* a sloping cut */
#define LEAN 9.0       /* how far a cut of 45 degrees leans at least */
#define FLAT_LEAST 4.0 /* how high timber that is laid flat is drawn */
#define FLAT_MOST 9.0
#define FAR 1e6 /* no strip is so wide */

/* A piece as a straight band: from x1 at height h1 to x2 at height h2, whose
 * ends stand plumb.  Its upper edge is so far above the row's middle, its lower edge below. */
typedef struct band
{
  double x1, h1, x2, h2;
  double y1, y2; /* of the row's middle at its ends */
  double above, below;
  bool cut_start; /* goes on beyond the strip */
  bool cut_finish;
} band;

static const sw_level *
level_of (const sw_sheet_frame *f, const sw_piece *piece)
{
  return &f->sheet->job->levels.items[piece->level];
}

/* False: nothing of it shows in this strip. */
static bool
find_length (const sw_sheet_frame *f, const sw_piece *piece, band *out)
{
  const sw_elevation *e = f->e;
  const sw_run *run = e->run;
  const sw_job *job = f->sheet->job;
  size_t last_bay = piece->to - 1;
  double before, after; /* how far it reaches past the two posts' centres */
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
  double start = sw_sheet_post_x (f, f->strip->first) - (f->strip->mark_first > 0 ? SW_SHEET_STUB : FAR);
  double finish = sw_sheet_post_x (f, f->strip->last) + (f->strip->mark_last > 0 ? SW_SHEET_STUB : FAR);
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

/* The same, and where its edges are: laid flat a piece is as much lower as its section is thinner than wide. */
static bool
find_band (const sw_sheet_frame *f, const sw_piece *piece, band *out)
{
  size_t row = f->e->rows[piece->level];
  if (row < f->strip->row_first || row >= f->strip->row_end || !find_length (f, piece, out))
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

/* One edge of a band, from its upper corner down (or back up): straight, or torn where the piece goes on. */
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

/* A mitred end at X1 of the band, leaning to X2, which is farther in. */
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

/* How far a cut leans on paper: more the further the saw is set over, and never so little that it is lost. */
static double
lean (const sw_sheet_frame *f, const sw_piece *piece, const band *b, int32_t saw)
{
  double tangent = tan (saw / 1000.0 * G_PI / 180);
  double back = (double)sw_seat_sawn_through (f->sheet->job, level_of (f, piece)) * f->e->scale * tangent;
  return fmin (fmax (back, LEAN * tangent), (b->x2 - b->x1) / 3);
}

/* TAKEN: what that takes of the band's two ends, so that no label stands there. */
static void
draw_mitres (const sw_sheet_frame *f, const sw_piece *piece, const band *b, double taken[2])
{
  taken[0] = taken[1] = 0;
  if (piece->start_saw != 0 && !b->cut_start)
    {
      taken[0] = lean (f, piece, b, piece->start_saw);
      draw_slope (f, b, b->x1, b->x1 + taken[0], piece->start_long);
    }
  if (piece->finish_saw != 0 && !b->cut_finish)
    {
      taken[1] = lean (f, piece, b, piece->finish_saw);
      draw_slope (f, b, b->x2, b->x2 - taken[1], piece->finish_long);
    }
}

/* The label and the length as far as they find room: rather the posts alone than nothing. */
static void
draw_label (const sw_sheet_frame *f, const sw_piece *piece, const band *b, const double taken[2])
{
  if (f->sheet->cr == NULL)
    return;
  double room = hypot (b->x2 - b->x1, b->y2 - b->y1) - 8 - taken[0] - taken[1];
  char length[SW_LENGTH_TEXT], posts[64];
  sw_view_length (f->sheet->job, piece->cut, length);
  snprintf (posts, sizeof posts, "%zu-%zu", piece->from + 1, piece->to + 1);
  const char *label = piece->label;
  double label_width = sw_sheet_measure (f->sheet, SW_SHEET_STRONG, label);
  double length_width = sw_sheet_measure (f->sheet, SW_SHEET_BODY, length), gap = 8;
  if (label_width + gap + length_width > room)
    {
      double posts_width = sw_sheet_measure (f->sheet, SW_SHEET_STRONG, posts);
      if (label_width > room || posts_width + gap + length_width <= room)
        {
          label = posts;
          label_width = posts_width;
        }
      if (label_width > room)
        return;
      if (label_width + gap + length_width > room)
        length_width = gap = 0;
    }
  double angle = atan2 (b->y2 - b->y1, b->x2 - b->x1);
  double aside = (taken[0] - taken[1]) / 2;
  double x = (b->x1 + b->x2) / 2 + aside, y = (b->y1 + b->y2) / 2 + aside * tan (angle);
  /* What is laid flat is too low to write on: its label stands over it. */
  if (sw_cuts_flat (f->sheet->job, piece))
    y -= b->above + 6 / cos (angle);
  double before = (label_width - (label_width + gap + length_width)) / 2;
  double after = (label_width + gap + length_width - length_width) / 2;
  sw_sheet_text_turned (f->sheet, SW_SHEET_STRONG, x + before * cos (angle), y + before * sin (angle), angle, label);
  if (length_width > 0)
    sw_sheet_text_turned (f->sheet, SW_SHEET_BODY, x + after * cos (angle), y + after * sin (angle), angle, length);
}

static void
draw_pieces (const sw_sheet_frame *f)
{
  const sw_plan *plan = f->sheet->plan;
  size_t level = SW_NONE, in_level = 0;
  for (size_t i = f->e->piece_first; i < f->e->piece_end; i++)
    {
      const sw_piece *piece = &plan->pieces[i];
      in_level = piece->level == level ? in_level + 1 : 0;
      level = piece->level;
      band b;
      if (!find_band (f, piece, &b))
        continue;
      double points[16];
      size_t count = add_edge (points, 0, b.x2, b.y2 - b.above, b.y2 + b.below, b.cut_finish);
      count = add_edge (points, count, b.x1, b.y1 + b.below, b.y1 - b.above, b.cut_start);
      sw_sheet_polygon (f->sheet, points, count, in_level % 2 == 0 ? 1 : GREY, 0.9);
      double taken[2];
      draw_mitres (f, piece, &b, taken);
      draw_label (f, piece, &b, taken);
    }
}

/* A bar over every post centre where two pieces meet. */
static void
draw_joins (const sw_sheet_frame *f)
{
  for (size_t i = f->e->piece_first; i < f->e->piece_end; i++)
    {
      const sw_piece *piece = &f->sheet->plan->pieces[i];
      band b;
      if (piece->kind != SW_PIECE_THROUGH || piece->finish_end != SW_END_ON || piece->to < f->strip->first
          || piece->to > f->strip->last || !find_band (f, piece, &b))
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
