/* sheet_absent.c - what stands in for the sheet where it is left out
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "report.h"

sw_status
sw_sheet_write (const sw_plan *plan, const char *dir, bool svg, sw_report *report)
{
  (void)plan;
  (void)dir;
  (void)svg;
  sw_report_add (report, SW_FAULT, NULL, 0, NULL, "this spanwright was built without the sheet (--without-sheet)");
  return SW_ABSENT;
}
