/* check_verdict.c - what is said of a plan that was read back
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/plan.h"

#include "suite.h"

#include <string.h>

static sw_settings *settings;
static sw_job job;
static sw_plan plan;
static sw_verdict verdict;

static void
setup (void)
{
  settings = sw_settings_new ();
  job = (sw_job){ .settings = settings, .priced = true };
  plan = (sw_plan){ .job = &job };
  verdict = (sw_verdict){
    .pieces = 20, .boards = 8, .joins = 5, .priced = true, .cost_known = true, .cost = 200 * SW_MONEY_UNIT
  };
}

static void
teardown (void)
{
  sw_settings_free (settings);
}

static void
expect (const sw_plan *best, unsigned width, const char *wanted)
{
  char *text = NULL;
  ck_assert_int_eq (sw_verdict_text (&verdict, &job, best, width, &text), SW_OK);
  ck_assert_str_eq (text, wanted);
  sw_text_free (text);
}

START_TEST (faults)
{
  verdict.faults = 1;
  expect (NULL, 0, "1 fault found: do not cut by this plan.\n");
  verdict.faults = 12;
  expect (&plan, 0, "12 faults found: do not cut by this plan.\n");
}
END_TEST

START_TEST (figures)
{
  expect (NULL, 0, "Every rule holds: 20 pieces from 8 boards, 5 joins.\nThe plan costs 200.00.\n");
  verdict
      = (sw_verdict){ .pieces = 1, .boards = 1, .joins = 1, .aligned = 1, .cost_known = true, .cost = 4800 * SW_MM };
  expect (NULL, 0,
          "Every rule holds: 1 piece from 1 board, 1 join, 1 pair of them lined up.\nThe plan costs 4.8 lm.\n");
  verdict.aligned = 2;
  verdict.cost_known = false;
  expect (NULL, 40, "Every rule holds: 1 piece from 1 board,\n1 join, 2 pairs of them lined up.\n");
}
END_TEST

/* Joins that the job itself asks for are told apart. */
START_TEST (joins_always_made)
{
  verdict.aligned = 2;
  verdict.always = 3;
  expect (
      NULL, 120,
      "Every rule holds: 20 pieces from 8 boards, 5 joins, 2 pairs of them lined up, plus 3 pairs at posts that are "
      "always\njoined.\nThe plan costs 200.00.\n");
  verdict.aligned = 0;
  verdict.always = 1;
  expect (NULL, 120,
          "Every rule holds: 20 pieces from 8 boards, 5 joins, plus 1 pair at posts that are always joined.\n"
          "The plan costs 200.00.\n");
}
END_TEST

#define LINED "Every rule holds: 20 pieces from 8 boards, 5 joins, 2 pairs of them lined up.\nThe plan costs 200.00.\n"
#define FIGURES "Every rule holds: 20 pieces from 8 boards, 5 joins.\nThe plan costs 200.00.\n"

START_TEST (against_a_proved_plan)
{
  plan.summary = (sw_summary){ .priced = true, .cost = 200 * SW_MONEY_UNIT, .bound = 200 * SW_MONEY_UNIT };
  expect (&plan, 0, FIGURES "No plan can be cheaper.\n");
  plan.summary.cost = plan.summary.bound = 160 * SW_MONEY_UNIT;
  expect (&plan, 0, FIGURES "The cheapest plan costs 160.00: this one costs 40.00 (25.00 %) more.\n");
}
END_TEST

START_TEST (against_a_plan_that_is_not_proved)
{
  plan.summary = (sw_summary){ .priced = true, .cost = 200 * SW_MONEY_UNIT, .bound = 160 * SW_MONEY_UNIT };
  expect (&plan, 0,
          FIGURES "Planning afresh found none that is cheaper, and no plan can cost less than\n"
                  "160.00: at most 40.00 (25.00 %) too much.\n");
  plan.summary.cost = 180 * SW_MONEY_UNIT;
  expect (&plan, 0,
          FIGURES "Planning afresh found one that costs 180.00, and no plan can cost less than\n"
                  "160.00: at most 40.00 (25.00 %) too much.\n");
  /* The plan is better than the planner's own. */
  plan.summary.cost = 220 * SW_MONEY_UNIT;
  expect (&plan, 0,
          FIGURES "Planning afresh found none that is cheaper, and no plan can cost less than\n"
                  "160.00: at most 40.00 (25.00 %) too much.\n");
  plan.summary.bound = 0;
  expect (&plan, 0, FIGURES "Planning afresh found none that is cheaper; nothing is proved of the cost.\n");
  plan.summary.cost = 180 * SW_MONEY_UNIT;
  expect (&plan, 0, FIGURES "Planning afresh found one that costs 180.00; nothing is proved of the cost.\n");
  plan.summary.cost = 220 * SW_MONEY_UNIT;
  /* The plan meets the bound, although the planner's own plan is dearer. */
  plan.summary.bound = 200 * SW_MONEY_UNIT;
  expect (&plan, 0, FIGURES "No plan can be cheaper.\n");
  plan.summary.aligned = verdict.aligned = 2;
  plan.summary.aligned_bound = 1;
  expect (&plan, 0, LINED "No plan with as few joins lined up costs less.\n");
}
END_TEST

START_TEST (against_a_plan_with_other_joins)
{
  verdict.aligned = 2;
  plan.summary = (sw_summary){ .priced = true, .cost = 250 * SW_MONEY_UNIT, .bound = 250 * SW_MONEY_UNIT };
  expect (&plan, 120,
          LINED
          "No joins need to line up, and the cheapest plan of that kind costs 250.00: this one costs 50.00 (20.00 %) "
          "less.\n");
  plan.summary.aligned = 1;
  plan.summary.bound = 160 * SW_MONEY_UNIT;
  expect (&plan, 140,
          LINED
          "Only 1 pair of joins needs to line up, and the best known plan of that kind costs 250.00: this one costs "
          "50.00 (20.00 %) less.\n");
  plan.summary.aligned = 3;
  expect (&plan, 0, LINED "Planning afresh found none that lines up so few joins: 3 pairs.\n");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("verdict");
  TCase *tests = tcase_create ("verdict");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_add_test (tests, faults);
  tcase_add_test (tests, figures);
  tcase_add_test (tests, joins_always_made);
  tcase_add_test (tests, against_a_proved_plan);
  tcase_add_test (tests, against_a_plan_that_is_not_proved);
  tcase_add_test (tests, against_a_plan_with_other_joins);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
