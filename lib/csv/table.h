/* table.h - a CSV file as a header and rows that know their lines
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TABLE_H
#define SW_TABLE_H

#include "base/report.h"

/* The bounds of a file.  A larger file is refused. */
#define SW_TABLE_MAX_BYTES ((size_t) 256 << 20)
#define SW_TABLE_MAX_CELL ((size_t) 64 << 10)
#define SW_TABLE_MAX_COLUMNS 256
#define SW_TABLE_MAX_ROWS ((size_t) 4 << 20)
#define SW_TABLE_MAX_CELLS ((size_t) 32 << 20)

/* Read FILE.  The header line tells the separator: comma, semicolon or tab; with ';' a decimal
 * comma is accepted.  The file may have a byte order mark, CRLF or LF, and quoted cells with
 * separators, quotes and line breaks in them.
 *
 * - Outer spaces are cut off, blank lines are skipped, and the apostrophe that defuses formula-like
 *   text is taken off.
 * - Columns behind all others are left out if they have neither a name nor any text.
 * - Refused, with file and line, are: another kind of file or encoding, NUL bytes, Unicode
 *   noncharacters, a broken quote, a row with fewer or more cells than the header, a missing
 *   header, a header name that is empty or occurs twice, text below no name, a file over the bounds
 *   above.
 *
 * SW_IO, SW_REJECTED (the report says why) or SW_NO_MEMORY; *OUT is freed by the caller.  O(bytes
 * of the file). */
sw_status sw_table_read (sw_table **out, const char *file, sw_report *report);
/* The first half of sw_table_read: load the bytes of FILE, which the caller frees.  A file whose
 * kind or size is not that of a CSV file is refused. */
sw_status sw_table_load (char **bytes, size_t *count, const char *file, sw_report *report);
/* The second half of sw_table_read: read a table from memory.  FILE is the name in the report. */
sw_status sw_table_read_bytes (sw_table **out, const char *bytes, size_t count, const char *file, sw_report *report);

/* The number of the column called NAME (the case of ASCII letters does not matter), or -1. */
int sw_table_find (const sw_table *table, const char *name);
/* The line of the file on which ROW begins, from 1. */
size_t sw_table_line (const sw_table *table, size_t row);
/* The line on which the header begins.  0: the table was not read from a file. */
size_t sw_table_header_line (const sw_table *table);
/* Are decimal commas accepted in this file? */
bool sw_table_decimal_comma (const sw_table *table);
/* Did sw_table_set_text set this cell?  The table must not have been read from a file. */
bool sw_table_is_text (const sw_table *table, size_t row, size_t column);
/* The name of the file that the table was read from, or "". */
const char *sw_table_file (const sw_table *table);

/* Begin a table for writing, with a HEADER of COUNT names.  The table copies all text. */
sw_status sw_table_new (sw_table **out, const char *const *header, size_t count);
/* Begin a row of blank cells. */
sw_status sw_table_add_row (sw_table *table);
/* Set a cell of the last row. */
sw_status sw_table_set (sw_table *table, size_t column, const char *text);
/* Set a text cell of the last row.  Text that looks like a formula (its first character is = + - @
 * tab or CR) gets an apostrophe in front when it is written, so that no spreadsheet runs it. */
sw_status sw_table_set_text (sw_table *table, size_t column, const char *text);
/* Let sw_table_csv write TABLE, which has two columns or more, for spreadsheets of countries with a
 * decimal comma.  The file has a byte order mark and ';' between cells, and numbers that were set
 * by sw_table_set have a comma for the point. */
void sw_table_write_semicolons (sw_table *table);

#endif
