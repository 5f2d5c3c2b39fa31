/* replan_measure.c - the exact lengths of a piece that a table has rounded
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/replan.h"

#include "base/memory.h"
#include "layout/ends.h"
#include "layout/take.h"
#include "plan/plan_pieces.h"

/* Half of a tenth of a millimetre, or of the last decimal of a sixteenth of an inch, and a hair more. */
#define ROUNDING (SW_MM / 20 + SW_MM / 1000)

sw_length
sw_old_nearest (sw_length found, sw_length exact)
{
  return found >= exact - ROUNDING && found <= exact + ROUNDING ? exact : found;
}

/* Find the stretch of RUN around posts FROM to TO, as far as timber runs on. */
static sw_stretch
stretch_around (const sw_job *job, size_t run, size_t from, size_t to)
{
  const sw_run *r = &job->fence.runs[run];
  sw_stretch stretch = { .run = run, .first = from, .last = to };
  while (stretch.first > 0 && !sw_run_breaks (r, stretch.first))
    stretch.first--;
  while (stretch.last < r->bay_count && !sw_run_breaks (r, stretch.last))
    stretch.last++;
  return stretch;
}

/* What is left of PIECE when both its ends are sawn square; 0: it is not known, or nothing is left. */
static sw_length
square_of (const sw_job *job, const sw_piece *piece, sw_length span, sw_length rise)
{
  const sw_level *level = &job->levels.items[piece->level];
  const sw_length through = sw_seat_sawn_through (job, level);
  sw_length square = piece->cut;
  if ((piece->start_saw != 0 || piece->finish_saw != 0) && through == 0)
    return 0;
  if (piece->start_saw != 0)
    square -= sw_corner_short_point (through, piece->start_saw) + SW_MM;
  if (piece->finish_saw != 0)
    square -= sw_corner_short_point (through, piece->finish_saw) + SW_MM;
  if (piece->plumb != 0)
    square -= sw_take_triangle (job->sections.items[piece->section].width, span, rise);
  return square > 0 ? square : 0;
}

/* Measure a piece from post to post as the job lays out its place. */
sw_status
sw_old_piece_measure (const sw_job *job, sw_old_piece *old)
{
  const sw_level *level = &job->levels.items[old->level];
  const sw_run *run = &job->fence.runs[old->run];
  const sw_stretch stretch = stretch_around (job, old->run, old->from, old->to);
  sw_piece piece = { .kind = old->kind, .section = old->section, .run = old->run, .level = old->level,
                     .from = old->from, .to = old->to };
  sw_length take, span = 0, rise = 0;
  if (level->through)
    {
      piece.cut = sw_layout_cut (job, level, &stretch, old->from, old->to);
      sw_piece_set_ends (job, &stretch, &piece);
      take = sw_layout_take (job, level, &stretch, old->from, old->to, piece.cut);
    }
  else
    {
      piece.cut = sw_layout_between_cut (job, level, run, old->from);
      take = sw_layout_between_take (job, level, run, old->from, piece.cut);
    }
  sw_piece_set_slope (job, &piece);
  for (size_t b = old->from; b < old->to; b++)
    {
      span += run->bays[b].span;
      rise += run->bays[b].rise;
    }
  old->cut = sw_old_nearest (old->cut, piece.cut);
  old->take = old->cut == piece.cut || old->take == 0 ? take + (old->cut - piece.cut) : sw_old_nearest (old->take, take);
  piece.cut = old->cut;
  char ends[SW_ENDS_TEXT];
  const bool square = !sw_ends_of (job, level, &stretch, old->from, old->to, ends);
  if (!square)
    old->ends = sw_copy_text (ends);
  old->square = square ? old->cut : square_of (job, &piece, span, rise);
  return square || old->ends != NULL ? SW_OK : SW_NO_MEMORY;
}
