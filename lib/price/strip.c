/* strip.c - the best layout of one strip for given prices
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/strip_parts.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/tuning.h"

sw_strip_work *
sw_strip_work_new (void)
{
  return sw_alloc (1, sizeof (sw_strip_work));
}

void
sw_strip_work_free (sw_strip_work *work)
{
  if (work == NULL)
    return;
  free (work->ahead);
  free (work->behind);
  free (work->trial);
  free (work->ending);
  free (work);
}

size_t
sw_strip_states (const sw_strip *strip)
{
  size_t states = 1;
  /* For one level, a sweep is a shortest path over the posts, however far its pieces reach. */
  if (strip->level_count == 1)
    return strip->levels[0].reach;
  if (strip->level_count > SW_LEVELS)
    return SW_STATES + 1;
  for (uint32_t r = 0; r < strip->level_count; r++)
    {
      states *= strip->levels[r].reach;
      if (states << strip->level_count > (size_t)SW_STATES << 3 || states > SW_STATES)
        return SW_STATES + 1;
    }
  return states;
}

/* The option that is the whole of LEVEL, or -1. */
static int32_t
whole_of (const sw_strip *strip, uint32_t level)
{
  const sw_strip_level *r = &strip->levels[level];
  return strip->bays <= r->reach ? r->at[(size_t)strip->bays * r->reach + strip->bays - 1] : -1;
}

/* The most moves that one strip of MODEL may take.  Every bound sweeps over all strips, so they share the moves. */
static uint64_t
most_moves (const sw_model *model)
{
  const uint64_t each = model->strip_count > 0 ? 2 * SW_MOVES / model->strip_count : 2 * SW_MOVES;
  return each > SW_MOVES ? SW_MOVES : each < SW_STATES ? SW_STATES : each;
}

uint64_t
sw_strip_moves (const sw_model *model, const sw_strip *strip)
{
  size_t states = sw_strip_states (strip);
  const uint64_t most = most_moves (model);
  bool in_turn = model->turn && strip->level_count > 1;
  if (strip->level_count == 1)
    return 0;
  if (states > SW_STATES || (uint64_t)states * (strip->bays + 1) > SW_CELLS)
    return UINT64_MAX;
  uint64_t moves = (uint64_t)strip->bays * (in_turn ? 2 : 1);
  for (uint32_t r = 0; r < strip->level_count; r++)
    {
      moves *= 2 * (uint64_t)strip->levels[r].reach + (in_turn && whole_of (strip, r) >= 0);
      if (moves > most)
        return UINT64_MAX;
    }
  return moves;
}

static sw_status
make_room (sw_strip_work *work, const sw_model *model, const sw_strip *strip, size_t states)
{
  sw_status status
      = sw_grow ((void **)&work->ahead, &work->ahead_capacity, (strip->bays + 1) * states, sizeof *work->ahead);
  if (status == SW_OK)
    status = sw_grow ((void **)&work->behind, &work->behind_capacity, 2 * states, sizeof *work->behind);
  if (status == SW_OK)
    status = sw_grow ((void **)&work->trial, &work->trial_capacity, model->option_count + 1, 1);
  for (uint32_t r = 0; r < strip->level_count && status == SW_OK; r++)
    status = sw_grow ((void **)&work->ending, &work->ending_capacity, strip->levels[r].reach, sizeof *work->ending);
  return status;
}

/* The cost of the levels that are one piece each. */
static sw_wide
price_alone (const sw_sweep *w)
{
  sw_wide base = 0;
  for (uint32_t r = 0; r < w->strip->level_count; r++)
    if (w->alone >> r & 1)
      base += w->price[whole_of (w->strip, r)];
  return base;
}

typedef struct result
{
  sw_wide value;
  int64_t aligned;
  uint8_t *used;
  sw_wide *through;
} result;

static void
run_sweep (sw_sweep *w, sw_strip_work *work, result *best)
{
  const sw_strip *strip = w->strip;
  w->states = 1;
  for (uint32_t r = 0; r < strip->level_count; r++)
    {
      w->stride[r] = w->states;
      if (!(w->alone >> r & 1))
        w->states *= strip->levels[r].reach;
    }
  sw_sweep_ahead (w, work);
  sw_wide value = work->ahead[strip->bays * w->states];
  if (value >= SW_STRIP_NONE)
    return;
  sw_wide base = price_alone (w);
  if (best->through != NULL)
    {
      sw_sweep_behind (w, work, base, best->through);
      for (uint32_t r = 0; r < strip->level_count; r++)
        if (w->alone >> r & 1)
          {
            sw_wide *sum = &best->through[whole_of (strip, r)];
            if (value + base < *sum)
              *sum = value + base;
          }
    }
  if (value + base >= best->value)
    return;
  best->value = value + base;
  memset (&work->trial[sw_strip_first (strip)], 0, sw_strip_end (strip) - sw_strip_first (strip));
  sw_sweep_trace (w, work, work->trial, &best->aligned);
  for (uint32_t r = 0; r < strip->level_count; r++)
    if (w->alone >> r & 1)
      work->trial[whole_of (strip, r)] = 1;
}

/* A bit for each level that may be one piece. */
static uint32_t
levels_alone (const sw_strip *strip)
{
  uint32_t can = 0;
  for (uint32_t r = 0; r < strip->level_count; r++)
    can |= whole_of (strip, r) >= 0 ? (uint32_t)1 << r : 0;
  return can;
}

sw_status
sw_strip_solve (const sw_strip_task *task, sw_strip_work *work, sw_wide *value, int64_t *aligned, uint8_t *used,
                sw_wide *through)
{
  const sw_strip *strip = task->strip;
  if (sw_strip_moves (task->model, strip) == UINT64_MAX)
    return SW_USAGE;
  sw_status status = make_room (work, task->model, strip, sw_strip_states (strip));
  if (status != SW_OK)
    return status;
  const size_t first = sw_strip_first (strip), end = sw_strip_end (strip);
  for (size_t o = first; through != NULL && o < end; o++)
    through[o] = SW_STRIP_NONE;
  sw_sweep w = { .model = task->model,
                 .strip = strip,
                 .price = task->price,
                 .aligned_weight = task->aligned_weight,
                 .below = task->below.joins != NULL ? &task->below : NULL,
                 .above = task->above.joins != NULL ? &task->above : NULL };
  w.in_turn = task->model->turn && strip->level_count > 1;
  const uint32_t can = w.in_turn ? levels_alone (strip) : 0;
  result best = { .value = SW_STRIP_NONE, .through = through };
  for (uint32_t alone = 0; alone <= can; alone++)
    {
      if ((alone & ~can) != 0)
        continue;
      for (unsigned turn = 0; turn < (w.in_turn ? 2U : 1U); turn++)
        {
          if (w.in_turn && !(task->turns >> turn & 1))
            continue;
          w.alone = alone;
          w.turn = turn;
          run_sweep (&w, work, &best);
        }
    }
  if (best.value >= SW_STRIP_NONE)
    return SW_NO_PLAN;
  if (value != NULL)
    *value = best.value;
  if (aligned != NULL)
    *aligned = best.aligned;
  if (used != NULL)
    memcpy (&used[first], &work->trial[first], end - first);
  return SW_OK;
}

bool
sw_strip_is_exact (const sw_model *model, const sw_strip *strip)
{
  return sw_strip_moves (model, strip) != UINT64_MAX;
}
