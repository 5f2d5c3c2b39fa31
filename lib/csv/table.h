/* table.h - a CSV file as a header and rows that know their lines
 *
 * The only user of libcsv.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TABLE_H
#define SW_TABLE_H

#include "base/report.h"

/* What a file may hold; more is refused. */
#define SW_TABLE_MAX_BYTES ((size_t) 256 << 20)
#define SW_TABLE_MAX_CELL ((size_t) 64 << 10)
#define SW_TABLE_MAX_COLUMNS 256
#define SW_TABLE_MAX_ROWS ((size_t) 4 << 20)
#define SW_TABLE_MAX_CELLS ((size_t) 32 << 20)

/* Reading.  Separator (comma, semicolon, tab) is told from the header line;
 * with ';' a decimal comma is accepted.  BOM, CRLF or LF, quoted separators,
 * quotes and line breaks.  Outer spaces are cut off; blank lines skipped; a
 * leading apostrophe that defuses formula-like text is taken off again.
 * Columns behind all others without a name and without text are left out.
 * Refused, each with file and line: another kind of file or encoding, NUL
 * bytes, Unicode noncharacters, a broken quote, a row with fewer or more cells
 * than the header, no header, a header name twice or empty, text below no
 * name, a file over the bounds above. */
sw_status sw_table_read (sw_table **out, const char *file, sw_report *report);
/* Its first half: the bytes of FILE, to be freed.  What is no CSV file by its
 * kind or size is refused. */
sw_status sw_table_load (char **bytes, size_t *count, const char *file, sw_report *report);
/* Its second half, from memory; FILE is the name to report. */
sw_status sw_table_read_bytes (sw_table **out, const char *bytes, size_t count, const char *file, sw_report *report);

/* The column called NAME (ASCII letter case does not matter), or -1. */
int sw_table_find (const sw_table *table, const char *name);
/* Line of the file on which ROW begins (from 1). */
size_t sw_table_line (const sw_table *table, size_t row);
/* Line on which the header begins; 0: not read from a file. */
size_t sw_table_header_line (const sw_table *table);
/* A decimal comma is accepted in this file. */
bool sw_table_decimal_comma (const sw_table *table);
/* Has sw_table_set_text set this cell, of a table that was not read from a file? */
bool sw_table_is_text (const sw_table *table, size_t row, size_t column);
/* The name the table was read from, or "". */
const char *sw_table_file (const sw_table *table);

/* Writing.  HEADER: COUNT names.  Cells are copied. */
sw_status sw_table_new (sw_table **out, const char *const *header, size_t count);
/* Begin a row; its cells are blank. */
sw_status sw_table_add_row (sw_table *table);
/* Set a cell of the last row. */
sw_status sw_table_set (sw_table *table, size_t column, const char *text);
/* The same for a text cell: formula-like text will be defused when written
 * (first character = + - @ tab CR gets an apostrophe in front). */
sw_status sw_table_set_text (sw_table *table, size_t column, const char *text);
/* Let sw_table_csv write TABLE, of two columns or more, as spreadsheets of
 * countries with a decimal comma want it: a byte order mark, ';' between
 * cells, and a ',' for the point of every cell of sw_table_set that is a number. */
void sw_table_write_semicolons (sw_table *table);

#endif
