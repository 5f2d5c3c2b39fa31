/* check_folder_memory.c - a job's folder when memory runs out at any one moment
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "failing.h"
#include "plan_fixture.h"
#include "suite.h"
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static char *directory;

static void
setup (void)
{
  directory = fixture_directory ();
}

static void
teardown (void)
{
  fixture_remove (directory);
}

static sw_status
start (void)
{
  sw_report *report = sw_report_new ();
  sw_settings *settings = sw_settings_new ();
  sw_status status = SW_NO_MEMORY;
  if (report != NULL && settings != NULL)
    status = sw_settings_set (settings, "csv-style", "semicolon", report);
  if (status == SW_OK)
    status = sw_start_write (directory, settings, report);
  sw_settings_free (settings);
  sw_report_free (report);
  return status;
}

typedef sw_status (*reader) (sw_job **, const char *, const sw_sources *, const sw_settings *, sw_report *);

static sw_status
read_with (reader reader)
{
  sw_report *report = sw_report_new ();
  sw_settings *settings = sw_settings_new ();
  sw_job *job = NULL;
  sw_status status = SW_NO_MEMORY;
  if (report != NULL && settings != NULL)
    status = reader (&job, directory, NULL, settings, report);
  if ((status == SW_OK) != (job != NULL))
    status = SW_FAILED;
  sw_job_free (job);
  sw_settings_free (settings);
  sw_report_free (report);
  return status;
}

static sw_status
read_folder (void)
{
  return read_with (sw_job_read_folder);
}

static sw_status
read_kept (void)
{
  return read_with (sw_job_read_kept);
}

/* COMES_TO is the status when memory does not run out.  NAMES_AFTER is checked each time that it did. */
static void
ck_survives (sw_status (*scenario) (void), sw_status comes_to, size_t names_after)
{
  size_t failures = 0;
  for (size_t successes = 0; successes < 100000; successes++)
    {
      failing_start (successes);
      sw_status status = scenario ();
      bool failed = failing_stop ();
      if (!failed)
        {
          ck_assert_int_eq (status, comes_to);
          ck_assert_uint_gt (failures, 5);
          return;
        }
      ck_assert_msg (status == SW_NO_MEMORY, "after %zu allocations: %s", successes, sw_status_text (status));
      ck_assert_uint_eq (fixture_names (directory), names_after);
      failures++;
    }
  ck_abort_msg ("it never ended");
}

START_TEST (starting)
{
  ck_survives (start, SW_OK, 0);
  ck_assert_uint_eq (fixture_names (directory), 6);
  ck_survives (start, SW_REJECTED, 6);
}
END_TEST

START_TEST (reading)
{
  ck_assert_int_eq (start (), SW_OK);
  ck_survives (read_folder, SW_OK, 6);
  char *path = sw_text_path (directory, "yards.csv");
  char *other = sw_text_path (directory, "Extras.csv");
  fclose (fopen (path, "wb"));
  fclose (fopen (other, "wb"));
  ck_survives (read_folder, SW_REJECTED, 8);
  free (other);
  free (path);
}
END_TEST

START_TEST (empty_folder)
{
  ck_survives (read_folder, SW_REJECTED, 0);
  ck_survives (read_kept, SW_USAGE, 0);
}
END_TEST

static void
plan_there (void)
{
  sw_settings *settings = sw_settings_new ();
  sw_job *job = NULL;
  sw_plan *plan = NULL;
  ck_assert_int_eq (sw_settings_set (settings, "keep", "700", NULL), SW_OK);
  ck_assert_int_eq (start (), SW_OK);
  ck_assert_int_eq (sw_job_read_folder (&job, directory, NULL, settings, NULL), SW_OK);
  ck_assert_int_eq (sw_plan_make (&plan, job, NULL, NULL), SW_OK);
  ck_assert_int_eq (sw_plan_write (plan, directory, NULL), SW_OK);
  sw_plan_free (plan);
  sw_job_free (job);
  sw_settings_free (settings);
}

START_TEST (reading_what_is_kept)
{
  plan_there ();
  size_t names = fixture_names (directory);
  ck_survives (read_kept, SW_OK, names);
  /* One file was edited and one is gone, which gives warnings. */
  char *spans = sw_text_path (directory, "job/spans.csv");
  char *sections = sw_text_path (directory, "job/sections.csv");
  FILE *file = fopen (spans, "ab");
  fputs ("\n", file);
  fclose (file);
  ck_assert_int_eq (unlink (sections), 0);
  ck_survives (read_kept, SW_REJECTED, names);
  free (sections);
  free (spans);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("folder_memory");
  TCase *tests = tcase_create ("folder_memory");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_set_timeout (tests, 120);
  tcase_add_test (tests, starting);
  tcase_add_test (tests, reading);
  tcase_add_test (tests, empty_folder);
  tcase_add_test (tests, reading_what_is_kept);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
