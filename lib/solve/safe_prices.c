/* safe_prices.c - prices out of a master, and exact bounds
 *
 * Duals are rounded to whole numbers before pricing, so that a Lagrangian
 * bound follows in exact arithmetic (after Neumaier & Shcherbina 2004; scaling
 * by the most violated pattern after Farley 1990).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/safe_prices.h"

#include <math.h>
#include <string.h>

int64_t
sw_search_stock_coefficient (const sw_search *s, size_t stock, sw_aim aim)
{
  if (aim == SW_AIM_COST)
    return s->model->stocks[stock].cost;
  return aim == SW_AIM_BOARDS && !s->model->stocks[stock].sawn ? 1 : 0;
}

int64_t
sw_search_largest_coefficient (const sw_search *s, sw_aim aim)
{
  int64_t largest = 1;
  for (size_t i = 0; i < s->model->stock_count; i++)
    if (sw_search_stock_coefficient (s, i, aim) > largest)
      largest = sw_search_stock_coefficient (s, i, aim);
  return aim == SW_AIM_JOINS && s->model->change >= largest ? s->model->change + 1 : largest;
}

static int64_t
option_coefficient (const sw_search *s, size_t option, sw_aim aim)
{
  const sw_option *o = &s->model->options[option];
  if (aim == SW_AIM_COST)
    return o->to < s->model->strips[o->strip].bays ? s->model->join_cost : 0;
  return aim == SW_AIM_JOINS ? sw_option_joins (s->model, o) : 0;
}

int64_t
sw_search_stock_weight (const sw_search *s, const sw_prices *p, size_t stock)
{
  int64_t weight = p->scale * sw_search_stock_coefficient (s, stock, s->aim) + p->stock[stock];
  for (int a = 0; a < SW_AIM_COUNT; a++)
    weight += p->cap[a] * sw_search_stock_coefficient (s, stock, (sw_aim)a);
  return weight;
}

sw_wide
sw_search_loss (const sw_search *s, const sw_prices *prices, size_t pattern)
{
  const sw_pattern *p = &s->pool.items[pattern];
  sw_wide loss = sw_search_stock_weight (s, prices, p->stock);
  for (uint32_t c = 0; c < p->count; c++)
    loss -= (sw_wide)prices->need[s->pool.entries[p->first + c].need] * s->pool.entries[p->first + c].copies;
  return loss;
}

int64_t
sw_search_option_weight (const sw_search *s, const sw_prices *p, size_t option)
{
  int64_t weight = p->scale * option_coefficient (s, option, s->aim);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    weight += p->cap[a] * option_coefficient (s, option, (sw_aim)a);
  return weight;
}

void
sw_search_price_options (sw_search *s, const sw_prices *p)
{
  for (size_t o = 0; o < s->model->option_count; o++)
    s->price[o] = p->need[s->model->options[o].need] + sw_search_option_weight (s, p, o);
}

sw_wide
sw_search_aligned_weight (const sw_search *s, const sw_prices *p)
{
  if (!s->model->stagger)
    return 0;
  return s->model->priced_pairs ? p->aligned : SW_ALIGNED_FIRST;
}

/* ---- Prices out of the linear programme ------------------------------------------------ */

/* Scaled values stay far from 2^62 even when a board's pieces all have the penalty. */
int64_t
sw_search_scale (const sw_search *s, double penalty)
{
  double largest = fmax (penalty, (double)sw_search_largest_coefficient (s, SW_AIM_COST));
  double scale = ldexp (1, 44) / (largest + 1);
  return scale < 1 ? 1 : (int64_t)scale;
}

int64_t
sw_scaled (double dual, int64_t scale, bool up)
{
  double value = dual * (double)scale;
  if (!(value > 0))
    return 0;
  if (value > 4e15)
    value = 4e15;
  return (int64_t)(up ? ceil (value) : floor (value));
}

/* A price of a unit under a cap at which no board's or option's weight comes near 2^62: any is good for a bound. */
static int64_t
most_cap (const sw_search *s, sw_aim aim)
{
  int64_t largest = sw_search_largest_coefficient (s, aim);
  if (aim == SW_AIM_COST && s->model->join_cost > largest)
    largest = s->model->join_cost;
  return ((int64_t)1 << 58) / largest;
}

double
sw_search_penalty (const sw_search *s, int step)
{
  return (double)sw_search_largest_coefficient (s, s->aim) * pow (100, step + 1);
}

void
sw_search_take_duals (sw_search *s, double penalty)
{
  sw_prices *p = &s->duals;
  p->scale = sw_search_scale (s, penalty);
  for (size_t n = 0; n < s->model->need_count; n++)
    p->need[n] = sw_scaled (sw_master_need_dual (s->master, n), p->scale, false);
  for (size_t i = 0; i < s->model->stock_count; i++)
    p->stock[i]
        = s->model->stocks[i].limit < 0 ? 0 : sw_scaled (-sw_master_stock_dual (s->master, i), p->scale, true);
  p->aligned = s->model->priced_pairs ? sw_scaled (-sw_master_aligned_dual (s->master), p->scale, true) : 0;
  for (int a = 0; a < SW_AIM_COUNT; a++)
    {
      int64_t most = most_cap (s, (sw_aim)a);
      p->cap[a] = s->caps[a] < 0 ? 0 : sw_scaled (-sw_master_cap_dual (s->master, (sw_aim)a), p->scale, true);
      if (p->cap[a] > most)
        p->cap[a] = most;
    }
}

static int64_t
blend (int64_t old, int64_t new, int eighths)
{
  return new + (old - new) / 8 * eighths;
}

void
sw_search_smooth (sw_search *s, int eighths)
{
  sw_search_copy_prices (s, &s->now, &s->duals);
  if (eighths == 0 || !s->root.valid || s->root.scale != s->duals.scale)
    return;
  for (size_t n = 0; n < s->model->need_count; n++)
    s->now.need[n] = blend (s->root.need[n], s->duals.need[n], eighths);
  for (size_t i = 0; i < s->model->stock_count; i++)
    s->now.stock[i] = blend (s->root.stock[i], s->duals.stock[i], eighths);
  s->now.aligned = blend (s->root.aligned, s->duals.aligned, eighths);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    s->now.cap[a] = blend (s->root.cap[a], s->duals.cap[a], eighths);
}

/* ---- Exact bound -------------------------------------------------------------------------- */

sw_status
sw_search_add_strips (sw_search *s, const sw_prices *p, sw_wide weight, sw_wide *total)
{
  sw_search_price_options (s, p);
  if (weight < SW_ALIGNED_FIRST)
    *total -= weight * s->model->aligned_cap;
  for (size_t i = 0; i < s->model->strip_count; i++)
    {
      sw_wide value;
      /* Half of the strips make no bound. */
      if (i >= SW_STRIPS_IN_ANY_CASE && sw_watch_stop (s->watch))
        {
          *total = 0;
          return SW_OK;
        }
      sw_status status = sw_strip_relaxed (s->model, i, s->price, weight, s->strips, &value, NULL, NULL);
      if (status != SW_OK)
        return status;
      *total += value - s->model->strips[i].aligned_floor * weight;
    }
  return SW_OK;
}

sw_wide
sw_search_fixed_part (const sw_search *s, const sw_prices *p)
{
  sw_wide total = 0;
  for (size_t n = 0; n < s->model->need_count; n++)
    total += (sw_wide)p->need[n] * s->model->needs[n].demand;
  for (size_t i = 0; i < s->model->stock_count; i++)
    if (s->model->stocks[i].limit >= 0)
      total -= (sw_wide)p->stock[i] * s->model->stocks[i].limit;
  for (int a = 0; a < SW_AIM_COUNT; a++)
    if (s->caps[a] >= 0)
      total -= (sw_wide)p->cap[a] * s->caps[a];
  return total;
}

void
sw_search_make_safe (sw_search *s, sw_prices *p, const int64_t *most)
{
  double factor = 1;
  bool scaled = false;
  for (size_t i = 0; i < s->model->stock_count; i++)
    {
      int64_t weight = sw_search_stock_weight (s, p, i);
      if (most[i] <= weight)
        continue;
      if (s->model->stocks[i].limit >= 0)
        p->stock[i] += most[i] - weight;
      else
        {
          double f = (double)weight / (double)most[i];
          if (f < factor)
            factor = f;
          scaled = true;
        }
    }
  if (!scaled)
    return;
  /* A hair less, so that rounding cannot undo it; floors keep each pattern's sum below. */
  factor *= 1 - 1e-15;
  for (size_t n = 0; n < s->model->need_count; n++)
    p->need[n] = (int64_t)floor ((double)p->need[n] * factor * (1 - 1e-15));
}

int64_t
sw_search_whole_bound (const sw_prices *p)
{
  sw_wide q = p->bound / p->scale;
  if (q * p->scale < p->bound)
    q++;
  if (q < 0)
    return 0;
  return q > INT64_MAX ? INT64_MAX : (int64_t)q;
}

void
sw_search_copy_prices (const sw_search *s, sw_prices *to, const sw_prices *from)
{
  memcpy (to->need, from->need, s->model->need_count * sizeof *to->need);
  memcpy (to->stock, from->stock, s->model->stock_count * sizeof *to->stock);
  memcpy (to->cap, from->cap, sizeof to->cap);
  to->aligned = from->aligned;
  to->scale = from->scale;
  to->bound = from->bound;
  to->valid = from->valid;
}

double
sw_search_bound_in_units (const sw_prices *prices)
{
  return (double)prices->bound / (double)prices->scale;
}

void
sw_search_note_bound (sw_search *s)
{
  /* Bounds of different scales are compared in granules. */
  if (s->root.valid && sw_search_bound_in_units (&s->now) <= sw_search_bound_in_units (&s->root))
    return;
  sw_search_copy_prices (s, &s->root, &s->now);
  int64_t whole = sw_search_whole_bound (&s->root);
  if (whole > s->bound)
    s->bound = whole;
  sw_search_show (s);
}
