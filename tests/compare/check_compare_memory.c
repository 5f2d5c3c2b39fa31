/* check_compare_memory.c - a comparison when memory runs out at any one moment
 *
 * As in check_no_memory.c, the result is a status or the right comparison,
 * never a crash, and (under a sanitizer or valgrind) never a leak.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "failing.h"
#include "plan_fixture.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

static sw_job *job;

static void
setup (void)
{
  const fixture_texts texts = { .spans = "run,span\nroad,2350\nroad,2350\nroad,1950\n",
                                .levels = "level,section\nlow,rail\nhigh,rail\n",
                                .sections = "section,spare\nrail,1\n",
                                .stock = "section,length,price,hand\nrail,2.4,11,1\nrail,4.8,20,\nrail,5.4,24,\n" };
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
  size_t text;
  size_t csv;
  bool known; /* the tipping price was found */
} outcome;

/* There are no assertions here, because they allocate. */
static void
go_through (const char *const *choices, size_t count, outcome *out)
{
  sw_comparison *comparison = NULL;
  sw_report *report = sw_report_new ();
  sw_table *table = NULL;
  char *text = NULL;
  char *csv = NULL;
  *out = (outcome){ .status = SW_NO_MEMORY };
  if (report != NULL)
    out->status = sw_compare (&comparison, job, choices, count, NULL, report);
  if (out->status == SW_OK)
    out->status = sw_comparison_text (comparison, 0, &text);
  if (out->status == SW_OK)
    out->status = sw_comparison_table (comparison, &table);
  if (out->status == SW_OK)
    out->status = sw_table_csv (table, &csv);
  if (out->status == SW_OK)
    {
      sw_tipping tipping;
      out->text = strlen (text);
      out->csv = strlen (csv);
      out->known = sw_comparison_tipping (comparison, 0, &tipping) && tipping.exact;
    }
  sw_text_free (csv);
  sw_text_free (text);
  sw_table_free (table);
  sw_comparison_free (comparison);
  sw_report_free (report);
}

/* Where a single failing allocation was dispensable, a proof may be missing, and the text then says so. */
static void
ck_survives (const char *const *choices, size_t count, bool once)
{
  outcome whole, now;
  size_t refused = 0;
  go_through (choices, count, &whole);
  ck_assert_int_eq (whole.status, SW_OK);
  ck_assert (whole.known);
  for (size_t passed = 0;; passed++)
    {
      ck_assert_uint_lt (passed, 100000);
      (once ? failing_start_once : failing_start) (passed);
      go_through (choices, count, &now);
      const bool failed = failing_stop ();
      refused += now.status == SW_NO_MEMORY;
      ck_assert_msg (now.status == SW_OK || (failed && now.status == SW_NO_MEMORY), "after %zu allocations: %s", passed,
                     sw_status_text (now.status));
      if (now.status == SW_OK && now.known)
        {
          ck_assert_uint_eq (now.text, whole.text);
          ck_assert_uint_eq (now.csv, whole.csv);
        }
      if (!failed)
        break;
    }
  ck_assert (now.known);
  ck_assert_uint_gt (refused, 100);
}

/* _i: whether only one allocation fails, or all from then on. */
START_TEST (choices_by_default)
{
  ck_survives (NULL, 0, _i == 1);
}
END_TEST

START_TEST (choices_given)
{
  static const char *const choices[] = { "4.8", "rail=5.4,4.8" };
  ck_survives (choices, 2, _i == 1);
}
END_TEST

/* The report of what is wrong needs memory, too. */
START_TEST (choices_refused)
{
  static const char *const wrong[] = { "4.8", "6.0;x=4.8", "4.8m" };
  for (size_t passed = 0;; passed++)
    {
      outcome now;
      failing_start (passed);
      go_through (wrong, 3, &now);
      const bool failed = failing_stop ();
      ck_assert_msg (now.status == SW_USAGE || (failed && now.status == SW_NO_MEMORY), "after %zu allocations: %s",
                     passed, sw_status_text (now.status));
      if (!failed)
        break;
      ck_assert_uint_lt (passed, 10000);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("compare_memory");
  TCase *tcase = tcase_create ("compare_memory");
  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_set_timeout (tcase, 300);
  tcase_add_loop_test (tcase, choices_by_default, 0, 2);
  tcase_add_loop_test (tcase, choices_given, 0, 2);
  tcase_add_test (tcase, choices_refused);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
