/* compare_table.c - a comparison as a table
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "compare/compare.h"

#include "csv/table.h"
#include "view/figures.h"

#include <stdlib.h>
#include <string.h>

/* Show a cost as money or as metres, as the job counts it. */
static void
format_cost (const sw_job *job, int64_t cost, char out[SW_LENGTH_TEXT])
{
  if (job->priced)
    sw_money_format_exact (cost, out);
  else
    sw_length_format_m (cost, false, out);
}

static void
set_figures (sw_status *status, sw_table *table, const sw_comparison *c, const sw_plan *plan)
{
  const sw_summary *sum = &plan->summary;
  const int64_t over = sum->cost - c->choices[c->best].plan->summary.cost;
  char text[SW_LENGTH_TEXT];
  sw_length_format_m (sum->bought, false, text);
  sw_view_set (status, table, SW_COMPARISON_METRES, text);
  if (sum->bought + sum->from_hand > 0)
    {
      sw_view_percent (sw_compare_waste (sum), sum->bought + sum->from_hand, 2, text);
      sw_view_set (status, table, SW_COMPARISON_WASTE, text);
    }
  sw_view_set_count (status, table, SW_COMPARISON_JOINS, sum->joins);
  if (plan->job->settings->stagger != SW_STAGGER_OFF)
    sw_view_set_count (status, table, SW_COMPARISON_ALIGNED, sum->aligned);
  sw_view_set_count (status, table, SW_COMPARISON_BOARDS, sum->boards);
  if (c->job->priced)
    {
      sw_money_format_exact (sum->cost, text);
      sw_view_set (status, table, SW_COMPARISON_PRICE, text);
    }
  if (sum->bound > 0 || sum->cost == 0)
    {
      format_cost (c->job, sum->bound, text);
      sw_view_set (status, table, SW_COMPARISON_BOUND, text);
    }
  format_cost (c->job, over, text);
  sw_view_set (status, table, SW_COMPARISON_OVER, text);
  if (over == 0)
    sw_view_set (status, table, SW_COMPARISON_OVER_PERCENT, "0.00");
  else if (sum->cost > over)
    {
      sw_view_percent (over, sum->cost - over, 2, text);
      sw_view_set (status, table, SW_COMPARISON_OVER_PERCENT, text);
    }
}

/* A single length is set as a number, so that no program takes 4.8 for a date. */
static void
set_choice (sw_status *status, sw_table *table, const char *name)
{
  if (name[strspn (name, "0123456789.")] == '\0')
    sw_view_set (status, table, SW_COMPARISON_CHOICE, name);
  else
    sw_view_set_text (status, table, SW_COMPARISON_CHOICE, name);
}

static void
set_note (sw_status *status, sw_table *table, const sw_comparison *c, size_t index)
{
  sw_text note = { 0 };
  sw_compare_note (&note, c, index);
  for (size_t t = 0; t < c->tipping_count; t++)
    if (c->tippings[t].first == index)
      {
        sw_text_add (&note, note.length > 0 ? "; " : "");
        sw_tipping_sentence (&note, c, &c->tippings[t]);
      }
  char *text = sw_text_take (&note);
  if (text == NULL)
    {
      *status = SW_NO_MEMORY;
      return;
    }
  /* Hard spaces are for lines that may be broken; a cell is not. */
  sw_view_soften (text);
  sw_view_set_text (status, table, SW_COMPARISON_NOTE, text);
  free (text);
}

sw_status
sw_comparison_table (const sw_comparison *c, sw_table **out)
{
  sw_table *table = NULL;
  *out = NULL;
  sw_status status = sw_view_table (&table, c->job, sw_comparison_columns, SW_COMPARISON_COLUMNS);
  for (size_t i = 0; i < c->count && status == SW_OK; i++)
    {
      const sw_choice_made *choice = &c->choices[i];
      status = sw_table_add_row (table);
      set_choice (&status, table, choice->name);
      if (choice->status != SW_STOPPED)
        sw_view_set (&status, table, SW_COMPARISON_POSSIBLE, choice->status == SW_OK ? "yes" : "no");
      if (choice->plan != NULL)
        set_figures (&status, table, c, choice->plan);
      if (status == SW_OK)
        set_note (&status, table, c, i);
    }
  if (status == SW_OK)
    *out = table;
  else
    sw_table_free (table);
  return status;
}
