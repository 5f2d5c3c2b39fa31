/* fuzz_compare.c - fuzz target: choices of stock side by side, and the price at which one tips
 *
 * Each choice is a plan for a job with less stock to buy.  None may cost less
 * than the proved bound of the job with all of it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "fuzz.h"
#include "job/job.h"

#include <stdlib.h>
#include <string.h>

/* Choices stand before the first file, one a line. */
#define MOST_CHOICES 4
/* The job is small because many plans of it are made. */
#define MOST_BAYS_AND_EXTRAS 200

static size_t
read_choices (char *text, const char **choices)
{
  size_t count = 0;
  char *end = strchr (text, FUZZ_SPLIT);
  if (end != NULL)
    *end = '\0';
  for (char *line = strtok (text, "\n"); line != NULL && count < MOST_CHOICES; line = strtok (NULL, "\n"))
    choices[count++] = line;
  return count;
}

static void
check_choice (const sw_comparison *comparison, size_t index, const sw_plan *all)
{
  sw_compared got;
  FUZZ_HOLDS (sw_comparison_get (comparison, index, &got));
  FUZZ_HOLDS ((got.status == SW_OK) == (got.plan != NULL) && (got.plan == NULL) == (got.why != NULL));
  FUZZ_HOLDS (got.over_best >= 0 && (!got.best || got.over_best == 0));
  if (got.plan == NULL)
    {
      fuzz_check_shown (got.why, false);
      return;
    }
  sw_summary sum;
  sw_plan_summary (got.plan, &sum);
  FUZZ_HOLDS (sum.cost >= sum.bound);
  if (all == NULL)
    return;
  sw_summary best;
  sw_plan_summary (all, &best);
  FUZZ_HOLDS (sum.aligned >= best.aligned_bound);
  FUZZ_HOLDS (sum.aligned > best.aligned || sum.cost >= best.bound);
}

static void
check_tippings (const sw_comparison *comparison)
{
  const size_t count = sw_comparison_count (comparison);
  for (size_t i = 0; i < sw_comparison_tippings (comparison); i++)
    {
      sw_tipping tipping;
      FUZZ_HOLDS (sw_comparison_tipping (comparison, i, &tipping));
      FUZZ_HOLDS (tipping.first < count && tipping.second < count && tipping.first != tipping.second);
      FUZZ_HOLDS (tipping.tip != SW_TIP_AT || tipping.from <= tipping.to);
      FUZZ_HOLDS (!tipping.exact || tipping.tip != SW_TIP_AT || tipping.to - tipping.from <= 1);
    }
}

static void
check_shown (const sw_comparison *comparison)
{
  sw_table *table = NULL;
  char *text = NULL;
  FUZZ_HOLDS (sw_comparison_table (comparison, &table) == SW_OK);
  FUZZ_HOLDS (sw_table_rows (table) == sw_comparison_count (comparison));
  FUZZ_HOLDS (sw_table_csv (table, &text) == SW_OK);
  sw_text_free (text);
  text = NULL;
  sw_table_free (table);
  FUZZ_HOLDS (sw_comparison_text (comparison, 0, &text) == SW_OK);
  fuzz_check_shown (text, true);
  sw_text_free (text);
}

static void
compare (const sw_job *job, const char *const *choices, size_t count, sw_report *report)
{
  size_t steps = 0;
  const sw_limits limits = { .progress = fuzz_go_on, .data = &steps };
  sw_comparison *comparison = NULL;
  sw_report_clear (report);
  sw_status status = sw_compare (&comparison, job, choices, count, &limits, report);
  fuzz_check_report (report);
  FUZZ_HOLDS (status == SW_OK || status == SW_NO_PLAN || status == SW_STOPPED || status == SW_USAGE);
  FUZZ_HOLDS ((status == SW_USAGE) == (comparison == NULL));
  if (comparison == NULL)
    return;
  sw_plan *all = fuzz_plan_make (job, false, report);
  size_t best = 0;
  for (size_t i = 0; i < sw_comparison_count (comparison); i++)
    {
      sw_compared got;
      check_choice (comparison, i, all);
      best += sw_comparison_get (comparison, i, &got) && got.best;
    }
  FUZZ_HOLDS (best == (status == SW_OK ? 1 : 0));
  check_tippings (comparison);
  check_shown (comparison);
  sw_plan_free (all);
  sw_comparison_free (comparison);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  fuzz_job files;
  fuzz_job_write (&files, data, size);
  char *text = fuzz_text (data, size);
  const char *choices[MOST_CHOICES];
  size_t count = read_choices (text, choices);
  sw_report *report = sw_report_new ();
  FUZZ_HOLDS (report != NULL);
  sw_job *job = fuzz_job_read (&files, report);
  size_t run, bay;
  if (job != NULL && !sw_fence_undivided (&job->fence, &run, &bay) && fuzz_job_pieces (job) <= MOST_BAYS_AND_EXTRAS)
    compare (job, choices, count, report);
  sw_job_free (job);
  sw_report_free (report);
  free (text);
  return 0;
}
