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
  parm.it_lim = SW_SLICE;
  if (m->fresh)
    glp_adv_basis (m->lp, 0);
  m->fresh = false;
  run->outcome = SW_LP_STOPPED;
  for (int restarts = 0; !sw_watch_stop (run->watch);)
    {
      int left = sw_watch_left (run->watch);
      parm.tm_lim = left > 0 ? left : 1;
      int code = glp_simplex (m->lp, &parm);
      if (code == GLP_ETMLIM || code == GLP_EITLIM)
        continue;
      int status = code == 0 ? glp_get_status (m->lp) : GLP_UNDEF;
      if (status == GLP_OPT || status == GLP_NOFEAS)
        {
          run->outcome = status == GLP_OPT ? SW_LP_OPTIMAL : SW_LP_INFEASIBLE;
          m->dual_first = true;
          break;
        }
      /* The basis has become singular.  Begin anew from a plain one, but only once; after that there is no verdict. */
      if (restarts++ > 0)
        break;
      glp_std_basis (m->lp);
      parm.meth = GLP_PRIMAL;
    }
  return SW_OK;
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
sw_master_dual (const sw_master *m, int row)
{
  return glp_get_row_dual (m->lp, row);
}

double
sw_master_share (const sw_master *m, int column)
{
  return glp_get_col_prim (m->lp, column);
}
