/* check_posts_memory.c - stretches divided when memory runs out, or GLPK fails, at any one moment
 *
 * The result is a status or a right division, never a crash, and (under a
 * sanitizer or valgrind) never a leak.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "failing.h"
#include "failing_glpk.h"
#include "plan_fixture.h"
#include "suite.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

static sw_job *job;

static void
setup (void)
{
  const fixture_texts texts = { .spans = "run,span,divide\nroad,6900,best\nroad,2350,\n",
                                .stock = "section,length,price,hand\nrail,2.4,11,1\nrail,4.8,20,\nrail,5.4,24,\n",
                                .settings = "post-cost=12\nmin-bay=2100" };
  job = fixture_job (&texts);
}

static void
teardown (void)
{
  sw_job_free (job);
}

typedef struct outcome
{
  sw_status status;
  sw_posts_figures figures;
} outcome;

/* There are no assertions here, because they allocate. */
static void
go_through (outcome *out)
{
  sw_posts *posts = NULL;
  sw_report *report = sw_report_new ();
  sw_table *table = NULL;
  char *text = NULL, *spans = NULL;
  *out = (outcome){ .status = SW_NO_MEMORY };
  if (report != NULL)
    out->status = sw_posts_make (&posts, job, NULL, report);
  if (out->status == SW_OK)
    out->status = sw_posts_text (posts, 0, &text);
  if (out->status == SW_OK)
    out->status = sw_posts_spans (posts, &spans);
  if (out->status == SW_OK)
    out->status = sw_posts_table (posts, &table);
  if (out->status == SW_OK)
    sw_posts_summary (posts, &out->figures);
  sw_text_free (text);
  sw_text_free (spans);
  sw_table_free (table);
  sw_posts_free (posts);
  sw_report_free (report);
}

/* _i: whether only one allocation fails, or all from then on. */
START_TEST (memory)
{
  outcome whole, now;
  size_t refused = 0;
  go_through (&whole);
  ck_assert_int_eq (whole.status, SW_OK);
  ck_assert_int_eq (whole.figures.outcome, SW_PROVED);
  /* Strides: a division takes tens of thousands of allocations, one as good as the next. */
  for (size_t passed = 0;; passed += passed / 40 + 1)
    {
      (_i == 1 ? failing_start_once : failing_start) (passed);
      go_through (&now);
      const bool failed = failing_stop ();
      refused += now.status == SW_NO_MEMORY;
      ck_assert_msg (now.status == SW_OK || (failed && now.status == SW_NO_MEMORY), "after %zu allocations: %s", passed,
                     sw_status_text (now.status));
      if (now.status == SW_OK && now.figures.outcome == SW_PROVED)
        ck_assert_int_eq (now.figures.cost, whole.figures.cost);
      if (!failed)
        break;
    }
  ck_assert_int_eq (now.figures.outcome, SW_PROVED);
  ck_assert_uint_gt (refused, 100);
}
END_TEST

/* GLPK gives up at one call: its memory is gone, and that of every other programme with it. */
START_TEST (glpk)
{
  outcome whole, now;
  go_through (&whole);
  for (int passed = 0;; passed += passed / 20 + 1)
    {
      calls_left = passed;
      go_through (&now);
      const bool failed = calls_left < 0;
      calls_left = INT_MAX;
      ck_assert_msg (now.status == SW_OK || now.status == SW_FAILED || now.status == SW_NO_MEMORY, "after %d calls: %s",
                     passed, sw_status_text (now.status));
      if (now.status == SW_OK && now.figures.outcome == SW_PROVED)
        ck_assert_int_eq (now.figures.cost, whole.figures.cost);
      if (!failed)
        break;
      ck_assert_int_lt (passed, 1000000);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("posts_memory");
  TCase *tests = tcase_create ("posts_memory");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_set_timeout (tests, 600);
  tcase_add_loop_test (tests, memory, 0, 2);
  tcase_add_test (tests, glpk);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
