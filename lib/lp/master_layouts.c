/* master_layouts.c - the linear programme over patterns and whole layouts
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "lp/master_glpk.h"

#include <math.h>

/* Add a column for each row of a need or breakpoint, for what the row may leave uncovered.  They are the first columns,
 * and each has the number of its row. */
static void
add_uncovered (sw_master *m)
{
  for (int row = m->need_row; row < m->stock_row; row++)
    {
      sw_master_put (m, row, 1);
      sw_master_put_column (m, 0);
    }
}

/* A longer piece may do for a shorter one, so that prices do not fall with the length. */
static void
add_exchanges (sw_master *m)
{
  const sw_need *needs = m->goal.model->needs;
  for (size_t k = 0; k + 1 < m->breakpoints->count; k++)
    {
      if (needs[m->breakpoints->size_of[k]].section != needs[m->breakpoints->size_of[k + 1]].section)
        continue;
      sw_master_put (m, m->need_row + (int)k, -1);
      sw_master_put (m, m->need_row + (int)k + 1, 1);
      sw_master_put_column (m, 0);
    }
}

/* The rows are the base rows, those of blocks (each takes one layout), and that of the pairs that may line up. */
static sw_status
build (sw_master *m, void *data)
{
  const sw_model *model = m->goal.model;
  int64_t pairs = model->aligned_cap;
  m->lp = glp_create_prob ();
  sw_master_add_base_rows (m);
  m->block_row = glp_get_num_rows (m->lp) + 1;
  for (size_t b = 0; b < *(const size_t *)data; b++)
    sw_master_put_row (m, 1, 1);
  for (size_t s = 0; s < model->strip_count; s++)
    pairs += model->strips[s].aligned_floor;
  if (model->priced_pairs)
    m->aligned_row = sw_master_put_row (m, -INFINITY, (double)pairs);
  add_uncovered (m);
  if (m->breakpoints != NULL)
    add_exchanges (m);
  m->pattern_column = glp_get_num_cols (m->lp) + 1;
  return SW_OK;
}

sw_status
sw_master_new_lp (sw_master **out, const sw_goal *goal, const sw_patterns *pool, const sw_breakpoints *breakpoints,
                  size_t blocks, sw_master *beside)
{
  const sw_master first = { .goal = *goal, .pool = pool, .breakpoints = breakpoints, .fresh = true, .beside = beside };
  return sw_master_make (out, &first, build, &blocks);
}

sw_status
sw_master_add_layout (sw_master *m, sw_layouts *layouts, size_t i)
{
  sw_kept_layout *l = &layouts->items[i];
  double cost = 0;
  for (size_t k = 0; k < l->count; k++)
    cost += sw_master_put_option (m, layouts->options[l->first + k]);
  sw_master_put (m, m->block_row + (int)l->block, 1);
  if (m->aligned_row != 0)
    sw_master_put (m, m->aligned_row, (double)l->aligned);
  return sw_master_column (m, cost, &l->column);
}

double
sw_master_block_dual (const sw_master *m, size_t block)
{
  return sw_master_dual (m, m->block_row + (int)block);
}

void
sw_master_demand (sw_master *m, size_t need, double demand)
{
  sw_master_bound_row (m, m->need_row + (int)need, demand, INFINITY);
}

void
sw_master_penalty (sw_master *m, double penalty)
{
  m->dual_first = false;
  for (int row = m->need_row; row < m->stock_row && !m->broken; row++)
    glp_set_obj_coef (m->lp, row, penalty);
}

double
sw_master_uncovered (const sw_master *m)
{
  double sum = 0;
  for (int row = m->need_row; row < m->stock_row; row++)
    sum += sw_master_share (m, row);
  return sum;
}

/* ---- Duals as prices ------------------------------------------------------------------- */

static double
need_dual (const sw_master *m, size_t need)
{
  const double below = m->breakpoints != NULL ? m->breakpoints->below[need] : 0;
  const int row = m->need_row + (int)(m->breakpoints != NULL ? m->breakpoints->above[need] : need);
  return (1 - below) * sw_master_dual (m, row) + (below > 0 ? below * sw_master_dual (m, row + 1) : 0);
}

/* What a row that has a limit saves a unit of it; 0 where it is no row, or free. */
static int64_t
saves (const sw_master *m, bool limited, int row, const sw_prices *p)
{
  return limited ? sw_scaled (-sw_master_dual (m, row), p->scale, true) : 0;
}

void
sw_master_prices (const sw_master *m, double penalty, sw_prices *p)
{
  const sw_goal *goal = p->goal;
  const sw_model *model = goal->model;
  p->scale = sw_goal_scale (goal, penalty);
  for (size_t n = 0; n < model->need_count; n++)
    p->need[n] = sw_scaled (need_dual (m, n), p->scale, false);
  for (size_t i = 0; i < model->stock_count; i++)
    {
      p->stock[i] = saves (m, model->stocks[i].limit >= 0, m->stock_row + (int)i, p);
      if (p->owed != NULL)
        p->owed[i] = sw_scaled (sw_master_dual (m, m->stock_row + (int)i), p->scale, false);
    }
  p->aligned = saves (m, model->priced_pairs, m->aligned_row, p);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    {
      const int64_t most = sw_goal_most_cap (goal, (sw_aim)a);
      p->cap[a] = saves (m, goal->caps[a] >= 0, m->cap_row + a, p);
      if (p->cap[a] > most)
        p->cap[a] = most;
    }
}
