/* book.h - the workbook: what its parts share
 *
 * Only the files book*.c use libxlsxwriter, and zlib, on which it is built.
 * The library does not check that its temporary files took all that was
 * written to them.  So the workbook is read back before it becomes the plan's:
 * every part must be whole, and every cell there.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_BOOK_H
#define SW_BOOK_H

#include "csv/table.h"
#include "plan/papers.h"

#include <xlsxwriter.h>

/* The most rows of a table that are shown below its header: so many are written in a second or two, and nobody scrolls
 * through more. */
#define SW_BOOK_MOST_ROWS ((size_t)100000)
/* The most characters of a cell's text; spreadsheets take no more. */
#define SW_BOOK_MOST_CHARACTERS ((size_t)32767)

typedef enum sw_book_style
{
  SW_BOOK_TEXT,    /* stays text when it is edited, such as a run called 007 */
  SW_BOOK_NUMBER,
  SW_BOOK_MONEY,
  SW_BOOK_LENGTH,  /* metres */
  SW_BOOK_HEADING,
  SW_BOOK_TITLE,
  SW_BOOK_STYLES
} sw_book_style;

/* A workbook in the making. */
typedef struct sw_book
{
  const sw_plan *plan;
  lxw_workbook *workbook;
  lxw_format *styles[SW_BOOK_STYLES];
  uint64_t cells;    /* cells written so far, all of which must be read back */
  uint64_t file_most; /* bytes that a file may have here; a sheet is not begun where it might need more */
  uint64_t file_left; /* of those, what is left to the sheet that is being filled */
  bool cut_short;    /* a cell was */
  sw_page_fn row_fn; /* the caller's, or NULL */
  void *row_data;
  sw_report *report;
  sw_status status;  /* that of the first failure */
} sw_book;

/* Is there any use in going on? */
bool sw_book_goes_on (const sw_book *book);

/* ---- Cells (book_cell.c) ---- */

/* Does a spreadsheet keep TEXT as it is when it takes it for a number?  It does when TEXT has no sign but "-", no zeros
 * in front, and at most 15 figures (ECMA-376 has IEEE doubles).  COMMA: a decimal comma counts too. */
bool sw_book_is_number (const char *text, bool comma, double *number);
/* A blank TEXT leaves the cell blank. */
void sw_book_text (sw_book *book, lxw_worksheet *sheet, size_t row, size_t column, const char *text,
                   sw_book_style style);
void sw_book_number (sw_book *book, lxw_worksheet *sheet, size_t row, size_t column, double number,
                     sw_book_style style);
/* VALUE is the result of FORMULA, for programs that do not calculate. */
void sw_book_formula (sw_book *book, lxw_worksheet *sheet, size_t row, size_t column, const char *formula,
                      double value, sw_book_style style);
/* Add a sheet called NAME, set up for printing; NULL after a failure. */
lxw_worksheet *sw_book_add_sheet (sw_book *book, const char *name);
/* Make column COLUMN so WIDE in characters, or as wide as is still handy. */
void sw_book_width (sw_book *book, lxw_worksheet *sheet, size_t column, size_t wide);

/* ---- Sheets ---- */

/* The columns of the order that are added up; -1: there is no such column. */
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
/* Add TABLE as a sheet called NAME, with a fixed header, a filter and widths.  ORDER (NULL: it is another table): its
 * sheet works out what is bought and what that costs. */
void sw_book_table (sw_book *book, const char *name, const sw_table *table, const sw_book_order *order);
/* Add the job's files as they were read, each as a sheet, and its settings. */
void sw_book_job (sw_book *book);
/* book_front.c: add the first sheet, which says which plan it is and has the order's totals. */
void sw_book_front (sw_book *book, const sw_table *table, const sw_book_order *order);

/* ---- Files ---- */

/* A file that has no name, or whose name goes with it. */
typedef struct sw_scratch
{
  int fd; /* -1: not open */
  char path[64];
  bool named;
} sw_scratch;

/* book_scratch.c.  SW_IO: no such file can be opened; errno says why. */
sw_status sw_scratch_open (sw_scratch *scratch);
/* Read the whole file; to be freed. */
sw_status sw_scratch_read (const sw_scratch *scratch, char **bytes, size_t *count);
void sw_scratch_close (sw_scratch *scratch);

/* book_back.c: Are BYTES a whole workbook with CELLS cells?  Checks of every part that it ends with the tag that it
 * begins with.  O(bytes of its parts). */
bool sw_book_is_whole (const char *bytes, size_t count, uint64_t cells);

#endif
