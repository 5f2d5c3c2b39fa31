/* stock_offer.c - rows of stock.csv as offers: those of a yard, in packs, at falling prices
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/stock.h"

#include "base/memory.h"
#include "base/text.h"
#include "csv/field.h"

#include <inttypes.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

sw_money
sw_stock_price (const sw_stocks *stocks, const sw_stock *stock, int64_t count)
{
  sw_money price = stock->price;
  for (size_t i = 1; i < stock->price_count; i++)
    if (count >= stocks->prices[stock->price_first + i].from)
      price = stocks->prices[stock->price_first + i].price;
  return price;
}

bool
sw_stock_same (const sw_stock *a, const sw_stock *b)
{
  const bool ends = a->ends != NULL && b->ends != NULL ? strcmp (a->ends, b->ends) == 0 : a->ends == b->ends;
  return a->section == b->section && a->length == b->length && a->sawn == b->sawn && ends && a->cut == b->cut
         && a->take == b->take;
}

sw_status
sw_stocks_copy (sw_stocks *out, const sw_stocks *stocks)
{
  *out = *stocks;
  out->capacity = stocks->count;
  out->items = sw_alloc (stocks->count, sizeof *out->items);
  out->prices = sw_alloc (stocks->price_count, sizeof *out->prices);
  if (out->items == NULL || out->prices == NULL)
    return SW_NO_MEMORY;
  if (stocks->count > 0)
    memcpy (out->items, stocks->items, stocks->count * sizeof *out->items);
  if (stocks->price_count > 0)
    memcpy (out->prices, stocks->prices, stocks->price_count * sizeof *out->prices);
  return SW_OK;
}

/* What the rows that were read become offers with. */
typedef struct making
{
  sw_stocks *stocks;
  sw_fields *fields;
  const sw_offer_columns *columns;
} making;

static void complain (const making *m, const sw_stock *row, size_t column, const char *format, ...) SW_PRINTF (4, 5);

static void
complain (const making *m, const sw_stock *row, size_t column, const char *format, ...)
{
  sw_text message = { 0 };
  va_list arguments;
  va_start (arguments, format);
  sw_text_vprintf (&message, format, arguments);
  va_end (arguments);
  char *text = sw_text_take (&message);
  m->fields->faults++;
  sw_report_add (m->fields->report, SW_FAULT, sw_table_file (m->fields->table), row->line, m->fields->names[column],
                 "%s", text != NULL ? text : "is wrong");
  free (text);
}

/* Check that ROW repeats a number of BASE, the first row of the same offer; BLANK: ROW leaves it out. */
static void
check_again (const making *m, const sw_stock *base, const sw_stock *row, size_t column, int64_t first, int64_t here,
             int64_t blank)
{
  if (here != blank && here != first)
    complain (m, row, column,
              "is %" PRId64 ", but not so on line %zu, where the same length of the same yard begins; write it there, "
              "or the same here",
              here, base->line);
}

static void
check_prices (const making *m, const sw_stock *base, const sw_stock *row, sw_money before)
{
  char found[SW_MONEY_TEXT];
  char most[SW_MONEY_TEXT];
  check_again (m, base, row, m->columns->limit, base->limit, row->limit, -1);
  check_again (m, base, row, m->columns->hand, base->hand, row->hand, -1);
  check_again (m, base, row, m->columns->pack, base->pack, row->pack, 0);
  sw_money_format_exact (row->price, found);
  sw_money_format_exact (before, most);
  if (row->priced && row->price > before)
    complain (m, row, m->columns->price, "expected at most %s a length, the price of fewer, found %s", most, found);
  else if (!row->priced && !base->priced && row->limit != 0)
    complain (m, row, m->columns->from, "expected a price that holds from %" PRId64 " on, found none", row->from);
}

/* Merge the rows FIRST to END - 1 into one at OUT. */
static void
merge (const making *m, size_t first, size_t end, size_t out)
{
  sw_stocks *stocks = m->stocks;
  sw_stock base = stocks->items[first];
  base.price_first = stocks->price_count;
  for (size_t i = first; i < end; i++)
    {
      const sw_stock *row = &stocks->items[i];
      /* A row that is given twice has been reported already. */
      if (i > first && row->from > stocks->items[i - 1].from)
        check_prices (m, &stocks->items[first], row, stocks->items[i - 1].price);
      if (end - first > 1)
        stocks->prices[stocks->price_count++] = (sw_price){ .from = row->from, .price = row->price };
    }
  base.price_count = end - first;
  base.hand = base.hand < 0 ? 0 : base.hand;
  base.pack = base.pack < 1 ? 1 : base.pack;
  if (base.from > 1 && !base.priced)
    complain (m, &base, m->columns->from, "expected a price that holds from %" PRId64 " on, found none", base.from);
  if (base.yard != SW_NO_YARD || base.pack > 1 || base.from > 1 || base.price_count > 1)
    stocks->offers = true;
  stocks->items[out] = base;
}

sw_status
sw_stocks_spread (sw_stocks *stocks, const sw_yards *yards, struct sw_fields *fields, const sw_offer_columns *columns)
{
  const making m = { .stocks = stocks, .fields = fields, .columns = columns };
  size_t before = stocks->count;
  if (yards->count == 0)
    return SW_OK;
  void *items = stocks->items;
  sw_status status = sw_grow (&items, &stocks->capacity, before * (yards->count + 1), sizeof *stocks->items);
  stocks->items = items;
  if (status != SW_OK)
    return status;
  stocks->offers = true;
  for (size_t i = 0; i < before; i++)
    {
      sw_stock *row = &stocks->items[i];
      if (row->yard != SW_NO_YARD)
        continue;
      bool taken = false;
      for (size_t y = 0; y < yards->count; y++)
        {
          bool own = false;
          /* The rows of a length are together, and this one is the last of them. */
          for (size_t k = i; k-- > 0 && sw_stock_same (&stocks->items[k], row);)
            own = own || stocks->items[k].yard == y;
          if (own)
            continue;
          sw_stock copy = *row;
          copy.yard = y;
          copy.hand = taken ? 0 : row->hand;
          if (taken)
            stocks->items[stocks->count++] = copy;
          else
            stocks->items[before * (yards->count + 1) - 1] = copy; /* at the end it takes the place of the row */
          taken = true;
        }
      if (!taken)
        complain (&m, row, columns->yard, "expected a yard's name, since every yard has a row of this length already");
      else
        *row = stocks->items[before * (yards->count + 1) - 1];
    }
  sw_stocks_sort (stocks);
  return SW_OK;
}

sw_status
sw_stocks_make_offers (sw_stocks *stocks, const sw_yards *yards, sw_fields *fields, const sw_offer_columns *columns)
{
  const making m = { .stocks = stocks, .fields = fields, .columns = columns };
  size_t count = 0;
  stocks->prices = sw_alloc (stocks->count, sizeof *stocks->prices);
  if (stocks->prices == NULL)
    return SW_NO_MEMORY;
  for (size_t first = 0, end; first < stocks->count; first = end)
    {
      const sw_stock *row = &stocks->items[first];
      end = first + 1;
      while (end < stocks->count && sw_stock_same (row, &stocks->items[end]) && stocks->items[end].yard == row->yard)
        end++;
      merge (&m, first, end, count++);
    }
  stocks->count = count;
  return sw_stocks_spread (stocks, yards, fields, columns);
}
