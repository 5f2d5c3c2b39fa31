/* master_mip.c - branch and bound over what the master has
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "lp/master_glpk.h"

#include <math.h>

#include "model/tuning.h"

typedef struct mip_run
{
  sw_watch *watch;
  int64_t nodes;
  int64_t most;     /* a solution with a larger value is of no interest */
  int total_column; /* first of the columns for the boards of each stock */
  int total_count;
  bool totals;         /* branch on the numbers of boards of each stock first */
  int64_t turn, began; /* iterations */
  int64_t more;        /* what counts as iterations beside them */
  const sw_master *master;
  bool small_caps; /* the caps are small enough for GLPK's verdicts to be trusted */
  bool sure;
  bool beyond; /* the value of every node that is left is over MOST */
  bool ended;  /* no other turn can find anything */
  bool proved;
  bool feasible;
  double value; /* value of the best solution, when feasible */
} mip_run;

static bool
is_beyond (const mip_run *run, double value)
{
  return run->sure && value > (double)run->most + SW_NO_USE;
}

static bool
caps_are_small (const sw_master *m)
{
  bool small = true;
  for (int a = 0; a < SW_AIM_COUNT; a++)
    small = small && (double)m->goal.caps[a] <= SW_TRUSTED;
  return small;
}

/* Of COUNT columns from FIRST on, find the one with the largest fraction; 0: none is left to branch on. */
static int
nearest_up (glp_tree *tree, int first, int count)
{
  double best = 0;
  int at = 0;
  for (int column = first; column < first + count; column++)
    {
      const double value = glp_get_col_prim (glp_ios_get_prob (tree), column), part = value - floor (value);
      if (part <= best || !glp_ios_can_branch (tree, column))
        continue;
      best = part;
      at = column;
    }
  return at;
}

/* Branch on the piece that is most nearly decided, or else on such a pattern, and go up first, so that the tree begins
 * with a dive. */
static int
choose_column (glp_tree *tree, const sw_master *m)
{
  const int column = nearest_up (tree, 1, m->option_columns);
  return column != 0 ? column : nearest_up (tree, m->pattern_column, (int)m->pattern_count);
}

static void
on_branch (glp_tree *tree, mip_run *run)
{
  run->more += SW_NODE_ITERATIONS;
  if (run->nodes-- <= 0 || sw_watch_stop (run->watch))
    glp_ios_terminate (tree);
  /* Branch on numbers of boards first, because they move the bound more than anything else. */
  for (int i = 0; run->totals && i < run->total_count; i++)
    if (glp_ios_can_branch (tree, run->total_column + i))
      {
        glp_ios_branch_upon (tree, run->total_column + i, GLP_NO_BRNCH);
        return;
      }
  int column = choose_column (tree, run->master);
  if (column != 0)
    glp_ios_branch_upon (tree, column, GLP_UP_BRNCH);
}

static void
on_node (glp_tree *tree, void *info)
{
  mip_run *run = info;
  if (glp_get_it_cnt (glp_ios_get_prob (tree)) - run->began + run->more > run->turn)
    glp_ios_terminate (tree);
  else if (glp_ios_reason (tree) == GLP_IBRANCH)
    on_branch (tree, run);
  else if (glp_ios_reason (tree) == GLP_ISELECT)
    {
      int best = glp_ios_best_node (tree);
      if (best != 0 && is_beyond (run, glp_ios_node_bound (tree, best)))
        {
          run->beyond = true;
          glp_ios_terminate (tree);
        }
    }
}

static sw_status
read_mip (sw_master *m, sw_solution *solution)
{
  for (size_t o = 0; o < m->goal.model->option_count; o++)
    solution->used[o] = m->option_column[o] != 0 && glp_mip_col_val (m->lp, m->option_column[o]) > 0.5;
  solution->count = 0;
  for (size_t i = 0; i < m->pattern_count; i++)
    {
      long copies = lround (glp_mip_col_val (m->lp, m->pattern_column + (int)i));
      if (copies <= 0)
        continue;
      sw_status status = sw_solution_add (solution, m->patterns[i], copies);
      if (status != SW_OK)
        return status;
    }
  return SW_OK;
}

/* Add a column for the boards of each stock, to branch on. */
static void
add_totals (sw_master *m, mip_run *run)
{
  run->total_column = glp_get_num_cols (m->lp) + 1;
  run->total_count = (int)m->goal.model->stock_count;
  for (size_t s = 0; s < m->goal.model->stock_count; s++)
    {
      const int64_t limit = m->goal.model->stocks[s].limit;
      sw_master_bound_row (m, m->stock_row + (int)s, 0, 0);
      sw_master_put (m, m->stock_row + (int)s, -1);
      sw_master_bound_column (m, sw_master_put_column (m, 0), 0, limit >= 0 ? (double)limit : INFINITY);
    }
}

static void
set_parameters (sw_master *m, mip_run *run, glp_iocp *parm)
{
  glp_init_iocp (parm);
  parm->msg_lev = GLP_MSG_OFF;
  parm->br_tech = GLP_BR_FFV;
  parm->bt_tech = GLP_BT_DFS;
  /* A node may be dropped only where it cannot gain a whole unit, however large the values are, so the tolerance
   * shrinks with them. */
  parm->tol_obj = fmin (parm->tol_obj, 0.1 / (1 + 10 * fabs (glp_get_obj_val (m->lp))));
  parm->cb_func = on_node;
  parm->cb_info = run;
  int left = sw_watch_left (run->watch);
  parm->tm_lim = left > 0 ? left : 1;
  for (int i = 0; i < run->total_count; i++)
    glp_set_col_kind (m->lp, run->total_column + i, run->totals ? GLP_IV : GLP_CV);
}

/* Solve the linear programme without whole numbers.  It has ended where there is nothing to branch on. */
static sw_status
solve_root (sw_master *m, mip_run *run)
{
  sw_master_lp_run lp = { .watch = run->watch };
  sw_status status = sw_master_run_lp (m, &lp);
  const bool solved = status == SW_OK && lp.outcome == SW_LP_OPTIMAL;
  run->proved = solved ? is_beyond (run, glp_get_obj_val (m->lp)) : lp.outcome == SW_LP_INFEASIBLE;
  run->ended = run->proved || !solved;
  return status;
}

static sw_status
run_way (sw_master *m, void *data)
{
  mip_run *run = data;
  glp_iocp parm;
  /* Let GLPK look for nothing with a value over MOST. */
  if (m->goal.aim < SW_AIM_COUNT && run->sure)
    sw_master_bound_row (m, m->cap_row + (int)m->goal.aim, -INFINITY, (double)run->most);
  sw_status status = solve_root (m, run);
  run->feasible = run->beyond = false;
  if (run->ended)
    return status;
  set_parameters (m, run, &parm);
  run->began = glp_get_it_cnt (m->lp);
  run->more = 0;
  int code = glp_intopt (m->lp, &parm);
  int outcome = code == GLP_ENOPFS ? GLP_NOFEAS : glp_mip_status (m->lp);
  /* GLPK gave up, because the numbers are too far apart.  There is no verdict, and the plan that was known stays. */
  if (code != 0 && code != GLP_ENOPFS && code != GLP_ENODFS && code != GLP_ETMLIM && code != GLP_ESTOP)
    return SW_OK;
  run->feasible = outcome == GLP_OPT || outcome == GLP_FEAS;
  run->value = glp_mip_obj_val (m->lp);
  run->proved = run->beyond || (code == 0 && outcome == GLP_OPT) || outcome == GLP_NOFEAS;
  run->ended = run->proved;
  return SW_OK;
}

static sw_status
begin (sw_master *m, void *data)
{
  mip_run *run = data;
  for (int o = 1; o <= m->option_columns; o++)
    glp_set_col_kind (m->lp, o, GLP_IV);
  for (size_t i = 0; i < m->pattern_count; i++)
    glp_set_col_kind (m->lp, m->pattern_column + (int)i, GLP_IV);
  add_totals (m, run);
  return SW_OK;
}

/* Check what GLPK found, and put it into SOLUTION when it is better. */
static sw_status
take_found (sw_master *m, mip_run *run, sw_solution *solution)
{
  sw_solution found;
  if (!run->feasible)
    return SW_OK;
  sw_status status = sw_solution_init (&found, m->goal.model);
  if (status == SW_OK)
    status = read_mip (m, &found);
  if (status == SW_OK && sw_solution_check (&found, m->goal.model, m->pool))
    {
      /* GLPK's tolerances let fractions of large numbers pass, so it has searched another problem than this one. */
      if (fabs (run->value - (double)found.value[m->goal.aim]) > 0.5)
        run->proved = false;
      if (!solution->valid || found.value[m->goal.aim] < solution->value[m->goal.aim])
        status = sw_solution_copy (solution, &found, m->goal.model);
      if (found.value[m->goal.aim] <= run->most)
        run->most = found.value[m->goal.aim] - 1;
    }
  else
    run->proved = false;
  sw_solution_clear (&found);
  return status;
}

sw_status
sw_master_mip (sw_master *m, sw_watch *watch, int64_t nodes, int64_t most, sw_solution *solution, bool *proved)
{
  mip_run run = {
    .master = m, .watch = watch, .nodes = nodes, .most = most, .turn = SW_FIRST_TURN, .small_caps = caps_are_small (m)
  };
  run.sure = run.small_caps && fabs ((double)most) <= SW_TRUSTED;
  sw_status status = sw_master_guarded (m, begin, &run);
  /* Whether numbers of boards should be branched on first differs from one programme to the next by a factor of a
   * hundred.  So each way is tried for a while, then each for twice as long.  With few stocks, the numbers of their
   * boards alone may show that there is no solution. */
  int first = m->goal.model->stock_count <= SW_FEW_STOCKS ? 1 : 0;
  for (int i = 0; status == SW_OK && !run.ended && run.nodes > 0 && !sw_watch_stop (watch); i++)
    {
      if (i > 0 && i % 2 == 0)
        run.turn *= 2;
      run.totals = (first + i) % 2 == 1;
      status = sw_master_guarded (m, run_way, &run);
      if (status == SW_OK)
        status = take_found (m, &run, solution);
    }
  *proved = run.proved && run.small_caps;
  return status;
}
