/* solve.c - all models of a layout, aim after aim
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve.h"

#include <stdlib.h>
#include <string.h>

#include "memory.h"
#include "region.h"

/* Work of the dives of one aim, iterations times rows: first a few, then many. */
#define FEW_DIVES 4
#define FEW_DIVES_WORK 2000000
#define MANY_DIVES 100
#define MANY_DIVES_WORK 30000000
/* Work of looking for other prices. */
#define SPREAD_WORK 5000000
/* From so many options on the programme over whole layouts comes first; with
 * so many rows the one over options is not tried. */
#define MIX_OPTIONS 200
#define MANY_ROWS 3000
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
  sw_choice_clear (&solved->choice);
}

/* The fewest aligned pairs of each strip, whatever the timber; fewer than can be where it is too wide. */
static sw_status
set_floors (sw_model *model, sw_search *s)
{
  memset (s->price, 0, model->option_count * sizeof *s->price);
  for (size_t i = 0; i < model->strip_count; i++)
    {
      model->strips[i].aligned_floor = 0;
      if (!model->stagger)
        continue;
      int64_t aligned = 0;
      sw_status status = sw_strip_relaxed (model, i, s->price, SW_ALIGNED_FIRST, s->strips, NULL, &aligned, NULL);
      if (status != SW_OK)
        return status;
      model->strips[i].aligned_floor = aligned;
    }
  return SW_OK;
}

/* A board of nothing but one need, for each need and supply, so that the
 * first programme has a plan; PLAIN[need]: the cheapest a piece without limit. */
static sw_status
add_plain_patterns (sw_search *s, size_t *plain)
{
  const sw_model *model = s->model;
  for (size_t n = 0; n < model->need_count; n++)
    {
      const sw_group *group = &model->groups[model->needs[n].group];
      double least = 0;
      plain[n] = SIZE_MAX;
      for (size_t i = group->supply_first; i < group->supply_first + group->supply_count; i++)
        {
          int64_t copies = model->supplies[i].room / model->needs[n].size;
          size_t pattern;
          if (copies > model->needs[n].most)
            copies = model->needs[n].most;
          if (copies > UINT32_MAX)
            copies = UINT32_MAX;
          if (copies == 0)
            continue;
          sw_cut cut = { .need = (uint32_t)n, .copies = (uint32_t)copies };
          sw_status status = sw_patterns_add (&s->pool, (uint32_t)i, &cut, 1, &pattern, NULL);
          if (status != SW_OK)
            return status;
          double cost = (double)model->supplies[i].cost / (double)copies;
          if (model->supplies[i].limit < 0 && (plain[n] == SIZE_MAX || cost < least))
            {
              least = cost;
              plain[n] = pattern;
            }
        }
    }
  return SW_OK;
}

/* A master with all patterns met so far, begun from the layout of the first plan. */
sw_status
sw_search_begin_master (sw_search *s)
{
  size_t *plain = sw_alloc (s->model->need_count, sizeof *plain);
  if (plain == NULL)
    return SW_NO_MEMORY;
  sw_status status = add_plain_patterns (s, plain);
  if (status == SW_OK)
    status = sw_master_new (&s->master, s->model, &s->pool, NULL, sw_search_beside (s));
  for (size_t i = 0; i < s->pool.count && status == SW_OK; i++)
    status = sw_master_add (s->master, i, NULL);
  if (status == SW_OK && (s->best.valid || s->model->option_count == 0))
    status = sw_master_start (s->master, s->best.used, plain);
  free (plain);
  return status;
}

static bool
go_on (const sw_search *s)
{
  return (!sw_search_done (s) || (s->hard_way && !s->impossible)) && s->clock->stop == SW_GO_ON;
}

/* Are the options too many for a programme with a row a post? */
static bool
is_large (const sw_model *model)
{
  size_t rows = model->need_count;
  for (size_t i = 0; i < model->strip_count; i++)
    rows += (size_t)model->strips[i].bays * model->strips[i].row_count;
  return model->strip_count > 0 && rows > MANY_ROWS;
}

static size_t
few_patterns (const sw_search *s)
{
  return s->aim == SW_AIM_COST ? FEW_PATTERNS : FEW_PATTERNS / 2;
}

/* The bound of the aim and what comes quickly to it.  *MORE: the programme with a row a post may have more to give. */
static sw_status
begin_aim (sw_search *s, bool *more)
{
  sw_lp outcome;
  *more = false;
  s->bound = 0;
  s->root.valid = false;
  sw_status status = sw_search_material (s, false, &s->bound);
  if (status != SW_OK)
    return status;
  sw_search_show (s);
  /* Where the time is up already, the plan that there is will have to do. */
  if (s->best.valid && sw_clock_stop (s->clock))
    return SW_OK;
  const bool mixed = s->hard_way || s->model->option_count >= MIX_OPTIONS;
  if (mixed)
    status = sw_search_mix (s);
  if (status == SW_OK && go_on (s) && mixed)
    status = sw_search_close (s, few_patterns (s));
  if (status != SW_OK || (s->root.valid && (!go_on (s) || is_large (s->model))))
    return status;
  if (s->master == NULL)
    status = sw_search_begin_master (s);
  if (status != SW_OK)
    return status;
  sw_master_aim (s->master, s->aim);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    sw_master_cap (s->master, (sw_aim)a, s->caps[a]);
  status = sw_search_columns (s, SW_ALL_ROUNDS, true, false, &outcome);
  if (status != SW_OK || !go_on (s) || outcome != SW_LP_OPTIMAL)
    return status;
  *more = true;
  status = sw_search_first (s, s->root.valid ? s->root.need : NULL);
  if (status == SW_OK && go_on (s))
    status = sw_search_dive (s, FEW_DIVES, FEW_DIVES_WORK);
  if (status == SW_OK && go_on (s))
    status = sw_search_columns (s, SW_ALL_ROUNDS, true, true, &outcome);
  if (status == SW_OK && go_on (s))
    status = sw_search_branch (s, s->hard_way ? HARD_NODES : FEW_NODES, FEW_NODES_WORK);
  return status;
}

/* List what a better solution could use, where that is little, and solve it. */
static sw_status
close_gap (sw_search *s)
{
  sw_status status = SW_OK;
  /* Where there are only boards to choose, the tree does better without it. */
  if (go_on (s) && s->model->option_count > 0)
    status = sw_search_spread (s, SPREAD_WORK);
  if (status == SW_OK && go_on (s))
    status = sw_search_close (s, few_patterns (s));
  return status;
}

/* Solve REGION for the aim of S, and offer what is better than before. */
static sw_status
solve_region (sw_search *s, sw_region *region)
{
  sw_search part;
  bool more = false;
  /* Its bounds and plans are none of the whole. */
  sw_clock clock = *s->clock;
  clock.parts = NULL;
  sw_status status = sw_search_begin (&part, &region->model, &clock, false);
  part.aim = s->aim;
  part.beside = sw_search_beside (s);
  part.brief = true;
  part.pool = region->pool;
  region->pool = (sw_patterns){ 0 };
  sw_choice_check (&region->kept, s->model, &s->pool);
  for (int a = 0; a < SW_AIM_COUNT; a++)
    part.caps[a] = s->caps[a] < 0 ? -1 : s->caps[a] - region->kept.value[a];
  if (status == SW_OK)
    status = sw_search_offer (&part, &region->start);
  int64_t before = sw_search_best (&part);
  if (status == SW_OK)
    status = begin_aim (&part, &more);
  if (status == SW_OK && more)
    status = close_gap (&part);
  s->clock->stop = clock.stop;
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
      for (uint32_t r = 0; r < s->model->strips[at].row_count; r++)
        have += s->model->strips[at].rows[r].option_count;
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
       i < MOST_REGIONS && status == SW_OK && vain < VAIN_REGIONS && !sw_search_done (s) && !sw_clock_stop (s->clock);
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
  bool more;
  sw_status status = begin_aim (s, &more);
  if (status == SW_OK && go_on (s) && s->aim == SW_AIM_COST)
    status = solve_regions (s);
  if (status != SW_OK || !more)
    return status;
  if (go_on (s))
    status = close_gap (s);
  if (status == SW_OK && go_on (s))
    status = sw_search_dive (s, MANY_DIVES, s->aim == SW_AIM_COST ? MANY_DIVES_WORK : FEW_DIVES_WORK);
  if (status == SW_OK && go_on (s) && !s->hard_way)
    status = sw_search_branch (s, MANY_NODES, UINT64_MAX);
  if (status == SW_OK && go_on (s) && s->aim == SW_AIM_COST)
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
    sw_clock_note (s->clock, *bound * s->model->granule, false, 0);
  return status;
}

sw_status
sw_solve_begin (sw_model *model, sw_clock *clock)
{
  sw_search search;
  int64_t bound;
  model->aligned_cap = 0;
  sw_status status = sw_search_begin (&search, model, clock, false);
  if (status == SW_OK)
    status = set_floors (model, &search);
  if (status == SW_OK)
    status = begin (&search, &bound);
  sw_search_end (&search);
  return status;
}

static sw_status
run_aims (sw_search *s, sw_solved *solved)
{
  sw_status status = begin (s, &solved->bound[SW_AIM_COST]);
  for (int a = 0; a < SW_AIM_COUNT && status == SW_OK; a++)
    {
      s->aim = (sw_aim)a;
      if (a == SW_AIM_JOINS && s->model->strip_count == 0)
        {
          s->caps[a] = 0;
          continue;
        }
      status = run_aim (s);
      solved->bound[a] = s->bound;
      if (s->impossible || !s->best.valid || sw_clock_stop (s->clock))
        break;
      s->caps[a] = s->best.value[a];
    }
  if (status == SW_OK && s->best.valid)
    status = sw_search_offcuts (s);
  /* A failure in GLPK: nothing more comes of this, but what there is holds. */
  if (status == SW_FAILED && s->best.valid)
    status = SW_OK;
  /* Judged at the end: a later aim may have met a better solution of an earlier one. */
  for (int a = 0; a < SW_AIM_COUNT; a++)
    solved->proved[a] = s->best.valid && s->best.value[a] <= solved->bound[a] && (a == 0 || solved->proved[a - 1]);
  return status;
}

/* One try with the cap on aligned pairs as the model has it. */
static sw_status
try_model (sw_solved *solved, sw_model *model, sw_clock *clock, bool hard_way, int64_t *floors)
{
  sw_search search;
  sw_status status = sw_search_begin (&search, model, clock, hard_way);
  if (status == SW_OK)
    status = set_floors (model, &search);
  *floors = 0;
  for (size_t i = 0; i < model->strip_count; i++)
    *floors += model->strips[i].aligned_floor;
  bool refused = model->layout->job->settings->stagger == SW_STAGGER_REQUIRE && *floors > 0;
  if (status == SW_OK && refused)
    solved->impossible = true;
  else if (status == SW_OK)
    {
      status = run_aims (&search, solved);
      solved->impossible = search.impossible;
      solved->choice = search.best;
      solved->pool = search.pool;
      search.best = (sw_choice){ 0 };
      search.pool = (sw_patterns){ 0 };
    }
  sw_search_end (&search);
  return status;
}

sw_status
sw_solve_model (sw_solved *solved, sw_model *model, sw_clock *clock, bool hard_way)
{
  *solved = (sw_solved){ 0 };
  int64_t pairs = 0, floors = 0;
  for (size_t i = 0; i < model->strip_count; i++)
    pairs += (int64_t)model->strips[i].bays * model->strips[i].row_count;
  bool may_align = model->stagger && model->layout->job->settings->stagger == SW_STAGGER_PREFER;
  /* Pairs that are proved to be needed; once a try ends without proof it stays. */
  int64_t needed = -1;
  model->aligned_cap = 0;
  for (;;)
    {
      sw_status status = try_model (solved, model, clock, hard_way, &floors);
      bool unknown = !solved->choice.valid && !solved->impossible;
      if (needed < 0 && !solved->impossible)
        needed = floors + model->aligned_cap;
      if (status != SW_OK || solved->choice.valid || !may_align || floors + model->aligned_cap >= pairs
          || clock->stop != SW_GO_ON)
        {
          if (needed >= 0 && needed < floors + model->aligned_cap)
            solved->impossible = false;
          solved->aligned_bound = needed >= 0 ? needed : floors + model->aligned_cap;
          solved->aligned = solved->choice.valid ? sw_choice_aligned (&solved->choice, model) : 0;
          return status;
        }
      model->aligned_cap += unknown ? model->aligned_cap + 1 : 1;
      sw_solved_clear (solved);
      *solved = (sw_solved){ 0 };
    }
}
