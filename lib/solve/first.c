/* first.c - plans by simple means
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/search.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

void
sw_search_count_left (sw_search *s, const sw_choice *start)
{
  const sw_model *model = s->model;
  for (size_t n = 0; n < model->need_count; n++)
    s->left[n] = model->needs[n].demand;
  for (size_t i = 0; i < model->supply_count; i++)
    s->stocked[i] = model->supplies[i].limit < 0 ? INT64_MAX : model->supplies[i].limit;
  for (size_t o = 0; o < model->option_count; o++)
    s->left[model->options[o].need] += s->used[o];
  if (start == NULL)
    return;
  for (size_t i = 0; i < start->count; i++)
    {
      const sw_pattern *p = &s->pool.items[start->boards[i].pattern];
      if (model->supplies[p->supply].limit >= 0)
        s->stocked[p->supply] -= start->boards[i].copies;
      for (uint32_t c = 0; c < p->count; c++)
        s->left[s->pool.cuts[p->first + c].need] -= start->boards[i].copies * s->pool.cuts[p->first + c].copies;
    }
  for (size_t n = 0; n < model->need_count; n++)
    if (s->left[n] < 0)
      s->left[n] = 0;
}

sw_status
sw_search_cut_boards (sw_search *s, size_t supply, const sw_cut *cuts, uint32_t count, sw_choice *choice)
{
  int64_t times = s->stocked[supply];
  for (uint32_t c = 0; c < count; c++)
    if (s->left[cuts[c].need] / cuts[c].copies < times)
      times = s->left[cuts[c].need] / cuts[c].copies;
  for (uint32_t c = 0; c < count; c++)
    s->left[cuts[c].need] -= times * cuts[c].copies;
  if (s->model->supplies[supply].limit >= 0)
    s->stocked[supply] -= times;
  size_t pattern;
  bool is_new;
  sw_status status = sw_patterns_add (&s->pool, (uint32_t)supply, cuts, count, &pattern, &is_new);
  if (status == SW_OK)
    status = is_new ? sw_choice_append (choice, pattern, times) : sw_choice_add (choice, pattern, times);
  return status;
}

static bool
anything_left (const sw_search *s, const sw_group *group)
{
  for (size_t n = group->need_first; n < group->need_first + group->need_count; n++)
    if (s->left[n] > 0)
      return true;
  return false;
}

/* The supply and cuts that give the most value for the money; *COUNT 0: none. */
static sw_status
best_board (sw_search *s, size_t g, sw_cut *trial, size_t *supply, uint32_t *count)
{
  const sw_group *group = &s->model->groups[g];
  double best_rate = -1;
  *count = 0;
  sw_status status = sw_knapsack_load (s->knapsack, s->model, g, s->value, s->left);
  for (size_t i = group->supply_count; i-- > 0 && status == SW_OK;)
    {
      size_t sup = group->supply_first + i;
      int64_t value;
      uint32_t n;
      if (s->stocked[sup] <= 0)
        continue;
      status = sw_knapsack_best (s->knapsack, s->model->supplies[sup].room, &value, trial, &n);
      if (status != SW_OK || n == 0)
        continue;
      /* Boards on hand cost nothing: they go first, the best used of them. */
      double rate = s->model->supplies[sup].cost == 0 ? 1e60 * (double)value / (double)s->model->supplies[sup].room
                                                      : (double)value / (double)s->model->supplies[sup].cost;
      if (rate <= best_rate)
        continue;
      best_rate = rate;
      *supply = sup;
      *count = n;
      memcpy (s->cuts, trial, n * sizeof *trial);
    }
  return status;
}

static sw_status
fill_group (sw_search *s, size_t g, sw_choice *choice, sw_cut *trial, bool *filled)
{
  const sw_group *group = &s->model->groups[g];
  while (anything_left (s, group))
    {
      if (sw_clock_stop (s->clock))
        {
          *filled = !s->best.valid;
          /* The first plan is made to its end, so that there is one. */
          return *filled ? sw_search_fill_quickly (s, g, choice, filled) : SW_OK;
        }
      size_t supply = 0;
      uint32_t count;
      sw_status status = best_board (s, g, trial, &supply, &count);
      if (status != SW_OK)
        return status;
      if (count == 0)
        {
          *filled = false;
          return SW_OK;
        }
      status = sw_search_cut_boards (s, supply, s->cuts, count, choice);
      if (status != SW_OK)
        return status;
    }
  return SW_OK;
}

sw_status
sw_search_fill (sw_search *s, const sw_choice *start)
{
  sw_choice choice;
  sw_cut *trial = sw_alloc (s->model->need_count, sizeof *trial);
  sw_status status = sw_choice_init (&choice, s->model);
  if (status == SW_OK && trial == NULL)
    status = SW_NO_MEMORY;
  if (status == SW_OK && start != NULL)
    status = sw_choice_copy (&choice, start, s->model);
  bool filled = true;
  if (status == SW_OK)
    {
      memcpy (choice.used, s->used, s->model->option_count);
      sw_search_count_left (s, start);
    }
  for (size_t g = 0; g < s->model->group_count && status == SW_OK && filled; g++)
    status = fill_group (s, g, &choice, trial, &filled);
  if (status == SW_OK && filled)
    status = sw_search_offer (s, &choice);
  sw_choice_clear (&choice);
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
