/* search.c - what the parts of a search share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/safe_prices.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static sw_status
prices_init (sw_prices *prices, const sw_model *model)
{
  prices->need = sw_alloc (model->need_count, sizeof *prices->need);
  prices->stock = sw_alloc (model->stock_count, sizeof *prices->stock);
  return prices->need && prices->stock ? SW_OK : SW_NO_MEMORY;
}

static void
prices_clear (sw_prices *prices)
{
  free (prices->need);
  free (prices->stock);
}

sw_status
sw_search_begin (sw_search *s, const sw_model *model, sw_watch *watch, bool hard_way)
{
  *s = (sw_search){ .model = model, .watch = watch, .hard_way = hard_way };
  for (int a = 0; a < SW_AIM_COUNT; a++)
    s->caps[a] = -1;
  s->knapsack = sw_knapsack_new ();
  s->strips = sw_strip_work_new ();
  s->value = sw_alloc (model->need_count, sizeof *s->value);
  s->price = sw_alloc (model->option_count, sizeof *s->price);
  s->through = sw_alloc (model->option_count, sizeof *s->through);
  s->used = sw_alloc (model->option_count, 1);
  s->fewest = sw_alloc (model->option_count, 1);
  s->left = sw_alloc (model->need_count, sizeof *s->left);
  s->most = sw_alloc (model->need_count, sizeof *s->most);
  s->stocked = sw_alloc (model->stock_count, sizeof *s->stocked);
  s->entries = sw_alloc (model->need_count, sizeof *s->entries);
  if (!s->knapsack || !s->strips || !s->value || !s->price || !s->through || !s->used || !s->fewest || !s->left || !s->most
      || !s->stocked || !s->entries)
    return SW_NO_MEMORY;
  sw_search_reset_most (s);
  sw_status status = prices_init (&s->root, model);
  if (status == SW_OK)
    status = prices_init (&s->duals, model);
  if (status == SW_OK)
    status = prices_init (&s->now, model);
  if (status == SW_OK)
    status = sw_solution_init (&s->best, model);
  return status;
}

void
sw_search_end (sw_search *s)
{
  sw_search_end_master (s);
  sw_layouts_clear (&s->layouts);
  free (s->blocks);
  sw_knapsack_free (s->knapsack);
  sw_strip_work_free (s->strips);
  sw_patterns_clear (&s->pool);
  sw_solution_clear (&s->best);
  prices_clear (&s->root);
  prices_clear (&s->duals);
  prices_clear (&s->now);
  free (s->value);
  free (s->price);
  free (s->through);
  free (s->used);
  free (s->fewest);
  free (s->left);
  free (s->most);
  free (s->stocked);
  free (s->entries);
}

sw_master *
sw_search_beside (const sw_search *s)
{
  return s->master != NULL ? s->master : s->beside;
}

sw_status
sw_search_floors (sw_search *s, sw_model *model, int64_t *open)
{
  memset (s->price, 0, model->option_count * sizeof *s->price);
  *open = 0;
  model->priced_pairs = false;
  for (size_t i = 0; i < model->strip_count; i++)
    {
      int64_t low = 0, high = 0;
      /* When the time is up any layout will do, and nothing is known of others. */
      bool hurry = i >= SW_STRIPS_IN_ANY_CASE && sw_watch_stop (s->watch);
      sw_status status = hurry ? sw_strip_quickly (model, i, s->price, s->fewest)
                               : sw_strip_fewest (model, i, s->price, s->strips, &low, &high, s->fewest);
      if (hurry && status == SW_OK)
        high = sw_strip_pairs (model, i, s->fewest);
      /* What is in its place may leave no layout in turn: then the others are as free. */
      if (status == SW_NO_PLAN && model->turn && model->strips[i].placed != NULL && !model->strips[i].out_of_turn)
        {
          model->strips[i--].out_of_turn = true;
          continue;
        }
      if (status != SW_OK)
        return status;
      model->strips[i].exact = !hurry && sw_strip_is_exact (model, i);
      model->strips[i].aligned_floor = model->stagger ? low : 0;
      model->priced_pairs = model->priced_pairs || (model->stagger && !model->strips[i].exact);
      *open += model->stagger ? high - low : 0;
    }
  return SW_OK;
}

void
sw_search_end_master (sw_search *s)
{
  sw_master_free (s->master);
  s->master = NULL;
  sw_breakpoints_clear (&s->breakpoints);
}

/* A board of nothing but one need, for each need and stock, so that the
 * first programme has a plan; PLAIN[need]: the cheapest a piece without limit. */
static sw_status
add_plain_patterns (sw_search *s, size_t *plain)
{
  const sw_model *model = s->model;
  for (size_t n = 0; n < model->need_count; n++)
    {
      const sw_model_section *section = &model->sections[model->needs[n].section];
      double least = 0;
      plain[n] = SIZE_MAX;
      for (size_t i = section->stock_first; i < section->stock_first + section->stock_count; i++)
        {
          int64_t copies = model->stocks[i].room / model->needs[n].size;
          size_t pattern;
          if (copies > model->needs[n].most)
            copies = model->needs[n].most;
          if (copies > UINT32_MAX)
            copies = UINT32_MAX;
          if (copies == 0)
            continue;
          sw_entry entry = { .need = (uint32_t)n, .copies = (uint32_t)copies };
          sw_status status = sw_patterns_add (&s->pool, (uint32_t)i, &entry, 1, &pattern, NULL);
          if (status != SW_OK)
            return status;
          double cost = (double)model->stocks[i].cost / (double)copies;
          if (model->stocks[i].limit < 0 && (plain[n] == SIZE_MAX || cost < least))
            {
              least = cost;
              plain[n] = pattern;
            }
        }
    }
  return SW_OK;
}

/* All strips in blocks, once. */
static sw_status
make_blocks (sw_search *s)
{
  size_t capacity = 0;
  if (s->blocks != NULL)
    return SW_OK;
  for (size_t i = 0; i < s->model->strip_count; i++)
    for (uint32_t first = 0; first < s->model->strips[i].level_count;)
      {
        sw_status status = sw_grow ((void **)&s->blocks, &capacity, s->block_count + 1, sizeof *s->blocks);
        if (status != SW_OK)
          return status;
        s->blocks[s->block_count] = sw_strip_block (s->model, i, first);
        first += s->blocks[s->block_count++].count;
      }
  return SW_OK;
}

/* Layouts to begin with: the best plan's, and without a plan those of the fewest pairs. */
static sw_status
add_first_layouts (sw_search *s)
{
  sw_status status = SW_OK;
  for (size_t b = 0; b < s->block_count && status == SW_OK; b++)
    status = sw_layouts_add (&s->layouts, s->model, s->blocks, b, s->best.valid ? s->best.used : s->fewest);
  return status;
}

/* All columns met so far. */
static sw_status
add_known (sw_search *s)
{
  sw_status status = SW_OK;
  for (int a = 0; a < SW_AIM_COUNT; a++)
    sw_master_cap (s->master, (sw_aim)a, s->caps[a]);
  for (size_t i = 0; i < s->pool.count && status == SW_OK; i++)
    status = sw_master_add (s->master, i, NULL);
  for (size_t i = 0; i < s->layouts.count && status == SW_OK; i++)
    status = sw_master_add_layout (s->master, &s->layouts, i);
  return status;
}

sw_status
sw_search_begin_master (sw_search *s, size_t breakpoints)
{
  const sw_model *model = s->model;
  const bool marked = model->strip_count > 0 && model->need_count > breakpoints;
  size_t *plain = sw_alloc (model->need_count, sizeof *plain);
  sw_search_end_master (s);
  sw_status status = plain != NULL ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK && marked)
    status = sw_breakpoints_new (&s->breakpoints, model, breakpoints);
  if (status == SW_OK && !marked)
    status = add_plain_patterns (s, plain);
  if (status == SW_OK)
    status = make_blocks (s);
  if (status == SW_OK)
    status = add_first_layouts (s);
  if (status == SW_OK)
    status = sw_master_new_lp (&s->master, model, &s->pool, marked ? &s->breakpoints : NULL, s->block_count, s->aim,
                               s->beside);
  if (status == SW_OK)
    status = add_known (s);
  if (status == SW_OK && model->strip_count == 0)
    status = sw_master_start (s->master, plain);
  s->penalty_step = 0;
  if (status == SW_OK)
    sw_master_penalty (s->master, sw_search_penalty (s, 0));
  free (plain);
  return status;
}

sw_status
sw_search_lay_out (sw_search *s, size_t strip, sw_wide weight)
{
  const sw_strip *st = &s->model->strips[strip];
  const bool hurry = !st->exact && strip >= SW_STRIPS_IN_ANY_CASE && sw_watch_stop (s->watch);
  sw_status status = hurry ? SW_OK : sw_strip_layout (s->model, strip, s->price, weight, s->strips, s->used);
  if (status != SW_OK || st->exact
      || (!hurry && sw_strip_pairs (s->model, strip, s->used) <= sw_strip_pairs (s->model, strip, s->fewest)))
    return status;
  for (uint32_t r = 0; r < st->level_count; r++)
    memcpy (&s->used[st->levels[r].option_first], &s->fewest[st->levels[r].option_first], st->levels[r].option_count);
  return SW_OK;
}

uint64_t
sw_search_work (const sw_search *s)
{
  return (s->master != NULL ? sw_master_work (s->master) : 0) + sw_knapsack_work (s->knapsack);
}

double
sw_search_chance (uint64_t *state)
{
  /* xorshift64 (Marsaglia 2003) */
  *state ^= *state << 13;
  *state ^= *state >> 7;
  *state ^= *state << 17;
  return (double)(*state >> 40) / (double)(1 << 24);
}

void
sw_search_value_pieces (sw_search *s, const sw_prices *prices)
{
  for (size_t n = 0; n < s->model->need_count; n++)
    s->value[n] = prices->need[n] + prices->scale / 1000 + 1;
}

void
sw_search_reset_most (sw_search *s)
{
  for (size_t n = 0; n < s->model->need_count; n++)
    s->most[n] = s->model->needs[n].most;
}

/* While there is no solution the limit on aligned pairs may still be raised: then this bound would not hold. */
void
sw_search_show (const sw_search *s)
{
  if (!s->best.valid)
    return;
  int64_t bound = s->aim == SW_AIM_COST ? s->bound : 0;
  sw_watch_note (s->watch, bound * s->model->granule, true, s->best.value[SW_AIM_COST] * s->model->granule);
}

int64_t
sw_search_best (const sw_search *s)
{
  return s->best.valid ? s->best.value[s->aim] : INT64_MAX;
}

bool
sw_search_done (const sw_search *s)
{
  return s->impossible || (s->best.valid && s->best.value[s->aim] <= s->bound);
}

/* Before the present aim's value, all earlier ones must be as good. */
static bool
is_better (const sw_search *s, const sw_solution *solution)
{
  if (!s->best.valid)
    return true;
  for (int a = (int)s->aim; a <= SW_AIM_OFFCUTS; a++)
    if (solution->value[a] != s->best.value[a])
      return solution->value[a] < s->best.value[a];
  return false;
}

sw_status
sw_search_offer (sw_search *s, sw_solution *solution)
{
  if (!sw_solution_check (solution, s->model, &s->pool))
    return SW_OK;
  for (int a = 0; a < SW_AIM_COUNT; a++)
    if (s->caps[a] >= 0 && solution->value[a] > s->caps[a])
      return SW_OK;
  if (!is_better (s, solution))
    return SW_OK;
  sw_status status = sw_solution_copy (&s->best, solution, s->model);
  if (status == SW_OK)
    sw_search_show (s);
  return status;
}
