/* papers.h - what is written beside a plan's tables: the page, the workbook, the sheet
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_PAPERS_H
#define SW_CLI_PAPERS_H

#include "spanwright.h"

/* Write the page and the workbook and draw the sheet (with SVG as SVG too) of PLAN, whose tables
 * are in PAPERS.  If one cannot be written, the others still are; the first
 * failure is returned.  Everything is said, and REPORT is empty afterwards. */
sw_status sw_cli_write_papers (sw_papers *papers, const sw_plan *plan, bool svg, sw_report *report);

#endif
