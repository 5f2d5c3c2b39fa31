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

/* A pattern of the master, and what the programme has of it beyond whole boards. */
typedef struct share
{
  size_t pattern;
  double part;
} share;

typedef struct dive
{
  int64_t *low; /* for each pattern of the master: the boards that are fixed */
  share *shares;
  size_t low_capacity, shares_capacity;
  /* the choices of the first dive, and the step at which this dive must choose otherwise */
  size_t *chosen;
  size_t chosen_capacity, chosen_count;
  size_t deviate_at;
  size_t step;
} dive;

/* Does the master's pattern I yield no more than what is still needed? */
static bool
fits (const sw_programme *lp, size_t i)
{
  return sw_pattern_times (&lp->search->pool, sw_master_pattern (lp->master, i), lp->most, 1) > 0;
}

/* COPIES more boards of the master's pattern I are fixed. */
static void
fix (sw_programme *lp, dive *d, size_t i, int64_t copies)
{
  d->low[i] += copies;
  sw_pattern_count (&lp->search->pool, sw_master_pattern (lp->master, i), -copies, lp->most);
}

static int
most_first (const void *a, const void *b)
{
  const share *x = a, *y = b;
  if (x->part != y->part)
    return x->part > y->part ? -1 : 1;
  return x->pattern < y->pattern ? -1 : x->pattern > y->pattern;
}

/* Must this dive not round PATTERN up at the present step? */
static bool
is_barred (const dive *d, size_t pattern)
{
  return d->step == d->deviate_at && d->step < d->chosen_count && d->chosen[d->step] == pattern;
}

/* Fix the whole boards of the programme; round up what is nearly decided, and in any case one part in SW_PART_DECIDED
 * of what is not whole.  *CHOICE: the first pattern that was rounded up without being nearly decided.  False: all are
 * whole. */
static bool
fix_patterns (sw_programme *lp, dive *d, size_t *choice)
{
  const size_t count = sw_master_patterns (lp->master);
  size_t shares = 0;
  double undecided = 0, taken = 0;
  *choice = SIZE_MAX;
  for (size_t i = 0; i < count; i++)
    {
      const double value = sw_master_pattern_value (lp->master, i), whole = floor (value + SW_WHOLE);
      if ((int64_t)whole > d->low[i])
        fix (lp, d, i, (int64_t)whole - d->low[i]);
      if (value - whole < SW_WHOLE)
        continue;
      d->shares[shares++] = (share){ .pattern = i, .part = value - whole };
      undecided += value - whole;
    }
  qsort (d->shares, shares, sizeof *d->shares, most_first);
  for (size_t k = 0;
       k < shares && (taken == 0 || taken < undecided / SW_PART_DECIDED || d->shares[k].part >= SW_DECIDED); k++)
    {
      const size_t i = d->shares[k].pattern;
      if (is_barred (d, i) || !fits (lp, i))
        continue;
      if (*choice == SIZE_MAX && d->shares[k].part < SW_DECIDED)
        *choice = i;
      fix (lp, d, i, 1);
      taken++;
    }
  /* What this dive must not choose was all that there was, so the next step may. */
  if (taken == 0)
    d->step++;
  for (size_t i = 0; i < count; i++)
    sw_master_bound_pattern (lp->master, i, d->low[i], fits (lp, i) ? -1 : d->low[i]);
  return shares > 0;
}

/* Offer the master's values as whole numbers, for which LIFT is added before they are rounded down; the remaining
 * pieces are filled in by simple means. */
static sw_status
offer_rounded (sw_programme *lp, double lift)
{
  sw_solution start;
  sw_status status = sw_solution_init (&start, lp->search->model);
  for (size_t i = 0; i < sw_master_patterns (lp->master) && status == SW_OK; i++)
    {
      const int64_t copies = (int64_t)floor (sw_master_pattern_value (lp->master, i) + lift);
      if (copies > 0)
        status = sw_solution_add (&start, sw_master_pattern (lp->master, i), copies);
    }
  if (status == SW_OK)
    status = sw_fill (lp->search, &start, &lp->now);
  sw_solution_clear (&start);
  return status;
}

static sw_status
make_room (sw_programme *lp, dive *d)
{
  const size_t old = d->low_capacity, count = sw_master_patterns (lp->master);
  sw_status status = sw_grow ((void **)&d->low, &d->low_capacity, count, sizeof *d->low);
  if (status == SW_OK)
    memset (d->low + old, 0, (d->low_capacity - old) * sizeof *d->low);
  return status == SW_OK ? sw_grow ((void **)&d->shares, &d->shares_capacity, count, sizeof *d->shares) : status;
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
      status = make_room (lp, d);
      if (status != SW_OK)
        break;
      if (!fix_patterns (lp, d, &solution))
        return offer_rounded (lp, 0.5);
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
  status = offer_rounded (lp, SW_WHOLE);
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
    memset (d->low, 0, d->low_capacity * sizeof *d->low);
  d->step = 0;
  sw_master_back_to_basis (lp->master);
  sw_programme_reset_most (lp);
}

sw_status
sw_dive (sw_programme *lp, size_t dives, uint64_t work)
{
  const sw_search *s = lp->search;
  dive d = { .deviate_at = SIZE_MAX };
  sw_status status = sw_master_keep_basis (lp->master);
  uint64_t began = sw_programme_work (lp);
  for (size_t i = 0; i < dives && status == SW_OK && !sw_search_done (s) && !sw_watch_stop (s->watch); i++)
    {
      status = go_down (lp, &d);
      come_up (lp, &d);
      if (sw_programme_work (lp) - began > work || i >= d.chosen_count)
        break;
      d.deviate_at = i;
    }
  free (d.low);
  free (d.shares);
  free (d.chosen);
  return status;
}
