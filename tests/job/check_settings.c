/* check_settings.c - the options of a job
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "remarks.h"
#include "job/settings.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static sw_report *report;
static sw_settings *settings;

static void
setup (void)
{
  report = sw_report_new ();
  settings = sw_settings_new ();
  ck_assert_ptr_nonnull (report);
  ck_assert_ptr_nonnull (settings);
}

static void
teardown (void)
{
  sw_settings_free (settings);
  sw_report_free (report);
}

static void
set (const char *key, const char *value)
{
  ck_assert_msg (sw_settings_set (settings, key, value, report) == SW_OK, "%s %s", key, value);
}

/* Read CSV as a settings file. */
static sw_status
read_text (const char *csv)
{
  char name[] = "/tmp/spanwright-settings-XXXXXX";
  int descriptor = mkstemp (name);
  ck_assert_int_ge (descriptor, 0);
  ck_assert_int_eq (write (descriptor, csv, strlen (csv)), (ssize_t)strlen (csv));
  close (descriptor);
  sw_status status = sw_settings_read (settings, name, report);
  unlink (name);
  return status;
}

START_TEST (defaults)
{
  /* The defaults of spanwright(1). */
  ck_assert_int_eq (settings->kerf, 3 * SW_MM);
  ck_assert_int_eq (settings->end_trim, 0);
  ck_assert_int_eq (settings->post_width, 100 * SW_MM);
  ck_assert_int_eq (settings->measured, SW_MEASURED_CENTRES);
  ck_assert_int_eq (settings->rails, 2);
  ck_assert (!settings->rails_given);
  ck_assert_uint_eq (settings->stock_length_count, 2);
  ck_assert_int_eq (settings->stock_lengths[0], 4800 * SW_MM);
  ck_assert_int_eq (settings->stock_lengths[1], 5400 * SW_MM);
  ck_assert (!settings->stock_lengths_given);
  ck_assert_int_eq (settings->keep, 600 * SW_MM);
  ck_assert_int_eq (settings->min_bearing, 38 * SW_MM);
  ck_assert_int_eq (settings->join_cost, 0);
  ck_assert_int_eq (settings->stagger, SW_STAGGER_PREFER);
  ck_assert_int_eq (settings->bow, 5 * SW_MM);
  ck_assert_int_eq (settings->max_piece, 0);
  ck_assert_int_eq (settings->picket, 0);
  ck_assert_int_eq (settings->tax, -1);
  ck_assert_ptr_null (settings->job);
  ck_assert_ptr_null (settings->date);
  ck_assert (!settings->inches);
  ck_assert_int_eq (settings->paper, SW_PAPER_A4);
  ck_assert_int_eq (settings->time_limit, -1);
  ck_assert_uint_eq (settings->given, 0);
}
END_TEST

START_TEST (each_key)
{
  set ("kerf", "1/8in");
  ck_assert_int_eq (settings->kerf, 3175000);
  set ("end-trim", "25");
  ck_assert_int_eq (settings->end_trim, 25 * SW_MM);
  set ("post_width", "125");
  ck_assert_int_eq (settings->post_width, 125 * SW_MM);
  set ("MEASURED", "Clear");
  ck_assert_int_eq (settings->measured, SW_MEASURED_CLEAR);
  set ("measured", "centers");
  ck_assert_int_eq (settings->measured, SW_MEASURED_CENTRES);
  set ("rails", "3");
  ck_assert_int_eq (settings->rails, 3);
  ck_assert (settings->rails_given);
  set ("keep", "0.9m");
  ck_assert_int_eq (settings->keep, 900 * SW_MM);
  set ("min-bearing", "40");
  ck_assert_int_eq (settings->min_bearing, 40 * SW_MM);
  set ("join-cost", "2.50");
  ck_assert_int_eq (settings->join_cost, 2500000);
  set ("stagger", "require");
  ck_assert_int_eq (settings->stagger, SW_STAGGER_REQUIRE);
  set ("stagger", "off");
  ck_assert_int_eq (settings->stagger, SW_STAGGER_OFF);
  set ("bow", "10");
  ck_assert_int_eq (settings->bow, 10 * SW_MM);
  set ("max-piece", "4.2m");
  ck_assert_int_eq (settings->max_piece, 4200 * SW_MM);
  set ("picket", "1800");
  ck_assert_int_eq (settings->picket, 1800 * SW_MM);
  set ("tax", "10");
  ck_assert_int_eq (settings->tax, 100000);
  set ("tax", "8.125 %");
  ck_assert_int_eq (settings->tax, 81250);
  set ("job", "Křižík 7/3");
  ck_assert_str_eq (settings->job, "Křižík 7/3");
  set ("date", " 3. března ");
  ck_assert_str_eq (settings->date, "3. března");
  set ("inches", "");
  ck_assert (settings->inches);
  set ("inches", "no");
  ck_assert (!settings->inches);
  set ("paper", "Letter");
  ck_assert_int_eq (settings->paper, SW_PAPER_LETTER);
  set ("time-limit", "1.5");
  ck_assert_int_eq (settings->time_limit, 1500);
  remarks_expect (report, "", "no remarks");
}
END_TEST

START_TEST (switched_off_again)
{
  static const char *const keys[] = { "max-piece", "picket", "tax", "time-limit" };
  for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
    {
      set (keys[i], i < 2 ? "1800" : "15");
      set (keys[i], "none");
    }
  set ("job", "x");
  set ("job", "");
  set ("date", "x");
  set ("date", " ");
  ck_assert_int_eq (settings->max_piece, 0);
  ck_assert_int_eq (settings->picket, 0);
  ck_assert_int_eq (settings->tax, -1);
  ck_assert_int_eq (settings->time_limit, -1);
  ck_assert_ptr_null (settings->job);
}
END_TEST

START_TEST (stock_lengths)
{
  static const struct
  {
    const char *text;
    size_t count;
    sw_length lengths[3];
  } cases[] = {
    { "4.8,5.4", 2, { 4800 * SW_MM, 5400 * SW_MM } },
    { "5.4 , 4.8", 2, { 4800 * SW_MM, 5400 * SW_MM } },
    { "5.4;4.8", 2, { 4800 * SW_MM, 5400 * SW_MM } },
    { "6.0 4.8  5.4", 3, { 4800 * SW_MM, 5400 * SW_MM, 6000 * SW_MM } },
    { "4800", 1, { 4800 * SW_MM } },
    { "16ft", 1, { 4876800000 } },
    { "16' 6\"", 1, { 198 * SW_INCH } },
    { "12ft 6in, 16ft", 2, { 150 * SW_INCH, 192 * SW_INCH } },
    { "30", 1, { 30 * SW_METRE } },
    { "4.8 m, 5.4 m", 2, { 4800 * SW_MM, 5400 * SW_MM } },
  };
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
    {
      set ("stock-length", cases[i].text);
      ck_assert_msg (settings->stock_length_count == cases[i].count, "%s", cases[i].text);
      for (size_t k = 0; k < cases[i].count; k++)
        ck_assert_msg (settings->stock_lengths[k] == cases[i].lengths[k], "%s", cases[i].text);
    }
  ck_assert (settings->stock_lengths_given);
}
END_TEST

START_TEST (refused)
{
  static const struct
  {
    const char *key;
    const char *value;
    const char *says;
  } cases[] = {
    { "kerf", "-1", "from 0 mm to 20 mm" },
    { "kerf", "20.1", "from 0 mm to 20 mm" },
    { "kerf", "three", "found \"three\"" },
    { "kerf", "", "found \"\"" },
    { "kerf", "3,2", "found \"3,2\"" },
    { "end-trim", "1001", "to 1 m" },
    { "post-width", "0", "over 0" },
    { "post-width", "2001", "not over 2 m" },
    { "measured", "faces", "\"centres\" or \"clear\"" },
    { "rails", "0", "a whole number from 1 to 64" },
    { "rails", "65", "a whole number from 1 to 64" },
    { "rails", "2.0", "a whole number from 1 to 64" },
    { "rails", "99999999999999999999", "a whole number from 1 to 64" },
    { "stock-length", "", "stock lengths such as" },
    { "stock-length", " ", "stock lengths such as" },
    { "stock-length", "4.8,", "a length" },
    { "stock-length", "4.8,,5.4", "a length" },
    { "stock-length", "4.8,4800", "each stock length once" },
    { "stock-length", "4.8,16ft,4876.82",
      "stock lengths that can be told apart where they are printed, unlike 4.8768 m and 4.87682 m" },
    { "stock-length", "4.8,49", "from 50 mm" },
    { "keep", "-5", "from 0 mm" },
    { "min-bearing", "2m", "to 1 m" },
    { "join-cost", "-2", "without sign" },
    { "join-cost", "$2", "currency" },
    { "stagger", "maybe", "\"prefer\", \"require\" or \"off\"" },
    { "bow", "1.1m", "to 1 m" },
    { "max-piece", "4.2", "a bare number is millimetres" },
    { "picket", "1.8", "a bare number is millimetres" },
    { "tax", "101", "from 0 to 100" },
    { "tax", "-1", "from 0 to 100" },
    { "tax", "8.12345", "at most 4 decimals" },
    { "job", "\xff\xfe", "UTF-8" },
    { "date", "\xff\xfe", "a date in UTF-8 of at most 160 bytes" },
    { "inches", "maybe", "\"no\" or \"yes\"" },
    { "paper", "a3", "\"a4\" or \"letter\"" },
    { "time-limit", "-1", "from 0" },
    { "time-limit", "0.0001", "at most 3 decimals" },
  };
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
    {
      char place[64];
      snprintf (place, sizeof place, "fault :%s\n", cases[i].key);
      ck_assert_msg (sw_settings_set (settings, cases[i].key, cases[i].value, report) == SW_REJECTED, "%s %s",
                     cases[i].key, cases[i].value);
      remarks_expect (report, place, cases[i].value);
      remarks_say (report, cases[i].says);
      sw_report_clear (report);
    }
  ck_assert_uint_eq (settings->given, 0);
  ck_assert_int_eq (settings->kerf, 3 * SW_MM);
  ck_assert_int_eq (settings->stock_lengths[1], 5400 * SW_MM);
}
END_TEST

START_TEST (too_many_stock_lengths)
{
  char list[65 * 8];
  size_t used = 0;
  for (int i = 0; i < 65; i++)
    used += (size_t)snprintf (list + used, sizeof list - used, "%s%d", i > 0 ? "," : "", 1000 + i);
  ck_assert_int_eq (sw_settings_set (settings, "stock-length", list, report), SW_REJECTED);
  remarks_say (report, "at most 64 stock lengths");
  *strrchr (list, ',') = '\0';
  set ("stock-length", list);
  ck_assert_uint_eq (settings->stock_length_count, 64);
}
END_TEST

START_TEST (unknown_key)
{
  static const char *const keys[] = { "kerfs", "", "--kerf", "a key that is far longer than any there could be" };
  for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++)
    ck_assert_int_eq (sw_settings_set (settings, keys[i], "3", report), SW_USAGE);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 4);
}
END_TEST

START_TEST (without_report)
{
  ck_assert_int_eq (sw_settings_set (settings, "kerf", "x", NULL), SW_REJECTED);
  ck_assert_int_eq (sw_settings_set (settings, "x", "x", NULL), SW_USAGE);
}
END_TEST

START_TEST (file)
{
  ck_assert_int_eq (read_text ("Key,Value\nkerf,2.4\nstock_length,\"4.8,6.0\"\nINCHES,\njob,\"Gate, east\"\n"), SW_OK);
  ck_assert_int_eq (settings->kerf, 2400000);
  ck_assert_uint_eq (settings->stock_length_count, 2);
  ck_assert_int_eq (settings->stock_lengths[1], 6000 * SW_MM);
  ck_assert (settings->inches);
  ck_assert_str_eq (settings->job, "Gate, east");
  ck_assert_uint_eq (settings->given, 0);
  ck_assert (settings->stock_lengths_given);
}
END_TEST

START_TEST (file_with_decimal_comma)
{
  ck_assert_int_eq (read_text ("key;value\nkerf;2,4\nstock-length;4,8 6\ntax;8,5\ntime-limit;0,25\njoin-cost;1,75\n"),
                    SW_OK);
  ck_assert_int_eq (settings->kerf, 2400000);
  ck_assert_uint_eq (settings->stock_length_count, 2);
  ck_assert_int_eq (settings->stock_lengths[0], 4800 * SW_MM);
  ck_assert_int_eq (settings->stock_lengths[1], 6000 * SW_MM);
  ck_assert_int_eq (settings->tax, 85000);
  ck_assert_int_eq (settings->time_limit, 250);
  ck_assert_int_eq (settings->join_cost, 1750000);
  /* In this file a comma is a decimal comma, so that this is neither one length nor two. */
  ck_assert_int_eq (read_text ("key;value\nstock-length;4.8,5.4\n"), SW_REJECTED);
}
END_TEST

START_TEST (caller_wins_over_file)
{
  set ("kerf", "4");
  set ("job", "mine");
  ck_assert_int_eq (read_text ("key,value\nkerf,2\njob,theirs\nrails,5\n"), SW_OK);
  ck_assert_int_eq (settings->kerf, 4 * SW_MM);
  ck_assert_str_eq (settings->job, "mine");
  ck_assert_int_eq (settings->rails, 5);
  set ("rails", "4");
  ck_assert_int_eq (settings->rails, 4);
  /* A value that will not be used is checked, too. */
  ck_assert_int_eq (read_text ("key,value\nkerf,x\n"), SW_REJECTED);
  ck_assert_int_eq (settings->kerf, 4 * SW_MM);
}
END_TEST

/* The line of a setting is remembered for later remarks. */
START_TEST (lines_of_the_file)
{
  ck_assert_uint_eq (sw_settings_line (settings, "kerf"), 0);
  set ("keep", "700");
  ck_assert_int_eq (read_text ("key,value\nkerf,2\n\npost_width,90\nkeep,800\n"), SW_OK);
  ck_assert_uint_eq (sw_settings_line (settings, "kerf"), 2);
  ck_assert_uint_eq (sw_settings_line (settings, "post-width"), 4);
  ck_assert_uint_eq (sw_settings_line (settings, "keep"), 0);
  ck_assert_uint_eq (sw_settings_line (settings, "rails"), 0);
  ck_assert_uint_eq (sw_settings_line (settings, "wobble"), 0);
  sw_settings_remark (settings, report, SW_WARNING, "kerf", "is %d", 2);
  sw_settings_remark (settings, report, SW_WARNING, "keep", "is %d", 700);
  ck_assert_str_eq (sw_report_get (report, 0)->file, settings->file);
  ck_assert_uint_eq (sw_report_get (report, 0)->line, 2);
  ck_assert_str_eq (sw_report_get (report, 0)->column, "kerf");
  ck_assert_str_eq (sw_report_get (report, 0)->message, "is 2");
  ck_assert_ptr_null (sw_report_get (report, 1)->file);
  ck_assert_uint_eq (sw_report_get (report, 1)->line, 0);
  ck_assert_str_eq (sw_report_get (report, 1)->column, "keep");
  /* The caller and another file set it again. */
  set ("kerf", "3");
  ck_assert_uint_eq (sw_settings_line (settings, "kerf"), 0);
  ck_assert_int_eq (read_text ("key,value\nrails,3\n"), SW_OK);
  ck_assert_uint_eq (sw_settings_line (settings, "post-width"), 0);
  ck_assert_uint_eq (sw_settings_line (settings, "rails"), 2);
}
END_TEST

START_TEST (file_is_all_or_nothing)
{
  ck_assert_int_eq (read_text ("key,value\nkerf,2\njob,x\nrails,0\ncolour,red\n,3\nKerf,3\npaper,\n"), SW_REJECTED);
  ck_assert_int_eq (settings->kerf, 3 * SW_MM);
  ck_assert_ptr_null (settings->job);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 5);
  static const struct
  {
    size_t line;
    const char *column;
  } faults[] = { { 4, "value" }, { 5, "key" }, { 6, "key" }, { 7, "key" }, { 8, "value" } };
  for (size_t i = 0; i < 5; i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      ck_assert_uint_eq (remark->line, faults[i].line);
      ck_assert_str_eq (remark->column, faults[i].column);
    }
  remarks_say (report, "stands on line 2 already");
}
END_TEST

START_TEST (file_without_columns)
{
  ck_assert_int_eq (read_text ("key,worth\nkerf,2\n"), SW_REJECTED);
  remarks_say (report, "expected a column \"value\"");
  ck_assert_int_eq (sw_settings_read (settings, "/tmp/no/such/file", report), SW_IO);
}
END_TEST

/* ---- What was perhaps not meant ---- */

static void
expect_doubt (const char *key, const char *value, const char *says)
{
  char place[64] = "";
  sw_settings_free (settings);
  settings = sw_settings_new ();
  sw_report_clear (report);
  set (key, value);
  sw_settings_check (settings, report);
  if (says != NULL)
    snprintf (place, sizeof place, "warning :%s\n", key);
  remarks_expect (report, place, value);
  if (says != NULL)
    remarks_say (report, says);
}

START_TEST (lengths_without_their_unit)
{
  expect_doubt ("kerf", "0.003",
                "is taken for 0.003 mm, since a bare number is millimetres; if metres are meant, write "
                "0.003m (3 mm)");
  expect_doubt ("kerf", "0.299", "write 0.299m");
  expect_doubt ("kerf", "0.3", NULL);
  expect_doubt ("kerf", "0", NULL);
  expect_doubt ("end-trim", "0.025", "(25 mm)");
  expect_doubt ("end-trim", "1", NULL);
  expect_doubt ("post-width", "0.1", "(100 mm)");
  expect_doubt ("post-width", "10", NULL);
  expect_doubt ("keep", "0.6", "(600 mm)");
  expect_doubt ("keep", "10", NULL);
  expect_doubt ("min-bearing", "0.038", "(38 mm)");
  expect_doubt ("bow", "0.005", "(5 mm)");
  expect_doubt ("bow", "0.5", NULL);
  set ("inches", "");
  set ("kerf", "0.125");
  sw_report_clear (report);
  sw_settings_check (settings, report);
  remarks_say (report, "is taken for 0.125 mm, since a bare number is millimetres; if inches are meant, write 0.125in");
}
END_TEST

START_TEST (stock_lengths_with_decimal_commas)
{
  expect_doubt ("stock-length", "4,8", "is taken for 2 lengths, 4 m and 8 m; if 4.8 is meant, write it with a decimal");
  expect_doubt ("stock-length", "5,4", "2 lengths, 4 m and 5 m; if 5.4 is meant");
  expect_doubt ("stock-length", "4,80", "2 lengths, 80 mm and 4 m; if 4.80 is meant");
  expect_doubt ("stock-length", "3,6,4,8", "4 lengths, 3 m to 8 m; if 3.6,4.8 is meant");
  static const char *const clear[]
      = { "4.8,5.4", "3.0,6.0", "4,8,6", "3m,6m", "4, 8", "4;8", "4 8", "12,16", "4800,5400", "6", "3,6m", "3,6.0" };
  for (size_t i = 0; i < sizeof clear / sizeof clear[0]; i++)
    expect_doubt ("stock-length", clear[i], NULL);
  /* A new value is checked anew. */
  set ("stock-length", "4,8");
  set ("stock-length", "4.8");
  sw_settings_check (settings, report);
  remarks_expect (report, "", "set anew");
  ck_assert_int_eq (read_text ("key;value\nstock-length;4,8\n"), SW_OK);
  sw_settings_check (settings, report);
  remarks_expect (report, "", "a decimal comma");
}
END_TEST

/* 4.8 m and 4.801 m are both 189 in to the nearest 1/16. */
START_TEST (stock_lengths_that_look_the_same_in_inches)
{
  set ("stock-length", "4.8,4801");
  ck_assert_int_eq (sw_settings_check (settings, report), SW_OK);
  remarks_expect (report, "", "in millimetres");
  set ("inches", "yes");
  ck_assert_int_eq (sw_settings_check (settings, report), SW_REJECTED);
  remarks_expect (report, "fault :stock-length\n", "in inches");
  remarks_say (report, "found 4.8 m and 4.801 m, the same to 1/16 in");
}
END_TEST

/* The longest list that can be read so has as many lengths as there may be. */
START_TEST (long_list_with_decimal_commas)
{
  char list[SW_PHRASE + 16] = "";
  char meant[SW_PHRASE];
  sw_settings_meant ("4,8,4,1234", meant);
  ck_assert_str_eq (meant, "");
  sw_settings_meant ("", meant);
  ck_assert_str_eq (meant, "");
  for (size_t i = 0; i + 6 < SW_PHRASE; i += 6)
    strcat (list, i == 0 ? "4,123" : ",4,123");
  sw_settings_meant (list, meant);
  ck_assert_uint_eq (strlen (meant), strlen (list));
  ck_assert_int_eq (strncmp (meant, "4.123,4.123,", 12), 0);
  strcat (list, ",4,123");
  sw_settings_meant (list, meant);
  ck_assert_str_eq (meant, "");
}
END_TEST

START_TEST (copy)
{
  set ("job", "name");
  set ("date", "today");
  set ("kerf", "2");
  sw_settings *other = sw_settings_copy (settings);
  ck_assert_ptr_nonnull (other);
  ck_assert_str_eq (other->job, "name");
  ck_assert_ptr_ne (other->job, settings->job);
  ck_assert_str_eq (other->date, "today");
  ck_assert_ptr_ne (other->date, settings->date);
  ck_assert_int_eq (other->kerf, 2 * SW_MM);
  ck_assert_uint_eq (other->given, settings->given);
  sw_settings_free (other);
  sw_settings_free (NULL);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("settings");
  TCase *tests = tcase_create ("settings");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_add_test (tests, defaults);
  tcase_add_test (tests, each_key);
  tcase_add_test (tests, switched_off_again);
  tcase_add_test (tests, stock_lengths);
  tcase_add_test (tests, refused);
  tcase_add_test (tests, too_many_stock_lengths);
  tcase_add_test (tests, unknown_key);
  tcase_add_test (tests, without_report);
  tcase_add_test (tests, file);
  tcase_add_test (tests, file_with_decimal_comma);
  tcase_add_test (tests, caller_wins_over_file);
  tcase_add_test (tests, lines_of_the_file);
  tcase_add_test (tests, file_is_all_or_nothing);
  tcase_add_test (tests, file_without_columns);
  tcase_add_test (tests, lengths_without_their_unit);
  tcase_add_test (tests, stock_lengths_with_decimal_commas);
  tcase_add_test (tests, stock_lengths_that_look_the_same_in_inches);
  tcase_add_test (tests, long_list_with_decimal_commas);
  tcase_add_test (tests, copy);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
