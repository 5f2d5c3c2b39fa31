/* papers.c - what is written beside a plan's tables: the page, the sheet
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

static sw_status
write_sheet (sw_papers *papers, const sw_plan *plan, bool svg, sw_report *report)
{
  sw_report_clear (report);
  sw_status status = sw_papers_sheet (papers, plan, svg, draw_on, NULL, report);
  if (status == SW_STOPPED)
    {
      sw_cli_print_report (report);
      sw_cli_message (SW_WARNING, "stopped by a signal: no sheet is drawn; the tables are written");
      return SW_OK;
    }
  if (status == SW_ABSENT && !svg)
    {
      /* The sheet was not asked for by name, so that its absence is no fault. */
      sw_cli_message (SW_NOTE, "no sheet is drawn: this spanwright was built without it");
      return SW_OK;
    }
  sw_cli_say (report, status);
  return status;
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
  /* The page first: it is quick, and who stops the program stops the drawing. */
  const sw_status page = write_page (papers, plan, report);
  const sw_status sheet = write_sheet (papers, plan, svg, report);
  return page != SW_OK ? page : sheet;
}
