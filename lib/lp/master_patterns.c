/* master_patterns.c - the part that programmes with patterns have in common
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "lp/master_glpk.h"

#include <math.h>
#include <string.h>

#include "base/memory.h"

/* ---- Rows ------------------------------------------------------------------------------ */

void
sw_master_put_need (sw_master *m, size_t need, double pieces)
{
  const double below = m->breakpoints != NULL ? m->breakpoints->below[need] : 0;
  const int row = m->need_row + (int)(m->breakpoints != NULL ? m->breakpoints->above[need] : need);
  sw_master_put (m, row, (1 - below) * pieces);
  sw_master_put (m, row + 1, below * pieces);
}

void
sw_master_add_base_rows (sw_master *m)
{
  const sw_model *model = m->goal.model;
  const size_t count = m->breakpoints != NULL ? m->breakpoints->count : model->need_count;
  m->need_row = glp_add_rows (m->lp, (int)(count + model->stock_count + SW_AIM_COUNT));
  m->stock_row = m->need_row + (int)count;
  m->cap_row = m->stock_row + (int)model->stock_count;
  for (int row = m->need_row; row < m->stock_row; row++)
    sw_master_bound_row (m, row, 0, INFINITY);
  for (size_t n = 0; n < model->need_count; n++)
    sw_master_put_need (m, n, (double)model->needs[n].demand);
  for (int i = 1; i <= m->entries; i++)
    sw_master_bound_row (m, m->index[i], m->value[i], INFINITY);
  sw_master_forget (m);
  for (size_t s = 0; s < model->stock_count; s++)
    sw_master_stock (m, s, 0, model->stocks[s].limit);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    sw_master_bound_row (m, m->cap_row + a, -INFINITY, m->goal.caps[a] >= 0 ? (double)m->goal.caps[a] : INFINITY);
}

void
sw_master_stock (sw_master *m, size_t stock, int64_t low, int64_t high)
{
  /* The primal method from here on, because the dual one has been seen to go round and round. */
  m->dual_first = false;
  sw_master_bound_row (m, m->stock_row + (int)stock, low > 0 ? (double)low : -INFINITY,
                       high >= 0 ? (double)high : INFINITY);
}

/* ---- Columns --------------------------------------------------------------------------- */

double
sw_master_put_option (sw_master *m, size_t option)
{
  const sw_model *model = m->goal.model;
  sw_master_put_need (m, model->options[option].need, -1);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    sw_master_put (m, m->cap_row + a, (double)sw_option_adds (model, option, (sw_aim)a));
  return (double)sw_option_adds (model, option, m->goal.aim);
}

static sw_status
add_pattern (sw_master *m, size_t pattern)
{
  const sw_model *model = m->goal.model;
  const sw_pattern *p = &m->pool->items[pattern];
  for (uint32_t c = 0; c < p->count; c++)
    sw_master_put_need (m, m->pool->entries[p->first + c].need, m->pool->entries[p->first + c].copies);
  sw_master_put (m, m->stock_row + (int)p->stock, 1);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    sw_master_put (m, m->cap_row + a, (double)sw_stock_adds (model, p->stock, (sw_aim)a));
  return sw_master_column (m,
                           (double)(m->goal.aim == SW_AIM_OFFCUTS ? sw_pattern_lack (model, m->pool, pattern)
                                                                  : sw_stock_adds (model, p->stock, m->goal.aim)),
                           NULL);
}

sw_status
sw_master_add (sw_master *m, size_t pattern, bool *new_one)
{
  size_t old = m->known_capacity;
  sw_status status = sw_grow ((void **)&m->known, &m->known_capacity, pattern + 1, 1);
  if (status != SW_OK)
    return status;
  memset (m->known + old, 0, m->known_capacity - old);
  if (new_one != NULL)
    *new_one = !m->known[pattern];
  if (m->known[pattern])
    return SW_OK;
  status = sw_grow ((void **)&m->patterns, &m->pattern_capacity, m->pattern_count + 1, sizeof *m->patterns);
  if (status == SW_OK)
    status = add_pattern (m, pattern);
  if (status != SW_OK)
    return status;
  m->known[pattern] = 1;
  m->patterns[m->pattern_count++] = pattern;
  return SW_OK;
}

size_t
sw_master_patterns (const sw_master *m)
{
  return m->pattern_count;
}

size_t
sw_master_pattern (const sw_master *m, size_t i)
{
  return m->patterns[i];
}

double
sw_master_pattern_value (const sw_master *m, size_t i)
{
  return sw_master_share (m, m->pattern_column + (int)i);
}

void
sw_master_bound_pattern (sw_master *m, size_t i, int64_t low, int64_t high)
{
  sw_master_bound_column (m, m->pattern_column + (int)i, (double)low, high >= 0 ? (double)high : INFINITY);
}
