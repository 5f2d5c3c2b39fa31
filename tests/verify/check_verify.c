/* check_verify.c - a good plan passes however it is written, and a broken one is caught at its place
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "failing.h"
#include "suite.h"
#include "verify_breaks.h"
#include "verify_case.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static void
setup (void)
{
  verify_setup ("plan-good");
}

/* ---- Good plans ---- */

static void
expect_good (void)
{
  sw_status status = verify_run ();
  ck_assert_msg (status == SW_OK, "%s:%s", sw_status_text (status), verify_remarks ());
  ck_assert_int_eq (verdict.faults, 0);
  ck_assert_int_eq (verdict.pieces, 65);
  ck_assert_int_eq (verdict.boards, 26);
  ck_assert_int_eq (verdict.joins, 11);
  ck_assert_int_eq (verdict.aligned, 2);
  /* The three rails of the back join at its post 4. */
  ck_assert_int_eq (verdict.always, 2);
  ck_assert (verdict.priced && verdict.cost_known);
  /* 10 x 20.00 + 8 x 24.35 + 5 x 18.40.  The spare length does not belong to the plan. */
  ck_assert_int_eq (verdict.cost, 486800000);
}

START_TEST (good_as_written)
{
  verify_save (&verify_plain);
  expect_good ();
  ck_assert_uint_eq (sw_report_count (report), 1);
  ck_assert_msg (verify_find (SW_NOTE,
                              "2 pairs of joins line up: run side post 3 (rail 1, rail 2); "
                              "run side post 3 (rail 2, rail 3); plus 2 pairs at posts that are always joined"),
                 "%s", verify_remarks ());
}
END_TEST

START_TEST (good_with_joins_paid)
{
  verify_save (&verify_plain);
  ck_assert_int_eq (sw_settings_set (settings, "join-cost", "1.5", report), SW_OK);
  ck_assert_int_eq (verify_run (), SW_OK);
  ck_assert_int_eq (verdict.cost, 486800000 + 11 * 1500000);
}
END_TEST

/* Files as a spreadsheet returns them. */
START_TEST (good_after_a_spreadsheet)
{
  static const plan_style styles[] = {
    { .separator = ';', .comma = true },
    { .separator = '\t', .reverse = true },
    { .separator = ',', .inches = true },
    { .separator = ';', .comma = true, .reverse = true, .inches = true, .mark = true },
  };
  verify_save (&styles[_i]);
  expect_good ();
}
END_TEST

START_TEST (good_in_another_order)
{
  /* Sorted by something else, so that the last row comes first. */
  for (int file = 0; file < PLAN_SPANS; file++)
    plan_reverse (&sheets[file]);
  verify_save (&verify_plain);
  expect_good ();
}
END_TEST

START_TEST (good_with_words_capitalised)
{
  static const plan_edit edits[] = { { PLAN_CUTS, "side/rail 1/1-3", "source", "Yard" },
                                     { PLAN_FIT, "side/rail 1/1-3", "start_join", "Mitre" },
                                     { PLAN_FIT, "side/rail 1/1-3", "finish_cut", "Square" },
                                     { PLAN_SETOUT, "side|5|rail 1", "housing", "STOPPED" } };
  for (size_t i = 0; i < sizeof edits / sizeof *edits; i++)
    plan_apply (&sheets[edits[i].file], &edits[i]);
  verify_save (&verify_plain);
  expect_good ();
}
END_TEST

START_TEST (good_with_cuts_swapped)
{
  static const plan_edit edits[] = { { PLAN_CUTS, "gate rail 2", "cut", "1" },
                                     { PLAN_CUTS, "gate rail 2", "left_mm", "3847" },
                                     { PLAN_CUTS, "back/rail 3/4-5", "cut", "2" },
                                     { PLAN_CUTS, "back/rail 3/4-5", "left_mm", "2144" } };
  for (size_t i = 0; i < sizeof edits / sizeof *edits; i++)
    plan_apply (&sheets[edits[i].file], &edits[i]);
  verify_save (&verify_plain);
  expect_good ();
  const sw_remark *note = verify_find (SW_NOTE, "1 board is not cut longest piece first");
  ck_assert_msg (note != NULL && strstr (note->file, "cuts.csv") != NULL, "%s", verify_remarks ());
}
END_TEST

START_TEST (good_without_setout)
{
  verify_save (&verify_plain);
  unlink (verify_path (PLAN_SETOUT));
  expect_good ();
  const sw_remark *note = verify_find (SW_NOTE, "setting out was not checked");
  ck_assert_msg (note != NULL && strcmp (note->file, verify_path (PLAN_SETOUT)) == 0, "%s", verify_remarks ());
}
END_TEST

START_TEST (good_with_a_column_more)
{
  const plan_edit rename = { PLAN_ORDER, "", "description", "what to say" };
  plan_apply (&sheets[PLAN_ORDER], &rename);
  verify_save (&verify_plain);
  expect_good ();
  ck_assert_msg (verify_find (SW_NOTE, "columns that are not known are ignored: what to say"), "%s", verify_remarks ());
}
END_TEST

START_TEST (stagger_off_counts_no_pairs)
{
  verify_save (&verify_plain);
  ck_assert_int_eq (sw_settings_set (settings, "stagger", "off", report), SW_OK);
  ck_assert_int_eq (verify_run (), SW_OK);
  ck_assert_int_eq (verdict.aligned, 0);
  ck_assert_int_eq (verdict.always, 0);
  ck_assert_uint_eq (sw_report_count (report), 0);
}
END_TEST

/* ---- Broken plans ---- */

START_TEST (broken_plan)
{
  verify_expect_break (&breaks[_i], _i);
}
END_TEST

START_TEST (missing_file)
{
  verify_save (&verify_plain);
  unlink (verify_path (_i));
  ck_assert_int_eq (verify_run (), SW_REJECTED);
  const sw_remark *remark = verify_find (SW_FAULT, "expected this file of the plan, found none");
  ck_assert_msg (remark != NULL && strcmp (remark->file, verify_path (_i)) == 0, "%s", verify_remarks ());
  ck_assert_int_eq (verdict.faults, 1);
}
END_TEST

START_TEST (no_plan_at_all)
{
  verify_save (&verify_plain);
  for (int file = 0; file < PLAN_SPANS; file++)
    unlink (verify_path (file));
  ck_assert_int_eq (verify_run (), SW_REJECTED);
  ck_assert_msg (verify_find (SW_FAULT, "expected order.csv, cuts.csv and fit.csv of a plan"), "%s", verify_remarks ());
  ck_assert_int_eq (verdict.faults, 1);
}
END_TEST

START_TEST (broken_csv)
{
  verify_save (&verify_plain);
  FILE *stream = fopen (verify_path (PLAN_FIT), "ab");
  ck_assert_ptr_nonnull (stream);
  fputs ("front,rail 1\n", stream);
  ck_assert_int_eq (fclose (stream), 0);
  ck_assert_int_eq (verify_run (), SW_REJECTED);
  ck_assert_int_eq (verdict.faults, 1);
  ck_assert_str_eq (sw_report_get (report, 0)->file, verify_path (PLAN_FIT));
  ck_assert_uint_eq (sw_report_get (report, 0)->line, sheets[PLAN_FIT].rows + 1);
}
END_TEST

START_TEST (no_report)
{
  verify_save (&verify_plain);
  sw_report_free (report);
  report = NULL;
  sw_sources sources = { .spans = verify_path (PLAN_SPANS), .stock = verify_path (PLAN_STOCK) };
  sw_job *job = NULL;
  const plan_edit section = { PLAN_STOCK, "90x45|4.8", "section", "rail" };
  plan_apply (&sheets[PLAN_STOCK], &section);
  verify_save (&verify_plain);
  ck_assert_int_eq (sw_job_read (&job, &sources, settings, NULL), SW_OK);
  ck_assert_int_eq (sw_verify (job, dir, &verdict, NULL), SW_REJECTED);
  ck_assert_int_gt (verdict.faults, 0);
  sw_job_free (job);
}
END_TEST

/* In a file of inches, the right value is given in inches. */
START_TEST (inches_are_told_in_inches)
{
  static const plan_style inches = { .separator = ',', .inches = true };
  const plan_edit edit = { PLAN_FIT, "front/rail 1/1-3", "cut_mm", "4800" };
  plan_apply (&sheets[PLAN_FIT], &edit);
  verify_save (&inches);
  ck_assert_int_eq (verify_run (), SW_REJECTED);
  const sw_remark *remark = verify_find (SW_FAULT, "is \"188.976378\", should be 190.944882");
  ck_assert_msg (remark != NULL && strcmp (remark->column, "cut_in") == 0, "%s", verify_remarks ());
}
END_TEST

/* Endless pieces on the same bays are reported, but not each looked at bay by bay. */
START_TEST (many_times_over)
{
  verify_save (&verify_plain);
  FILE *stream = fopen (verify_path (PLAN_FIT), "ab");
  ck_assert_ptr_nonnull (stream);
  for (int i = 0; i < 3000; i++)
    fprintf (stream, "side,rail 1,90x45,1,5,4,side/rail 1/%d,7,9700,45,square,mitre,housed,,outer,9700\n", i);
  ck_assert_int_eq (fclose (stream), 0);
  ck_assert_int_eq (verify_run (), SW_REJECTED);
  /* Each of them is cut from no board, and stands where another piece is. */
  ck_assert_int_ge (verdict.faults, 6000);
  ck_assert_msg (verify_find (SW_FAULT, "has a piece there already"), "%s", verify_remarks ());
}
END_TEST

/* The first allocation fails, then the second ..., and every one after it.  There is no crash and
 * no leak, and no plan passes that was not looked at as a whole. */
START_TEST (memory_runs_out)
{
  sw_sources sources = { .spans = verify_path (PLAN_SPANS),
                         .levels = verify_path (PLAN_LEVELS),
                         .stock = verify_path (PLAN_STOCK),
                         .sections = verify_path (PLAN_SECTIONS),
                         .extras = verify_path (PLAN_EXTRAS) };
  sw_job *job = NULL;
  verify_save (&verify_plain);
  ck_assert_int_eq (sw_job_read (&job, &sources, settings, report), SW_OK);
  bool failed = true;
  size_t passed = 0;
  for (; failed; passed = passed < 200 ? passed + 1 : passed + passed / 8)
    {
      sw_report_clear (report);
      failing_start (passed);
      sw_status status = sw_verify (job, dir, &verdict, report);
      failed = failing_stop ();
      ck_assert_msg (status == (failed ? SW_NO_MEMORY : SW_OK), "after %zu allocations: %s", passed,
                     sw_status_text (status));
    }
  ck_assert_uint_gt (passed, 100);
  ck_assert_int_eq (verdict.pieces, 65);
  sw_job_free (job);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("verify");
  TCase *good = tcase_create ("good plans");
  tcase_add_checked_fixture (good, setup, verify_teardown);
  tcase_add_test (good, good_as_written);
  tcase_add_test (good, good_with_joins_paid);
  tcase_add_loop_test (good, good_after_a_spreadsheet, 0, 4);
  tcase_add_test (good, good_in_another_order);
  tcase_add_test (good, good_with_words_capitalised);
  tcase_add_test (good, good_with_cuts_swapped);
  tcase_add_test (good, good_without_setout);
  tcase_add_test (good, good_with_a_column_more);
  tcase_add_test (good, stagger_off_counts_no_pairs);
  suite_add_tcase (suite, good);
  TCase *broken = tcase_create ("broken plans");
  tcase_add_checked_fixture (broken, setup, verify_teardown);
  tcase_add_loop_test (broken, broken_plan, 0, sizeof breaks / sizeof *breaks);
  tcase_add_loop_test (broken, missing_file, PLAN_ORDER, PLAN_SETOUT);
  tcase_add_test (broken, no_plan_at_all);
  tcase_add_test (broken, broken_csv);
  tcase_add_test (broken, no_report);
  tcase_add_test (broken, inches_are_told_in_inches);
  tcase_add_test (broken, many_times_over);
  tcase_add_test (broken, memory_runs_out);
  suite_add_tcase (suite, broken);
  return suite_run (suite);
}
