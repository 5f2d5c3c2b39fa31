/* dive.c - fix what the linear programme nearly decides, and solve on
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "search.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "memory.h"

/* Nearer to one than this is taken as decided. */
#define DECIDED 0.9
#define WHOLE 1e-6
/* Rounds of columns after each step. */
#define ROUNDS 3

/* The master's value shows that nothing better can come of this dive. */
static bool
hopeless (const sw_search *s)
{
  return s->best.valid && ceil (sw_master_value (s->master) - 1e-6) >= (double)sw_search_best (s);
}

/* Fix options to one: all that are nearly decided, else the nearest.  False: all are whole. */
static bool
fix_options (sw_search *s, uint8_t *fixed)
{
  double best = 0;
  size_t at = SIZE_MAX;
  bool any = false, fractional = false;
  for (size_t o = 0; o < s->model->option_count; o++)
    {
      double v = fixed[o] ? 1 : sw_master_option_value (s->master, o);
      if (fixed[o] || v < WHOLE)
        continue;
      if (v < 1 - WHOLE)
        fractional = true;
      if (v >= DECIDED)
        {
          sw_master_bound_option (s->master, o, 1, 1);
          fixed[o] = 1;
          any = any || v < 1 - WHOLE;
        }
      else if (v > best)
        {
          best = v;
          at = o;
        }
    }
  if (!fractional)
    return false;
  if (!any && at != SIZE_MAX)
    {
      sw_master_bound_option (s->master, at, 1, 1);
      fixed[at] = 1;
    }
  return true;
}

/* The same for patterns, with whole parts kept as lower bounds. */
static bool
fix_patterns (sw_search *s, int64_t *low)
{
  double best = 0;
  size_t at = SIZE_MAX;
  bool any = false, fractional = false;
  size_t count = sw_master_patterns (s->master);
  for (size_t i = 0; i < count; i++)
    {
      double v = sw_master_pattern_value (s->master, i), whole = floor (v + WHOLE), part = v - whole;
      int64_t keep = (int64_t)whole;
      if (part > WHOLE)
        fractional = true;
      if (part >= DECIDED)
        {
          keep++;
          any = true;
        }
      else if (part > WHOLE && part > best)
        {
          best = part;
          at = i;
        }
      if (keep > low[i])
        {
          low[i] = keep;
          sw_master_bound_pattern (s->master, i, keep, -1);
        }
    }
  if (!fractional)
    return false;
  if (!any && at != SIZE_MAX)
    sw_master_bound_pattern (s->master, at, ++low[at], -1);
  return true;
}

static sw_status
offer_master (sw_search *s)
{
  sw_choice choice;
  sw_status status = sw_choice_init (&choice, s->model);
  for (size_t o = 0; o < s->model->option_count && status == SW_OK; o++)
    choice.used[o] = sw_master_option_value (s->master, o) > 0.5;
  for (size_t i = 0; i < sw_master_patterns (s->master) && status == SW_OK; i++)
    {
      int64_t copies = llround (sw_master_pattern_value (s->master, i));
      if (copies > 0)
        status = sw_choice_add (&choice, sw_master_pattern (s->master, i), copies);
    }
  if (status == SW_OK)
    status = sw_search_offer (s, &choice);
  sw_choice_clear (&choice);
  return status;
}

/* Round the patterns down and fill up the rest by simple means. */
static sw_status
offer_rounded (sw_search *s)
{
  sw_choice start;
  sw_status status = sw_choice_init (&start, s->model);
  for (size_t o = 0; o < s->model->option_count && status == SW_OK; o++)
    s->used[o] = sw_master_option_value (s->master, o) > 0.5;
  for (size_t i = 0; i < sw_master_patterns (s->master) && status == SW_OK; i++)
    {
      int64_t copies = (int64_t)floor (sw_master_pattern_value (s->master, i) + WHOLE);
      if (copies > 0)
        status = sw_choice_add (&start, sw_master_pattern (s->master, i), copies);
    }
  for (size_t n = 0; n < s->model->need_count; n++)
    s->value[n] = s->now.need[n] + s->now.scale / 1000 + 1;
  if (status == SW_OK)
    status = sw_search_fill (s, &start);
  sw_choice_clear (&start);
  return status;
}

typedef struct dive
{
  uint8_t *fixed;
  int64_t *low;
  size_t low_capacity;
} dive;

static sw_status
go_down (sw_search *s, dive *d)
{
  sw_lp outcome = SW_LP_OPTIMAL;
  sw_status status = sw_search_columns (s, ROUNDS, false, &outcome);
  while (status == SW_OK && outcome == SW_LP_OPTIMAL && !hopeless (s) && fix_options (s, d->fixed))
    status = sw_search_columns (s, ROUNDS, false, &outcome);
  if (status == SW_OK && outcome == SW_LP_OPTIMAL && !hopeless (s))
    status = offer_rounded (s);
  while (status == SW_OK && outcome == SW_LP_OPTIMAL && !hopeless (s))
    {
      size_t old = d->low_capacity;
      status = sw_grow ((void **)&d->low, &d->low_capacity, sw_master_patterns (s->master), sizeof *d->low);
      if (status != SW_OK)
        break;
      memset (d->low + old, 0, (d->low_capacity - old) * sizeof *d->low);
      if (!fix_patterns (s, d->low))
        return offer_master (s);
      status = sw_search_columns (s, ROUNDS, false, &outcome);
    }
  return status;
}

sw_status
sw_search_dive (sw_search *s)
{
  dive d = { 0 };
  d.fixed = sw_alloc (s->model->option_count, 1);
  sw_status status = d.fixed ? go_down (s, &d) : SW_NO_MEMORY;
  for (size_t o = 0; d.fixed && o < s->model->option_count; o++)
    if (d.fixed[o])
      sw_master_bound_option (s->master, o, 0, 1);
  for (size_t i = 0; d.low && i < sw_master_patterns (s->master) && i < d.low_capacity; i++)
    if (d.low[i] > 0)
      sw_master_bound_pattern (s->master, i, 0, -1);
  free (d.fixed);
  free (d.low);
  return status;
}
