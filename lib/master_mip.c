/* master_mip.c - branch and bound over what the master has
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "master_glpk.h"

#include <math.h>
#include <stdlib.h>

#include "memory.h"

typedef struct mip_run
{
  sw_clock *clock;
  int64_t nodes;
  int total_column; /* boards of each supply */
  int total_count;
  bool proved;
  bool feasible;
  double value; /* of the best solution, when feasible */
} mip_run;

static void
on_node (glp_tree *tree, void *info)
{
  mip_run *run = info;
  switch (glp_ios_reason (tree))
    {
    case GLP_IBRANCH:
      if (run->nodes-- <= 0 || sw_clock_stop (run->clock))
        glp_ios_terminate (tree);
      else
        /* Boards of each supply first: nothing else moves the bound as much. */
        for (int i = 0; i < run->total_count; i++)
          if (glp_ios_can_branch (tree, run->total_column + i))
            {
              glp_ios_branch_upon (tree, run->total_column + i, GLP_NO_BRNCH);
              break;
            }
      break;
    default:
      break;
    }
}

static sw_status
read_mip (sw_master *m, sw_choice *choice)
{
  for (size_t o = 0; o < m->model->option_count; o++)
    choice->used[o] = m->option_column[o] != 0 && glp_mip_col_val (m->lp, m->option_column[o]) > 0.5;
  choice->count = 0;
  for (size_t i = 0; i < m->pattern_count; i++)
    {
      long copies = lround (glp_mip_col_val (m->lp, m->pattern_column + (int)i));
      if (copies <= 0)
        continue;
      sw_status status = sw_choice_add (choice, m->patterns[i], copies);
      if (status != SW_OK)
        return status;
    }
  return SW_OK;
}

/* A whole-number column for the boards of each supply, to branch on. */
static void
add_totals (sw_master *m, mip_run *run)
{
  run->total_count = (int)m->model->supply_count;
  run->total_column = glp_add_cols (m->lp, run->total_count);
  for (int i = 0; i < run->total_count; i++)
    {
      int row[2] = { 0, m->supply_row + i };
      double minus[2] = { 0, -1 };
      int64_t limit = m->model->supplies[i].limit;
      glp_set_mat_col (m->lp, run->total_column + i, 1, row, minus);
      glp_set_row_bnds (m->lp, m->supply_row + i, GLP_FX, 0, 0);
      glp_set_col_kind (m->lp, run->total_column + i, GLP_IV);
      sw_master_set_bounds (m, run->total_column + i, 0, (double)limit, limit >= 0);
    }
}

static sw_status
remove_totals (sw_master *m, void *data)
{
  mip_run *run = data;
  int *columns = sw_alloc ((size_t)run->total_count + 1, sizeof *columns);
  if (columns == NULL)
    return SW_NO_MEMORY;
  for (int i = 0; i < run->total_count; i++)
    columns[i + 1] = run->total_column + i;
  if (run->total_count > 0)
    glp_del_cols (m->lp, run->total_count, columns);
  free (columns);
  sw_master_set_supply_rows (m);
  glp_std_basis (m->lp);
  return SW_OK;
}

static sw_status
run_mip (sw_master *m, void *data)
{
  mip_run *run = data;
  glp_iocp parm;
  add_totals (m, run);
  glp_std_basis (m->lp);
  m->dual_first = false;
  sw_master_lp_run lp = { .clock = run->clock };
  sw_status solved = sw_master_run_lp (m, &lp);
  if (solved != SW_OK || lp.outcome != SW_LP_OPTIMAL)
    {
      run->proved = solved == SW_OK && lp.outcome == SW_LP_INFEASIBLE;
      return solved;
    }
  glp_init_iocp (&parm);
  parm.msg_lev = GLP_MSG_OFF;
  parm.br_tech = GLP_BR_DTH;
  parm.bt_tech = GLP_BT_BLB;
  /* Cuts pay where layouts are chosen; over patterns alone they only cost. */
  if (m->model->option_count > 0)
    parm.mir_cuts = parm.gmi_cuts = GLP_ON;
  /* A node may be dropped only where it cannot gain a whole unit, however large the values are. */
  parm.tol_obj = fmin (parm.tol_obj, 0.1 / (1 + 10 * fabs (glp_get_obj_val (m->lp))));
  parm.cb_func = on_node;
  parm.cb_info = run;
  int left = sw_clock_left (run->clock);
  parm.tm_lim = left > 0 ? left : 1;
  int code = glp_intopt (m->lp, &parm);
  int status = code == GLP_ENOPFS ? GLP_NOFEAS : glp_mip_status (m->lp);
  /* Numbers too far apart for it: no verdict, and no plan is lost by that. */
  if (code != 0 && code != GLP_ENOPFS && code != GLP_ENODFS && code != GLP_ETMLIM && code != GLP_ESTOP)
    return SW_OK;
  run->feasible = status == GLP_OPT || status == GLP_FEAS;
  run->value = glp_mip_obj_val (m->lp);
  run->proved = (code == 0 && status == GLP_OPT) || status == GLP_NOFEAS;
  return SW_OK;
}

sw_status
sw_master_mip (sw_master *m, sw_clock *clock, int64_t nodes, sw_choice *choice, bool *proved)
{
  *proved = false;
  mip_run run = { .clock = clock, .nodes = nodes };
  /* No piece may stay uncovered. */
  for (size_t n = 0; n < m->model->need_count; n++)
    sw_master_set_bounds (m, m->uncovered_column + (int)n, 0, 0, true);
  sw_status status = sw_master_guarded (m, run_mip, &run);
  *proved = run.proved;
  if (status == SW_OK && run.feasible)
    {
      sw_choice found;
      status = sw_choice_init (&found, m->model);
      if (status == SW_OK)
        status = read_mip (m, &found);
      if (status == SW_OK && sw_choice_check (&found, m->model, m->pool))
        {
          /* Tolerances let fractions of large numbers pass: then the search was about something else. */
          if (fabs (run.value - (double)found.value[m->aim]) > 0.5)
            *proved = false;
          if (!choice->valid || found.value[m->aim] < choice->value[m->aim])
            status = sw_choice_copy (choice, &found, m->model);
        }
      else
        *proved = false;
      sw_choice_clear (&found);
    }
  if (!m->broken)
    {
      sw_status removed = sw_master_guarded (m, remove_totals, &run);
      status = status == SW_OK ? removed : status;
      for (size_t n = 0; n < m->model->need_count && !m->broken; n++)
        sw_master_set_bounds (m, m->uncovered_column + (int)n, 0, 0, false);
    }
  m->dual_first = false;
  return status;
}
