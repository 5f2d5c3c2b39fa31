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
  int64_t *count, *lacking; /* a need each: pieces */
  int64_t *size;            /* a need each: what a piece is worth where a board is filled */
  sw_entry *entries;        /* room for the entries of one board */
  uint64_t steps;
} repacking;

/* Add COPIES boards of STOCK with the pieces of R->count. */
static sw_status
add_board (repacking *r, sw_solution *solution, uint32_t stock, int64_t copies)
{
  const uint32_t count = sw_entries_of (r->entries, r->count, r->search->model->need_count);
  return count > 0 ? sw_solution_cut (solution, &r->search->pool, stock, r->entries, count, copies) : SW_OK;
}

static void
clear_count (repacking *r)
{
  memset (r->count, 0, r->search->model->need_count * sizeof *r->count);
}

static void
take_boards (sw_solution *solution, size_t index, int64_t copies)
{
  solution->boards[index].copies -= copies;
  if (solution->boards[index].copies == 0)
    solution->boards[index] = solution->boards[--solution->count];
}

/* Take pieces over the number that is needed off boards, from those with the longest offcuts first. */
static sw_status
drop_surplus (repacking *r)
{
  const sw_search *s = r->search;
  sw_solution *solution = r->solution;
  sw_solution_lacking (solution, s->model, &s->pool, r->lacking);
  for (;;)
    {
      size_t board = SIZE_MAX, need = SIZE_MAX;
      int64_t least = INT64_MAX;
      for (size_t i = 0; i < solution->count; i++)
        {
          const sw_pattern *p = &s->pool.items[solution->boards[i].pattern];
          for (uint32_t c = 0; c < p->count; c++)
            {
              const uint32_t n = s->pool.entries[p->first + c].need;
              if (r->lacking[n] >= 0 || sw_pattern_lack (s->model, &s->pool, solution->boards[i].pattern) >= least)
                continue;
              board = i;
              need = n;
              least = sw_pattern_lack (s->model, &s->pool, solution->boards[i].pattern);
            }
        }
      if (board == SIZE_MAX)
        return SW_OK;
      const size_t pattern = solution->boards[board].pattern;
      const uint32_t stock = s->pool.items[pattern].stock;
      int64_t copies = solution->boards[board].copies;
      copies = copies < -r->lacking[need] ? copies : -r->lacking[need];
      take_boards (solution, board, copies);
      clear_count (r);
      sw_pattern_count (&s->pool, pattern, 1, r->count);
      r->count[need]--;
      r->lacking[need] += copies;
      sw_status status = add_board (r, solution, stock, copies);
      if (status != SW_OK)
        return status;
    }
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
  clear_count (r);
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
    status = add_board (r, &two, other, 1);
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
  sw_status status = sw_gather (s, SW_AIM_OFFCUTS, spare, SW_OFFCUT_PATTERNS, &master, &complete);
  if (status == SW_OK && complete)
    status = sw_gather_solve (s, master, SW_OFFCUT_WORK, INT64_MAX, &proved);
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
  r.lacking = sw_alloc (model->need_count, sizeof *r.lacking);
  r.size = sw_alloc (model->need_count, sizeof *r.size);
  r.entries = sw_alloc (model->need_count, sizeof *r.entries);
  if (status == SW_OK && (!r.count || !r.lacking || !r.size || !r.entries))
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
  free (r.lacking);
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
