/* papers.h - what the commands that make a plan hand over: its tables and text on stdout, its files with -o
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_PAPERS_H
#define SW_CLI_PAPERS_H

#include "command.h"

/* The table of a plan that --csv calls NAME; false: there is none. */
bool sw_cli_plan_table (const char *name, sw_table_kind *kind);
sw_status sw_cli_print_plan_table (const sw_plan *plan, sw_table_kind kind);
/* Print PARTS of PLAN (SW_TEXT_...) after BEFORE. */
sw_status sw_cli_print_plan_text (const sw_plan *plan, unsigned parts, const char *before);

/* Why a search ended without a proof; NULL: with one. */
const char *sw_cli_why_stopped (sw_outcome outcome);

/* Can files be written to OUT (NULL: none are wanted) and, with SVG, the sheet as SVG?  If not, a
 * message says why.  Asked before the plan is made, so that nobody waits for it. */
bool sw_cli_out_check (const char *out, bool svg);

/* Say what REPORT holds, and open the folder OUT for a plan's files; OUT NULL: *PAPERS is NULL.
 *
 * The plan took a while to find.  It must not get lost because a file cannot be written, or because
 * somebody ends the program while the sheet is drawn.  So the command writes the tables to *PAPERS,
 * which is quick, then it prints, and sw_cli_papers_close writes the rest, the sheet last.  Between
 * the two a reader of stdout that goes does not end the program. */
sw_status sw_cli_papers_open (sw_papers **papers, const char *out, sw_report *report);

/* Write what is made out of the tables of PLAN: the page, the workbook and the sheet (with SVG as
 * SVG too), if there are PAPERS and WRITTEN, the status of the tables, is SW_OK.  If one cannot be
 * written, the others still are; the first failure counts.  PRINTED: the status of what was
 * printed.  Everything is said, REPORT is empty afterwards, and PAPERS are freed. */
sw_cli_exit sw_cli_papers_close (sw_papers *papers, const sw_plan *plan, bool svg, sw_status written,
                                 sw_status printed, sw_report *report);

#endif
