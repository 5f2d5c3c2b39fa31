/* sheet_absent.c - takes the place of the sheet in a build without it
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/report.h"

sw_status
sw_papers_sheet (sw_papers *papers, const sw_plan *plan, bool svg, sw_page_fn page, void *data, sw_report *report)
{
  (void)papers;
  (void)plan;
  (void)svg;
  (void)page;
  (void)data;
  sw_report_add (report, SW_FAULT, NULL, 0, NULL, "this spanwright was built without the sheet (--without-sheet)");
  return SW_ABSENT;
}
