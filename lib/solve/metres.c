/* metres.c - a bound by the metres alone, before any linear programme
 *
 * Each metre of timber has the price of the cheapest metre to be had.  No
 * board is worth more than it costs at such prices, so a Lagrangian bound
 * follows in exact arithmetic.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/fill.h"
#include "solve/steps.h"

#include <stdlib.h>

#include "base/memory.h"
#include "model/tuning.h"

/* Coefficients times the scale stay under this. */
#define SCALED ((int64_t)1 << SW_PRICE_BITS)
/* The value of a piece stays under this. */
#define MOST_VALUE ((int64_t)1 << 60)

static int64_t
coefficient (const sw_search *s, size_t stock)
{
  return sw_stock_adds (s->model, stock, s->goal.aim);
}

/* The value of SIZE units at SCALE times the price of a metre of stock RATE, rounded down. */
static sw_wide
worth (const sw_search *s, size_t rate, int64_t scale, int64_t size)
{
  return (sw_wide)size * scale * coefficient (s, rate) / s->model->stocks[rate].room;
}

/* What all limited boards of a section together save against the price of a metre of RATE. */
static sw_wide
saved (const sw_search *s, const sw_model_section *section, size_t rate, int64_t scale)
{
  sw_wide sum = 0;
  for (size_t i = section->stock_first; i < section->stock_first + section->stock_count; i++)
    {
      sw_wide more = worth (s, rate, scale, sw_model_stock_most (s->model, &s->model->stocks[i])) + 1
                     - (sw_wide)scale * coefficient (s, i);
      if (s->model->stocks[i].limit > 0 && more > 0)
        sum += more * s->model->stocks[i].limit;
    }
  return sum;
}

/* About how many units of length the pieces of the section have: the fixed ones, and those in the layout of the best
 * plan. */
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

/* Choose the stock whose price of a metre raises the bound most: where the cheapest metres go first, it is the stock of
 * the last board that is wanted.  SIZE_MAX: there is no stock. */
static sw_status
choose_rate (const sw_search *s, size_t g, size_t *rate)
{
  const sw_model_section *section = &s->model->sections[g];
  sw_rated *ranked;
  sw_wide left = about (s, g);
  *rate = SIZE_MAX;
  sw_status status = sw_rank_stocks (s->model, section, s->goal.aim, &ranked);
  for (size_t i = 0; i < section->stock_count && status == SW_OK && (i == 0 || left > 0); i++)
    {
      const sw_model_stock *stock = &s->model->stocks[ranked[i].stock];
      *rate = ranked[i].stock;
      left = stock->limit < 0 ? 0 : left - (sw_wide)stock->limit * sw_model_stock_most (s->model, stock);
    }
  free (ranked);
  return status;
}

/* Set VALUE for all pieces; *TOTAL becomes the value of the fixed ones, less what limited boards save. */
static sw_status
value_pieces (const sw_search *s, int64_t scale, int64_t *value, sw_wide *total)
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
          sw_wide worths = rate != SIZE_MAX ? worth (s, rate, scale, s->model->needs[n].size) : 0;
          value[n] = worths < MOST_VALUE ? (int64_t)worths : MOST_VALUE;
          *total += (sw_wide)value[n] * s->model->needs[n].demand;
        }
    }
  return SW_OK;
}

/* Add to *TOTAL (scaled) the cheapest layout of each strip at the prices, or a bound on it; an aligned pair over the
 * floors weighs WEIGHT. */
static sw_status
add_strips (const sw_search *s, const sw_prices *prices, sw_wide weight, sw_wide *total)
{
  int64_t *cost = sw_alloc (s->model->option_count, sizeof *cost);
  sw_status status = cost != NULL ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    sw_prices_options (prices, cost);
  if (weight < SW_ALIGNED_FIRST)
    *total -= weight * s->model->aligned_cap;
  for (size_t i = 0; i < s->model->strip_count && status == SW_OK; i++)
    {
      sw_wide value;
      /* No strip has fewer pairs than its floor, so one may be left out where pairs are weighed. */
      const bool hurry = sw_search_hurry (s, i);
      const sw_strip *strip = &s->model->strips[i];
      status = hurry ? sw_strip_quickly (s->model, strip, cost, s->work, &value, NULL)
                     : sw_strip_best (s->model, strip, cost, weight, s->work, &value, NULL, NULL, NULL);
      if (status == SW_OK)
        *total += hurry ? value : value - strip->aligned_floor * weight;
    }
  free (cost);
  return status;
}

sw_status
sw_bound_by_metres (const sw_search *s, bool any_aligned, int64_t *bound)
{
  const int64_t largest = sw_goal_largest (&s->goal, s->goal.aim);
  sw_prices prices;
  *bound = 0;
  sw_status status = sw_prices_init (&prices, &s->goal, false);
  prices.scale = largest < SCALED ? SCALED / largest : 1;
  if (status == SW_OK)
    status = value_pieces (s, prices.scale, prices.need, &prices.bound);
  const sw_wide weight = any_aligned ? 0 : sw_prices_aligned (&prices);
  if (status == SW_OK)
    status = add_strips (s, &prices, weight, &prices.bound);
  if (status == SW_OK)
    *bound = sw_prices_whole (&prices);
  sw_prices_clear (&prices);
  return status;
}
