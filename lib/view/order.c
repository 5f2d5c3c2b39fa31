/* order.c - what to ask the yard for
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/order.h"

#include "base/decimal.h"
#include "base/memory.h"
#include "view/figures.h"
#include "csv/table.h"

#include <ctype.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

bool
sw_order_has_money (const sw_order *order)
{
  return order->plan->job->priced || order->fitting_price > 0;
}

bool
sw_order_tax (const sw_order *order, sw_money *ex, sw_money *tax)
{
  return sw_order_tax_on (order->plan->job, order->price, ex, tax);
}

bool
sw_order_tax_on (const sw_job *job, sw_money price, sw_money *ex, sw_money *tax)
{
  const sw_money cent = SW_MONEY_UNIT / 100;
  int64_t rate = job->settings->tax;
  int64_t cents = sw_decimal_round (price, cent);
  int64_t whole;
  int64_t part = cents % SW_MONEY_UNIT;
  /* RATE is in millionths.  Whole millions of cents are multiplied apart, so that only a huge order overflows. */
  if (!sw_money_mul (cents, cent, ex) || rate < 0 || !sw_money_mul (cents / SW_MONEY_UNIT, rate, &whole)
      || !sw_money_mul (part, rate, &part))
    return false;
  part = sw_decimal_round (part, SW_MONEY_UNIT);
  return sw_money_add (whole, part, &whole) && sw_money_mul (whole, cent, tax);
}

/* Does TEXT name a size, such as 90x45? */
static bool
names_size (const char *text)
{
  for (const char *p = text; *p != '\0'; p++)
    {
      if (!isdigit ((unsigned char)*p))
        continue;
      const char *sign = p + 1 + strspn (p + 1, " ");
      size_t bytes = *sign == 'x' || *sign == 'X' ? 1 : strncmp (sign, "\xc3\x97", 2) == 0 ? 2 : 0;
      if (bytes > 0 && isdigit ((unsigned char)sign[bytes + strspn (sign + bytes, " ")]))
        return true;
    }
  return false;
}

static void
add_size (sw_text *out, const sw_job *job, const sw_section *section)
{
  char width[SW_LENGTH_TEXT];
  char thickness[SW_LENGTH_TEXT];
  if (section->width == 0 || section->thickness == 0)
    return;
  sw_view_length (job, section->width, width);
  sw_view_length (job, section->thickness, thickness);
  sw_text_printf (out, job->settings->inches ? "%s x %s in " : "%sx%s ", width, thickness);
}

void
sw_order_title (sw_text *out, const sw_job *job, size_t section)
{
  const sw_section *item = &job->sections.items[section];
  const char *description = item->description != NULL && item->description[0] != '\0' ? item->description : NULL;
  if (description == NULL || !names_size (description))
    {
      if (!names_size (item->name))
        add_size (out, job, item);
      if (description == NULL || names_size (item->name))
        sw_view_name (out, item->name);
      if (description != NULL && names_size (item->name))
        sw_text_add (out, " ");
    }
  if (description != NULL)
    sw_view_name (out, description);
}

void
sw_order_count (sw_text *out, const sw_order *order, const sw_order_line *line)
{
  const sw_job *job = order->plan->job;
  char length[SW_LENGTH_TEXT];
  int64_t all = line->count + line->spare;
  if (job->settings->inches)
    {
      sw_view_stock (job, job->stocks.items[line->stock].length, length);
      /* With a slash it would read as a fraction. */
      sw_text_printf (out, "%" PRId64 SW_VIEW_HARD "of" SW_VIEW_HARD, all);
      for (const char *p = length; *p != '\0'; p++)
        sw_text_add_bytes (out, *p == ' ' ? SW_VIEW_HARD : p, *p == ' ' ? strlen (SW_VIEW_HARD) : 1);
    }
  else
    {
      sw_length_format_m (job->stocks.items[line->stock].length, true, length);
      sw_text_printf (out, "%" PRId64 "/%s", all, length);
    }
  if (line->spare > 0 && line->asked == line->spare)
    sw_text_printf (out, SW_VIEW_HARD "(incl." SW_VIEW_HARD "%" PRId64 SW_VIEW_HARD "spare)", line->spare);
  else if (line->spare > 0 && line->asked > 0)
    sw_text_printf (out, SW_VIEW_HARD "(incl." SW_VIEW_HARD "%" PRId64 SW_VIEW_HARD "spare," SW_VIEW_HARD "%" PRId64
                    SW_VIEW_HARD "over)", line->asked, line->spare - line->asked);
  else if (line->spare > 0)
    sw_text_printf (out, SW_VIEW_HARD "(%" PRId64 SW_VIEW_HARD "over)", line->spare);
}

bool
sw_order_section (sw_text *out, const sw_order *order, size_t *first, sw_length *bought, sw_money *price)
{
  return sw_order_section_of (out, order, SW_NO_YARD, first, bought, price);
}

bool
sw_order_section_of (sw_text *out, const sw_order *order, size_t yard, size_t *first, sw_length *bought,
                     sw_money *price)
{
  const sw_job *job = order->plan->job;
  size_t section = order->lines[*first].section;
  bool any = false;
  *bought = 0;
  *price = 0;
  for (; *first < order->line_count && order->lines[*first].section == section; ++*first)
    {
      const sw_order_line *line = &order->lines[*first];
      const size_t from = job->stocks.items[line->stock].yard;
      if (line->count + line->spare == 0 || (yard != SW_NO_YARD && yard != from))
        continue;
      if (!any)
        sw_order_title (out, job, section);
      sw_text_add (out, any ? ", " : ": ");
      sw_order_count (out, order, line);
      if (yard == SW_NO_YARD && order->yard_count > 1)
        {
          sw_text_add (out, SW_VIEW_HARD "(");
          sw_view_name (out, job->yards.items[from].name);
          sw_text_add (out, ")");
        }
      *bought += line->bought; /* part of the sums that sw_order_make has checked */
      *price += line->price;
      any = true;
    }
  return any;
}

bool
sw_order_no_spare (sw_text *out, const sw_order *order, size_t *first)
{
  const sw_job *job = order->plan->job;
  while (*first < order->line_count)
    {
      const sw_section *section = &job->sections.items[order->lines[*first].section];
      size_t index = order->lines[*first].section;
      int64_t bought = 0;
      for (; *first < order->line_count && order->lines[*first].section == index; ++*first)
        bought += order->lines[*first].count;
      /* A part of nothing is nothing. */
      if (bought > 0 || section->spare == 0 || section->spare_rate > 0)
        continue;
      const bool one = section->spare == 1;
      sw_text_printf (out, "The %" PRId64 " spare %s of ", section->spare, one ? "length" : "lengths");
      sw_order_title (out, job, index);
      sw_text_printf (out, " %s not ordered, since all of it comes from hand: ask for %s in a length of your choice.",
                      one ? "is" : "are", one ? "it" : "them");
      return true;
    }
  return false;
}

bool
sw_order_short (sw_text *out, const sw_order *order, size_t *first)
{
  const sw_job *job = order->plan->job;
  while (*first < order->line_count)
    {
      const sw_order_line *line = &order->lines[(*first)++];
      const sw_stock *stock = &job->stocks.items[line->stock];
      char length[SW_LENGTH_TEXT];
      if (stock->limit < 0 || line->asked == 0 || line->count + line->spare <= stock->limit)
        continue;
      sw_view_stock (job, stock->length, length);
      sw_text_printf (out, "Only %" PRId64 " of %s can be had of ", stock->limit, length);
      sw_order_title (out, job, line->section);
      sw_text_add (out, ": ask for the spare in another length.");
      return true;
    }
  return false;
}
