/* part_search.c - the order of the steps that make plans out of a layout, and of a mixture of layouts
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/part_search.h"

#include <stdlib.h>
#include <string.h>

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
  p->search.beside = s->beside;
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

/* Fill boards with all pieces of part P, by what they are worth at PRICES of the whole. */
static sw_status
fill_part (sw_part_search *p, const sw_prices *prices)
{
  sw_prices *now = &p->search.root;
  sw_solution nothing;
  sw_status status = sw_solution_init (&nothing, &p->region.model);
  now->scale = prices->scale;
  for (size_t n = 0; n < p->region.model.need_count; n++)
    now->need[n] = prices->need[p->region.need_of[n]];
  memcpy (now->stock, prices->stock, p->region.model.stock_count * sizeof *now->stock);
  memcpy (now->cap, prices->cap, sizeof now->cap);
  if (status == SW_OK)
    status = sw_fill (&p->search, &nothing, now);
  sw_solution_clear (&nothing);
  return status;
}

sw_status
sw_cut (sw_search *s, sw_solution *plan)
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
  const bool whole = status == SW_OK && (p.search.best.valid || p.region.model.need_count == 0);
  if (whole)
    status = sw_region_whole (&p.region, &p.search.best, &p.search.pool, &s->pool, plan);
  sw_part_end (&p, s);
  return status == SW_OK && whole ? sw_search_offer (s, plan) : status;
}

/* ---- Plans out of the mixture ------------------------------------------------------------------ */

sw_status
sw_round (sw_search *s, const sw_programme *p, bool with_care)
{
  double *shares;
  sw_solution plan;
  sw_status status = sw_solution_init (&plan, s->model);
  sw_status mixed = sw_mixture (p, &shares);
  status = status == SW_OK ? mixed : status;
  if (status == SW_OK)
    status = sw_round_layout (s, shares, plan.used);
  if (status == SW_OK && s->watch->stop == SW_GO_ON)
    status = with_care ? sw_cut (s, &plan) : sw_fill (s, &plan, &s->root);
  sw_solution_clear (&plan);
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
