/* table_parts.h - what a table is made of, for the files that build one
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TABLE_PARTS_H
#define SW_TABLE_PARTS_H

#include "csv/table.h"

/* In UTF-8, at the head of a file: spreadsheets tell the encoding by it. */
#define SW_BYTE_ORDER_MARK "\xEF\xBB\xBF"

/* A cell as one number: twice where its text begins in BYTES, plus one when
 * it is text that may have to be defused.  Millions of cells then cost eight
 * bytes each and no allocation of their own. */
typedef size_t sw_cell;

struct sw_table
{
  char *file;     /* never NULL */
  char separator; /* of the file that was read; else a comma */
  bool semicolons; /* see sw_table_write_semicolons */
  size_t columns;
  size_t rows;
  size_t cell_count; /* the header's come first, then row by row */
  size_t cell_capacity;
  sw_cell *cells;
  size_t byte_count; /* the first byte is the NUL of every blank cell */
  size_t byte_capacity;
  char *bytes;
  size_t line_capacity;
  size_t *lines; /* on which each row begins; NULL: not read from a file */
  size_t header_line;
};

/* An empty table without columns; NULL when memory runs out. */
sw_table *sw_table_begin (const char *file);
/* Store COUNT bytes of text for a cell; false when memory runs out. */
bool sw_table_store (sw_table *table, const char *text, size_t count, bool is_text, sw_cell *out);
/* Append a cell after the last one; false when memory runs out. */
bool sw_table_push (sw_table *table, sw_cell cell);

/* Would a spreadsheet run TEXT as a formula, or take for one that has been
 * defused?  Such text is written with one more apostrophe, and read with one less. */
bool sw_table_is_formula (const char *text, size_t count);

/* Remember that a whole row has been pushed that began on LINE. */
bool sw_table_end_row (sw_table *table, size_t line);

/* table_line.c */
/* Are the COUNT bytes at TEXT spaces, tabs and line ends only? */
bool sw_table_is_blank (const char *text, size_t count);
/* The separator of the header line; '\0': it holds two kinds, so that the file
 * could be read in two ways. */
char sw_table_separator (const char *bytes, size_t count);
/* Line of the first line that is not blank. */
size_t sw_table_first_line (const char *bytes, size_t count);
/* Has that line a comma or a point between digits?  No column's name has. */
bool sw_table_first_has_decimals (const char *bytes, size_t count);

/* The file is over SW_TABLE_MAX_BYTES: say so. */
sw_status sw_table_refuse_size (const char *file, sw_report *report);

#endif
