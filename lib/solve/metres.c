/* metres.c - a bound by the metres alone, before any linear programme
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
coefficient (const sw_search *s, size_t stock)
{
  return sw_search_stock_coefficient (s, stock, s->aim);
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
  return x->stock < y->stock ? -1 : 1;
}

sw_status
sw_search_rank (const sw_search *s, const sw_model_section *section, sw_aim aim, sw_rated **out)
{
  sw_rated *ranked = *out = sw_alloc (section->stock_count, sizeof *ranked);
  if (ranked == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < section->stock_count; i++)
    {
      const size_t stock = section->stock_first + i;
      ranked[i] = (sw_rated){ .stock = stock,
                              .cost = sw_search_stock_coefficient (s, stock, aim),
                              .room = s->model->stocks[stock].room };
    }
  if (section->stock_count > 1)
    qsort (ranked, section->stock_count, sizeof *ranked, sw_rated_order);
  return SW_OK;
}

/* ---- The bound ------------------------------------------------------------------------- */

/* Value of SIZE units at SCALE times the price a metre of board RATE, rounded down. */
static sw_wide
worth (const sw_search *s, size_t rate, int64_t scale, int64_t size)
{
  return (sw_wide)size * scale * coefficient (s, rate) / s->model->stocks[rate].room;
}

/* What the limited boards of a section save, all of them, against the price a metre of RATE. */
static sw_wide
saved (const sw_search *s, const sw_model_section *section, size_t rate, int64_t scale)
{
  sw_wide sum = 0;
  for (size_t i = section->stock_first; i < section->stock_first + section->stock_count; i++)
    {
      sw_wide more = worth (s, rate, scale, s->model->stocks[i].room) + 1 - (sw_wide)scale * coefficient (s, i);
      if (s->model->stocks[i].limit > 0 && more > 0)
        sum += more * s->model->stocks[i].limit;
    }
  return sum;
}

/* Units of length that the section's pieces have, about: fixed ones, and those of the layout in the best plan. */
static int64_t
about (const sw_search *s, size_t g)
{
  int64_t size = 0;
  const sw_model_section *section = &s->model->sections[g];
  for (size_t n = section->need_first; n < section->need_first + section->need_count; n++)
    size += s->model->needs[n].size * s->model->needs[n].demand;
  for (size_t o = 0; s->best.valid && o < s->model->option_count; o++)
    if (s->best.used[o] && s->model->needs[s->model->options[o].need].section == g)
      size += s->model->needs[s->model->options[o].need].size;
  return size;
}

/* The stock whose price a metre makes the most of the bound: that of the last
 * board that is wanted where the cheapest metres go first.  SIZE_MAX: no stock at all. */
static sw_status
choose_rate (const sw_search *s, size_t g, size_t *rate)
{
  const sw_model_section *section = &s->model->sections[g];
  sw_rated *ranked;
  sw_wide left = about (s, g);
  *rate = SIZE_MAX;
  sw_status status = sw_search_rank (s, section, s->aim, &ranked);
  for (size_t i = 0; i < section->stock_count && status == SW_OK && (i == 0 || left > 0); i++)
    {
      const sw_model_stock *stock = &s->model->stocks[ranked[i].stock];
      *rate = ranked[i].stock;
      left = stock->limit < 0 ? 0 : left - (sw_wide)stock->limit * stock->room;
    }
  free (ranked);
  return status;
}

/* The values of all pieces in s->value; *TOTAL: what the fixed ones come to, less what limited boards save. */
static sw_status
value_pieces (sw_search *s, int64_t scale, sw_wide *total)
{
  *total = 0;
  for (size_t g = 0; g < s->model->section_count; g++)
    {
      const sw_model_section *section = &s->model->sections[g];
      size_t rate;
      sw_status status = choose_rate (s, g, &rate);
      if (status != SW_OK)
        return status;
      if (rate != SIZE_MAX)
        *total -= saved (s, section, rate, scale);
      for (size_t n = section->need_first; n < section->need_first + section->need_count; n++)
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
