/* check_master.c - the master programme: linear optima, whole-number optima, failures
 *
 * Optima of published examples, and of small fences against all solutions
 * there are (brute.c).  GLPK's own calls are wrapped by the linker so that
 * one of them can be made to fail.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "brute.h"
#include "chance.h"
#include "failing_glpk.h"
#include "price/knapsack.h"
#include "lp/master_glpk.h"
#include "model_job.h"
#include "solve/solve.h"
#include "suite.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- Models ---- */

static sw_model *model;
static sw_goal goal;
static sw_patterns pool;
static sw_master *master;
static sw_solution solution;
static sw_watch clock_now;

static void
setup (void)
{
  failing = FAIL_NOT;
  model_setup ();
  pool = (sw_patterns){ 0 };
  master = NULL;
  solution = (sw_solution){ 0 };
  sw_watch_begin (&clock_now, -1, NULL);
}

static void
teardown (void)
{
  sw_solution_clear (&solution);
  sw_master_free (master);
  sw_patterns_clear (&pool);
  model_teardown ();
}

static bool
add_listed (const sw_entry *entries, uint32_t entry_count, int64_t value, void *data)
{
  (void)value;
  size_t before = pool.count;
  ck_assert_int_eq (sw_patterns_add (&pool, *(uint32_t *)data, entries, entry_count, NULL, NULL), SW_OK);
  ck_assert_uint_eq (pool.count, before + 1);
  return true;
}

/* Every maximal pattern of every stock. */
static void
list_patterns (void)
{
  int64_t *value = calloc (model->need_count, sizeof *value);
  ck_assert_ptr_nonnull (value);
  uint64_t steps = 10000000;
  for (uint32_t s = 0; s < model->stock_count; s++)
    ck_assert_int_eq (sw_knapsack_each (model, model->stocks[s].section, value, model->stocks[s].room, 0, &steps, NULL,
                                        add_listed, &s),
                      SW_OK);
  free (value);
}

/* Option O is used so often at least and at most, in place of what the rules leave it. */
static void
bound_option (size_t o, int low, int high)
{
  if (master->option_column[o] != 0)
    sw_master_bound_column (master, master->option_column[o], low, high);
}

static double
option_value (size_t o)
{
  return master->option_column[o] == 0 ? 0 : glp_get_col_prim (master->lp, master->option_column[o]);
}

static void
add_patterns (void)
{
  for (size_t i = 0; i < pool.count; i++)
    {
      bool new_one = false;
      ck_assert_int_eq (sw_master_add (master, i, &new_one), SW_OK);
      ck_assert (new_one);
      ck_assert_int_eq (sw_master_add (master, i, &new_one), SW_OK);
      ck_assert (!new_one);
    }
  ck_assert_uint_eq (sw_master_patterns (master), pool.count);
}

/* Begin the integer programme of the goal, with those of the options that KEEP has (NULL: all). */
static void
begin_with (const uint8_t *keep)
{
  sw_master_free (master);
  ck_assert_int_eq (sw_master_new_mip (&master, &goal, &pool, keep, NULL), SW_OK);
  add_patterns ();
}

static void
begin_master (void)
{
  begin_with (NULL);
}

/* Begin the linear programme of the goal, in which a piece that no board covers costs PENALTY. */
static void
begin_lp (double penalty)
{
  sw_master_free (master);
  ck_assert_int_eq (sw_master_new_lp (&master, &goal, &pool, NULL, 0, NULL), SW_OK);
  add_patterns ();
  sw_master_penalty (master, penalty);
}

/* List the patterns of MODEL, to bring the cost down. */
static void
begin_goal (void)
{
  goal = (sw_goal){ .model = model, .aim = SW_AIM_COST, .caps = { -1, -1, -1 } };
  ck_assert_int_eq (sw_solution_init (&solution, model), SW_OK);
  list_patterns ();
}

static void
model_it (void)
{
  ck_assert_int_eq (sw_layout_new (&layout, job, NULL), SW_OK);
  ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
  ck_assert_uint_eq (count, 1);
  model = &models[0];
  begin_goal ();
  begin_master ();
}

static double
lp_value (void)
{
  sw_lp outcome = SW_LP_STOPPED;
  ck_assert_int_eq (sw_master_lp (master, &clock_now, &outcome), SW_OK);
  ck_assert_int_eq (outcome, SW_LP_OPTIMAL);
  return sw_master_value (master);
}

static bool
solve_mip (void)
{
  bool proved = false;
  solution.valid = false;
  ck_assert_int_eq (sw_master_mip (master, &clock_now, 100000, INT64_MAX, &solution, &proved), SW_OK);
  ck_assert (proved);
  return solution.valid;
}

/* The same with a master of its own, for AIM. */
static bool
solve_for (sw_aim aim)
{
  goal.aim = aim;
  begin_master ();
  return solve_mip ();
}

/* ---- Published linear optima ---- */

typedef struct example
{
  const char *source;
  double lp;
  int64_t whole;
  int64_t stock[4], price[4];
  struct
  {
    int64_t length, quantity;
  } pieces[16];
} example;

/* Lengths in whole millimetres (the JuMP ones in tenths); a price of 0: boards are counted. */
static const example examples[] = {
  { "V. Chvatal, Linear Programming, Freeman 1983, chapter 13",
    452.25,
    453,
    { 100 },
    { 0 },
    { { 45, 97 }, { 36, 610 }, { 31, 395 }, { 14, 211 } } },
  { "R. Fourer, D. M. Gay, B. W. Kernighan, AMPL, 2nd edition 2003, chapter 15, entry.dat (statement from memory)",
    46.25,
    47,
    { 110 },
    { 0 },
    { { 20, 48 }, { 45, 35 }, { 50, 24 }, { 55, 10 }, { 75, 8 } } },
  /* 149/30: thirds, fifths and halves of 30 that do not go together */
  { "M. Fieldhouse, The duality gap in trim problems, SICUP Bulletin 5, 1990 (reference from memory)",
    149.0 / 30,
    6,
    { 30 },
    { 0 },
    { { 15, 3 }, { 10, 5 }, { 6, 9 } } },
  { "P. C. Gilmore, R. E. Gomory, Operations Research 9 (1961), example (statement from memory)",
    170,
    170,
    { 5, 6, 9 },
    { 6, 7, 10 },
    { { 2, 20 }, { 3, 10 }, { 4, 20 } } },
};

static void
make_example (const example *e)
{
  for (int s = 0; s < 4 && e->stock[s] > 0; s++)
    job_stock (job, "a", e->stock[s] * SW_MM)->price = e->price[s] * SW_MONEY_UNIT;
  job->priced = e->price[0] > 0;
  for (int p = 0; p < 16 && e->pieces[p].length > 0; p++)
    job_extra (job, "x", "a", e->pieces[p].length * SW_MM)->quantity = e->pieces[p].quantity;
}

static double
need_dual (size_t need)
{
  return sw_master_dual (master, master->need_row + (int)need);
}

static double
stock_dual (size_t stock)
{
  return sw_master_dual (master, master->stock_row + (int)stock);
}

/* Reduced costs of all patterns are at least 0, and the duals are worth the optimum. */
static void
expect_duals (double optimum)
{
  double worth = 0;
  for (size_t n = 0; n < model->need_count; n++)
    {
      ck_assert (need_dual (n) > -1e-9);
      worth += need_dual (n) * (double)model->needs[n].demand;
    }
  for (size_t s = 0; s < model->stock_count; s++)
    if (model->stocks[s].limit >= 0)
      {
        ck_assert (stock_dual (s) < 1e-9);
        worth += stock_dual (s) * (double)model->stocks[s].limit;
      }
  ck_assert_msg (fabs (worth - optimum) < 1e-6 * (1 + fabs (optimum)), "%g %g", worth, optimum);
  for (size_t i = 0; i < pool.count; i++)
    {
      const sw_pattern *p = &pool.items[sw_master_pattern (master, i)];
      double value = stock_dual (p->stock);
      for (uint32_t c = 0; c < p->count; c++)
        value += need_dual (pool.entries[p->first + c].need) * pool.entries[p->first + c].copies;
      ck_assert (value < (double)model->stocks[p->stock].cost + 1e-6);
      ck_assert (sw_master_pattern_value (master, i) > -1e-9);
    }
}

START_TEST (published_examples)
{
  const example *e = &examples[_i];
  make_example (e);
  model_it ();
  begin_lp (1000);
  double value = lp_value ();
  ck_assert_msg (fabs (value - e->lp) < 1e-6, "%s: %.9f", e->source, value);
  ck_assert (sw_master_uncovered (master) < 1e-9);
  expect_duals (value);
  begin_master ();
  ck_assert_msg (solve_mip (), "%s", e->source);
  ck_assert_int_eq (solution.value[SW_AIM_COST], e->whole);
}
END_TEST

/* ---- Bounds, caps, penalties ---- */

START_TEST (pieces_without_boards_cost_the_penalty)
{
  job_stock (job, "a", 100 * SW_MM)->limit = 2;
  job_extra (job, "x", "a", 40 * SW_MM)->quantity = 7;
  model_it ();
  begin_lp (50);
  /* Two boards of two; three pieces are left over. */
  ck_assert (fabs (lp_value () - (2 + 3 * 50)) < 1e-6);
  ck_assert (fabs (sw_master_uncovered (master) - 3) < 1e-6);
  expect_duals (2 + 3 * 50);
  /* In whole numbers every piece must be cut: that is not possible, and proved. */
  begin_master ();
  ck_assert (!solve_mip ());
  /* The pieces may be left over again. */
  begin_lp (50);
  ck_assert (fabs (lp_value () - (2 + 3 * 50)) < 1e-6);
}
END_TEST

/* Fifty units of one thing and seventy of another, out of parts of which the third is to be had once. */
START_TEST (rows_and_columns_are_added_one_by_one)
{
  int row[3], column[3];
  ck_assert_int_eq (sw_master_new (&master), SW_OK);
  ck_assert_int_eq (sw_master_row (master, 50, INFINITY, &row[0]), SW_OK);
  ck_assert_int_eq (sw_master_row (master, 70, INFINITY, &row[1]), SW_OK);
  sw_master_put (master, row[0], 1);
  ck_assert_int_eq (sw_master_column (master, 3, &column[0]), SW_OK);
  /* What is put into a row twice adds up. */
  sw_master_put (master, row[1], 1.5);
  sw_master_put (master, row[0], 0);
  sw_master_put (master, row[1], 0.5);
  ck_assert_int_eq (sw_master_column (master, 4, &column[1]), SW_OK);
  ck_assert (fabs (lp_value () - (150 + 140)) < 1e-6);
  ck_assert (fabs (sw_master_dual (master, row[0]) - 3) < 1e-9 && fabs (sw_master_dual (master, row[1]) - 2) < 1e-9);
  /* A row and a column that come later. */
  ck_assert_int_eq (sw_master_row (master, -INFINITY, 1, &row[2]), SW_OK);
  sw_master_put (master, row[2], 1);
  sw_master_put (master, row[1], 10);
  sw_master_put (master, row[0], 10);
  ck_assert_int_eq (sw_master_column (master, 20, &column[2]), SW_OK);
  ck_assert (fabs (lp_value () - (120 + 120 + 20)) < 1e-6);
  ck_assert (fabs (sw_master_share (master, column[0]) - 40) < 1e-6);
  ck_assert (fabs (sw_master_share (master, column[1]) - 30) < 1e-6);
  ck_assert (fabs (sw_master_share (master, column[2]) - 1) < 1e-9);
  ck_assert (fabs (sw_master_dual (master, row[2]) - (20 - 30 - 20)) < 1e-9);
  sw_master_allow (master, column[2], false);
  ck_assert (fabs (lp_value () - (150 + 140)) < 1e-6);
  sw_master_allow (master, column[2], true);
  ck_assert (fabs (lp_value () - (120 + 120 + 20)) < 1e-6);
}
END_TEST

START_TEST (patterns_can_be_bounded)
{
  make_example (&examples[0]);
  model_it ();
  begin_lp (1000);
  double free_value = lp_value ();
  size_t most = 0;
  for (size_t i = 0; i < pool.count; i++)
    if (sw_master_pattern_value (master, i) > sw_master_pattern_value (master, most))
      most = i;
  sw_master_bound_pattern (master, most, 0, 0);
  double without = lp_value ();
  ck_assert (without > free_value + 1e-6);
  ck_assert (sw_master_pattern_value (master, most) < 1e-9);
  sw_master_bound_pattern (master, most, 450, -1);
  ck_assert (lp_value () > free_value + 1);
  ck_assert (sw_master_pattern_value (master, most) > 450 - 1e-6);
  sw_master_bound_pattern (master, most, 3, 7);
  lp_value ();
  ck_assert (sw_master_pattern_value (master, most) > 3 - 1e-9);
  ck_assert (sw_master_pattern_value (master, most) < 7 + 1e-9);
  sw_master_bound_pattern (master, most, 0, -1);
  ck_assert (fabs (lp_value () - free_value) < 1e-6);
}
END_TEST

/* A fence of two rails, three bays each, one or two bays a piece. */
static void
make_fence (void)
{
  job->settings->join_cost = SW_MONEY_UNIT;
  job->priced = true;
  job_level (job, "low", "rail", true);
  job_level (job, "high", "rail", true);
  job_stock (job, "rail", 4800 * SW_MM)->price = 10 * SW_MONEY_UNIT;
  job_stock (job, "rail", 2400 * SW_MM)->price = 6 * SW_MONEY_UNIT;
  job_even_run (job, "road", 3, 2200 * SW_MM, 100 * SW_MM);
}

START_TEST (options_can_be_bounded)
{
  make_fence ();
  model_it ();
  double free_value = lp_value ();
  ck_assert (solve_mip ());
  int64_t best = solution.value[SW_AIM_COST];
  /* Each option in turn: with it or without it nothing is better, and one of the two is as good. */
  for (size_t o = 0; o < model->option_count; o++)
    {
      int64_t value[2] = { INT64_MAX, INT64_MAX };
      for (int on = 0; on < 2; on++)
        {
          begin_master ();
          bound_option (o, on, on);
          sw_lp outcome;
          ck_assert_int_eq (sw_master_lp (master, &clock_now, &outcome), SW_OK);
          ck_assert_int_ne (outcome, SW_LP_STOPPED);
          bool possible = solve_mip ();
          if (outcome == SW_LP_INFEASIBLE)
            {
              /* A single bay in the middle of one rail: the other cannot help joining beside it. */
              ck_assert (on && !possible);
              continue;
            }
          ck_assert (sw_master_value (master) > free_value - 1e-6);
          ck_assert (!possible || sw_master_value (master) < (double)solution.value[SW_AIM_COST] + 1e-6);
          ck_assert (fabs (option_value (o) - on) < 1e-9);
          if (!possible)
            continue;
          ck_assert_int_eq (solution.used[o], on);
          value[on] = solution.value[SW_AIM_COST];
          ck_assert_int_ge (value[on], best);
        }
      ck_assert (value[0] == best || value[1] == best);
    }
  begin_master ();
  ck_assert (fabs (lp_value () - free_value) < 1e-6);
}
END_TEST

START_TEST (options_may_be_left_out)
{
  make_fence ();
  model_it ();
  uint8_t *keep = calloc (model->option_count, 1);
  ck_assert_ptr_nonnull (keep);
  /* Only single bays: joins line up, which the cap on aligned pairs forbids. */
  for (size_t o = 0; o < model->option_count; o++)
    keep[o] = model->options[o].to - model->options[o].from == 1;
  begin_with (keep);
  sw_lp outcome;
  ck_assert_int_eq (sw_master_lp (master, &clock_now, &outcome), SW_OK);
  ck_assert_int_eq (outcome, SW_LP_INFEASIBLE);
  ck_assert (!solve_mip ());
  model->aligned_cap = 2;
  begin_with (keep);
  ck_assert (solve_mip ());
  ck_assert_int_eq (solution.value[SW_AIM_JOINS], 4);
  for (size_t o = 0; o < model->option_count; o++)
    {
      ck_assert_int_eq (solution.used[o], keep[o]);
      if (!keep[o])
        {
          ck_assert (option_value (o) == 0);
        }
    }
  free (keep);
}
END_TEST

/* First pieces of one to three bays on three levels, each way: possible only where they go long and short in turn. */
START_TEST (first_pieces_go_in_turn)
{
  static const char *const names[] = { "1", "2", "3" };
  for (int l = 0; l < 3; l++)
    job_level (job, names[l], "rail", true);
  job_stock (job, "rail", 6000 * SW_MM);
  job_even_run (job, "road", 4, 1900 * SW_MM, 100 * SW_MM);
  ck_assert_int_eq (sw_layout_new (&layout, job, NULL), SW_OK);
  ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
  model = &models[0];
  model->aligned_cap = 6;
  begin_goal ();
  for (uint32_t code = 0; code < 27; code++)
    {
      const uint32_t first[3] = { 1 + code % 3, 1 + code / 3 % 3, 1 + code / 9 };
      begin_master ();
      for (int r = 0; r < 3; r++)
        {
          const sw_strip_level *row = &model->strips[0].levels[r];
          bound_option ((size_t)row->at[first[r] * row->reach + first[r] - 1], 1, 1);
        }
      bool in_turn = (first[0] >= first[1] && first[1] <= first[2]) || (first[0] <= first[1] && first[1] >= first[2]);
      ck_assert_msg (solve_mip () == in_turn, "%u %u %u", first[0], first[1], first[2]);
    }
}
END_TEST

/* Two runs in which all joins line up, one pair each: the cap is on both together. */
START_TEST (aligned_pairs_of_all_runs_are_capped)
{
  job_level (job, "low", "rail", true);
  job_level (job, "high", "rail", true);
  job_stock (job, "rail", 2500 * SW_MM);
  job_even_run (job, "road", 2, 2300 * SW_MM, 100 * SW_MM);
  job_even_run (job, "side", 2, 2300 * SW_MM, 100 * SW_MM);
  model_it ();
  for (int64_t cap = 0; cap < 4; cap++)
    {
      model->aligned_cap = cap;
      begin_master ();
      ck_assert_msg (solve_mip () == (cap >= 2), "cap %d", (int)cap);
    }
}
END_TEST

START_TEST (aims_go_under_caps)
{
  make_fence ();
  model_it ();
  ck_assert (solve_mip ());
  int64_t cost = solution.value[SW_AIM_COST];
  /* Fewest joins whatever the cost: one a rail. */
  ck_assert (solve_for (SW_AIM_JOINS));
  ck_assert_int_eq (solution.value[SW_AIM_JOINS], 2);
  /* One less than the least cost is not to be had. */
  goal.caps[SW_AIM_COST] = cost;
  ck_assert (solve_for (SW_AIM_JOINS));
  ck_assert_int_eq (solution.value[SW_AIM_COST], cost);
  goal.caps[SW_AIM_COST] = cost - 1;
  ck_assert (!solve_for (SW_AIM_JOINS));
  goal.caps[SW_AIM_COST] = -1;
  ck_assert (solve_for (SW_AIM_BOARDS));
  ck_assert_int_ge (solution.value[SW_AIM_BOARDS], 1);
  int64_t boards = solution.value[SW_AIM_BOARDS];
  goal.caps[SW_AIM_BOARDS] = boards - 1;
  ck_assert (!solve_for (SW_AIM_BOARDS));
}
END_TEST

/* A thousand short bays where joins may be made on one post only: few pieces, each of which
 * stands in a row for every number of bays. */
START_TEST (pieces_of_very_many_bays)
{
  static const char *const names[] = { "1", "2", "3" };
  for (int l = 0; l < 3; l++)
    job_level (job, names[l], "rail", true);
  job_stock (job, "rail", 5 * SW_METRE);
  job_run (job, "road", 2 * SW_MM);
  for (int b = 1; b <= 1000; b++)
    {
      job_bay (job, 4 * SW_MM, 2 * SW_MM);
      job_last_post (job)->join = b == 900 || b == 1000 ? SW_JOIN_MAY : SW_JOIN_NEVER;
    }
  job_close (job);
  model_it ();
  ck_assert_uint_eq (model->option_count, 9);
  ck_assert (solve_mip ());
  /* Three boards of a whole length each, without a join. */
  ck_assert_int_eq (solution.value[SW_AIM_COST], 3);
  ck_assert_int_eq (solution.value[SW_AIM_JOINS], 0);
}
END_TEST

/* ---- Whole numbers against all solutions ---- */

static void
make_random_fence (uint64_t *state)
{
  static const char *const names[] = { "1", "2", "3" };
  int64_t rows = chance (state, 1, 3), bays = chance (state, 1, rows == 3 ? 4 : 5);
  job->settings->kerf = chance (state, 0, 3) * SW_MM;
  job->settings->stagger = one_in (state, 5) ? SW_STAGGER_OFF : SW_STAGGER_PREFER;
  /* Of timber: the model does not ask what it adds up. */
  job->settings->join_cost = one_in (state, 2) ? 0 : chance (state, 1, 5) * 100 * SW_MM;
  int64_t two_sections = job->settings->stagger != SW_STAGGER_OFF && one_in (state, 4);
  for (int64_t l = 0; l < rows; l++)
    job_level (job, names[l], two_sections && l == 1 ? "b" : "a", true);
  for (size_t s = 0; s < job->sections.count; s++)
    {
      job_stock (job, job->sections.items[s].name, 4800 * SW_MM)->limit = one_in (state, 3) ? chance (state, 1, 6) : -1;
      if (one_in (state, 2))
        job_stock (job, job->sections.items[s].name, 5400 * SW_MM)->limit
            = one_in (state, 3) ? chance (state, 0, 3) : -1;
      if (one_in (state, 3))
        job_stock (job, job->sections.items[s].name, 3000 * SW_MM)->hand = chance (state, 0, 3);
    }
  int64_t usual = chance (state, 11, 27) * 100;
  job_run (job, "road", 100 * SW_MM);
  for (int64_t b = 0; b < bays; b++)
    {
      job_bay (job, (usual - (one_in (state, 4) ? 300 : 0)) * SW_MM, 100 * SW_MM);
      job_last_post (job)->join = one_in (state, 8) ? SW_JOIN_ALWAYS : one_in (state, 8) ? SW_JOIN_NEVER : SW_JOIN_MAY;
    }
  job_last_post (job)->join = SW_JOIN_MAY;
  job_close (job);
  if (one_in (state, 3))
    job_extra (job, "x", "a", chance (state, 5, 20) * 100 * SW_MM)->quantity = chance (state, 1, 3);
}

/* The dearest joins, boards and so on differ by AIM; the master must find the least of it. */
START_TEST (random_fences_are_solved_best)
{
  uint64_t state = 400 + (uint64_t)_i;
  int solved = 0, impossible = 0;
  for (int round = 0; round < 80; round++)
    {
      make_random_fence (&state);
      if (sw_layout_new (&layout, job, NULL) == SW_OK)
        {
          ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
          model = &models[0];
          model->aligned_cap = chance (&state, 0, 3);
          brute best;
          if (brute_solve (model, model->aligned_cap, &best))
            {
              begin_goal ();
              begin_master ();
              ck_assert_int_eq (solve_mip (), best.possible);
              impossible += !best.possible;
              if (best.possible)
                {
                  solved++;
                  ck_assert_int_eq (solution.value[SW_AIM_COST], best.cost);
                  begin_master ();
                  ck_assert (lp_value () < (double)best.cost + 1e-6);
                  /* Then joins, then boards. */
                  goal.caps[SW_AIM_COST] = best.cost;
                  ck_assert (solve_for (SW_AIM_JOINS));
                  ck_assert_int_eq (solution.value[SW_AIM_JOINS], best.joins);
                  goal.caps[SW_AIM_JOINS] = best.joins;
                  ck_assert (solve_for (SW_AIM_BOARDS));
                  ck_assert_int_eq (solution.value[SW_AIM_BOARDS], best.boards);
                }
            }
        }
      teardown ();
      setup ();
    }
  ck_assert_int_gt (solved, 20);
  ck_assert_int_gt (impossible, 2);
}
END_TEST

/* ---- Stopping and failing ---- */

static bool
say_stop (const sw_progress *progress, void *data)
{
  (void)progress;
  ++*(int *)data;
  return false;
}

START_TEST (the_clock_stops_it)
{
  int calls = 0;
  sw_limits limits = { .progress = say_stop, .data = &calls };
  make_example (&examples[0]);
  model_it ();
  sw_watch_begin (&clock_now, -1, &limits);
  sw_lp outcome;
  ck_assert_int_eq (sw_master_lp (master, &clock_now, &outcome), SW_OK);
  ck_assert_int_eq (outcome, SW_LP_STOPPED);
  ck_assert_int_eq (calls, 1);
  ck_assert_int_eq (clock_now.stop, SW_STOP_CALLBACK);
  bool proved = true;
  ck_assert_int_eq (sw_master_mip (master, &clock_now, 1000, INT64_MAX, &solution, &proved), SW_OK);
  ck_assert (!proved);
  /* The time limit does the same. */
  begin_lp (1000);
  sw_watch_begin (&clock_now, 0, NULL);
  ck_assert_int_eq (sw_master_lp (master, &clock_now, &outcome), SW_OK);
  ck_assert_int_eq (outcome, SW_LP_STOPPED);
  ck_assert_int_eq (clock_now.stop, SW_STOP_TIME);
  /* And afterwards it still works. */
  sw_watch_begin (&clock_now, -1, NULL);
  ck_assert (fabs (lp_value () - 452.25) < 1e-6);
}
END_TEST

START_TEST (nodes_are_bounded)
{
  make_example (&examples[2]);
  model_it ();
  bool proved = true;
  ck_assert_int_eq (sw_master_mip (master, &clock_now, 0, INT64_MAX, &solution, &proved), SW_OK);
  ck_assert (!proved);
  begin_master ();
  ck_assert (solve_mip ());
}
END_TEST

/* An error inside GLPK is a status, the master is of no use afterwards but does no harm, and a new one works. */
START_TEST (failures_in_glpk_are_caught)
{
  for (int round = 0; round < 3; round++)
    {
      sw_lp outcome;
      bool proved = true;
      make_example (&examples[0]);
      model_it ();
      if (_i == 0)
        begin_lp (1000);
      failing = _i == 0 ? FAIL_SIMPLEX : FAIL_INTOPT;
      if (_i == 0)
        ck_assert_int_eq (sw_master_lp (master, &clock_now, &outcome), SW_FAILED);
      else
        ck_assert_int_eq (sw_master_mip (master, &clock_now, 1000, INT64_MAX, &solution, &proved), SW_FAILED);
      failing = FAIL_NOT;
      ck_assert (_i == 0 || (!proved && !solution.valid));
      /* What changes it has nothing to change. */
      sw_master_stock (master, 0, 0, 7);
      sw_master_demand (master, 0, 7);
      sw_master_penalty (master, 3);
      sw_master_allow (master, 1, false);
      sw_master_bound_pattern (master, 0, 0, -1);
      ck_assert_int_eq (sw_master_lp (master, &clock_now, &outcome), SW_FAILED);
      ck_assert_int_eq (sw_master_add (master, 0, NULL), SW_OK);
      begin_lp (1000);
      ck_assert (fabs (lp_value () - 452.25) < 1e-6);
      begin_master ();
      ck_assert (solve_mip ());
      teardown ();
      setup ();
    }
}
END_TEST

START_TEST (failures_while_building_are_caught)
{
  make_example (&examples[0]);
  model_it ();
  sw_master_free (master);
  master = NULL;
  failing = FAIL_ADD_COLS;
  ck_assert_int_eq (sw_master_new_lp (&master, &goal, &pool, NULL, 0, NULL), SW_FAILED);
  ck_assert_ptr_null (master);
  failing = FAIL_NOT;
  ck_assert_int_eq (sw_master_new_lp (&master, &goal, &pool, NULL, 0, NULL), SW_OK);
  failing = FAIL_ADD_COLS;
  ck_assert_int_eq (sw_master_add (master, 0, NULL), SW_FAILED);
  failing = FAIL_NOT;
  begin_master ();
  ck_assert (solve_mip ());
}
END_TEST

/* GLPK's own lack of memory is a lack of memory. */
START_TEST (memory_of_glpk_runs_out)
{
  sw_lp outcome;
  make_example (&examples[0]);
  model_it ();
  failing = FAIL_INIT;
  ck_assert_int_eq (sw_master_lp (master, &clock_now, &outcome), SW_NO_MEMORY);
  failing = FAIL_MEMORY;
  ck_assert_int_eq (sw_master_lp (master, &clock_now, &outcome), SW_NO_MEMORY);
  failing = FAIL_NOT;
  ck_assert_int_eq (sw_master_lp (master, &clock_now, &outcome), SW_FAILED);
  begin_lp (1000);
  ck_assert (fabs (lp_value () - 452.25) < 1e-6);
}
END_TEST

/* A failure takes every master beside it with it: none is touched again. */
START_TEST (a_failure_takes_the_others_along)
{
  sw_lp outcome;
  sw_master *other = NULL, *third = NULL;
  make_example (&examples[0]);
  model_it ();
  ck_assert_int_eq (sw_master_new_mip (&other, &goal, &pool, NULL, master), SW_OK);
  failing = FAIL_ADD_COLS;
  ck_assert_int_eq (sw_master_new_lp (&third, &goal, &pool, NULL, 0, other), SW_FAILED);
  failing = FAIL_NOT;
  ck_assert_int_eq (sw_master_lp (master, &clock_now, &outcome), SW_FAILED);
  ck_assert_int_eq (sw_master_lp (other, &clock_now, &outcome), SW_FAILED);
  sw_master_free (other);
  begin_master ();
  ck_assert (solve_mip ());
  /* One that is freed is not remembered. */
  begin_master ();
  ck_assert_int_eq (sw_master_new_mip (&other, &goal, &pool, NULL, master), SW_OK);
  sw_master_free (other);
  failing = FAIL_SIMPLEX;
  ck_assert_int_eq (sw_master_lp (master, &clock_now, &outcome), SW_FAILED);
}
END_TEST

/* The whole solver, which has two masters while it closes the gap.  A failure ends the search; the plan that
 * was there before it stands, with what is proved of it.  Memory that runs out is the caller's to know. */
START_TEST (failures_end_a_solve)
{
  make_example (&examples[2]);
  model_it ();
  sw_master_free (master);
  master = NULL;
  for (int what = FAIL_ADD_COLS; what <= FAIL_INIT; what++)
    {
      sw_solved solved;
      failing = (failure)what;
      sw_status status = sw_solve_model (&solved, model, &clock_now, true);
      ck_assert_int_eq (status, what >= FAIL_MEMORY ? SW_NO_MEMORY : SW_OK);
      if (status == SW_OK)
        {
          ck_assert (solved.solution.valid && sw_solution_check (&solved.solution, model, &solved.pool));
          ck_assert (!solved.impossible && solved.solution.value[SW_AIM_COST] >= 6);
          ck_assert (solved.bound[SW_AIM_COST] > 0 && solved.bound[SW_AIM_COST] <= 6);
        }
      sw_solved_clear (&solved);
      failing = FAIL_NOT;
      ck_assert_int_eq (sw_solve_model (&solved, model, &clock_now, true), SW_OK);
      ck_assert (solved.solution.valid && solved.solution.value[SW_AIM_COST] == 6);
      sw_solved_clear (&solved);
    }
}
END_TEST

/* Without a plan a failure is one: nothing is said of what is possible. */
START_TEST (failures_without_a_plan_are_told)
{
  make_example (&examples[2]);
  model_it ();
  sw_master_free (master);
  master = NULL;
  for (size_t s = 0; s < model->stock_count; s++)
    model->stocks[s].limit = 1;
  for (int what = FAIL_ADD_COLS; what < FAIL_MEMORY; what++)
    {
      sw_solved solved;
      if (what == FAIL_INTOPT)
        continue; /* not reached: the linear programme shows that there is no plan */
      failing = (failure)what;
      ck_assert_int_eq (sw_solve_model (&solved, model, &clock_now, true), SW_FAILED);
      ck_assert (!solved.solution.valid && !solved.impossible);
      sw_solved_clear (&solved);
      failing = FAIL_NOT;
      ck_assert_int_eq (sw_solve_model (&solved, model, &clock_now, true), SW_OK);
      ck_assert (!solved.solution.valid && solved.impossible);
      sw_solved_clear (&solved);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("master");
  TCase *optima = tcase_create ("optima");
  tcase_add_checked_fixture (optima, setup, teardown);
  tcase_set_timeout (optima, 120);
  tcase_add_loop_test (optima, published_examples, 0, sizeof examples / sizeof *examples);
  tcase_add_test (optima, pieces_without_boards_cost_the_penalty);
  tcase_add_test (optima, rows_and_columns_are_added_one_by_one);
  tcase_add_test (optima, patterns_can_be_bounded);
  tcase_add_test (optima, options_can_be_bounded);
  tcase_add_test (optima, options_may_be_left_out);
  tcase_add_test (optima, first_pieces_go_in_turn);
  tcase_add_test (optima, aligned_pairs_of_all_runs_are_capped);
  tcase_add_test (optima, aims_go_under_caps);
  tcase_add_test (optima, pieces_of_very_many_bays);
  tcase_add_loop_test (optima, random_fences_are_solved_best, 0, 2);
  suite_add_tcase (suite, optima);
  TCase *stops = tcase_create ("stops");
  tcase_add_checked_fixture (stops, setup, teardown);
  tcase_set_timeout (stops, 60);
  tcase_add_test (stops, the_clock_stops_it);
  tcase_add_test (stops, nodes_are_bounded);
  tcase_add_loop_test (stops, failures_in_glpk_are_caught, 0, 2);
  tcase_add_test (stops, failures_while_building_are_caught);
  tcase_add_test (stops, memory_of_glpk_runs_out);
  tcase_add_test (stops, a_failure_takes_the_others_along);
  tcase_add_test (stops, failures_end_a_solve);
  tcase_add_test (stops, failures_without_a_plan_are_told);
  suite_add_tcase (suite, stops);
  return suite_run (suite);
}
