/* check_no_memory.c - a whole job when memory runs out at any one moment
 *
 * The job is read, planned and put into tables and text, and its plan is
 * written and read back, again and again;
 * each time one more allocation passes before one fails, or all from there on
 * fail.  What comes of it is a status or the right plan, never a crash, and
 * (under a sanitizer or valgrind) never a leak.  Allocations inside GLPK and
 * the C library are not among them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "failing.h"
#include "plan_fixture.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static char *directory;
static char spans[64], levels[64], stock[64], extras[64], yards[64], fittings[64];
/* A whole order: its files are named too. */
static bool whole_order;

static void
put (char path[64], const char *name, const char *text)
{
  snprintf (path, 64, "%s/%s", directory, name);
  FILE *file = fopen (path, "wb");
  ck_assert_ptr_nonnull (file);
  fputs (text, file);
  ck_assert_int_eq (fclose (file), 0);
}

/* Two rails that stagger, a plinth with blocks, hand stock and a limit. */
static void
setup (void)
{
  directory = fixture_directory ();
  put (spans, "spans.csv", "run,span,start\nroad,2350,\nroad,2350,\nroad,1950,\nside,2100,mitre\n");
  put (levels, "levels.csv",
       "level,section,runs,blocks,block_length\nplinth,rail,between,1,150\nlow,rail,,,\nhigh,rail,,,\n");
  put (stock, "stock.csv", "section,length,price,hand,limit\nrail,4.8,20,1,\nrail,5.4,24,,1\n");
  /* With a warning, which the order takes along. */
  put (extras, "extras.csv", "label,section,length,quantity,colour\nstake,rail,700,2,\n");
}

/* The same from two yards, in packs and at a price that falls, with fittings. */
static void
order_whole (void)
{
  whole_order = true;
  put (stock, "stock.csv",
       "section,length,price,hand,yard,from,pack\nrail,4.8,20,1,north,,\nrail,4.8,17,,north,3,\n"
       "rail,5.4,22,,south,,2\nrail,4.8,19.5,,south,,\n");
  put (yards, "yards.csv", "yard,delivery,minimum,description\nnorth,9,30,by the river\nsouth,5,,\n");
  put (fittings, "fittings.csv", "item,per,each,pack,price,only\nnail,crossing,2,50,3,road;side\nnail,join,4,,,\ncap,post,,,2,\n");
}

static sw_sources
all_sources (void)
{
  return (sw_sources){ .spans = spans,
                       .levels = levels,
                       .stock = stock,
                       .extras = extras,
                       .yards = whole_order ? yards : NULL,
                       .fittings = whole_order ? fittings : NULL };
}

static void
teardown (void)
{
  fixture_remove (directory);
}

typedef struct outcome
{
  sw_status status;
  sw_summary summary;
  size_t rows[4], text;
} outcome;

static sw_status
show (const sw_plan *plan, outcome *out)
{
  sw_status status = SW_OK;
  for (int kind = SW_TABLE_ORDER; kind <= SW_TABLE_SETOUT && status == SW_OK; kind++)
    {
      sw_table *table = NULL;
      char *csv = NULL;
      status = sw_plan_table (plan, (sw_table_kind)kind, &table);
      if (status == SW_OK)
        status = sw_table_csv (table, &csv);
      if (status == SW_OK)
        out->rows[kind] = sw_table_rows (table);
      sw_text_free (csv);
      sw_table_free (table);
    }
  char *text = NULL;
  if (status == SW_OK)
    status = sw_plan_text (plan, SW_TEXT_ALL, 0, &text);
  if (status == SW_OK)
    out->text = strlen (text);
  sw_text_free (text);
  return status;
}

/* No assertions here: they allocate. */
static void
go_through (outcome *out)
{
  *out = (outcome){ .status = SW_NO_MEMORY };
  sw_report *report = sw_report_new ();
  sw_settings *settings = sw_settings_new ();
  const sw_sources sources = all_sources ();
  sw_job *job = NULL;
  sw_plan *plan = NULL;
  if (report != NULL && settings != NULL)
    out->status = sw_settings_set (settings, "kerf", "3", report);
  if (out->status == SW_OK)
    out->status = sw_job_read (&job, &sources, settings, report);
  if (out->status == SW_OK)
    out->status = sw_plan_make (&plan, job, NULL, report);
  if (out->status == SW_OK)
    {
      sw_plan_summary (plan, &out->summary);
      out->status = show (plan, out);
    }
  sw_plan_free (plan);
  sw_job_free (job);
  sw_settings_free (settings);
  sw_report_free (report);
}

/* _i 0: all fail from there on; 1: only one does; 2, 3: the same with a whole order. */
START_TEST (memory_runs_out)
{
  outcome whole, now;
  if (_i >= 2)
    order_whole ();
  go_through (&whole);
  ck_assert_int_eq (whole.status, SW_OK);
  ck_assert_int_eq (whole.summary.outcome, SW_PROVED);
  size_t passed = 0, refused = 0;
  for (bool failed = true; failed; passed++)
    {
      ck_assert_uint_lt (passed, 100000);
      (_i % 2 == 0 ? failing_start : failing_start_once) (passed);
      go_through (&now);
      failed = failing_stop ();
      refused += now.status == SW_NO_MEMORY;
      if (now.status == SW_NO_MEMORY && failed)
        continue;
      ck_assert_msg (now.status == SW_OK, "after %zu allocations: %s", passed, sw_status_text (now.status));
      /* What failed was only wanted: the plan is as good, if perhaps not proved. */
      ck_assert_msg (now.summary.cost >= whole.summary.bound && now.summary.bound <= whole.summary.cost,
                     "after %zu allocations", passed);
      ck_assert_uint_gt (now.text, 0);
      if (failed)
        continue;
      ck_assert_int_eq (now.summary.cost, whole.summary.cost);
      ck_assert_int_eq (now.summary.outcome, whole.summary.outcome);
      ck_assert_mem_eq (now.rows, whole.rows, sizeof now.rows);
      ck_assert_uint_eq (now.text, whole.text);
    }
  ck_assert_uint_gt (refused, 100);
}
END_TEST

/* ---- From a plan to its files and back ---------------------------------------------- */

typedef struct handed_over
{
  sw_report *report;
  sw_job *job;
  sw_plan *plan;
  char folder[80];
} handed_over;

static void
hand_over (handed_over *h)
{
  const sw_sources sources = all_sources ();
  sw_settings *settings = sw_settings_new ();
  h->report = sw_report_new ();
  ck_assert_int_eq (sw_job_read (&h->job, &sources, settings, h->report), SW_OK);
  ck_assert_int_eq (sw_plan_make (&h->plan, h->job, NULL, h->report), SW_OK);
  /* In memory where that can be had: every file is brought to the disk, a thousand times. */
  snprintf (h->folder, sizeof h->folder, "%s/no-memory-XXXXXX",
            access ("/dev/shm", W_OK) == 0 ? "/dev/shm" : directory);
  ck_assert_ptr_nonnull (mkdtemp (h->folder));
  sw_settings_free (settings);
}

static sw_status
write_and_read_back (const handed_over *h)
{
  sw_report *report = sw_report_new ();
  if (report == NULL)
    return SW_NO_MEMORY;
  sw_status status = sw_plan_write (h->plan, h->folder, report);
  sw_verdict verdict;
  if (status == SW_OK)
    status = sw_verify (h->job, h->folder, &verdict, report);
  char *text = NULL;
  if (status == SW_OK)
    status = sw_verdict_text (&verdict, h->job, h->plan, 0, &text);
  if ((status == SW_OK) != (text != NULL))
    status = SW_FAILED;
  sw_text_free (text);
  sw_report_free (report);
  return status;
}

/* _i as above.  No file is ever anything but whole, and none is half made. */
START_TEST (memory_runs_out_with_files)
{
  handed_over h;
  if (_i >= 2)
    order_whole ();
  hand_over (&h);
  ck_assert_int_eq (write_and_read_back (&h), SW_OK);
  size_t passed = 0, refused = 0;
  for (bool failed = true; failed; passed++)
    {
      ck_assert_uint_lt (passed, 100000);
      (_i % 2 == 0 ? failing_start : failing_start_once) (passed);
      sw_status status = write_and_read_back (&h);
      failed = failing_stop ();
      refused += status == SW_NO_MEMORY;
      ck_assert_msg (status == (failed ? SW_NO_MEMORY : SW_OK), "after %zu allocations: %s", passed,
                     sw_status_text (status));
      ck_assert_uint_eq (fixture_names (h.folder), 6);
    }
  ck_assert_uint_gt (refused, 100);
  sw_plan_free (h.plan);
  sw_job_free (h.job);
  sw_report_free (h.report);
  fixture_remove (strdup (h.folder));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("no memory");
  TCase *job = tcase_create ("whole job");
  tcase_add_checked_fixture (job, setup, teardown);
  tcase_set_timeout (job, 300);
  tcase_add_loop_test (job, memory_runs_out, 0, 4);
  tcase_add_loop_test (job, memory_runs_out_with_files, 0, 4);
  suite_add_tcase (suite, job);
  return suite_run (suite);
}
