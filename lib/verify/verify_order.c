/* verify_order.c - checks that the order has the boards of the cut list and adds up
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "verify/verify.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* Metres and price of a line that orders COUNT boards and SPARE ones. */
static void
check_sums (sw_verifier *verifier, size_t row, const sw_stock *stock, int64_t count, int64_t spare)
{
  int64_t all;
  sw_length metres;
  sw_money price;
  if (sw_length_add (count, spare, &all) && sw_length_mul (stock->length, all, &metres))
    sw_verify_metres (verifier, row, metres);
  if (!verifier->job->priced || !stock->priced)
    {
      sw_verify_no_money (verifier, row, SW_ORDER_UNIT_PRICE);
      sw_verify_no_money (verifier, row, SW_ORDER_PRICE);
      return;
    }
  sw_verify_money (verifier, row, SW_ORDER_UNIT_PRICE, stock->price);
  if (sw_length_add (count, spare, &all) && sw_money_mul (stock->price, all, &price))
    sw_verify_money (verifier, row, SW_ORDER_PRICE, price);
}

/* Check the description.  The yard goes by it, so that a wrong one brings the wrong timber. */
static void
check_description (sw_verifier *verifier, size_t row, size_t stock)
{
  const sw_job *job = verifier->job;
  const char *wanted = job->sections.items[job->stocks.items[stock].section].description;
  char is[SW_SHOWN];
  char should[SW_SHOWN];
  wanted = wanted != NULL ? wanted : "";
  if (verifier->order.columns[SW_ORDER_DESCRIPTION] < 0)
    return;
  const char *found = sw_listing_text (&verifier->order, row, SW_ORDER_DESCRIPTION);
  if (strcmp (found, wanted) == 0)
    return;
  sw_show_text (found, is);
  sw_show_text (wanted, should);
  if (wanted[0] == '\0')
    SW_VERIFY_FAULT (verifier, &verifier->order, row, SW_ORDER_DESCRIPTION,
                     "is \"%s\", should be blank: the job describes no such section", is);
  else if (strcmp (is, should) == 0)
    {
      /* Both texts are cut short before the place where they differ, so that the message names that place. */
      size_t same = 0;
      while (found[same] != '\0' && found[same] == wanted[same])
        same++;
      SW_VERIFY_FAULT (verifier, &verifier->order, row, SW_ORDER_DESCRIPTION,
                       "is \"%s\", which is not the job's from byte %zu on", is, same + 1);
    }
  else
    SW_VERIFY_FAULT (verifier, &verifier->order, row, SW_ORDER_DESCRIPTION, "is \"%s\", should be \"%s\"", is, should);
}

/* What a row orders. */
typedef enum kind
{
  TIMBER,
  OTHER, /* a fitting or a delivery: looked at elsewhere */
  WRONG
} kind;

static kind
kind_of (sw_verifier *verifier, size_t row)
{
  static const int needed[] = { SW_ORDER_SECTION, SW_ORDER_LENGTH, SW_ORDER_METRES };
  const sw_listing *order = &verifier->order;
  const char *text = order->columns[SW_ORDER_KIND] < 0 ? "timber" : sw_listing_text (order, row, SW_ORDER_KIND);
  if (sw_same_word (text, "fitting") || sw_same_word (text, "delivery"))
    return OTHER;
  if (*text != '\0' && !sw_same_word (text, "timber"))
    {
      SW_VERIFY_FAULT (verifier, order, row, SW_ORDER_KIND,
                       "is \"%s\", should be \"timber\", \"fitting\" or \"delivery\"", text);
      return WRONG;
    }
  kind found = TIMBER;
  for (size_t i = 0; i < sizeof needed / sizeof *needed; i++)
    if (*sw_listing_text (order, row, needed[i]) == '\0')
      {
        SW_VERIFY_FAULT (verifier, order, row, needed[i], "the cell is blank");
        found = WRONG;
      }
  return found;
}

/* Of the rows of STOCK's length that of the yard that ROW names, or SW_UNKNOWN and a fault. */
static size_t
at_yard (sw_verifier *verifier, size_t row, size_t stock)
{
  const sw_job *job = verifier->job;
  const sw_listing *order = &verifier->order;
  const char *name = order->columns[SW_ORDER_YARD] < 0 ? "" : sw_listing_text (order, row, SW_ORDER_YARD);
  char shown[SW_SHOWN];
  for (size_t s = stock; s < job->stocks.count && sw_stock_same (&job->stocks.items[s], &job->stocks.items[stock]); s++)
    {
      const size_t yard = job->stocks.items[s].yard;
      if (strcmp (yard == SW_NO_YARD ? "" : job->yards.items[yard].name, name) == 0)
        return s;
    }
  sw_show_text (name, shown);
  SW_VERIFY_FAULT (verifier, order, row, SW_ORDER_YARD, "is \"%s\": no such yard offers this length", shown);
  return SW_UNKNOWN;
}

/* The line of each stock row, or SW_UNKNOWN. */
static void
find_lines (sw_verifier *verifier, size_t *lines)
{
  const sw_listing *order = &verifier->order;
  for (size_t s = 0; s < verifier->job->stocks.count; s++)
    lines[s] = SW_UNKNOWN;
  for (size_t row = 0; row < order->rows; row++)
    {
      if (kind_of (verifier, row) != TIMBER)
        continue;
      const char *section = sw_listing_text (order, row, SW_ORDER_SECTION);
      sw_length length = sw_listing_number (order, row, SW_ORDER_LENGTH);
      char is[SW_SHOWN];
      size_t stock = sw_verify_stock (verifier->job, section, length);
      sw_verify_show (verifier, length, is);
      if (stock != SW_UNKNOWN)
        stock = at_yard (verifier, row, stock);
      else
        SW_VERIFY_FAULT (verifier, order, row, SW_ORDER_LENGTH, "is %s: the stock offers no such length of \"%s\"", is,
                         section);
      if (stock != SW_UNKNOWN && lines[stock] != SW_UNKNOWN)
        SW_VERIFY_FAULT (verifier, order, row, SW_ORDER_LENGTH, "is %s: \"%s\" of this length is on line %zu already",
                         is, section, sw_listing_line (order, lines[stock]));
      else if (stock != SW_UNKNOWN)
        lines[stock] = row;
      if (stock != SW_UNKNOWN)
        check_description (verifier, row, stock);
    }
}

/* Check the spare lengths of one section, whose stocks are FIRST to END - 1.  They belong on the
 * line that orders most; if several lines order as many, it may be any of these. */
static void
check_spare (sw_verifier *verifier, const size_t *lines, size_t first, size_t end)
{
  const sw_job *job = verifier->job;
  const sw_listing *order = &verifier->order;
  const sw_section *section = &job->sections.items[job->stocks.items[first].section];
  int64_t wanted = section->spare;
  int64_t all = 0;
  int64_t most = 0;
  bool placed = false;
  size_t line = SW_UNKNOWN;
  for (size_t s = first; s < end; s++)
    {
      all += verifier->bought[s];
      if (verifier->bought[s] > most)
        most = verifier->bought[s];
    }
  /* A part of a length is a whole one. */
  wanted += (all * section->spare_rate + SW_SPARE_WHOLE - 1) / SW_SPARE_WHOLE;
  for (size_t s = first; s < end; s++)
    {
      if (lines[s] == SW_UNKNOWN)
        continue;
      int64_t spare = sw_listing_number (order, lines[s], SW_ORDER_SPARE);
      spare = spare == SW_BLANK ? 0 : spare;
      bool may = verifier->bought[s] == most && most > 0 && !placed;
      if (may)
        line = lines[s];
      if (spare > 0 && may && spare == wanted)
        placed = true;
      else if (spare > 0)
        sw_verify_count (verifier, lines[s], SW_ORDER_SPARE, may ? wanted : 0,
                     may ? "" : ": spare is of the section's most-ordered length");
      placed = placed || (spare > 0 && may);
    }
  if (!placed && wanted > 0 && line != SW_UNKNOWN)
    sw_verify_count (verifier, line, SW_ORDER_SPARE, wanted, "");
}

static void
check_line (sw_verifier *verifier, size_t stock, size_t row)
{
  const sw_job *job = verifier->job;
  const sw_stock *of = &job->stocks.items[stock];
  int64_t bought = verifier->bought[stock];
  char length[SW_SHOWN];
  if (row == SW_UNKNOWN)
    {
      if (bought > 0)
        SW_VERIFY_FAULT (verifier, &verifier->order, SW_UNKNOWN, -1,
                         "\"%s\" %s is not ordered: cuts.csv has %" PRId64 " of it from the yard",
                         job->sections.items[of->section].name, sw_verify_show (verifier, of->length, length), bought);
      return;
    }
  int64_t count = sw_listing_number (&verifier->order, row, SW_ORDER_COUNT);
  int64_t spare = sw_listing_number (&verifier->order, row, SW_ORDER_SPARE);
  sw_verify_count (verifier, row, SW_ORDER_COUNT, bought, ", the boards from the yard in cuts.csv");
  check_sums (verifier, row, of, count, spare == SW_BLANK ? 0 : spare);
}

sw_status
sw_verify_order (sw_verifier *verifier)
{
  const sw_stocks *stocks = &verifier->job->stocks;
  size_t *lines = sw_alloc (stocks->count, sizeof *lines);
  if (lines == NULL)
    return SW_NO_MEMORY;
  find_lines (verifier, lines);
  if (stocks->offers)
    sw_verify_bought (verifier, lines);
  for (size_t s = 0; s < stocks->count && !stocks->offers; s++)
    check_line (verifier, s, lines[s]);
  for (size_t first = 0, end = 0; first < stocks->count && !stocks->offers; first = end)
    {
      while (end < stocks->count && stocks->items[end].section == stocks->items[first].section)
        end++;
      check_spare (verifier, lines, first, end);
    }
  free (lines);
  return sw_verify_fittings (verifier);
}
