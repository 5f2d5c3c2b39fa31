/* metres.c - a bound and a plan by the metres alone, before any linear programme
 *
 * Each metre of timber has the price of the cheapest metre to be had without
 * limit, or of a cheaper one.  Of the boards only limited ones are worth more
 * than they cost at such prices, so a Lagrangian bound follows in exact
 * arithmetic.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/fill.h"
#include "solve/steps.h"

#include <stdlib.h>

#include "base/memory.h"
#include "model/tuning.h"

/* What boards add to the aim stays under this, scaled. */
#define SCALED ((int64_t)1 << SW_PRICE_BITS)
/* No prices come from a stock at whose price of a metre a board would be worth as much as this. */
#define MOST_WORTH ((sw_wide)1 << 60)

/* The value of SIZE units at SCALE times the price of a metre of stock RATE, rounded down. */
static sw_wide
worth (const sw_search *s, size_t rate, int64_t scale, int64_t size)
{
  return (sw_wide)size * scale * sw_stock_adds (s->model, rate, s->goal.aim) / s->model->stocks[rate].room;
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
 * the last board that is wanted.  SIZE_MAX: there is none. */
static sw_status
choose_rate (const sw_search *s, size_t g, int64_t scale, size_t *rate)
{
  const sw_model_section *section = &s->model->sections[g];
  sw_rated *ranked;
  sw_wide left = about (s, g);
  const int64_t longest = sw_model_longest (s->model, section);
  *rate = SIZE_MAX;
  sw_status status = sw_rank_stocks (s->model, section, s->goal.aim, &ranked);
  for (size_t i = 0; i < section->stock_count && status == SW_OK && (*rate == SIZE_MAX || left > 0); i++)
    {
      const sw_model_stock *stock = &s->model->stocks[ranked[i].stock];
      if (stock->room == 0 || worth (s, ranked[i].stock, scale, longest) >= MOST_WORTH)
        continue;
      *rate = ranked[i].stock;
      left = stock->limit < 0 ? 0 : left - (sw_wide)stock->limit * sw_model_stock_most (s->model, stock);
    }
  free (ranked);
  return status;
}

/* Make PRICES, to be cleared even after a failure: the values of all pieces, and what boards are worth that are full of
 * them.  Their bound has no layouts yet. */
static sw_status
metre_prices (const sw_search *s, sw_prices *prices)
{
  const sw_model *model = s->model;
  const int64_t largest = sw_goal_largest (&s->goal, s->goal.aim);
  sw_status status = sw_prices_init (prices, &s->goal, false);
  prices->scale = largest < SCALED ? SCALED / largest : 1;
  if (status != SW_OK)
    return status;
  for (size_t g = 0; g < model->section_count; g++)
    {
      const sw_model_section *section = &model->sections[g];
      size_t rate;
      status = choose_rate (s, g, prices->scale, &rate);
      if (status != SW_OK)
        return status;
      if (rate == SIZE_MAX)
        continue;
      for (size_t i = section->stock_first; i < section->stock_first + section->stock_count; i++)
        prices->worth[i] = (int64_t)worth (s, rate, prices->scale, sw_model_stock_most (model, &model->stocks[i]));
      for (size_t n = section->need_first; n < section->need_first + section->need_count; n++)
        prices->need[n] = (int64_t)worth (s, rate, prices->scale, model->needs[n].size);
    }
  sw_prices_make_safe (prices);
  prices->bound = sw_prices_fixed (prices, NULL);
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
  sw_prices prices;
  *bound = 0;
  sw_status status = metre_prices (s, &prices);
  const sw_wide weight = any_aligned ? 0 : sw_prices_aligned (&prices);
  if (status == SW_OK)
    status = add_strips (s, &prices, weight, &prices.bound);
  if (status == SW_OK)
    *bound = sw_prices_whole (&prices);
  sw_prices_clear (&prices);
  return status;
}

/* ---- A first plan ------------------------------------------------------------------------- */

sw_status
sw_first_plan (sw_search *s)
{
  const sw_model *model = s->model;
  int64_t *cost = sw_alloc (model->option_count, sizeof *cost);
  sw_prices prices;
  sw_solution plan;
  sw_status status = sw_solution_init (&plan, model);
  sw_status begun = metre_prices (s, &prices);
  if (status == SW_OK)
    status = cost != NULL ? begun : SW_NO_MEMORY;
  if (status == SW_OK)
    sw_prices_options (&prices, cost);
  for (size_t i = 0; i < model->strip_count && status == SW_OK; i++)
    status = sw_search_lay_out (s, i, cost, model->stagger ? SW_ALIGNED_FIRST : 0, plan.used);
  if (status == SW_OK)
    status = sw_fill (s, &plan, &prices);
  sw_solution_clear (&plan);
  sw_prices_clear (&prices);
  free (cost);
  /* There is no simple plan, but the programme may find one. */
  return status == SW_NO_PLAN ? SW_OK : status;
}
