/* order_text.c - the order for the eye
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/order.h"

#include "view/care.h"
#include "base/decimal.h"
#include "job/job_warning.h"
#include "view/fingerprint.h"
#include "view/figures.h"

#include <inttypes.h>
#include <stdlib.h>

/* The columns of the figures at the right edge. */
#define LINEAL_WIDTH 12
#define PRICE_WIDTH 13
/* Words in fewer columns are hard to read.  The figures then get a line of their own. */
#define WORDS_LEAST 32
/* On a wide terminal the figures stay near the words that they belong to. */
#define LINE_MOST 80

/* Add LEFT, wrapped, with the figures at the right of its last line. */
static void
add_line (sw_text *out, const sw_order *order, sw_text *left, size_t width, sw_length lineal, const sw_money *price)
{
  const sw_job *job = order->plan->job;
  char text[SW_MONEY_TEXT];
  size_t edge = width < LINE_MOST ? width : LINE_MOST;
  size_t figures = LINEAL_WIDTH + (job->priced ? PRICE_WIDTH : 0);
  size_t room = edge - figures - 1;
  char *words = sw_view_take (out, left);
  if (words == NULL)
    return;
  sw_text_add (out, "  ");
  size_t column = sw_view_wrap (out, words, 2, 4, room < WORDS_LEAST ? width : room);
  free (words);
  if (column > room)
    {
      sw_text_add (out, "\n");
      column = 0;
    }
  sw_text_repeat (out, ' ', edge - figures - column);
  if (lineal >= 0)
    {
      sw_view_lineal (job, lineal, text);
      sw_view_cell (out, text, LINEAL_WIDTH, true);
    }
  else
    sw_text_repeat (out, ' ', LINEAL_WIDTH);
  if (price != NULL)
    {
      sw_money_format (*price, text);
      sw_view_cell (out, text, PRICE_WIDTH, true);
    }
  sw_view_end_line (out);
}

/* Add "10 %" or "12.5 %". */
static void
add_rate (sw_text *out, int64_t rate)
{
  char text[SW_DECIMAL_TEXT];
  /* A millionth is a ten-thousandth of a per cent. */
  sw_decimal_format (rate, 4, 0, text);
  sw_text_printf (out, "%s %%", text);
}

static void
add_sections (sw_text *out, const sw_order *order, size_t width)
{
  const sw_job *job = order->plan->job;
  size_t sections = 0;
  for (size_t line = 0; line < order->line_count;)
    {
      sw_text left = { 0 };
      sw_length bought;
      sw_money price;
      bool any = sw_order_section (&left, order, &line, &bought, &price);
      if (any)
        add_line (out, order, &left, width, bought, job->priced ? &price : NULL);
      sw_text_drop (&left);
      sections += any ? 1 : 0;
    }
  if (sections == 0)
    sw_text_add (out, "  Nothing: all of it comes from hand.\n");
  else if (sections > 1 || (job->priced && job->settings->tax >= 0))
    {
      sw_text total = { 0 };
      sw_text_add (&total, "Total");
      add_line (out, order, &total, width, order->bought, job->priced ? &order->price : NULL);
    }
}

static void
add_tax (sw_text *out, const sw_order *order, size_t width)
{
  sw_money ex;
  sw_money tax;
  sw_money with;
  sw_text label = { 0 };
  if (!order->plan->job->priced || order->count == 0 || !sw_order_tax (order, &ex, &tax)
      || !sw_money_add (ex, tax, &with))
    return;
  sw_text_add (&label, "Tax ");
  add_rate (&label, order->plan->job->settings->tax);
  add_line (out, order, &label, width, -1, &tax);
  sw_text_add (&label, "Total with tax");
  add_line (out, order, &label, width, -1, &with);
}

static void
add_hand (sw_text *out, const sw_order *order, size_t width)
{
  const sw_job *job = order->plan->job;
  if (order->hand == 0)
    return;
  sw_text_add (out, "\n  From hand, not to be ordered:\n");
  for (size_t l = 0; l < order->line_count;)
    {
      size_t section = order->lines[l].section;
      sw_length taken = 0;
      sw_text left = { 0 };
      for (; l < order->line_count && order->lines[l].section == section; l++)
        {
          const sw_order_line *line = &order->lines[l];
          if (line->hand == 0)
            continue;
          sw_order_line shown = { .stock = line->stock, .section = section, .count = line->hand };
          if (taken == 0)
            sw_order_title (&left, job, section);
          sw_text_add (&left, taken == 0 ? ": " : ", ");
          sw_order_count (&left, order, &shown);
          taken += job->stocks.items[line->stock].length * line->hand; /* no overflow: part of summary.from_hand */
        }
      if (taken > 0)
        add_line (out, order, &left, width, taken, NULL);
      sw_text_drop (&left);
    }
}

/* Say which spare lengths the yard may not have, and which stand on no line. */
static void
add_spare (sw_text *out, const sw_order *order, size_t width)
{
  sw_text note = { 0 };
  for (size_t line = 0; sw_order_short (&note, order, &line);)
    sw_view_paragraph (out, &note, 2, 4, width);
  for (size_t line = 0; sw_order_no_spare (&note, order, &line);)
    sw_view_paragraph (out, &note, 2, 4, width);
}

sw_status
sw_order_lines (const sw_plan *plan, size_t width, sw_text *out)
{
  sw_order order;
  sw_status status = sw_order_make (&order, plan);
  if (status != SW_OK)
    return status;
  add_sections (out, &order, width);
  add_tax (out, &order, width);
  add_spare (out, &order, width);
  add_hand (out, &order, width);
  sw_order_clear (&order);
  return sw_waste_text (plan, width, out);
}

static sw_status
add_heading (sw_text *out, const sw_plan *plan, size_t width)
{
  const sw_settings *settings = plan->job->settings;
  sw_text heading = { 0 };
  sw_text_add (&heading, "ORDER");
  if (settings->job != NULL && settings->job[0] != '\0')
    {
      sw_text_add (&heading, " for ");
      sw_view_name (&heading, settings->job);
    }
  sw_view_paragraph (out, &heading, 0, 2, width);
  sw_status status = sw_fingerprint_line (&heading, plan);
  sw_view_paragraph (out, &heading, 2, 2, width);
  return status;
}

sw_status
sw_order_text (const sw_plan *plan, size_t width, sw_text *out)
{
  sw_status status = add_heading (out, plan, width);
  return status == SW_OK ? sw_order_lines (plan, width, out) : status;
}

sw_status
sw_order_again (const sw_plan *plan, size_t width, sw_text *out)
{
  sw_order order;
  sw_status status = sw_order_make (&order, plan);
  if (status != SW_OK)
    return status;
  status = add_heading (out, plan, width);
  add_sections (out, &order, width);
  add_tax (out, &order, width);
  add_spare (out, &order, width);
  sw_order_clear (&order);
  return status;
}

static void
add_message_price (sw_text *out, const sw_order *order)
{
  char text[SW_MONEY_TEXT];
  sw_money ex;
  sw_money tax;
  sw_money with;
  if (!order->plan->job->priced || order->count == 0)
    return;
  if (!sw_order_tax (order, &ex, &tax) || !sw_money_add (ex, tax, &with))
    {
      sw_money_format (order->price, text);
      sw_text_printf (out, "Price: %s\n", text);
      return;
    }
  sw_money_format (ex, text);
  sw_text_printf (out, "Price: %s ex tax, ", text);
  sw_money_format (with, text);
  sw_text_printf (out, "%s incl. ", text);
  add_rate (out, order->plan->job->settings->tax);
  sw_text_add (out, " tax\n");
}

/* Add what somebody who sends the order must look at first: the warnings of the input that concern
 * the order, and spare lengths that are missing from it or cannot be had. */
static void
add_warnings (sw_text *out, const sw_order *order)
{
  const sw_job *job = order->plan->job;
  sw_text list = { 0 };
  sw_text note = { 0 };
  for (size_t i = 0; i < sw_job_warning_count (job); i++)
    {
      const sw_remark *warning = sw_job_warning (job, i);
      if (!sw_job_warning_is_of_order (job, warning))
        continue;
      sw_text_add (&list, "- ");
      sw_job_warning_add (&list, warning);
      sw_text_add (&list, "\n");
    }
  for (size_t line = 0; sw_order_short (&note, order, &line);)
    {
      sw_text_add (&list, "- ");
      sw_view_rest (&list, &note, 2, 2, SIZE_MAX);
    }
  for (size_t line = 0; sw_order_no_spare (&note, order, &line);)
    {
      sw_text_add (&list, "- ");
      sw_view_rest (&list, &note, 2, 2, SIZE_MAX);
    }
  char *lines = sw_view_take (out, &list);
  if (lines != NULL && lines[0] != '\0')
    sw_text_printf (out, "\nLook at this before the order goes out, and take it off:\n%s", lines);
  free (lines);
}

static sw_status
add_message_heading (sw_text *out, const sw_plan *plan)
{
  const char *name = plan->job->settings->job;
  sw_text_add (out, "Timber order");
  if (name != NULL && name[0] != '\0')
    {
      sw_text_add (out, " for ");
      sw_view_name (out, name);
    }
  sw_text_add (out, "\n");
  sw_status status = sw_fingerprint_line (out, plan);
  sw_text_add (out, "\n\n");
  return status;
}

sw_status
sw_order_message (const sw_plan *plan, sw_text *out)
{
  const sw_job *job = plan->job;
  char text[SW_LENGTH_TEXT];
  sw_order order;
  sw_status status = sw_order_make (&order, plan);
  if (status != SW_OK)
    return status;
  status = add_message_heading (out, plan);
  for (size_t line = 0; line < order.line_count;)
    {
      sw_text words = { 0 };
      sw_length bought;
      sw_money price;
      if (sw_order_section (&words, &order, &line, &bought, &price))
        {
          sw_view_lineal (job, bought, text);
          sw_text_printf (&words, " = %s", text);
          /* The line is not broken here, because the program that shows the message breaks it. */
          sw_view_paragraph (out, &words, 0, 0, SIZE_MAX);
        }
      sw_text_drop (&words);
    }
  if (order.count == 0)
    sw_text_add (out, "Nothing to order: all of it comes from hand.\n");
  else
    {
      sw_view_lineal (job, order.bought, text);
      const int64_t all = order.count + order.spare;
      sw_text_printf (out, "\nIn all: %" PRId64 " %s, %s\n", all, all == 1 ? "length" : "lengths", text);
      add_message_price (out, &order);
      if (!job->settings->inches)
        sw_text_add (out, "(number of lengths / metres each)\n");
    }
  add_warnings (out, &order);
  sw_care_message (&order, out);
  sw_order_clear (&order);
  return status;
}
