/* papers.c - what is written beside a plan's tables: the page, the workbook, the sheet
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "papers.h"

#include "inputs.h"
#include "message.h"
#include "signals.h"

static bool
draw_on (void *data)
{
  (void)data;
  return !sw_cli_signal_anew ();
}

/* Say how the making of WHAT, "sheet is drawn", ended. */
static sw_status
say_how (const char *what, bool asked_for, sw_status status, sw_report *report)
{
  if (status == SW_STOPPED)
    {
      sw_cli_print_report (report);
      sw_cli_message (SW_WARNING, "stopped by a signal: no %s; the tables are written", what);
      return SW_OK;
    }
  if (status == SW_ABSENT && !asked_for)
    {
      /* The file was not asked for by name, so that its absence is no fault. */
      sw_cli_message (SW_NOTE, "no %s: this spanwright was built without it", what);
      return SW_OK;
    }
  sw_cli_say (report, status);
  return status;
}

static sw_status
write_book (sw_papers *papers, const sw_plan *plan, sw_report *report)
{
  sw_report_clear (report);
  const sw_status status = sw_papers_book (papers, plan, draw_on, NULL, report);
  return say_how ("workbook is made", false, status, report);
}

static sw_status
write_sheet (sw_papers *papers, const sw_plan *plan, bool svg, sw_report *report)
{
  sw_report_clear (report);
  const sw_status status = sw_papers_sheet (papers, plan, svg, draw_on, NULL, report);
  return say_how ("sheet is drawn", svg, status, report);
}

static sw_status
write_page (sw_papers *papers, const sw_plan *plan, sw_report *report)
{
  sw_report_clear (report);
  sw_status status = sw_papers_page (papers, plan, report);
  sw_cli_say (report, status);
  return status;
}

sw_status
sw_cli_write_papers (sw_papers *papers, const sw_plan *plan, bool svg, sw_report *report)
{
  /* The page first: it is quick, and who stops the program stops the drawing.  The sheet last: what
   * draws it ends the program when memory runs out. */
  const sw_status page = write_page (papers, plan, report);
  const sw_status book = write_book (papers, plan, report);
  const sw_status sheet = write_sheet (papers, plan, svg, report);
  return page != SW_OK ? page : book != SW_OK ? book : sheet;
}
