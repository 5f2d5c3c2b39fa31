/* dive.c - boards alone: fix what the linear programme nearly decides, and solve on
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/fill.h"
#include "solve/steps.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/tuning.h"

typedef struct dive
{
  int64_t *value; /* for each need: what a piece is worth when boards are filled to complete a plan */
  int64_t *low;   /* for each pattern of the master: the boards that are fixed */
  size_t capacity;
  /* the choices of the first dive, and the step at which this dive must choose otherwise */
  size_t *chosen;
  size_t chosen_capacity, chosen_count;
  size_t deviate_at;
  size_t step;
} dive;

/* Work out what is still needed once the fixed boards are cut, and shut patterns that would make more of a piece. */
static void
shut_patterns (sw_programme *lp, const dive *d)
{
  const sw_search *s = lp->search;
  size_t count = sw_master_patterns (lp->master);
  for (size_t n = 0; n < s->model->need_count; n++)
    lp->most[n] = s->model->needs[n].demand;
  for (size_t i = 0; i < count; i++)
    {
      const sw_pattern *p = &s->pool.items[sw_master_pattern (lp->master, i)];
      for (uint32_t c = 0; d->low[i] > 0 && c < p->count; c++)
        lp->most[s->pool.entries[p->first + c].need] -= d->low[i] * s->pool.entries[p->first + c].copies;
    }
  for (size_t n = 0; n < s->model->need_count; n++)
    if (lp->most[n] < 0)
      lp->most[n] = 0;
  for (size_t i = 0; i < count; i++)
    {
      const sw_pattern *p = &s->pool.items[sw_master_pattern (lp->master, i)];
      bool shut = false;
      for (uint32_t c = 0; c < p->count && !shut; c++)
        shut = s->pool.entries[p->first + c].copies > lp->most[s->pool.entries[p->first + c].need];
      sw_master_bound_pattern (lp->master, i, d->low[i], shut ? d->low[i] : -1);
    }
}

/* Must this dive not round PATTERN up at the present step? */
static bool
is_barred (const dive *d, size_t pattern)
{
  return d->step == d->deviate_at && d->step < d->chosen_count && d->chosen[d->step] == pattern;
}

/* Keep the whole parts of patterns as lower bounds and round up what is nearly decided, or else the pattern nearest to
 * it.  False: all are whole. */
static bool
fix_patterns (sw_programme *lp, dive *d, size_t *solution)
{
  double best = 0;
  bool any = false, fractional = false;
  size_t count = sw_master_patterns (lp->master);
  *solution = SIZE_MAX;
  for (size_t i = 0; i < count; i++)
    {
      double v = sw_master_pattern_value (lp->master, i), whole = floor (v + SW_WHOLE), part = v - whole;
      int64_t keep = (int64_t)whole;
      if (part > SW_WHOLE)
        fractional = true;
      if (part >= SW_DECIDED && !is_barred (d, i))
        {
          keep++;
          any = true;
        }
      if (keep > d->low[i])
        d->low[i] = keep;
      if (part < SW_WHOLE || part >= SW_DECIDED || is_barred (d, i))
        continue;
      if (part > best)
        {
          best = part;
          *solution = i;
        }
    }
  if (!fractional)
    return false;
  if (!any && *solution != SIZE_MAX)
    d->low[*solution]++;
  else
    *solution = SIZE_MAX;
  shut_patterns (lp, d);
  return true;
}

/* Offer the master's values as whole numbers, for which LIFT is added before they are rounded down; the remaining
 * pieces are filled in by simple means. */
static sw_status
offer_rounded (sw_programme *lp, const dive *d, double lift)
{
  sw_solution start;
  sw_status status = sw_solution_init (&start, lp->search->model);
  for (size_t i = 0; i < sw_master_patterns (lp->master) && status == SW_OK; i++)
    {
      const int64_t copies = (int64_t)floor (sw_master_pattern_value (lp->master, i) + lift);
      if (copies > 0)
        status = sw_solution_add (&start, sw_master_pattern (lp->master, i), copies);
    }
  sw_value_pieces (&lp->now, d->value);
  if (status == SW_OK)
    status = sw_fill (lp->search, &start, d->value);
  sw_solution_clear (&start);
  return status;
}

static sw_status
grow_low (sw_programme *lp, dive *d)
{
  size_t old = d->capacity;
  sw_status status = sw_grow ((void **)&d->low, &d->capacity, sw_master_patterns (lp->master), sizeof *d->low);
  if (status == SW_OK)
    memset (d->low + old, 0, (d->capacity - old) * sizeof *d->low);
  return status;
}

/* Note a choice of the first dive. */
static sw_status
note_choice (dive *d, size_t solution)
{
  if (solution == SIZE_MAX)
    return SW_OK; /* nothing was left to choose */
  d->step++;
  if (d->deviate_at != SIZE_MAX)
    return SW_OK;
  sw_status status = sw_grow ((void **)&d->chosen, &d->chosen_capacity, d->chosen_count + 1, sizeof *d->chosen);
  if (status == SW_OK)
    d->chosen[d->chosen_count++] = solution;
  return status;
}

/* Fix patterns, one step after another. */
static sw_status
go_down_patterns (sw_programme *lp, dive *d)
{
  sw_lp outcome = SW_LP_OPTIMAL;
  sw_status status = SW_OK;
  bool done;
  while (status == SW_OK && outcome == SW_LP_OPTIMAL && !sw_programme_hopeless (lp))
    {
      size_t solution;
      status = grow_low (lp, d);
      if (status != SW_OK)
        break;
      if (!fix_patterns (lp, d, &solution))
        return offer_rounded (lp, d, 0.5);
      status = note_choice (d, solution);
      if (status == SW_OK)
        status = sw_programme_columns (lp, SW_ALL_ROUNDS, false, SW_THOROUGH, &outcome, &done);
    }
  return status;
}

static sw_status
go_down (sw_programme *lp, dive *d)
{
  sw_lp outcome = SW_LP_OPTIMAL;
  bool done;
  sw_status status = sw_programme_columns (lp, SW_ROUNDS, false, SW_THOROUGH, &outcome, &done);
  if (status != SW_OK || outcome != SW_LP_OPTIMAL || sw_programme_hopeless (lp))
    return status;
  status = offer_rounded (lp, d, SW_WHOLE);
  if (status == SW_OK && !sw_programme_hopeless (lp))
    status = go_down_patterns (lp, d);
  return status;
}

/* Remove all bounds that the dive has set. */
static void
come_up (sw_programme *lp, dive *d)
{
  for (size_t i = 0; i < sw_master_patterns (lp->master); i++)
    sw_master_bound_pattern (lp->master, i, 0, -1);
  if (d->low != NULL)
    memset (d->low, 0, d->capacity * sizeof *d->low);
  d->step = 0;
  sw_master_back_to_basis (lp->master);
  sw_programme_reset_most (lp);
}

sw_status
sw_dive (sw_programme *lp, size_t dives, uint64_t work)
{
  const sw_search *s = lp->search;
  dive d = { .deviate_at = SIZE_MAX };
  d.value = sw_alloc (s->model->need_count, sizeof *d.value);
  sw_status status = d.value != NULL ? sw_master_keep_basis (lp->master) : SW_NO_MEMORY;
  uint64_t began = sw_programme_work (lp);
  for (size_t i = 0; i < dives && status == SW_OK && !sw_search_done (s) && !sw_watch_stop (s->watch); i++)
    {
      status = go_down (lp, &d);
      come_up (lp, &d);
      if (sw_programme_work (lp) - began > work || i >= d.chosen_count)
        break;
      d.deviate_at = i;
    }
  free (d.value);
  free (d.low);
  free (d.chosen);
  return status;
}
