/* dive.c - boards alone: fix what the linear programme nearly decides, and solve on
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/search.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* Nearer to one than this is taken as decided. */
#define DECIDED 0.9
#define WHOLE 1e-6
/* Rounds of columns before the first step. */
#define ROUNDS 3

typedef struct dive
{
  int64_t *low;   /* a pattern of the master each */
  size_t capacity;
  /* the choices of the first dive, and which of them this one must not make */
  size_t *chosen;
  size_t chosen_capacity, chosen_count;
  size_t deviate_at;
  size_t step;
  uint64_t noise; /* 0: none; else the state that shakes the order of choices */
} dive;

/* How far noise may lift a value. */
#define NOISE 0.3
/* Dives that deviate at one step each; those after them shake. */
#define STRAIGHT_DIVES 8

/* A value for the choice of what to round up. */
static double
shaken (dive *d, double value)
{
  if (d->noise == 0)
    return value;
  return value + NOISE * sw_search_chance (&d->noise);
}

/* The master's value shows that nothing better can come of this dive. */
static bool
hopeless (const sw_search *s)
{
  return s->best.valid && ceil (sw_master_value (s->master) - 1e-6) >= (double)sw_search_best (s);
}

/* What is still needed once the fixed boards are cut; patterns that would make more of a piece are shut. */
static void
shut_patterns (sw_search *s, const dive *d)
{
  size_t count = sw_master_patterns (s->master);
  for (size_t n = 0; n < s->model->need_count; n++)
    s->most[n] = s->model->needs[n].demand;
  for (size_t i = 0; i < count; i++)
    {
      const sw_pattern *p = &s->pool.items[sw_master_pattern (s->master, i)];
      for (uint32_t c = 0; d->low[i] > 0 && c < p->count; c++)
        s->most[s->pool.entries[p->first + c].need] -= d->low[i] * s->pool.entries[p->first + c].copies;
    }
  for (size_t n = 0; n < s->model->need_count; n++)
    if (s->most[n] < 0)
      s->most[n] = 0;
  for (size_t i = 0; i < count; i++)
    {
      const sw_pattern *p = &s->pool.items[sw_master_pattern (s->master, i)];
      bool shut = false;
      for (uint32_t c = 0; c < p->count && !shut; c++)
        shut = s->pool.entries[p->first + c].copies > s->most[s->pool.entries[p->first + c].need];
      sw_master_bound_pattern (s->master, i, d->low[i], shut ? d->low[i] : -1);
    }
}

/* This dive must not round PATTERN up at the present step. */
static bool
is_barred (const dive *d, size_t pattern)
{
  return d->step == d->deviate_at && d->step < d->chosen_count && d->chosen[d->step] == pattern;
}

/* Keep whole parts of patterns as lower bounds and round up what is nearly
 * decided, else the nearest.  False: all are whole. */
static bool
fix_patterns (sw_search *s, dive *d, size_t *solution)
{
  double best = 0;
  bool any = false, fractional = false;
  size_t count = sw_master_patterns (s->master);
  *solution = SIZE_MAX;
  for (size_t i = 0; i < count; i++)
    {
      double v = sw_master_pattern_value (s->master, i), whole = floor (v + WHOLE), part = v - whole;
      int64_t keep = (int64_t)whole;
      if (part > WHOLE)
        fractional = true;
      if (part >= DECIDED && !is_barred (d, i))
        {
          keep++;
          any = true;
        }
      if (keep > d->low[i])
        d->low[i] = keep;
      if (part < WHOLE || part >= DECIDED || is_barred (d, i))
        continue;
      double worth = shaken (d, part);
      if (worth > best)
        {
          best = worth;
          *solution = i;
        }
    }
  if (!fractional)
    return false;
  if (!any && *solution != SIZE_MAX)
    d->low[*solution]++;
  else
    *solution = SIZE_MAX;
  shut_patterns (s, d);
  return true;
}

/* The master's values in whole numbers: boards rounded down once LIFT is added. */
static sw_status
read_master (sw_search *s, double lift, sw_solution *solution)
{
  sw_status status = sw_solution_init (solution, s->model);
  for (size_t i = 0; i < sw_master_patterns (s->master) && status == SW_OK; i++)
    {
      int64_t copies = (int64_t)floor (sw_master_pattern_value (s->master, i) + lift);
      if (copies > 0)
        status = sw_solution_add (solution, sw_master_pattern (s->master, i), copies);
    }
  return status;
}

static sw_status
offer_master (sw_search *s)
{
  sw_solution solution;
  sw_status status = read_master (s, 0.5, &solution);
  if (status == SW_OK)
    status = sw_search_offer (s, &solution);
  sw_solution_clear (&solution);
  return status;
}

/* Round the patterns down and fill up the rest by simple means. */
static sw_status
offer_rounded (sw_search *s)
{
  sw_solution start;
  sw_status status = read_master (s, WHOLE, &start);
  sw_search_value_pieces (s, &s->now);
  if (status == SW_OK)
    status = sw_search_fill (s, &start);
  sw_solution_clear (&start);
  return status;
}

static sw_status
grow_low (sw_search *s, dive *d)
{
  size_t old = d->capacity;
  sw_status status = sw_grow ((void **)&d->low, &d->capacity, sw_master_patterns (s->master), sizeof *d->low);
  if (status == SW_OK)
    memset (d->low + old, 0, (d->capacity - old) * sizeof *d->low);
  return status;
}

/* The first dive writes its choices down. */
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

/* Patterns one after another. */
static sw_status
go_down_patterns (sw_search *s, dive *d)
{
  sw_lp outcome = SW_LP_OPTIMAL;
  sw_status status = SW_OK;
  bool done;
  while (status == SW_OK && outcome == SW_LP_OPTIMAL && !hopeless (s))
    {
      size_t solution;
      status = grow_low (s, d);
      if (status != SW_OK)
        break;
      if (!fix_patterns (s, d, &solution))
        return offer_master (s);
      status = note_choice (d, solution);
      if (status == SW_OK)
        status = sw_search_columns (s, SW_ALL_ROUNDS, false, SW_THOROUGH, &outcome, &done);
    }
  return status;
}

static sw_status
go_down (sw_search *s, dive *d)
{
  sw_lp outcome = SW_LP_OPTIMAL;
  bool done;
  sw_status status = sw_search_columns (s, ROUNDS, false, SW_THOROUGH, &outcome, &done);
  if (status != SW_OK || outcome != SW_LP_OPTIMAL || hopeless (s))
    return status;
  status = offer_rounded (s);
  if (status == SW_OK && !hopeless (s))
    status = go_down_patterns (s, d);
  return status;
}

/* Take all bounds of the dive back. */
static void
come_up (sw_search *s, dive *d)
{
  for (size_t i = 0; i < sw_master_patterns (s->master); i++)
    sw_master_bound_pattern (s->master, i, 0, -1);
  if (d->low != NULL)
    memset (d->low, 0, d->capacity * sizeof *d->low);
  d->step = 0;
  sw_master_back_to_basis (s->master);
  sw_search_reset_most (s);
}

sw_status
sw_search_dive (sw_search *s, size_t dives, uint64_t work)
{
  dive d = { .deviate_at = SIZE_MAX };
  sw_status status = sw_master_keep_basis (s->master);
  uint64_t began = sw_search_work (s);
  for (size_t i = 0; i < dives && status == SW_OK && !sw_search_done (s) && !sw_watch_stop (s->watch); i++)
    {
      status = go_down (s, &d);
      come_up (s, &d);
      if (sw_search_work (s) - began > work)
        break;
      d.deviate_at = i < STRAIGHT_DIVES && i < d.chosen_count ? i : SIZE_MAX - 1;
      d.noise = d.deviate_at == SIZE_MAX - 1 ? SW_CHANCE_SEED + i : 0;
    }
  free (d.low);
  free (d.chosen);
  return status;
}
