/* table_parts.h - the parts of a table, for the files that build one
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TABLE_PARTS_H
#define SW_TABLE_PARTS_H

#include "csv/table.h"

/* The mark in UTF-8.  Spreadsheets know the encoding by it. */
#define SW_BYTE_ORDER_MARK "\xEF\xBB\xBF"

/* A cell as one number: twice the place of its text in BYTES, plus one when the cell is text that
 * may have to be defused.  Millions of cells then cost eight bytes each and no allocation of their
 * own. */
typedef size_t sw_cell;

struct sw_table
{
  char *file;     /* never NULL */
  char separator; /* the separator of the file that was read; else a comma */
  bool semicolons; /* see sw_table_write_semicolons */
  size_t columns;
  size_t rows;
  size_t cell_count; /* the cells of the header come first, then row by row */
  size_t cell_capacity;
  sw_cell *cells;
  size_t byte_count; /* the first byte is the NUL that ends every blank cell */
  size_t byte_capacity;
  char *bytes;
  size_t line_capacity;
  size_t *lines; /* the line on which each row begins; NULL: not read from a file */
  size_t header_line;
};

/* Make an empty table without columns.  NULL when memory runs out. */
sw_table *sw_table_begin (const char *file);
/* Store the text of a cell, COUNT bytes.  False when memory runs out. */
bool sw_table_store (sw_table *table, const char *text, size_t count, bool is_text, sw_cell *out);
/* Append CELL to the cells.  False when memory runs out. */
bool sw_table_push (sw_table *table, sw_cell cell);

/* Would a spreadsheet run TEXT as a formula, or is TEXT a formula with apostrophes in front?  Such
 * text gets one more apostrophe when it is written, and loses one when it is read. */
bool sw_table_is_formula (const char *text, size_t count);

/* End a row that began on LINE, after all its cells have been pushed. */
bool sw_table_end_row (sw_table *table, size_t line);

/* These are in table_line.c. */
/* Are the COUNT bytes at TEXT only spaces, tabs and line ends? */
bool sw_table_is_blank (const char *text, size_t count);
/* The separator of the header line.  '\0': the line holds two kinds, so that the file could be read in two ways. */
char sw_table_separator (const char *bytes, size_t count);
/* The number of the first line that is not blank. */
size_t sw_table_first_line (const char *bytes, size_t count);
/* Does the first line that is not blank hold a comma or a point between digits?  No column's name does. */
bool sw_table_first_has_decimals (const char *bytes, size_t count);

/* Report that the file is over SW_TABLE_MAX_BYTES. */
sw_status sw_table_refuse_size (const char *file, sw_report *report);

#endif
