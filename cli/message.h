/* message.h - what the program says: the plan on stdout, remarks on stderr
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_MESSAGE_H
#define SW_CLI_MESSAGE_H

#include "spanwright.h"

/* Print a remark of the program's own as one line on stderr: "error: ...". */
void sw_cli_message (sw_severity severity, const char *format, ...) SW_PRINTF (2, 3);

/* Print the library's remarks: "error: file:line: column: message". */
void sw_cli_print_report (const sw_report *report);
/* Print the library's remarks on an option of the command line: "error: --kerf: message". */
void sw_cli_print_option_report (const sw_report *report, const char *option);

/* If stderr is a terminal, repeat the printed warnings in one block, because a plan has moved them
 * out of sight.  Later calls print nothing. */
void sw_cli_repeat_warnings (void);

/* Print TEXT on stdout.  sw_cli_finish_printing reports a failure. */
void sw_cli_print (const char *text);
/* Print a NAME, which may hold anything, on stdout in the same way. */
void sw_cli_print_name (const char *name);
/* Print a table on stdout as CSV.  On a terminal, what would steer it is escaped. */
sw_status sw_cli_print_table (const sw_table *table);
/* Write out what has been printed, so that nothing later can lose it.  sw_cli_finish_printing reports a failure. */
void sw_cli_flush (void);
/* Flush and close stdout.  False: something could not be written, and a message says so. */
bool sw_cli_finish_printing (void);

/* The number of columns of the terminal DESCRIPTOR, or 80 if it is none; at least 40.  The variable
 * COLUMNS takes precedence. */
unsigned sw_cli_width (int descriptor);

#endif
