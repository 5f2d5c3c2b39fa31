/* book_absent.c - takes the place of the workbook in a build without it
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/report.h"

sw_status
sw_papers_book (sw_papers *papers, const sw_plan *plan, sw_page_fn row, void *data, sw_report *report)
{
  (void)papers;
  (void)plan;
  (void)row;
  (void)data;
  sw_report_add (report, SW_FAULT, NULL, 0, NULL, "this spanwright was built without the workbook (--without-book)");
  return SW_ABSENT;
}
