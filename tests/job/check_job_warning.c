/* check_job_warning.c - warnings that a job keeps for the papers made of it
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/job_warning.h"
#include "plan_fixture.h"
#include "remarks.h"
#include "base/report.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static sw_report *report;
static sw_settings *settings;
static sw_job *job;
static char folder[64];
static char names[6][80];

static void
setup (void)
{
  report = sw_report_new ();
  settings = sw_settings_new ();
  job = NULL;
  strcpy (folder, "/tmp/spanwright-warning-XXXXXX");
  ck_assert_ptr_nonnull (mkdtemp (folder));
}

static void
teardown (void)
{
  sw_job_free (job);
  sw_settings_free (settings);
  sw_report_free (report);
  for (int i = 0; i < 6; i++)
    unlink (names[i]);
  rmdir (folder);
}

/* Write TEXT unless it is NULL.  Returns the file's name, or NULL. */
static const char *
file (int number, const char *name, const char *text)
{
  snprintf (names[number], sizeof names[0], "%s/%s", folder, name);
  if (text == NULL)
    return NULL;
  FILE *out = fopen (names[number], "w");
  ck_assert_ptr_nonnull (out);
  ck_assert_int_ge (fputs (text, out), 0);
  fclose (out);
  return names[number];
}

static void
read_job (const char *spans, const char *levels, const char *stock, const char *sections, const char *extras,
          sw_report *told)
{
  sw_job_free (job);
  job = NULL;
  sw_sources sources = { .spans = file (0, "spans.csv", spans),
                         .levels = file (1, "levels.csv", levels),
                         .stock = file (2, "stock.csv", stock),
                         .sections = file (3, "sections.csv", sections),
                         .extras = file (4, "extras.csv", extras) };
  ck_assert_int_eq (sw_job_read (&job, &sources, settings, told), SW_OK);
}

/* The job's warnings, one a line, with "* " before those that concern the order.  The caller frees it. */
static char *
warnings_of (const sw_job *of)
{
  sw_text list = { 0 };
  for (size_t i = 0; i < sw_job_warning_count (of); i++)
    {
      const sw_remark *warning = sw_job_warning (of, i);
      ck_assert_int_eq (warning->severity, SW_WARNING);
      sw_text_add (&list, sw_job_warning_is_of_order (of, warning) ? "* " : "  ");
      sw_job_warning_add (&list, warning);
      sw_text_add (&list, "\n");
    }
  ck_assert_ptr_null (sw_job_warning (of, sw_job_warning_count (of)));
  char *text = sw_text_take (&list);
  ck_assert_ptr_nonnull (text);
  return text;
}

/* Fail unless each warning begins with its line of EXPECTED, up to the "...". */
static void
expect_warnings (const sw_job *of, const char *expected)
{
  char *text = warnings_of (of);
  const char *line = text;
  for (const char *wanted = expected; *wanted != '\0'; wanted += strcspn (wanted, "\n") + 1)
    {
      size_t length = strcspn (wanted, "\n") - 3;
      ck_assert_msg (strncmp (line, wanted, length) == 0, "expected:\n%s\nfound:\n%s", expected, text);
      line += strcspn (line, "\n") + 1;
    }
  ck_assert_msg (*line == '\0', "expected:\n%s\nfound:\n%s", expected, text);
  sw_text_free (text);
}

#define SPANS "run,span,colour\nfront,2400,\nfront,235.5,\n"
#define ABOUT_SPANS                                                                                                    \
  "  spans.csv:1: colour: a column of this name...\n* spans.csv:3: span: is taken for 235.5 mm, since...\n"

START_TEST (kept_as_they_came)
{
  read_job (SPANS, NULL, "section,length\nrail,4.8\nbatten,4.8\n", NULL, NULL, report);
  /* Notes are not warnings. */
  remarks_expect (report, "warning spans.csv:1:colour\nwarning spans.csv:3:span\nnote stock.csv\n", "told");
  expect_warnings (job, ABOUT_SPANS);
  /* The job has its own copies. */
  sw_report_clear (report);
  expect_warnings (job, ABOUT_SPANS);
  ck_assert_str_eq (sw_job_warning (job, 1)->file, names[0]);
  ck_assert_uint_eq (sw_job_warning (job, 1)->line, 3);
  ck_assert_str_eq (sw_job_warning (job, 1)->column, "span");
}
END_TEST

START_TEST (kept_when_nobody_wants_to_know)
{
  ck_assert_int_eq (sw_settings_read (settings, file (5, "settings.csv", "key,value,unit\nkerf,3,mm\n"), NULL), SW_OK);
  read_job (SPANS, NULL, NULL, NULL, NULL, NULL);
  expect_warnings (job, "  settings.csv:1: unit: a column of this name...\n" ABOUT_SPANS);
}
END_TEST

START_TEST (none_of_another_job)
{
  read_job (SPANS, NULL, NULL, NULL, NULL, report);
  ck_assert_uint_eq (sw_report_count (report), 2);
  read_job ("run,span\nfront,2400\n", NULL, NULL, NULL, NULL, report);
  ck_assert_uint_eq (sw_report_count (report), 2);
  ck_assert_uint_eq (sw_job_warning_count (job), 0);
}
END_TEST

START_TEST (of_the_settings_too)
{
  const char *name = file (5, "settings.csv", "key,value,unit\nkerf,0.003,m\npost-width,70,mm\n");
  ck_assert_int_eq (sw_settings_read (settings, name, report), SW_OK);
  ck_assert_int_eq (sw_settings_set (settings, "end-trim", "0.005", report), SW_OK);
  sw_settings *copy = sw_settings_copy (settings);
  sw_settings_free (settings);
  settings = copy;
  read_job ("run,span\nfront,2400\nfront,2400\n", NULL, NULL, NULL, NULL, report);
  expect_warnings (job, "  settings.csv:1: unit: a column of this name...\n"
                        "* settings.csv:2: kerf: is taken for 0.003 mm, since...\n"
                        "* --end-trim: is taken for 0.005 mm, since...\n"
                        "  settings.csv:3: post-width: two rails that join on...\n");
  /* A file that is refused leaves the settings as they were. */
  ck_assert_int_eq (sw_settings_read (settings, file (5, "settings.csv", "key,value,x\nrails,0,\n"), report),
                    SW_REJECTED);
  ck_assert_uint_eq (sw_report_count (settings->warnings), 1);
}
END_TEST

/* All warnings of stock, sections and extras concern the order; of the others, those about how much
 * timber there is to be. */
START_TEST (those_that_bear_on_the_order)
{
  ck_assert_int_eq (sw_settings_set (settings, "stock-length", "4,8", report), SW_OK);
  ck_assert_int_eq (sw_settings_set (settings, "keep", "0.6", report), SW_OK);
  read_job ("run,bay,span,finish,join,overall\n"
            "front,,2400,,,4870\nfront,,2400,housed 40,always,\nside,sum,2400,,,\nside,,2300,,,\nSide,,900,,,\n",
            "level,section,height,blocks,block_length,block_section\nlow,a,300,1,2,\nhigh,a,310,,,\nnext,a,305,,9,\n",
            NULL, "section,width,colour\na,90,\nA,9,\n", "label,section,length,qty\nx,A,9,4\n", report);
  expect_warnings (job, "  --keep: is taken for 0.6 mm...\n"
                        "* --stock-length: is taken for 2 lengths...\n"
                        "  spans.csv:3: finish: a housing of 40 mm...\n"
                        "  spans.csv:3: join: has no effect...\n"
                        "* spans.csv:2: overall: the bays of run...\n"
                        "* spans.csv:4: bay: is taken for a bay...\n"
                        "* sections.csv:1: colour: a column...\n"
                        "* sections.csv:3: width: is taken for 9 mm...\n"
                        "* levels.csv:2: block_length: a block of 2 is very short...\n"
                        "* levels.csv:4: block_length: has no effect...\n"
                        "  levels.csv:4: height: levels go from bottom to top...\n"
                        "* extras.csv:1: qty: a column...\n"
                        "* extras.csv:2: length: a piece of 9 is very short...\n"
                        "* spans.csv:6: run: \"Side\" is taken for another run...\n"
                        "* sections.csv:3: section: \"A\" is taken...\n"
                        "  levels.csv:3: height: \"high\", whose...\n");
}
END_TEST

/* A choice of a comparison has the warnings of its job. */
START_TEST (a_variant_borrows_them)
{
  sw_job variant;
  read_job (SPANS, NULL, NULL, NULL, NULL, report);
  ck_assert_int_eq (sw_job_variant (&variant, job), SW_OK);
  expect_warnings (&variant, ABOUT_SPANS);
  sw_job_variant_clear (&variant);
  expect_warnings (job, ABOUT_SPANS);
}
END_TEST

/* What would steer a terminal in a file's name or a cell is escaped, and only once. */
START_TEST (escaped_once)
{
  sw_sources sources = { .spans = file (0, "a\x1B\\b.csv", "run,span,a\x1B\nfront,2400,\n") };
  ck_assert_int_eq (sw_job_read (&job, &sources, settings, report), SW_OK);
  expect_warnings (job, "  a\\x1B\\b.csv:1: a\\x1B: a column of this name...\n");
  ck_assert_str_eq (sw_job_warning (job, 0)->file, sw_report_get (report, 0)->file);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("job_warning");
  TCase *tests = tcase_create ("job_warning");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_add_test (tests, kept_as_they_came);
  tcase_add_test (tests, kept_when_nobody_wants_to_know);
  tcase_add_test (tests, none_of_another_job);
  tcase_add_test (tests, of_the_settings_too);
  tcase_add_test (tests, those_that_bear_on_the_order);
  tcase_add_test (tests, a_variant_borrows_them);
  tcase_add_test (tests, escaped_once);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
