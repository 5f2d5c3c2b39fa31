/* check_start.c - a small job to begin with
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/folder.h"
#include "csv/output.h"
#include "job/start_files.h"

#include "plan_fixture.h"
#include "remarks.h"
#include "suite.h"
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *const names[]
    = { "spans.csv", "levels.csv", "stock.csv", "sections.csv", "settings.csv", "README.txt" };
#define NAMES (sizeof names / sizeof *names)

static char *directory;
static sw_report *report;
static sw_settings *settings;

static void
setup (void)
{
  directory = fixture_directory ();
  report = sw_report_new ();
  settings = sw_settings_new ();
}

static void
teardown (void)
{
  sw_settings_free (settings);
  sw_report_free (report);
  fixture_remove (directory);
}

static void
put (const char *name, const char *bytes)
{
  char *path = sw_text_path (directory, name);
  FILE *file = fopen (path, "wb");
  ck_assert_msg (file != NULL, "%s", path);
  fputs (bytes, file);
  ck_assert_int_eq (fclose (file), 0);
  free (path);
}

static void
ck_holds (const char *name, const char *bytes)
{
  char *found = fixture_bytes (directory, name);
  ck_assert_msg ((found != NULL) == (bytes != NULL), "%s", name);
  if (found != NULL)
    ck_assert_str_eq (found, bytes);
  free (found);
}

/* Read the job in DIRECTORY, which must give no remark and a plan that is proved the cheapest. */
static sw_job *
ck_plans (void)
{
  sw_settings *none = sw_settings_new ();
  sw_job *job = NULL;
  sw_plan *plan = NULL;
  sw_summary summary;
  sw_status status = sw_job_read_folder (&job, directory, NULL, none, report);
  remarks_expect (report, "", "no remarks");
  ck_assert_int_eq (status, SW_OK);
  ck_assert_int_eq (sw_plan_make (&plan, job, NULL, report), SW_OK);
  sw_plan_summary (plan, &summary);
  ck_assert_int_eq (summary.outcome, SW_PROVED);
  ck_assert (summary.priced);
  ck_assert_int_gt (summary.joins, 0);
  sw_plan_free (plan);
  sw_settings_free (none);
  return job;
}

/* _i: 1 inches, 2 semicolons. */
START_TEST (plans_as_it_is)
{
  bool inches = (_i & 1) != 0;
  bool semicolons = (_i & 2) != 0;
  ck_assert_int_eq (sw_settings_set (settings, "inches", inches ? "yes" : "no", report), SW_OK);
  ck_assert_int_eq (sw_settings_set (settings, "csv-style", semicolons ? "semicolon" : "comma", report), SW_OK);
  /* Other settings do not matter. */
  ck_assert_int_eq (sw_settings_set (settings, "kerf", "7", report), SW_OK);
  ck_assert_int_eq (sw_start_write (directory, settings, report), SW_OK);
  ck_assert_uint_eq (fixture_names (directory), NAMES);
  for (size_t i = 0; i < NAMES; i++)
    {
      char *bytes = fixture_bytes (directory, names[i]);
      ck_assert_msg (bytes != NULL, "%s", names[i]);
      bool csv = i + 1 < NAMES;
      ck_assert_msg ((strncmp (bytes, "\xEF\xBB\xBF", 3) == 0) == (csv && semicolons), "%s", names[i]);
      ck_assert_msg (!csv || strchr (bytes, semicolons ? ',' : ';') == NULL
                         || (semicolons && strchr (bytes, '.') == NULL),
                     "%s", bytes);
      free (bytes);
    }
  sw_job *job = ck_plans ();
  ck_assert (job->settings->inches == inches);
  ck_assert (job->settings->csv_style == (semicolons ? SW_CSV_SEMICOLON : SW_CSV_COMMA));
  ck_assert_int_eq (job->settings->kerf, inches ? SW_INCH / 8 : 3 * SW_MM);
  ck_assert_int_eq (job->stocks.items[0].length, inches ? 144 * SW_INCH : 4800 * SW_MM);
  sw_job_free (job);
}
END_TEST

START_TEST (defaults)
{
  ck_assert_int_eq (sw_start_write (directory, NULL, report), SW_OK);
  char *spans = fixture_bytes (directory, "spans.csv");
  ck_assert_int_eq (strncmp (spans, "run,span,", 9), 0);
  free (spans);
  sw_job_free (ck_plans ());
}
END_TEST

START_TEST (makes_the_folder)
{
  char *path = sw_text_path (directory, "a");
  char *deep = sw_text_path (directory, "b/c");
  ck_assert_int_eq (sw_start_write (path, settings, report), SW_OK);
  ck_assert_uint_eq (fixture_names (path), NAMES);
  ck_assert_int_eq (sw_start_write (deep, settings, report), SW_IO);
  remarks_say (report, "the directory cannot be made: ");
  ck_assert_uint_eq (fixture_names (directory), 1);
  free (deep);
  free (path);
}
END_TEST

/* Any file of a job is in the way: one that would not be written, a link that leads nowhere, a folder. */
START_TEST (never_over_a_file)
{
  static const char *const taken[]
      = { "spans.csv", "levels.csv", "stock.csv", "sections.csv", "extras.csv", "settings.csv", "README.txt" };
  for (size_t i = 0; i < sizeof taken / sizeof taken[0]; i++)
    {
      char expected[64];
      char *path = sw_text_path (directory, taken[i]);
      snprintf (expected, sizeof expected, "fault %s\n", taken[i]);
      for (int kind = 0; kind < 3; kind++)
        {
          if (kind == 0)
            put (taken[i], "mine");
          else
            ck_assert_int_eq (kind == 1 ? symlink ("nowhere", path) : mkdir (path, 0777), 0);
          ck_assert_int_eq (sw_start_write (directory, settings, report), SW_REJECTED);
          remarks_say (report, "is there already: nothing was written");
          remarks_expect (report, expected, taken[i]);
          sw_report_clear (report);
          ck_assert_uint_eq (fixture_names (directory), 1);
          if (kind == 0)
            ck_holds (taken[i], "mine");
          ck_assert_int_eq (remove (path), 0);
        }
      free (path);
    }
  put ("spans.csv", "mine");
  put ("README.txt", "mine");
  ck_assert_int_eq (sw_start_write (directory, settings, report), SW_REJECTED);
  remarks_expect (report, "fault spans.csv\nfault README.txt\n", "both");
}
END_TEST

START_TEST (beside_other_files)
{
  put ("notes.txt", "mine");
  ck_assert_int_eq (sw_start_write (directory, settings, report), SW_OK);
  ck_holds ("notes.txt", "mine");
  ck_assert_uint_eq (fixture_names (directory), NAMES + 1);
}
END_TEST

/* ---- Files that may only be new --------------------------------------------- */

/* Somebody puts a file there between the look and the last name.  It stays, and nothing else does. */
START_TEST (taken_at_the_last_moment)
{
  sw_output *output = NULL;
  ck_assert_int_eq (sw_output_open (&output, directory, report), SW_OK);
  sw_output_only_new (output);
  ck_assert_int_eq (sw_output_add (output, "a", "A", 1, report), SW_OK);
  ck_assert_int_eq (sw_output_add (output, "b", "B", 1, report), SW_OK);
  put ("b", "mine");
  ck_assert_int_eq (sw_output_ready (output, report), SW_REJECTED);
  ck_assert_int_eq (sw_output_commit (output, report), SW_REJECTED);
  sw_output_free (output);
  ck_holds ("a", NULL);
  ck_holds ("b", "mine");
  ck_assert_uint_eq (fixture_names (directory), 1);
}
END_TEST

/* Two files have one name.  The second finds the first after the look, and both are removed. */
START_TEST (taken_after_the_look)
{
  sw_output *output = NULL;
  ck_assert_int_eq (sw_output_open (&output, directory, report), SW_OK);
  sw_output_only_new (output);
  ck_assert_int_eq (sw_output_add (output, "a", "A", 1, report), SW_OK);
  ck_assert_int_eq (sw_output_add (output, "b", "B", 1, report), SW_OK);
  ck_assert_int_eq (sw_output_add (output, "b", "C", 1, report), SW_OK);
  ck_assert_int_eq (sw_output_ready (output, report), SW_OK);
  ck_assert_int_eq (sw_output_commit (output, report), SW_REJECTED);
  sw_output_free (output);
  ck_assert_uint_eq (fixture_names (directory), 0);
}
END_TEST

START_TEST (removed_when_committed)
{
  sw_output *output = NULL;
  put ("old", "mine");
  for (int round = 0; round < 2; round++)
    {
      ck_assert_int_eq (sw_output_open (&output, directory, report), SW_OK);
      ck_assert_int_eq (sw_output_remove (output, "old"), SW_OK);
      ck_assert_int_eq (sw_output_remove (output, "never there"), SW_OK);
      ck_assert_int_eq (sw_output_add (output, "new", "N", 1, report), SW_OK);
      ck_holds ("old", "mine");
      if (round == 1)
        ck_assert_int_eq (sw_output_commit (output, report), SW_OK);
      sw_output_free (output);
    }
  ck_holds ("old", NULL);
  ck_holds ("new", "N");
  remarks_expect (report, "", "no remarks");
}
END_TEST

/* ---- README.txt -------------------------------------------------------------- */

START_TEST (readme_lines)
{
  const char *text = sw_start_readme ();
  size_t lines = 0;
  for (const char *line = text; *line != '\0'; lines++)
    {
      size_t length = strcspn (line, "\n");
      ck_assert_msg (length <= 80, "%.*s", (int)length, line);
      for (size_t i = 0; i < length; i++)
        ck_assert_msg (line[i] >= ' ' && line[i] <= '~', "%.*s", (int)length, line);
      ck_assert_int_eq (line[length], '\n');
      line += length + 1;
    }
  ck_assert_uint_gt (lines, 50);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("start");
  TCase *tests = tcase_create ("start");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_add_loop_test (tests, plans_as_it_is, 0, 4);
  tcase_add_test (tests, defaults);
  tcase_add_test (tests, makes_the_folder);
  tcase_add_test (tests, never_over_a_file);
  tcase_add_test (tests, beside_other_files);
  tcase_add_test (tests, taken_at_the_last_moment);
  tcase_add_test (tests, taken_after_the_look);
  tcase_add_test (tests, removed_when_committed);
  tcase_add_test (tests, readme_lines);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
