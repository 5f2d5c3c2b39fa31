/* master_rows.c - the master programme's rows and columns of layouts
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "lp/master_glpk.h"

/* ---- Building --------------------------------------------------------------------- */

double
sw_master_option_cost (const sw_master *m, size_t o, sw_aim aim)
{
  return (double)sw_option_adds (m->model, o, aim);
}

double
sw_master_pattern_cost (const sw_master *m, size_t pattern, sw_aim aim)
{
  if (aim == SW_AIM_OFFCUTS)
    return (double)sw_pattern_lack (m->model, m->pool, pattern);
  return (double)sw_stock_adds (m->model, m->pool->items[pattern].stock, aim);
}

void
sw_master_put (sw_master *m, int row, double value)
{
  if (value == 0)
    return;
  if (m->at[row] == 0)
    {
      m->at[row] = ++m->entries;
      m->index[m->entries] = row;
      m->value[m->entries] = 0;
    }
  m->value[m->at[row]] += value;
}

void
sw_master_put_need (sw_master *m, size_t need, double pieces)
{
  const double below = m->breakpoints != NULL ? m->breakpoints->below[need] : 0;
  const int row = m->need_row + (int)(m->breakpoints != NULL ? m->breakpoints->above[need] : need);
  sw_master_put (m, row, (1 - below) * pieces);
  sw_master_put (m, row + 1, below * pieces);
}

static void
forget_entries (sw_master *m)
{
  for (; m->entries > 0; m->entries--)
    m->at[m->index[m->entries]] = 0;
}

int
sw_master_put_column (sw_master *m, double cost)
{
  const int column = glp_add_cols (m->lp, 1);
  glp_set_mat_col (m->lp, column, m->entries, m->index, m->value);
  glp_set_col_bnds (m->lp, column, GLP_LO, 0, 0);
  glp_set_obj_coef (m->lp, column, cost);
  forget_entries (m);
  m->dual_first = false;
  return column;
}

void
sw_master_set_stock_rows (sw_master *m)
{
  for (size_t s = 0; s < m->model->stock_count; s++)
    if (m->model->stocks[s].limit >= 0)
      glp_set_row_bnds (m->lp, m->stock_row + (int)s, GLP_UP, 0, (double)m->model->stocks[s].limit);
    else
      glp_set_row_bnds (m->lp, m->stock_row + (int)s, GLP_FR, 0, 0);
}

void
sw_master_add_base_rows (sw_master *m, size_t count)
{
  m->need_row = glp_add_rows (m->lp, (int)(count + m->model->stock_count + SW_AIM_COUNT));
  m->stock_row = m->need_row + (int)count;
  m->cap_row = m->stock_row + (int)m->model->stock_count;
  sw_master_set_stock_rows (m);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    glp_set_row_bnds (m->lp, m->cap_row + a, GLP_FR, 0, 0);
  for (int row = m->need_row; row < m->stock_row; row++)
    glp_set_row_bnds (m->lp, row, GLP_LO, 0, 0);
  for (size_t n = 0; n < m->model->need_count; n++)
    sw_master_put_need (m, n, (double)m->model->needs[n].demand);
  for (int i = 1; i <= m->entries; i++)
    glp_set_row_bnds (m->lp, m->index[i], GLP_LO, m->value[i], 0);
  forget_entries (m);
}

void
sw_master_add_uncovered (sw_master *m, size_t count)
{
  m->uncovered_column = glp_add_cols (m->lp, (int)count);
  for (size_t n = 0; n < count; n++)
    {
      int row[2] = { 0, m->need_row + (int)n };
      double one[2] = { 0, 1 };
      glp_set_col_bnds (m->lp, m->uncovered_column + (int)n, GLP_LO, 0, 0);
      glp_set_mat_col (m->lp, m->uncovered_column + (int)n, 1, row, one);
    }
}

static void
add_options (sw_master *m, const uint8_t *keep)
{
  for (size_t o = 0; o < m->model->option_count; o++)
    {
      if (keep != NULL && !keep[o])
        continue;
      m->option_column[o] = glp_add_cols (m->lp, 1);
      /* The flow already keeps it to one at most. */
      glp_set_col_bnds (m->lp, m->option_column[o], GLP_LO, 0, 0);
    }
}

/* Add a row over OPTIONS of one strip; its entries have been collected in m->index and m->value. */
static void
put_row (sw_master *m, int count, int kind, double low, double high)
{
  int row = glp_add_rows (m->lp, 1);
  glp_set_row_bnds (m->lp, row, kind, low, high);
  glp_set_mat_row (m->lp, row, count, m->index, m->value);
}

static int
put_entry (sw_master *m, int count, size_t option, double value)
{
  if (m->option_column[option] == 0)
    return count;
  m->index[++count] = m->option_column[option];
  m->value[count] = value;
  return count;
}

/* Collect the options of level ROW that end at POST. */
static int
put_ends (sw_master *m, int count, const sw_strip_level *row, uint32_t post, double value)
{
  for (uint32_t d = 1; d <= row->reach && d <= post; d++)
    {
      int32_t o = row->at[(size_t)post * row->reach + d - 1];
      if (o >= 0)
        count = put_entry (m, count, (size_t)o, value);
    }
  return count;
}

/* Collect the options of level ROW that begin at POST and have at least BAYS bays; without WHOLE_ROW, leave out the
 * option that is the whole level. */
static int
put_begins (sw_master *m, int count, const sw_strip *strip, const sw_strip_level *row, uint32_t post, uint32_t bays,
            bool whole_row, double value)
{
  for (uint32_t d = bays; d <= row->reach && post + d <= strip->bays; d++)
    {
      int32_t o = row->at[(size_t)(post + d) * row->reach + d - 1];
      if (o >= 0 && (whole_row || d < strip->bays))
        count = put_entry (m, count, (size_t)o, value);
    }
  return count;
}

static void
add_flow (sw_master *m, const sw_strip *strip, const sw_strip_level *row)
{
  int count = put_begins (m, 0, strip, row, 0, 1, true, 1);
  put_row (m, count, GLP_FX, 1, 1);
  for (uint32_t p = 1; p < strip->bays; p++)
    {
      count = put_ends (m, 0, row, p, 1);
      count = put_begins (m, count, strip, row, p, 1, true, -1);
      if (count == 0)
        continue;
      put_row (m, count, GLP_FX, 0, 0);
    }
}

/* Neighbouring levels must not join on one post, or else the pair counts in the rows STRIP_SUM and ALL_SUM. */
static void
add_stagger (sw_master *m, const sw_strip *strip, bool may_align, int strip_sum, int all_sum)
{
  for (uint32_t p = 1; p < strip->bays; p++)
    for (uint32_t r = 0; strip->counted[p] && r + 1 < strip->level_count; r++)
      {
        if (!sw_strip_counts (strip, p, r))
          continue;
        int count = put_ends (m, 0, &strip->levels[r], p, 1);
        int lower = count;
        count = put_ends (m, count, &strip->levels[r + 1], p, 1);
        if (lower == 0 || count == lower)
          continue;
        if (may_align)
          {
            int column = glp_add_cols (m->lp, 1);
            int rows[3] = { 0, strip_sum, all_sum };
            double ones[3] = { 0, 1, 1 };
            glp_set_col_bnds (m->lp, column, GLP_DB, 0, 1);
            glp_set_mat_col (m->lp, column, 2, rows, ones);
            m->index[++count] = column;
            m->value[count] = -1;
          }
        put_row (m, count, GLP_UP, 0, 1);
      }
}

/* First pieces are long and short in turn: with u = 0 the lowest level is a long one.  In each pair of levels, S is the
 * shorter and L the longer.  For every k, the first piece of S has k bays or more only if that of L has. */
static void
add_turns (sw_master *m, const sw_strip *strip)
{
  int u = glp_add_cols (m->lp, 1);
  glp_set_col_bnds (m->lp, u, GLP_DB, 0, 1);
  glp_set_col_kind (m->lp, u, GLP_BV);
  for (uint32_t r = 0; r + 1 < strip->level_count; r++)
    for (unsigned turn = 0; turn < 2 && sw_strip_turns (strip, r); turn++)
      {
        const sw_strip_level *row[2] = { &strip->levels[r], &strip->levels[r + 1] };
        const sw_strip_level *longer = row[(r + turn) % 2], *shorter = row[1 - (r + turn) % 2];
        for (uint32_t k = 2; k <= shorter->reach && k < strip->bays; k++)
          {
            int count = put_begins (m, 0, strip, shorter, 0, k, false, 1);
            if (count == 0)
              continue;
            count = put_begins (m, count, strip, longer, 0, k, true, -1);
            m->index[++count] = u;
            m->value[count] = turn == 0 ? -1 : 1;
            put_row (m, count, GLP_UP, 0, turn == 0 ? 0 : 1);
          }
      }
}

static void
add_strips (sw_master *m)
{
  const sw_model *model = m->model;
  int64_t floors = 0;
  for (size_t s = 0; s < model->strip_count; s++)
    floors += model->strips[s].aligned_floor;
  int all_sum = m->aligned_row = glp_add_rows (m->lp, 1);
  glp_set_row_bnds (m->lp, all_sum, GLP_UP, 0, (double)(floors + model->aligned_cap));
  for (size_t s = 0; s < model->strip_count; s++)
    {
      const sw_strip *strip = &model->strips[s];
      for (uint32_t r = 0; r < strip->level_count; r++)
        add_flow (m, strip, &strip->levels[r]);
      if (!model->stagger || strip->level_count < 2)
        continue;
      int64_t most = strip->aligned_floor + model->aligned_cap;
      int strip_sum = glp_add_rows (m->lp, 1);
      /* Where there is only one strip, the row of all strips has this limit already, and the bound looks for the dual
       * there. */
      glp_set_row_bnds (m->lp, strip_sum, model->strip_count > 1 ? GLP_UP : GLP_FR, 0, (double)most);
      add_stagger (m, strip, most > 0, strip_sum, all_sum);
      if (model->turn)
        add_turns (m, strip);
    }
}

/* Put the options into the rows of needs and caps. */
static void
add_option_entries (sw_master *m)
{
  const sw_model *model = m->model;
  for (size_t o = 0; o < model->option_count; o++)
    {
      int column = m->option_column[o];
      if (column == 0)
        continue;
      int count = glp_get_mat_col (m->lp, column, m->index, m->value);
      m->index[++count] = m->need_row + (int)model->options[o].need;
      m->value[count] = -1;
      for (int a = 0; a < SW_AIM_COUNT; a++)
        if (sw_master_option_cost (m, o, (sw_aim)a) != 0)
          {
            m->index[++count] = m->cap_row + a;
            m->value[count] = sw_master_option_cost (m, o, (sw_aim)a);
          }
      glp_set_mat_col (m->lp, column, count, m->index, m->value);
      glp_set_col_kind (m->lp, column, GLP_IV);
    }
}

sw_status
sw_master_build (sw_master *m, void *data)
{
  m->lp = glp_create_prob ();
  const sw_model *model = m->model;
  sw_master_add_base_rows (m, model->need_count);
  sw_master_add_uncovered (m, model->need_count);
  add_options (m, *(const uint8_t *const *)data);
  if (model->strip_count > 0)
    {
      add_strips (m);
      add_option_entries (m);
    }
  m->pattern_column = glp_get_num_cols (m->lp) + 1;
  m->fresh = true;
  return SW_OK;
}
