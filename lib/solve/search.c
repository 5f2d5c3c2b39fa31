/* search.c - what is known of one model while it is solved
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/search.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

sw_status
sw_search_begin (sw_search *s, const sw_model *model, sw_watch *watch, bool hard_way)
{
  *s = (sw_search){ .goal = { .model = model }, .model = model, .watch = watch, .hard_way = hard_way };
  for (int a = 0; a < SW_AIM_COUNT; a++)
    s->goal.caps[a] = -1;
  s->work = sw_strip_work_new ();
  s->knapsack = sw_knapsack_new ();
  s->fewest = sw_alloc (model->option_count, 1);
  if (!s->work || !s->knapsack || !s->fewest)
    return SW_NO_MEMORY;
  sw_status status = sw_prices_init (&s->root, &s->goal, false);
  return status == SW_OK ? sw_solution_init (&s->best, model) : status;
}

void
sw_search_end (sw_search *s)
{
  sw_strip_work_free (s->work);
  sw_knapsack_free (s->knapsack);
  sw_patterns_clear (&s->pool);
  sw_solution_clear (&s->best);
  sw_prices_clear (&s->root);
  free (s->fewest);
}

bool
sw_search_hurry (const sw_search *s, size_t strip)
{
  const size_t levels = s->model->strips[strip].level_count;
  return strip * levels * levels >= SW_IN_ANY_CASE && sw_watch_stop (s->watch);
}

sw_status
sw_search_floors (sw_search *s, sw_model *model, int64_t *open)
{
  int64_t *nothing = sw_alloc (model->option_count, sizeof *nothing);
  sw_status status = nothing != NULL ? SW_OK : SW_NO_MEMORY;
  *open = 0;
  model->priced_pairs = false;
  for (size_t i = 0; i < model->strip_count && status == SW_OK; i++)
    {
      sw_strip *strip = &model->strips[i];
      int64_t low = 0, high = 0;
      /* When the time is up any layout will do, and nothing is known of how few pairs others have. */
      bool hurry = sw_search_hurry (s, i);
      status = hurry ? sw_strip_quickly (model, strip, nothing, s->work, NULL, s->fewest)
                     : sw_strip_fewest (model, strip, nothing, s->work, &low, &high, s->fewest);
      /* What is in its place may allow no layout in turn.  Then the strip is laid out without that rule. */
      if (status == SW_NO_PLAN && model->turn && strip->placed != NULL && !strip->out_of_turn)
        {
          strip->out_of_turn = true;
          status = SW_OK;
          i--;
          continue;
        }
      if (hurry && status == SW_OK)
        high = sw_strip_pairs (model, strip, s->fewest);
      strip->exact = !hurry && sw_strip_is_exact (model, strip);
      strip->aligned_floor = model->stagger ? low : 0;
      model->priced_pairs = model->priced_pairs || (model->stagger && !strip->exact);
      *open += model->stagger ? high - low : 0;
    }
  free (nothing);
  return status;
}

void
sw_copy_strip (const sw_strip *strip, const uint8_t *from, uint8_t *to)
{
  const size_t first = sw_strip_first (strip);
  memcpy (&to[first], &from[first], sw_strip_end (strip) - first);
}

sw_status
sw_search_lay_out (sw_search *s, size_t strip, const int64_t *price, sw_wide weight, uint8_t *used)
{
  const sw_strip *st = &s->model->strips[strip];
  const bool hurry = sw_search_hurry (s, strip);
  sw_status status = hurry ? SW_OK : sw_strip_best (s->model, st, price, weight, s->work, NULL, NULL, used, NULL);
  if (hurry
      || (status == SW_OK && !st->exact
          && sw_strip_pairs (s->model, st, used) > sw_strip_pairs (s->model, st, s->fewest)))
    sw_copy_strip (st, s->fewest, used);
  return status;
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

/* Nothing is shown as long as there is no solution: the limit on aligned pairs may still be raised, and the bound would
 * not hold then. */
void
sw_search_show (const sw_search *s)
{
  if (!s->best.valid)
    return;
  int64_t bound = s->goal.aim == SW_AIM_COST ? s->bound : 0;
  sw_watch_note (s->watch, bound * s->model->granule, true, s->best.value[SW_AIM_COST] * s->model->granule);
}

int64_t
sw_search_best (const sw_search *s)
{
  return s->best.valid ? s->best.value[s->goal.aim] : INT64_MAX;
}

bool
sw_search_done (const sw_search *s)
{
  return s->impossible || (s->best.valid && s->best.value[s->goal.aim] <= s->bound);
}

/* Is it better in the present aim, or as good and better in a later one?  The caps keep the earlier ones. */
static bool
is_better (const sw_search *s, const sw_solution *solution)
{
  if (!s->best.valid)
    return true;
  for (int a = (int)s->goal.aim; a <= SW_AIM_OFFCUTS; a++)
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
    if (s->goal.caps[a] >= 0 && solution->value[a] > s->goal.caps[a])
      return SW_OK;
  if (!is_better (s, solution))
    return SW_OK;
  sw_status status = sw_solution_copy (&s->best, solution, s->model);
  if (status == SW_OK)
    sw_search_show (s);
  return status;
}

void
sw_search_note_bound (sw_search *s, const sw_prices *prices)
{
  /* Bounds of different scales are compared in granules. */
  if (s->root.valid && sw_prices_in_units (prices) <= sw_prices_in_units (&s->root))
    return;
  sw_prices_copy (&s->root, prices);
  const int64_t whole = sw_prices_whole (&s->root);
  if (whole > s->bound)
    s->bound = whole;
  sw_search_show (s);
}
