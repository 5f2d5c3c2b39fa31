/* check_round.c - the programme over whole layouts against one over single pieces, and what comes of its mixtures
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "failing_glpk.h"
#include "solve/fill.h"
#include "solve/gather.h"
#include "solve/part_search.h"
#include "solve/solve.h"
#include "solve/steps.h"
#include "suite.h"
#include "wild_fence.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

static wild_fence fence;

static double
root_bound (const sw_search *s)
{
  ck_assert (s->root.valid);
  return (double)s->root.bound / (double)s->root.scale;
}

/* ---- Marks ------------------------------------------------------------------------------- */

/* A price that is straight in the length is told by any marks: shares of the marks' sizes add up to the size. */
START_TEST (sizes_are_shared_out_between_marks)
{
  uint64_t state = 77001 + (uint64_t)_i;
  const sw_model *model = wild_make (&fence, &state, 3, 20, 2);
  sw_breakpoints marks;
  const size_t most = _i == 0 ? 1 : _i == 1 ? 20 : model->need_count + 5;
  ck_assert_int_eq (sw_breakpoints_new (&marks, model, most), SW_OK);
  ck_assert_uint_le (marks.count, model->need_count);
  for (size_t n = 0; n < model->need_count; n++)
    {
      const size_t above = marks.above[n];
      const double below = marks.below[n];
      ck_assert (below >= 0 && below < 1);
      double size = (1 - below) * (double)model->needs[marks.size_of[above]].size;
      if (below > 0)
        size += below * (double)model->needs[marks.size_of[above + 1]].size;
      ck_assert_double_eq_tol (size, (double)model->needs[n].size, 1e-6);
    }
  /* Half a board is where prices jump: the longest piece that comes twice out of 4.8 m is a mark whatever MOST is. */
  size_t half = 0;
  while (2 * model->needs[half].size > model->stocks[0].room)
    half++;
  ck_assert_double_eq (marks.below[half], 0);
  if (_i == 2)
    ck_assert_uint_eq (marks.count, model->need_count);
  sw_breakpoints_clear (&marks);
  wild_drop (&fence);
}
END_TEST

/* ---- The programme -------------------------------------------------------------------------- */

/* The value of the linear programme over single pieces, with a row a post and level, and all ways to cut a board. */
static double
pieces_value (sw_search *s)
{
  sw_master *master;
  bool complete;
  sw_lp outcome;
  ck_assert (s->root.valid);
  ck_assert_int_eq (sw_gather (s, SW_AIM_COST, (sw_wide)1 << 100, 1000000, &master, &complete), SW_OK);
  ck_assert (complete);
  ck_assert_int_eq (sw_master_lp (master, s->watch, &outcome), SW_OK);
  ck_assert_int_eq (outcome, SW_LP_OPTIMAL);
  double value = sw_master_value (master);
  sw_master_free (master);
  return value;
}

/* No bound is above the optimum, and none of whole layouts under that of single
 * pieces, whose programme knows less of how they go together. */
START_TEST (bounds_lie_between_the_pieces_programme_and_the_optimum)
{
  uint64_t state = 88001 + (uint64_t)_i;
  sw_search s;
  sw_model *model = wild_make (&fence, &state, 1 + (size_t)_i % 3, 8, 1 + (size_t)_i % 3);
  wild_begin (&fence, &s, model);
  ck_assert_int_eq (wild_programme (&s), SW_OK);
  ck_assert (sw_solution_check (&s.best, model, &s.pool));
  sw_solved solved;
  ck_assert_int_eq (sw_solve_model (&solved, model, &fence.watch, false), SW_OK);
  ck_assert (solved.proved[SW_AIM_COST]);
  const int64_t optimum = solved.solution.value[SW_AIM_COST];
  ck_assert_msg (s.bound <= optimum && sw_search_best (&s) >= optimum, "%lld to %lld, not %lld", (long long)s.bound,
                 (long long)sw_search_best (&s), (long long)optimum);
  /* It stops where the bound has met the best. */
  if (!sw_search_done (&s))
    {
      const double pieces = pieces_value (&s);
      ck_assert_msg (root_bound (&s) >= pieces * (1 - 1e-5), "%f, not %f", root_bound (&s), pieces);
    }
  sw_solved_clear (&solved);
  sw_search_end (&s);
  wild_drop (&fence);
}
END_TEST

/* The programme may be begun anew with other rows, on what is known, as often as one likes: no bound is lost. */
START_TEST (the_programme_is_begun_anew)
{
  static const size_t marks[] = { 20, 60, 6000, 20 };
  uint64_t state = 44001;
  sw_search s;
  sw_lp outcome;
  bool done;
  sw_model *model = wild_make (&fence, &state, 3, 20, 2);
  sw_programme programme;
  wild_begin (&fence, &s, model);
  ck_assert_int_eq (sw_programme_init (&programme, &s), SW_OK);
  ck_assert_uint_gt (model->need_count, 60);
  for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
    {
      const int64_t before = s.bound;
      ck_assert_int_eq (sw_programme_begin (&programme, marks[i]), SW_OK);
      ck_assert_int_eq (sw_programme_columns (&programme, SW_ALL_ROUNDS, true, 1e-6, &outcome, &done), SW_OK);
      ck_assert_int_eq (outcome, SW_LP_OPTIMAL);
      ck_assert (done);
      ck_assert_int_ge (s.bound, before);
      ck_assert_int_le (s.bound, sw_search_best (&s));
    }
  sw_programme_end (&programme);
  sw_programme_end (&programme);
  sw_programme_clear (&programme);
  sw_search_end (&s);
  wild_drop (&fence);
}
END_TEST

static bool
same_layout (const sw_layouts *all, size_t i, size_t j)
{
  const sw_kept_layout *a = &all->items[i], *b = &all->items[j];
  return a->block == b->block && a->count == b->count
         && memcmp (&all->options[a->first], &all->options[b->first], a->count * sizeof *all->options) == 0;
}

/* Where a board costs a great many granules prices are coarse, and a layout that is a column may look as if it gained a
 * little more.  It does not come again. */
START_TEST (no_layout_comes_twice)
{
  uint64_t state = 88001 + (uint64_t)_i;
  sw_search s;
  sw_lp outcome;
  bool done;
  sw_model *model = wild_make (&fence, &state, 1, 60, 3);
  sw_programme programme;
  for (size_t i = 0; i < model->stock_count; i++)
    model->stocks[i].cost = model->stocks[i].cost * 100003 + 7 * (int64_t)i;
  wild_begin (&fence, &s, model);
  ck_assert_int_eq (sw_programme_init (&programme, &s), SW_OK);
  ck_assert_int_eq (sw_programme_begin (&programme, 6000), SW_OK);
  ck_assert_int_eq (sw_programme_columns (&programme, SW_ALL_ROUNDS, true, SW_THOROUGH, &outcome, &done), SW_OK);
  ck_assert_int_eq (outcome, SW_LP_OPTIMAL);
  ck_assert (done);
  ck_assert_uint_gt (programme.layouts.count, 10);
  for (size_t i = 0; i < programme.layouts.count; i++)
    for (size_t j = 0; j < i; j++)
      ck_assert_msg (!same_layout (&programme.layouts, i, j), "%zu and %zu of %zu", j, i, programme.layouts.count);
  sw_programme_clear (&programme);
  sw_search_end (&s);
  wild_drop (&fence);
}
END_TEST

/* The aims after the cost, under the caps of those before: no bound is above what is proved to be the least. */
START_TEST (later_aims_have_bounds_too)
{
  uint64_t state = 99001 + (uint64_t)_i;
  sw_model *model = wild_make (&fence, &state, 2, 7, 2);
  sw_solved solved;
  ck_assert_int_eq (sw_solve_model (&solved, model, &fence.watch, false), SW_OK);
  sw_search s;
  wild_begin (&fence, &s, model);
  ck_assert_int_eq (sw_solution_copy (&s.best, &solved.solution, model), SW_OK);
  sw_patterns pool = s.pool;
  s.pool = solved.pool;
  solved.pool = pool;
  ck_assert (solved.proved[SW_AIM_BOARDS]);
  for (int aim = SW_AIM_JOINS; aim < SW_AIM_COUNT; aim++)
    {
      s.goal.aim = (sw_aim)aim;
      s.goal.caps[aim - 1] = solved.solution.value[aim - 1];
      s.bound = 0;
      s.root.valid = false;
      ck_assert_int_eq (wild_programme (&s), SW_OK);
      const int64_t least = solved.solution.value[aim];
      ck_assert_int_eq (sw_search_best (&s), least);
      ck_assert_msg (s.bound <= least && s.bound > 0, "aim %d: %lld, not %lld", aim, (long long)s.bound,
                     (long long)least);
    }
  sw_search_end (&s);
  sw_solved_clear (&solved);
  wild_drop (&fence);
}
END_TEST

/* ---- The dive over layouts --------------------------------------------------------------------- */

/* Every bay of every level has exactly one piece. */
static void
check_flow (const sw_model *model, const uint8_t *used)
{
  for (size_t i = 0; i < model->strip_count; i++)
    for (uint32_t r = 0; r < model->strips[i].level_count; r++)
      for (uint32_t bay = 0; bay < model->strips[i].bays; bay++)
        {
          int pieces = 0;
          for (size_t o = 0; o < model->option_count; o++)
            pieces += used[o] && model->options[o].strip == i && model->options[o].level == r
                      && model->options[o].from <= bay && bay < model->options[o].to;
          ck_assert_int_eq (pieces, 1);
        }
}

/* It ends with one layout that keeps every rule, or without any where nothing better can come of it; and the programme
 * then has the value that it had. */
START_TEST (a_dive_ends_with_a_layout)
{
  uint64_t state = 71001 + (uint64_t)_i;
  sw_search s;
  sw_lp outcome;
  bool done, whole;
  sw_programme programme;
  sw_model *model = wild_make (&fence, &state, 2 + (size_t)_i % 2, 12, 1 + (size_t)_i % 3);
  uint8_t *used = calloc (model->option_count, 1);
  ck_assert_ptr_nonnull (used);
  wild_begin (&fence, &s, model);
  ck_assert_int_eq (sw_programme_init (&programme, &s), SW_OK);
  ck_assert_int_eq (sw_programme_begin (&programme, 6000), SW_OK);
  ck_assert_int_eq (sw_programme_columns (&programme, SW_ALL_ROUNDS, true, SW_THOROUGH, &outcome, &done), SW_OK);
  const double value = sw_master_value (programme.master);
  const int64_t bound = s.bound;
  /* No plan is known that the dive could be dropped for. */
  s.best.valid = false;
  ck_assert_int_eq (sw_descend (&programme, _i % 2 ? 0.5 : 0.75, used, &whole), SW_OK);
  ck_assert (whole);
  check_flow (model, used);
  for (size_t i = 0; i < model->strip_count; i++)
    ck_assert_int_le (sw_strip_pairs (model, &model->strips[i], used), model->strips[i].aligned_floor);
  ck_assert_int_eq (s.bound, bound);
  ck_assert_int_eq (sw_master_lp (programme.master, s.watch, &outcome), SW_OK);
  ck_assert_double_le (sw_master_value (programme.master), value * (1 + 1e-6));
  sw_programme_clear (&programme);
  sw_search_end (&s);
  free (used);
  wild_drop (&fence);
}
END_TEST

/* ---- Boards for a layout that stands --------------------------------------------------------- */

/* Enough boards to be rounded in steps: the plan holds, and is no dearer than the simple one. */
START_TEST (boards_are_rounded_out_of_the_programme)
{
  uint64_t state = 66001 + (uint64_t)_i;
  sw_search s;
  sw_model *model = wild_make (&fence, &state, 8, 25, 2);
  wild_begin (&fence, &s, model);
  const int64_t simple = sw_search_best (&s);
  ck_assert_int_eq (wild_programme (&s), SW_OK);
  ck_assert (sw_solution_check (&s.best, model, &s.pool));
  ck_assert_int_gt (s.best.value[SW_AIM_BOARDS], 100);
  ck_assert_int_le (s.bound, sw_search_best (&s));
  ck_assert_int_le (sw_search_best (&s), simple);
  /* For the layout of the best, begun anew from nothing. */
  const int64_t best = sw_search_best (&s);
  sw_solution plan, layout;
  ck_assert_int_eq (sw_solution_init (&plan, model), SW_OK);
  ck_assert_int_eq (sw_solution_init (&layout, model), SW_OK);
  memcpy (plan.used, s.best.used, model->option_count);
  memcpy (layout.used, s.best.used, model->option_count);
  s.best.valid = false;
  ck_assert_int_eq (sw_cut (&s, &plan), SW_OK);
  ck_assert (s.best.valid && sw_solution_check (&s.best, model, &s.pool));
  ck_assert_mem_eq (layout.used, s.best.used, model->option_count);
  ck_assert_int_ge (sw_search_best (&s), s.bound);
  /* At most one board in a hundred over what was best. */
  ck_assert_msg (sw_search_best (&s) * 100 <= best * 101, "%lld, not %lld", (long long)sw_search_best (&s),
                 (long long)best);
  /* The simple ways for the same layout: of a first plan, then of the longest first. */
  for (int way = 0; way < 2; way++)
    {
      s.best.valid = way == 1;
      s.best.value[SW_AIM_COST] = INT64_MAX / 2;
      ck_assert_int_eq (sw_fill (&s, &layout, &s.root), SW_OK);
      ck_assert (s.best.valid && sw_solution_check (&s.best, model, &s.pool));
      ck_assert_mem_eq (layout.used, s.best.used, model->option_count);
      ck_assert_int_ge (sw_search_best (&s), s.bound);
      ck_assert_int_lt (sw_search_best (&s), 2 * best);
    }
  sw_solution_clear (&plan);
  sw_solution_clear (&layout);
  sw_search_end (&s);
  wild_drop (&fence);
}
END_TEST

/* ---- Failures ------------------------------------------------------------------------------- */

/* Calls fail one after the other, further apart as they grow many; the last run has none that fails. */
static int
next_failure (int call)
{
  return call + 1 + call / 8;
}

/* What was found before stays good. */
START_TEST (a_failure_in_glpk_ends_it)
{
  bool reached = true;
  int failures = 0;
  for (int call = 0; reached; call = next_failure (call))
    {
      uint64_t state = 55001;
      sw_search s;
      sw_model *model = wild_make (&fence, &state, 2, 7, 2);
      wild_begin (&fence, &s, model);
      calls_left = call;
      sw_status status = wild_programme (&s);
      reached = calls_left < 0;
      calls_left = INT_MAX;
      failures += reached;
      ck_assert_msg (status == (reached ? SW_FAILED : SW_OK), "call %d: status %d", call, (int)status);
      ck_assert (s.best.valid && sw_solution_check (&s.best, model, &s.pool));
      ck_assert_int_le (s.bound, sw_search_best (&s));
      sw_search_end (&s);
      wild_drop (&fence);
    }
  ck_assert_int_gt (failures, 20);
}
END_TEST

static int64_t
solved_cost (bool *proved)
{
  uint64_t state = 55101;
  sw_solved solved;
  sw_model *model = wild_make (&fence, &state, 2, 6, 2);
  ck_assert_int_eq (sw_solve_model (&solved, model, &fence.watch, true), SW_OK);
  ck_assert (solved.solution.valid && sw_solution_check (&solved.solution, model, &solved.pool));
  *proved = solved.proved[SW_AIM_COST];
  const int64_t cost = solved.solution.value[SW_AIM_COST];
  sw_solved_clear (&solved);
  wild_drop (&fence);
  return cost;
}

/* A whole solve hands out the plan that it had, and claims no proof that it has not. */
START_TEST (a_failure_in_glpk_ends_a_solve)
{
  bool proved, reached = true;
  int failures = 0;
  const int64_t optimum = solved_cost (&proved);
  ck_assert (proved);
  for (int call = 0; reached; call = next_failure (call))
    {
      calls_left = call;
      const int64_t cost = solved_cost (&proved);
      reached = calls_left < 0;
      calls_left = INT_MAX;
      failures += reached;
      ck_assert_msg (cost >= optimum && (cost == optimum || !proved), "call %d: %lld, not %lld", call, (long long)cost,
                     (long long)optimum);
    }
  ck_assert_int_gt (failures, 20);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("round");
  TCase *cases = tcase_create ("cases");
  tcase_set_timeout (cases, 300);
  tcase_add_loop_test (cases, sizes_are_shared_out_between_marks, 0, 3);
  tcase_add_loop_test (cases, bounds_lie_between_the_pieces_programme_and_the_optimum, 0, suite_rounds (12));
  tcase_add_test (cases, the_programme_is_begun_anew);
  tcase_add_loop_test (cases, no_layout_comes_twice, 0, suite_rounds (6));
  tcase_add_loop_test (cases, later_aims_have_bounds_too, 0, suite_rounds (6));
  tcase_add_loop_test (cases, a_dive_ends_with_a_layout, 0, suite_rounds (6));
  tcase_add_loop_test (cases, boards_are_rounded_out_of_the_programme, 0, suite_rounds (3));
  tcase_add_test (cases, a_failure_in_glpk_ends_it);
  tcase_add_test (cases, a_failure_in_glpk_ends_a_solve);
  suite_add_tcase (suite, cases);
  return suite_run (suite);
}
