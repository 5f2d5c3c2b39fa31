/* message.h - what the program says: the plan on stdout, remarks on stderr
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_MESSAGE_H
#define SW_CLI_MESSAGE_H

#include "spanwright.h"

/* A remark of the program's own, one line on stderr: "error: ...". */
void sw_cli_message (sw_severity severity, const char *format, ...) SW_PRINTF (2, 3);

/* The library's remarks: "error: file:line: column: message". */
void sw_cli_print_report (const sw_report *report);
/* The same, each laid to an option of the command line: "error: --kerf: message". */
void sw_cli_print_option_report (const sw_report *report, const char *option);

/* After a plan that stands between: on a terminal, the warnings that were said, in one block.  Once. */
void sw_cli_repeat_warnings (void);

/* Text for stdout.  A failure is kept for sw_cli_finish_printing. */
void sw_cli_print (const char *text);
/* The same for a name that may hold anything. */
void sw_cli_print_name (const char *name);
/* A table for stdout, as CSV; on a terminal with escapes for what would steer it. */
sw_status sw_cli_print_table (const sw_table *table);
/* What was printed is out, whatever comes now.  A failure is kept as well. */
void sw_cli_flush (void);
/* Flush and close stdout.  When anything could not be written, say so and
 * return false. */
bool sw_cli_finish_printing (void);

/* Columns of the terminal that DESCRIPTOR is, or 80; never under 40.  COLUMNS wins. */
unsigned sw_cli_width (int descriptor);

#endif
