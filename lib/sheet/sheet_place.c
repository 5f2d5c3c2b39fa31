/* sheet_place.c - where the posts and rows of a run are on paper
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#include "base/memory.h"
#include "job/seat.h"

#include <math.h>
#include <stdlib.h>

#define NM_A_POINT (25.4e6 / 72)
/* A gate wider than this is drawn broken, or it would push the timber off the page. */
#define WIDEST_GATE 160.0
/* A bay narrower than this is drawn wider, so that upright figures have room at each of its posts. */
#define NARROWEST_BAY 12.0
#define WIDEST_OVERHANG 40.0

/* ---- A run at a scale ---- */

bool
sw_elevation_open (sw_elevation *e, const sw_job *job)
{
  size_t most = 0;
  for (size_t r = 0; r < job->fence.run_count; r++)
    most = job->fence.runs[r].bay_count > most ? job->fence.runs[r].bay_count : most;
  *e = (sw_elevation){ .at = sw_alloc (most + 1, sizeof *e->at),
                       .before = sw_alloc (most + 1, sizeof *e->before),
                       .height = sw_alloc (most + 1, sizeof *e->height),
                       .distance = sw_alloc (most + 1, sizeof *e->distance),
                       .ground = sw_alloc (most + 1, sizeof *e->ground),
                       .lifted = sw_alloc (most + 1, sizeof *e->lifted),
                       .levels = sw_alloc (job->levels.count, sizeof *e->levels),
                       .rows = sw_alloc (job->levels.count, sizeof *e->rows) };
  return e->at != NULL && e->before != NULL && e->height != NULL && e->distance != NULL && e->ground != NULL
         && e->lifted != NULL && e->levels != NULL && e->rows != NULL;
}

void
sw_elevation_clear (sw_elevation *e)
{
  free (e->at);
  free (e->before);
  free (e->height);
  free (e->distance);
  free (e->ground);
  free (e->lifted);
  free (e->levels);
  free (e->rows);
}

/* Find the levels that the run has, from bottom to top. */
static void
find_rows (const sw_job *job, sw_elevation *e)
{
  e->row_count = 0;
  for (size_t level = 0; level < job->levels.count; level++)
    {
      bool on = sw_level_is_on (&job->levels.items[level], e->run_index);
      e->rows[level] = on ? e->row_count : SW_NONE;
      if (on)
        e->levels[e->row_count++] = level;
    }
}

/* How far timber with such an end sticks out past the centre of a post WIDTH wide. */
static double
end_overhang (const sw_job *job, const sw_elevation *e, const sw_end *end, sw_length width)
{
  double most = (double)sw_end_reach (end, width);
  /* It depends on how the timber sits where the long point of a mitre is. */
  for (size_t row = 0; row < e->row_count && end->kind == SW_END_MITRE; row++)
    {
      const sw_level *level = &job->levels.items[e->levels[row]];
      if (level->through)
        most = fmax (most, (double)sw_seat_reach (job, level, end, width));
    }
  return most;
}

/* Find the most that timber or a post sticks out past the centre of a post. */
static double
find_overhang (const sw_job *job, const sw_elevation *e)
{
  const sw_run *run = e->run;
  double most = 0;
  for (size_t i = 0; i <= run->bay_count; i++)
    {
      sw_length width = run->posts[i].width;
      most = fmax (most, (double)width / 2);
      if (i < run->bay_count)
        most = fmax (most, end_overhang (job, e, &run->bays[i].start, width));
      if (i > 0)
        most = fmax (most, end_overhang (job, e, &run->bays[i - 1].finish, width));
    }
  return fmin (most * e->scale, WIDEST_OVERHANG);
}

static double
bay_width (const sw_bay *bay, double scale)
{
  double span = (double)bay->span * scale;
  return bay->opening && span > WIDEST_GATE ? WIDEST_GATE : fmax (span, NARROWEST_BAY);
}

void
sw_elevation_set (sw_elevation *e, const sw_job *job, size_t index, int64_t denominator)
{
  const sw_run *run = &job->fence.runs[index];
  e->run_index = index;
  e->run = run;
  e->denominator = denominator;
  e->scale = 1 / (NM_A_POINT * (double)denominator);
  e->rises = e->steps = false;
  e->at[0] = e->before[0] = e->height[0] = 0;
  e->distance[0] = e->ground[0] = e->lifted[0] = 0;
  find_rows (job, e);
  for (size_t i = 0; i < run->bay_count; i++)
    {
      const sw_bay *bay = &run->bays[i];
      e->at[i + 1] = e->at[i] + bay_width (bay, e->scale);
      e->before[i + 1] = e->height[i] + (double)bay->rise * e->scale;
      e->height[i + 1] = e->before[i + 1] + (double)bay->step * e->scale;
      e->distance[i + 1] = e->distance[i] + bay->span;
      e->ground[i + 1] = e->ground[i] + bay->rise;
      e->lifted[i + 1] = e->lifted[i] + (i > 0 ? run->bays[i - 1].step : 0);
      e->rises = e->rises || bay->rise != 0;
      e->steps = e->steps || bay->step != 0;
    }
  e->overhang = find_overhang (job, e);
}

void
sw_elevation_heights (const sw_elevation *e, size_t first, size_t last, double *low, double *high)
{
  for (size_t i = first; i <= last; i++)
    {
      double near = i > first ? e->before[i] : e->height[i];
      double far = i < last ? e->height[i] : near;
      *low = fmin (*low, fmin (near, far));
      *high = fmax (*high, fmax (near, far));
    }
}

bool
sw_elevation_is_broken (const sw_elevation *e, size_t bay)
{
  return fabs (e->at[bay + 1] - e->at[bay] - (double)e->run->bays[bay].span * e->scale) > 1;
}

/* ---- A block of it ---- */

double
sw_sheet_block_before (const sw_elevation *e)
{
  return SW_SHEET_NAMES + SW_SHEET_BEFORE + e->overhang;
}

double
sw_sheet_block_after (const sw_elevation *e, bool breaks_off)
{
  return breaks_off ? 30 : fmax (e->overhang, 16) + 2;
}

static double
rows_height (const sw_sheet_block *block)
{
  return SW_SHEET_OVER + SW_SHEET_PITCH * (double)(block->row_end - block->row_first) + SW_SHEET_UNDER;
}

sw_sheet_frame
sw_sheet_frame_of (sw_sheet *sheet, const sw_elevation *e, const sw_sheet_block *block, double left, double top)
{
  sw_sheet_frame f = { .sheet = sheet, .e = e, .block = block, .left = left, .top = top };
  f.x0 = left + sw_sheet_block_before (e);
  f.width = sw_sheet_block_width (e, block);
  f.ground = top + SW_SHEET_HEADING_ROW + SW_SHEET_NUMBERS + (block->high - block->low) + rows_height (block);
  return f;
}

double
sw_sheet_block_width (const sw_elevation *e, const sw_sheet_block *block)
{
  return sw_sheet_block_before (e) + e->at[block->last] - e->at[block->first]
         + sw_sheet_block_after (e, block->mark_last > 0);
}

double
sw_sheet_post_x (const sw_sheet_frame *f, size_t post)
{
  return f->x0 + f->e->at[post] - f->e->at[f->block->first];
}

double
sw_sheet_half_post (const sw_sheet_frame *f, size_t post)
{
  return fmax ((double)f->e->run->posts[post].width * f->e->scale / 2, 1.2);
}

double
sw_sheet_ground_y (const sw_sheet_frame *f, double height)
{
  return f->ground - (height - f->block->low);
}

double
sw_sheet_row_y (const sw_sheet_frame *f, size_t row, double height)
{
  return sw_sheet_ground_y (f, height) - SW_SHEET_UNDER - SW_SHEET_PITCH * ((double)(row - f->block->row_first) + 0.5);
}

double
sw_sheet_low_side (const sw_sheet_frame *f, size_t post)
{
  double near = f->e->before[post], far = f->e->height[post];
  return post == f->block->first ? far : post == f->block->last ? near : fmin (near, far);
}

double
sw_sheet_high_side (const sw_sheet_frame *f, size_t post)
{
  double near = f->e->before[post], far = f->e->height[post];
  return post == f->block->first ? far : post == f->block->last ? near : fmax (near, far);
}

double
sw_sheet_rows_top (const sw_sheet_frame *f, size_t post)
{
  return sw_sheet_row_y (f, f->block->row_end - 1, sw_sheet_high_side (f, post)) - SW_SHEET_PITCH / 2 - SW_SHEET_OVER;
}

double
sw_sheet_bay_slope (const sw_elevation *e, size_t bay)
{
  double span = e->at[bay + 1] - e->at[bay];
  return span > 0 ? (e->before[bay + 1] - e->height[bay]) / span : 0;
}

/* ---- Its pieces, which stand by level, then post ---- */

/* The first piece of LEVEL that ends at POST or beyond, or else the first of a higher level. */
static size_t
first_piece (const sw_sheet_frame *f, size_t level, size_t post)
{
  const sw_piece *pieces = f->sheet->plan->pieces;
  size_t low = f->block->piece_first, high = f->block->piece_end;
  while (low < high)
    {
      const size_t middle = low + (high - low) / 2;
      const sw_piece *p = &pieces[middle];
      if (p->level < level || (p->level == level && p->to < post))
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

size_t
sw_sheet_next_piece (const sw_sheet_frame *f, size_t index)
{
  const sw_sheet_block *block = f->block;
  size_t i = index > block->piece_first ? index : block->piece_first;
  while (i < block->piece_end)
    {
      const sw_piece *p = &f->sheet->plan->pieces[i];
      const size_t row = f->e->rows[p->level];
      if (row < block->row_first || row >= block->row_end || p->from > block->last)
        i = first_piece (f, p->level + 1, 0);
      else if (p->to < block->first)
        i = first_piece (f, p->level, block->first);
      else
        return i;
    }
  return block->piece_end;
}

size_t
sw_sheet_level_start (const sw_sheet_frame *f, size_t index)
{
  return first_piece (f, f->sheet->plan->pieces[index].level, 0);
}
