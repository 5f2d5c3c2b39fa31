/* brute.c - the best solution of a small model, by trying all of them
 *
 * Every path of every level is combined with every path of the others.  What
 * keeps the rules is cut by trying every maximal board for the longest piece
 * left.  Nothing is shared with the library but the model itself.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "brute.h"

#include <stdlib.h>
#include <string.h>

enum
{
  PATHS = 64,
  LAYOUTS = 30000,
  STATES = 1 << 17,
  /* the weight of a cost against a board; no small job has so many boards */
  BOARDS = 1 << 20
};

typedef struct path
{
  uint64_t joins;
  uint32_t first;
  unsigned char uses[BRUTE_NEEDS];
} path;

/* The pieces still needed and the boards still to be had, with the cost of the best way to cut them. */
typedef struct state
{
  bool there;
  unsigned char left[BRUTE_NEEDS], stocked[BRUTE_SUPPLIES];
  int64_t cost;
} state;

typedef struct trying
{
  const sw_model *model;
  int64_t most_aligned;
  size_t row_count;
  const sw_strip *strip_of[BRUTE_ROWS];
  const sw_strip_level *rows[BRUTE_ROWS];
  size_t path_count[BRUTE_ROWS];
  path paths[BRUTE_ROWS][PATHS];
  const path *chosen[BRUTE_ROWS];
  state *states;
  size_t state_count;
  bool too_large;
  brute *best;
} trying;

/* ---- Cutting --------------------------------------------------------------------- */

static state *
find_state (trying *t, const unsigned char *left, const unsigned char *stocked)
{
  uint64_t hash = 88172645463325252ULL;
  for (size_t i = 0; i < BRUTE_NEEDS; i++)
    hash = (hash ^ left[i]) * 1099511628211ULL;
  for (size_t i = 0; i < BRUTE_SUPPLIES; i++)
    hash = (hash ^ stocked[i]) * 1099511628211ULL;
  size_t slot = (hash ^ hash >> 31) % STATES;
  while (t->states[slot].there
         && (memcmp (t->states[slot].left, left, BRUTE_NEEDS) != 0
             || memcmp (t->states[slot].stocked, stocked, BRUTE_SUPPLIES) != 0))
    slot = (slot + 1) % STATES;
  return &t->states[slot];
}

static int64_t cut (trying *t, unsigned char *left, unsigned char *stocked);

/* The best result of filling a board that has ROOM left, with the needs from NEED on. */
static int64_t
fill (trying *t, const sw_model_section *section, size_t need, int64_t room, unsigned char *left, unsigned char *stocked)
{
  const sw_need *needs = t->model->needs;
  size_t end = section->need_first + section->need_count;
  if (need == end)
    {
      for (size_t n = section->need_first; n < end; n++)
        if (left[n] > 0 && needs[n].size <= room)
          return INT64_MAX; /* more would fit, which another branch tries */
      return cut (t, left, stocked);
    }
  int64_t best = INT64_MAX;
  unsigned char before = left[need];
  for (unsigned char copies = 0; copies <= before && copies * needs[need].size <= room; copies++)
    {
      left[need] = (unsigned char)(before - copies);
      int64_t cost = fill (t, section, need + 1, room - copies * needs[need].size, left, stocked);
      if (cost < best)
        best = cost;
    }
  left[need] = before;
  return best;
}

/* Put the longest piece left on a board of each stock in turn. */
static int64_t
cut_first (trying *t, size_t need, unsigned char *left, unsigned char *stocked)
{
  const sw_model *model = t->model;
  const sw_model_section *section = &model->sections[model->needs[need].section];
  int64_t best = INT64_MAX;
  for (size_t s = section->stock_first; s < section->stock_first + section->stock_count; s++)
    {
      const sw_model_stock *stock = &model->stocks[s];
      if (stock->room < model->needs[need].size || (stock->limit >= 0 && stocked[s] == 0))
        continue;
      left[need]--;
      stocked[s] = (unsigned char)(stocked[s] - (stock->limit >= 0));
      int64_t rest = fill (t, section, section->need_first, stock->room - model->needs[need].size, left, stocked);
      left[need]++;
      stocked[s] = (unsigned char)(stocked[s] + (stock->limit >= 0));
      if (rest != INT64_MAX && rest + stock->cost * BOARDS + 1 < best)
        best = rest + stock->cost * BOARDS + 1;
    }
  return best;
}

static int64_t
cut (trying *t, unsigned char *left, unsigned char *stocked)
{
  size_t need = 0;
  while (need < t->model->need_count && left[need] == 0)
    need++;
  if (need == t->model->need_count)
    return 0;
  state *known = find_state (t, left, stocked);
  if (known->there)
    return known->cost;
  if (t->state_count > STATES / 2)
    {
      t->too_large = true;
      return INT64_MAX;
    }
  int64_t cost = cut_first (t, need, left, stocked);
  known = find_state (t, left, stocked);
  t->state_count++;
  known->there = true;
  memcpy (known->left, left, BRUTE_NEEDS);
  memcpy (known->stocked, stocked, BRUTE_SUPPLIES);
  known->cost = cost;
  return cost;
}

/* ---- Layouts ----------------------------------------------------------------------- */

static void
list_paths (trying *t, size_t row, uint32_t post, path so_far)
{
  const sw_strip_level *r = t->rows[row];
  if (post == t->strip_of[row]->bays)
    {
      if (t->path_count[row] == PATHS)
        t->too_large = true;
      else
        t->paths[row][t->path_count[row]++] = so_far;
      return;
    }
  for (size_t o = r->option_first; o < r->option_first + r->option_count; o++)
    {
      const sw_option *option = &t->model->options[o];
      if (option->from != post)
        continue;
      path longer = so_far;
      longer.uses[option->need]++;
      if (post == 0)
        longer.first = option->to;
      if (option->to < t->strip_of[row]->bays)
        longer.joins |= (uint64_t)1 << option->to;
      list_paths (t, row, option->to, longer);
    }
}

/* Do the levels FIRST to END - 1, of one strip, go long and short in turn?  LONG_FIRST: the lowest is a long one. */
static bool
in_turn (const trying *t, size_t first, size_t end, bool long_first)
{
  for (size_t r = first; r + 1 < end; r++)
    {
      const path *lower = t->chosen[r], *upper = t->chosen[r + 1];
      if (lower->joins == 0 || upper->joins == 0)
        continue;
      bool lower_is_long = ((r - first) % 2 == 0) == long_first;
      if (lower_is_long ? lower->first < upper->first : lower->first > upper->first)
        return false;
    }
  return true;
}

/* False: the levels are not long and short in turn. */
static bool
count_aligned (const trying *t, int64_t *aligned)
{
  *aligned = 0;
  if (!t->model->stagger)
    return true;
  for (size_t first = 0, end; first < t->row_count; first = end)
    {
      const sw_strip *strip = t->strip_of[first];
      end = first + strip->level_count;
      if (t->model->turn && !in_turn (t, first, end, true) && !in_turn (t, first, end, false))
        return false;
      for (size_t r = first; r + 1 < end; r++)
        for (uint32_t p = 1; p < strip->bays; p++)
          *aligned += strip->counted[p] && (t->chosen[r]->joins & t->chosen[r + 1]->joins) >> p & 1;
    }
  return true;
}

static bool
is_better (const trying *t, const brute *a)
{
  const brute *b = t->best;
  if (!b->possible)
    return true;
  if (t->most_aligned < 0 && a->aligned != b->aligned)
    return a->aligned < b->aligned;
  if (a->cost != b->cost)
    return a->cost < b->cost;
  if (a->joins != b->joins)
    return a->joins < b->joins;
  return a->boards < b->boards;
}

static void
try_layout (trying *t)
{
  const sw_model *model = t->model;
  brute now = { .possible = true };
  if (!count_aligned (t, &now.aligned) || (t->most_aligned >= 0 && now.aligned > t->most_aligned))
    return;
  if (t->most_aligned < 0 && t->best->possible && now.aligned > t->best->aligned)
    return;
  unsigned char left[BRUTE_NEEDS] = { 0 }, stocked[BRUTE_SUPPLIES] = { 0 };
  for (size_t n = 0; n < model->need_count; n++)
    left[n] = (unsigned char)model->needs[n].demand;
  for (size_t s = 0; s < model->stock_count; s++)
    stocked[s] = (unsigned char)(model->stocks[s].limit < 0     ? 0
                                 : model->stocks[s].limit > 200 ? 200
                                                                  : model->stocks[s].limit);
  for (size_t r = 0; r < t->row_count; r++)
    for (size_t n = 0; n < model->need_count; n++)
      left[n] = (unsigned char)(left[n] + t->chosen[r]->uses[n]);
  for (size_t r = 0; r < t->row_count; r++)
    now.joins += __builtin_popcountll (t->chosen[r]->joins);
  int64_t cost = cut (t, left, stocked);
  if (cost == INT64_MAX)
    return;
  now.boards = cost % BOARDS;
  now.cost = cost / BOARDS + now.joins * model->join_cost;
  if (is_better (t, &now))
    *t->best = now;
}

static void
put_together (trying *t, size_t row)
{
  if (row == t->row_count)
    {
      try_layout (t);
      return;
    }
  for (size_t i = 0; i < t->path_count[row] && !t->too_large; i++)
    {
      t->chosen[row] = &t->paths[row][i];
      put_together (t, row + 1);
    }
}

static bool
list_rows (trying *t)
{
  size_t layouts = 1;
  for (size_t s = 0; s < t->model->strip_count; s++)
    for (uint32_t r = 0; r < t->model->strips[s].level_count; r++)
      {
        if (t->row_count == BRUTE_ROWS || t->model->strips[s].bays > 40)
          return false;
        t->strip_of[t->row_count] = &t->model->strips[s];
        t->rows[t->row_count++] = &t->model->strips[s].levels[r];
        list_paths (t, t->row_count - 1, 0, (path){ 0 });
        layouts *= t->path_count[t->row_count - 1];
        if (t->too_large || layouts > LAYOUTS)
          return false;
      }
  return true;
}

bool
brute_solve (const sw_model *model, int64_t most_aligned, brute *out)
{
  *out = (brute){ 0 };
  if (model->need_count > BRUTE_NEEDS || model->stock_count > BRUTE_SUPPLIES)
    return false;
  trying *t = calloc (1, sizeof *t);
  state *states = calloc (STATES, sizeof *states);
  if (t == NULL || states == NULL)
    abort ();
  t->model = model;
  t->most_aligned = most_aligned;
  t->states = states;
  t->best = out;
  if (list_rows (t))
    put_together (t, 0);
  else
    t->too_large = true;
  bool whole = !t->too_large;
  free (states);
  free (t);
  return whole;
}
