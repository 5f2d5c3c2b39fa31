/* check_replan.c - planning on, through the library: figures, use, and memory that runs out at any one moment
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "failing.h"
#include "plan_fixture.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *directory;
static char plan[300], site[300];
static sw_settings *settings;

static void
put_site (const char *rows)
{
  FILE *file = fopen (site, "w");
  ck_assert_ptr_nonnull (file);
  fprintf (file, "piece,board,state,left\n%s", rows);
  ck_assert_int_eq (fclose (file), 0);
}

/* A fence of four bays with a gate, a mitre and blocks, planned, and its plan in a folder. */
static void
begin (void)
{
  fixture front;
  sw_plan *made = NULL;
  fixture_front (&front);
  directory = fixture_directory ();
  snprintf (plan, sizeof plan, "%s/plan", directory);
  snprintf (site, sizeof site, "%s/site.csv", directory);
  ck_assert_int_eq (sw_plan_make (&made, front.job, NULL, NULL), SW_OK);
  ck_assert_int_eq (sw_plan_write (made, plan, NULL), SW_OK);
  sw_plan_free (made);
  fixture_drop (&front);
  settings = sw_settings_new ();
  ck_assert_ptr_nonnull (settings);
}

static void
end (void)
{
  sw_settings_free (settings);
  fixture_remove (directory);
}

static sw_status
plan_on (sw_replan **out)
{
  const sw_replan_request request = { .plan = plan, .site = site, .settings = settings };
  return sw_replan_make (out, &request, NULL, NULL);
}

/* The label of the first piece that goes past posts. */
static const char *
first_through (const sw_plan *of)
{
  for (size_t p = 0; p < of->piece_count; p++)
    if (of->pieces[p].kind == SW_PIECE_THROUGH)
      return of->pieces[p].label;
  ck_abort_msg ("there is none");
}

START_TEST (figures)
{
  sw_replan *on = NULL, *then = NULL;
  sw_replan_figures f;
  char row[600];
  begin ();
  put_site ("");
  ck_assert_int_eq (plan_on (&on), SW_OK);
  sw_replan_get (on, &f);
  const int64_t all = (int64_t)sw_replan_plan (on)->piece_count;
  ck_assert_int_eq (f.revision, 1);
  ck_assert_int_eq (f.bought, 0);
  ck_assert_int_eq (f.same, all);
  ck_assert_int_eq (f.fixed + f.cut + f.changed + f.gone, 0);
  snprintf (row, sizeof row, "%s,,fixed,\n", first_through (sw_replan_plan (on)));
  put_site (row);
  ck_assert_int_eq (plan_on (&then), SW_OK);
  sw_replan_get (then, &f);
  ck_assert_int_eq (f.fixed, 1);
  ck_assert_int_eq (f.same, all - 1);
  ck_assert_int_eq (f.bought, 0);
  snprintf (row, sizeof row, "%s,,cut,\n", first_through (sw_replan_plan (on)));
  sw_replan_free (then);
  put_site (row);
  ck_assert_int_eq (plan_on (&then), SW_OK);
  sw_replan_get (then, &f);
  ck_assert_int_eq (f.cut, 1);
  ck_assert_int_eq (f.changed + f.gone, 0);
  sw_replan_free (then);
  sw_replan_free (on);
  end ();
}
END_TEST

START_TEST (use)
{
  sw_replan *on = NULL;
  sw_report *report = sw_report_new ();
  sw_settings *plain = sw_settings_new ();
  const sw_replan_request none = { .settings = plain };
  const sw_replan_request nowhere = { .plan = "nowhere", .site = "nowhere.csv", .settings = plain };
  ck_assert_int_eq (sw_replan_make (&on, &none, NULL, report), SW_USAGE);
  ck_assert_ptr_null (on);
  ck_assert_int_ne (sw_replan_make (&on, &nowhere, NULL, report), SW_OK);
  ck_assert_ptr_null (on);
  ck_assert_uint_gt (sw_report_count_of (report, SW_FAULT), 0);
  sw_replan_free (NULL);
  sw_settings_free (plain);
  sw_report_free (report);
}
END_TEST

/* Wherever it runs out, nothing is handed over that is not whole, and nothing is lost. */
START_TEST (memory)
{
  char row[600];
  sw_replan *on = NULL;
  size_t failures = 0;
  begin ();
  put_site ("");
  ck_assert_int_eq (plan_on (&on), SW_OK);
  snprintf (row, sizeof row, "%s,,fixed,\n,1,bad,1m\n,2,cut up,\n", first_through (sw_replan_plan (on)));
  sw_replan_free (on);
  put_site (row);
  for (size_t successes = 0, failed = 1; failed; successes += 1 + successes / 40)
    {
      char *text = NULL;
      on = NULL;
      failing_start (successes);
      sw_status status = plan_on (&on);
      if (status == SW_OK)
        status = sw_replan_text (on, 0, &text);
      failed = failing_stop ();
      failures += failed;
      /* A plan that was found stands, though the search for a better one ended. */
      ck_assert_msg (status == SW_NO_MEMORY || status == SW_OK, "after %zu allocations: %s", successes,
                     sw_status_text (status));
      ck_assert ((status == SW_OK) == (text != NULL));
      sw_text_free (text);
      sw_replan_free (on);
    }
  ck_assert_uint_gt (failures, 20);
  end ();
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("replan");
  TCase *tcase = tcase_create ("replan");
  /* There are hundreds of runs, which are slow under valgrind. */
  tcase_set_timeout (tcase, 300);
  tcase_add_test (tcase, figures);
  tcase_add_test (tcase, use);
  tcase_add_test (tcase, memory);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
