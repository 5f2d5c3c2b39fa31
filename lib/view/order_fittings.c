/* order_fittings.c - fittings counted out of a plan
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/order.h"

#include "base/memory.h"
#include "view/figures.h"

#include <inttypes.h>
#include <stdlib.h>

__extension__ typedef __int128 wide;

/* A larger number of one item means that something is wrong with the file, and sums of it would not be safe. */
#define MOST_ITEMS INT64_C (1000000000000)

/* Is the first post of RUN the last post of the run before it?  It is where the timber of both is mitred, because a
   mitre meets the timber of the next run.  Where a fence closes, the last run meets the first; that takes three
   runs. */
static bool
begins_at_corner (const sw_fence *fence, size_t run)
{
  if (run == 0 && fence->run_count < 3)
    return false;
  const sw_run *before = &fence->runs[run > 0 ? run - 1 : fence->run_count - 1];
  return before->bays[before->bay_count - 1].finish.kind == SW_END_MITRE
         && fence->runs[run].bays[0].start.kind == SW_END_MITRE;
}

/* The posts of RUN, without one that is counted with the run before it. */
static int64_t
own_posts (const sw_job *job, const sw_fitting *fitting, size_t run, int64_t posts)
{
  const size_t before = run > 0 ? run - 1 : job->fence.run_count - 1;
  return posts - (begins_at_corner (&job->fence, run) && sw_fitting_is_on (fitting, before) ? 1 : 0);
}

static int64_t
count_bays (const sw_run *run, bool openings)
{
  int64_t bays = 0;
  for (size_t b = 0; b < run->bay_count; b++)
    bays += run->bays[b].opening == openings ? 1 : 0;
  return bays;
}

static bool
has_timber (const sw_run *run, size_t post)
{
  return (post > 0 && !run->bays[post - 1].opening) || (post < run->bay_count && !run->bays[post].opening);
}

static int64_t
count_crossings (const sw_job *job, size_t r)
{
  const sw_run *run = &job->fence.runs[r];
  int64_t levels = 0;
  int64_t posts = 0;
  for (size_t l = 0; l < job->levels.count; l++)
    levels += sw_level_is_on (&job->levels.items[l], r) ? 1 : 0;
  for (size_t p = 0; p <= run->bay_count; p++)
    posts += has_timber (run, p) ? 1 : 0;
  return levels * posts; /* no more than there are places in memory, as in setting out */
}

/* The units of FITTING on run R, unless they are counted by pieces.  For SW_PER_METRE they are nanometres. */
static int64_t
count_on_run (const sw_job *job, const sw_fitting *fitting, size_t r)
{
  const sw_run *run = &job->fence.runs[r];
  int64_t length = 0;
  switch (fitting->per)
    {
    case SW_PER_POST:
      return own_posts (job, fitting, r, (int64_t)run->bay_count + 1);
    case SW_PER_END_POST:
      return own_posts (job, fitting, r, 2);
    case SW_PER_BAY:
      return count_bays (run, false);
    case SW_PER_OPENING:
      return count_bays (run, true);
    case SW_PER_METRE:
      for (size_t b = 0; b < run->bay_count; b++)
        length += run->bays[b].opening ? 0 : run->bays[b].span; /* this is part of the run's length, which is in
                                                                   range */
      return length;
    case SW_PER_CROSSING:
      return count_crossings (job, r);
    case SW_PER_RUN:
      return 1;
    default:
      return 0;
    }
}

/* The units of FITTING in PLAN. */
static int64_t
count_units (const sw_plan *plan, const sw_fitting *fitting)
{
  const sw_job *job = plan->job;
  int64_t units = fitting->per == SW_PER_JOB ? 1 : fitting->per == SW_PER_BOARD ? (int64_t)plan->board_count : 0;
  for (size_t r = 0; r < job->fence.run_count; r++)
    if (sw_fitting_is_on (fitting, r))
      units += count_on_run (job, fitting, r);
  if (fitting->per != SW_PER_PIECE && fitting->per != SW_PER_JOIN)
    return units;
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      const sw_piece *piece = &plan->pieces[p];
      const bool on = piece->run == SW_NONE ? fitting->runs == NULL : sw_fitting_is_on (fitting, piece->run);
      /* Each join is where one piece ends. */
      const bool join = piece->kind == SW_PIECE_THROUGH && piece->finish_end == SW_END_ON;
      units += on && (fitting->per == SW_PER_PIECE || join) ? 1 : 0;
    }
  return units;
}

/* How many are needed of the item whose first row is FIRST; false: too many. */
static bool
count_item (const sw_plan *plan, size_t first, int64_t *count)
{
  const sw_fittings *fittings = &plan->job->fittings;
  const wide one = (wide)SW_FITTING_UNIT * SW_METRE;
  wide sum = 0;
  for (size_t i = first; i < fittings->count; i++)
    if (fittings->items[i].first == first)
      sum += (wide)count_units (plan, &fittings->items[i]) * fittings->items[i].each
             * (fittings->items[i].per == SW_PER_METRE ? 1 : SW_METRE);
  const wide whole = (sum + one - 1) / one;
  *count = (int64_t)(whole > MOST_ITEMS ? MOST_ITEMS : whole);
  return whole <= MOST_ITEMS;
}

sw_status
sw_order_add_fittings (sw_order *order)
{
  const sw_fittings *fittings = &order->plan->job->fittings;
  order->fittings = sw_alloc (fittings->count, sizeof *order->fittings);
  if (order->fittings == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < fittings->count; i++)
    {
      const sw_fitting *fitting = &fittings->items[i];
      sw_order_fitting line = { .fitting = i };
      if (fitting->first != i)
        continue;
      if (!count_item (order->plan, i, &line.count))
        return SW_FAILED;
      /* What was on an earlier order is there already. */
      const int64_t had = sw_on_hand_had (&order->plan->job->on_hand, fitting->item);
      line.count = line.count > had ? line.count - had : 0;
      line.packs = (line.count + fitting->pack - 1) / fitting->pack;
      line.spare = line.packs * fitting->pack - line.count;
      if (line.count == 0)
        continue;
      if (fitting->priced
          && (!sw_money_mul (fitting->price, line.packs, &line.price)
              || !sw_money_add (order->fitting_price, line.price, &order->fitting_price)))
        return SW_FAILED;
      order->fittings_unpriced = order->fittings_unpriced || !fitting->priced;
      order->fittings[order->fitting_count++] = line;
    }
  return SW_OK;
}

void
sw_order_fitting_words (sw_text *out, const sw_order *order, const sw_order_fitting *line)
{
  const sw_fitting *fitting = &order->plan->job->fittings.items[line->fitting];
  sw_view_name (out, fitting->item);
  if (fitting->pack == 1)
    {
      sw_text_printf (out, ": %" PRId64, line->count);
      return;
    }
  sw_text_printf (out, ": %" PRId64 " %s of" SW_VIEW_HARD "%" PRId64, line->packs, line->packs == 1 ? "pack" : "packs",
                  fitting->pack);
  if (line->spare > 0)
    sw_text_printf (out, " (%" PRId64 SW_VIEW_HARD "needed)", line->count);
}
