/* order_table.c - the order as a table
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/order.h"

#include "csv/columns.h"
#include "csv/table.h"
#include "view/figures.h"

static void
set_money (sw_status *status, sw_table *table, size_t column, sw_money money)
{
  char text[SW_MONEY_TEXT];
  sw_money_format_exact (money, text);
  sw_view_set (status, table, column, text);
}

static sw_status
add_timber (sw_table *table, const sw_order *order, const sw_order_line *line)
{
  const sw_job *job = order->plan->job;
  const sw_section *section = &job->sections.items[line->section];
  const sw_stock *stock = &job->stocks.items[line->stock];
  char metres[SW_LENGTH_TEXT];
  sw_status status = sw_table_add_row (table);
  sw_view_set_text (&status, table, SW_ORDER_SECTION, section->name);
  if (section->description != NULL)
    sw_view_set_text (&status, table, SW_ORDER_DESCRIPTION, section->description);
  sw_view_set_length (&status, table, SW_ORDER_LENGTH, job, stock->length);
  sw_view_set_count (&status, table, SW_ORDER_COUNT, line->count);
  sw_view_set_count (&status, table, SW_ORDER_SPARE, line->spare);
  sw_length_format_m (line->bought, false, metres);
  sw_view_set (&status, table, SW_ORDER_METRES, metres);
  if (job->priced && stock->priced)
    {
      set_money (&status, table, SW_ORDER_UNIT_PRICE, line->each);
      set_money (&status, table, SW_ORDER_PRICE, line->price);
    }
  if (stock->yard != SW_NO_YARD)
    sw_view_set_text (&status, table, SW_ORDER_YARD, job->yards.items[stock->yard].name);
  sw_view_set (&status, table, SW_ORDER_KIND, "timber");
  return status;
}

static sw_status
add_fitting (sw_table *table, const sw_order *order, const sw_order_fitting *line)
{
  const sw_fitting *fitting = &order->plan->job->fittings.items[line->fitting];
  sw_status status = sw_table_add_row (table);
  sw_view_set_text (&status, table, SW_ORDER_DESCRIPTION, fitting->item);
  sw_view_set_count (&status, table, SW_ORDER_COUNT, line->count);
  sw_view_set_count (&status, table, SW_ORDER_SPARE, line->spare);
  if (fitting->priced)
    {
      set_money (&status, table, SW_ORDER_UNIT_PRICE, fitting->price);
      set_money (&status, table, SW_ORDER_PRICE, line->price);
    }
  sw_view_set (&status, table, SW_ORDER_KIND, "fitting");
  return status;
}

static sw_status
add_delivery (sw_table *table, const sw_order *order, const sw_order_yard *at)
{
  const sw_yard *yard = &order->plan->job->yards.items[at->yard];
  if (yard->delivery == 0)
    return SW_OK;
  sw_status status = sw_table_add_row (table);
  sw_view_set (&status, table, SW_ORDER_DESCRIPTION, "delivery");
  sw_view_set_count (&status, table, SW_ORDER_COUNT, 1);
  set_money (&status, table, SW_ORDER_UNIT_PRICE, yard->delivery);
  set_money (&status, table, SW_ORDER_PRICE, yard->delivery);
  sw_view_set_text (&status, table, SW_ORDER_YARD, yard->name);
  sw_view_set (&status, table, SW_ORDER_KIND, "delivery");
  return status;
}

sw_status
sw_order_table (const sw_plan *plan, sw_table **out)
{
  sw_order order;
  sw_table *table = NULL;
  sw_status status = sw_order_make (&order, plan);
  if (status != SW_OK)
    return status;
  status = sw_view_table (&table, plan->job, sw_order_columns, SW_ORDER_COLUMNS);
  for (size_t l = 0; l < order.line_count && status == SW_OK; l++)
    if (order.lines[l].count + order.lines[l].spare > 0)
      status = add_timber (table, &order, &order.lines[l]);
  for (size_t f = 0; f < order.fitting_count && status == SW_OK; f++)
    status = add_fitting (table, &order, &order.fittings[f]);
  for (size_t y = 0; y < order.yard_count && status == SW_OK; y++)
    status = add_delivery (table, &order, &order.yards[y]);
  sw_order_clear (&order);
  if (status == SW_OK)
    *out = table;
  else
    sw_table_free (table);
  return status;
}
