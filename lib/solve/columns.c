/* columns.c - the linear programme over patterns and whole layouts, by column generation
 *
 * Patterns are priced by the knapsack (Gilmore & Gomory 1961, 1963), layouts
 * of a strip by its dynamic programme (Dantzig & Wolfe 1960): the programme
 * has one row a strip instead of one for each post and level, and its bound is
 * as good as the dynamic programme's.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/programme.h"
#include "model/tuning.h"

#include <math.h>
#include <string.h>

/* The price of a barred option: over any other, and yet far from the 2^62 that prices stay under. */
#define SW_NEVER ((int64_t)1 << 58)

/* Where new columns go. */
typedef struct pricing
{
  sw_programme *programme;
  size_t stock;
  size_t added;
  size_t useful; /* those of them that would enter the programme at its own duals */
  sw_status status;
} pricing;

static bool
take_column (const sw_entry *entries, uint32_t count, int64_t value, void *data)
{
  pricing *p = data;
  sw_programme *lp = p->programme;
  size_t pattern;
  bool new_one;
  (void)value;
  p->status = sw_patterns_add (&lp->search->pool, (uint32_t)p->stock, entries, count, &pattern, NULL);
  if (p->status != SW_OK)
    return false;
  lp->search->pool.items[pattern].listed = false;
  p->status = sw_master_add (lp->master, pattern, &new_one);
  if (p->status == SW_OK && new_one)
    {
      p->added++;
      if (sw_prices_pieces (&lp->duals, entries, count) > sw_prices_floor (&lp->duals, p->stock))
        p->useful++;
    }
  return p->status == SW_OK;
}

/* Add more columns: for each piece that no new column has, the best pattern with that piece.  Each call begins with
 * another piece.  The first pattern is in LP->entries, COUNT of them. */
static sw_status
price_each (sw_programme *lp, pricing *p, int64_t floor, uint32_t count)
{
  const sw_model *model = lp->search->model;
  const sw_model_stock *stock = &model->stocks[p->stock];
  const sw_model_section *section = &model->sections[stock->section];
  size_t enough = p->added + SW_COLUMNS;
  memset (&lp->covered[section->need_first], 0, section->need_count);
  for (size_t i = 0; i < section->need_count && p->added < enough; i++)
    {
      size_t n = section->need_first + (i + lp->turn) % section->need_count;
      for (uint32_t c = 0; c < count; c++)
        lp->covered[lp->entries[c].need] = 1;
      count = 0;
      if (lp->covered[n] || lp->now.need[n] <= 0 || lp->most[n] <= 0)
        continue;
      if (sw_watch_stop (lp->search->watch))
        return SW_OK;
      int64_t best, room = stock->room - model->needs[n].size;
      if (room < 0)
        continue;
      sw_knapsack_set_most (lp->search->knapsack, (uint32_t)n, lp->most[n] - 1);
      sw_status status = sw_knapsack_best (lp->search->knapsack, room, &best, lp->entries, &count);
      const bool by_table = sw_knapsack_has_table (lp->search->knapsack);
      sw_knapsack_set_most (lp->search->knapsack, (uint32_t)n, lp->most[n]);
      /* The search was too hard and took a table.  One table for each piece would be far slower than one for all of
       * them. */
      if (status == SW_OK && by_table)
        status = sw_knapsack_tabulate (lp->search->knapsack, stock->room);
      if (status != SW_OK)
        return status;
      if (sw_knapsack_has_table (lp->search->knapsack))
        return sw_knapsack_more (lp->search->knapsack, stock->room, floor, SW_COLUMNS, lp->entries, take_column, p);
      if (best + lp->now.need[n] <= floor)
        {
          count = 0;
          continue;
        }
      count = sw_entries_with (lp->entries, count, (uint32_t)n);
      if (!take_column (lp->entries, count, best, p))
        return p->status;
    }
  return SW_OK;
}

/* Add a valuable pattern of a stock and some others whose value is over their weight; *WORTH: no pattern has a larger
 * value. */
static sw_status
price_stock (sw_programme *lp, pricing *p, int64_t *worth)
{
  const int64_t room = lp->search->model->stocks[p->stock].room, floor = sw_prices_floor (&lp->now, p->stock);
  int64_t best;
  uint32_t count;
  sw_status status = sw_knapsack_best (lp->search->knapsack, room, &best, lp->entries, &count);
  *worth = sw_knapsack_at_most (lp->search->knapsack);
  const uint32_t whole = lp->search->model->stocks[p->stock].whole;
  if (status == SW_OK && whole != 0)
    {
      const sw_entry one = { .need = whole - 1, .copies = 1 };
      const int64_t value = lp->now.need[whole - 1];
      *worth = value > *worth ? value : *worth;
      if (value > floor && !take_column (&one, 1, value, p))
        return p->status;
    }
  if (status != SW_OK || best <= floor)
    return status;
  if (!take_column (lp->entries, count, best, p))
    return p->status;
  if (sw_knapsack_has_table (lp->search->knapsack))
    status = sw_knapsack_more (lp->search->knapsack, room, floor, SW_COLUMNS, lp->entries, take_column, p);
  else
    status = price_each (lp, p, floor, count);
  return status != SW_OK ? status : p->status;
}

/* Add patterns that are worth more than their board at LP->now to the master.  *ADDED: how many.  *USEFUL: how many of
 * those are worth more at LP->duals too.  Sets LP->now.worth.  When the watch says stop, it ends early, and its results
 * must not be used. */
static sw_status
price_patterns (sw_programme *lp, size_t *added, size_t *useful)
{
  const sw_model *model = lp->search->model;
  pricing p = { .programme = lp };
  lp->turn += SW_TURN;
  /* Where the watch ends this early, the prices of boards that were not priced are not known to be safe. */
  for (size_t i = 0; i < model->stock_count; i++)
    lp->now.worth[i] = INT64_MAX / 4;
  for (size_t g = 0; g < model->section_count; g++)
    {
      const sw_model_section *section = &model->sections[g];
      sw_status status = sw_knapsack_load (lp->search->knapsack, model, g, lp->now.need, lp->most);
      if (status == SW_OK && section->need_count >= SW_MANY_THINGS && section->stock_count > 0)
        status = sw_knapsack_tabulate (lp->search->knapsack,
                                       model->stocks[section->stock_first + section->stock_count - 1].room);
      /* The longest board goes first, because its table then serves the shorter ones. */
      for (size_t i = section->stock_count; i-- > 0 && status == SW_OK && !sw_watch_stop (lp->search->watch);)
        {
          p.stock = section->stock_first + i;
          status = price_stock (lp, &p, &lp->now.worth[p.stock]);
        }
      if (status != SW_OK)
        return status;
    }
  *added = p.added;
  *useful = p.useful;
  return SW_OK;
}

/* Where there is a plan, there is one that comes to no more than this: with each piece on a board of its own. */
static sw_wide
worst_value (const sw_search *s)
{
  sw_wide pieces = 0;
  for (size_t n = 0; n < s->model->need_count; n++)
    pieces += s->model->needs[n].most;
  return pieces * ((sw_wide)sw_goal_largest (&s->goal, s->goal.aim) + s->model->join_cost);
}

/* ---- Layouts --------------------------------------------------------------------------- */

/* The worth of the layout that the LEVELS of a block have in LP->used, at PRICES, without the part that the row of the
 * block gives. */
static sw_wide
layout_value (const sw_programme *lp, const sw_strip *levels, const sw_prices *prices)
{
  const sw_model *model = lp->search->model;
  sw_wide sum = model->priced_pairs ? (sw_wide)prices->aligned * sw_strip_pairs (model, levels, lp->used) : 0;
  for (size_t o = sw_strip_first (levels); o < sw_strip_end (levels); o++)
    if (lp->used[o])
      sum += prices->need[model->options[o].need] + sw_prices_option (prices, o);
  return sum;
}

/* Make the layout of block B, which has these LEVELS, in LP->used a column where it pays at the duals. */
static sw_status
take_layout (sw_programme *lp, size_t b, const sw_strip *levels, size_t *useful)
{
  const double dual = sw_master_block_dual (lp->master, b) * (double)lp->duals.scale;
  /* What GLPK rounds off, and what each price of a piece was rounded down by, is no gain: a layout that is in the
   * programme already would come again and again. */
  const double no_gain
      = SW_WHOLE * (double)lp->duals.scale + fabs (dual) / SW_GAIN_PART + (double)levels->bays * levels->level_count;
  if (dual - (double)layout_value (lp, levels, &lp->duals) < no_gain)
    return SW_OK;
  ++*useful;
  sw_status status = sw_layouts_add (&lp->layouts, lp->search->model, lp->blocks, b, lp->used);
  return status == SW_OK ? sw_master_add_layout (lp->master, &lp->layouts, lp->layouts.count - 1) : status;
}

/* Does the layout of LEVELS in LP->used have a barred option? */
static bool
is_barred (const sw_programme *lp, const sw_strip *levels)
{
  for (size_t o = sw_strip_first (levels); lp->barred != NULL && o < sw_strip_end (levels); o++)
    if (lp->used[o] && lp->barred[o])
      return true;
  return false;
}

/* Find the cheapest layouts at LP->now without barred options, and make those that pay columns.  *USEFUL: how many are
 * added.  *SUM: what the layouts cost together.  False: the watch says stop, or *STATUS is not SW_OK. */
static bool
price_blocks (sw_programme *lp, size_t *useful, sw_wide *sum, sw_status *status)
{
  sw_search *s = lp->search;
  const sw_wide weight = sw_prices_aligned (&lp->now);
  *sum = 0;
  sw_prices_options (&lp->now, lp->cost);
  for (size_t o = 0; lp->barred != NULL && o < s->model->option_count; o++)
    if (lp->barred[o])
      lp->cost[o] = SW_NEVER;
  for (size_t b = 0; b < lp->block_count; b++)
    {
      const sw_strip levels = sw_block_strip (s->model, &lp->blocks[b]);
      sw_wide value;
      if (sw_watch_stop (s->watch))
        return false;
      *status = sw_strip_best (s->model, &levels, lp->cost, weight, s->work, &value, NULL, lp->used, NULL);
      if (*status == SW_OK && !is_barred (lp, &levels))
        *status = take_layout (lp, b, &levels, useful);
      if (*status != SW_OK)
        return false;
      *sum += value;
    }
  return true;
}

/* Price layouts at LP->now, which is safe already, and note the bound of those prices.  Pairs between two blocks are
 * left out, so the bound of many blocks is lower, but still true.  When the watch says stop, there is no bound. */
static sw_status
price_at_root (sw_programme *lp, size_t *useful)
{
  const sw_model *model = lp->search->model;
  const sw_wide weight = sw_prices_aligned (&lp->now);
  sw_wide sum;
  sw_status status = SW_OK;
  if (!price_blocks (lp, useful, &sum, &status))
    return status;
  lp->now.bound = sw_prices_fixed (&lp->now, NULL) + sum - weight * model->aligned_cap;
  for (size_t i = 0; i < model->strip_count; i++)
    lp->now.bound -= model->strips[i].aligned_floor * weight;
  lp->now.valid = true;
  sw_search_note_bound (lp->search, &lp->now);
  return SW_OK;
}

/* ---- The programme ----------------------------------------------------------------------- */

/* Can the prices of the best bound be blended with the duals? */
static bool
can_smooth (const sw_programme *lp)
{
  return lp->search->root.valid && lp->search->root.scale == lp->duals.scale;
}

/* Find columns for the duals as they are; at the root, smoothed prices go first.  *DONE: no column prices out. */
static sw_status
find_columns (sw_programme *lp, bool at_root, bool *done)
{
  sw_search *s = lp->search;
  *done = false;
  for (int eighths = at_root ? SW_SMOOTH : 0;; eighths /= 2)
    {
      size_t added = 0, useful = 0;
      sw_wide sum;
      if (eighths > 0 && can_smooth (lp))
        sw_prices_blend (&lp->now, &s->root, &lp->duals, eighths);
      else
        sw_prices_copy (&lp->now, &lp->duals);
      sw_status status = price_patterns (lp, &added, &useful);
      if (status == SW_OK && at_root && s->watch->stop == SW_GO_ON)
        {
          sw_prices_make_safe (&lp->now);
          status = price_at_root (lp, &useful);
        }
      else if (status == SW_OK && lp->barred != NULL && s->watch->stop == SW_GO_ON)
        price_blocks (lp, &useful, &sum, &status);
      if (status != SW_OK || s->watch->stop != SW_GO_ON)
        return status;
      if (useful > 0 || (at_root && !s->hard_way && sw_search_done (s)))
        return SW_OK;
      if (eighths == 0 || !can_smooth (lp))
        {
          *done = s->model->strip_count > 0 || added == 0;
          return SW_OK;
        }
    }
}

/* Are programme and bound as near to each other as NEAR?  True also where only boards are to be chosen and no further
 * column can raise the whole-number bound. */
static bool
is_near_enough (const sw_programme *lp, double near)
{
  const sw_search *s = lp->search;
  const double value = sw_master_value (lp->master), bound = sw_prices_in_units (&s->root);
  if (!s->root.valid || near < 0)
    return false;
  return value - bound <= near * bound || (s->model->strip_count == 0 && (double)s->bound >= ceil (value - SW_WHOLE));
}

/* Some pieces are left over at the present penalty: raise it, or give the verdict that there is no solution. */
static sw_lp
raise_penalty (sw_programme *lp, bool at_root)
{
  sw_search *s = lp->search;
  /* A bound over the worst value proves that there is no plan. */
  if (at_root && s->bound > worst_value (s))
    {
      s->impossible = true;
      return SW_LP_INFEASIBLE;
    }
  if (lp->penalty_step >= SW_PENALTY_STEPS || !at_root)
    return SW_LP_INFEASIBLE;
  lp->penalty_step++;
  sw_master_penalty (lp->master, sw_programme_penalty (lp, lp->penalty_step));
  return SW_LP_OPTIMAL;
}

sw_status
sw_programme_columns (sw_programme *lp, int rounds, bool at_root, double near, sw_lp *outcome, bool *done)
{
  sw_search *s = lp->search;
  *done = false;
  for (int round = 0; round < rounds && !*done; round++)
    {
      sw_status status = sw_master_lp (lp->master, s->watch, outcome);
      if (status != SW_OK || *outcome != SW_LP_OPTIMAL)
        return status;
      sw_master_prices (lp->master, sw_programme_penalty (lp, lp->penalty_step), &lp->duals);
      status = find_columns (lp, at_root, done);
      if (status == SW_OK && s->watch->stop != SW_GO_ON)
        *outcome = SW_LP_STOPPED;
      if (status != SW_OK || *outcome == SW_LP_STOPPED)
        return status;
      const bool covered = sw_master_uncovered (lp->master) < SW_WHOLE;
      if (at_root && !s->hard_way && (sw_search_done (s) || (covered && is_near_enough (lp, near))))
        *done = true;
      else if (*done && !covered)
        {
          *outcome = raise_penalty (lp, at_root);
          *done = *outcome != SW_LP_OPTIMAL;
        }
    }
  return SW_OK;
}
