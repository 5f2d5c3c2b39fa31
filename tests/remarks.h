/* remarks.h - what a report holds, for tests
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef REMARKS_H
#define REMARKS_H

#include "base/report.h"
#include "csv/table.h"

/* The remarks as "fault spans.csv:3:span", one a line, in the order in which they came.  File names
 * have no folder, and blank parts are left out ("fault spans.csv", "fault :kerf").  Free it with
 * free. */
char *remarks_list (const sw_report *report);

/* Fail, and show WHAT, unless the remarks are exactly the lines EXPECTED. */
void remarks_expect (const sw_report *report, const char *expected, const char *what);

/* Fail unless the message of some remark contains FRAGMENT. */
void remarks_say (const sw_report *report, const char *fragment);

/* The table of a CSV text.  The test fails if the text cannot be read. */
sw_table *remarks_table (const char *csv, const char *file, sw_report *report);

#endif
