/* check_report.c - collecting remarks
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/report.h"

#include "suite.h"

#include <stdlib.h>
#include <string.h>

static sw_report *report;

static void
setup (void)
{
  report = sw_report_new ();
  ck_assert_ptr_nonnull (report);
}

static void
teardown (void)
{
  sw_report_free (report);
}

START_TEST (remarks_are_kept_in_order)
{
  sw_report_add (report, SW_WARNING, "spans.csv", 3, "span", "%d is %s", 5, "short");
  sw_report_add (report, SW_NOTE, NULL, 0, NULL, "done");
  sw_report_add (report, SW_FAULT, "stock.csv", 7, NULL, "no price");
  ck_assert_uint_eq (sw_report_count (report), 3);
  const sw_remark *remark = sw_report_get (report, 0);
  ck_assert_int_eq (remark->severity, SW_WARNING);
  ck_assert_str_eq (remark->file, "spans.csv");
  ck_assert_uint_eq (remark->line, 3);
  ck_assert_str_eq (remark->column, "span");
  ck_assert_str_eq (remark->message, "5 is short");
  remark = sw_report_get (report, 1);
  ck_assert_ptr_null (remark->file);
  ck_assert_ptr_null (remark->column);
  ck_assert_uint_eq (remark->line, 0);
  remark = sw_report_get (report, 2);
  ck_assert_str_eq (remark->file, "stock.csv");
  ck_assert_ptr_null (sw_report_get (report, 3));
  ck_assert_ptr_null (sw_report_get (report, SIZE_MAX));
  ck_assert_uint_eq (sw_report_count_of (report, SW_NOTE), 1);
  ck_assert_uint_eq (sw_report_count_of (report, SW_WARNING), 1);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 1);
  ck_assert_uint_eq (sw_report_count_of (report, (sw_severity)9), 0);
  ck_assert (!sw_report_broken (report));
}
END_TEST

START_TEST (faults_over_the_limit_are_counted)
{
  for (size_t i = 0; i < SW_REPORT_FILE_FAULTS; i++)
    sw_report_add (report, SW_FAULT, "a.csv", i + 2, NULL, "fault %zu", i);
  ck_assert_uint_eq (sw_report_count (report), SW_REPORT_FILE_FAULTS);
  ck_assert_uint_eq (sw_report_faults_of (report, "a.csv"), SW_REPORT_FILE_FAULTS);
  sw_report_add (report, SW_FAULT, "a.csv", 90, NULL, "one too many");
  ck_assert_uint_eq (sw_report_count (report), SW_REPORT_FILE_FAULTS + 1);
  const sw_remark *more = sw_report_get (report, SW_REPORT_FILE_FAULTS);
  ck_assert_int_eq (more->severity, SW_NOTE);
  ck_assert_str_eq (more->file, "a.csv");
  ck_assert_uint_eq (more->line, 0);
  ck_assert_str_eq (more->message, "and 1 more fault");
  sw_report_add (report, SW_FAULT, "a.csv", 91, NULL, "two");
  sw_report_add (report, SW_FAULT, "a.csv", 92, NULL, "three");
  ck_assert_uint_eq (sw_report_count (report), SW_REPORT_FILE_FAULTS + 1);
  ck_assert_str_eq (sw_report_get (report, SW_REPORT_FILE_FAULTS)->message, "and 3 more faults");
  ck_assert_uint_eq (sw_report_faults_of (report, "a.csv"), SW_REPORT_FILE_FAULTS + 3);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), SW_REPORT_FILE_FAULTS);
  /* another file has a limit of its own, and warnings have none */
  sw_report_add (report, SW_FAULT, "b.csv", 1, NULL, "of b");
  sw_report_add (report, SW_FAULT, NULL, 0, NULL, "of none");
  sw_report_add (report, SW_WARNING, "a.csv", 1, NULL, "a warning");
  ck_assert_uint_eq (sw_report_count (report), SW_REPORT_FILE_FAULTS + 4);
  ck_assert_uint_eq (sw_report_faults_of (report, "b.csv"), 1);
  ck_assert_uint_eq (sw_report_faults_of (report, NULL), 1);
  ck_assert_uint_eq (sw_report_faults_of (report, "c.csv"), 0);
}
END_TEST

START_TEST (clear_forgets_everything)
{
  for (int i = 0; i < 30; i++)
    sw_report_add (report, SW_FAULT, "a.csv", 1, "x", "fault");
  sw_report_clear (report);
  ck_assert_uint_eq (sw_report_count (report), 0);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 0);
  ck_assert_uint_eq (sw_report_faults_of (report, "a.csv"), 0);
  sw_report_add (report, SW_FAULT, "a.csv", 1, "x", "again");
  ck_assert_uint_eq (sw_report_count (report), 1);
  ck_assert_str_eq (sw_report_get (report, 0)->message, "again");
}
END_TEST

START_TEST (user_text_is_escaped)
{
  sw_report_add (report, SW_FAULT, "a\x1B[2J.csv", 1, "sp\nan", "expected a length, not '%s'",
                 "\x1B]0;x\x07 \xC2\x9B \xFF \xE2\x80\xAE \x7F\r\n");
  const sw_remark *remark = sw_report_get (report, 0);
  ck_assert_str_eq (remark->file, "a\\x1B[2J.csv");
  ck_assert_str_eq (remark->column, "sp\\x0Aan");
  ck_assert_str_eq (remark->message,
                    "expected a length, not '\\x1B]0;x\\x07 \\u{009B} \\xFF \\u{202E} \\x7F\\x0D\\x0A'");
  /* the file is known by its name as it was given */
  ck_assert_uint_eq (sw_report_faults_of (report, "a\x1B[2J.csv"), 1);
}
END_TEST

START_TEST (text_that_looks_like_a_format_stays_text)
{
  sw_report_add (report, SW_FAULT, "%s%n.csv", 1, "%n", "'%s'", "%s%n%100d");
  ck_assert_str_eq (sw_report_get (report, 0)->message, "'%s%n%100d'");
  ck_assert_str_eq (sw_report_get (report, 0)->file, "%s%n.csv");
  ck_assert_str_eq (sw_report_get (report, 0)->column, "%n");
}
END_TEST

START_TEST (long_text_is_shortened_in_the_middle)
{
  size_t size = 64 << 10;
  char *cell = malloc (size + 1);
  ck_assert_ptr_nonnull (cell);
  /* two-byte characters, so that a cut in the middle of one would show */
  for (size_t i = 0; i < size; i += 2)
    memcpy (cell + i, "\xC3\xB6", 2);
  cell[size] = '\0';
  /* head and tail each cut at an even and at an odd byte */
  static const char *const ends[] = { "; expected a length", "; expected one length" };
  for (size_t i = 0; i < 4; i++)
    {
      const char *end = ends[i / 2];
      sw_report_add (report, SW_FAULT, "a.csv", 1, cell, "%s%s%s", i % 2 == 1 ? "x" : "", cell, end);
      const sw_remark *remark = sw_report_get (report, i);
      ck_assert_uint_lt (strlen (remark->message), 600);
      ck_assert_uint_lt (strlen (remark->column), 600);
      ck_assert_ptr_nonnull (strstr (remark->message, "\xC3\xB6 [...] \xC3\xB6"));
      ck_assert_ptr_null (strchr (remark->message, '\\'));
      ck_assert_str_eq (remark->message + strlen (remark->message) - strlen (end), end);
    }
  free (cell);
}
END_TEST

/* What is copied is neither escaped nor shortened again. */
START_TEST (copies_of_one_severity)
{
  char cell[1000];
  memset (cell, 'x', sizeof cell);
  cell[sizeof cell - 1] = '\0';
  sw_report *copy = sw_report_new ();
  sw_report_add (report, SW_WARNING, "early.csv", 1, NULL, "before the first");
  sw_report_add (report, SW_FAULT, "a.csv", 2, "span", "no warning");
  sw_report_add (report, SW_WARNING, "a\x1B.csv", 3, "sp\nan", "\x1B %s", cell);
  sw_report_add (report, SW_WARNING, NULL, 0, "kerf", "of a setting");
  sw_report_add (report, SW_WARNING, NULL, 0, NULL, "of nothing");
  ck_assert_int_eq (sw_report_copy (copy, report, 1, SW_WARNING), SW_OK);
  ck_assert_uint_eq (sw_report_count (copy), 3);
  ck_assert_uint_eq (sw_report_count_of (copy, SW_WARNING), 3);
  for (size_t i = 0; i < 3; i++)
    {
      const sw_remark *remark = sw_report_get (copy, i);
      const sw_remark *from = sw_report_get (report, i + 2);
      ck_assert_int_eq (remark->severity, SW_WARNING);
      ck_assert_uint_eq (remark->line, from->line);
      ck_assert_str_eq (remark->message, from->message);
      ck_assert_ptr_ne (remark->message, from->message);
      ck_assert_pstr_eq (remark->file, from->file);
      ck_assert_pstr_eq (remark->column, from->column);
    }
  /* The file is known by its name as it was given. */
  ck_assert (sw_report_is_of (copy, sw_report_get (copy, 0), "a\x1B.csv"));
  ck_assert (!sw_report_is_of (copy, sw_report_get (copy, 0), "a\\x1B.csv"));
  ck_assert (!sw_report_is_of (copy, sw_report_get (copy, 0), "early.csv"));
  ck_assert (!sw_report_is_of (copy, sw_report_get (copy, 0), NULL));
  ck_assert (sw_report_is_of (copy, sw_report_get (copy, 1), NULL));
  ck_assert (!sw_report_is_of (copy, sw_report_get (copy, 1), "a.csv"));
  /* Copying twice gives two of each; copying nothing gives nothing. */
  ck_assert_int_eq (sw_report_copy (copy, report, 4, SW_WARNING), SW_OK);
  ck_assert_int_eq (sw_report_copy (copy, report, 5, SW_WARNING), SW_OK);
  ck_assert_int_eq (sw_report_copy (copy, NULL, 0, SW_WARNING), SW_OK);
  ck_assert_uint_eq (sw_report_count (copy), 4);
  sw_report_free (copy);
}
END_TEST

START_TEST (no_report_is_fine)
{
  sw_report_add (NULL, SW_FAULT, "a.csv", 1, NULL, "%d", 1);
  ck_assert_uint_eq (sw_report_count (NULL), 0);
  ck_assert_uint_eq (sw_report_count_of (NULL, SW_FAULT), 0);
  ck_assert_uint_eq (sw_report_faults_of (NULL, "a.csv"), 0);
  ck_assert_ptr_null (sw_report_get (NULL, 0));
  ck_assert (!sw_report_broken (NULL));
  sw_report_clear (NULL);
  sw_report_free (NULL);
}
END_TEST

START_TEST (a_million_faults_take_no_room)
{
  for (int i = 0; i < 1000000; i++)
    sw_report_add (report, SW_FAULT, "a.csv", (size_t)i, NULL, "fault %d", i);
  ck_assert_uint_eq (sw_report_count (report), SW_REPORT_FILE_FAULTS + 1);
  ck_assert_str_eq (sw_report_get (report, SW_REPORT_FILE_FAULTS)->message, "and 999980 more faults");
}
END_TEST

static Suite *
report_suite (void)
{
  Suite *suite = suite_create ("report");
  TCase *remarks = tcase_create ("remarks");
  tcase_add_checked_fixture (remarks, setup, teardown);
  tcase_set_timeout (remarks, 60);
  tcase_add_test (remarks, remarks_are_kept_in_order);
  tcase_add_test (remarks, faults_over_the_limit_are_counted);
  tcase_add_test (remarks, clear_forgets_everything);
  tcase_add_test (remarks, user_text_is_escaped);
  tcase_add_test (remarks, text_that_looks_like_a_format_stays_text);
  tcase_add_test (remarks, long_text_is_shortened_in_the_middle);
  tcase_add_test (remarks, copies_of_one_severity);
  tcase_add_test (remarks, no_report_is_fine);
  tcase_add_test (remarks, a_million_faults_take_no_room);
  suite_add_tcase (suite, remarks);
  return suite;
}

int
main (void)
{
  return suite_run (report_suite ());
}
