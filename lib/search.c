/* search.c - what the parts of a search share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "search.h"

#include <stdlib.h>
#include <string.h>

#include "memory.h"

static sw_status
prices_init (sw_prices *prices, const sw_model *model)
{
  prices->need = sw_alloc (model->need_count, sizeof *prices->need);
  prices->supply = sw_alloc (model->supply_count, sizeof *prices->supply);
  return prices->need && prices->supply ? SW_OK : SW_NO_MEMORY;
}

static void
prices_clear (sw_prices *prices)
{
  free (prices->need);
  free (prices->supply);
}

sw_status
sw_search_begin (sw_search *s, const sw_model *model, sw_clock *clock, bool hard_way)
{
  *s = (sw_search){ .model = model, .clock = clock, .hard_way = hard_way };
  for (int a = 0; a < SW_AIM_COUNT; a++)
    s->caps[a] = -1;
  s->knapsack = sw_knapsack_new ();
  s->strips = sw_strip_work_new ();
  s->value = sw_alloc (model->need_count, sizeof *s->value);
  s->price = sw_alloc (model->option_count, sizeof *s->price);
  s->through = sw_alloc (model->option_count, sizeof *s->through);
  s->used = sw_alloc (model->option_count, 1);
  s->left = sw_alloc (model->need_count, sizeof *s->left);
  s->most = sw_alloc (model->need_count, sizeof *s->most);
  s->stocked = sw_alloc (model->supply_count, sizeof *s->stocked);
  s->cuts = sw_alloc (model->need_count, sizeof *s->cuts);
  if (!s->knapsack || !s->strips || !s->value || !s->price || !s->through || !s->used || !s->left || !s->most
      || !s->stocked || !s->cuts)
    return SW_NO_MEMORY;
  sw_search_reset_most (s);
  sw_status status = prices_init (&s->root, model);
  if (status == SW_OK)
    status = prices_init (&s->duals, model);
  if (status == SW_OK)
    status = prices_init (&s->now, model);
  if (status == SW_OK)
    status = sw_choice_init (&s->best, model);
  return status;
}

void
sw_search_end (sw_search *s)
{
  sw_master_free (s->master);
  sw_knapsack_free (s->knapsack);
  sw_strip_work_free (s->strips);
  sw_patterns_clear (&s->pool);
  sw_choice_clear (&s->best);
  prices_clear (&s->root);
  prices_clear (&s->duals);
  prices_clear (&s->now);
  free (s->value);
  free (s->price);
  free (s->through);
  free (s->used);
  free (s->left);
  free (s->most);
  free (s->stocked);
  free (s->cuts);
}

sw_master *
sw_search_beside (const sw_search *s)
{
  return s->master != NULL ? s->master : s->beside;
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
  sw_clock_note (s->clock, bound * s->model->granule, true, s->best.value[SW_AIM_COST] * s->model->granule);
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
is_better (const sw_search *s, const sw_choice *choice)
{
  if (!s->best.valid)
    return true;
  for (int a = (int)s->aim; a <= SW_AIM_OFFCUTS; a++)
    if (choice->value[a] != s->best.value[a])
      return choice->value[a] < s->best.value[a];
  return false;
}

sw_status
sw_search_offer (sw_search *s, sw_choice *choice)
{
  if (!sw_choice_check (choice, s->model, &s->pool))
    return SW_OK;
  for (int a = 0; a < SW_AIM_COUNT; a++)
    if (s->caps[a] >= 0 && choice->value[a] > s->caps[a])
      return SW_OK;
  if (!is_better (s, choice))
    return SW_OK;
  sw_status status = sw_choice_copy (&s->best, choice, s->model);
  if (status == SW_OK)
    sw_search_show (s);
  return status;
}
