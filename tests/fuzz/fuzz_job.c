/* fuzz_job.c - fuzz target: from bytes to a plan, its tables, its text and its page
 *
 * Every plan must pass verify, which shares nothing with the solver.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "fuzz.h"
#include "job/job.h"
#include "csv/table.h"
#include "page/page.h"

#include <stdlib.h>
#include <string.h>

static void
check_table (const sw_plan *plan, sw_table_kind kind)
{
  sw_report *report = sw_report_new ();
  sw_table *table = NULL;
  sw_table *again = NULL;
  char *csv = NULL;
  FUZZ_HOLDS (report != NULL);
  FUZZ_HOLDS (sw_plan_table (plan, kind, &table) == SW_OK);
  FUZZ_HOLDS (sw_table_csv (table, &csv) == SW_OK);
  FUZZ_HOLDS (sw_table_read_bytes (&again, csv, strlen (csv), "written", report) == SW_OK);
  FUZZ_HOLDS (sw_table_rows (again) == sw_table_rows (table));
  for (size_t r = 0; r < sw_table_rows (table); r++)
    for (size_t c = 0; c < sw_table_columns (table); c++)
      FUZZ_HOLDS (strcmp (sw_table_cell (table, r, c), sw_table_cell (again, r, c)) == 0);
  sw_text_free (csv);
  sw_table_free (again);
  sw_table_free (table);
  sw_report_free (report);
}

static void
check_text (const sw_plan *plan, unsigned parts, unsigned width)
{
  char *text = NULL;
  FUZZ_HOLDS (sw_plan_text (plan, parts, width, &text) == SW_OK);
  fuzz_check_shown (text, true);
  sw_text_free (text);
}

/* The plan's folder keeps the job: the plan's files keep every rule of the job that is read back from it. */
static void
check_kept (const sw_job *job, sw_report *report)
{
  sw_settings *settings = sw_settings_new ();
  sw_job *kept = NULL;
  sw_verdict verdict;
  FUZZ_HOLDS (settings != NULL);
  FUZZ_HOLDS (sw_job_read_kept (&kept, fuzz_folder (), NULL, settings, report) == SW_OK);
  FUZZ_HOLDS (sw_settings_same (kept->settings, job->settings));
  FUZZ_HOLDS (sw_verify (kept, fuzz_folder (), &verdict, report) == SW_OK);
  fuzz_check_report (report);
  sw_job_free (kept);
  sw_settings_free (settings);
}

static size_t
count_of (const char *text, const char *part)
{
  size_t count = 0;
  for (const char *at = text; (at = strstr (at, part)) != NULL; at++)
    count++;
  return count;
}

/* Names make no markup of their own: a script or style more, an end of one, a comment, a byte that XML forbids. */
static void
check_page (const sw_plan *plan)
{
  sw_text page = { 0 };
  FUZZ_HOLDS (sw_page (plan, &page) == SW_OK && strlen (page.data) == page.length);
  FUZZ_HOLDS (count_of (page.data, "<script") == 3 && count_of (page.data, "</script") == 3);
  FUZZ_HOLDS (count_of (page.data, "<style") == 1 && count_of (page.data, "</style") == 1);
  FUZZ_HOLDS (count_of (page.data, "<!") == 1 && count_of (page.data, "<img") == 0);
  fuzz_check_shown (page.data, true);
  sw_text_drop (&page);
}

static void
check_plan (const sw_job *job, const sw_plan *plan, sw_report *report)
{
  sw_summary sum;
  sw_plan_summary (plan, &sum);
  FUZZ_HOLDS (sum.cost >= sum.bound && sum.aligned >= sum.aligned_bound && sum.boards > 0);
  FUZZ_HOLDS (sum.outcome != SW_PROVED || (sum.cost == sum.bound && sum.aligned == sum.aligned_bound));
  FUZZ_HOLDS (sum.used <= sum.bought + sum.from_hand);
  for (int kind = SW_TABLE_ORDER; kind <= SW_TABLE_SETOUT; kind++)
    check_table (plan, (sw_table_kind)kind);
  check_text (plan, SW_TEXT_ALL, 0);
  check_text (plan, SW_TEXT_ALL, 40);
  check_text (plan, SW_TEXT_MESSAGE, 0);
  check_page (plan);
  sw_verdict verdict;
  FUZZ_HOLDS (sw_plan_write (plan, fuzz_folder (), report) == SW_OK);
  sw_status status = sw_verify (job, fuzz_folder (), &verdict, report);
  fuzz_check_report (report);
  for (size_t i = 0; status != SW_OK && i < sw_report_count (report); i++)
    if (sw_report_get (report, i)->severity == SW_FAULT)
      fuzz_fail (sw_report_get (report, i)->file, (int)sw_report_get (report, i)->line,
                 sw_report_get (report, i)->message);
  FUZZ_HOLDS (status == SW_OK);
  FUZZ_HOLDS (verdict.boards == sum.boards && verdict.joins == sum.joins && verdict.aligned == sum.aligned);
  FUZZ_HOLDS (!verdict.cost_known || verdict.cost == sum.cost);
  check_kept (job, report);
}

static void
whole_way (const fuzz_job *files, const sw_job *job, size_t size, sw_report *report)
{
  (void)files;
  sw_plan *plan = fuzz_plan_make (job, size % 4 == 3, report);
  if (plan == NULL)
    return;
  /* The inputs have their own names, which the plan does not write. */
  check_plan (job, plan, report);
  sw_plan_free (plan);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  fuzz_small_job (data, size, whole_way);
  return 0;
}
