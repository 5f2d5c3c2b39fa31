/* solve.c - all models of a layout, aim after aim
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/solve.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "solve/region.h"

/* Work of the dives of one aim, iterations times rows: first a few, then many. */
#define FEW_DIVES 4
#define FEW_DIVES_WORK 2000000
#define MANY_DIVES 100
#define MANY_DIVES_WORK 30000000
/* Rows of the programme over whole layouts at most; where there are more needs than FEW, a first look with so many. */
#define BREAKPOINTS 6000
#define FEW_MARKS 400
#define FEW_NEEDS 1500
#define FEW_OPTIONS 200
/* Programme and bound are brought so near to each other at a first look, and in the end. */
#define NEAR_FIRST 5e-4
#define NEAR 1e-6
/* A plan is made in between after so many rounds, and whenever there were twice as many more; no more rounds than that. */
#define FIRST_PLAN 10
#define MOST_ROUNDS 300
/* Patterns enumerated at most, between and after the dives. */
#define FEW_PATTERNS 6000
#define MANY_PATTERNS 60000
/* Possible pieces of the strips that are solved anew together, how often in vain, and how often in all. */
#define REGION_OPTIONS 700
#define VAIN_REGIONS 6
#define MOST_REGIONS 200
/* Nodes and work of branch and price: a first try, then all that it takes; few where there is nothing to find.
   Triplets take a hundred nodes, within that work; a programme over all their boards takes ten times as long. */
#define FEW_NODES 1000
#define FEW_NODES_WORK 20000000
#define HARD_NODES 200
#define MANY_NODES 100000

void
sw_solved_clear (sw_solved *solved)
{
  sw_patterns_clear (&solved->pool);
  sw_solution_clear (&solved->solution);
}

static bool
go_on (const sw_search *s)
{
  return (!sw_search_done (s) || (s->hard_way && !s->impossible)) && s->watch->stop == SW_GO_ON;
}

static size_t
few_patterns (const sw_search *s)
{
  return s->aim == SW_AIM_COST ? FEW_PATTERNS : FEW_PATTERNS / 2;
}

/* Columns of the programme of whole layouts until bound and programme are as
 * NEAR as that, with a plan now and then on the way. */
static sw_status
run_layouts (sw_search *s, size_t breakpoints, double near, sw_lp *outcome)
{
  bool done = false;
  sw_status status = sw_search_begin_master (s, breakpoints);
  for (int rounds = FIRST_PLAN; status == SW_OK && !done; rounds *= 2)
    {
      status = sw_search_columns (s, rounds, true, near, outcome, &done);
      if (status != SW_OK || *outcome != SW_LP_OPTIMAL || done)
        break;
      if (s->aim == SW_AIM_COST && s->best.valid)
        status = sw_search_round_quickly (s);
      done = sw_watch_stop (s->watch) || rounds > MOST_ROUNDS;
    }
  return status;
}

/* Layouts are to be chosen: the programme, plans out of its mixture, then what could be better is listed. */
static sw_status
begin_layouts (sw_search *s)
{
  sw_lp outcome = SW_LP_OPTIMAL;
  sw_status status = SW_OK;
  if (s->model->need_count > FEW_NEEDS)
    status = run_layouts (s, FEW_MARKS, NEAR_FIRST, &outcome);
  if (status == SW_OK && go_on (s) && outcome == SW_LP_OPTIMAL)
    status = run_layouts (s, BREAKPOINTS, NEAR, &outcome);
  /* Few pieces: what could be better is listed and searched sooner than plans are made out of the mixture. */
  if (status == SW_OK && go_on (s) && s->model->option_count < FEW_OPTIONS)
    status = sw_search_close (s, few_patterns (s));
  if (status == SW_OK && outcome == SW_LP_OPTIMAL && s->root.valid && s->aim != SW_AIM_BOARDS && go_on (s))
    status = sw_search_round (s);
  sw_search_end_master (s);
  if (status == SW_OK && go_on (s))
    status = sw_search_close (s, few_patterns (s));
  return status;
}

/* There are only boards to choose: the programme, what it nearly decides, then branch and price. */
static sw_status
begin_boards (sw_search *s)
{
  sw_lp outcome;
  bool done;
  sw_status status = sw_search_begin_master (s, SIZE_MAX);
  if (status == SW_OK)
    status = sw_search_columns (s, SW_ALL_ROUNDS, true, SW_BOUND_ONLY, &outcome, &done);
  s->open = status == SW_OK && go_on (s) && outcome == SW_LP_OPTIMAL;
  if (!s->open)
    return status;
  status = sw_search_dive (s, FEW_DIVES, FEW_DIVES_WORK);
  if (status == SW_OK && go_on (s))
    status = sw_search_columns (s, SW_ALL_ROUNDS, true, SW_THOROUGH, &outcome, &done);
  if (status == SW_OK && go_on (s))
    status = sw_search_branch (s, s->hard_way ? HARD_NODES : FEW_NODES, FEW_NODES_WORK);
  return status;
}

/* The bound of the aim and what comes quickly to it. */
static sw_status
begin_aim (sw_search *s)
{
  s->bound = 0;
  s->root.valid = false;
  s->open = false;
  sw_status status = sw_search_material (s, false, &s->bound);
  if (status != SW_OK)
    return status;
  sw_search_show (s);
  /* Where the time is up already, the plan that there is will have to do. */
  if (s->best.valid && sw_watch_stop (s->watch))
    return SW_OK;
  return s->model->strip_count > 0 ? begin_layouts (s) : begin_boards (s);
}

/* Solve REGION for the aim of S, and offer what is better than before. */
static sw_status
solve_region (sw_search *s, sw_region *region)
{
  sw_search part;
  /* Its bounds and plans are none of the whole. */
  sw_watch watch = *s->watch;
  watch.parts = NULL;
  sw_status status = sw_search_begin (&part, &region->model, &watch, false);
  part.aim = s->aim;
  part.beside = sw_search_beside (s);
  part.brief = true;
  part.pool = region->pool;
  region->pool = (sw_patterns){ 0 };
  sw_solution_check (&region->kept, s->model, &s->pool);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    part.caps[a] = s->caps[a] < 0 ? -1 : s->caps[a] - region->kept.value[a];
  if (status == SW_OK)
    status = sw_search_offer (&part, &region->start);
  int64_t before = sw_search_best (&part);
  if (status == SW_OK)
    status = begin_aim (&part);
  s->watch->stop = watch.stop;
  if (status == SW_OK && sw_search_best (&part) < before)
    status = sw_region_offer (region, s, &part.best, &part.pool);
  sw_search_end (&part);
  return status;
}

/* Mark strips by chance until they have so many OPTIONS, not all of them. */
static void
mark_strips (const sw_search *s, size_t options, uint64_t *chance, uint8_t *marked)
{
  size_t strips = s->model->strip_count, have = 0;
  memset (marked, 0, strips);
  for (size_t count = 0; have < options && count + 1 < strips; count++)
    {
      size_t at = (size_t)(sw_search_chance (chance) * (double)strips) % strips;
      while (marked[at])
        at = (at + 1) % strips;
      marked[at] = 1;
      for (uint32_t r = 0; r < s->model->strips[at].level_count; r++)
        have += s->model->strips[at].levels[r].option_count;
    }
}

/* Solve some strips and boards anew to the end, then others, the rest staying as it is. */
static sw_status
solve_regions (sw_search *s)
{
  const sw_model *model = s->model;
  if (s->hard_way || model->option_count < 2 * REGION_OPTIONS || model->strip_count < 2 || model->aligned_cap > 0
      || !s->best.valid || !s->root.valid)
    return SW_OK;
  uint64_t chance = SW_CHANCE_SEED;
  uint8_t *marked = sw_alloc (model->strip_count, 1);
  sw_status status = marked != NULL ? SW_OK : SW_NO_MEMORY;
  int vain = 0;
  for (int i = 0;
       i < MOST_REGIONS && status == SW_OK && vain < VAIN_REGIONS && !sw_search_done (s) && !sw_watch_stop (s->watch);
       i++)
    {
      sw_region region;
      int64_t before = sw_search_best (s);
      sw_wide gap = (sw_wide)before * s->root.scale - s->root.bound;
      mark_strips (s, REGION_OPTIONS, &chance, marked);
      status = sw_region_new (&region, s, marked, 2 * gap / (sw_wide)(s->best.value[SW_AIM_BOARDS] + 1), &chance);
      if (status != SW_OK)
        break;
      status = solve_region (s, &region);
      sw_region_clear (&region);
      vain = sw_search_best (s) < before ? 0 : vain + 1;
    }
  free (marked);
  return status;
}

/* Bring one aim as low as can be. */
static sw_status
run_aim (sw_search *s)
{
  sw_status status = begin_aim (s);
  const bool cost = s->aim == SW_AIM_COST;
  if (status == SW_OK && go_on (s) && cost)
    status = solve_regions (s);
  if (s->model->strip_count > 0)
    return status == SW_OK && go_on (s) ? sw_search_close (s, MANY_PATTERNS) : status;
  if (status != SW_OK || !s->open)
    return status;
  if (go_on (s))
    status = sw_search_close (s, few_patterns (s));
  if (status == SW_OK && go_on (s))
    status = sw_search_dive (s, MANY_DIVES, cost ? MANY_DIVES_WORK : FEW_DIVES_WORK);
  if (status == SW_OK && go_on (s) && !s->hard_way)
    status = sw_search_branch (s, MANY_NODES, UINT64_MAX);
  if (status == SW_OK && go_on (s) && cost)
    status = sw_search_close (s, MANY_PATTERNS);
  return status;
}

/* The first plan, and what it costs at least, whatever becomes of the limit on aligned pairs. */
static sw_status
begin (sw_search *s, int64_t *bound)
{
  *bound = 0;
  sw_status status = sw_search_first (s, NULL);
  if (status == SW_OK)
    status = sw_search_material (s, true, bound);
  if (status == SW_OK && *bound <= INT64_MAX / s->model->granule)
    sw_watch_note (s->watch, *bound * s->model->granule, false, 0);
  return status;
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
    status = begin (&search, &bound);
  sw_search_end (&search);
  return status;
}

static sw_status
run_aims (sw_search *s, sw_solved *solved)
{
  static const sw_seeking seeking[SW_AIM_COUNT] = { [SW_AIM_COST] = SW_SEEKING_COST,
                                                    [SW_AIM_JOINS] = SW_SEEKING_JOINS,
                                                    [SW_AIM_BOARDS] = SW_SEEKING_BOARDS };
  sw_watch_seek (s->watch, SW_SEEKING_COST);
  sw_status status = begin (s, &solved->bound[SW_AIM_COST]);
  for (int a = 0; a < SW_AIM_COUNT && status == SW_OK; a++)
    {
      s->aim = (sw_aim)a;
      sw_watch_seek (s->watch, seeking[a]);
      if (a == SW_AIM_JOINS && s->model->strip_count == 0)
        {
          s->caps[a] = 0;
          continue;
        }
      status = run_aim (s);
      solved->bound[a] = s->bound;
      if (s->impossible || !s->best.valid || sw_watch_stop (s->watch) || s->watch->cost_only)
        break;
      s->caps[a] = s->best.value[a];
    }
  if (!s->watch->cost_only)
    sw_watch_seek (s->watch, SW_SEEKING_OFFCUTS);
  if (status == SW_OK && s->best.valid && !s->watch->cost_only)
    status = sw_search_offcuts (s);
  /* A failure in GLPK: nothing more comes of this, but what there is holds. */
  if (status == SW_FAILED && s->best.valid)
    status = SW_OK;
  /* Judged at the end: a later aim may have met a better solution of an earlier one. */
  for (int a = 0; a < SW_AIM_COUNT; a++)
    solved->proved[a] = s->best.valid && s->best.value[a] <= solved->bound[a] && (a == 0 || solved->proved[a - 1]);
  return status;
}

/* One try in which MORE pairs line up than the known layouts of the fewest have, at most.  *LOW: no layout has fewer. */
static sw_status
try_model (sw_solved *solved, sw_model *model, sw_watch *watch, bool hard_way, int64_t more, int64_t *low)
{
  sw_search search;
  int64_t open = 0;
  const sw_stagger stagger = model->layout->job->settings->stagger;
  sw_status status = sw_search_begin (&search, model, watch, hard_way);
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
      status = run_aims (&search, solved);
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
  /* No plan has fewer pairs than BOUND; once a try ends without a verdict that rises no more. */
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
      if (status != SW_OK || solved->solution.valid || !may_align || low + model->aligned_cap >= pairs
          || watch->stop != SW_GO_ON)
        {
          /* Some try before the last had no verdict: then there may be a plan. */
          solved->impossible = none && sure;
          solved->aligned = solved->solution.valid ? sw_solution_aligned (&solved->solution, model) : 0;
          solved->aligned_bound = solved->solution.valid && bound > solved->aligned ? solved->aligned : bound;
          return status;
        }
      more += none ? 1 : more + 1;
      sw_solved_clear (solved);
    }
}
