/* book.h - the workbook: what its parts share
 *
 * The files book*.c are the only users of libxlsxwriter, and of zlib, which
 * that stands on.  The library writes to files and does not look whether its
 * temporary ones took all that they were given, so what it made is read back
 * before it becomes the plan's: every part whole, every cell there.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_BOOK_H
#define SW_BOOK_H

#include "csv/table.h"
#include "plan/papers.h"

#include <xlsxwriter.h>

/* Rows of a table that are shown at most, below its header: what takes a
 * second or two to write, and what nobody scrolls through. */
#define SW_BOOK_MOST_ROWS ((size_t)100000)
/* A cell's text may be so long; spreadsheets take no more (characters). */
#define SW_BOOK_MOST_CHARACTERS ((size_t)32767)

typedef enum sw_book_style
{
  SW_BOOK_TEXT,    /* stays text when it is edited: a run called 007 */
  SW_BOOK_NUMBER,
  SW_BOOK_MONEY,
  SW_BOOK_LENGTH,  /* metres */
  SW_BOOK_HEADING,
  SW_BOOK_TITLE,
  SW_BOOK_STYLES
} sw_book_style;

/* One workbook while it is made. */
typedef struct sw_book
{
  const sw_plan *plan;
  lxw_workbook *workbook;
  lxw_format *styles[SW_BOOK_STYLES];
  uint64_t cells;    /* written so far: so many must come back */
  uint64_t file_most; /* bytes that a file may have here: that of a sheet is never begun where it may need more */
  uint64_t file_left; /* of them, of the sheet that is being filled */
  bool cut_short;    /* a cell was */
  sw_page_fn row_fn; /* of the caller, or NULL */
  void *row_data;
  sw_report *report;
  sw_status status;  /* of the first failure */
} sw_book;

/* Is there any use in going on? */
bool sw_book_goes_on (const sw_book *book);

/* ---- Cells (book_cell.c) ---- */

/* Does a spreadsheet keep TEXT as it stands when it takes it for a number?
 * So it does without a sign but "-", without zeros in front, and with at most
 * 15 figures (ECMA-376 has IEEE doubles); COMMA: with a decimal comma, too. */
bool sw_book_is_number (const char *text, bool comma, double *number);
/* Blank TEXT leaves the cell blank. */
void sw_book_text (sw_book *book, lxw_worksheet *sheet, size_t row, size_t column, const char *text,
                   sw_book_style style);
void sw_book_number (sw_book *book, lxw_worksheet *sheet, size_t row, size_t column, double number,
                     sw_book_style style);
/* VALUE is what FORMULA comes to, for programs that do not calculate. */
void sw_book_formula (sw_book *book, lxw_worksheet *sheet, size_t row, size_t column, const char *formula,
                      double value, sw_book_style style);
/* A sheet called NAME, set up for printing; NULL after a failure. */
lxw_worksheet *sw_book_add_sheet (sw_book *book, const char *name);
/* Column COLUMN is so WIDE in characters, or as wide as is still handy. */
void sw_book_width (sw_book *book, lxw_worksheet *sheet, size_t column, size_t wide);

/* ---- Sheets ---- */

/* Where the order's columns are that are added up; -1: there is no such column. */
typedef struct sw_book_order
{
  size_t rows;
  int length;
  bool inches;
  int count;
  int spare;
  int metres;
  int unit_price;
  int price;
  int kind;
} sw_book_order;

void sw_book_order_find (sw_book_order *out, const sw_table *order);
/* TABLE as a sheet called NAME: frozen header, filter, widths.  ORDER (NULL:
 * it is another table): what is bought and what it costs are worked out there. */
void sw_book_table (sw_book *book, const char *name, const sw_table *table, const sw_book_order *order);
/* The job's files as they were read, each as a sheet, and its settings. */
void sw_book_job (sw_book *book);
/* book_front.c: the first sheet: which plan it is, and the order's totals. */
void sw_book_front (sw_book *book, const sw_table *table, const sw_book_order *order);

/* ---- Files ---- */

/* A file without a name, or with one that is gone with it. */
typedef struct sw_scratch
{
  int fd; /* -1: not open */
  char path[64];
  bool named;
} sw_scratch;

/* book_scratch.c.  SW_IO: none can be opened; errno says why. */
sw_status sw_scratch_open (sw_scratch *scratch);
/* All that stands in it, to be freed. */
sw_status sw_scratch_read (const sw_scratch *scratch, char **bytes, size_t *count);
void sw_scratch_close (sw_scratch *scratch);

/* book_back.c: are BYTES a whole workbook with CELLS cells?  Looks at every
 * part: that it ends with the tag that it begins with.  O(its parts' bytes). */
bool sw_book_is_whole (const char *bytes, size_t count, uint64_t cells);

#endif
