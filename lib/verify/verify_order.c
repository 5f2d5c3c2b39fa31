/* verify_order.c - checks that the order has the boards of the cut list and adds up
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "verify/verify.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* The order may show prices with two decimals. */
#define HALF_A_CENT (SW_MONEY_UNIT / 200)

static void
check_count (sw_verifier *verifier, size_t row, int field, int64_t wanted, const char *why)
{
  int64_t found = sw_listing_number (&verifier->order, row, field);
  if (found == SW_BLANK)
    found = 0;
  if (found != wanted)
    SW_VERIFY_FAULT (verifier, &verifier->order, row, field, "is \"%s\", should be %" PRId64 "%s",
                     sw_listing_text (&verifier->order, row, field), wanted, why);
}

static void
check_money (sw_verifier *verifier, size_t row, int field, sw_money wanted)
{
  sw_money found = sw_listing_number (&verifier->order, row, field);
  char should[SW_MONEY_TEXT];
  if (found != SW_BLANK && found >= wanted - HALF_A_CENT && found <= wanted + HALF_A_CENT)
    return;
  sw_money_format_exact (wanted, should);
  SW_VERIFY_FAULT (verifier, &verifier->order, row, field, "is \"%s\", should be %s",
                   sw_listing_text (&verifier->order, row, field), should);
}

static void
check_no_money (sw_verifier *verifier, size_t row, int field)
{
  if (sw_listing_number (&verifier->order, row, field) != SW_BLANK)
    SW_VERIFY_FAULT (verifier, &verifier->order, row, field, "is \"%s\", should be blank: the stock has no prices",
                     sw_listing_text (&verifier->order, row, field));
}

static void
check_metres (sw_verifier *verifier, size_t row, sw_length wanted)
{
  sw_length found = sw_listing_number (&verifier->order, row, SW_ORDER_METRES);
  char should[SW_LENGTH_TEXT];
  if (found >= wanted - SW_VERIFY_TOLERANCE && found <= wanted + SW_VERIFY_TOLERANCE)
    return;
  sw_length_format_m (wanted, false, should);
  SW_VERIFY_FAULT (verifier, &verifier->order, row, SW_ORDER_METRES, "is \"%s\", should be %s",
                   sw_listing_text (&verifier->order, row, SW_ORDER_METRES), should);
}

/* Check the metres and the price of a line that orders COUNT boards and SPARE more. */
static void
check_sums (sw_verifier *verifier, size_t row, const sw_stock *stock, int64_t count, int64_t spare)
{
  int64_t all;
  sw_length metres;
  sw_money price;
  if (sw_length_add (count, spare, &all) && sw_length_mul (stock->length, all, &metres))
    check_metres (verifier, row, metres);
  if (!verifier->job->priced || !stock->priced)
    {
      check_no_money (verifier, row, SW_ORDER_UNIT_PRICE);
      check_no_money (verifier, row, SW_ORDER_PRICE);
      return;
    }
  check_money (verifier, row, SW_ORDER_UNIT_PRICE, stock->price);
  if (sw_length_add (count, spare, &all) && sw_money_mul (stock->price, all, &price))
    check_money (verifier, row, SW_ORDER_PRICE, price);
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

/* Find the order's line for each stock, or SW_UNKNOWN. */
static void
find_lines (sw_verifier *verifier, size_t *lines)
{
  const sw_listing *order = &verifier->order;
  for (size_t s = 0; s < verifier->job->stocks.count; s++)
    lines[s] = SW_UNKNOWN;
  for (size_t row = 0; row < order->rows; row++)
    {
      const char *section = sw_listing_text (order, row, SW_ORDER_SECTION);
      sw_length length = sw_listing_number (order, row, SW_ORDER_LENGTH);
      char is[SW_SHOWN];
      size_t stock = sw_verify_stock (verifier->job, section, length);
      sw_verify_show (verifier, length, is);
      if (stock == SW_UNKNOWN)
        SW_VERIFY_FAULT (verifier, order, row, SW_ORDER_LENGTH, "is %s: the stock offers no such length of \"%s\"", is,
                         section);
      else if (lines[stock] != SW_UNKNOWN)
        SW_VERIFY_FAULT (verifier, order, row, SW_ORDER_LENGTH, "is %s: \"%s\" of this length is on line %zu already",
                         is, section, sw_listing_line (order, lines[stock]));
      else
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
  int64_t wanted = job->sections.items[job->stocks.items[first].section].spare;
  int64_t most = 0;
  bool placed = false;
  size_t line = SW_UNKNOWN;
  for (size_t s = first; s < end; s++)
    if (verifier->bought[s] > most)
      most = verifier->bought[s];
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
        check_count (verifier, lines[s], SW_ORDER_SPARE, may ? wanted : 0,
                     may ? "" : ": spare is of the section's most-ordered length");
      placed = placed || (spare > 0 && may);
    }
  if (!placed && wanted > 0 && line != SW_UNKNOWN)
    check_count (verifier, line, SW_ORDER_SPARE, wanted, "");
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
  check_count (verifier, row, SW_ORDER_COUNT, bought, ", the boards from the yard in cuts.csv");
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
  for (size_t s = 0; s < stocks->count; s++)
    check_line (verifier, s, lines[s]);
  for (size_t first = 0, end = 0; first < stocks->count; first = end)
    {
      while (end < stocks->count && stocks->items[end].section == stocks->items[first].section)
        end++;
      check_spare (verifier, lines, first, end);
    }
  free (lines);
  return SW_OK;
}
