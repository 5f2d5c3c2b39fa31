/* check_threads.c - threads work on different objects, or plan one job, at the same time
 *
 * This is worth most in a build with --enable-sanitizers=thread, which reports
 * every access that is not in order.  In other builds the threads must still
 * make the bytes that one thread makes, and leave nothing of themselves behind
 * when they end (leak checkers).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "plan_fixture.h"
#include "spanwright.h"
#include "base/text.h"

#include "suite.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define THREADS 2
#define ROUNDS 2

static const char *
sample_file (const char *sample, const char *name, char path[512])
{
  const char *top = getenv ("srcdir");
  snprintf (path, 512, "%s/samples/%s/%s", top != NULL ? top : ".", sample, name);
  return access (path, R_OK) == 0 ? path : NULL;
}

static sw_job *
read_sample (const char *sample, sw_report *report)
{
  char path[6][512];
  sw_settings *settings = sw_settings_new ();
  ck_assert_ptr_nonnull (settings);
  const char *file = sample_file (sample, "settings.csv", path[5]);
  if (file != NULL)
    ck_assert_int_eq (sw_settings_read (settings, file, report), SW_OK);
  sw_sources sources = { .spans = sample_file (sample, "spans.csv", path[0]),
                         .levels = sample_file (sample, "levels.csv", path[1]),
                         .stock = sample_file (sample, "stock.csv", path[2]),
                         .sections = sample_file (sample, "sections.csv", path[3]),
                         .extras = sample_file (sample, "extras.csv", path[4]) };
  sw_job *job = NULL;
  ck_assert_int_eq (sw_job_read (&job, &sources, settings, report), SW_OK);
  sw_settings_free (settings);
  return job;
}

static void
add_remarks (sw_text *all, const sw_report *report)
{
  for (size_t i = 0; i < sw_report_count (report); i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      sw_text_printf (all, "%d %zu %s\n", (int)remark->severity, remark->line, remark->message);
    }
}

static void
add_plan (sw_text *all, const sw_plan *plan)
{
  for (int kind = SW_TABLE_ORDER; kind <= SW_TABLE_SETOUT; kind++)
    {
      sw_table *table = NULL;
      char *csv = NULL;
      ck_assert_int_eq (sw_plan_table (plan, (sw_table_kind)kind, &table), SW_OK);
      ck_assert_int_eq (sw_table_csv (table, &csv), SW_OK);
      sw_text_add (all, csv);
      sw_text_free (csv);
      sw_table_free (table);
    }
  char *text = NULL;
  ck_assert_int_eq (sw_plan_text (plan, SW_TEXT_ALL | SW_TEXT_MESSAGE, 0, &text), SW_OK);
  sw_text_add (all, text);
  sw_text_free (text);
}

/* Plan JOB, write the plan, read it back and check it.  Returns all that was said. */
static char *
whole_use (const sw_job *job)
{
  sw_report *report = sw_report_new ();
  ck_assert_ptr_nonnull (report);
  sw_text all = { 0 };
  sw_plan *plan = NULL;
  ck_assert_int_eq (sw_plan_make (&plan, job, NULL, report), SW_OK);
  add_plan (&all, plan);
  char *folder = fixture_directory ();
  ck_assert_int_eq (sw_plan_write (plan, folder, report), SW_OK);
  sw_verdict verdict;
  ck_assert_int_eq (sw_verify (job, folder, &verdict, report), SW_OK);
  fixture_remove (folder);
  char *text = NULL;
  ck_assert_int_eq (sw_verdict_text (&verdict, job, plan, 0, &text), SW_OK);
  sw_text_add (&all, text);
  sw_text_free (text);
  add_remarks (&all, report);
  sw_plan_free (plan);
  sw_report_free (report);
  char *bytes = sw_text_take (&all);
  ck_assert_ptr_nonnull (bytes);
  return bytes;
}

static char *
whole_sample (const char *sample)
{
  sw_report *report = sw_report_new ();
  ck_assert_ptr_nonnull (report);
  sw_job *job = read_sample (sample, report);
  char *bytes = whole_use (job);
  sw_job_free (job);
  sw_report_free (report);
  return bytes;
}

/* The part of one thread.  Its results are compared in the test's own thread. */
typedef struct part
{
  pthread_barrier_t *start;
  const char *sample; /* folder to read in each round; NULL: plan JOB */
  const sw_job *job;
  char *bytes[ROUNDS];
} part;

static void *
work (void *data)
{
  part *mine = data;
  pthread_barrier_wait (mine->start);
  for (int i = 0; i < suite_rounds (ROUNDS); i++)
    mine->bytes[i] = mine->sample != NULL ? whole_sample (mine->sample) : whole_use (mine->job);
  return NULL;
}

static void
run_beside (part parts[THREADS], char *const wanted[THREADS])
{
  pthread_barrier_t start;
  pthread_t threads[THREADS];
  ck_assert_int_eq (pthread_barrier_init (&start, NULL, THREADS), 0);
  for (int t = 0; t < THREADS; t++)
    {
      parts[t].start = &start;
      ck_assert_int_eq (pthread_create (&threads[t], NULL, work, &parts[t]), 0);
    }
  for (int t = 0; t < THREADS; t++)
    ck_assert_int_eq (pthread_join (threads[t], NULL), 0);
  pthread_barrier_destroy (&start);
  for (int t = 0; t < THREADS; t++)
    for (int i = 0; i < suite_rounds (ROUNDS); i++)
      {
        ck_assert_str_eq (parts[t].bytes[i], wanted[t]);
        free (parts[t].bytes[i]);
      }
}

static const char *const pairs[][THREADS] = {
  { "homestead", "corner-block" },
  { "corner-block", "corner-block" },
  { "inches", "front-fence" },
};

START_TEST (test_two_jobs)
{
  part parts[THREADS] = { 0 };
  char *wanted[THREADS];
  for (int t = 0; t < THREADS; t++)
    {
      parts[t].sample = pairs[_i][t];
      wanted[t] = whole_sample (parts[t].sample);
      ck_assert_uint_gt (strlen (wanted[t]), 2000);
    }
  run_beside (parts, wanted);
  for (int t = 0; t < THREADS; t++)
    free (wanted[t]);
}
END_TEST

START_TEST (test_one_job_in_two_threads)
{
  sw_report *report = sw_report_new ();
  ck_assert_ptr_nonnull (report);
  sw_job *job = read_sample ("homestead", report);
  char *alone = whole_use (job);
  part parts[THREADS] = { { .job = job }, { .job = job } };
  char *wanted[THREADS] = { alone, alone };
  run_beside (parts, wanted);
  free (alone);
  sw_job_free (job);
  sw_report_free (report);
}
END_TEST

static bool
stop_at_once (const sw_progress *progress, void *data)
{
  (void)progress;
  ++*(int *)data;
  return false;
}

/* Make plans that are cut short.  Each thread counts its own calls. */
static void *
work_and_stop (void *data)
{
  part *mine = data;
  pthread_barrier_wait (mine->start);
  for (int i = 0; i < suite_rounds (ROUNDS); i++)
    {
      int calls = 0;
      sw_limits limits = { .progress = stop_at_once, .data = &calls };
      sw_report *report = sw_report_new ();
      ck_assert_ptr_nonnull (report);
      sw_plan *plan = NULL;
      sw_text said = { 0 };
      ck_assert_int_eq (sw_plan_make (&plan, mine->job, &limits, report), SW_OK);
      sw_summary summary;
      sw_plan_summary (plan, &summary);
      sw_text_printf (&said, "outcome %d after %s\n", (int)summary.outcome, calls > 0 ? "a call" : "no call");
      add_plan (&said, plan);
      mine->bytes[i] = sw_text_take (&said);
      sw_plan_free (plan);
      sw_report_free (report);
    }
  return NULL;
}

START_TEST (test_stopped_beside_a_whole_one)
{
  sw_report *report = sw_report_new ();
  ck_assert_ptr_nonnull (report);
  sw_job *job = read_sample ("corner-block", report);
  char *wanted = whole_use (job);
  pthread_barrier_t start;
  ck_assert_int_eq (pthread_barrier_init (&start, NULL, THREADS), 0);
  part stopped = { .start = &start, .job = job }, whole = { .start = &start, .job = job };
  pthread_t threads[THREADS];
  ck_assert_int_eq (pthread_create (&threads[0], NULL, work_and_stop, &stopped), 0);
  ck_assert_int_eq (pthread_create (&threads[1], NULL, work, &whole), 0);
  for (int t = 0; t < THREADS; t++)
    ck_assert_int_eq (pthread_join (threads[t], NULL), 0);
  pthread_barrier_destroy (&start);
  char interrupted[80];
  snprintf (interrupted, sizeof interrupted, "outcome %d after a call\n", (int)SW_INTERRUPTED);
  for (int i = 0; i < suite_rounds (ROUNDS); i++)
    {
      ck_assert_str_eq (whole.bytes[i], wanted);
      ck_assert_int_eq (strncmp (stopped.bytes[i], interrupted, strlen (interrupted)), 0);
      ck_assert_str_eq (stopped.bytes[i], stopped.bytes[0]);
      free (whole.bytes[i]);
    }
  for (int i = suite_rounds (ROUNDS); i-- > 0;)
    free (stopped.bytes[i]);
  free (wanted);
  sw_job_free (job);
  sw_report_free (report);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("threads");
  TCase *tcase = tcase_create ("threads");
  tcase_set_timeout (tcase, 600); /* only in case it hangs */
  tcase_add_loop_test (tcase, test_two_jobs, 0, sizeof pairs / sizeof pairs[0]);
  tcase_add_test (tcase, test_one_job_in_two_threads);
  tcase_add_test (tcase, test_stopped_beside_a_whole_one);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
