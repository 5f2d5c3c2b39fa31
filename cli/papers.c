/* papers.c - what the commands that make a plan hand over: its tables and text on stdout, its files with -o
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "papers.h"

#include "inputs.h"
#include "message.h"
#include "signals.h"

#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- On stdout ---- */

bool
sw_cli_plan_table (const char *name, sw_table_kind *kind)
{
  static const struct
  {
    const char *name;
    sw_table_kind kind;
  } tables[] = { { "order", SW_TABLE_ORDER }, { "cuts", SW_TABLE_CUTS }, { "fit", SW_TABLE_FIT },
                 { "setout", SW_TABLE_SETOUT } };
  for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++)
    if (strcmp (name, tables[i].name) == 0)
      {
        *kind = tables[i].kind;
        return true;
      }
  return false;
}

sw_status
sw_cli_print_plan_table (const sw_plan *plan, sw_table_kind kind)
{
  sw_table *table = NULL;
  sw_status status = sw_plan_table (plan, kind, &table);
  if (status == SW_OK)
    status = sw_cli_print_table (table);
  sw_table_free (table);
  return status;
}

sw_status
sw_cli_print_plan_text (const sw_plan *plan, unsigned parts, const char *before)
{
  char *text = NULL;
  sw_status status = sw_plan_text (plan, parts, sw_cli_width (STDOUT_FILENO), &text);
  if (status == SW_OK)
    {
      sw_cli_print (before);
      sw_cli_print (text);
    }
  sw_text_free (text);
  return status;
}

const char *
sw_cli_why_stopped (sw_outcome outcome)
{
  return outcome == SW_TIMED_OUT     ? "the time limit came first"
         : outcome == SW_INTERRUPTED ? "stopped by a signal"
         : outcome == SW_WITHIN_GAP  ? "the search gave up"
                                     : NULL;
}

/* ---- In a folder ---- */

bool
sw_cli_out_check (const char *out, bool svg)
{
  struct stat there;
  if (svg && out == NULL)
    {
      sw_cli_message (SW_FAULT, "--svg needs -o DIR, the folder to write to");
      return false;
    }
  if (out != NULL && stat (out, &there) == 0 && !S_ISDIR (there.st_mode))
    {
      sw_cli_message (SW_FAULT, "-o: '%s' is a file; expected a folder, or a name that is still free", out);
      return false;
    }
  return true;
}

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

static sw_status
write_made (sw_papers *papers, const sw_plan *plan, bool svg, sw_report *report)
{
  /* The page first: it is quick, and who stops the program stops the drawing.  The sheet last: what
   * draws it ends the program when memory runs out. */
  const sw_status page = write_page (papers, plan, report);
  const sw_status book = write_book (papers, plan, report);
  const sw_status sheet = write_sheet (papers, plan, svg, report);
  return page != SW_OK ? page : book != SW_OK ? book : sheet;
}

sw_status
sw_cli_papers_open (sw_papers **papers, const char *out, sw_report *report)
{
  *papers = NULL;
  sw_cli_say (report, SW_OK);
  if (out == NULL)
    return SW_OK;
  sw_cli_hold_pipe_signal ();
  return sw_papers_open (papers, out, report);
}

sw_cli_exit
sw_cli_papers_close (sw_papers *papers, const sw_plan *plan, bool svg, sw_status written, sw_status printed,
                     sw_report *report)
{
  sw_cli_flush ();
  if (papers != NULL && written == SW_OK)
    written = write_made (papers, plan, svg, report);
  sw_papers_free (papers);
  /* A reader of stdout that has gone may end the program now, since nothing is left to write. */
  sw_cli_let_pipe_signal ();
  return sw_cli_exit_of (written != SW_OK ? written : printed);
}
