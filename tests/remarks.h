/* remarks.h - what a report holds, for tests
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef REMARKS_H
#define REMARKS_H

#include "base/report.h"
#include "csv/table.h"

/* The remarks as "fault spans.csv:3:span", one a line, in the order in which
 * they came; file names without folder, blank parts left out ("fault
 * spans.csv", "fault :kerf").  Free with free. */
char *remarks_list (const sw_report *report);

/* Fail unless they are exactly the lines EXPECTED; WHAT is shown then. */
void remarks_expect (const sw_report *report, const char *expected, const char *what);

/* Fail unless some remark's message holds FRAGMENT. */
void remarks_say (const sw_report *report, const char *fragment);

/* The table of a CSV text; the test fails when it cannot be read. */
sw_table *remarks_table (const char *csv, const char *file, sw_report *report);

#endif
