/* check_job_memory.c - reading a job when memory runs out at any one moment
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "spanwright.h"

#include "failing.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

/* Folders of tests/data, and the status of reading them when memory does not run out. */
static const struct
{
  const char *name;
  sw_status status;
} folders[] = {
  { "good-full", SW_OK },       { "good-warnings", SW_OK },    { "good-doubts", SW_OK },
  { "good-extras", SW_OK },     { "good-scripts", SW_OK },     { "bad-cells", SW_REJECTED },
  { "bad-twice", SW_REJECTED }, { "bad-rules", SW_REJECTED },  { "bad-labels", SW_REJECTED },
  { "bad-offer", SW_REJECTED }, { "bad-prices", SW_REJECTED }, { "bad-usage", SW_USAGE },
};

static const char *
path_of (const char *folder, const char *file, char path[4400])
{
  const char *source = getenv ("srcdir");
  snprintf (path, 4400, "%s/tests/data/%s/%s", source == NULL ? "." : source, folder, file);
  return access (path, F_OK) == 0 ? path : NULL;
}

static sw_status
read_folder (const sw_sources *sources, const char *settings_file)
{
  sw_report *report = sw_report_new ();
  sw_settings *settings = sw_settings_new ();
  sw_job *job = NULL;
  sw_status status = SW_NO_MEMORY;
  if (report != NULL && settings != NULL)
    status = sw_settings_set (settings, "picket", "1800", report);
  if (status == SW_OK)
    status = sw_settings_set (settings, "job", "north", report);
  if (status == SW_OK && settings_file != NULL)
    status = sw_settings_read (settings, settings_file, report);
  if (status == SW_OK || status == SW_REJECTED)
    {
      sw_status outcome = sw_job_read (&job, sources, settings, report);
      /* There must be a job if and only if it was read. */
      if ((outcome == SW_OK) != (job != NULL))
        status = SW_FAILED;
      else if (outcome != SW_OK)
        status = outcome;
    }
  sw_job_free (job);
  sw_settings_free (settings);
  sw_report_free (report);
  return status;
}

/* No allocation succeeds, then one, two ... until all do. */
START_TEST (every_allocation)
{
  char path[6][4400];
  const char *name = folders[_i].name;
  sw_sources sources = { .spans = path_of (name, "spans.csv", path[0]),
                         .levels = path_of (name, "levels.csv", path[1]),
                         .stock = path_of (name, "stock.csv", path[2]),
                         .sections = path_of (name, "sections.csv", path[3]),
                         .extras = path_of (name, "extras.csv", path[4]) };
  const char *settings = path_of (name, "settings.csv", path[5]);
  size_t passing = 0;
  size_t wrong = 0;
  sw_status status;
  bool failed;
  do
    {
      failing_start (passing++);
      status = read_folder (&sources, settings);
      failed = failing_stop ();
      wrong += failed && status != SW_NO_MEMORY;
    }
  while (failed && passing < 100000);
  ck_assert_msg (!failed, "%s", name);
  ck_assert_msg (wrong == 0, "%s: %zu times another status than SW_NO_MEMORY", name, wrong);
  ck_assert_msg (status == folders[_i].status, "%s: status %d", name, status);
  ck_assert_uint_ge (passing, 10);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("job_memory");
  TCase *tests = tcase_create ("job_memory");
  tcase_set_timeout (tests, 60);
  tcase_add_loop_test (tests, every_allocation, 0, (int)(sizeof folders / sizeof folders[0]));
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
