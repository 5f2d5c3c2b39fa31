/* finish.c - close the gap between bound and best solution
 *
 * A solution better than the best can use only options and patterns whose
 * reduced cost at the bound's prices is less than what is between the two.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/search.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* More steps of enumeration and closing is given up. */
#define MOST_STEPS 30000000
/* So it is where parts are wanted of a pattern with more different entries. */
#define MOST_CUTS 1000
/* Nodes of branch and bound, times columns, at most; a small part of it for the
 * aims after cost, which break ties only, and for a brief search. */
#define MIP_WORK 40000000
#define TIE_PART 100
/* The same for what is known already. */
#define TRY_WORK 600000

/* Options of layouts that cost at most SPARE (scaled) more than the cheapest of their strip. */
static sw_status
filter_options (sw_search *s, sw_wide spare, uint8_t *keep)
{
  const sw_prices *p = &s->root;
  sw_search_price_options (s, p);
  sw_wide weight = sw_search_aligned_weight (s, p);
  for (size_t i = 0; i < s->model->strip_count; i++)
    {
      const sw_strip *strip = &s->model->strips[i];
      sw_wide value;
      sw_status status = sw_strip_relaxed (s->model, i, s->price, weight, s->strips, &value, NULL, s->through);
      if (status != SW_OK)
        return status;
      for (uint32_t r = 0; r < strip->level_count; r++)
        for (size_t o = strip->levels[r].option_first; o < strip->levels[r].option_first + strip->levels[r].option_count; o++)
          keep[o] = s->through[o] < SW_STRIP_NONE && s->through[o] - value <= spare;
    }
  return SW_OK;
}

typedef struct taking
{
  sw_search *search;
  sw_master *master;
  uint32_t stock;
  int64_t floor;
  bool parts; /* also the sets that leave out some of a maximal one */
  size_t count, most;
  sw_status status;
} taking;

static bool
take_cuts (taking *t, const sw_entry *entries, uint32_t count)
{
  size_t pattern;
  bool new_one = false;
  t->status = sw_patterns_add (&t->search->pool, t->stock, entries, count, &pattern, NULL);
  if (t->status == SW_OK)
    t->status = sw_master_add (t->master, pattern, &new_one);
  t->count += new_one ? 1 : 0;
  return t->status == SW_OK && t->count < t->most;
}

/* What ENTRIES becomes when pieces are left out from I on, as long as its VALUE stays over the floor; KEPT of
 * those before I are in the search's entries. */
static bool
/* NOLINTNEXTLINE(misc-no-recursion): MOST_CUTS deep */
take_parts (taking *t, const sw_entry *entries, uint32_t count, uint32_t i, uint32_t kept, int64_t value)
{
  if (i == count)
    return kept == 0 || take_cuts (t, t->search->entries, kept);
  int64_t each = t->search->root.need[entries[i].need];
  for (uint32_t copies = entries[i].copies;; copies--)
    {
      t->search->entries[kept] = (sw_entry){ .need = entries[i].need, .copies = copies };
      if (!take_parts (t, entries, count, i + 1, kept + (copies > 0 ? 1 : 0), value))
        return false;
      value -= each;
      if (copies == 0 || value < t->floor)
        return true;
    }
}

static bool
take_pattern (const sw_entry *entries, uint32_t count, int64_t value, void *data)
{
  taking *t = data;
  if (t->parts && count > MOST_CUTS)
    return false;
  return t->parts ? take_parts (t, entries, count, 0, 0, value) : take_cuts (t, entries, count);
}

static sw_status
add_patterns (sw_search *s, sw_wide spare, size_t most, bool parts, sw_master *master, bool *complete)
{
  uint64_t steps = MOST_STEPS;
  taking t = { .search = s, .master = master, .parts = parts, .most = most };
  *complete = true;
  for (size_t i = 0; i < s->model->stock_count; i++)
    {
      const sw_model_stock *stock = &s->model->stocks[i];
      sw_wide floor = sw_search_stock_weight (s, &s->root, i) - spare;
      t.stock = (uint32_t)i;
      t.floor = floor < INT64_MIN / 2 ? INT64_MIN / 2 : (int64_t)floor;
      sw_status status = sw_knapsack_each (s->model, stock->section, s->root.need, stock->room, t.floor, &steps,
                                           s->watch, take_pattern, &t);
      if (t.status != SW_OK)
        return t.status;
      if (status == SW_STOPPED)
        {
          *complete = false;
          return SW_OK;
        }
      if (status != SW_OK)
        return status;
    }
  return SW_OK;
}

sw_status
sw_search_gather (sw_search *s, sw_wide spare, size_t most, bool parts, uint8_t *keep, sw_master **out, bool *complete)
{
  *out = NULL;
  sw_status status = filter_options (s, spare, keep);
  if (status == SW_OK)
    status = sw_master_new (out, s->model, &s->pool, keep, sw_search_beside (s));
  if (status == SW_OK)
    status = add_patterns (s, spare, most, parts, *out, complete);
  for (int a = 0; a < SW_AIM_COUNT && status == SW_OK; a++)
    sw_master_cap (*out, (sw_aim)a, s->caps[a]);
  return status;
}

sw_status
sw_search_mip (sw_search *s, sw_master *master, int64_t work, int64_t most, bool *proved)
{
  sw_solution solution;
  sw_status status = sw_solution_init (&solution, s->model);
  sw_master_aim (master, s->aim);
  size_t columns = sw_master_patterns (master) + s->model->option_count + s->model->need_count;
  if (status == SW_OK)
    status = sw_master_mip (master, s->watch, work / (int64_t)(columns + 100), most, &solution, proved);
  /* A cap passed by a tolerance: what lies under the caps has not been searched. */
  for (int a = 0; a < SW_AIM_COUNT && solution.valid; a++)
    if (s->caps[a] >= 0 && solution.value[a] > s->caps[a])
      *proved = false;
  if (status == SW_OK && solution.valid)
    status = sw_search_offer (s, &solution);
  sw_solution_clear (&solution);
  return status;
}

/* What the patterns met so far can do, before all are listed: often as good as can be. */
static sw_status
try_known (sw_search *s, uint8_t *keep)
{
  sw_master *master = NULL;
  /* Half the way to the bound: what is asked for too much of is not found. */
  int64_t target = s->bound + (sw_search_best (s) - 1 - s->bound) / 2;
  sw_wide spare = (sw_wide)target * s->root.scale - s->root.bound;
  bool proved;
  sw_status status = filter_options (s, spare, keep);
  if (status == SW_OK)
    status = sw_master_new (&master, s->model, &s->pool, keep, sw_search_beside (s));
  for (size_t i = 0; i < s->pool.count && status == SW_OK; i++)
    if (sw_search_loss (s, &s->root, i) <= spare)
      status = sw_master_add (master, i, NULL);
  for (int a = 0; a < SW_AIM_COUNT && status == SW_OK; a++)
    sw_master_cap (master, (sw_aim)a, s->caps[a]);
  if (status == SW_OK)
    status = sw_search_mip (s, master, TRY_WORK, target, &proved);
  sw_master_free (master);
  return status;
}

static sw_status
close_with (sw_search *s, sw_wide spare, int64_t target, size_t most, uint8_t *keep, bool *closed)
{
  sw_master *master = NULL;
  bool complete = false, proved = false;
  sw_status status = sw_search_gather (s, spare, most, false, keep, &master, &complete);
  if (status == SW_OK && complete)
    status = sw_search_mip (s, master, MIP_WORK / ((s->aim == SW_AIM_COST && !s->brief) || s->hard_way ? 1 : TIE_PART), target, &proved);
  sw_master_free (master);
  *closed = status == SW_OK && complete && proved;
  return status;
}

/* Is there a solution worth at most the bound and STEP more?  If not, the bound goes up past that. */
static sw_status
close_step (sw_search *s, int64_t step, size_t most, uint8_t *keep, bool *closed)
{
  int64_t best = sw_search_best (s), target = best - 1;
  if (s->hard_way)
    target = best;
  else if (best - 1 - s->bound > step)
    target = s->bound + step;
  sw_wide spare = (sw_wide)target * s->root.scale - s->root.bound;
  sw_status status = close_with (s, spare, target, most, keep, closed);
  if (status != SW_OK || !*closed)
    return status;
  /* The programme is solved over all that a value of at most TARGET needs: what it found, if
   * anything, is the best of those. */
  best = sw_search_best (s);
  s->bound = best <= target + 1 ? best : target + 1;
  sw_search_show (s);
  return SW_OK;
}

sw_status
sw_search_close (sw_search *s, size_t most)
{
  if (!s->root.valid)
    return SW_OK;
  uint8_t *keep = sw_alloc (s->model->option_count, 1);
  if (keep == NULL)
    return SW_NO_MEMORY;
  sw_status status = SW_OK;
  bool closed = true;
  /* Without any solution yet there may be none at all: take everything in. */
  if (!s->best.valid)
    {
      status = close_with (s, (sw_wide)1 << 100, INT64_MAX, most, keep, &closed);
      if (status == SW_OK && closed && !s->best.valid)
        s->impossible = true;
      else if (status == SW_OK && closed)
        s->bound = sw_search_best (s);
    }
  for (int64_t step = 0; status == SW_OK && closed && s->best.valid && !sw_search_done (s) && !sw_watch_stop (s->watch);
       step = 2 * step + 1)
    {
      if (!s->hard_way)
        status = try_known (s, keep);
      if (status == SW_OK && (s->hard_way || !sw_search_done (s)))
        status = close_step (s, step, most, keep, &closed);
    }
  free (keep);
  return status;
}
