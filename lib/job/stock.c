/* stock.c - the lengths that sections come in, and the reading of stock.csv
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/stock.h"
#include "csv/field.h"
#include "base/memory.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MOST_BOARDS 1000000000
/* Of one pack, and from which on a price falls. */
#define MOST_AT_ONCE 100000

enum
{
  SECTION,
  LENGTH,
  PRICE,
  PER,
  LIMIT,
  HAND,
  YARD,
  FROM,
  PACK,
  COLUMNS
};

static sw_status
append (sw_stocks *stocks, const sw_stock *row)
{
  void *items = stocks->items;
  sw_status status = sw_grow (&items, &stocks->capacity, stocks->count + 1, sizeof (sw_stock));
  stocks->items = items;
  if (status == SW_OK)
    stocks->items[stocks->count++] = *row;
  return status;
}

/* Read the columns price and per into the price of one length. */
static bool
read_price (sw_fields *fields, sw_stock *row)
{
  static const char *const choices[] = { "length", "metre" };
  static const sw_other_word others[] = { { "each", 0 }, { "meter", 1 }, { "m", 1 }, { "lm", 1 }, { NULL, 0 } };
  size_t per = 0;
  sw_money price = -1;
  bool good = sw_field_money (fields, PRICE, &price);
  good &= sw_field_choice_too (fields, PER, choices, 2, others, &per);
  if (!good)
    return false;
  if (price < 0)
    {
      if (*sw_field (fields, PER) == '\0')
        return true;
      sw_field_fault (fields, PER, "expected a blank cell where no price stands, found \"%s\"", sw_field (fields, PER));
      return false;
    }
  row->priced = true;
  row->price = price;
  if (per == 1 && (!sw_money_of_length (price, row->length, &row->price) || row->price > SW_MONEY_MAX))
    {
      sw_field_expected (fields, PRICE, "a price that makes one length cost at most 1000000000");
      return false;
    }
  return true;
}

/* The yard's name, if there is one; false after a fault. */
static bool
read_yard (sw_yards *yards, sw_fields *fields, sw_stock *row, sw_status *status)
{
  const char *name = NULL;
  *status = SW_OK;
  if (*sw_field (fields, YARD) == '\0')
    return true;
  if (!sw_field_name (fields, YARD, "a yard's name", &name))
    return false;
  *status = sw_yards_intern (yards, name, &row->yard);
  const bool unknown = *status == SW_REJECTED;
  if (*status == SW_OK && yards->count <= SW_YARDS_MAX)
    return true;
  if (*status == SW_NO_MEMORY)
    return false;
  char shown[SW_SHOWN];
  sw_show_text (name, shown);
  if (unknown)
    sw_field_fault (fields, YARD, "expected a yard that the yards file lists, found \"%s\"", shown);
  else if (yards->count == SW_YARDS_MAX + 1)
    sw_field_fault (fields, YARD, "expected at most %d yards, found \"%s\" besides", SW_YARDS_MAX, shown);
  *status = SW_OK;
  return false;
}

static sw_status
read_row (sw_stocks *out, sw_sections *sections, sw_yards *yards, sw_fields *fields)
{
  const char *name = NULL;
  sw_stock row = { .limit = -1, .hand = -1, .yard = SW_NO_YARD, .from = 1, .line = sw_field_line (fields) };
  sw_status status;
  bool good = sw_field_name (fields, SECTION, "a section's name", &name);
  good &= sw_field_needed (fields, LENGTH, "a stock length such as 4.8")
          && sw_field_length (fields, LENGTH, SW_BARE_STOCK, SW_STOCK_SHORTEST, SW_LENGTH_MAX, &row.length);
  good &= read_price (fields, &row);
  good &= sw_field_whole (fields, LIMIT, 0, MOST_BOARDS, &row.limit);
  good &= sw_field_whole (fields, HAND, 0, MOST_BOARDS, &row.hand);
  good &= sw_field_whole (fields, FROM, 1, MOST_AT_ONCE, &row.from);
  good &= sw_field_whole (fields, PACK, 1, MOST_AT_ONCE, &row.pack);
  good &= read_yard (yards, fields, &row, &status);
  if (!good || status != SW_OK)
    return status;
  status = sw_sections_intern (sections, name, &row.section);
  return status == SW_OK ? append (out, &row) : status;
}

/* What is wrong with a row of stock.csv beside the other rows.  It is reported after the rows have been sorted. */
typedef enum fault
{
  TWICE,
  LOOKS_LIKE, /* it looks like another length where lengths are printed */
  PRICELESS
} fault;

typedef struct complaint
{
  size_t line;
  size_t other;  /* the line that it contradicts */
  size_t stock;  /* index of the stock */
  size_t beside; /* index of the other length; unused for a missing price */
  fault fault;
} complaint;

static int
compare_complaints (const void *a, const void *b)
{
  const complaint *left = a;
  const complaint *right = b;
  if (left->line != right->line)
    return left->line < right->line ? -1 : 1;
  return (int)left->fault - (int)right->fault;
}

/* Is the length of stock INDEX that of the one before, or does it look like it?  The later line is to blame. */
static bool
check_lengths (const sw_stocks *stocks, size_t index, bool inches, complaint *out)
{
  const sw_stock *stock = &stocks->items[index];
  bool same = stock->length == stock[-1].length;
  /* Another yard, or the price of another number. */
  if (same && (stock->yard != stock[-1].yard || stock->from != stock[-1].from))
    return false;
  if (!same && !sw_length_looks_like (stock->length, stock[-1].length, inches))
    return false;
  bool later = stock->line > stock[-1].line;
  size_t to_blame = later ? index : index - 1;
  size_t beside = later ? index - 1 : index;
  *out = (complaint){ stocks->items[to_blame].line, stocks->items[beside].line, to_blame, beside,
                      same ? TWICE : LOOKS_LIKE };
  return true;
}

/* Check the stocks FIRST to END, which are those of one section, and make their prices agree.
 * Returns the number of complaints. */
static size_t
check_section (sw_stocks *stocks, size_t first, size_t end, bool inches, complaint *complaints)
{
  size_t count = 0;
  size_t priced = 0; /* the first line with a price that counts */
  for (size_t i = first; i < end; i++)
    {
      const sw_stock *stock = &stocks->items[i];
      if (i > first && check_lengths (stocks, i, inches, &complaints[count]))
        count++;
      if (stock->priced && stock->limit != 0 && (priced == 0 || stock->line < priced))
        priced = stock->line;
    }
  for (size_t i = first; i < end; i++)
    {
      sw_stock *stock = &stocks->items[i];
      if (stock->limit == 0)
        {
          /* It cannot be bought, so that its price must not make it different. */
          stock->price = stock->priced && priced != 0 ? stock->price : 0;
          stock->priced = priced != 0;
        }
      else if (priced != 0 && !stock->priced)
        complaints[count++] = (complaint){ stock->line, priced, i, i, PRICELESS };
    }
  return count;
}

/* Write the stock lengths A and B as they are called: "4.8 m".  If they would look the same, they are
 * written with what tells them apart. */
static void
show_metres (sw_length a, sw_length b, char a_out[SW_SHOWN], char b_out[SW_SHOWN])
{
  char figure[SW_LENGTH_TEXT];
  sw_length_format_m (a, true, figure);
  snprintf (a_out, SW_SHOWN, "%s m", figure);
  sw_length_format_m (b, true, figure);
  snprintf (b_out, SW_SHOWN, "%s m", figure);
  if (a != b && strcmp (a_out, b_out) == 0)
    sw_show_lengths (a, b, false, a_out, b_out);
}

static void
complain (const sw_stocks *stocks, const sw_sections *sections, const complaint *what, sw_fields *fields)
{
  const sw_stock *stock = &stocks->items[what->stock];
  char name[SW_SHOWN];
  sw_show_text (sections->items[stock->section].name, name);
  const char *file = sw_table_file (fields->table);
  fields->faults++;
  char length[SW_SHOWN];
  char beside[SW_SHOWN];
  show_metres (stock->length, stocks->items[what->beside].length, length, beside);
  switch (what->fault)
    {
    case TWICE:
      sw_report_add (fields->report, SW_FAULT, file, what->line, "length",
                     "section \"%s\" in %s stands twice; it is on line %zu already", name, length, what->other);
      break;
    case LOOKS_LIKE:
      sw_report_add (fields->report, SW_FAULT, file, what->line, "length",
                     "section \"%s\" in %s cannot be told from %s on line %zu where lengths are printed; expected "
                     "lengths further apart, or one row for both",
                     name, length, beside, what->other);
      break;
    case PRICELESS:
      sw_report_add (fields->report, SW_FAULT, file, what->line, "price",
                     "expected a price, since section \"%s\" has one on line %zu, found a blank cell", name,
                     what->other);
      break;
    }
}

/* Check the rules that concern several rows.  STOCKS are sorted. */
static sw_status
check_rows (sw_stocks *stocks, const sw_sections *sections, bool inches, sw_fields *fields)
{
  /* A row may both repeat a length and lack a price. */
  complaint *complaints = sw_alloc (stocks->count, 2 * sizeof (complaint));
  if (complaints == NULL)
    return SW_NO_MEMORY;
  size_t count = 0;
  for (size_t first = 0, end; first < stocks->count; first = end)
    {
      end = first + 1;
      while (end < stocks->count && stocks->items[end].section == stocks->items[first].section)
        end++;
      count += check_section (stocks, first, end, inches, complaints + count);
    }
  if (count > 1)
    qsort (complaints, count, sizeof (complaint), compare_complaints);
  for (size_t i = 0; i < count; i++)
    complain (stocks, sections, &complaints[i], fields);
  free (complaints);
  return SW_OK;
}

sw_status
sw_stocks_read (sw_stocks *out, sw_sections *sections, sw_yards *yards, const sw_table *table,
                const sw_settings *settings, sw_report *report)
{
  static const char *const names[COLUMNS]
      = { "section", "length", "price", "per", "limit", "hand", "yard", "from", "pack" };
  static const sw_offer_columns columns = { PRICE, LIMIT, HAND, YARD, FROM, PACK };
  sw_fields fields;
  if (!sw_fields_begin (&fields, table, names, COLUMNS, 2, report))
    return SW_REJECTED;
  if (sw_table_rows (table) == 0)
    {
      sw_report_add (report, SW_FAULT, sw_table_file (table), 0, NULL,
                     "expected at least one stock length, found none");
      return SW_REJECTED;
    }
  for (size_t rows = sw_table_rows (table); fields.row < rows; fields.row++)
    {
      sw_status status = read_row (out, sections, yards, &fields);
      if (status != SW_OK)
        return status;
    }
  sw_stocks_sort (out);
  sw_status status = check_rows (out, sections, settings->inches, &fields);
  if (status == SW_OK)
    status = sw_stocks_make_offers (out, yards, &fields, &columns);
  if (status == SW_OK && fields.faults > 0)
    status = SW_REJECTED;
  return status;
}

sw_status
sw_stocks_default (sw_stocks *out, const sw_sections *sections, const sw_yards *yards, const sw_settings *settings)
{
  for (size_t section = 0; section < sections->count; section++)
    for (size_t i = 0; i < settings->stock_length_count; i++)
      {
        sw_stock row = { .section = section,
                         .length = settings->stock_lengths[i],
                         .limit = -1,
                         .yard = SW_NO_YARD,
                         .from = 1,
                         .pack = 1 };
        sw_status status = append (out, &row);
        if (status != SW_OK)
          return status;
      }
  sw_stocks_sort (out);
  return sw_stocks_spread (out, yards, NULL, NULL);
}

void
sw_stocks_clear (sw_stocks *stocks)
{
  free (stocks->items);
  free (stocks->prices);
  memset (stocks, 0, sizeof *stocks);
}

bool
sw_stock_can_be_had (const sw_stock *stock)
{
  return stock->limit != 0 || stock->hand > 0;
}

sw_length
sw_stocks_longest (const sw_stocks *stocks, size_t section)
{
  sw_length longest = 0;
  for (size_t i = 0; i < stocks->count; i++)
    {
      const sw_stock *stock = &stocks->items[i];
      if (stock->section == section && sw_stock_can_be_had (stock) && stock->length > longest)
        longest = stock->length;
    }
  return longest;
}
