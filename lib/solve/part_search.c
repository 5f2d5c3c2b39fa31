/* part_search.c - the order of the steps that make plans out of a layout, and of a mixture of layouts
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/part_search.h"

#include <stdlib.h>

#include "base/memory.h"
#include "solve/fill.h"
#include "solve/steps.h"
#include "model/tuning.h"

/* ---- A part of a plan as a search of its own ---------------------------------------------- */

sw_status
sw_part_begin (sw_part_search *p, const sw_search *s, const sw_solution *plan, const int64_t *stays,
               const uint8_t *free_strip)
{
  *p = (sw_part_search){ .watch = *s->watch };
  p->watch.parts = NULL;
  sw_status status = sw_region_new (&p->region, s->model, &s->pool, plan, stays, free_strip, free_strip == NULL);
  if (status == SW_OK)
    status = sw_search_begin (&p->search, &p->region.model, &p->watch, false);
  if (status != SW_OK)
    return status;
  p->search.pool = p->region.pool;
  p->region.pool = (sw_patterns){ 0 };
  return sw_programme_init (&p->programme, &p->search);
}

void
sw_part_end (sw_part_search *p, sw_search *s)
{
  if (p->watch.stop != SW_GO_ON)
    s->watch->stop = p->watch.stop;
  if (p->programme.search != NULL)
    sw_programme_clear (&p->programme);
  sw_search_end (&p->search);
  sw_region_clear (&p->region);
}

/* ---- Boards for a layout -------------------------------------------------------------------- */

/* Decide most of the boards of PLAN, which has only a layout. */
static sw_status
cut_most (sw_search *s, sw_solution *plan)
{
  sw_part_search p;
  sw_solution decided;
  sw_status status = sw_part_begin (&p, s, plan, NULL, NULL);
  sw_status begun = sw_solution_init (&decided, &p.region.model);
  if (status == SW_OK)
    status = begun;
  if (status == SW_OK && p.region.model.need_count > 0)
    {
      status = sw_programme_begin (&p.programme, SIZE_MAX);
      if (status == SW_OK)
        status = sw_cut_most (&p.programme, &decided);
      if (status == SW_OK)
        status = sw_region_whole (&p.region, &decided, &p.search.pool, &s->pool, plan);
    }
  sw_solution_clear (&decided);
  sw_part_end (&p, s);
  return status;
}

/* Fill boards with all pieces of part P, by what they are worth at PRICES of the whole. */
static sw_status
fill_part (sw_part_search *p, const sw_prices *prices)
{
  sw_solution nothing;
  int64_t *value = sw_alloc (p->region.model.need_count, sizeof *value);
  sw_status status = sw_solution_init (&nothing, &p->region.model);
  if (value == NULL)
    status = SW_NO_MEMORY;
  for (size_t n = 0; n < p->region.model.need_count && status == SW_OK; n++)
    value[n] = prices->need[p->region.need_of[n]] + prices->scale / 1000 + 1;
  if (status == SW_OK)
    status = sw_fill (&p->search, &nothing, value);
  sw_solution_clear (&nothing);
  free (value);
  return status;
}

/* Search for the boards that PLAN lacks, to the end or nearly so.  *WHOLE: all pieces have boards then. */
static sw_status
cut_rest (sw_search *s, sw_solution *plan, bool *whole)
{
  sw_part_search p;
  sw_lp outcome = SW_LP_STOPPED;
  bool done;
  sw_status status = sw_part_begin (&p, s, plan, NULL, NULL);
  if (status == SW_OK && p.region.model.need_count > 0)
    {
      status = fill_part (&p, &s->root);
      if (status == SW_OK)
        status = sw_programme_begin (&p.programme, SIZE_MAX);
      if (status == SW_OK)
        status = sw_programme_columns (&p.programme, SW_ALL_ROUNDS, true, SW_BOUND_ONLY, &outcome, &done);
      if (status == SW_OK && outcome == SW_LP_OPTIMAL && !sw_search_done (&p.search))
        status = sw_dive (&p.programme, SW_DIVES, SW_DIVES_WORK);
    }
  *whole = status == SW_OK && (p.search.best.valid || p.region.model.need_count == 0);
  if (*whole)
    status = sw_region_whole (&p.region, &p.search.best, &p.search.pool, &s->pool, plan);
  sw_part_end (&p, s);
  return status;
}

sw_status
sw_cut (sw_search *s, sw_solution *plan)
{
  bool whole = false;
  sw_status status = cut_most (s, plan);
  /* When the time is up and there is a plan, this one, hardly begun, would be no better, and to fill it would take
   * long. */
  if (status == SW_OK && !(s->best.valid && sw_watch_stop (s->watch)))
    status = cut_rest (s, plan, &whole);
  return status == SW_OK && whole ? sw_search_offer (s, plan) : status;
}

/* ---- Plans out of the mixture ------------------------------------------------------------------ */

sw_status
sw_round_quickly (sw_search *s, const sw_programme *p)
{
  double *shares;
  sw_solution layout;
  int64_t *value = sw_alloc (s->model->need_count, sizeof *value);
  sw_status status = sw_solution_init (&layout, s->model);
  sw_status mixed = sw_mixture (p, &shares);
  if (status == SW_OK)
    status = value == NULL ? SW_NO_MEMORY : mixed;
  if (status == SW_OK)
    status = sw_round_layout (s, shares, layout.used);
  if (status == SW_OK && s->watch->stop == SW_GO_ON)
    {
      sw_value_pieces (&s->root, value);
      status = sw_fill_long (s, &layout, value, &s->root);
    }
  sw_solution_clear (&layout);
  free (value);
  free (shares);
  return status;
}

/* Find boards for the layout of SHARES in a PART of the strips, which CHANCE draws; the others stay as in the best
 * plan. */
static sw_status
round_part (sw_search *s, const double *shares, double part, uint64_t *chance)
{
  sw_solution plan;
  sw_status status = sw_solution_init (&plan, s->model);
  if (status == SW_OK)
    status = sw_round_layout (s, shares, plan.used);
  if (status == SW_OK && s->best.valid)
    sw_round_keep (s, part, chance, plan.used);
  if (status == SW_OK && s->watch->stop == SW_GO_ON)
    status = sw_cut (s, &plan);
  sw_solution_clear (&plan);
  return status;
}

sw_status
sw_round_once (sw_search *s, const sw_programme *p)
{
  double *shares;
  uint64_t chance = SW_CHANCE_SEED;
  sw_status status = sw_mixture (p, &shares);
  if (status == SW_OK)
    status = round_part (s, shares, 1, &chance);
  free (shares);
  return status;
}

/* Look for fewer joins at no more cost: take the mixture's layout in as large a part of the strips as can be cut at
 * that cost. */
sw_status
sw_round_joins (sw_search *s, const sw_programme *p)
{
  double *shares;
  sw_status status = sw_mixture (p, &shares);
  uint64_t chance = SW_CHANCE_SEED;
  double low = 0, high = 2;
  for (int i = 0; i < SW_ROUNDINGS && status == SW_OK && !sw_search_done (s) && !sw_watch_stop (s->watch); i++)
    {
      const int64_t before = sw_search_best (s);
      const double part = (low + high) / 2;
      status = round_part (s, shares, part, &chance);
      if (sw_search_best (s) < before)
        low = part;
      else
        high = part;
    }
  free (shares);
  return status;
}

sw_status
sw_descend_and_cut (sw_search *s, sw_programme *p)
{
  static const double enough[] = SW_ENOUGH;
  sw_status status = SW_OK;
  for (size_t i = 0; i < sizeof enough / sizeof *enough && status == SW_OK && !sw_search_done (s); i++)
    {
      sw_solution plan;
      sw_lp outcome = SW_LP_OPTIMAL;
      bool whole = false;
      status = sw_solution_init (&plan, s->model);
      if (status == SW_OK && i > 0)
        status = sw_master_lp (p->master, s->watch, &outcome);
      if (status == SW_OK && outcome == SW_LP_OPTIMAL)
        status = sw_descend (p, enough[i], plan.used, &whole);
      if (status == SW_OK && whole)
        status = sw_cut (s, &plan);
      sw_solution_clear (&plan);
    }
  return status;
}
