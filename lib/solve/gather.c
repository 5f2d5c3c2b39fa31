/* gather.c - all options and patterns that a solution not much over the bound can use
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/gather.h"

#include <stdlib.h>

#include "base/memory.h"
#include "model/tuning.h"

/* Set KEEP for options of layouts that cost at most SPARE (scaled) more than the cheapest of their strip. */
static sw_status
filter_options (const sw_search *s, sw_wide spare, uint8_t *keep)
{
  const sw_wide weight = sw_prices_aligned (&s->root);
  int64_t *cost = sw_alloc (s->model->option_count, sizeof *cost);
  sw_wide *through = sw_alloc (s->model->option_count, sizeof *through);
  sw_status status = cost && through ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    sw_prices_options (&s->root, cost);
  for (size_t i = 0; i < s->model->strip_count && status == SW_OK; i++)
    {
      const sw_strip *strip = &s->model->strips[i];
      sw_wide value;
      status = sw_watch_stop (s->watch) ? SW_STOPPED : SW_OK;
      if (status == SW_OK)
        status = sw_strip_best (s->model, strip, cost, weight, s->work, &value, NULL, NULL, through);
      for (size_t o = sw_strip_first (strip); o < sw_strip_end (strip) && status == SW_OK; o++)
        keep[o] = through[o] < SW_STRIP_NONE && through[o] - value <= spare;
    }
  free (cost);
  free (through);
  return status;
}

/* ---- Patterns --------------------------------------------------------------------------- */

typedef struct taking
{
  sw_search *search;
  sw_master *master;
  uint32_t stock;
  int64_t floor;
  bool parts;        /* take also the patterns that leave out some pieces of a maximal one */
  sw_entry *entries; /* room for the entries of one pattern */
  size_t count, most;
  sw_status status;
} taking;

static bool
take_cuts (taking *t, const sw_entry *entries, uint32_t count)
{
  size_t pattern;
  bool new_one = false;
  t->status = sw_patterns_add (&t->search->pool, t->stock, entries, count, &pattern, &new_one);
  if (t->status != SW_OK)
    return false;
  if (new_one)
    t->search->pool.items[pattern].listed = true;
  t->status = sw_master_add (t->master, pattern, &new_one);
  t->count += new_one ? 1 : 0;
  return t->status == SW_OK && t->count < t->most;
}

/* Take the patterns that leave out pieces of ENTRIES from entry I on, as long as VALUE stays over the floor. T->entries
 * has the KEPT entries from before I. */
static bool
/* NOLINTNEXTLINE(misc-no-recursion): SW_RECURSION deep */
take_parts (taking *t, const sw_entry *entries, uint32_t count, uint32_t i, uint32_t kept, int64_t value)
{
  if (i == count)
    return kept == 0 || take_cuts (t, t->entries, kept);
  int64_t each = t->search->root.need[entries[i].need];
  for (uint32_t copies = entries[i].copies;; copies--)
    {
      t->entries[kept] = (sw_entry){ .need = entries[i].need, .copies = copies };
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
  if (t->parts && count > SW_RECURSION)
    return false;
  return t->parts ? take_parts (t, entries, count, 0, 0, value) : take_cuts (t, entries, count);
}

static sw_status
add_patterns (sw_search *s, sw_wide spare, size_t most, bool parts, sw_master *master, bool *complete)
{
  uint64_t steps = SW_CLOSING_WORK;
  taking t = { .search = s, .master = master, .parts = parts, .most = most };
  sw_status status = SW_OK;
  t.entries = sw_alloc (s->model->need_count, sizeof *t.entries);
  if (t.entries == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < s->model->stock_count && status == SW_OK; i++)
    {
      const sw_model_stock *stock = &s->model->stocks[i];
      sw_wide floor = sw_prices_stock (&s->root, i) - spare;
      t.stock = (uint32_t)i;
      t.floor = floor < INT64_MIN / 2 ? INT64_MIN / 2 : (int64_t)floor;
      status = sw_knapsack_each (s->model, stock->section, s->root.need, stock->room, t.floor, &steps, s->watch,
                                 take_pattern, &t);
      if (status == SW_OK && stock->whole != 0 && s->root.need[stock->whole - 1] >= t.floor)
        {
          const sw_entry one = { .need = stock->whole - 1, .copies = 1 };
          if (!take_cuts (&t, &one, 1) && t.status == SW_OK)
            status = SW_STOPPED;
        }
      if (t.status != SW_OK)
        status = t.status;
    }
  free (t.entries);
  *complete = status == SW_OK;
  return status;
}

/* ---- The programme over them ------------------------------------------------------------ */

sw_status
sw_gather (sw_search *s, sw_aim aim, sw_wide spare, size_t most, sw_master **out, bool *complete)
{
  uint8_t *keep = sw_alloc (s->model->option_count, 1);
  sw_goal goal = s->goal;
  goal.aim = aim;
  *out = NULL;
  *complete = false;
  sw_status status = keep != NULL ? filter_options (s, spare, keep) : SW_NO_MEMORY;
  if (status == SW_OK)
    status = sw_master_new_mip (out, &goal, &s->pool, keep, s->beside);
  free (keep);
  if (status == SW_OK)
    status = add_patterns (s, spare, most, aim == SW_AIM_OFFCUTS, *out, complete);
  return status == SW_STOPPED ? SW_OK : status;
}

sw_status
sw_gather_solve (sw_search *s, sw_master *master, int64_t work, int64_t most, bool *proved)
{
  sw_solution solution;
  sw_status status = sw_solution_init (&solution, s->model);
  const size_t columns = sw_master_patterns (master) + s->model->option_count + s->model->need_count;
  if (status == SW_OK)
    status = sw_master_mip (master, s->watch, work / (int64_t)columns, most, &solution, proved);
  /* A cap was passed within a tolerance, so the solutions under the caps have not been searched. */
  for (int a = 0; a < SW_AIM_COUNT && solution.valid; a++)
    if (s->goal.caps[a] >= 0 && solution.value[a] > s->goal.caps[a])
      *proved = false;
  if (status == SW_OK && solution.valid)
    status = sw_search_offer (s, &solution);
  sw_solution_clear (&solution);
  return status;
}
