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
add_line (sw_text *out, const sw_order *order, sw_text *left, size_t indent, size_t width, sw_length lineal,
          const sw_money *price)
{
  const sw_job *job = order->plan->job;
  char text[SW_MONEY_TEXT];
  size_t edge = width < LINE_MOST ? width : LINE_MOST;
  size_t figures = LINEAL_WIDTH + (sw_order_has_money (order) ? PRICE_WIDTH : 0);
  size_t room = edge - figures - 1;
  char *words = sw_view_take (out, left);
  if (words == NULL)
    return;
  sw_text_repeat (out, ' ', indent);
  size_t column = sw_view_wrap (out, words, indent, indent + 2, room < WORDS_LEAST ? width : room);
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

/* A line of words that needs no more. */
static void
add_plain (sw_text *out, const sw_order *order, const char *words, size_t indent, size_t width, sw_length lineal,
           const sw_money *price)
{
  sw_text line = { 0 };
  sw_text_add (&line, words);
  add_line (out, order, &line, indent, width, lineal, price);
}

/* The sections bought at YARD (SW_NO_YARD: at any), a line each; how many they are. */
static size_t
add_timber (sw_text *out, const sw_order *order, size_t yard, size_t width)
{
  const sw_job *job = order->plan->job;
  size_t sections = 0;
  for (size_t line = 0; line < order->line_count;)
    {
      sw_text left = { 0 };
      sw_length bought;
      sw_money price;
      bool any = sw_order_section_of (&left, order, yard, &line, &bought, &price);
      if (any)
        add_line (out, order, &left, yard == SW_NO_YARD ? 2 : 4, width, bought, job->priced ? &price : NULL);
      sw_text_drop (&left);
      sections += any ? 1 : 0;
    }
  return sections;
}

/* "From Riverside, Mill Lane:" */
static void
add_yard_heading (sw_text *out, const sw_order *order, const sw_order_yard *at, size_t width)
{
  const sw_yard *yard = &order->plan->job->yards.items[at->yard];
  sw_text line = { 0 };
  sw_text_add (&line, "From ");
  sw_view_name (&line, yard->name);
  if (yard->description != NULL)
    {
      sw_text_add (&line, ", ");
      sw_view_name (&line, yard->description);
    }
  sw_text_add (&line, ":");
  sw_view_paragraph (out, &line, 2, 4, width);
}

/* What is bought at each yard, and what it asks for bringing it. */
static size_t
add_yards (sw_text *out, const sw_order *order, size_t width)
{
  const sw_job *job = order->plan->job;
  size_t lines = 0;
  for (size_t y = 0; y < order->yard_count; y++)
    {
      const sw_order_yard *at = &order->yards[y];
      const sw_money delivery = job->yards.items[at->yard].delivery;
      add_yard_heading (out, order, at, width);
      size_t sections = add_timber (out, order, at->yard, width);
      if (delivery > 0)
        add_plain (out, order, "Delivery", 4, width, -1, &delivery);
      if (order->yard_count > 1 && (sections > 1 || delivery > 0))
        add_plain (out, order, "Together", 4, width, at->bought, job->priced ? &at->price : NULL);
      lines += 2;
    }
  return lines;
}

static void
add_fittings (sw_text *out, const sw_order *order, size_t width)
{
  const sw_fittings *fittings = &order->plan->job->fittings;
  if (order->fitting_count == 0)
    return;
  sw_text_add (out, "  Fittings:\n");
  for (size_t f = 0; f < order->fitting_count; f++)
    {
      const sw_order_fitting *line = &order->fittings[f];
      sw_text words = { 0 };
      sw_order_fitting_words (&words, order, line);
      add_line (out, order, &words, 4, width, -1, fittings->items[line->fitting].priced ? &line->price : NULL);
    }
}

/* What the total leaves out, so that nobody takes it for all. */
static void
add_left_out (sw_text *out, const sw_order *order, size_t indent, size_t width)
{
  sw_text note = { 0 };
  if (order->fitting_count == 0 || !sw_order_has_money (order))
    return;
  if (!order->plan->job->priced)
    sw_text_add (&note, "The timber has no prices, so that there is no total.");
  else if (order->fittings_unpriced)
    sw_text_add (&note, "The total is without the fittings that have no price.");
  else
    return;
  sw_view_paragraph (out, &note, indent, indent + 2, width);
}

static void
add_sections (sw_text *out, const sw_order *order, size_t width)
{
  const sw_job *job = order->plan->job;
  size_t lines = order->yard_count > 0 ? add_yards (out, order, width) : add_timber (out, order, SW_NO_YARD, width);
  if (lines == 0)
    sw_text_add (out, "  Nothing: all of it comes from hand.\n");
  add_fittings (out, order, width);
  if (lines + order->fitting_count > 1 || (lines > 0 && job->priced && job->settings->tax >= 0))
    add_plain (out, order, "Total", 2, width, order->bought, job->priced ? &order->price : NULL);
  add_left_out (out, order, 2, width);
}

static void
add_tax (sw_text *out, const sw_order *order, size_t width)
{
  sw_money ex;
  sw_money tax;
  sw_money with;
  sw_text label = { 0 };
  if (!order->plan->job->priced || order->count + (int64_t)order->fitting_count == 0 || !sw_order_tax (order, &ex, &tax)
      || !sw_money_add (ex, tax, &with))
    return;
  sw_text_add (&label, "Tax ");
  add_rate (&label, order->plan->job->settings->tax);
  add_line (out, order, &label, 2, width, -1, &tax);
  sw_text_add (&label, "Total with tax");
  add_line (out, order, &label, 2, width, -1, &with);
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
        add_line (out, order, &left, 2, width, taken, NULL);
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
add_message_price (sw_text *out, const sw_order *order, sw_money price)
{
  char text[SW_MONEY_TEXT];
  sw_money ex;
  sw_money tax;
  sw_money with;
  const sw_job *job = order->plan->job;
  if (!job->priced)
    return;
  if (!sw_order_tax_on (job, price, &ex, &tax) || !sw_money_add (ex, tax, &with))
    {
      sw_money_format (price, text);
      sw_text_printf (out, "Price: %s\n", text);
      return;
    }
  sw_money_format (ex, text);
  sw_text_printf (out, "Price: %s ex tax, ", text);
  sw_money_format (with, text);
  sw_text_printf (out, "%s incl. ", text);
  add_rate (out, job->settings->tax);
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

/* "Timber order to Riverside for Lane and brook"; YARD: SW_NO_YARD where there is none. */
static sw_status
add_title (sw_text *out, const sw_plan *plan, const char *what, size_t yard)
{
  const sw_job *job = plan->job;
  sw_text_add (out, what);
  if (yard != SW_NO_YARD)
    {
      sw_text_add (out, " to ");
      sw_view_name (out, job->yards.items[yard].name);
    }
  if (job->settings->job != NULL && job->settings->job[0] != '\0')
    {
      sw_text_add (out, " for ");
      sw_view_name (out, job->settings->job);
    }
  sw_text_add (out, "\n");
  sw_status status = sw_fingerprint_line (out, plan);
  sw_text_add (out, "\n");
  return status;
}

/* Sections bought at YARD, each one line whatever its length: what shows it will break it. */
static void
add_message_timber (sw_text *out, const sw_order *order, size_t yard)
{
  char text[SW_LENGTH_TEXT];
  for (size_t line = 0; line < order->line_count;)
    {
      sw_text words = { 0 };
      sw_length bought;
      sw_money price;
      if (sw_order_section_of (&words, order, yard, &line, &bought, &price))
        {
          sw_view_lineal (order->plan->job, bought, text);
          sw_text_printf (&words, " = %s", text);
          /* The line is not broken here, because the program that shows the message breaks it. */
          sw_view_paragraph (out, &words, 0, 0, SIZE_MAX);
        }
      sw_text_drop (&words);
    }
}

static void
add_message_sum (sw_text *out, const sw_order *order, int64_t lengths, sw_length bought)
{
  char text[SW_LENGTH_TEXT];
  sw_view_lineal (order->plan->job, bought, text);
  sw_text_printf (out, "\nIn all: %" PRId64 " %s, %s\n", lengths, lengths == 1 ? "length" : "lengths", text);
}

static void
add_message_fittings (sw_text *out, const sw_order *order)
{
  for (size_t f = 0; f < order->fitting_count; f++)
    {
      sw_text words = { 0 };
      sw_order_fitting_words (&words, order, &order->fittings[f]);
      sw_view_paragraph (out, &words, 0, 0, SIZE_MAX);
    }
}

/* A part a yard, each ready to be sent there. */
static sw_status
add_message_yards (sw_text *out, const sw_order *order)
{
  sw_status status = SW_OK;
  const sw_job *job = order->plan->job;
  char text[SW_MONEY_TEXT];
  for (size_t y = 0; y < order->yard_count && status == SW_OK; y++)
    {
      const sw_order_yard *at = &order->yards[y];
      const sw_yard *yard = &job->yards.items[at->yard];
      sw_text_add (out, y > 0 ? "\n" : "");
      status = add_title (out, order->plan, "Timber order", at->yard);
      if (yard->description != NULL)
        {
          sw_view_name (out, yard->description);
          sw_text_add (out, "\n");
        }
      sw_text_add (out, "\n");
      add_message_timber (out, order, at->yard);
      add_message_sum (out, order, at->count + at->spare, at->bought);
      if (yard->delivery > 0)
        {
          sw_money_format (yard->delivery, text);
          sw_text_printf (out, "Delivery: %s\n", text);
        }
      add_message_price (out, order, at->price);
      if (!job->settings->inches)
        sw_text_add (out, "(number of lengths / metres each)\n");
    }
  if (status == SW_OK && order->fitting_count > 0)
    {
      sw_text_add (out, "\n");
      status = add_title (out, order->plan, "Fittings", SW_NO_YARD);
      sw_text_add (out, "\n");
      add_message_fittings (out, order);
      if (order->fitting_price > 0)
        add_message_price (out, order, order->fitting_price);
    }
  if (order->yard_count + (order->fitting_count > 0 ? 1 : 0) > 1)
    {
      sw_text_add (out, "\nAll of it together:");
      add_message_sum (out, order, order->count + order->spare, order->bought);
      add_message_price (out, order, order->price);
    }
  return status;
}

/* The order of a job without yards. */
static sw_status
add_message_plain (sw_text *out, const sw_order *order)
{
  const sw_job *job = order->plan->job;
  sw_status status = add_title (out, order->plan, "Timber order", SW_NO_YARD);
  sw_text_add (out, "\n");
  add_message_timber (out, order, SW_NO_YARD);
  if (order->count == 0)
    sw_text_add (out, "Nothing to order: all of it comes from hand.\n");
  else
    add_message_sum (out, order, order->count + order->spare, order->bought);
  if (order->fitting_count > 0)
    sw_text_add (out, "\n");
  add_message_fittings (out, order);
  if (order->count > 0 || order->fitting_count > 0)
    add_message_price (out, order, order->price);
  if (order->count > 0 && !job->settings->inches)
    sw_text_add (out, "(number of lengths / metres each)\n");
  return status;
}

sw_status
sw_order_message (const sw_plan *plan, sw_text *out)
{
  sw_order order;
  sw_status status = sw_order_make (&order, plan);
  if (status != SW_OK)
    return status;
  status = order.yard_count > 0 ? add_message_yards (out, &order) : add_message_plain (out, &order);
  add_left_out (out, &order, 0, SIZE_MAX);
  add_warnings (out, &order);
  sw_care_message (&order, out);
  sw_order_clear (&order);
  return status;
}
