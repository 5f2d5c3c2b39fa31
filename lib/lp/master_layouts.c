/* master_layouts.c - the linear programme over patterns and whole layouts
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "lp/master_glpk.h"

#include "base/memory.h"

/* A longer piece may do for a shorter one, so that prices do not fall with the length. */
static void
add_exchanges (sw_master *m)
{
  const sw_model *model = m->model;
  for (size_t k = 0; k + 1 < m->breakpoints->count; k++)
    {
      const sw_need *longer = &model->needs[m->breakpoints->size_of[k]],
                    *shorter = &model->needs[m->breakpoints->size_of[k + 1]];
      if (longer->section != shorter->section)
        continue;
      int row[3] = { 0, m->need_row + (int)k, m->need_row + (int)k + 1 };
      double one[3] = { 0, -1, 1 };
      int column = glp_add_cols (m->lp, 1);
      glp_set_col_bnds (m->lp, column, GLP_LO, 0, 0);
      glp_set_mat_col (m->lp, column, 2, row, one);
    }
}

/* The rows are those of needs or breakpoints, of stocks, of caps (free), of blocks (each takes one layout), and of the
 * pairs that may line up. */
static sw_status
build (sw_master *m, void *data)
{
  const sw_model *model = m->model;
  const size_t rows = m->breakpoints != NULL ? m->breakpoints->count : model->need_count;
  int64_t pairs = model->aligned_cap;
  const size_t blocks = *(const size_t *)data;
  m->lp = glp_create_prob ();
  sw_master_add_base_rows (m, rows);
  if (blocks > 0)
    m->block_row = glp_add_rows (m->lp, (int)blocks);
  for (size_t b = 0; b < blocks; b++)
    glp_set_row_bnds (m->lp, m->block_row + (int)b, GLP_FX, 1, 1);
  for (size_t s = 0; s < model->strip_count; s++)
    pairs += model->strips[s].aligned_floor;
  if (model->priced_pairs)
    {
      m->aligned_row = glp_add_rows (m->lp, 1);
      glp_set_row_bnds (m->lp, m->aligned_row, GLP_UP, 0, (double)pairs);
    }
  sw_master_add_uncovered (m, rows);
  if (m->breakpoints != NULL)
    add_exchanges (m);
  m->pattern_column = glp_get_num_cols (m->lp) + 1;
  m->fresh = true;
  return SW_OK;
}

sw_status
sw_master_new_lp (sw_master **out, const sw_model *model, const sw_patterns *pool, const sw_breakpoints *breakpoints,
                  size_t blocks, sw_aim aim, sw_master *beside)
{
  const size_t needs = breakpoints != NULL ? breakpoints->count : model->need_count;
  uint64_t rows = (uint64_t)needs + model->stock_count + SW_AIM_COUNT + blocks + 16;
  sw_master *m = sw_master_begin (model, pool, beside, rows);
  if (m == NULL)
    return SW_NO_MEMORY;
  m->breakpoints = breakpoints;
  m->aim = aim;
  m->at = sw_alloc (rows, sizeof *m->at);
  sw_status status = m->at != NULL ? sw_master_guarded (m, build, &blocks) : SW_NO_MEMORY;
  if (status != SW_OK)
    {
      sw_master_free (m);
      return status;
    }
  sw_master_penalty (m, 1);
  *out = m;
  return SW_OK;
}

typedef struct adding
{
  sw_kept_layout *layout;
  const uint32_t *options;
} adding;

static sw_status
add_layout (sw_master *m, void *data)
{
  const adding *a = data;
  sw_kept_layout *l = a->layout;
  double cost = 0;
  for (size_t i = 0; i < l->count; i++)
    {
      const size_t option = a->options[i];
      sw_master_put_need (m, m->model->options[option].need, -1);
      for (int aim = 0; aim < SW_AIM_COUNT; aim++)
        sw_master_put (m, m->cap_row + aim, sw_master_option_cost (m, option, (sw_aim)aim));
      cost += sw_master_option_cost (m, option, m->aim);
    }
  sw_master_put (m, m->block_row + (int)l->block, 1);
  if (m->aligned_row != 0)
    sw_master_put (m, m->aligned_row, (double)l->aligned);
  l->column = sw_master_put_column (m, cost);
  return SW_OK;
}

sw_status
sw_master_add_layout (sw_master *m, sw_layouts *layouts, size_t i)
{
  adding a = { .layout = &layouts->items[i], .options = &layouts->options[layouts->items[i].first] };
  return sw_master_guarded (m, add_layout, &a);
}

void
sw_master_open_layout (sw_master *m, const sw_layouts *layouts, size_t i, bool open)
{
  if (!m->broken)
    sw_master_set_bounds (m, layouts->items[i].column, 0, 0, !open);
}

double
sw_master_block_dual (const sw_master *m, size_t block)
{
  return glp_get_row_dual (m->lp, m->block_row + (int)block);
}

double
sw_master_layout_value (const sw_master *m, const sw_layouts *layouts, size_t i)
{
  return glp_get_col_prim (m->lp, layouts->items[i].column);
}
