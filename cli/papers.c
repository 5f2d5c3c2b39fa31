/* papers.c - writes what is made of a plan's tables once the plan is printed: page, workbook, sheet
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "papers.h"

#include "inputs.h"
#include "message.h"
#include "signals.h"

static bool
go_on (void *data)
{
  (void)data;
  return !sw_cli_signal_anew ();
}

/* Say how the making of WHAT ended.  MAKES: what is done with it, "drawn" or "made". */
static sw_status
say_how (const char *what, const char *makes, bool asked_for, sw_status status, sw_report *report)
{
  if (status == SW_STOPPED)
    {
      sw_cli_print_report (report);
      sw_cli_message (SW_WARNING, "stopped by a signal: no %s is %s; the tables are written", what, makes);
      return SW_OK;
    }
  /* A file that was not asked for by name may be absent without fault. */
  if (status == SW_ABSENT && !asked_for)
    {
      sw_cli_message (SW_NOTE, "no %s is %s: this spanwright was built without it", what, makes);
      return SW_OK;
    }
  sw_cli_say (report, status);
  return status;
}

sw_status
sw_cli_write_papers (sw_papers *papers, const sw_plan *plan, bool svg, sw_report *report)
{
  sw_report_clear (report);
  const sw_status page = sw_papers_page (papers, plan, report);
  sw_cli_say (report, page);
  sw_report_clear (report);
  sw_status book = sw_papers_book (papers, plan, go_on, NULL, report);
  book = say_how ("workbook", "made", false, book, report);
  sw_report_clear (report);
  /* The sheet comes last, since it may end the program when memory runs out. */
  sw_status sheet = sw_papers_sheet (papers, plan, svg, go_on, NULL, report);
  sheet = say_how ("sheet", "drawn", svg, sheet, report);
  return sheet != SW_OK ? sheet : book != SW_OK ? book : page;
}
