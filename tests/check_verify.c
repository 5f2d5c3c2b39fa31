/* check_verify.c - a good plan passes however it is written; a broken one is caught, and where
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "failing.h"
#include "suite.h"
#include "verify_breaks.h"

#include "spanwright.h"

#include <inttypes.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const plan_style plain = { .separator = ',' };

static char dir[32];
static plan_sheet sheets[PLAN_FILES];
static sw_settings *settings;
static sw_report *report;
static sw_verdict verdict;

static const char *
good_dir (void)
{
  static char path[512];
  const char *source = getenv ("srcdir");
  snprintf (path, sizeof path, "%s/tests/data/plan-good", source != NULL ? source : ".");
  return path;
}

static const char *
path_of (int file)
{
  static char paths[PLAN_FILES][64];
  snprintf (paths[file], sizeof paths[file], "%s/%s", dir, plan_names[file]);
  return paths[file];
}

static void
setup (void)
{
  strcpy (dir, "verify-XXXXXX");
  ck_assert_ptr_nonnull (mkdtemp (dir));
  for (int file = 0; file < PLAN_FILES; file++)
    plan_load (&sheets[file], good_dir (), file);
  settings = sw_settings_new ();
  report = sw_report_new ();
}

static void
teardown (void)
{
  for (int file = 0; file < PLAN_FILES; file++)
    {
      plan_drop (&sheets[file]);
      unlink (path_of (file));
    }
  rmdir (dir);
  sw_settings_free (settings);
  sw_report_free (report);
}

static void
save (const plan_style *style)
{
  for (int file = 0; file < PLAN_FILES; file++)
    plan_save (&sheets[file], dir, file, file < PLAN_SPANS ? style : &plain);
}

static sw_status
run_verify (void)
{
  sw_sources sources = { .spans = path_of (PLAN_SPANS),
                         .levels = path_of (PLAN_LEVELS),
                         .stock = path_of (PLAN_STOCK),
                         .sections = path_of (PLAN_SECTIONS),
                         .extras = path_of (PLAN_EXTRAS) };
  sw_job *job = NULL;
  sw_status status = sw_job_read (&job, &sources, settings, report);
  const sw_remark *first = sw_report_get (report, 0);
  ck_assert_msg (status == SW_OK, "the job: %s", first != NULL ? first->message : sw_status_text (status));
  sw_report_clear (report);
  status = sw_verify (job, dir, &verdict, report);
  sw_job_free (job);
  return status;
}

/* All that the report holds, to be shown when a test fails. */
static const char *
remarks (void)
{
  static char all[8192];
  size_t used = 0;
  all[0] = '\0';
  for (size_t i = 0; i < sw_report_count (report) && used < sizeof all; i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      used += (size_t)snprintf (all + used, sizeof all - used, "\n  %s:%zu: %s: %s",
                                remark->file != NULL ? remark->file : "", remark->line,
                                remark->column != NULL ? remark->column : "", remark->message);
    }
  return all;
}

static const sw_remark *
find_remark (sw_severity severity, const char *message)
{
  for (size_t i = 0; i < sw_report_count (report); i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      if (remark->severity == severity && strstr (remark->message, message) != NULL)
        return remark;
    }
  return NULL;
}

/* ---- Good plans ---- */

static void
expect_good (void)
{
  sw_status status = run_verify ();
  ck_assert_msg (status == SW_OK, "%s:%s", sw_status_text (status), remarks ());
  ck_assert_int_eq (verdict.faults, 0);
  ck_assert_int_eq (verdict.pieces, 65);
  ck_assert_int_eq (verdict.boards, 26);
  ck_assert_int_eq (verdict.joins, 11);
  ck_assert_int_eq (verdict.aligned, 2);
  ck_assert (verdict.priced && verdict.cost_known);
  /* 10 x 20.00 + 8 x 24.35 + 5 x 18.40; the spare length is no part of the plan. */
  ck_assert_int_eq (verdict.cost, 486800000);
}

START_TEST (good_as_written)
{
  save (&plain);
  expect_good ();
  ck_assert_uint_eq (sw_report_count (report), 1);
  ck_assert_msg (find_remark (SW_NOTE, "2 pairs of joins line up: run side post 3 (rail 1, rail 2); "
                                       "run side post 3 (rail 2, rail 3)"),
                 "%s", remarks ());
}
END_TEST

START_TEST (good_with_joins_paid)
{
  save (&plain);
  ck_assert_int_eq (sw_settings_set (settings, "join-cost", "1.5", report), SW_OK);
  ck_assert_int_eq (run_verify (), SW_OK);
  ck_assert_int_eq (verdict.cost, 486800000 + 11 * 1500000);
}
END_TEST

/* As spreadsheets hand a file back. */
START_TEST (good_after_a_spreadsheet)
{
  static const plan_style styles[] = {
    { .separator = ';', .comma = true },
    { .separator = '\t', .reverse = true },
    { .separator = ',', .inches = true },
    { .separator = ';', .comma = true, .reverse = true, .inches = true, .mark = true },
  };
  save (&styles[_i]);
  expect_good ();
}
END_TEST

START_TEST (good_in_another_order)
{
  /* Sorted by something else: the last row first. */
  for (int file = 0; file < PLAN_SPANS; file++)
    for (size_t low = 1, high = sheets[file].rows - 1; low < high; low++, high--)
      for (size_t c = 0; c < sheets[file].columns; c++)
        {
          char *cell = sheets[file].cells[low][c];
          sheets[file].cells[low][c] = sheets[file].cells[high][c];
          sheets[file].cells[high][c] = cell;
        }
  save (&plain);
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
  save (&plain);
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
  save (&plain);
  expect_good ();
  const sw_remark *note = find_remark (SW_NOTE, "1 board is not cut longest piece first");
  ck_assert_msg (note != NULL && strstr (note->file, "cuts.csv") != NULL, "%s", remarks ());
}
END_TEST

START_TEST (good_without_setout)
{
  save (&plain);
  unlink (path_of (PLAN_SETOUT));
  expect_good ();
  const sw_remark *note = find_remark (SW_NOTE, "setting out was not checked");
  ck_assert_msg (note != NULL && strcmp (note->file, path_of (PLAN_SETOUT)) == 0, "%s", remarks ());
}
END_TEST

START_TEST (good_with_a_column_more)
{
  const plan_edit rename = { PLAN_ORDER, "", "description", "what to say" };
  plan_apply (&sheets[PLAN_ORDER], &rename);
  save (&plain);
  expect_good ();
  ck_assert_msg (find_remark (SW_NOTE, "columns that are not known are ignored: what to say"), "%s", remarks ());
}
END_TEST

START_TEST (stagger_off_counts_no_pairs)
{
  save (&plain);
  ck_assert_int_eq (sw_settings_set (settings, "stagger", "off", report), SW_OK);
  ck_assert_int_eq (run_verify (), SW_OK);
  ck_assert_int_eq (verdict.aligned, 0);
  ck_assert_uint_eq (sw_report_count (report), 0);
}
END_TEST

/* ---- Broken plans ---- */

/* The line in FILE of the row that ROW names; "copy" at the end means the last row. */
static size_t
line_of (const plan_break *broken)
{
  const plan_sheet *sheet = &sheets[broken->file];
  if (broken->row == NULL)
    return 0;
  if (*broken->row == '\0')
    return 1;
  size_t length = strlen (broken->row);
  if (length > 5 && strcmp (broken->row + length - 5, "|copy") == 0)
    return sheet->rows;
  return plan_find (sheet, broken->row) + 1;
}

START_TEST (broken_plan)
{
  const plan_break *broken = &breaks[_i];
  size_t line = 0;
  bool same = broken->row != NULL && strcmp (broken->row, SAME) == 0;
  if (same)
    line = *broken->edits[0].row == '\0' ? 1 : plan_find (&sheets[broken->file], broken->edits[0].row) + 1;
  for (const plan_edit *edit = broken->edits; edit < broken->edits + 6 && edit->row != NULL; edit++)
    plan_apply (&sheets[edit->file], edit);
  if (!same)
    line = line_of (broken);
  save (&plain);
  if (broken->key != NULL)
    ck_assert_int_eq (sw_settings_set (settings, broken->key, broken->value, report), SW_OK);

  sw_status status = run_verify ();
  ck_assert_msg (status == SW_REJECTED, "%d: %s not found", _i, broken->message);
  bool found = false;
  for (size_t i = 0; i < sw_report_count (report) && !found; i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      found = remark->severity == SW_FAULT && strcmp (remark->file, path_of (broken->file)) == 0 && remark->line == line
              && strstr (remark->message, broken->message) != NULL
              && (broken->column == NULL || (remark->column != NULL && strcmp (remark->column, broken->column) == 0));
    }
  ck_assert_msg (found, "%d: expected %s:%zu: %s: %s; found%s", _i, path_of (broken->file), line,
                 broken->column != NULL ? broken->column : "", broken->message, remarks ());
  if (broken->faults != ANY)
    ck_assert_msg (verdict.faults == broken->faults, "%d: %" PRId64 " faults, expected %" PRId64 ":%s", _i,
                   verdict.faults, broken->faults, remarks ());
}
END_TEST

START_TEST (missing_file)
{
  save (&plain);
  unlink (path_of (_i));
  ck_assert_int_eq (run_verify (), SW_REJECTED);
  const sw_remark *remark = find_remark (SW_FAULT, "expected this file of the plan, found none");
  ck_assert_msg (remark != NULL && strcmp (remark->file, path_of (_i)) == 0, "%s", remarks ());
  ck_assert_int_eq (verdict.faults, 1);
}
END_TEST

START_TEST (no_plan_at_all)
{
  save (&plain);
  for (int file = 0; file < PLAN_SPANS; file++)
    unlink (path_of (file));
  ck_assert_int_eq (run_verify (), SW_REJECTED);
  ck_assert_msg (find_remark (SW_FAULT, "expected order.csv, cuts.csv and fit.csv of a plan"), "%s", remarks ());
  ck_assert_int_eq (verdict.faults, 1);
}
END_TEST

START_TEST (broken_csv)
{
  save (&plain);
  FILE *stream = fopen (path_of (PLAN_FIT), "ab");
  ck_assert_ptr_nonnull (stream);
  fputs ("front,rail 1\n", stream);
  ck_assert_int_eq (fclose (stream), 0);
  ck_assert_int_eq (run_verify (), SW_REJECTED);
  ck_assert_int_eq (verdict.faults, 1);
  ck_assert_str_eq (sw_report_get (report, 0)->file, path_of (PLAN_FIT));
  ck_assert_uint_eq (sw_report_get (report, 0)->line, sheets[PLAN_FIT].rows + 1);
}
END_TEST

START_TEST (no_report)
{
  save (&plain);
  sw_report_free (report);
  report = NULL;
  sw_sources sources = { .spans = path_of (PLAN_SPANS), .stock = path_of (PLAN_STOCK) };
  sw_job *job = NULL;
  const plan_edit section = { PLAN_STOCK, "90x45|4.8", "section", "rail" };
  plan_apply (&sheets[PLAN_STOCK], &section);
  save (&plain);
  ck_assert_int_eq (sw_job_read (&job, &sources, settings, NULL), SW_OK);
  ck_assert_int_eq (sw_verify (job, dir, &verdict, NULL), SW_REJECTED);
  ck_assert_int_gt (verdict.faults, 0);
  sw_job_free (job);
}
END_TEST

/* What must be is said as the file says it. */
START_TEST (inches_are_told_in_inches)
{
  static const plan_style inches = { .separator = ',', .inches = true };
  const plan_edit edit = { PLAN_FIT, "front/rail 1/1-3", "cut_mm", "4800" };
  plan_apply (&sheets[PLAN_FIT], &edit);
  save (&inches);
  ck_assert_int_eq (run_verify (), SW_REJECTED);
  const sw_remark *remark = find_remark (SW_FAULT, "is \"188.976378\", should be 190.944882");
  ck_assert_msg (remark != NULL && strcmp (remark->column, "cut_in") == 0, "%s", remarks ());
}
END_TEST

/* Pieces without end on the same bays: told, and not each looked at bay by bay. */
START_TEST (many_times_over)
{
  save (&plain);
  FILE *stream = fopen (path_of (PLAN_FIT), "ab");
  ck_assert_ptr_nonnull (stream);
  for (int i = 0; i < 3000; i++)
    fprintf (stream, "side,rail 1,90x45,1,5,4,side/rail 1/%d,7,9700,45,square,mitre,housed\n", i);
  ck_assert_int_eq (fclose (stream), 0);
  ck_assert_int_eq (run_verify (), SW_REJECTED);
  /* Each of them is from no board, and where another piece is already. */
  ck_assert_int_ge (verdict.faults, 6000);
  ck_assert_msg (find_remark (SW_FAULT, "has a piece there already"), "%s", remarks ());
}
END_TEST

/* Each allocation fails in turn, and every one after it: no crash, no leak,
 * and never a good word for a plan that was not looked at in full. */
START_TEST (memory_runs_out)
{
  sw_sources sources = { .spans = path_of (PLAN_SPANS),
                         .levels = path_of (PLAN_LEVELS),
                         .stock = path_of (PLAN_STOCK),
                         .sections = path_of (PLAN_SECTIONS),
                         .extras = path_of (PLAN_EXTRAS) };
  sw_job *job = NULL;
  save (&plain);
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
  tcase_add_checked_fixture (good, setup, teardown);
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
  tcase_add_checked_fixture (broken, setup, teardown);
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
