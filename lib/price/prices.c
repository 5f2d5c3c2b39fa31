/* prices.c - prices in whole numbers, and the exact bounds that follow from them
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/prices.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/tuning.h"

sw_status
sw_prices_init (sw_prices *p, const sw_goal *goal, bool owed)
{
  *p = (sw_prices){ .goal = goal };
  p->need = sw_alloc (goal->model->need_count, sizeof *p->need);
  p->stock = sw_alloc (goal->model->stock_count, sizeof *p->stock);
  p->worth = sw_alloc (goal->model->stock_count, sizeof *p->worth);
  if (owed)
    p->owed = sw_alloc (goal->model->stock_count, sizeof *p->owed);
  return p->need && p->stock && p->worth && (p->owed || !owed) ? SW_OK : SW_NO_MEMORY;
}

void
sw_prices_clear (sw_prices *p)
{
  free (p->need);
  free (p->stock);
  free (p->worth);
  free (p->owed);
}

void
sw_prices_copy (sw_prices *to, const sw_prices *from)
{
  memcpy (to->need, from->need, from->goal->model->need_count * sizeof *to->need);
  memcpy (to->stock, from->stock, from->goal->model->stock_count * sizeof *to->stock);
  memcpy (to->worth, from->worth, from->goal->model->stock_count * sizeof *to->worth);
  memcpy (to->cap, from->cap, sizeof to->cap);
  to->aligned = from->aligned;
  to->scale = from->scale;
  to->bound = from->bound;
  to->valid = from->valid;
}

static int64_t
blend (int64_t old, int64_t new, int eighths)
{
  return new + (old - new) / 8 * eighths;
}

void
sw_prices_blend (sw_prices *to, const sw_prices *old, const sw_prices *new, int eighths)
{
  sw_prices_copy (to, new);
  for (size_t n = 0; n < new->goal->model->need_count; n++)
    to->need[n] = blend (old->need[n], new->need[n], eighths);
  for (size_t i = 0; i < new->goal->model->stock_count; i++)
    to->stock[i] = blend (old->stock[i], new->stock[i], eighths);
  to->aligned = blend (old->aligned, new->aligned, eighths);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    to->cap[a] = blend (old->cap[a], new->cap[a], eighths);
}

/* ---- Scale ------------------------------------------------------------------------------ */

int64_t
sw_goal_largest (const sw_goal *goal, sw_aim aim)
{
  int64_t largest = 1;
  for (size_t i = 0; i < goal->model->stock_count; i++)
    if (sw_stock_adds (goal->model, i, aim) > largest)
      largest = sw_stock_adds (goal->model, i, aim);
  /* A changed piece weighs more than all joins. */
  return aim == SW_AIM_JOINS && goal->model->change >= largest ? goal->model->change + 1 : largest;
}

/* Scaled values stay far from 2^62 even when every piece of a board has the penalty for its value. */
int64_t
sw_goal_scale (const sw_goal *goal, double penalty)
{
  double largest = fmax (penalty, (double)sw_goal_largest (goal, SW_AIM_COST));
  double scale = ldexp (1, SW_PRICE_BITS) / (largest + 1);
  return scale < 1 ? 1 : (int64_t)scale;
}

int64_t
sw_goal_most_cap (const sw_goal *goal, sw_aim aim)
{
  int64_t largest = sw_goal_largest (goal, aim);
  if (aim == SW_AIM_COST && goal->model->join_cost > largest)
    largest = goal->model->join_cost;
  return ((int64_t)1 << 58) / largest;
}

int64_t
sw_scaled (double dual, int64_t scale, bool up)
{
  double value = dual * (double)scale;
  if (!(value > 0))
    return 0;
  /* Stay under 2^53, up to which a double has every whole number. */
  value = fmin (value, ldexp (1, 52));
  return (int64_t)(up ? ceil (value) : floor (value));
}

/* ---- Weights ---------------------------------------------------------------------------- */

int64_t
sw_prices_stock (const sw_prices *p, size_t stock)
{
  const sw_model *model = p->goal->model;
  int64_t weight = p->scale * sw_stock_adds (model, stock, p->goal->aim) + p->stock[stock];
  if (p->owed != NULL)
    weight -= p->owed[stock];
  for (int a = 0; a < SW_AIM_COUNT; a++)
    weight += p->cap[a] * sw_stock_adds (model, stock, (sw_aim)a);
  return weight;
}

int64_t
sw_prices_option (const sw_prices *p, size_t option)
{
  const sw_model *model = p->goal->model;
  int64_t weight = p->scale * sw_option_adds (model, option, p->goal->aim);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    weight += p->cap[a] * sw_option_adds (model, option, (sw_aim)a);
  return weight;
}

void
sw_prices_options (const sw_prices *p, int64_t *cost)
{
  for (size_t o = 0; o < p->goal->model->option_count; o++)
    cost[o] = p->need[p->goal->model->options[o].need] + sw_prices_option (p, o);
}

sw_wide
sw_prices_aligned (const sw_prices *p)
{
  if (!p->goal->model->stagger)
    return 0;
  return p->goal->model->priced_pairs ? p->aligned : SW_ALIGNED_FIRST;
}

sw_wide
sw_prices_pieces (const sw_prices *prices, const sw_entry *entries, uint32_t count)
{
  sw_wide value = 0;
  for (uint32_t c = 0; c < count; c++)
    value += (sw_wide)prices->need[entries[c].need] * entries[c].copies;
  return value;
}

sw_wide
sw_prices_loss (const sw_prices *prices, const sw_patterns *pool, size_t pattern)
{
  const sw_pattern *p = &pool->items[pattern];
  return sw_prices_stock (prices, p->stock) - sw_prices_pieces (prices, &pool->entries[p->first], p->count);
}

int64_t
sw_prices_floor (const sw_prices *p, size_t stock)
{
  const int64_t weight = sw_prices_stock (p, stock);
  return weight + llabs (weight) / SW_GAIN_PART + p->scale / SW_GAIN_PART + 1;
}

/* ---- Exact bound ------------------------------------------------------------------------ */

void
sw_prices_make_safe (sw_prices *p)
{
  const sw_model *model = p->goal->model;
  double factor = 1;
  bool scaled = false;
  for (size_t i = 0; i < model->stock_count; i++)
    {
      int64_t over = p->worth[i] - sw_prices_stock (p, i);
      if (over > 0 && p->owed != NULL)
        {
          const int64_t less = over < p->owed[i] ? over : p->owed[i];
          p->owed[i] -= less;
          over -= less;
        }
      if (over <= 0)
        continue;
      if (model->stocks[i].limit >= 0)
        p->stock[i] += over;
      else
        {
          factor = fmin (factor, (double)sw_prices_stock (p, i) / (double)p->worth[i]);
          scaled = true;
        }
    }
  if (!scaled)
    return;
  /* A hair less, so that rounding up cannot undo it; rounding each value down keeps the sum of a pattern below its
   * board. */
  factor *= 1 - SW_HAIR;
  for (size_t n = 0; n < model->need_count; n++)
    p->need[n] = (int64_t)floor ((double)p->need[n] * factor * (1 - SW_HAIR));
  for (size_t i = 0; i < model->stock_count; i++)
    p->worth[i] = (int64_t)ceil ((double)p->worth[i] * factor * (1 + SW_HAIR));
}

sw_wide
sw_prices_fixed (const sw_prices *p, const int64_t *owed)
{
  const sw_goal *goal = p->goal;
  sw_wide total = 0;
  for (size_t n = 0; n < goal->model->need_count; n++)
    total += (sw_wide)p->need[n] * goal->model->needs[n].demand;
  for (size_t i = 0; i < goal->model->stock_count; i++)
    {
      if (owed != NULL)
        total += (sw_wide)p->owed[i] * owed[i];
      if (goal->model->stocks[i].limit >= 0)
        total -= (sw_wide)p->stock[i] * goal->model->stocks[i].limit;
    }
  for (int a = 0; a < SW_AIM_COUNT; a++)
    if (goal->caps[a] >= 0)
      total -= (sw_wide)p->cap[a] * goal->caps[a];
  return total;
}

int64_t
sw_prices_whole (const sw_prices *p)
{
  sw_wide q = p->bound / p->scale;
  if (q * p->scale < p->bound)
    q++;
  if (q < 0)
    return 0;
  return q > INT64_MAX ? INT64_MAX : (int64_t)q;
}

double
sw_prices_in_units (const sw_prices *p)
{
  return (double)p->bound / (double)p->scale;
}
