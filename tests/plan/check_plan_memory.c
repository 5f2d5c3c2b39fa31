/* check_plan_memory.c - views of a plan when memory runs out at any one moment
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "failing.h"
#include "plan_fixture.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

static fixture front;
static char *directory;

static sw_status
make_text (void)
{
  char *text = NULL;
  sw_status status = sw_plan_text (front.plan, SW_TEXT_ALL | SW_TEXT_MESSAGE | SW_TEXT_AGAIN, 0, &text);
  if ((status == SW_OK) != (text != NULL))
    status = SW_FAILED;
  sw_text_free (text);
  return status;
}

static sw_status
make_tables (void)
{
  static const sw_table_kind kinds[] = { SW_TABLE_ORDER, SW_TABLE_CUTS, SW_TABLE_FIT, SW_TABLE_SETOUT };
  sw_status status = SW_OK;
  for (size_t i = 0; i < 4 && status == SW_OK; i++)
    {
      sw_table *table = NULL;
      status = sw_plan_table (front.plan, kinds[i], &table);
      if ((status == SW_OK) != (table != NULL))
        status = SW_FAILED;
      sw_table_free (table);
    }
  return status;
}

static sw_status
write_files (void)
{
  return sw_plan_write (front.plan, directory, NULL);
}

/* Check's own assertions allocate, so that they wait until it is over. */
static void
ck_survives (sw_status (*scenario) (void))
{
  size_t failures = 0;
  for (size_t successes = 0; successes < 100000; successes++)
    {
      failing_start (successes);
      sw_status status = scenario ();
      bool failed = failing_stop ();
      if (!failed)
        {
          ck_assert_int_eq (status, SW_OK);
          ck_assert_uint_gt (failures, 3);
          return;
        }
      ck_assert_msg (status == SW_NO_MEMORY, "after %zu allocations: %s", successes, sw_status_text (status));
      failures++;
    }
  ck_abort_msg ("it never ended");
}

START_TEST (text)
{
  fixture_front (&front);
  ck_survives (make_text);
  front.job->settings->by = SW_BY_RUN;
  ck_survives (make_text);
  fixture_drop (&front);
}
END_TEST

START_TEST (tables)
{
  fixture_front (&front);
  ck_survives (make_tables);
  fixture_drop (&front);
}
END_TEST

/* A failure leaves nothing behind: there are no new files, and the directory's older ones have not changed. */
START_TEST (files)
{
  fixture_front (&front);
  directory = fixture_directory ();
  failing_start (60);
  sw_status status = write_files ();
  failing_stop ();
  ck_assert_int_eq (status, SW_NO_MEMORY);
  ck_assert_uint_eq (fixture_names (directory), 0);
  ck_survives (write_files);
  ck_assert_uint_eq (fixture_names (directory), 6);
  fixture_remove (directory);
  fixture_drop (&front);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("plan_memory");
  TCase *tcase = tcase_create ("plan_memory");
  /* There are hundreds of runs, which are slow under valgrind. */
  tcase_set_timeout (tcase, 120);
  tcase_add_test (tcase, text);
  tcase_add_test (tcase, tables);
  tcase_add_test (tcase, files);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
