/* verify_bought.c - packs, falling prices, least orders and deliveries, where it matters what is bought where
 *
 * Boards of one length are the same whatever yard they are from, so that cuts.csv names none: each length's lines of
 * all yards together are its boards. SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "verify/verify.h"

#include <inttypes.h>
#include <string.h>

/* What the order's ROW orders: needed, and all. */
static int64_t
count_of (const sw_verifier *verifier, size_t row)
{
  int64_t count = row == SW_UNKNOWN ? 0 : sw_listing_number (&verifier->order, row, SW_ORDER_COUNT);
  return count == SW_BLANK ? 0 : count;
}

static int64_t
spare_of (const sw_verifier *verifier, size_t row)
{
  int64_t spare = row == SW_UNKNOWN ? 0 : sw_listing_number (&verifier->order, row, SW_ORDER_SPARE);
  return spare == SW_BLANK ? 0 : spare;
}

/* What one length of STOCK costs where ALL are bought: money, or its length where there are no prices. */
static int64_t
each_of (const sw_job *job, const sw_stock *stock, int64_t all)
{
  sw_money each = stock->price;
  for (size_t i = stock->price_first; stock->price_count > 1 && i < stock->price_first + stock->price_count; i++)
    if (job->stocks.prices[i].from <= all)
      each = job->stocks.prices[i].price;
  return job->priced ? each : stock->length;
}

/* The least that LEAST lengths or more of STOCK cost, by trying all numbers at which a price changes. */
static int64_t
least_cost (const sw_job *job, const sw_stock *stock, int64_t least, int64_t *number)
{
  int64_t best = -1;
  *number = 0;
  for (size_t i = 0; least > 0 && i <= stock->price_count; i++)
    {
      int64_t all
          = i == 0 || stock->price_count < 2 ? stock->from : job->stocks.prices[stock->price_first + i - 1].from;
      int64_t cost;
      if (all < least)
        all = least;
      if (all % stock->pack != 0)
        all += stock->pack - all % stock->pack;
      if (sw_length_mul (each_of (job, stock, all), all, &cost) && (best < 0 || cost < best))
        {
          best = cost;
          *number = all;
        }
    }
  return best < 0 ? 0 : best;
}

/* The line of STOCK by itself. */
static void
check_line (sw_verifier *verifier, size_t s, size_t row)
{
  const sw_job *job = verifier->job;
  const sw_stock *stock = &job->stocks.items[s];
  const int64_t count = count_of (verifier, row);
  int64_t all;
  int64_t sum;
  if (!sw_length_add (count, spare_of (verifier, row), &all) || all == 0)
    return;
  if (all % stock->pack != 0)
    SW_VERIFY_FAULT (verifier, &verifier->order, row, SW_ORDER_SPARE,
                     "%" PRId64 " lengths with it: they come in packs of %" PRId64, all, stock->pack);
  if (all < stock->from)
    SW_VERIFY_FAULT (verifier, &verifier->order, row, SW_ORDER_COUNT,
                     "%" PRId64 " lengths: no fewer than %" PRId64 " are sold", all, stock->from);
  if (stock->limit >= 0 && count > stock->limit)
    SW_VERIFY_FAULT (verifier, &verifier->order, row, SW_ORDER_COUNT,
                     "is %" PRId64 ", should be at most %" PRId64 ", the yard's limit", count, stock->limit);
  if (sw_length_mul (stock->length, all, &sum))
    sw_verify_metres (verifier, row, sum);
  if (!job->priced || !stock->priced)
    {
      sw_verify_no_money (verifier, row, SW_ORDER_UNIT_PRICE);
      sw_verify_no_money (verifier, row, SW_ORDER_PRICE);
      return;
    }
  sw_verify_money (verifier, row, SW_ORDER_UNIT_PRICE, each_of (job, stock, all));
  if (sw_money_mul (each_of (job, stock, all), all, &sum))
    sw_verify_money (verifier, row, SW_ORDER_PRICE, sum);
}

/* The lines of one length, rows FIRST to END - 1 of the stock: its boards, wherever they are bought. */
static void
check_length (sw_verifier *verifier, const size_t *lines, size_t first, size_t end)
{
  const sw_job *job = verifier->job;
  const int64_t wanted = verifier->bought[first];
  int64_t found = 0;
  size_t row = SW_UNKNOWN;
  char length[SW_SHOWN];
  for (size_t s = first; s < end; s++)
    {
      const int64_t count = count_of (verifier, lines[s]);
      found = found > INT64_MAX - count ? INT64_MAX : found + count;
      if (lines[s] != SW_UNKNOWN)
        {
          row = lines[s];
          check_line (verifier, s, row);
        }
    }
  if (found == wanted)
    return;
  SW_VERIFY_FAULT (verifier, &verifier->order, row, row == SW_UNKNOWN ? -1 : SW_ORDER_COUNT,
                   "\"%s\" %s: %" PRId64 " lengths are ordered, should be %" PRId64
                   ", the boards from the yard in cuts.csv",
                   job->sections.items[job->stocks.items[first].section].name,
                   sw_verify_show (verifier, job->stocks.items[first].length, length), found, wanted);
}

/* ---- Spare lengths ---- */

static int64_t
minimum_of (const sw_job *job, const sw_stock *stock)
{
  return stock->yard == SW_NO_YARD ? 0 : job->yards.items[stock->yard].minimum;
}

/* The line of STOCK, on which are ASKED spare lengths: those, and what comes with them. */
static void
check_spare (sw_verifier *verifier, size_t s, size_t row, int64_t asked)
{
  const sw_job *job = verifier->job;
  const sw_stock *stock = &job->stocks.items[s];
  const int64_t count = count_of (verifier, row);
  const int64_t all = count + spare_of (verifier, row);
  int64_t number;
  const int64_t cost = least_cost (job, stock, count + asked, &number);
  int64_t now;
  if (all < count + asked)
    sw_verify_count (verifier, row, SW_ORDER_SPARE, asked, "");
  /* Where a least order is to be reached more may be bought than else. */
  else if (minimum_of (job, stock) == 0 && sw_length_mul (each_of (job, stock, all), all, &now) && now > cost)
    sw_verify_count (verifier, row, SW_ORDER_SPARE, number - count, ", which costs less");
}

/* The section's stock rows FIRST to END - 1: spare lengths stand on the line of which most are needed, which of several
 * equal ones is left open: *AT is that stock row. */
static void
check_section (sw_verifier *verifier, const size_t *lines, size_t first, size_t end)
{
  const sw_section *section = &verifier->job->sections.items[verifier->job->stocks.items[first].section];
  int64_t needed = 0;
  int64_t most = 0;
  size_t at = SW_UNKNOWN;
  for (size_t s = first; s < end; s++)
    {
      needed += count_of (verifier, lines[s]);
      if (count_of (verifier, lines[s]) > most)
        most = count_of (verifier, lines[s]);
    }
  /* A part of a length is a whole one. */
  needed = needed < INT64_C (1000000000000) ? needed : INT64_C (1000000000000);
  const int64_t asked = section->spare + (needed * section->spare_rate + SW_SPARE_WHOLE - 1) / SW_SPARE_WHOLE;
  for (size_t s = first; s < end && most > 0; s++)
    if (count_of (verifier, lines[s]) == most && (at == SW_UNKNOWN || spare_of (verifier, lines[s]) >= asked))
      at = s;
  for (size_t s = first; s < end; s++)
    if (lines[s] != SW_UNKNOWN)
      check_spare (verifier, s, lines[s], s == at ? asked : 0);
}

/* ---- Yards ---- */

/* Add to *COST what the timber of YARD (SW_NO_YARD: of none) costs without spare lengths, where that can be told apart;
 * false: out of range.  *VALUE: what the order there is worth, *LINE: one of its rows. */
static bool
add_yard (const sw_verifier *verifier, const size_t *lines, size_t yard, int64_t *cost, int64_t *value, size_t *line)
{
  const sw_job *job = verifier->job;
  int64_t bare = 0;
  *value = 0;
  *line = SW_UNKNOWN;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const sw_stock *stock = &job->stocks.items[s];
      const int64_t all = count_of (verifier, lines[s]) + spare_of (verifier, lines[s]);
      int64_t sum;
      int64_t number;
      if (stock->yard != yard || lines[s] == SW_UNKNOWN || all == 0)
        continue;
      *line = lines[s];
      if (!sw_length_mul (each_of (job, stock, all), all, &sum) || !sw_length_add (*value, sum, value)
          || !sw_length_add (bare, least_cost (job, stock, count_of (verifier, lines[s]), &number), &bare))
        return false;
    }
  const int64_t least = yard == SW_NO_YARD ? 0 : job->yards.items[yard].minimum;
  const int64_t delivery = yard == SW_NO_YARD || *line == SW_UNKNOWN ? 0 : job->yards.items[yard].delivery;
  return sw_length_add (*cost, bare < least ? *value : bare, cost) && sw_length_add (*cost, delivery, cost);
}

/* The row that says what bringing the order of YARD costs, or SW_UNKNOWN; a second one is a fault. */
static size_t
find_delivery (sw_verifier *verifier, const char *yard)
{
  const sw_listing *order = &verifier->order;
  size_t found = SW_UNKNOWN;
  for (size_t row = 0; row < order->rows; row++)
    {
      if (order->columns[SW_ORDER_KIND] < 0 || order->columns[SW_ORDER_YARD] < 0
          || !sw_same_word (sw_listing_text (order, row, SW_ORDER_KIND), "delivery")
          || strcmp (sw_listing_text (order, row, SW_ORDER_YARD), yard) != 0)
        continue;
      if (found != SW_UNKNOWN)
        SW_VERIFY_FAULT (verifier, order, row, SW_ORDER_KIND, "a second delivery from \"%s\"", yard);
      found = row;
    }
  return found;
}

static void
check_yard (sw_verifier *verifier, size_t y, int64_t value, size_t line)
{
  const sw_yard *yard = &verifier->job->yards.items[y];
  const size_t row = find_delivery (verifier, yard->name);
  char least[SW_MONEY_TEXT];
  char is[SW_MONEY_TEXT];
  sw_money_format_exact (yard->minimum, least);
  sw_money_format_exact (value, is);
  if (line != SW_UNKNOWN && value < yard->minimum)
    SW_VERIFY_FAULT (verifier, &verifier->order, line, SW_ORDER_YARD,
                     "the order to \"%s\" is worth %s, should be at least %s", yard->name, is, least);
  if (row != SW_UNKNOWN && (line == SW_UNKNOWN || yard->delivery == 0))
    SW_VERIFY_FAULT (verifier, &verifier->order, row, SW_ORDER_KIND, "\"%s\" %s", yard->name,
                     line == SW_UNKNOWN ? "has no order to bring" : "asks nothing for delivery");
  else if (row != SW_UNKNOWN)
    sw_verify_money (verifier, row, SW_ORDER_PRICE, yard->delivery);
  else if (line != SW_UNKNOWN && yard->delivery > 0)
    SW_VERIFY_FAULT (verifier, &verifier->order, SW_UNKNOWN, -1, "there is no row for the delivery from \"%s\"",
                     yard->name);
}

/* A delivery from a yard that the job does not have. */
static void
check_deliveries (sw_verifier *verifier)
{
  const sw_listing *order = &verifier->order;
  for (size_t row = 0; row < order->rows; row++)
    {
      size_t yard;
      if (order->columns[SW_ORDER_KIND] < 0 || order->columns[SW_ORDER_YARD] < 0
          || !sw_same_word (sw_listing_text (order, row, SW_ORDER_KIND), "delivery"))
        continue;
      if (!sw_name_index_find (&verifier->job->yards.names, sw_listing_text (order, row, SW_ORDER_YARD), &yard))
        SW_VERIFY_FAULT (verifier, order, row, SW_ORDER_YARD, "\"%s\": the job has no yard of this name",
                         sw_listing_text (order, row, SW_ORDER_YARD));
    }
}

void
sw_verify_bought (sw_verifier *verifier, const size_t *lines)
{
  const sw_job *job = verifier->job;
  const sw_stocks *stocks = &job->stocks;
  int64_t cost = verifier->verdict->cost;
  bool known = verifier->verdict->cost_known;
  for (size_t first = 0, end; first < stocks->count; first = end)
    {
      end = first + 1;
      while (end < stocks->count && sw_stock_same (&stocks->items[first], &stocks->items[end]))
        end++;
      check_length (verifier, lines, first, end);
    }
  for (size_t first = 0, end; first < stocks->count; first = end)
    {
      end = first + 1;
      while (end < stocks->count && stocks->items[end].section == stocks->items[first].section)
        end++;
      check_section (verifier, lines, first, end);
    }
  for (size_t y = 0; y <= job->yards.count; y++)
    {
      int64_t value;
      size_t line;
      known = add_yard (verifier, lines, y < job->yards.count ? y : SW_NO_YARD, &cost, &value, &line) && known;
      if (y < job->yards.count)
        check_yard (verifier, y, value, line);
    }
  check_deliveries (verifier);
  verifier->verdict->cost = cost;
  verifier->verdict->cost_known = known;
}
