/* close.c - close the gap between bound and best solution
 *
 * A solution better than the best can use only options and patterns whose
 * reduced cost at the bound's prices is less than what is between the two.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "search.h"

#include <stdlib.h>
#include <string.h>

#include "memory.h"

/* More patterns than this, or more steps of enumeration, and closing is given up. */
#define MOST_PATTERNS 60000
#define MOST_STEPS 30000000
#define MIP_NODES 20000

/* Options that a layout worth at most LIMIT (scaled) may use. */
static sw_status
filter_options (sw_search *s, sw_wide spare, uint8_t *keep)
{
  const sw_prices *p = &s->root;
  for (size_t o = 0; o < s->model->option_count; o++)
    s->price[o] = p->need[s->model->options[o].need] + sw_search_option_weight (s, p, o);
  sw_wide weight = s->model->stagger && s->model->aligned_cap == 0 ? SW_ALIGNED_FIRST : 0;
  for (size_t i = 0; i < s->model->strip_count; i++)
    {
      const sw_strip *strip = &s->model->strips[i];
      sw_wide value;
      sw_status status = sw_strip_best (s->model, i, s->price, weight, s->strips, &value, NULL, NULL, s->through);
      if (status != SW_OK)
        return status;
      for (uint32_t r = 0; r < strip->row_count; r++)
        for (size_t o = strip->rows[r].option_first; o < strip->rows[r].option_first + strip->rows[r].option_count; o++)
          keep[o] = s->through[o] < SW_STRIP_NONE && s->through[o] - value <= spare;
    }
  return SW_OK;
}

typedef struct taking
{
  sw_search *search;
  sw_master *master;
  uint32_t supply;
  size_t count;
  sw_status status;
} taking;

static bool
take_pattern (const sw_cut *cuts, uint32_t count, int64_t value, void *data)
{
  taking *t = data;
  size_t pattern;
  (void)value;
  t->status = sw_patterns_add (&t->search->pool, t->supply, cuts, count, &pattern, NULL);
  if (t->status == SW_OK)
    t->status = sw_master_add (t->master, pattern, NULL);
  return t->status == SW_OK && ++t->count < MOST_PATTERNS;
}

static sw_status
add_patterns (sw_search *s, sw_wide spare, sw_master *master, bool *complete)
{
  uint64_t steps = MOST_STEPS;
  taking t = { .search = s, .master = master };
  for (size_t i = 0; i < s->model->supply_count; i++)
    {
      const sw_supply *supply = &s->model->supplies[i];
      sw_wide floor = sw_search_supply_weight (s, &s->root, i) - spare;
      t.supply = (uint32_t)i;
      sw_status status
          = sw_knapsack_each (s->model, supply->group, s->root.need, supply->room,
                              floor < INT64_MIN / 2 ? INT64_MIN / 2 : (int64_t)floor, &steps, take_pattern, &t);
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

static sw_status
close_with (sw_search *s, sw_wide spare, uint8_t *keep, bool *closed)
{
  sw_master *master = NULL;
  bool complete = true, proved = false;
  sw_status status = filter_options (s, spare, keep);
  if (status == SW_USAGE)
    {
      memset (keep, 1, s->model->option_count);
      status = SW_OK;
    }
  if (status == SW_OK)
    status = sw_master_new (&master, s->model, &s->pool, keep);
  if (status != SW_OK)
    return status;
  status = add_patterns (s, spare, master, &complete);
  sw_choice choice = { 0 };
  if (status == SW_OK && complete)
    {
      sw_master_aim (master, s->aim);
      for (int a = 0; a < SW_AIM_COUNT; a++)
        sw_master_cap (master, (sw_aim)a, s->caps[a]);
      status = sw_choice_init (&choice, s->model);
      if (status == SW_OK)
        status = sw_master_mip (master, s->clock, MIP_NODES, &choice, &proved);
      if (status == SW_OK && choice.valid)
        status = sw_search_offer (s, &choice);
      sw_choice_clear (&choice);
    }
  sw_master_free (master);
  *closed = status == SW_OK && complete && proved;
  return status;
}

sw_status
sw_search_close (sw_search *s, bool *closed)
{
  *closed = false;
  if (!s->root.valid)
    return SW_OK;
  /* Without a solution everything up to the greatest number stays in. */
  sw_wide spare = (sw_wide)1 << 100;
  if (s->best.valid)
    spare = (sw_wide)(sw_search_best (s) - (s->hard_way ? 0 : 1)) * s->root.scale - s->root.bound;
  uint8_t *keep = sw_alloc (s->model->option_count, 1);
  if (keep == NULL)
    return SW_NO_MEMORY;
  sw_status status = close_with (s, spare, keep, closed);
  free (keep);
  if (status != SW_OK || !*closed)
    return status;
  if (s->best.valid)
    s->bound = sw_search_best (s);
  else
    s->impossible = true;
  return SW_OK;
}
