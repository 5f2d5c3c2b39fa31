/* check_csv_style.c - tables for spreadsheets of countries with a decimal comma
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/table.h"

#include "chance.h"
#include "plan_fixture.h"
#include "remarks.h"
#include "suite.h"
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MARK "\xEF\xBB\xBF"

static sw_report *report;

static void
setup (void)
{
  report = sw_report_new ();
}

static void
teardown (void)
{
  sw_report_free (report);
}

static char *
csv_of (const sw_table *table)
{
  char *csv = NULL;
  ck_assert_int_eq (sw_table_csv (table, &csv), SW_OK);
  return csv;
}

/* A row of a number and a text, written in both ways. */
START_TEST (cells)
{
  static const struct
  {
    const char *text;
    const char *number; /* what sw_table_set writes */
    const char *word;   /* what sw_table_set_text writes */
  } cases[] = {
    { "4852.5", "4852,5", "4852.5" },
    { "-12.25", "-12,25", "'-12.25" },
    { "0.5", "0,5", "0.5" },
    { "17", "17", "17" },
    { "square", "square", "square" },
    { "", "", "" },
    { "4.8,5.4", "\"4.8,5.4\"", "\"4.8,5.4\"" },
    { "a;b", "\"a;b\"", "\"a;b\"" },
    { "1.2.3", "1.2.3", "1.2.3" },
    { "5.", "5.", "5." },
    { ".5", ".5", ".5" },
    { "4.8m", "4.8m", "4.8m" },
    { "=1.5", "=1.5", "'=1.5" },
    { "-", "-", "'-" },
    { "two\nlines", "\"two\nlines\"", "\"two\nlines\"" },
  };
  static const char *const header[] = { "a.5", "b" };
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
    {
      sw_table *table = NULL;
      char wanted[128];
      ck_assert_int_eq (sw_table_new (&table, header, 2), SW_OK);
      sw_table_write_semicolons (table);
      ck_assert_int_eq (sw_table_add_row (table), SW_OK);
      ck_assert_int_eq (sw_table_set (table, 0, cases[i].text), SW_OK);
      ck_assert_int_eq (sw_table_set_text (table, 1, cases[i].text), SW_OK);
      /* A program always sees a point. */
      ck_assert_str_eq (sw_table_cell (table, 0, 0), cases[i].text);
      char *csv = csv_of (table);
      snprintf (wanted, sizeof wanted, MARK "a.5;b\r\n%s;%s\r\n", cases[i].text[0] != '\0' ? cases[i].number : "\"\"",
                cases[i].word);
      ck_assert_str_eq (csv, wanted);
      sw_text_free (csv);
      sw_table_free (table);
    }
}
END_TEST

/* A table is read with commas, written with semicolons and read again.  Numbers then have a decimal
 * comma; all else is as it was. */
START_TEST (what_was_read)
{
  sw_table *table = remarks_table ("name,1.5\n4.8,2400.5\n90x40,4.8m\n", "t.csv", report);
  sw_table_write_semicolons (table);
  char *csv = csv_of (table);
  ck_assert_str_eq (csv, MARK "name;1.5\r\n4,8;2400,5\r\n90x40;4.8m\r\n");
  sw_table *again = remarks_table (csv, "t.csv", report);
  ck_assert (sw_table_decimal_comma (again));
  ck_assert_str_eq (sw_table_header (again, 0), "name");
  ck_assert_str_eq (sw_table_cell (again, 0, 1), "2400,5");
  sw_table_free (again);
  sw_text_free (csv);
  sw_table_free (table);
}
END_TEST

/* ---- Any table -------------------------------------------------------------- */

static void
some_text (uint64_t *state, char out[64])
{
  static const char *const parts[]
      = { "a", ".", ",", ";", "\"", "'", "=", "-", "+", "@", "1", "5", "0", "ő", "\n", MARK };
  size_t used = 0;
  for (int64_t count = chance (state, 1, 8); count > 0; count--)
    used += (size_t)snprintf (out + used, 64 - used, "%s", parts[chance (state, 0, sizeof parts / sizeof *parts - 1)]);
}

static void
some_number (uint64_t *state, char out[64])
{
  if (one_in (state, 2))
    snprintf (out, 64, "%s%lld", one_in (state, 4) ? "-" : "", (long long)chance (state, 0, 9999));
  else
    snprintf (out, 64, "%s%lld.%lld", one_in (state, 4) ? "-" : "", (long long)chance (state, 0, 9999),
              (long long)chance (state, 0, 999));
}

START_TEST (any_table_comes_back)
{
  static const char *const header[] = { "text", "number", "more" };
  uint64_t state = 99;
  for (int round = suite_rounds (500); round > 0; round--)
    {
      sw_table *table = NULL;
      char cells[12][3][64];
      int rows = (int)chance (&state, 1, 12);
      ck_assert_int_eq (sw_table_new (&table, header, 3), SW_OK);
      sw_table_write_semicolons (table);
      for (int row = 0; row < rows; row++)
        {
          some_text (&state, cells[row][0]);
          some_number (&state, cells[row][1]);
          some_text (&state, cells[row][2]);
          ck_assert_int_eq (sw_table_add_row (table), SW_OK);
          ck_assert_int_eq (sw_table_set_text (table, 0, cells[row][0]), SW_OK);
          ck_assert_int_eq (sw_table_set (table, 1, cells[row][1]), SW_OK);
          ck_assert_int_eq (sw_table_set_text (table, 2, cells[row][2]), SW_OK);
        }
      char *csv = csv_of (table);
      sw_table *again = remarks_table (csv, "t.csv", report);
      ck_assert_uint_eq (sw_table_rows (again), (size_t)rows);
      for (int row = 0; row < rows; row++)
        {
          char *point = strchr (cells[row][1], '.');
          if (point != NULL)
            *point = ',';
          for (size_t c = 0; c < 3; c++)
            ck_assert_str_eq (sw_table_cell (again, (size_t)row, c), cells[row][c]);
        }
      sw_table_free (again);
      sw_text_free (csv);
      sw_table_free (table);
    }
}
END_TEST

/* ---- A plan's ------------------------------------------------------------------ */

/* Does TEXT look like a number in the tables? */
static bool
is_number (const char *text)
{
  size_t whole = strspn (text, "0123456789");
  return whole > 0 && (text[whole] == '\0' || (text[whole] == '.' && text[whole + 1] != '\0'));
}

/* Check that SEMICOLONS says the same as COMMAS, cell by cell.  Returns how many cells have decimals. */
static size_t
ck_same_but_for_style (const char *commas, const char *semicolons)
{
  size_t decimals = 0;
  ck_assert_int_eq (strncmp (semicolons, MARK, 3), 0);
  ck_assert_int_ne (strncmp (commas, MARK, 3), 0);
  sw_table *a = remarks_table (commas, "a.csv", report);
  sw_table *b = remarks_table (semicolons, "b.csv", report);
  ck_assert (!sw_table_decimal_comma (a));
  ck_assert (sw_table_decimal_comma (b));
  ck_assert_uint_eq (sw_table_rows (a), sw_table_rows (b));
  ck_assert_uint_eq (sw_table_columns (a), sw_table_columns (b));
  for (size_t c = 0; c < sw_table_columns (a); c++)
    {
      ck_assert_str_eq (sw_table_header (a, c), sw_table_header (b, c));
      for (size_t row = 0; row < sw_table_rows (a); row++)
        {
          char *cell = strdup (sw_table_cell (a, row, c));
          if (is_number (cell) && strchr (cell, '.') != NULL)
            {
              *strchr (cell, '.') = ',';
              decimals++;
            }
          ck_assert_str_eq (cell, sw_table_cell (b, row, c));
          free (cell);
        }
    }
  sw_table_free (a);
  sw_table_free (b);
  return decimals;
}

START_TEST (tables_of_a_plan)
{
  fixture front;
  size_t decimals = 0;
  fixture_front (&front);
  for (int kind = SW_TABLE_ORDER; kind <= SW_TABLE_SETOUT; kind++)
    {
      ck_assert_int_eq (sw_settings_set (front.job->settings, "csv-style", "comma", report), SW_OK);
      char *commas = fixture_csv (&front, (sw_table_kind)kind);
      ck_assert_int_eq (sw_settings_set (front.job->settings, "csv-style", "Semicolon", report), SW_OK);
      char *semicolons = fixture_csv (&front, (sw_table_kind)kind);
      decimals += ck_same_but_for_style (commas, semicolons);
      sw_text_free (semicolons);
      sw_text_free (commas);
    }
  ck_assert_uint_gt (decimals, 5);
  fixture_drop (&front);
}
END_TEST

/* The plan's files and the kept job have the style, too.  The order to paste is text. */
START_TEST (files_of_a_plan)
{
  fixture front;
  sw_verdict verdict;
  char *directory = fixture_directory ();
  fixture_front (&front);
  ck_assert_int_eq (sw_settings_set (front.job->settings, "csv-style", "semicolon", report), SW_OK);
  ck_assert_int_eq (sw_plan_write (front.plan, directory, report), SW_OK);
  static const char *const names[]
      = { "order.csv", "cuts.csv", "fit.csv", "setout.csv", "job/settings.csv", "job/kept.csv", "order.txt" };
  for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
    {
      char *bytes = fixture_bytes (directory, names[i]);
      ck_assert_msg ((strncmp (bytes, MARK, 3) == 0) == (i < 6), "%s", names[i]);
      free (bytes);
    }
  ck_assert_int_eq (sw_verify (front.job, directory, &verdict, report), SW_OK);
  ck_assert_int_eq (verdict.cost, front.plan->summary.cost);
  fixture_drop (&front);
  fixture_remove (directory);
}
END_TEST

START_TEST (table_of_a_comparison)
{
  static const fixture_texts small = { .spans = "run,span\nroad,2350\nroad,2350\n",
                                       .levels = "level,section\nlow,rail\n",
                                       .stock = "section,length,price\nrail,2.4,9\nrail,4.8,20\n",
                                       .settings = "csv-style=semicolon" };
  sw_job *job = fixture_job (&small);
  sw_comparison *comparison = NULL;
  sw_table *table = NULL;
  ck_assert_int_eq (sw_compare (&comparison, job, NULL, 0, NULL, report), SW_OK);
  ck_assert_int_eq (sw_comparison_table (comparison, &table), SW_OK);
  char *csv = csv_of (table);
  ck_contains (csv, MARK "choice;possible;metres;");
  ck_contains (csv, "\r\n2,4;yes;4,8;0,00;1;0;2;18,00;18,00;0,00;0,00;\r\n");
  ck_contains (csv, "\r\n4,8;yes;4,8;0,00;0;0;1;20,00;20,00;2,00;11,11;\"4.8 would be cheaper");
  ck_contains (csv, "\r\n\"2.4,4.8\";yes;");
  sw_text_free (csv);
  sw_table_free (table);
  sw_comparison_free (comparison);
  sw_job_free (job);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("csv_style");
  TCase *tests = tcase_create ("csv_style");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_set_timeout (tests, 120);
  tcase_add_test (tests, cells);
  tcase_add_test (tests, what_was_read);
  tcase_add_test (tests, any_table_comes_back);
  tcase_add_test (tests, tables_of_a_plan);
  tcase_add_test (tests, files_of_a_plan);
  tcase_add_test (tests, table_of_a_comparison);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
