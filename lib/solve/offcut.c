/* offcut.c - among plans that are alike in all else, one with long offcuts
 *
 * One long offcut serves the next job, many short ones do not, so the sum of
 * their squares is brought up.  The pieces and the stock stay as they are, and
 * two boards are packed anew as long as one of them can be filled better,
 * which leaves a longer offcut on the other.  Where the plans that are alike
 * can be listed, layouts included, an integer programme then finds the best of
 * them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/gather.h"
#include "solve/steps.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/tuning.h"

static int64_t
lack_of (const sw_search *s, const sw_solution *solution)
{
  int64_t sum = 0;
  for (size_t i = 0; i < solution->count; i++)
    sum += solution->boards[i].copies * sw_pattern_lack (s->model, &s->pool, solution->boards[i].pattern);
  return sum;
}

/* ---- Changing boards ------------------------------------------------------------ */

typedef struct repacking
{
  sw_search *search;
  sw_solution *solution;
  int64_t *count, *surplus; /* a need each: pieces */
  int64_t *size;            /* a need each: what a piece is worth where a board is filled */
  sw_entry *entries;        /* room for the entries of one board */
  uint64_t steps;
} repacking;

/* Add COPIES boards of STOCK with COUNT[need] pieces of each need. */
static sw_status
add_board (repacking *r, sw_solution *solution, uint32_t stock, const int64_t *count, int64_t copies)
{
  sw_search *s = r->search;
  const sw_model_section *section = &s->model->sections[s->model->stocks[stock].section];
  const size_t first = section->need_first;
  const uint32_t entries = sw_entries_of (r->entries, count, first, first + section->need_count);
  return entries > 0 ? sw_solution_cut (solution, &s->pool, stock, r->entries, entries, copies) : SW_OK;
}

static void
clear_cuts (const sw_search *s, uint32_t stock, int64_t *count)
{
  const sw_model_section *section = &s->model->sections[s->model->stocks[stock].section];
  memset (count + section->need_first, 0, section->need_count * sizeof *count);
}

static void
take_boards (sw_solution *solution, size_t index, int64_t copies)
{
  solution->boards[index].copies -= copies;
  if (solution->boards[index].copies == 0)
    solution->boards[index] = solution->boards[--solution->count];
}

static bool
has_need (const sw_search *s, size_t pattern, size_t need)
{
  const sw_pattern *p = &s->pool.items[pattern];
  for (uint32_t c = 0; c < p->count; c++)
    if (s->pool.entries[p->first + c].need == need)
      return true;
  return false;
}

/* Take pieces over the number that is needed off boards, from those with the longest offcuts first. */
static sw_status
drop_surplus (repacking *r)
{
  const sw_search *s = r->search;
  const sw_model *model = s->model;
  sw_solution *solution = r->solution;
  int64_t *surplus = r->surplus, *count = r->count;
  for (size_t i = 0; i < solution->count; i++)
    sw_pattern_count (&s->pool, solution->boards[i].pattern, solution->boards[i].copies, surplus);
  for (size_t o = 0; o < model->option_count; o++)
    surplus[model->options[o].need] -= solution->used[o];
  for (size_t n = 0; n < model->need_count; n++)
    for (surplus[n] -= model->needs[n].demand; surplus[n] > 0;)
      {
        size_t most = SIZE_MAX;
        int64_t least = INT64_MAX;
        for (size_t i = 0; i < solution->count; i++)
          if (has_need (s, solution->boards[i].pattern, n)
              && sw_pattern_lack (model, &s->pool, solution->boards[i].pattern) < least)
            {
              most = i;
              least = sw_pattern_lack (model, &s->pool, solution->boards[i].pattern);
            }
        if (most == SIZE_MAX)
          return SW_FAILED;
        size_t pattern = solution->boards[most].pattern;
        uint32_t stock = s->pool.items[pattern].stock;
        int64_t copies = solution->boards[most].copies;
        copies = copies < surplus[n] ? copies : surplus[n];
        take_boards (solution, most, copies);
        clear_cuts (s, stock, count);
        sw_pattern_count (&s->pool, pattern, 1, count);
        count[n]--;
        surplus[n] -= copies;
        sw_status status = add_board (r, solution, stock, count, copies);
        if (status != SW_OK)
          return status;
      }
  return SW_OK;
}

/* ---- Two boards ------------------------------------------------------------------ */

/* Fill a board of stock FULL as far as possible with pieces of boards I and J; the other pieces go on a board of
 * OTHER. */
static sw_status
repack (repacking *r, size_t i, size_t j, uint32_t full, uint32_t other, bool *better)
{
  sw_search *s = r->search;
  const sw_model *model = s->model;
  const size_t a = r->solution->boards[i].pattern, b = r->solution->boards[j].pattern;
  const int64_t all = sw_pattern_size (model, &s->pool, a) + sw_pattern_size (model, &s->pool, b);
  const int64_t before = sw_pattern_lack (model, &s->pool, a) + sw_pattern_lack (model, &s->pool, b);
  const uint64_t begun = sw_knapsack_work (s->knapsack);
  int64_t filled = 0;
  uint32_t count = 0;
  clear_cuts (s, full, r->count);
  sw_pattern_count (&s->pool, a, 1, r->count);
  sw_pattern_count (&s->pool, b, 1, r->count);
  sw_status status = sw_knapsack_load (s->knapsack, model, model->stocks[full].section, r->size, r->count);
  if (status == SW_OK)
    status = sw_knapsack_best (s->knapsack, model->stocks[full].room, &filled, r->entries, &count);
  const uint64_t work = sw_knapsack_work (s->knapsack) - begun;
  r->steps -= work < r->steps ? work : r->steps;
  if (status != SW_OK || count == 0 || all - filled > model->stocks[other].room)
    return status;
  sw_solution two = { 0 };
  status = sw_solution_cut (&two, &s->pool, full, r->entries, count, 1);
  if (status == SW_OK)
    sw_pattern_count (&s->pool, two.boards[0].pattern, -1, r->count);
  if (status == SW_OK)
    status = add_board (r, &two, other, r->count, 1);
  if (status == SW_OK && lack_of (s, &two) < before)
    {
      *better = true;
      /* The higher index goes first, because the last pattern takes the place of one that is removed. */
      take_boards (r->solution, i > j ? i : j, 1);
      take_boards (r->solution, i > j ? j : i, 1);
      for (size_t k = 0; k < two.count && status == SW_OK; k++)
        status = sw_solution_add (r->solution, two.boards[k].pattern, two.boards[k].copies);
    }
  sw_solution_clear (&two);
  return status;
}

static sw_status
repack_pair (repacking *r, size_t i, size_t j, bool *better)
{
  sw_search *s = r->search;
  uint32_t a = s->pool.items[r->solution->boards[i].pattern].stock;
  uint32_t b = s->pool.items[r->solution->boards[j].pattern].stock;
  if (s->model->stocks[a].section != s->model->stocks[b].section || (i == j && r->solution->boards[i].copies < 2))
    return SW_OK;
  sw_status status = repack (r, i, j, a, b, better);
  if (status == SW_OK && !*better && a != b)
    status = repack (r, i, j, b, a, better);
  return status;
}

static sw_status
repack_all (repacking *r)
{
  bool again = true;
  while (again)
    {
      again = false;
      for (size_t i = 0; i < r->solution->count; i++)
        for (size_t j = 0; j <= i && i < r->solution->count; j++)
          {
            if (r->steps == 0 || sw_watch_stop (r->search->watch))
              return SW_OK;
            r->steps--;
            bool better = false;
            sw_status status = repack_pair (r, i, j, &better);
            if (status != SW_OK)
              return status;
            again = again || better;
          }
    }
  return SW_OK;
}

/* ---- All at once ------------------------------------------------------------------ */

/* Find the best of all layouts and boards that are as good as the best in the earlier aims, where there are few enough
 * to try. */
static sw_status
solve_offcuts (sw_search *s)
{
  if (!s->root.valid || sw_search_best (s) > s->bound || (double)s->best.value[SW_AIM_COST] > SW_TRUSTED)
    return SW_OK;
  const sw_wide spare = (sw_wide)sw_search_best (s) * s->root.scale - s->root.bound;
  sw_master *master;
  bool complete, proved;
  sw_status status = sw_gather (s, spare, SW_PATTERNS / 200, true, &master, &complete);
  if (status == SW_OK && complete)
    status = sw_gather_solve (s, master, SW_AIM_OFFCUTS, SW_CLOSING_WORK / 1000, INT64_MAX, &proved);
  sw_master_free (master);
  return status;
}

static sw_status
pack_anew (sw_search *s)
{
  const sw_model *model = s->model;
  sw_solution solution;
  repacking r = { .search = s, .solution = &solution, .steps = SW_PACK_STEPS };
  sw_status status = sw_solution_init (&solution, model);
  r.count = sw_alloc (model->need_count, sizeof *r.count);
  r.surplus = sw_alloc (model->need_count, sizeof *r.surplus);
  r.size = sw_alloc (model->need_count, sizeof *r.size);
  r.entries = sw_alloc (model->need_count, sizeof *r.entries);
  if (status == SW_OK && (!r.count || !r.surplus || !r.size || !r.entries))
    status = SW_NO_MEMORY;
  for (size_t n = 0; n < model->need_count && status == SW_OK; n++)
    r.size[n] = model->needs[n].size;
  if (status == SW_OK)
    status = sw_solution_copy (&solution, &s->best, model);
  if (status == SW_OK)
    status = drop_surplus (&r);
  if (status == SW_OK)
    status = repack_all (&r);
  bool good = status == SW_OK && sw_solution_check (&solution, model, &s->pool);
  for (int a = 0; a < SW_AIM_COUNT && good; a++)
    good = solution.value[a] <= s->best.value[a];
  if (good)
    status = sw_solution_copy (&s->best, &solution, model);
  sw_solution_clear (&solution);
  free (r.count);
  free (r.surplus);
  free (r.size);
  free (r.entries);
  return status;
}

sw_status
sw_long_offcuts (sw_search *s)
{
  sw_status status = pack_anew (s);
  if (status == SW_OK && !sw_watch_stop (s->watch))
    status = solve_offcuts (s);
  return status;
}
