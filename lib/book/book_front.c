/* book_front.c - the first sheet of the workbook: which plan it is, and the order's totals
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "book/book.h"

#include "view/figures.h"
#include "view/fingerprint.h"
#include "view/order.h"

#include <stdio.h>
#include <stdlib.h>

#define LABEL_WIDTH 28
#define VALUE_WIDTH 16
/* This is longer than any "order!D2:D5", and than any formula of two of them. */
#define AREA (3 * LXW_MAX_CELL_NAME_LENGTH)
#define FORMULA (3 * AREA)

typedef struct front
{
  sw_book *book;
  lxw_worksheet *sheet;
  const sw_table *table; /* the order */
  const sw_book_order *order;
  size_t row; /* the next row to be filled */
} front;

/* All of COLUMN as an area: "order!D2:D5". */
static void
range (const front *f, int column, char out[AREA])
{
  char first[LXW_MAX_CELL_NAME_LENGTH];
  char last[LXW_MAX_CELL_NAME_LENGTH];
  lxw_rowcol_to_cell (first, 1, (lxw_col_t)column);
  lxw_rowcol_to_cell (last, (lxw_row_t)f->order->rows, (lxw_col_t)column);
  snprintf (out, AREA, "order!%s:%s", first, last);
}

/* Is ROW of the order timber?  Without that column all rows are. */
static bool
is_timber (const front *f, size_t row)
{
  return f->order->kind < 0 || sw_same_word (sw_table_cell (f->table, row, (size_t)f->order->kind), "timber");
}

/* The sum of COLUMN over the timber, as a formula without "=" and as a number. */
static double
sum_of_timber (const front *f, int column, char out[FORMULA])
{
  char over[AREA];
  double sum = 0;
  range (f, column, over);
  if (f->order->kind >= 0)
    {
      char kinds[AREA];
      range (f, f->order->kind, kinds);
      snprintf (out, FORMULA, "SUMIF(%s,\"timber\",%s)", kinds, over);
    }
  else
    snprintf (out, FORMULA, "SUM(%s)", over);
  for (size_t r = 0; r < f->order->rows; r++)
    {
      double number;
      if (is_timber (f, r) && sw_book_is_number (sw_table_cell (f->table, r, (size_t)column), false, &number))
        sum += number;
    }
  return sum;
}

static void
add_formula (front *f, const char *label, const char *formula, double value, sw_book_style style)
{
  sw_book_text (f->book, f->sheet, f->row, 0, label, SW_BOOK_TEXT);
  sw_book_formula (f->book, f->sheet, f->row, 1, formula, value, style);
  f->row++;
}

static void
add_timber (front *f)
{
  char sum[FORMULA];
  char more[FORMULA];
  char formula[2 * FORMULA + 8];
  if (f->order->metres >= 0)
    {
      const double metres = sum_of_timber (f, f->order->metres, sum);
      snprintf (formula, sizeof formula, "=%s", sum);
      add_formula (f, "Timber to order, metres", formula, metres, SW_BOOK_LENGTH);
    }
  if (f->order->count >= 0 && f->order->spare >= 0)
    {
      const double count = sum_of_timber (f, f->order->count, sum);
      const double spare = sum_of_timber (f, f->order->spare, more);
      snprintf (formula, sizeof formula, "=%s+%s", sum, more);
      add_formula (f, "Lengths to order", formula, count + spare, SW_BOOK_NUMBER);
    }
}

static double
units (sw_money money)
{
  return (double)money / (double)SW_MONEY_UNIT;
}

/* Each figure is rounded to a hundredth, as in sw_order_tax, so that they add up. */
static void
add_price (front *f)
{
  const sw_job *job = f->book->plan->job;
  const int64_t rate = job->settings->tax;
  sw_order order;
  sw_money ex = 0;
  sw_money tax = 0;
  char over[AREA];
  char formula[FORMULA];
  f->book->status = sw_order_make (&order, f->book->plan);
  if (f->book->status != SW_OK)
    return;
  const bool taxed = sw_order_tax (&order, &ex, &tax);
  range (f, f->order->price, over);
  snprintf (formula, sizeof formula, "=ROUND(SUM(%s),2)", over);
  add_formula (f, rate >= 0 ? "Price without tax" : "Price", formula, units (ex), SW_BOOK_MONEY);
  if (rate >= 0 && taxed)
    {
      /* The tax is kept in millionths of the price. */
      sw_book_text (f->book, f->sheet, f->row, 0, "Tax, per cent", SW_BOOK_TEXT);
      sw_book_number (f->book, f->sheet, f->row, 1, (double)rate / 1e4, SW_BOOK_NUMBER);
      f->row++;
      snprintf (formula, sizeof formula, "=ROUND(B%zu*B%zu/100,2)", f->row - 1, f->row);
      add_formula (f, "Tax", formula, units (tax), SW_BOOK_MONEY);
      snprintf (formula, sizeof formula, "=B%zu+B%zu", f->row - 2, f->row);
      add_formula (f, "Price with tax", formula, units (ex + tax), SW_BOOK_MONEY);
    }
  sw_order_clear (&order);
}

static void
add_heading (front *f)
{
  const char *job = f->book->plan->job->settings->job;
  sw_text title = { 0 };
  sw_text line = { 0 };
  sw_text_add (&title, "Timber plan");
  if (job != NULL && job[0] != '\0')
    {
      sw_text_add (&title, " for ");
      sw_view_name (&title, job);
    }
  sw_status status = sw_fingerprint_line (&line, f->book->plan);
  if (status == SW_OK && (title.failed || line.failed))
    status = SW_NO_MEMORY;
  if (f->book->status == SW_OK)
    f->book->status = status;
  if (f->book->status == SW_OK)
    {
      sw_book_text (f->book, f->sheet, 0, 0, title.data, SW_BOOK_TITLE);
      sw_book_text (f->book, f->sheet, 1, 0, line.data, SW_BOOK_TEXT);
    }
  sw_text_drop (&title);
  sw_text_drop (&line);
  f->row = 3;
}

/* What is edited on this sheet is not read back; the sheets that are say how it comes back. */
static void
add_way_back (front *f)
{
  static const char *const lines[] = { "To have a plan checked that was edited here: save the sheets order, cuts, fit and",
                                       "setout as order.csv, cuts.csv, fit.csv and setout.csv in the plan's folder, then:",
                                       "spanwright verify --plan FOLDER" };
  f->row++;
  for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
    sw_book_text (f->book, f->sheet, f->row++, 0, lines[i], SW_BOOK_TEXT);
}

void
sw_book_front (sw_book *book, const sw_table *table, const sw_book_order *order)
{
  front f = { .book = book, .table = table, .order = order };
  f.sheet = sw_book_add_sheet (book, "plan");
  if (f.sheet == NULL)
    return;
  add_heading (&f);
  if (order->rows == 0)
    sw_book_text (book, f.sheet, f.row++, 0, "Nothing to order: all of it comes from hand.", SW_BOOK_TEXT);
  else
    {
      add_timber (&f);
      if (book->plan->job->priced && order->price >= 0 && book->status == SW_OK)
        add_price (&f);
    }
  add_way_back (&f);
  sw_book_width (book, f.sheet, 0, LABEL_WIDTH);
  sw_book_width (book, f.sheet, 1, VALUE_WIDTH);
}
