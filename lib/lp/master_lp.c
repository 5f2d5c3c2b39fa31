/* master_lp.c - basis, linear programme and its values
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "lp/master_glpk.h"
#include "model/tuning.h"

#include <stdlib.h>

/* ---- Basis --------------------------------------------------------------------------- */

sw_status
sw_master_keep_basis (sw_master *m)
{
  if (m->broken)
    return SW_FAILED;
  int rows = glp_get_num_rows (m->lp), columns = glp_get_num_cols (m->lp);
  int *kept = realloc (m->kept, (size_t)(rows + columns + 1) * sizeof *kept);
  if (kept == NULL)
    return SW_NO_MEMORY;
  m->kept = kept;
  m->kept_columns = columns;
  for (int i = 1; i <= rows; i++)
    kept[i - 1] = glp_get_row_stat (m->lp, i);
  for (int j = 1; j <= columns; j++)
    kept[rows + j - 1] = glp_get_col_stat (m->lp, j);
  return SW_OK;
}

void
sw_master_back_to_basis (sw_master *m)
{
  if (m->broken || m->kept == NULL)
    return;
  int rows = glp_get_num_rows (m->lp), columns = glp_get_num_cols (m->lp);
  for (int i = 1; i <= rows; i++)
    glp_set_row_stat (m->lp, i, m->kept[i - 1]);
  for (int j = 1; j <= columns; j++)
    glp_set_col_stat (m->lp, j, j <= m->kept_columns ? m->kept[rows + j - 1] : GLP_NL);
  m->dual_first = false;
}

/* ---- Linear programme ------------------------------------------------------------------ */

sw_status
sw_master_run_lp (sw_master *m, void *data)
{
  sw_master_lp_run *run = data;
  glp_smcp parm;
  glp_init_smcp (&parm);
  parm.msg_lev = GLP_MSG_OFF;
  parm.meth = m->dual_first ? GLP_DUALP : GLP_PRIMAL;
  if (m->fresh)
    glp_adv_basis (m->lp, 0);
  m->fresh = false;
  for (int restarts = 0;;)
    {
      if (sw_watch_stop (run->watch))
        {
          run->outcome = SW_LP_STOPPED;
          return SW_OK;
        }
      int left = sw_watch_left (run->watch);
      parm.tm_lim = left > 0 ? left : 1;
      parm.it_lim = SW_SLICE;
      int code = glp_simplex (m->lp, &parm);
      if (code == GLP_ETMLIM || code == GLP_EITLIM)
        continue;
      if (code != 0)
        {
          /* The basis has become singular.  Begin anew from a plain one, but only once; after that there is no
           * verdict. */
          if (restarts++ > 0)
            {
              run->outcome = SW_LP_STOPPED;
              return SW_OK;
            }
          glp_std_basis (m->lp);
          parm.meth = GLP_PRIMAL;
          continue;
        }
      int status = glp_get_status (m->lp);
      if (status == GLP_OPT)
        run->outcome = SW_LP_OPTIMAL;
      else if (status == GLP_NOFEAS)
        run->outcome = SW_LP_INFEASIBLE;
      else if (restarts++ == 0)
        {
          glp_std_basis (m->lp);
          parm.meth = GLP_PRIMAL;
          continue;
        }
      else
        run->outcome = SW_LP_STOPPED;
      m->dual_first = true;
      return SW_OK;
    }
}

sw_status
sw_master_lp (sw_master *m, sw_watch *watch, sw_lp *outcome)
{
  sw_master_lp_run run = { .watch = watch };
  sw_status status = sw_master_guarded (m, sw_master_run_lp, &run);
  *outcome = run.outcome;
  return status;
}

uint64_t
sw_master_work (const sw_master *m)
{
  return m->broken ? 0 : (uint64_t)glp_get_it_cnt (m->lp) * (uint64_t)glp_get_num_rows (m->lp);
}

double
sw_master_value (const sw_master *m)
{
  return glp_get_obj_val (m->lp);
}

double
sw_master_uncovered (const sw_master *m)
{
  double sum = 0;
  for (int n = 0; n < m->stock_row - m->need_row; n++)
    sum += glp_get_col_prim (m->lp, m->uncovered_column + n);
  return sum;
}

double
sw_master_need_dual (const sw_master *m, size_t need)
{
  if (m->breakpoints != NULL)
    {
      int row = m->need_row + (int)m->breakpoints->above[need];
      double below = m->breakpoints->below[need], dual = (1 - below) * glp_get_row_dual (m->lp, row);
      return below > 0 ? dual + below * glp_get_row_dual (m->lp, row + 1) : dual;
    }
  return glp_get_row_dual (m->lp, m->need_row + (int)need);
}

double
sw_master_stock_dual (const sw_master *m, size_t stock)
{
  return glp_get_row_dual (m->lp, m->stock_row + (int)stock);
}

double
sw_master_pattern_value (const sw_master *m, size_t i)
{
  return glp_get_col_prim (m->lp, m->pattern_column + (int)i);
}

/* ---- Duals as prices ------------------------------------------------------------------- */

/* What a row that has a limit saves a unit of it; 0 where it is no row, or free. */
static int64_t
saves (const sw_master *m, bool limited, int row, const sw_prices *p)
{
  return limited ? sw_scaled (-glp_get_row_dual (m->lp, row), p->scale, true) : 0;
}

void
sw_master_prices (const sw_master *m, double penalty, sw_prices *p)
{
  const sw_goal *goal = p->goal;
  const sw_model *model = goal->model;
  p->scale = sw_goal_scale (goal, penalty);
  for (size_t n = 0; n < model->need_count; n++)
    p->need[n] = sw_scaled (sw_master_need_dual (m, n), p->scale, false);
  for (size_t i = 0; i < model->stock_count; i++)
    {
      p->stock[i] = saves (m, model->stocks[i].limit >= 0, m->stock_row + (int)i, p);
      if (p->owed != NULL)
        p->owed[i] = sw_scaled (sw_master_stock_dual (m, i), p->scale, false);
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
