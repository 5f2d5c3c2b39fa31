/* check_region.c - a part of a model on its own, and put back
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "model/region.h"
#include "solve/solve.h"
#include "solve/steps.h"
#include "suite.h"
#include "wild_fence.h"

#include <stdlib.h>
#include <string.h>

#define RUNS 5

/* Which runs each round sets free. */
static const uint8_t free_strips[][RUNS]
    = { { 1, 0, 0, 0, 0 }, { 0, 1, 0, 1, 0 }, { 0, 0, 1, 1, 1 }, { 1, 1, 1, 1, 0 } };

/* The same a strip: there is one a run, or, where nothing has to stagger, one a run and rail. */
static uint8_t free_strip[8 * RUNS];

static wild_fence fence;
static sw_search search;
static sw_region region;
static sw_model *model;

/* The region of round _i, out of a search whose best plan comes with prices. */
static void
begin (int round)
{
  uint64_t state = 55001 + (uint64_t)round, chance = SW_CHANCE_SEED;
  model = wild_make (&fence, &state, RUNS, 9, 1 + (size_t)round % 3);
  wild_begin (&fence, &search, model);
  ck_assert_uint_le (model->strip_count, sizeof free_strip);
  for (size_t i = 0; i < sizeof free_strip; i++)
    free_strip[i] = free_strips[round % 4][i % RUNS];
  ck_assert_int_eq (wild_programme (&search), SW_OK);
  ck_assert (search.root.valid);
  int64_t *stays = calloc (search.best.count, sizeof *stays);
  ck_assert_ptr_nonnull (stays);
  ck_assert_int_eq (sw_free_boards_of (&search, free_strip, search.root.scale / 10, &chance, stays), SW_OK);
  ck_assert_int_eq (sw_region_new (&region, model, &search.pool, &search.best, stays, free_strip, false), SW_OK);
  free (stays);
}

/* SOLUTION of the region, with what stays, offered to the search. */
static void
put_back (const sw_solution *solution, const sw_patterns *pool)
{
  sw_solution all;
  ck_assert_int_eq (sw_solution_init (&all, model), SW_OK);
  ck_assert_int_eq (sw_region_whole (&region, solution, pool, &search.pool, &all), SW_OK);
  ck_assert_int_eq (sw_search_offer (&search, &all), SW_OK);
  sw_solution_clear (&all);
}

static void
end (void)
{
  sw_region_clear (&region);
  sw_search_end (&search);
  wild_drop (&fence);
}

/* All options of the runs that are free and no others, each of the length that it has in the whole. */
START_TEST (a_region_has_the_pieces_of_its_runs)
{
  begin (_i);
  size_t options = 0;
  for (size_t o = 0; o < model->option_count; o++)
    options += free_strip[model->options[o].strip];
  ck_assert_uint_eq (region.model.option_count, options);
  ck_assert_uint_lt (options, model->option_count);
  for (size_t o = 0; o < options; o++)
    {
      const sw_option *part = &region.model.options[o], *whole = &model->options[region.option_of[o]];
      ck_assert_uint_eq (region.need_of[part->need], whole->need);
      ck_assert_int_eq (region.model.needs[part->need].size, model->needs[whole->need].size);
      ck_assert (part->from == whole->from && part->to == whole->to && part->level == whole->level);
      const sw_strip_level *row = &region.model.strips[part->strip].levels[part->level];
      ck_assert_int_eq (row->at[(size_t)part->to * row->reach + part->to - part->from - 1], (int32_t)o);
    }
  /* They stand one after another, level after level. */
  size_t next = 0;
  for (size_t s = 0; s < region.model.strip_count; s++)
    {
      const sw_strip *strip = &region.model.strips[s];
      ck_assert_uint_eq (sw_strip_first (strip), next);
      for (uint32_t r = 0; r < strip->level_count; next += strip->levels[r++].option_count)
        ck_assert_uint_eq (strip->levels[r].option_first, next);
      ck_assert_uint_eq (sw_strip_end (strip), next);
    }
  ck_assert_uint_eq (next, options);
  end ();
}
END_TEST

/* What stays and what the region begins with make up the plan that they came from. */
START_TEST (the_start_put_back_is_the_plan_again)
{
  begin (_i);
  const int64_t cost = search.best.value[SW_AIM_COST], joins = search.best.value[SW_AIM_JOINS];
  ck_assert (sw_solution_check (&region.start, &region.model, &region.pool));
  /* Where one run of five is free, most boards stay. */
  if (_i % 4 == 0)
    {
      int64_t kept = 0;
      for (size_t i = 0; i < region.kept.count; i++)
        kept += region.kept.boards[i].copies;
      ck_assert_int_gt (kept, 0);
    }
  search.best.valid = false;
  put_back (&region.start, &region.pool);
  ck_assert (search.best.valid);
  ck_assert_int_le (search.best.value[SW_AIM_COST], cost);
  ck_assert_int_eq (search.best.value[SW_AIM_JOINS], joins);
  end ();
}
END_TEST

/* The best plan of the region, by the whole solver, put back: it holds, and is no dearer; the other runs stay as they
 * were. */
START_TEST (a_solved_region_put_back_is_a_plan)
{
  begin (_i);
  const int64_t cost = search.best.value[SW_AIM_COST];
  uint8_t *used = malloc (model->option_count);
  ck_assert_ptr_nonnull (used);
  memcpy (used, search.best.used, model->option_count);
  sw_solved solved;
  ck_assert_int_eq (sw_solve_model (&solved, &region.model, &fence.watch, false), SW_OK);
  ck_assert (solved.solution.valid && solved.proved[SW_AIM_COST]);
  ck_assert (sw_solution_check (&region.start, &region.model, &region.pool));
  ck_assert_int_le (solved.solution.value[SW_AIM_COST], region.start.value[SW_AIM_COST]);
  const int64_t gain = region.start.value[SW_AIM_COST] - solved.solution.value[SW_AIM_COST];
  search.best.valid = false;
  put_back (&solved.solution, &solved.pool);
  ck_assert (search.best.valid && sw_solution_check (&search.best, model, &search.pool));
  ck_assert_int_le (search.best.value[SW_AIM_COST], cost - gain);
  for (size_t o = 0; o < model->option_count; o++)
    if (!free_strip[model->options[o].strip])
      ck_assert_int_eq (search.best.used[o], used[o]);
  sw_solved_clear (&solved);
  free (used);
  end ();
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("region");
  TCase *cases = tcase_create ("cases");
  tcase_set_timeout (cases, 120);
  tcase_add_loop_test (cases, a_region_has_the_pieces_of_its_runs, 0, suite_rounds (4));
  tcase_add_loop_test (cases, the_start_put_back_is_the_plan_again, 0, suite_rounds (12));
  tcase_add_loop_test (cases, a_solved_region_put_back_is_a_plan, 0, suite_rounds (8));
  suite_add_tcase (suite, cases);
  return suite_run (suite);
}
