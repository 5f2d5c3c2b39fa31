/* fuzz_sheet.c - fuzz target: from the bytes of a job to the sheet that is carried on site
 *
 * Whatever the names, figures and fence are, the sheet is drawn, as PDF or page by page.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "fuzz.h"

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  fuzz_job files;
  fuzz_job_write (&files, data, size);
  sw_report *report = sw_report_new ();
  FUZZ_HOLDS (report != NULL);
  sw_job *job = fuzz_job_read (&files, report);
  if (job != NULL && fuzz_job_is_small (job))
    {
      sw_plan *plan = fuzz_plan_make (job, false, report);
      if (plan != NULL)
        {
          sw_status status = sw_sheet_write (plan, fuzz_folder (), size % 4 == 3, report);
          FUZZ_HOLDS (status == SW_OK || status == SW_ABSENT);
          fuzz_check_report (report);
          sw_plan_free (plan);
        }
    }
  sw_job_free (job);
  sw_report_free (report);
  return 0;
}
