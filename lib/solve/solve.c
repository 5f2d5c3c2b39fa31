/* solve.c - all models of a layout, aim after aim
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/solve.h"

#include <stdlib.h>

#include "base/memory.h"
#include "solve/aim.h"
#include "solve/steps.h"

void
sw_solved_clear (sw_solved *solved)
{
  sw_patterns_clear (&solved->pool);
  sw_solution_clear (&solved->solution);
  free (solved->worth);
}

/* Keep what the prices of the best bound say of boards: the bound as if no board cost anything. */
static sw_status
keep_worth (sw_solved *solved, const sw_search *s)
{
  if (!s->root.valid)
    return SW_OK;
  solved->worth = sw_alloc (s->model->stock_count, sizeof *solved->worth);
  if (solved->worth == NULL)
    return SW_NO_MEMORY;
  solved->scale = s->root.scale;
  solved->least = s->root.bound;
  for (size_t i = 0; i < s->model->stock_count; i++)
    {
      solved->worth[i] = s->root.worth[i];
      if (s->model->stocks[i].limit >= 0)
        solved->least += (sw_wide)s->root.stock[i] * s->model->stocks[i].limit;
    }
  return SW_OK;
}

sw_status
sw_solve_begin (sw_model *model, sw_watch *watch)
{
  sw_search search;
  int64_t bound;
  int64_t open = 0;
  sw_status status = sw_search_begin (&search, model, watch, false);
  if (status == SW_OK)
    status = sw_search_floors (&search, model, &open);
  model->aligned_cap = open;
  if (status == SW_OK)
    status = sw_begin (&search, &bound);
  sw_search_end (&search);
  return status;
}

/* Does every board cost one granule, and nothing else cost anything?  Fewest boards are then what costs least. */
static bool
boards_are_cost (const sw_search *s)
{
  for (size_t i = 0; i < s->model->stock_count; i++)
    if (s->model->stocks[i].cost != sw_stock_adds (s->model, i, SW_AIM_BOARDS))
      return false;
  return s->model->strip_count == 0 && !s->hard_way;
}

static sw_status
run_aims (sw_search *s, sw_programme *p, sw_solved *solved)
{
  static const sw_seeking seeking[SW_AIM_COUNT]
      = { [SW_AIM_COST] = SW_SEEKING_COST, [SW_AIM_JOINS] = SW_SEEKING_JOINS, [SW_AIM_BOARDS] = SW_SEEKING_BOARDS };
  sw_watch_seek (s->watch, SW_SEEKING_COST);
  sw_status status = sw_begin (s, &solved->bound[SW_AIM_COST]);
  for (int a = 0; a < SW_AIM_COUNT && status == SW_OK; a++)
    {
      s->goal.aim = (sw_aim)a;
      sw_watch_seek (s->watch, seeking[a]);
      if (a == SW_AIM_JOINS && s->model->strip_count == 0)
        {
          s->goal.caps[a] = 0;
          continue;
        }
      if (a != SW_AIM_BOARDS || !boards_are_cost (s))
        status = sw_run_aim (s, p);
      solved->bound[a] = s->bound;
      if (status == SW_OK && a == SW_AIM_COST)
        status = keep_worth (solved, s);
      if (s->impossible || !s->best.valid || sw_watch_stop (s->watch) || s->watch->cost_only)
        break;
      s->goal.caps[a] = s->best.value[a];
    }
  if (!s->watch->cost_only)
    sw_watch_seek (s->watch, SW_SEEKING_OFFCUTS);
  if (status == SW_OK && s->best.valid && !s->watch->cost_only)
    status = sw_long_offcuts (s);
  /* After a failure in GLPK no more is found, but what was found holds. */
  if (status == SW_FAILED && s->best.valid)
    status = SW_OK;
  /* This is judged at the end, because a later aim may have met a better solution of an earlier one. */
  for (int a = 0; a < SW_AIM_COUNT; a++)
    solved->proved[a] = s->best.valid && s->best.value[a] <= solved->bound[a] && (a == 0 || solved->proved[a - 1]);
  return status;
}

/* Solve the model with at most MORE aligned pairs over those of the known layouts with the fewest.  *LOW: no layout has
 * fewer. */
static sw_status
try_model (sw_solved *solved, sw_model *model, sw_watch *watch, bool hard_way, int64_t more, int64_t *low)
{
  sw_search search;
  int64_t open = 0;
  const sw_stagger stagger = model->layout->job->settings->stagger;
  sw_status status = sw_search_begin (&search, model, watch, hard_way);
  search.brief = watch->brief;
  if (status == SW_OK)
    status = sw_search_floors (&search, model, &open);
  *low = 0;
  for (size_t i = 0; i < model->strip_count; i++)
    *low += model->strips[i].aligned_floor;
  if (status == SW_OK && stagger == SW_STAGGER_REQUIRE && *low > 0)
    solved->impossible = true;
  else if (status == SW_OK)
    {
      model->aligned_cap = stagger == SW_STAGGER_REQUIRE ? 0 : open + more;
      model->priced_pairs = model->priced_pairs || model->aligned_cap > 0;
      sw_programme programme;
      status = sw_programme_init (&programme, &search);
      if (status == SW_OK)
        status = run_aims (&search, &programme, solved);
      sw_programme_clear (&programme);
      solved->impossible = search.impossible;
      solved->solution = search.best;
      solved->pool = search.pool;
      search.best = (sw_solution){ 0 };
      search.pool = (sw_patterns){ 0 };
    }
  sw_search_end (&search);
  return status;
}

sw_status
sw_solve_model (sw_solved *solved, sw_model *model, sw_watch *watch, bool hard_way)
{
  int64_t pairs = 0, low = 0;
  for (size_t i = 0; i < model->strip_count; i++)
    pairs += (int64_t)model->strips[i].bays * model->strips[i].level_count;
  const bool may_align = model->stagger && model->layout->job->settings->stagger == SW_STAGGER_PREFER;
  /* No plan has fewer pairs than BOUND, which rises until a try ends without a verdict. */
  int64_t bound = 0, more = 0;
  for (bool sure = true;;)
    {
      *solved = (sw_solved){ 0 };
      sw_status status = try_model (solved, model, watch, hard_way, more, &low);
      const bool none = !solved->solution.valid && solved->impossible;
      bound = bound > low ? bound : low;
      if (sure && none)
        bound = low + model->aligned_cap + 1;
      sure = sure && none;
      /* A first look for something better than a plan without aligned pairs looks at no more of them. */
      if (status != SW_OK || solved->solution.valid || !may_align || low + model->aligned_cap >= pairs
          || watch->stop != SW_GO_ON || (watch->brief && watch->enough > 0))
        {
          /* Some try before the last had no verdict, so there may be a plan. */
          solved->impossible = none && sure;
          solved->aligned = solved->solution.valid ? sw_solution_aligned (&solved->solution, model) : 0;
          solved->aligned_bound = solved->solution.valid && bound > solved->aligned ? solved->aligned : bound;
          return status;
        }
      more += none ? 1 : more + 1;
      sw_solved_clear (solved);
    }
}
