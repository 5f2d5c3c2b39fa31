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

/* Put the spare lengths of a section on one of its lines FIRST ... END - 1. */
static void
place_spare (sw_order *order, size_t first, size_t end)
{
  sw_order_line *most = NULL;
  for (size_t l = first; l < end; l++)
    if (order->lines[l].count > 0 && (most == NULL || order->lines[l].count >= most->count))
      most = &order->lines[l];
  if (most != NULL)
    most->spare = order->plan->job->sections.items[most->section].spare;
}

static sw_status
add_up (sw_order *order)
{
  const sw_job *job = order->plan->job;
  for (size_t l = 0; l < order->line_count; l++)
    {
      sw_order_line *line = &order->lines[l];
      const sw_stock *stock = &job->stocks.items[line->stock];
      int64_t all;
      /* Counts are not lengths, but the check for int64 is the same. */
      if (!sw_length_add (line->count, line->spare, &all) || !sw_length_mul (stock->length, all, &line->bought)
          || !sw_length_add (order->bought, line->bought, &order->bought)
          || !sw_length_add (order->spare, line->spare, &order->spare))
        return SW_FAILED;
      if (job->priced && stock->priced
          && (!sw_money_mul (stock->price, all, &line->price)
              || !sw_money_add (order->price, line->price, &order->price)))
        return SW_FAILED;
      order->count += line->count;
      order->hand += line->hand;
    }
  return SW_OK;
}

sw_status
sw_order_make (sw_order *out, const sw_plan *plan)
{
  const sw_job *job = plan->job;
  *out = (sw_order){ .plan = plan };
  int64_t *bought = sw_alloc (job->stocks.count, sizeof *bought);
  int64_t *hand = sw_alloc (job->stocks.count, sizeof *hand);
  out->lines = sw_alloc (job->stocks.count, sizeof *out->lines);
  sw_status status = bought != NULL && hand != NULL && out->lines != NULL ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    {
      for (size_t b = 0; b < plan->board_count; b++)
        (plan->boards[b].hand ? hand : bought)[plan->boards[b].stock]++;
      for (size_t s = 0; s < job->stocks.count; s++)
        if (bought[s] > 0 || hand[s] > 0)
          out->lines[out->line_count++] = (sw_order_line){
            .stock = s, .section = job->stocks.items[s].section, .count = bought[s], .hand = hand[s]
          };
      for (size_t first = 0, end = 0; first < out->line_count; first = end)
        {
          while (end < out->line_count && out->lines[end].section == out->lines[first].section)
            end++;
          place_spare (out, first, end);
        }
      status = add_up (out);
    }
  free (bought);
  free (hand);
  if (status != SW_OK)
    sw_order_clear (out);
  return status;
}

void
sw_order_clear (sw_order *order)
{
  free (order->lines);
  *order = (sw_order){ 0 };
}

bool
sw_order_tax (const sw_order *order, sw_money *ex, sw_money *tax)
{
  const sw_money cent = SW_MONEY_UNIT / 100;
  int64_t rate = order->plan->job->settings->tax;
  int64_t cents = sw_decimal_round (order->price, cent);
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
  if (line->spare > 0)
    sw_text_printf (out, SW_VIEW_HARD "(incl." SW_VIEW_HARD "%" PRId64 SW_VIEW_HARD "spare)", line->spare);
}

bool
sw_order_section (sw_text *out, const sw_order *order, size_t *first, sw_length *bought, sw_money *price)
{
  size_t section = order->lines[*first].section;
  bool any = false;
  *bought = 0;
  *price = 0;
  for (; *first < order->line_count && order->lines[*first].section == section; ++*first)
    {
      const sw_order_line *line = &order->lines[*first];
      if (line->count == 0)
        continue;
      if (!any)
        sw_order_title (out, order->plan->job, section);
      sw_text_add (out, any ? ", " : ": ");
      sw_order_count (out, order, line);
      *bought += line->bought; /* no overflow: it is part of the sums that sw_order_make has checked */
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
      if (bought > 0 || section->spare == 0)
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
      if (stock->limit < 0 || line->spare == 0 || line->count + line->spare <= stock->limit)
        continue;
      sw_view_stock (job, stock->length, length);
      sw_text_printf (out, "Only %" PRId64 " of %s can be had of ", stock->limit, length);
      sw_order_title (out, job, line->section);
      sw_text_add (out, ": ask for the spare in another length.");
      return true;
    }
  return false;
}

sw_status
sw_order_table (const sw_plan *plan, sw_table **out)
{
  const sw_job *job = plan->job;
  sw_order order;
  sw_table *table = NULL;
  sw_status status = sw_order_make (&order, plan);
  if (status != SW_OK)
    return status;
  status = sw_view_table (&table, job, sw_order_columns, SW_ORDER_COLUMNS);
  for (size_t l = 0; l < order.line_count && status == SW_OK; l++)
    {
      const sw_order_line *line = &order.lines[l];
      const sw_section *section = &job->sections.items[line->section];
      const sw_stock *stock = &job->stocks.items[line->stock];
      char metres[SW_LENGTH_TEXT];
      char price[SW_MONEY_TEXT];
      if (line->count == 0)
        continue;
      status = sw_table_add_row (table);
      sw_view_set_text (&status, table, SW_ORDER_SECTION, section->name);
      if (section->description != NULL)
        sw_view_set_text (&status, table, SW_ORDER_DESCRIPTION, section->description);
      sw_view_set_length (&status, table, SW_ORDER_LENGTH, job, stock->length);
      sw_view_set_count (&status, table, SW_ORDER_COUNT, line->count);
      sw_view_set_count (&status, table, SW_ORDER_SPARE, line->spare);
      sw_length_format_m (line->bought, false, metres);
      sw_view_set (&status, table, SW_ORDER_METRES, metres);
      if (!job->priced || !stock->priced)
        continue;
      sw_money_format_exact (stock->price, price);
      sw_view_set (&status, table, SW_ORDER_UNIT_PRICE, price);
      sw_money_format_exact (line->price, price);
      sw_view_set (&status, table, SW_ORDER_PRICE, price);
    }
  sw_order_clear (&order);
  if (status == SW_OK)
    *out = table;
  else
    sw_table_free (table);
  return status;
}
