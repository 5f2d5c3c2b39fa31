/* fill.c - boards for a layout, the longest pieces first
 *
 * What is hardest to place is placed first, each time on the board and with
 * the other pieces that lose the least at given prices; what is left at the
 * end are short pieces, which fit nearly anywhere.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/safe_prices.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* Boards between two clearings of pieces that are used up. */
#define CLEARING 64

typedef struct filling
{
  sw_search *search;
  const sw_prices *prices;
  sw_knapsack *knapsack;
  sw_solution solution;
  sw_entry *entries, *trial;
} filling;

/* One piece of NEED and the best with it, on the board that loses least; COUNT 0: there is no board. */
static sw_status
best_with (filling *f, size_t section, size_t need, size_t *stock, uint32_t *count)
{
  sw_search *s = f->search;
  const sw_model_section *g = &s->model->sections[section];
  const int64_t size = s->model->needs[need].size;
  int64_t least = INT64_MAX;
  *count = 0;
  for (size_t i = g->stock_first; i < g->stock_first + g->stock_count; i++)
    {
      int64_t rest = s->model->stocks[i].room - size, value;
      uint32_t others;
      if (rest < 0 || s->stocked[i] <= 0)
        continue;
      sw_status status = sw_knapsack_best (f->knapsack, rest, &value, f->trial, &others);
      if (status != SW_OK)
        return status;
      int64_t loss = sw_search_stock_weight (s, f->prices, i) - s->value[need] - value;
      if (loss >= least)
        continue;
      least = loss;
      *stock = i;
      *count = sw_entries_with (f->trial, others, (uint32_t)need);
      memcpy (f->entries, f->trial, *count * sizeof *f->entries);
    }
  return SW_OK;
}

static sw_status
fill_section (filling *f, size_t section, bool *filled)
{
  sw_search *s = f->search;
  const sw_model_section *g = &s->model->sections[section];
  size_t n = g->need_first, boards = 0;
  for (;;)
    {
      while (n < g->need_first + g->need_count && s->left[n] == 0)
        n++;
      if (n == g->need_first + g->need_count)
        return SW_OK;
      sw_status status = SW_OK;
      if (boards++ % CLEARING == 0)
        status = sw_knapsack_load (f->knapsack, s->model, section, s->value, s->left);
      size_t stock = 0;
      uint32_t count = 0;
      sw_knapsack_set_most (f->knapsack, (uint32_t)n, s->left[n] - 1);
      if (status == SW_OK)
        status = best_with (f, section, n, &stock, &count);
      *filled = count > 0 && !sw_watch_stop (s->watch);
      if (status != SW_OK || !*filled)
        return status;
      status = sw_search_cut_boards (s, stock, f->entries, count, &f->solution);
      for (uint32_t c = 0; c < count; c++)
        sw_knapsack_set_most (f->knapsack, f->entries[c].need, s->left[f->entries[c].need]);
      if (status != SW_OK)
        return status;
    }
}

sw_status
sw_search_fill_long (sw_search *s, const sw_prices *prices)
{
  const sw_model *model = s->model;
  filling f = { .search = s, .prices = prices, .knapsack = sw_knapsack_new () };
  f.entries = sw_alloc (model->need_count, sizeof *f.entries);
  f.trial = sw_alloc (model->need_count + 1, sizeof *f.trial);
  sw_status status = sw_solution_init (&f.solution, model);
  if (f.knapsack == NULL || f.entries == NULL || f.trial == NULL)
    status = SW_NO_MEMORY;
  bool filled = status == SW_OK;
  if (filled)
    {
      sw_knapsack_hurry (f.knapsack);
      memcpy (f.solution.used, s->used, model->option_count);
      sw_search_count_left (s, NULL);
    }
  for (size_t g = 0; g < model->section_count && status == SW_OK && filled; g++)
    status = fill_section (&f, g, &filled);
  if (status == SW_OK && filled)
    status = sw_search_offer (s, &f.solution);
  sw_solution_clear (&f.solution);
  sw_knapsack_free (f.knapsack);
  free (f.entries);
  free (f.trial);
  return status;
}
