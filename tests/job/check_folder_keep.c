/* check_folder_keep.c - what a plan's folder keeps of its job, and what it does not overwrite
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/folder_keep.h"

#include "plan_fixture.h"
#include "remarks.h"
#include "suite.h"
#include "base/text.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#define SPANS "run,span\r\nlane,2400\r\nlane,2400\r\n"
#define MORE_SPANS "run,span\nlane,2400\nlane,2400\nlane,2300\n"
#define LEVELS "\xEF\xBB\xBFlevel;section\nlow;rail\n\nhigh;rail\n"
#define STOCK "section,length,price,remark\nrail,6.0,30,\"two\nlines\"\n"

static char *directory; /* holds all that a test makes */
static sw_report *report;
static sw_settings *settings;
static sw_job *job;
static sw_plan *plan;

static void
setup (void)
{
  directory = fixture_directory ();
  report = sw_report_new ();
  settings = sw_settings_new ();
  job = NULL;
  plan = NULL;
}

static void
drop_plan (void)
{
  sw_plan_free (plan);
  sw_job_free (job);
  plan = NULL;
  job = NULL;
}

static void
teardown (void)
{
  drop_plan ();
  sw_settings_free (settings);
  sw_report_free (report);
  fixture_remove (directory);
}

static char *
inside (const char *name)
{
  return sw_text_path (directory, name);
}

static void
put (const char *name, const char *bytes)
{
  char *path = inside (name);
  FILE *file = fopen (path, "wb");
  ck_assert_msg (file != NULL, "%s", path);
  fputs (bytes, file);
  ck_assert_int_eq (fclose (file), 0);
  free (path);
}

static void
make (const char *name)
{
  char *path = inside (name);
  ck_assert_int_eq (mkdir (path, 0777), 0);
  free (path);
}

/* NULL: there is no such file. */
static void
ck_holds (const char *name, const char *bytes)
{
  char *found = fixture_bytes (directory, name);
  ck_assert_msg ((found != NULL) == (bytes != NULL), "%s", name);
  if (found != NULL)
    ck_assert_str_eq (found, bytes);
  free (found);
}

static void
ck_remarks (const char *expected)
{
  remarks_expect (report, expected, "remarks");
  sw_report_clear (report);
}

/* ---- Making plans ---------------------------------------------------------- */

/* Read and plan files of DIRECTORY; NULL: none. */
static void
make_plan (const char *spans, const char *levels, const char *stock)
{
  const char *const names[] = { spans, levels, stock };
  char *paths[3] = { NULL };
  for (int f = 0; f < 3; f++)
    if (names[f] != NULL)
      paths[f] = inside (names[f]);
  const sw_sources sources = { .spans = paths[0], .levels = paths[1], .stock = paths[2] };
  drop_plan ();
  ck_assert_int_eq (sw_job_read (&job, &sources, settings, report), SW_OK);
  ck_assert_int_eq (sw_plan_make (&plan, job, NULL, report), SW_OK);
  sw_report_clear (report);
  for (int f = 0; f < 3; f++)
    free (paths[f]);
}

static void
make_plan_of_folder (const char *name)
{
  char *path = inside (name);
  drop_plan ();
  ck_assert_int_eq (sw_job_read_folder (&job, path, NULL, settings, report), SW_OK);
  ck_assert_int_eq (sw_plan_make (&plan, job, NULL, report), SW_OK);
  sw_report_clear (report);
  free (path);
}

static sw_status
write_to (const char *name)
{
  char *path = inside (name);
  sw_status status = sw_plan_write (plan, path, report);
  free (path);
  return status;
}

/* The folder NAME keeps a job for which its plan has no fault. */
static void
ck_keeps_its_job (const char *name)
{
  char *path = inside (name);
  sw_settings *none = sw_settings_new ();
  sw_job *kept = NULL;
  sw_verdict verdict;
  ck_assert_int_eq (sw_job_read_kept (&kept, path, NULL, none, report), SW_OK);
  ck_assert (sw_settings_same (kept->settings, job->settings));
  /* None of it was touched.  A column of the user's own gets its usual remark. */
  for (size_t i = 0; i < sw_report_count (report); i++)
    if (sw_report_get (report, i)->severity == SW_WARNING)
      ck_contains (sw_report_get (report, i)->message, "a column of this name is not known");
  sw_status status = sw_verify (kept, path, &verdict, report);
  ck_assert_msg (status == SW_OK, "%s", sw_report_get (report, sw_report_count (report) - 1)->message);
  sw_report_clear (report);
  sw_job_free (kept);
  sw_settings_free (none);
  free (path);
}

static void
set (const char *key, const char *value)
{
  ck_assert_int_eq (sw_settings_set (settings, key, value, report), SW_OK);
}

static void
put_inputs (void)
{
  put ("a.csv", SPANS);
  put ("b.csv", LEVELS);
  put ("c.csv", STOCK);
}

/* ---- What is kept ---------------------------------------------------------- */

START_TEST (byte_for_byte)
{
  put_inputs ();
  set ("kerf", "4");
  set ("job", "=north");
  make_plan ("a.csv", "b.csv", "c.csv");
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  ck_holds ("plan/job/spans.csv", SPANS);
  ck_holds ("plan/job/levels.csv", LEVELS);
  ck_holds ("plan/job/stock.csv", STOCK);
  ck_holds ("plan/job/settings.csv", "key,value\r\nkerf,4mm\r\njob,'=north\r\n");
  ck_remarks ("");
  char *path = inside ("plan/job");
  ck_assert_uint_eq (fixture_names (path), 5);
  free (path);
  ck_keeps_its_job ("plan");
}
END_TEST

/* If all settings are at their defaults, no settings are written.  The style of the tables is a setting. */
START_TEST (no_more_than_there_is)
{
  put_inputs ();
  make_plan ("a.csv", NULL, NULL);
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  char *path = inside ("plan/job");
  ck_assert_uint_eq (fixture_names (path), 2);
  free (path);
  ck_keeps_its_job ("plan");
  set ("csv-style", "semicolon");
  set ("tax", "8.25");
  make_plan ("a.csv", NULL, NULL);
  ck_assert_int_eq (write_to ("other"), SW_OK);
  ck_holds ("other/job/settings.csv", "\xEF\xBB\xBFkey;value\r\ntax;8,25\r\ncsv-style;semicolon\r\n");
  ck_keeps_its_job ("other");
}
END_TEST

/* The bytes that were read are kept, not those that the file has now. */
START_TEST (as_it_was_read)
{
  put_inputs ();
  make_plan ("a.csv", "b.csv", NULL);
  put ("a.csv", "ruined");
  char *path = inside ("b.csv");
  ck_assert_int_eq (unlink (path), 0);
  free (path);
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  ck_holds ("plan/job/spans.csv", SPANS);
  ck_holds ("plan/job/levels.csv", LEVELS);
}
END_TEST

/* After a second plan in the same folder, nothing of the first plan's job is left. */
START_TEST (two_plans_one_folder)
{
  put_inputs ();
  set ("kerf", "4");
  make_plan ("a.csv", "b.csv", "c.csv");
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  set ("kerf", "3");
  put ("a.csv", MORE_SPANS);
  make_plan ("a.csv", NULL, NULL);
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  ck_holds ("plan/job/spans.csv", MORE_SPANS);
  ck_holds ("plan/job/levels.csv", NULL);
  ck_holds ("plan/job/stock.csv", NULL);
  ck_holds ("plan/job/settings.csv", NULL);
  ck_remarks ("");
  ck_keeps_its_job ("plan");
  /* Other files of the folder are left alone. */
  put ("plan/job/notes.txt", "mine");
  make_plan ("a.csv", "b.csv", NULL);
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  ck_holds ("plan/job/notes.txt", "mine");
  ck_keeps_its_job ("plan");
}
END_TEST

/* ---- What is not overwritten ------------------------------------------------- */

static void
ck_refused (const char *name, const char *says, const char *remark)
{
  char *before = fixture_bytes (directory, "plan/cuts.csv");
  char *kept = fixture_bytes (directory, "plan/job/kept.csv");
  ck_assert_int_eq (write_to (name), SW_USAGE);
  remarks_say (report, says);
  remarks_say (report, ": write to another directory");
  ck_remarks (remark);
  ck_holds ("plan/cuts.csv", before);
  ck_holds ("plan/job/kept.csv", kept);
  free (kept);
  free (before);
}

START_TEST (edited_since)
{
  put_inputs ();
  make_plan ("a.csv", "b.csv", NULL);
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  put ("plan/job/spans.csv", MORE_SPANS);
  ck_refused ("plan", "was edited after the plan in this folder was made, and would be overwritten",
              "fault spans.csv\n");
  ck_holds ("plan/job/spans.csv", MORE_SPANS);
  /* The same holds where the new job has no such file. */
  put ("plan/job/spans.csv", SPANS);
  put ("plan/job/levels.csv", "level,section\nlow,rail\n");
  make_plan ("a.csv", NULL, NULL);
  ck_refused ("plan", "was edited", "fault levels.csv\n");
  /* The file was edited to exactly what would be written. */
  put ("plan/job/levels.csv", LEVELS);
  put ("plan/job/spans.csv", MORE_SPANS);
  put ("a.csv", MORE_SPANS);
  make_plan ("a.csv", NULL, NULL);
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  ck_holds ("plan/job/levels.csv", NULL);
  ck_keeps_its_job ("plan");
}
END_TEST

/* A folder called job that no plan has made. */
START_TEST (not_a_plans)
{
  put_inputs ();
  make ("plan");
  make ("plan/job");
  put ("plan/job/spans.csv", MORE_SPANS);
  make_plan ("a.csv", NULL, NULL);
  ck_refused ("plan", "was not put here by a plan, and would be overwritten or taken for a part of its job",
              "fault spans.csv\n");
  ck_holds ("plan/job/spans.csv", MORE_SPANS);
  char *path = inside ("plan");
  ck_assert_uint_eq (fixture_names (path), 1);
  free (path);
}
END_TEST

/* It would be read as a part of a job to which it does not belong. */
START_TEST (put_there_since)
{
  put_inputs ();
  make_plan ("a.csv", NULL, NULL);
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  put ("plan/job/stock.csv", STOCK);
  ck_refused ("plan", "was not put here by a plan", "fault stock.csv\n");
  ck_holds ("plan/job/stock.csv", STOCK);
}
END_TEST

/* ---- A plan's folder as the job's ------------------------------------------- */

START_TEST (the_jobs_own_folder)
{
  make ("lane");
  put ("lane/spans.csv", SPANS);
  put ("lane/levels.csv", LEVELS);
  put ("lane/settings.csv", "key,value,remark\nkerf,4,new blade\n");
  make_plan_of_folder ("lane");
  ck_assert_int_eq (write_to ("lane"), SW_OK);
  ck_holds ("lane/job/spans.csv", SPANS);
  ck_holds ("lane/job/settings.csv", "key,value\r\nkerf,4mm\r\n");
  ck_holds ("lane/settings.csv", "key,value,remark\nkerf,4,new blade\n");
  ck_keeps_its_job ("lane");
  /* Plan once more after the job has been edited. */
  put ("lane/spans.csv", MORE_SPANS);
  make_plan_of_folder ("lane");
  ck_assert_int_eq (write_to ("lane"), SW_OK);
  ck_holds ("lane/job/spans.csv", MORE_SPANS);
  ck_keeps_its_job ("lane");
}
END_TEST

/* The kept job is edited and planned into the folder that keeps it. */
START_TEST (from_what_is_kept)
{
  put_inputs ();
  set ("kerf", "4");
  make_plan ("a.csv", "b.csv", NULL);
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  sw_settings_free (settings);
  settings = sw_settings_new ();
  put ("plan/job/spans.csv", MORE_SPANS);
  put ("plan/job/settings.csv", "key,value,remark\nkerf,0.5cm,new blade\n");
  make_plan_of_folder ("plan/job");
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  ck_holds ("plan/job/spans.csv", MORE_SPANS);
  ck_holds ("plan/job/levels.csv", LEVELS);
  /* The file means the same as what would be written, so that it stays with its remarks. */
  ck_holds ("plan/job/settings.csv", "key,value,remark\nkerf,0.5cm,new blade\n");
  ck_remarks ("");
  ck_keeps_its_job ("plan");
}
END_TEST

START_TEST (from_what_is_kept_with_other_settings)
{
  put_inputs ();
  set ("keep", "700");
  make_plan ("a.csv", "b.csv", NULL);
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  sw_settings_free (settings);
  settings = sw_settings_new ();
  set ("kerf", "5");
  make_plan_of_folder ("plan/job");
  ck_refused ("plan", "is an input and would be overwritten by what the plan keeps of its job", "fault settings.csv\n");
  ck_holds ("plan/job/settings.csv", "key,value\r\nkeep,700mm\r\n");
}
END_TEST

/* Only a part comes from there: the folder may have the only copy of the rest. */
START_TEST (from_a_part_of_what_is_kept)
{
  put_inputs ();
  make_plan ("a.csv", "b.csv", NULL);
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  make_plan ("plan/job/spans.csv", NULL, NULL);
  ck_refused ("plan", "would be overwritten or removed, and inputs of this job are beside it", "fault levels.csv\n");
  make_plan ("plan/job/spans.csv", "plan/job/levels.csv", "c.csv");
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  ck_holds ("plan/job/stock.csv", STOCK);
  ck_keeps_its_job ("plan");
  /* The file of spans holds levels. */
  put ("plan/job/levels.csv", MORE_SPANS);
  make_plan ("plan/job/levels.csv", NULL, NULL);
  ck_refused ("plan", "inputs of this job are beside it", "fault spans.csv\n");
}
END_TEST

START_TEST (the_list_is_an_input)
{
  put_inputs ();
  make ("plan");
  make ("plan/job");
  put ("plan/job/kept.csv", "file,bytes,cksum,run,span\nspans.csv,1,1,lane,2400\n");
  make_plan ("plan/job/kept.csv", NULL, NULL);
  ck_assert_int_eq (write_to ("plan"), SW_USAGE);
  remarks_say (report, "is an input and would be overwritten by the plan's kept.csv");
  ck_holds ("plan/cuts.csv", NULL);
}
END_TEST

START_TEST (the_list_is_none)
{
  put_inputs ();
  make ("plan");
  make ("plan/job");
  put ("plan/job/kept.csv", "mine\n");
  make_plan ("a.csv", NULL, NULL);
  ck_assert_int_eq (write_to ("plan"), SW_REJECTED);
  remarks_say (report, "expected a column \"file\"");
  ck_holds ("plan/cuts.csv", NULL);
  ck_holds ("plan/job/kept.csv", "mine\n");
}
END_TEST

/* ---- Failures ------------------------------------------------------------- */

START_TEST (no_folder_can_be)
{
  put_inputs ();
  make ("plan");
  put ("plan/job", "mine");
  make_plan ("a.csv", NULL, NULL);
  ck_assert_int_eq (write_to ("plan"), SW_IO);
  ck_remarks ("fault job\n");
  ck_holds ("plan/job", "mine");
  char *path = inside ("plan");
  ck_assert_uint_eq (fixture_names (path), 1);
  free (path);
}
END_TEST

/* The link may point to a stranger's folder. */
START_TEST (folder_is_a_link)
{
  put_inputs ();
  make ("plan");
  make ("elsewhere");
  char *path = inside ("plan/job");
  ck_assert_int_eq (symlink ("../elsewhere", path), 0);
  make_plan ("a.csv", NULL, NULL);
  ck_assert_int_eq (write_to ("plan"), SW_IO);
  ck_remarks ("fault job\n");
  free (path);
  path = inside ("elsewhere");
  ck_assert_uint_eq (fixture_names (path), 0);
  free (path);
  path = inside ("plan");
  ck_assert_uint_eq (fixture_names (path), 1);
  free (path);
}
END_TEST

/* The disk is full when the job's files are written.  What was made is removed. */
START_TEST (disk_full)
{
  struct rlimit before;
  sw_text long_spans = { 0 };
  sw_text_add (&long_spans, SPANS);
  sw_text_repeat (&long_spans, '\n', 5000);
  char *bytes = sw_text_take (&long_spans);
  put ("a.csv", bytes);
  make_plan ("a.csv", NULL, NULL);
  ck_assert_int_eq (getrlimit (RLIMIT_FSIZE, &before), 0);
  void (*handler) (int) = signal (SIGXFSZ, SIG_IGN);
  struct rlimit small = before;
  small.rlim_cur = 4000;
  ck_assert_int_eq (setrlimit (RLIMIT_FSIZE, &small), 0);
  sw_status status = write_to ("plan");
  ck_assert_int_eq (setrlimit (RLIMIT_FSIZE, &before), 0);
  signal (SIGXFSZ, handler);
  ck_assert_int_eq (status, SW_IO);
  remarks_say (report, "cannot be written: ");
  ck_remarks ("fault spans.csv\n");
  char *path = inside ("plan");
  ck_assert_int_ne (access (path, F_OK), 0);
  free (path);
  free (bytes);
}
END_TEST

/* One of the plan's own files cannot get its name, so that the job stays as it was, too. */
START_TEST (name_taken_by_a_directory)
{
  put_inputs ();
  make_plan ("a.csv", "b.csv", NULL);
  ck_assert_int_eq (write_to ("plan"), SW_OK);
  char *path = inside ("plan/fit.csv");
  ck_assert_int_eq (unlink (path), 0);
  free (path);
  make ("plan/fit.csv");
  make_plan ("a.csv", NULL, "c.csv");
  ck_assert_int_eq (write_to ("plan"), SW_IO);
  ck_remarks ("fault fit.csv\n");
  ck_holds ("plan/job/levels.csv", LEVELS);
  ck_holds ("plan/job/stock.csv", NULL);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("folder_keep");
  TCase *tests = tcase_create ("folder_keep");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_set_timeout (tests, 120);
  tcase_add_test (tests, byte_for_byte);
  tcase_add_test (tests, no_more_than_there_is);
  tcase_add_test (tests, as_it_was_read);
  tcase_add_test (tests, two_plans_one_folder);
  tcase_add_test (tests, edited_since);
  tcase_add_test (tests, not_a_plans);
  tcase_add_test (tests, put_there_since);
  tcase_add_test (tests, the_jobs_own_folder);
  tcase_add_test (tests, from_what_is_kept);
  tcase_add_test (tests, from_what_is_kept_with_other_settings);
  tcase_add_test (tests, from_a_part_of_what_is_kept);
  tcase_add_test (tests, the_list_is_an_input);
  tcase_add_test (tests, the_list_is_none);
  tcase_add_test (tests, no_folder_can_be);
  tcase_add_test (tests, folder_is_a_link);
  tcase_add_test (tests, disk_full);
  tcase_add_test (tests, name_taken_by_a_directory);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
