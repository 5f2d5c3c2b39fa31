/* fuzz_plan.c - fuzz target: verify reads any bytes as a plan's files
 *
 * A plan that keeps every rule must not be better than the best that the
 * planner proves possible.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "fuzz.h"

#include <stdlib.h>

static void
check_against_best (const sw_job *job, const sw_verdict *verdict, sw_report *report)
{
  sw_plan *plan = fuzz_plan_make (job, false, report);
  if (plan != NULL)
    {
      sw_summary best;
      sw_plan_summary (plan, &best);
      FUZZ_HOLDS (!verdict->cost_known || verdict->aligned > best.aligned || verdict->cost >= best.bound);
      FUZZ_HOLDS (verdict->aligned >= best.aligned_bound);
      char *text = NULL;
      FUZZ_HOLDS (sw_verdict_text (verdict, job, plan, 0, &text) == SW_OK);
      fuzz_check_shown (text, true);
      sw_text_free (text);
    }
  else
    /* There is a plan, so that the solver may have been stopped, but must not have proved that there is none. */
    for (size_t i = 0; i < sw_report_count (report); i++)
      {
        const sw_remark *remark = sw_report_get (report, i);
        if (remark->severity == SW_FAULT && remark->line > 0)
          fuzz_fail (remark->file, (int)remark->line, remark->message);
      }
  sw_plan_free (plan);
}

static void
check_files (const fuzz_job *files, const sw_job *job, size_t size, sw_report *report)
{
  (void)size;
  sw_verdict verdict;
  sw_status status = sw_verify (job, files->plan, &verdict, report);
  FUZZ_HOLDS (status == SW_OK || status == SW_REJECTED);
  FUZZ_HOLDS ((status == SW_OK) == (sw_report_count_of (report, SW_FAULT) == 0));
  FUZZ_HOLDS (verdict.faults >= 0 && (status == SW_OK) == (verdict.faults == 0));
  fuzz_check_report (report);
  char *text = NULL;
  FUZZ_HOLDS (sw_verdict_text (&verdict, job, NULL, 40, &text) == SW_OK);
  fuzz_check_shown (text, true);
  sw_text_free (text);
  if (status == SW_OK)
    check_against_best (job, &verdict, report);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  fuzz_small_job (data, size, check_files);
  return 0;
}
