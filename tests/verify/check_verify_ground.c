/* check_verify_ground.c - a plan of the fence as it stands on the ground: a good one passes, a broken one is
 * caught
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "suite.h"
#include "verify_case.h"
#include "verify_ground.h"

#include <string.h>

static void
setup (void)
{
  verify_setup ("plan-ground");
}

static void
expect_good (void)
{
  sw_status status = verify_run ();
  ck_assert_msg (status == SW_OK, "%s:%s", sw_status_text (status), verify_remarks ());
  ck_assert_int_eq (verdict.faults, 0);
  ck_assert_int_eq (verdict.pieces, 46);
  ck_assert_int_eq (verdict.boards, 26);
  ck_assert_int_eq (verdict.joins, 13);
  ck_assert_int_eq (verdict.aligned, 0);
  /* The four levels of the street join at its post 3. */
  ck_assert_int_eq (verdict.always, 3);
  /* 11 x 20.00 + 3 x 24.35 + 4 x 18.40 + 5 x 30.00 + 2 x 34.00. */
  ck_assert_int_eq (verdict.cost, 584650000);
}

START_TEST (good_as_written)
{
  verify_save (&verify_plain);
  expect_good ();
  ck_assert_uint_eq (sw_report_count (report), 1);
  ck_assert_msg (verify_find (SW_NOTE, "3 pairs of joins line up at posts that are always joined"), "%s",
                 verify_remarks ());
}
END_TEST

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

/* The side of a step that a row belongs to is known by what the row says.  A note says that the
 * rows are in another order. */
START_TEST (good_in_another_order)
{
  for (int file = 0; file < PLAN_SPANS; file++)
    plan_reverse (&sheets[file]);
  verify_save (&verify_plain);
  expect_good ();
  const sw_remark *note
      = verify_find (SW_NOTE, "3 levels have the row of the far side of a step before that of the near side");
  ck_assert_msg (note != NULL && strcmp (note->file, verify_path (PLAN_SETOUT)) == 0, "%s", verify_remarks ());
}
END_TEST

START_TEST (good_with_words_capitalised)
{
  const plan_edit edits[] = { { PLAN_CUTS, "nook/top rail/1-2", "long_point", "Outer Inner" },
                              { PLAN_FIT, "street/mid rail/1-3", "long_point", "OUTER" } };
  for (size_t i = 0; i < sizeof edits / sizeof *edits; i++)
    plan_apply (&sheets[edits[i].file], &edits[i]);
  verify_save (&verify_plain);
  expect_good ();
}
END_TEST

/* Without heights the two rows of a step are the same. */
START_TEST (good_without_heights)
{
  for (size_t row = 1; row < sheets[PLAN_LEVELS].rows; row++)
    {
      const plan_edit edit = { PLAN_LEVELS, sheets[PLAN_LEVELS].cells[row][0], "height", "" };
      plan_apply (&sheets[PLAN_LEVELS], &edit);
    }
  plan_blank (&sheets[PLAN_SETOUT], "mark_mm");
  plan_blank (&sheets[PLAN_SETOUT], "top_mm");
  verify_save (&verify_plain);
  expect_good ();
  ck_assert_uint_eq (sw_report_count (report), 1);
}
END_TEST

START_TEST (broken_plan)
{
  verify_expect_break (&ground_breaks[_i], _i);
}
END_TEST

/* A file from before these columns: one fault for each column and file, and none about the cells. */
START_TEST (plan_without_the_new_columns)
{
  static const char *const columns[] = { "plumb", "long_point", "take_mm" };
  for (int file = PLAN_CUTS; file <= PLAN_FIT; file++)
    for (size_t c = 0; c < sizeof columns / sizeof *columns; c++)
      plan_remove (&sheets[file], columns[c]);
  verify_save (&verify_plain);
  ck_assert_int_eq (verify_run (), SW_REJECTED);
  ck_assert_msg (verdict.faults == 6, "%s", verify_remarks ());
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("verify ground");
  TCase *good = tcase_create ("good plans");
  tcase_add_checked_fixture (good, setup, verify_teardown);
  tcase_add_test (good, good_as_written);
  tcase_add_loop_test (good, good_after_a_spreadsheet, 0, 4);
  tcase_add_test (good, good_in_another_order);
  tcase_add_test (good, good_with_words_capitalised);
  tcase_add_test (good, good_without_heights);
  suite_add_tcase (suite, good);
  TCase *broken = tcase_create ("broken plans");
  tcase_add_checked_fixture (broken, setup, verify_teardown);
  tcase_add_loop_test (broken, broken_plan, 0, sizeof ground_breaks / sizeof *ground_breaks);
  tcase_add_test (broken, plan_without_the_new_columns);
  suite_add_tcase (suite, broken);
  return suite_run (suite);
}
