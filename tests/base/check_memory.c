/* check_memory.c - checked allocation, and reports and tables when memory runs out at any one moment
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "csv/table.h"
#include "base/text.h"

#include "failing.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

START_TEST (growing)
{
  void *array = NULL;
  size_t capacity = 0;
  for (size_t need = 1; need < 1000; need++)
    {
      ck_assert_int_eq (sw_grow (&array, &capacity, need, 24), SW_OK);
      ck_assert_uint_ge (capacity, need);
      ck_assert_uint_lt (capacity, 2 * need + 8);
    }
  void *before = array;
  size_t room = capacity;
  ck_assert_int_eq (sw_grow (&array, &capacity, SIZE_MAX, 24), SW_NO_MEMORY);
  ck_assert_int_eq (sw_grow (&array, &capacity, SIZE_MAX / 24 + 1, 24), SW_NO_MEMORY);
  ck_assert_ptr_eq (array, before);
  ck_assert_uint_eq (capacity, room);
  free (array);
  ck_assert_ptr_null (sw_alloc (SIZE_MAX / 2, 3));
  unsigned char *zeros = sw_alloc (0, 0);
  ck_assert_ptr_nonnull (zeros);
  ck_assert_uint_eq (zeros[0], 0);
  free (zeros);
}
END_TEST

/* Each scenario runs with no allocation succeeding, then one, two ... until all do.  Check's own
 * assertions allocate, so that they wait until it is over.  A scenario must not end with SW_FAILED. */
typedef sw_status (*scenario) (sw_report *report);

static sw_status
read_good (sw_report *report)
{
  static const char text[] = "run;span\nroad;2400\n\"a\nb\";'=1\nx;y\nx;y\nx;y\nx;y\nx;y\n";
  sw_table *table = NULL;
  sw_status status = sw_table_read_bytes (&table, text, sizeof text - 1, "t.csv", report);
  char *csv = NULL;
  if (status == SW_OK)
    {
      status = sw_table_csv (table, &csv);
      if ((status == SW_OK) != (csv != NULL))
        status = SW_FAILED;
    }
  sw_text_free (csv);
  sw_table_free (table);
  return status;
}

static sw_status
read_bad (sw_report *report)
{
  static const char text[] = "run,span,run\nroad\n\"a\"b,1,2\n\xFF,2,3\n1,2,3,4\n1,2,3\n";
  sw_table *table = NULL;
  sw_status status = sw_table_read_bytes (&table, text, sizeof text - 1, "t.csv", report);
  if (status == SW_OK || table != NULL)
    return SW_FAILED;
  return status == SW_REJECTED ? SW_OK : status;
}

static sw_status
read_missing (sw_report *report)
{
  sw_table *table = NULL;
  sw_status status = sw_table_read (&table, "/nonexistent/t.csv", report);
  if (status == SW_OK || table != NULL)
    return SW_FAILED;
  return status == SW_IO ? SW_OK : status;
}

static sw_status
make_table (sw_report *report)
{
  (void)report;
  static const char *const header[] = { "a", "b" };
  sw_table *table = NULL;
  sw_status status = sw_table_new (&table, header, 2);
  for (int i = 0; i < 40 && status == SW_OK; i++)
    {
      status = sw_table_add_row (table);
      if (status == SW_OK)
        status = sw_table_set (table, 0, "12");
      if (status == SW_OK)
        status = sw_table_set_text (table, 1, "=twelve, \"quoted\"");
    }
  char *csv = NULL;
  if (status == SW_OK)
    status = sw_table_csv (table, &csv);
  sw_text_free (csv);
  sw_table_free (table);
  return status;
}

static sw_status
many_faults (sw_report *report)
{
  for (size_t i = 1; i <= 25; i++)
    sw_report_add (report, SW_FAULT, i % 2 == 0 ? "a.csv" : "b.csv", i, "span", "fault %zu", i);
  for (size_t i = 1; i <= 25; i++)
    sw_report_add (report, SW_FAULT, "a.csv", i, NULL, "fault %zu", i);
  /* A fault is counted, whether or not it is kept or its file is remembered. */
  if (sw_report_faults_of (report, "a.csv") < 37)
    return SW_FAILED;
  return sw_report_broken (report) ? SW_NO_MEMORY : SW_OK;
}

static const scenario scenarios[] = { read_good, read_bad, read_missing, make_table, many_faults };

START_TEST (memory_runs_out)
{
  bool failed = true;
  size_t passed = 0;
  for (; failed; passed++)
    {
      ck_assert_uint_lt (passed, 10000);
      sw_report *report = sw_report_new ();
      ck_assert_ptr_nonnull (report);
      failing_start (passed);
      sw_status status = scenarios[_i](report);
      failed = failing_stop ();
      ck_assert_msg (status == (failed ? SW_NO_MEMORY : SW_OK), "%d: after %zu allocations: %s", _i, passed,
                     sw_status_text (status));
      sw_report_free (report);
    }
  /* else nothing was tested */
  ck_assert_uint_gt (passed, 3);
}
END_TEST

START_TEST (no_report_without_memory)
{
  failing_start (0);
  sw_report *report = sw_report_new ();
  char *copy = sw_copy_text ("x");
  ck_assert (failing_stop ());
  ck_assert_ptr_null (report);
  ck_assert_ptr_null (copy);
}
END_TEST

static Suite *
memory_suite (void)
{
  Suite *suite = suite_create ("memory");
  TCase *memory = tcase_create ("memory");
  tcase_set_timeout (memory, 60);
  tcase_add_test (memory, growing);
  tcase_add_test (memory, no_report_without_memory);
  tcase_add_loop_test (memory, memory_runs_out, 0, (int)(sizeof scenarios / sizeof scenarios[0]));
  suite_add_tcase (suite, memory);
  return suite;
}

int
main (void)
{
  return suite_run (memory_suite ());
}
