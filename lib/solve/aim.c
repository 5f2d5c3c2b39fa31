/* aim.c - the order of the steps that bring one aim down as far as possible
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/aim.h"

#include <stdlib.h>

#include "base/memory.h"
#include "solve/part_search.h"
#include "solve/steps.h"
#include "model/tuning.h"

static bool
go_on (const sw_search *s)
{
  return (!sw_search_done (s) || (s->hard_way && !s->impossible)) && s->watch->stop == SW_GO_ON;
}

static sw_status begin_aim (sw_search *s, sw_programme *p, bool *open);

/* ---- Some strips and boards anew ----------------------------------------------------------------- */

/* Solve the MARKED strips of the best plan, and the boards that do not stay, anew; offer the result where it is
 * better. */
static sw_status
solve_region (sw_search *s, const uint8_t *marked, const int64_t *stays)
{
  sw_part_search p;
  bool open;
  sw_solution all;
  sw_status status = sw_part_begin (&p, s, &s->best, stays, marked);
  sw_status begun = sw_solution_init (&all, s->model);
  p.search.brief = true;
  p.search.goal.aim = s->goal.aim;
  if (status == SW_OK)
    sw_solution_check (&p.region.kept, s->model, &s->pool);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    p.search.goal.caps[a] = s->goal.caps[a] < 0 ? -1 : s->goal.caps[a] - p.region.kept.value[a];
  if (status == SW_OK)
    status = begun;
  if (status == SW_OK)
    status = sw_search_offer (&p.search, &p.region.start);
  const int64_t before = status == SW_OK ? sw_search_best (&p.search) : 0;
  if (status == SW_OK)
    status = begin_aim (&p.search, &p.programme, &open);
  if (status == SW_OK && sw_search_best (&p.search) < before)
    {
      status = sw_region_whole (&p.region, &p.search.best, &p.search.pool, &s->pool, &all);
      if (status == SW_OK)
        status = sw_search_offer (s, &all);
    }
  sw_solution_clear (&all);
  sw_part_end (&p, s);
  return status;
}

/* Choose strips with so many OPTIONS by chance, and boards that go with them, and solve them anew. */
static sw_status
draw_region (sw_search *s, size_t options, uint64_t *chance)
{
  const sw_wide gap = (sw_wide)sw_search_best (s) * s->root.scale - s->root.bound;
  const sw_wide spare = gap / (sw_wide)(s->best.value[SW_AIM_BOARDS] + 1);
  uint8_t *marked = sw_alloc (s->model->strip_count, 1);
  int64_t *stays = sw_alloc (s->best.count, sizeof *stays);
  sw_status status = marked && stays ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    {
      sw_free_strips (s->model, options, chance, marked);
      status = sw_free_boards_of (s, marked, spare, chance, stays);
    }
  if (status == SW_OK)
    status = solve_region (s, marked, stays);
  free (marked);
  free (stays);
  return status;
}

/* Solve some strips and boards anew to the end while the rest stays as it is, then others.  Where that was in vain,
 * take more of them together; the aims after the cost, which only break ties, get one try of each size. */
static sw_status
solve_regions (sw_search *s)
{
  const sw_model *model = s->model;
  const int tries = s->goal.aim == SW_AIM_COST ? SW_VAIN_REGIONS : 1;
  uint64_t chance = SW_CHANCE_SEED;
  sw_status status = SW_OK;
  if (s->hard_way || s->brief || s->goal.aim == SW_AIM_BOARDS || model->strip_count < 2 || model->aligned_cap > 0
      || !s->best.valid || !s->root.valid)
    return SW_OK;
  for (size_t options = SW_FIRST_OPTIONS; options <= SW_MOST_OPTIONS && 2 * options <= model->option_count;
       options *= 2)
    for (int vain = 0; vain < tries && status == SW_OK && go_on (s);)
      {
        const int64_t before = sw_search_best (s);
        status = draw_region (s, options, &chance);
        vain = sw_search_best (s) < before ? 0 : vain + 1;
      }
  return status;
}

/* ---- Bound and plans of one aim ---------------------------------------------------------------- */

/* Add columns to the programme of whole layouts until bound and programme are as near to each other as NEAR, and make a
 * plan now and then on the way. */
static sw_status
run_layouts (sw_search *s, sw_programme *p, size_t breakpoints, double near, sw_lp *outcome)
{
  bool done = false;
  sw_status status = sw_programme_begin (p, breakpoints);
  for (int rounds = SW_FIRST_PLAN; status == SW_OK && !done; rounds *= 2)
    {
      status = sw_programme_columns (p, rounds, true, near, outcome, &done);
      if (status != SW_OK || *outcome != SW_LP_OPTIMAL || done)
        break;
      if (s->goal.aim == SW_AIM_COST && s->best.valid)
        status = sw_round (s, p, false);
      done = sw_watch_stop (s->watch) || rounds > SW_MOST_ROUNDS;
    }
  return status;
}

/* For a model with layouts to choose: solve the programme, make plans out of its mixture, and list what could be
 * better: at once where that is a short list, else after parts of the best plan were solved anew. */
static sw_status
begin_layouts (sw_search *s, sw_programme *p)
{
  sw_lp outcome = SW_LP_OPTIMAL;
  sw_status status = SW_OK;
  if (s->model->need_count > SW_MANY_NEEDS)
    {
      status = run_layouts (s, p, SW_FEW_ROWS, SW_NEAR_FIRST, &outcome);
      if (status == SW_OK && go_on (s) && outcome == SW_LP_OPTIMAL && s->goal.aim == SW_AIM_COST)
        status = sw_round (s, p, false);
    }
  if (status == SW_OK && go_on (s) && outcome == SW_LP_OPTIMAL)
    status = run_layouts (s, p, SW_ROWS, SW_WHOLE, &outcome);
  const bool ready = status == SW_OK && outcome == SW_LP_OPTIMAL && s->root.valid && go_on (s);
  if (ready && s->watch->brief && s->goal.aim == SW_AIM_COST)
    status = sw_round (s, p, true);
  else if (ready && !s->brief && s->goal.aim != SW_AIM_BOARDS)
    status = sw_descend_and_cut (s, p);
  sw_programme_end (p);
  /* A first look at many options ends here where there is a plan, here or of another job. */
  if (s->watch->brief && (s->best.valid || s->watch->enough > 0) && s->model->option_count >= SW_FEW_OPTIONS)
    return status;
  if (status == SW_OK && go_on (s))
    status = sw_close (s, SW_SHORT_LIST);
  if (status == SW_OK && go_on (s))
    status = solve_regions (s);
  return status == SW_OK && go_on (s) && !s->brief ? sw_close (s, SW_PATTERNS) : status;
}

/* For a model with only boards to choose: solve the programme, fix what it nearly decides, then branch and price. Where
 * boards must be quite full, branch and price comes before the programme is solved, because its own is then far easier.
 * *OPEN: the programme is solved, and there may be more to find. */
static sw_status
begin_boards (sw_search *s, sw_programme *p, bool *open)
{
  sw_lp outcome;
  bool done;
  sw_status status = sw_programme_begin (p, SIZE_MAX);
  if (status == SW_OK)
    status = sw_programme_columns (p, SW_FEW_ROUNDS, true, SW_BOUND_ONLY, &outcome, &done);
  const uint64_t work = s->hard_way ? SW_FIRST_BRANCHING / SW_TIE_PART : SW_FIRST_BRANCHING;
  const uint64_t needs = s->model->need_count;
  if (status == SW_OK && go_on (s) && outcome == SW_LP_OPTIMAL && !done && sw_is_tight (s))
    status = sw_branch (p, SW_TIGHT_ITERATIONS * needs * needs);
  if (status == SW_OK && go_on (s) && outcome == SW_LP_OPTIMAL && !done)
    status = sw_programme_columns (p, SW_ALL_ROUNDS, true, SW_BOUND_ONLY, &outcome, &done);
  *open = status == SW_OK && go_on (s) && outcome == SW_LP_OPTIMAL;
  if (!*open)
    return status;
  status = sw_dive (p, SW_DIVES, SW_DIVES_WORK);
  if (status == SW_OK && go_on (s))
    status = sw_programme_columns (p, SW_ALL_ROUNDS, true, SW_THOROUGH, &outcome, &done);
  if (status == SW_OK && go_on (s))
    status = sw_branch (p, work);
  return status;
}

/* Find the bound of the aim and the plans that come quickly. */
static sw_status
begin_aim (sw_search *s, sw_programme *p, bool *open)
{
  *open = false;
  s->bound = 0;
  s->root.valid = false;
  sw_status status = sw_bound_by_metres (s, false, &s->bound);
  if (status != SW_OK)
    return status;
  sw_search_show (s);
  /* The time is up already, so the plan that there is will have to do. */
  if (s->best.valid && sw_watch_stop (s->watch))
    return SW_OK;
  return s->model->strip_count > 0 ? begin_layouts (s, p) : begin_boards (s, p, open);
}

/* ---- One aim ----------------------------------------------------------------------------------------- */

sw_status
sw_begin (sw_search *s, int64_t *bound)
{
  *bound = 0;
  sw_status status = sw_first_plan (s);
  if (status == SW_OK)
    status = sw_bound_by_metres (s, true, bound);
  if (status == SW_OK && *bound <= INT64_MAX / s->model->granule)
    sw_watch_note (s->watch, *bound * s->model->granule, false, 0);
  return status;
}

sw_status
sw_run_aim (sw_search *s, sw_programme *p)
{
  bool open;
  sw_status status = begin_aim (s, p, &open);
  if (status == SW_OK && open && go_on (s))
    status = sw_close (s, SW_PATTERNS);
  if (status == SW_OK && open && go_on (s) && !s->hard_way)
    status = sw_branch (p, SW_LAST_BRANCHING);
  return status;
}
