/* master_mix.c - a master of whole layouts, with a row a mark in place of a row a need
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "master_glpk.h"

#include <stdlib.h>
#include <string.h>

#include "memory.h"

/* Rows: marks, supplies, caps (free), parts, each of which takes one layout. */
static sw_status
build (sw_master *m, void *data)
{
  const sw_model *model = m->model;
  size_t parts = model->strip_count;
  (void)data;
  m->lp = glp_create_prob ();
  sw_master_add_base_rows (m, m->marks->count);
  double *demand = m->sum;
  for (size_t n = 0; n < model->need_count; n++)
    sw_master_add_to_marks (m, n, (double)model->needs[n].demand);
  for (size_t k = 0; k < m->marks->count; k++)
    glp_set_row_bnds (m->lp, m->need_row + (int)k, GLP_LO, demand[k], 0);
  memset (demand, 0, m->marks->count * sizeof *demand);
  m->strip_row = glp_add_rows (m->lp, (int)parts);
  for (size_t p = 0; p < parts; p++)
    glp_set_row_bnds (m->lp, m->strip_row + (int)p, GLP_FX, 1, 1);
  sw_master_add_uncovered (m, m->marks->count);
  /* A longer piece does for a shorter one: prices do not fall with the length. */
  for (size_t k = 0; k + 1 < m->marks->count; k++)
    {
      const sw_need *longer = &model->needs[m->marks->size_of[k]], *shorter = &model->needs[m->marks->size_of[k + 1]];
      if (longer->group != shorter->group)
        continue;
      int row[3] = { 0, m->need_row + (int)k, m->need_row + (int)k + 1 };
      double one[3] = { 0, -1, 1 };
      int column = glp_add_cols (m->lp, 1);
      glp_set_col_bnds (m->lp, column, GLP_LO, 0, 0);
      glp_set_mat_col (m->lp, column, 2, row, one);
    }
  m->pattern_column = glp_get_num_cols (m->lp) + 1;
  m->fresh = true;
  return SW_OK;
}

void
sw_master_add_to_marks (sw_master *m, size_t need, double pieces)
{
  size_t above = m->marks->above[need];
  double below = m->marks->below[need];
  m->sum[above] += (1 - below) * pieces;
  if (below > 0)
    m->sum[above + 1] += below * pieces;
}

int
sw_master_take_marks (sw_master *m, int count)
{
  for (size_t k = 0; k < m->marks->count; k++)
    if (m->sum[k] != 0)
      {
        m->index[++count] = m->need_row + (int)k;
        m->value[count] = m->sum[k];
        m->sum[k] = 0;
      }
  return count;
}

sw_status
sw_master_new_mix (sw_master **out, const sw_model *model, const sw_patterns *pool, const sw_marks *marks, sw_aim aim,
                   sw_master *beside)
{
  uint64_t rows = (uint64_t)marks->count + model->supply_count + SW_AIM_COUNT + model->strip_count + 16;
  sw_master *m = sw_master_begin (model, pool, beside, rows);
  if (m == NULL)
    return SW_NO_MEMORY;
  m->marks = marks;
  m->aim = aim;
  m->sum = sw_alloc (marks->count, sizeof *m->sum);
  sw_status status = m->sum != NULL ? sw_master_guarded (m, build, NULL) : SW_NO_MEMORY;
  if (status != SW_OK)
    {
      sw_master_free (m);
      return status;
    }
  sw_master_penalty (m, 1);
  *out = m;
  return SW_OK;
}

typedef struct layout
{
  size_t strip;
  const uint32_t *options;
  size_t count;
  int column;
} layout;

static sw_status
add_layout (sw_master *m, void *data)
{
  layout *l = data;
  double cost[SW_AIM_COUNT] = { 0 };
  for (size_t i = 0; i < l->count; i++)
    {
      sw_master_add_to_marks (m, m->model->options[l->options[i]].need, -1);
      for (int a = 0; a < SW_AIM_COUNT; a++)
        cost[a] += sw_master_option_cost (m, l->options[i], (sw_aim)a);
    }
  int count = sw_master_take_marks (m, 0);
  m->index[++count] = m->strip_row + (int)l->strip;
  m->value[count] = 1;
  for (int a = 0; a < SW_AIM_COUNT; a++)
    if (cost[a] != 0)
      {
        m->index[++count] = m->cap_row + a;
        m->value[count] = cost[a];
      }
  l->column = glp_add_cols (m->lp, 1);
  glp_set_mat_col (m->lp, l->column, count, m->index, m->value);
  glp_set_col_bnds (m->lp, l->column, GLP_LO, 0, 0);
  glp_set_obj_coef (m->lp, l->column, cost[m->aim]);
  m->dual_first = false;
  return SW_OK;
}

sw_status
sw_master_add_layout (sw_master *m, size_t strip, const uint32_t *options, size_t count, int *column)
{
  layout l = { .strip = strip, .options = options, .count = count };
  sw_status status = sw_master_guarded (m, add_layout, &l);
  *column = l.column;
  return status;
}

double
sw_master_strip_dual (const sw_master *m, size_t strip)
{
  return glp_get_row_dual (m->lp, m->strip_row + (int)strip);
}

double
sw_master_layout_value (const sw_master *m, int column)
{
  return glp_get_col_prim (m->lp, column);
}
