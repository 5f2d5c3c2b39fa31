/* book_sheet.c - a table as a sheet of the workbook
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "book/book.h"

#include "base/text.h"
#include "job/folder.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The filter's arrow stands beside a header's name. */
#define ARROW_WIDTH 3
/* Two figures of an order are equal when they differ by less than the least that can be printed. */
#define SAME 1e-7

/* Columns of a job's files that hold names or words, so that 007 stays 007. */
static const char *const text_columns[]
    = { "run",  "bay",         "level", "section", "block_section", "label", "description",
        "only", "start",       "finish", "seat",   "yard",          "item",  "key",
        "piece", "join",       "runs",  "opening", "divide",        "per",   "state" };

/* ---- The order's columns -------------------------------------------------------------- */

void
sw_book_order_find (sw_book_order *out, const sw_table *order)
{
  *out = (sw_book_order){ .rows = sw_table_rows (order), .length = sw_table_find (order, "length_mm") };
  out->inches = out->length < 0;
  if (out->inches)
    out->length = sw_table_find (order, "length_in");
  out->count = sw_table_find (order, "count");
  out->spare = sw_table_find (order, "spare");
  out->metres = sw_table_find (order, "metres");
  out->unit_price = sw_table_find (order, "unit_price");
  out->price = sw_table_find (order, "price");
  out->kind = sw_table_find (order, "kind");
}

/* The number in COLUMN of ROW; false: there is none. */
static bool
number_at (const sw_table *table, size_t row, int column, double *out)
{
  const char *text = column >= 0 ? sw_table_cell (table, row, (size_t)column) : NULL;
  return text != NULL && sw_book_is_number (text, false, out);
}

static void
cell_name (char out[LXW_MAX_CELL_NAME_LENGTH], size_t row, int column)
{
  lxw_rowcol_to_cell (out, (lxw_row_t)(row + 1), (lxw_col_t)column);
}

/* The cell in ROW and COLUMN as a formula over its own row; false: it is no formula, or the formula gives another
 * number. */
static bool
order_formula (const sw_table *table, const sw_book_order *order, size_t row, int column, char *out, size_t size)
{
  double count;
  double spare;
  double factor;
  double value;
  const bool price = column == order->price;
  const int other = price ? order->unit_price : order->length;
  const double unit = price ? 1 : order->inches ? 0.0254 : 0.001;
  if ((!price && column != order->metres) || order->spare < 0 || !number_at (table, row, column, &value)
      || !number_at (table, row, order->count, &count) || !number_at (table, row, other, &factor))
    return false;
  /* A blank cell counts as 0 in the formula too. */
  if (!number_at (table, row, order->spare, &spare))
    spare = 0;
  if (fabs ((count + spare) * factor * unit - value) > SAME)
    return false;
  char a[LXW_MAX_CELL_NAME_LENGTH];
  char b[LXW_MAX_CELL_NAME_LENGTH];
  char c[LXW_MAX_CELL_NAME_LENGTH];
  cell_name (a, row, order->count);
  cell_name (b, row, order->spare);
  cell_name (c, row, other);
  snprintf (out, size, "=(%s+%s)*%s%s", a, b, c, price ? "" : order->inches ? "*0.0254" : "/1000");
  return true;
}

/* ---- Any table ------------------------------------------------------------------------ */

static bool
holds_text (const sw_table *table, size_t column)
{
  const char *name = sw_table_header (table, column);
  for (size_t i = 0; i < sizeof text_columns / sizeof *text_columns; i++)
    if (sw_same_word (name, text_columns[i]))
      return true;
  return false;
}

static void
add_header (sw_book *book, lxw_worksheet *sheet, const sw_table *table, size_t *widths)
{
  for (size_t c = 0; c < sw_table_columns (table); c++)
    {
      const char *name = sw_table_header (table, c);
      widths[c] = sw_text_width (name) + ARROW_WIDTH;
      sw_book_text (book, sheet, 0, c, name, SW_BOOK_HEADING);
    }
}

static void
add_cell (sw_book *book, lxw_worksheet *sheet, const sw_table *table, const sw_book_order *order, size_t row,
          size_t column)
{
  const char *text = sw_table_cell (table, row, column);
  const bool read = sw_table_header_line (table) > 0;
  const bool is_text = read ? holds_text (table, column) : sw_table_is_text (table, row, column);
  double number;
  char formula[4 * LXW_MAX_CELL_NAME_LENGTH];
  if (is_text || !sw_book_is_number (text, sw_table_decimal_comma (table), &number))
    {
      sw_book_text (book, sheet, row + 1, column, text, SW_BOOK_TEXT);
      return;
    }
  const int here = (int)column;
  sw_book_style style = SW_BOOK_NUMBER;
  if (order != NULL && (here == order->price || here == order->unit_price))
    style = SW_BOOK_MONEY;
  else if (order != NULL && here == order->metres)
    style = SW_BOOK_LENGTH;
  if (order != NULL && order_formula (table, order, row, here, formula, sizeof formula))
    sw_book_formula (book, sheet, row + 1, column, formula, number, style);
  else
    sw_book_number (book, sheet, row + 1, column, number, style);
}

static void
add_rows (sw_book *book, lxw_worksheet *sheet, const sw_table *table, const sw_book_order *order, size_t rows,
          size_t *widths)
{
  const size_t columns = sw_table_columns (table);
  for (size_t r = 0; r < rows && sw_book_goes_on (book); r++)
    {
      if (book->row_fn != NULL && r % 1000 == 0 && !book->row_fn (book->row_data))
        book->status = SW_STOPPED;
      for (size_t c = 0; c < columns && sw_book_goes_on (book); c++)
        {
          const size_t wide = sw_text_width (sw_table_cell (table, r, c)) + 1;
          widths[c] = wide > widths[c] ? wide : widths[c];
          add_cell (book, sheet, table, order, r, c);
        }
    }
}

void
sw_book_table (sw_book *book, const char *name, const sw_table *table, const sw_book_order *order)
{
  const size_t columns = sw_table_columns (table);
  const size_t all = sw_table_rows (table);
  const size_t rows = all < SW_BOOK_MOST_ROWS ? all : SW_BOOK_MOST_ROWS;
  size_t widths[SW_TABLE_MAX_COLUMNS] = { 0 };
  lxw_worksheet *sheet = sw_book_add_sheet (book, name);
  if (sheet == NULL || columns == 0)
    return;
  add_header (book, sheet, table, widths);
  add_rows (book, sheet, table, order, rows, widths);
  for (size_t c = 0; c < columns; c++)
    sw_book_width (book, sheet, c, widths[c]);
  worksheet_freeze_panes (sheet, 1, 0);
  worksheet_repeat_rows (sheet, 0, 0);
  worksheet_autofilter (sheet, 0, 0, (lxw_row_t)rows, (lxw_col_t)(columns - 1));
  if (rows < all)
    sw_report_add (book->report, SW_WARNING, SW_PAPERS_BOOK, 0, NULL,
                   "has the first %zu rows of \"%s\" and no more: all of it is in %s.csv", rows, name, name);
}

/* ---- The job -------------------------------------------------------------------------- */

/* Add FILE as it was read. */
static void
add_file (sw_book *book, sw_job_file file)
{
  const sw_bytes *bytes = &book->plan->job->read[file];
  const char *name = sw_folder_name (file);
  char sheet[32];
  sw_table *table = NULL;
  if (bytes->data == NULL || book->status != SW_OK)
    return;
  snprintf (sheet, sizeof sheet, "%.*s", (int)strcspn (name, "."), name);
  book->status = sw_table_read_bytes (&table, bytes->data, bytes->count, name, NULL);
  if (book->status == SW_OK)
    sw_book_table (book, sheet, table, NULL);
  sw_table_free (table);
}

void
sw_book_job (sw_book *book)
{
  for (int f = 0; f < SW_FILES; f++)
    if (f != SW_FILE_SETTINGS)
      add_file (book, (sw_job_file)f);
  sw_table *settings = NULL;
  if (book->status == SW_OK)
    book->status = sw_settings_all (book->plan->job->settings, &settings);
  if (book->status == SW_OK)
    sw_book_table (book, "settings", settings, NULL);
  sw_table_free (settings);
}
