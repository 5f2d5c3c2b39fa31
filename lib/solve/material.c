/* material.c - a bound by the metres alone, before any linear programme
 *
 * Each metre of timber has the price of the cheapest metre to be had: prices
 * that no board beats, so a Lagrangian bound as any other, in exact arithmetic.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/search.h"

#include <stdlib.h>

#include "base/memory.h"

/* Coefficients times the scale stay under this. */
#define SCALED ((int64_t)1 << 44)
/* A value of a piece stays under this. */
#define MOST_VALUE ((int64_t)1 << 60)

static int64_t
coefficient (const sw_search *s, size_t supply)
{
  return sw_search_supply_coefficient (s, supply, s->aim);
}

/* ---- Boards by the price of a metre ---------------------------------------------------- */

int
sw_rated_order (const void *a, const void *b)
{
  const sw_rated *x = a, *y = b;
  const sw_wide left = (sw_wide)x->cost * y->room, right = (sw_wide)y->cost * x->room;
  if (left != right)
    return left < right ? -1 : 1;
  if (x->room != y->room)
    return x->room > y->room ? -1 : 1;
  return x->supply < y->supply ? -1 : 1;
}

sw_status
sw_search_rank (const sw_search *s, const sw_group *group, sw_aim aim, sw_rated **out)
{
  sw_rated *ranked = *out = sw_alloc (group->supply_count, sizeof *ranked);
  if (ranked == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < group->supply_count; i++)
    {
      const size_t supply = group->supply_first + i;
      ranked[i] = (sw_rated){ .supply = supply,
                              .cost = sw_search_supply_coefficient (s, supply, aim),
                              .room = s->model->supplies[supply].room };
    }
  if (group->supply_count > 1)
    qsort (ranked, group->supply_count, sizeof *ranked, sw_rated_order);
  return SW_OK;
}

/* ---- The bound ------------------------------------------------------------------------- */

/* Value of SIZE units at SCALE times the price a metre of board RATE, rounded down. */
static sw_wide
worth (const sw_search *s, size_t rate, int64_t scale, int64_t size)
{
  return (sw_wide)size * scale * coefficient (s, rate) / s->model->supplies[rate].room;
}

/* What the limited boards of a group save, all of them, against the price a metre of RATE. */
static sw_wide
saved (const sw_search *s, const sw_group *group, size_t rate, int64_t scale)
{
  sw_wide sum = 0;
  for (size_t i = group->supply_first; i < group->supply_first + group->supply_count; i++)
    {
      sw_wide more = worth (s, rate, scale, s->model->supplies[i].room) + 1 - (sw_wide)scale * coefficient (s, i);
      if (s->model->supplies[i].limit > 0 && more > 0)
        sum += more * s->model->supplies[i].limit;
    }
  return sum;
}

/* Units of length that the group's pieces have, about: fixed ones, and those of the layout in the best plan. */
static int64_t
about (const sw_search *s, size_t g)
{
  int64_t size = 0;
  const sw_group *group = &s->model->groups[g];
  for (size_t n = group->need_first; n < group->need_first + group->need_count; n++)
    size += s->model->needs[n].size * s->model->needs[n].demand;
  for (size_t o = 0; s->best.valid && o < s->model->option_count; o++)
    if (s->best.used[o] && s->model->needs[s->model->options[o].need].group == g)
      size += s->model->needs[s->model->options[o].need].size;
  return size;
}

/* The supply whose price a metre makes the most of the bound: that of the last
 * board that is wanted where the cheapest metres go first.  SIZE_MAX: no supply at all. */
static sw_status
choose_rate (const sw_search *s, size_t g, size_t *rate)
{
  const sw_group *group = &s->model->groups[g];
  sw_rated *ranked;
  sw_wide left = about (s, g);
  *rate = SIZE_MAX;
  sw_status status = sw_search_rank (s, group, s->aim, &ranked);
  for (size_t i = 0; i < group->supply_count && status == SW_OK && (i == 0 || left > 0); i++)
    {
      const sw_supply *supply = &s->model->supplies[ranked[i].supply];
      *rate = ranked[i].supply;
      left = supply->limit < 0 ? 0 : left - (sw_wide)supply->limit * supply->room;
    }
  free (ranked);
  return status;
}

/* The values of all pieces in s->value; *TOTAL: what the fixed ones come to, less what limited boards save. */
static sw_status
value_pieces (sw_search *s, int64_t scale, sw_wide *total)
{
  *total = 0;
  for (size_t g = 0; g < s->model->group_count; g++)
    {
      const sw_group *group = &s->model->groups[g];
      size_t rate;
      sw_status status = choose_rate (s, g, &rate);
      if (status != SW_OK)
        return status;
      if (rate != SIZE_MAX)
        *total -= saved (s, group, rate, scale);
      for (size_t n = group->need_first; n < group->need_first + group->need_count; n++)
        {
          sw_wide value = rate != SIZE_MAX ? worth (s, rate, scale, s->model->needs[n].size) : 0;
          s->value[n] = value < MOST_VALUE ? (int64_t)value : MOST_VALUE;
          *total += (sw_wide)s->value[n] * s->model->needs[n].demand;
        }
    }
  return SW_OK;
}

sw_status
sw_search_material (sw_search *s, bool any_aligned, int64_t *bound)
{
  int64_t largest = sw_search_largest_coefficient (s, s->aim);
  sw_prices prices = { .scale = largest < SCALED ? SCALED / largest : 1, .need = s->value };
  *bound = 0;
  sw_status status = value_pieces (s, prices.scale, &prices.bound);
  sw_wide weight = any_aligned ? 0 : sw_search_aligned_weight (s, &prices);
  if (status == SW_OK)
    status = sw_search_add_strips (s, &prices, weight, &prices.bound);
  if (status == SW_OK)
    *bound = sw_search_whole_bound (&prices);
  return status;
}
