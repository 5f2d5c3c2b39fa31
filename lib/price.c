/* price.c - column generation and exact bounds
 *
 * Gilmore & Gomory (1961, 1963) with the layout's options in the master.
 * Duals are rounded to whole numbers before pricing, so that a Lagrangian
 * bound follows in exact arithmetic (after Neumaier & Shcherbina 2004; scaling
 * by the most violated pattern after Farley 1990).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Patterns taken in a round and supply where they come out of one table. */
#define COLUMNS_OF_TABLE 30
/* The same where each is searched for. */
#define COLUMNS_OF_SEARCH 40
/* From so many needs on one table for all boards of a group is quicker than a search for each. */
#define TABLE_NEEDS 400

int64_t
sw_search_supply_coefficient (const sw_search *s, size_t supply, sw_aim aim)
{
  if (aim == SW_AIM_COST)
    return s->model->supplies[supply].cost;
  return aim == SW_AIM_BOARDS ? 1 : 0;
}

int64_t
sw_search_largest_coefficient (const sw_search *s, sw_aim aim)
{
  int64_t largest = 1;
  for (size_t i = 0; i < s->model->supply_count; i++)
    if (sw_search_supply_coefficient (s, i, aim) > largest)
      largest = sw_search_supply_coefficient (s, i, aim);
  return largest;
}

static int64_t
option_coefficient (const sw_search *s, size_t option, sw_aim aim)
{
  const sw_option *o = &s->model->options[option];
  if (o->to == s->model->strips[o->strip].bays || aim == SW_AIM_BOARDS)
    return 0;
  return aim == SW_AIM_COST ? s->model->join_cost : 1;
}

int64_t
sw_search_supply_weight (const sw_search *s, const sw_prices *p, size_t supply)
{
  int64_t weight = p->scale * sw_search_supply_coefficient (s, supply, s->aim) + p->supply[supply];
  for (int a = 0; a < SW_AIM_COUNT; a++)
    weight += p->cap[a] * sw_search_supply_coefficient (s, supply, (sw_aim)a);
  return weight;
}

sw_wide
sw_search_loss (const sw_search *s, const sw_prices *prices, size_t pattern)
{
  const sw_pattern *p = &s->pool.items[pattern];
  sw_wide loss = sw_search_supply_weight (s, prices, p->supply);
  for (uint32_t c = 0; c < p->count; c++)
    loss -= (sw_wide)prices->need[s->pool.cuts[p->first + c].need] * s->pool.cuts[p->first + c].copies;
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
  return s->model->aligned_cap == 0 ? SW_ALIGNED_FIRST : p->aligned;
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

void
sw_search_take_duals (sw_search *s, double penalty)
{
  sw_prices *p = &s->duals;
  p->scale = sw_search_scale (s, penalty);
  for (size_t n = 0; n < s->model->need_count; n++)
    p->need[n] = sw_scaled (sw_master_need_dual (s->master, n), p->scale, false);
  for (size_t i = 0; i < s->model->supply_count; i++)
    p->supply[i]
        = s->model->supplies[i].limit < 0 ? 0 : sw_scaled (-sw_master_supply_dual (s->master, i), p->scale, true);
  p->aligned = sw_scaled (-sw_master_aligned_dual (s->master), p->scale, true);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    {
      int64_t most = most_cap (s, (sw_aim)a);
      p->cap[a] = s->caps[a] < 0 ? 0 : sw_scaled (-sw_master_cap_dual (s->master, (sw_aim)a), p->scale, true);
      if (p->cap[a] > most)
        p->cap[a] = most;
    }
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
  for (size_t i = 0; i < s->model->supply_count; i++)
    if (s->model->supplies[i].limit >= 0)
      total -= (sw_wide)p->supply[i] * s->model->supplies[i].limit;
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
  for (size_t i = 0; i < s->model->supply_count; i++)
    {
      int64_t weight = sw_search_supply_weight (s, p, i);
      if (most[i] <= weight)
        continue;
      if (s->model->supplies[i].limit >= 0)
        p->supply[i] += most[i] - weight;
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
  memcpy (to->supply, from->supply, s->model->supply_count * sizeof *to->supply);
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

/* Make search->now such that no pattern beats its prices, and find its bound. */
static sw_status
find_bound (sw_search *s, const int64_t *most)
{
  sw_search_make_safe (s, &s->now, most);
  s->now.bound = sw_search_fixed_part (s, &s->now);
  sw_status status = sw_search_add_strips (s, &s->now, sw_search_aligned_weight (s, &s->now), &s->now.bound);
  s->now.valid = status == SW_OK;
  return status;
}

/* ---- Pricing ---------------------------------------------------------------------------------- */

/* A pattern of SUPPLY prices out when it is worth more than this. */
static int64_t
floor_of (const sw_search *s, const sw_prices *p, size_t supply)
{
  int64_t weight = sw_search_supply_weight (s, p, supply);
  return weight + weight / 1000000000 + p->scale / 1000000000 + 1;
}

/* Where new columns go. */
typedef struct pricing
{
  sw_search *search;
  size_t supply;
  size_t added;
  size_t useful; /* of those, columns that the programme itself would take */
  sw_status status;
} pricing;

static int64_t
value_at (const sw_prices *p, const sw_cut *cuts, uint32_t count)
{
  int64_t value = 0;
  for (uint32_t c = 0; c < count; c++)
    value += p->need[cuts[c].need] * cuts[c].copies;
  return value;
}

static bool
take_column (const sw_cut *cuts, uint32_t count, int64_t value, void *data)
{
  pricing *p = data;
  size_t pattern;
  bool new_one;
  (void)value;
  p->status = sw_patterns_add (&p->search->pool, (uint32_t)p->supply, cuts, count, &pattern, NULL);
  if (p->status == SW_OK)
    p->status = sw_master_add (p->search->master, pattern, &new_one);
  if (p->status == SW_OK && new_one)
    {
      p->added++;
      if (value_at (&p->search->duals, cuts, count) > floor_of (p->search, &p->search->duals, p->supply))
        p->useful++;
    }
  return p->status == SW_OK;
}

/* More columns: for each piece that no new one has, the best pattern with it,
 * beginning with another piece each time. */
static sw_status
price_each (sw_search *s, pricing *p, int64_t floor, uint32_t count)
{
  const sw_supply *sup = &s->model->supplies[p->supply];
  const sw_group *group = &s->model->groups[sup->group];
  size_t enough = p->added + COLUMNS_OF_SEARCH;
  memset (&s->value[group->need_first], 0, group->need_count * sizeof *s->value);
  for (size_t i = 0; i < group->need_count && p->added < enough; i++)
    {
      size_t n = group->need_first + (i + s->turn) % group->need_count;
      /* s->value marks the pieces that new columns have. */
      for (uint32_t c = 0; c < count; c++)
        s->value[s->cuts[c].need] = 1;
      count = 0;
      if (s->value[n] != 0 || s->now.need[n] <= 0 || s->most[n] <= 0)
        continue;
      if (sw_clock_stop (s->clock))
        return SW_OK;
      int64_t best, room = sup->room - s->model->needs[n].size;
      if (room < 0)
        continue;
      sw_knapsack_set_most (s->knapsack, (uint32_t)n, s->most[n] - 1);
      sw_status status = sw_knapsack_best (s->knapsack, room, &best, s->cuts, &count);
      const bool by_table = sw_knapsack_has_table (s->knapsack);
      sw_knapsack_set_most (s->knapsack, (uint32_t)n, s->most[n]);
      /* Too hard to be searched for one by one: a table for each would be far slower than one for all. */
      if (status == SW_OK && by_table)
        status = sw_knapsack_tabulate (s->knapsack, sup->room);
      if (status != SW_OK)
        return status;
      if (sw_knapsack_has_table (s->knapsack))
        return sw_knapsack_more (s->knapsack, sup->room, floor, COLUMNS_OF_TABLE, s->cuts, take_column, p);
      if (best + s->now.need[n] <= floor)
        {
          count = 0;
          continue;
        }
      count = sw_cuts_with (s->cuts, count, (uint32_t)n);
      if (!take_column (s->cuts, count, best, p))
        return p->status;
    }
  return SW_OK;
}

/* A valuable pattern of a supply and some more whose value is over its weight; *MOST: none is worth more. */
static sw_status
price_supply (sw_search *s, pricing *p, int64_t *most)
{
  const sw_supply *sup = &s->model->supplies[p->supply];
  int64_t floor = floor_of (s, &s->now, p->supply), best;
  uint32_t count;
  sw_status status = sw_knapsack_best (s->knapsack, sup->room, &best, s->cuts, &count);
  if (status == SW_OK)
    status = sw_knapsack_at_most (s->knapsack, most);
  if (status != SW_OK || best <= floor)
    return status;
  if (!take_column (s->cuts, count, best, p))
    return p->status;
  if (sw_knapsack_has_table (s->knapsack))
    status = sw_knapsack_more (s->knapsack, sup->room, floor, COLUMNS_OF_TABLE, s->cuts, take_column, p);
  else
    status = price_each (s, p, floor, count);
  return status != SW_OK ? status : p->status;
}

sw_status
sw_search_price_patterns (sw_search *s, int64_t *most, size_t *added, size_t *useful)
{
  pricing p = { .search = s };
  s->turn += 37;
  /* Of a board that is not come to nothing is known: the bound that comes of that is none, but not false. */
  for (size_t i = 0; i < s->model->supply_count; i++)
    most[i] = INT64_MAX / 4;
  for (size_t g = 0; g < s->model->group_count; g++)
    {
      const sw_group *group = &s->model->groups[g];
      sw_status status = sw_knapsack_load (s->knapsack, s->model, g, s->now.need, s->most);
      if (status == SW_OK && group->need_count >= TABLE_NEEDS && group->supply_count > 0)
        status = sw_knapsack_tabulate (s->knapsack,
                                       s->model->supplies[group->supply_first + group->supply_count - 1].room);
      /* Longest first: one table then serves the shorter boards. */
      for (size_t i = group->supply_count; i-- > 0 && status == SW_OK && !sw_clock_stop (s->clock);)
        {
          p.supply = group->supply_first + i;
          status = price_supply (s, &p, &most[p.supply]);
        }
      if (status != SW_OK)
        return status;
    }
  *added = p.added;
  *useful = p.useful;
  return SW_OK;
}

sw_status
sw_search_take_prices (sw_search *s)
{
  size_t added, useful;
  sw_status status = sw_search_price_patterns (s, s->stocked, &added, &useful);
  if (status != SW_OK)
    return status;
  status = find_bound (s, s->stocked);
  if (status != SW_OK || sw_search_whole_bound (&s->now) < s->bound)
    return status;
  sw_search_copy_prices (s, &s->root, &s->now);
  s->bound = sw_search_whole_bound (&s->root);
  return SW_OK;
}

double
sw_search_penalty (const sw_search *s, int step)
{
  return (double)sw_search_largest_coefficient (s, s->aim) * pow (100, step + 1);
}

/* No solution can be worth more than this: each piece on a board of its own. */
static double
worst_value (const sw_search *s)
{
  double pieces = 0, largest = 0;
  for (size_t n = 0; n < s->model->need_count; n++)
    pieces += (double)s->model->needs[n].most;
  for (size_t i = 0; i < s->model->supply_count; i++)
    if ((double)s->model->supplies[i].cost > largest)
      largest = (double)s->model->supplies[i].cost;
  return (pieces + 1) * (largest + (double)s->model->join_cost + 1);
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
  for (size_t i = 0; i < s->model->supply_count; i++)
    s->now.supply[i] = blend (s->root.supply[i], s->duals.supply[i], eighths);
  s->now.aligned = blend (s->root.aligned, s->duals.aligned, eighths);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    s->now.cap[a] = blend (s->root.cap[a], s->duals.cap[a], eighths);
}

/* Columns for the duals as they are; smoothed prices first, at the root.  *DONE: none prices out. */
static sw_status
find_columns (sw_search *s, bool at_root, bool *done)
{
  *done = false;
  for (int eighths = at_root ? SW_SMOOTH : 0;; eighths /= 2)
    {
      size_t added, useful;
      sw_search_smooth (s, eighths);
      sw_status status = sw_search_price_patterns (s, s->stocked, &added, &useful);
      if (status == SW_OK && at_root && s->clock->stop == SW_GO_ON)
        {
          status = find_bound (s, s->stocked);
          if (status == SW_OK)
            sw_search_note_bound (s);
        }
      if (status != SW_OK || s->clock->stop != SW_GO_ON)
        return status;
      if (useful > 0 || (at_root && !s->hard_way && sw_search_done (s)))
        return SW_OK;
      if (eighths == 0 || !s->root.valid || s->root.scale != s->duals.scale)
        {
          *done = added == 0;
          return SW_OK;
        }
    }
}

/* No further column can raise the whole-number bound: the programme's value says so. */
static bool
bound_is_final (const sw_search *s)
{
  return s->root.valid && (double)s->bound >= ceil (sw_master_value (s->master) - 1e-6);
}

sw_status
sw_search_columns (sw_search *s, int rounds, bool at_root, bool thorough, sw_lp *outcome)
{
  sw_status status = SW_OK;
  int step = 0;
  double penalty = sw_search_penalty (s, step);
  sw_master_penalty (s->master, penalty);
  for (int round = 0; round < rounds; round++)
    {
      bool done;
      status = sw_master_lp (s->master, s->clock, outcome);
      if (status != SW_OK || *outcome != SW_LP_OPTIMAL)
        return status;
      sw_search_take_duals (s, penalty);
      status = find_columns (s, at_root, &done);
      if (status != SW_OK)
        return status;
      if (s->clock->stop != SW_GO_ON)
        {
          *outcome = SW_LP_STOPPED;
          return SW_OK;
        }
      bool covered = sw_master_uncovered (s->master) < 1e-7;
      if (at_root && !s->hard_way && (sw_search_done (s) || (covered && !thorough && bound_is_final (s))))
        return SW_OK;
      if (!done)
        continue;
      if (covered)
        return SW_OK;
      /* Pieces are left over: at a high enough price that proves that nothing is possible. */
      if (at_root && s->root.valid && (double)s->root.bound / (double)s->root.scale > 1.001 * worst_value (s))
        {
          s->impossible = true;
          *outcome = SW_LP_INFEASIBLE;
          return SW_OK;
        }
      if (step >= 4 || !at_root)
        {
          *outcome = SW_LP_INFEASIBLE;
          return SW_OK;
        }
      penalty = sw_search_penalty (s, ++step);
      sw_master_penalty (s->master, penalty);
    }
  return status;
}
