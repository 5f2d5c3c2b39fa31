/* drawn.h - what is made of a plan's tables once the plan is printed
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_DRAWN_H
#define SW_CLI_DRAWN_H

#include "spanwright.h"

/* Write the page, the workbook and the sheet of PLAN, whose tables PAPERS has written.  A file that
 * cannot be written does not cost the others; the status is that of the last failure.  Everything is
 * said on stderr, by way of REPORT. */
sw_status sw_cli_write_drawn (sw_papers *papers, const sw_plan *plan, bool svg, sw_report *report);

#endif
