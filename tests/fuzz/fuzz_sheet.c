/* fuzz_sheet.c - fuzz target: from the bytes of a job to the sheet that is carried on site
 *
 * The sheet is drawn, as PDF or as pages, whatever the names, figures and fence
 * are.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "fuzz.h"

static void
draw (const fuzz_job *files, const sw_job *job, size_t size, sw_report *report)
{
  (void)files;
  sw_plan *plan = fuzz_plan_make (job, false, report);
  if (plan == NULL)
    return;
  sw_status status = sw_sheet_write (plan, fuzz_folder (), size % 4 == 3, report);
  FUZZ_HOLDS (status == SW_OK || status == SW_ABSENT);
  fuzz_check_report (report);
  sw_plan_free (plan);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  fuzz_small_job (data, size, draw);
  return 0;
}
