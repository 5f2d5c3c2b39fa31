/* columns.c - the linear programme over patterns and whole layouts, by column generation
 *
 * Patterns are priced by the knapsack (Gilmore & Gomory 1961, 1963), layouts
 * of a strip by its dynamic programme (Dantzig & Wolfe 1960): a row a strip
 * instead of a row a post and level, and a bound that is as good as the
 * strips' own.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/safe_prices.h"

#include <math.h>
#include <string.h>

/* Patterns taken in a round and stock where they come out of one table. */
#define COLUMNS_OF_TABLE 30
/* The same where each is searched for. */
#define COLUMNS_OF_SEARCH 40
/* From so many needs on one table for all boards of a section is quicker than a search for each. */
#define TABLE_NEEDS 400
/* A layout that gains less than this part of a unit is no column. */
#define LEAST_GAIN 1e-7
/* Times that the price of an uncovered piece is raised a hundredfold. */
#define MOST_PENALTY_STEPS 4

/* A pattern of STOCK prices out when it is worth more than this. */
static int64_t
floor_of (const sw_search *s, const sw_prices *p, size_t stock)
{
  int64_t weight = sw_search_stock_weight (s, p, stock);
  return weight + weight / 1000000000 + p->scale / 1000000000 + 1;
}

/* Where new columns go. */
typedef struct pricing
{
  sw_search *search;
  size_t stock;
  size_t added;
  size_t useful; /* of those, columns that the programme itself would take */
  sw_status status;
} pricing;

static int64_t
value_at (const sw_prices *p, const sw_entry *entries, uint32_t count)
{
  int64_t value = 0;
  for (uint32_t c = 0; c < count; c++)
    value += p->need[entries[c].need] * entries[c].copies;
  return value;
}

static bool
take_column (const sw_entry *entries, uint32_t count, int64_t value, void *data)
{
  pricing *p = data;
  size_t pattern;
  bool new_one;
  (void)value;
  p->status = sw_patterns_add (&p->search->pool, (uint32_t)p->stock, entries, count, &pattern, NULL);
  if (p->status == SW_OK)
    p->status = sw_master_add (p->search->master, pattern, &new_one);
  if (p->status == SW_OK && new_one)
    {
      p->added++;
      if (value_at (&p->search->duals, entries, count) > floor_of (p->search, &p->search->duals, p->stock))
        p->useful++;
    }
  return p->status == SW_OK;
}

/* More columns: for each piece that no new one has, the best pattern with it,
 * beginning with another piece each time. */
static sw_status
price_each (sw_search *s, pricing *p, int64_t floor, uint32_t count)
{
  const sw_model_stock *sup = &s->model->stocks[p->stock];
  const sw_model_section *section = &s->model->sections[sup->section];
  size_t enough = p->added + COLUMNS_OF_SEARCH;
  memset (&s->value[section->need_first], 0, section->need_count * sizeof *s->value);
  for (size_t i = 0; i < section->need_count && p->added < enough; i++)
    {
      size_t n = section->need_first + (i + s->turn) % section->need_count;
      /* s->value marks the pieces that new columns have. */
      for (uint32_t c = 0; c < count; c++)
        s->value[s->entries[c].need] = 1;
      count = 0;
      if (s->value[n] != 0 || s->now.need[n] <= 0 || s->most[n] <= 0)
        continue;
      if (sw_watch_stop (s->watch))
        return SW_OK;
      int64_t best, room = sup->room - s->model->needs[n].size;
      if (room < 0)
        continue;
      sw_knapsack_set_most (s->knapsack, (uint32_t)n, s->most[n] - 1);
      sw_status status = sw_knapsack_best (s->knapsack, room, &best, s->entries, &count);
      const bool by_table = sw_knapsack_has_table (s->knapsack);
      sw_knapsack_set_most (s->knapsack, (uint32_t)n, s->most[n]);
      /* Too hard to be searched for one by one: a table for each would be far slower than one for all. */
      if (status == SW_OK && by_table)
        status = sw_knapsack_tabulate (s->knapsack, sup->room);
      if (status != SW_OK)
        return status;
      if (sw_knapsack_has_table (s->knapsack))
        return sw_knapsack_more (s->knapsack, sup->room, floor, COLUMNS_OF_TABLE, s->entries, take_column, p);
      if (best + s->now.need[n] <= floor)
        {
          count = 0;
          continue;
        }
      count = sw_entries_with (s->entries, count, (uint32_t)n);
      if (!take_column (s->entries, count, best, p))
        return p->status;
    }
  return SW_OK;
}

/* A valuable pattern of a stock and some more whose value is over its weight; *MOST: none is worth more. */
static sw_status
price_stock (sw_search *s, pricing *p, int64_t *most)
{
  const sw_model_stock *sup = &s->model->stocks[p->stock];
  int64_t floor = floor_of (s, &s->now, p->stock), best;
  uint32_t count;
  sw_status status = sw_knapsack_best (s->knapsack, sup->room, &best, s->entries, &count);
  if (status == SW_OK)
    status = sw_knapsack_at_most (s->knapsack, most);
  if (status != SW_OK || best <= floor)
    return status;
  if (!take_column (s->entries, count, best, p))
    return p->status;
  if (sw_knapsack_has_table (s->knapsack))
    status = sw_knapsack_more (s->knapsack, sup->room, floor, COLUMNS_OF_TABLE, s->entries, take_column, p);
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
  for (size_t i = 0; i < s->model->stock_count; i++)
    most[i] = INT64_MAX / 4;
  for (size_t g = 0; g < s->model->section_count; g++)
    {
      const sw_model_section *section = &s->model->sections[g];
      sw_status status = sw_knapsack_load (s->knapsack, s->model, g, s->now.need, s->most);
      if (status == SW_OK && section->need_count >= TABLE_NEEDS && section->stock_count > 0)
        status = sw_knapsack_tabulate (s->knapsack,
                                       s->model->stocks[section->stock_first + section->stock_count - 1].room);
      /* Longest first: one table then serves the shorter boards. */
      for (size_t i = section->stock_count; i-- > 0 && status == SW_OK && !sw_watch_stop (s->watch);)
        {
          p.stock = section->stock_first + i;
          status = price_stock (s, &p, &most[p.stock]);
        }
      if (status != SW_OK)
        return status;
    }
  *added = p.added;
  *useful = p.useful;
  return SW_OK;
}

/* No solution can be worth more than this: each piece on a board of its own. */
static double
worst_value (const sw_search *s)
{
  double pieces = 0, largest = 0;
  for (size_t n = 0; n < s->model->need_count; n++)
    pieces += (double)s->model->needs[n].most;
  for (size_t i = 0; i < s->model->stock_count; i++)
    if ((double)s->model->stocks[i].cost > largest)
      largest = (double)s->model->stocks[i].cost;
  return (pieces + 1) * (largest + (double)s->model->join_cost + 1);
}

/* ---- Layouts --------------------------------------------------------------------------- */

/* What the layout of BLOCK in search->used is worth at PRICES, without what its block's row gives. */
static sw_wide
layout_value (const sw_search *s, const sw_block *block, const sw_prices *prices)
{
  const sw_strip levels = sw_block_strip (s->model, block);
  sw_wide sum = s->model->priced_pairs ? (sw_wide)prices->aligned * sw_block_pairs (s->model, block, s->used) : 0;
  for (uint32_t r = 0; r < levels.level_count; r++)
    for (size_t o = levels.levels[r].option_first; o < levels.levels[r].option_first + levels.levels[r].option_count; o++)
      if (s->used[o])
        sum += prices->need[s->model->options[o].need] + sw_search_option_weight (s, prices, o);
  return sum;
}

/* The layout of block B in search->used becomes a column where it pays at the duals. */
static sw_status
take_layout (sw_search *s, size_t b, size_t *useful)
{
  const double gain = sw_master_block_dual (s->master, b) * (double)s->duals.scale
                      - (double)layout_value (s, &s->blocks[b], &s->duals);
  if (gain < LEAST_GAIN * (double)s->duals.scale)
    return SW_OK;
  ++*useful;
  sw_status status = sw_layouts_add (&s->layouts, s->model, s->blocks, b, s->used);
  return status == SW_OK ? sw_master_add_layout (s->master, &s->layouts, s->layouts.count - 1) : status;
}

/* Cheapest layouts at search->now, safe already, and its bound; *USEFUL more
 * columns.  Pairs between two blocks are left out, so that a bound of many
 * blocks is less, but true.  Cut short, and no bound comes of it, when the watch says stop. */
static sw_status
price_layouts (sw_search *s, size_t *useful)
{
  const sw_wide weight = sw_search_aligned_weight (s, &s->now);
  s->now.bound = sw_search_fixed_part (s, &s->now);
  if (s->model->priced_pairs)
    s->now.bound -= weight * s->model->aligned_cap;
  for (size_t i = 0; i < s->model->strip_count; i++)
    s->now.bound -= s->model->strips[i].aligned_floor * weight;
  sw_search_price_options (s, &s->now);
  for (size_t b = 0; b < s->block_count; b++)
    {
      sw_wide value;
      if (sw_watch_stop (s->watch))
        return SW_OK;
      sw_status status = sw_block_best (s->model, &s->blocks[b], s->price, weight, s->strips, &value, s->used);
      if (status == SW_OK)
        status = take_layout (s, b, useful);
      if (status != SW_OK)
        return status;
      s->now.bound += value;
    }
  s->now.valid = true;
  sw_search_note_bound (s);
  return SW_OK;
}

/* ---- The programme ----------------------------------------------------------------------- */

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
      if (status == SW_OK && at_root && s->watch->stop == SW_GO_ON)
        {
          sw_search_make_safe (s, &s->now, s->stocked);
          status = price_layouts (s, &useful);
        }
      if (status != SW_OK || s->watch->stop != SW_GO_ON)
        return status;
      if (useful > 0 || (at_root && !s->hard_way && sw_search_done (s)))
        return SW_OK;
      if (eighths == 0 || !s->root.valid || s->root.scale != s->duals.scale)
        {
          *done = s->model->strip_count > 0 || added == 0;
          return SW_OK;
        }
    }
}

/* Programme and bound are as NEAR to each other as that, or no further column
 * can raise the whole-number bound of a programme over boards alone. */
static bool
is_near_enough (const sw_search *s, double near)
{
  const double value = sw_master_value (s->master), bound = sw_search_bound_in_units (&s->root);
  if (!s->root.valid || near < 0)
    return false;
  return value - bound <= near * bound || (s->model->strip_count == 0 && (double)s->bound >= ceil (value - 1e-6));
}

/* Pieces are left over at the present penalty: a higher one, or the verdict that it is no use. */
static sw_lp
raise_penalty (sw_search *s, bool at_root)
{
  /* At a high enough price that proves that nothing is possible. */
  if (at_root && s->root.valid && sw_search_bound_in_units (&s->root) > 1.001 * worst_value (s))
    {
      s->impossible = true;
      return SW_LP_INFEASIBLE;
    }
  if (s->penalty_step >= MOST_PENALTY_STEPS || !at_root)
    return SW_LP_INFEASIBLE;
  s->penalty_step++;
  sw_master_penalty (s->master, sw_search_penalty (s, s->penalty_step));
  return SW_LP_OPTIMAL;
}

sw_status
sw_search_columns (sw_search *s, int rounds, bool at_root, double near, sw_lp *outcome, bool *done)
{
  *done = false;
  for (int round = 0; round < rounds && !*done; round++)
    {
      sw_status status = sw_master_lp (s->master, s->watch, outcome);
      if (status != SW_OK || *outcome != SW_LP_OPTIMAL)
        return status;
      sw_search_take_duals (s, sw_search_penalty (s, s->penalty_step));
      status = find_columns (s, at_root, done);
      if (status == SW_OK && s->watch->stop != SW_GO_ON)
        *outcome = SW_LP_STOPPED;
      if (status != SW_OK || *outcome == SW_LP_STOPPED)
        return status;
      const bool covered = sw_master_uncovered (s->master) < 1e-7;
      if (at_root && !s->hard_way && (sw_search_done (s) || (covered && is_near_enough (s, near))))
        *done = true;
      else if (*done && !covered)
        {
          *outcome = raise_penalty (s, at_root);
          *done = *outcome != SW_LP_OPTIMAL;
        }
    }
  return SW_OK;
}
