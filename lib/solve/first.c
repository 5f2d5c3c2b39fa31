/* first.c - plans by simple means
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/search.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

void
sw_search_count_left (sw_search *s, const sw_solution *start)
{
  const sw_model *model = s->model;
  for (size_t n = 0; n < model->need_count; n++)
    s->left[n] = model->needs[n].demand;
  for (size_t i = 0; i < model->stock_count; i++)
    s->stocked[i] = model->stocks[i].limit < 0 ? INT64_MAX : model->stocks[i].limit;
  for (size_t o = 0; o < model->option_count; o++)
    s->left[model->options[o].need] += s->used[o];
  if (start == NULL)
    return;
  for (size_t i = 0; i < start->count; i++)
    {
      const sw_pattern *p = &s->pool.items[start->boards[i].pattern];
      if (model->stocks[p->stock].limit >= 0)
        s->stocked[p->stock] -= start->boards[i].copies;
      for (uint32_t c = 0; c < p->count; c++)
        s->left[s->pool.entries[p->first + c].need] -= start->boards[i].copies * s->pool.entries[p->first + c].copies;
    }
  for (size_t n = 0; n < model->need_count; n++)
    if (s->left[n] < 0)
      s->left[n] = 0;
}

sw_status
sw_search_cut_boards (sw_search *s, size_t stock, const sw_entry *entries, uint32_t count, sw_solution *solution)
{
  int64_t times = s->stocked[stock];
  for (uint32_t c = 0; c < count; c++)
    if (s->left[entries[c].need] / entries[c].copies < times)
      times = s->left[entries[c].need] / entries[c].copies;
  for (uint32_t c = 0; c < count; c++)
    s->left[entries[c].need] -= times * entries[c].copies;
  if (s->model->stocks[stock].limit >= 0)
    s->stocked[stock] -= times;
  size_t pattern;
  bool is_new;
  sw_status status = sw_patterns_add (&s->pool, (uint32_t)stock, entries, count, &pattern, &is_new);
  if (status == SW_OK)
    status = is_new ? sw_solution_append (solution, pattern, times) : sw_solution_add (solution, pattern, times);
  return status;
}

static bool
anything_left (const sw_search *s, const sw_model_section *section)
{
  for (size_t n = section->need_first; n < section->need_first + section->need_count; n++)
    if (s->left[n] > 0)
      return true;
  return false;
}

/* The stock and cuts that give the most value for the money; *COUNT 0: none. */
static sw_status
best_board (sw_search *s, size_t g, sw_entry *trial, size_t *stock, uint32_t *count)
{
  const sw_model_section *section = &s->model->sections[g];
  double best_rate = -1;
  *count = 0;
  sw_status status = sw_knapsack_load (s->knapsack, s->model, g, s->value, s->left);
  for (size_t i = section->stock_count; i-- > 0 && status == SW_OK;)
    {
      size_t sup = section->stock_first + i;
      int64_t value;
      uint32_t n;
      if (s->stocked[sup] <= 0)
        continue;
      status = sw_knapsack_best (s->knapsack, s->model->stocks[sup].room, &value, trial, &n);
      if (status != SW_OK || n == 0)
        continue;
      /* Boards on hand cost nothing: they go first, the best used of them. */
      double rate = s->model->stocks[sup].cost == 0 ? 1e60 * (double)value / (double)s->model->stocks[sup].room
                                                      : (double)value / (double)s->model->stocks[sup].cost;
      if (rate <= best_rate)
        continue;
      best_rate = rate;
      *stock = sup;
      *count = n;
      memcpy (s->entries, trial, n * sizeof *trial);
    }
  return status;
}

static sw_status
fill_section (sw_search *s, size_t g, sw_solution *solution, sw_entry *trial, bool *filled)
{
  const sw_model_section *section = &s->model->sections[g];
  while (anything_left (s, section))
    {
      if (sw_watch_stop (s->watch))
        {
          *filled = !s->best.valid;
          /* The first plan is made to its end, so that there is one. */
          return *filled ? sw_search_fill_quickly (s, g, solution, filled) : SW_OK;
        }
      size_t stock = 0;
      uint32_t count;
      sw_status status = best_board (s, g, trial, &stock, &count);
      if (status != SW_OK)
        return status;
      if (count == 0)
        {
          *filled = false;
          return SW_OK;
        }
      status = sw_search_cut_boards (s, stock, s->entries, count, solution);
      if (status != SW_OK)
        return status;
    }
  return SW_OK;
}

sw_status
sw_search_fill (sw_search *s, const sw_solution *start)
{
  sw_solution solution;
  sw_entry *trial = sw_alloc (s->model->need_count, sizeof *trial);
  sw_status status = sw_solution_init (&solution, s->model);
  if (status == SW_OK && trial == NULL)
    status = SW_NO_MEMORY;
  if (status == SW_OK && start != NULL)
    status = sw_solution_copy (&solution, start, s->model);
  bool filled = true;
  if (status == SW_OK)
    {
      memcpy (solution.used, s->used, s->model->option_count);
      sw_search_count_left (s, start);
    }
  for (size_t g = 0; g < s->model->section_count && status == SW_OK && filled; g++)
    status = fill_section (s, g, &solution, trial, &filled);
  if (status == SW_OK && filled)
    status = sw_search_offer (s, &solution);
  sw_solution_clear (&solution);
  free (trial);
  return status;
}

sw_status
sw_search_first (sw_search *s, const int64_t *value)
{
  const sw_model *model = s->model;
  /* Every piece has some worth, or it would never be put on a board. */
  int64_t largest = 1;
  for (size_t n = 0; n < model->need_count; n++)
    if (model->needs[n].size > largest)
      largest = model->needs[n].size;
  int64_t unit = ((int64_t)1 << 20) / largest + 1;
  for (size_t n = 0; n < model->need_count; n++)
    s->value[n]
        = value != NULL ? value[n] + model->needs[n].size / (largest / 1024 + 1) + 1 : model->needs[n].size * unit;
  for (size_t o = 0; o < model->option_count; o++)
    s->price[o] = s->value[model->options[o].need] + 1;
  for (size_t i = 0; i < model->strip_count; i++)
    {
      sw_status status = sw_search_lay_out (s, i, model->stagger ? SW_ALIGNED_FIRST : 0);
      if (status == SW_NO_PLAN)
        return SW_OK; /* no simple plan; the programme may find one */
      if (status != SW_OK)
        return status;
    }
  return sw_search_fill (s, NULL);
}
