/* order_make.c - what is bought, line by line, and what it costs
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/order.h"

#include "base/memory.h"

#include <stdlib.h>

/* The spare lengths that are asked for of a section that needs BOUGHT lengths. */
static int64_t
spare_of (const sw_section *section, int64_t bought)
{
  /* The rate is in millionths; both numbers are far from the ends of the range. */
  const int64_t part = (bought * section->spare_rate + SW_SPARE_WHOLE - 1) / SW_SPARE_WHOLE;
  return section->spare + part;
}

/* Ask for the spare lengths of a section on one of its lines, FIRST to END - 1: the one with most lengths. */
static void
place_spare (sw_order *order, size_t first, size_t end)
{
  sw_order_line *most = NULL;
  int64_t bought = 0;
  for (size_t l = first; l < end; l++)
    {
      if (order->lines[l].count > 0 && (most == NULL || order->lines[l].count >= most->count))
        most = &order->lines[l];
      bought += order->lines[l].count;
    }
  if (most != NULL)
    most->asked = spare_of (&order->plan->job->sections.items[most->section], bought);
}

/* Add the spare lengths.  Those that packs and falling prices bring in any case count as spare too. */
static sw_status
add_besides (sw_order *order)
{
  const sw_plan *plan = order->plan;
  const sw_job *job = plan->job;
  for (size_t l = 0; l < order->line_count; l++)
    {
      sw_order_line *line = &order->lines[l];
      const sw_stock *stock = &job->stocks.items[line->stock];
      int64_t least;
      int64_t cost;
      line->spare = line->asked;
      if (plan->purchases == NULL)
        continue;
      if (!sw_length_add (line->count, line->asked, &least))
        return SW_FAILED;
      if (least < plan->purchases[line->stock].bought)
        least = plan->purchases[line->stock].bought;
      if (!sw_job_buy (job, stock, least, false, &least, &cost))
        return SW_FAILED;
      line->spare = least - line->count;
    }
  return SW_OK;
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
      /* Counts are no lengths, but the sum is checked for overflow in the same way. */
      if (!sw_length_add (line->count, line->spare, &all) || !sw_length_mul (stock->length, all, &line->bought)
          || !sw_length_add (order->bought, line->bought, &order->bought)
          || !sw_length_add (order->spare, line->spare, &order->spare))
        return SW_FAILED;
      line->each = sw_stock_price (&job->stocks, stock, all);
      if (job->priced && stock->priced
          && (!sw_money_mul (line->each, all, &line->price)
              || !sw_money_add (order->timber, line->price, &order->timber)))
        return SW_FAILED;
      order->count += line->count;
      order->hand += line->hand;
    }
  return SW_OK;
}

/* Add up what is bought at each yard. */
static sw_status
add_yards (sw_order *order)
{
  const sw_job *job = order->plan->job;
  order->yards = sw_alloc (job->yards.count, sizeof *order->yards);
  if (order->yards == NULL)
    return SW_NO_MEMORY;
  for (size_t y = 0; y < job->yards.count; y++)
    {
      sw_order_yard at = { .yard = y };
      for (size_t l = 0; l < order->line_count; l++)
        {
          const sw_order_line *line = &order->lines[l];
          if (job->stocks.items[line->stock].yard != y)
            continue;
          at.count += line->count; /* these are parts of sums that add_up has checked */
          at.spare += line->spare;
          at.bought += line->bought;
          at.timber += line->price;
        }
      if (at.count + at.spare == 0)
        continue;
      if (!sw_money_add (at.timber, job->yards.items[y].delivery, &at.price)
          || !sw_money_add (order->delivery, job->yards.items[y].delivery, &order->delivery))
        return SW_FAILED;
      order->yards[order->yard_count++] = at;
    }
  return SW_OK;
}

/* Make the lines of all that is bought or taken from hand. */
static void
add_lines (sw_order *out, const int64_t *bought, const int64_t *hand)
{
  const sw_plan *plan = out->plan;
  const sw_job *job = plan->job;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const int64_t count = plan->purchases != NULL ? plan->purchases[s].count : bought[s];
      const int64_t besides = plan->purchases != NULL ? plan->purchases[s].bought : 0;
      if (count > 0 || hand[s] > 0 || besides > 0)
        out->lines[out->line_count++]
            = (sw_order_line){ .stock = s, .section = job->stocks.items[s].section, .count = count, .hand = hand[s] };
    }
  for (size_t first = 0, end = 0; first < out->line_count; first = end)
    {
      while (end < out->line_count && out->lines[end].section == out->lines[first].section)
        end++;
      place_spare (out, first, end);
    }
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
      add_lines (out, bought, hand);
      status = add_besides (out);
    }
  if (status == SW_OK)
    status = add_up (out);
  if (status == SW_OK)
    status = add_yards (out);
  if (status == SW_OK)
    status = sw_order_add_fittings (out);
  if (status == SW_OK
      && (!sw_money_add (out->timber, out->delivery, &out->price)
          || !sw_money_add (out->price, out->fitting_price, &out->price)))
    status = SW_FAILED;
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
  free (order->yards);
  free (order->fittings);
  *order = (sw_order){ 0 };
}
