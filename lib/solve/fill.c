/* fill.c - boards for a layout that stands, one after another, without a linear programme
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/fill.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "price/knapsack.h"
#include "model/tuning.h"

typedef struct filling
{
  sw_search *search;
  const sw_model *model;
  const sw_prices *prices;
  bool first; /* there is no plan yet */
  sw_knapsack *knapsack;
  sw_solution solution;
  int64_t *value;    /* for each need: what a piece is worth */
  int64_t *left;     /* for each need: pieces that have no board yet */
  int64_t *stocked;  /* for each stock: boards that can still be had */
  sw_entry *entries; /* the board that was chosen: COUNT entries, out of STOCK */
  sw_entry *trial;
  uint32_t count;
  size_t stock;
  /* the section at work */
  const sw_model_section *section;
  size_t boards;    /* cut for it */
  size_t *next;     /* for each need of the section: a later need to go on looking from for one with pieces left */
  sw_rated *ranked; /* the stocks in order where there is no time to choose, else NULL */
} filling;

/* ---- Stocks in order -------------------------------------------------------------------- */

static int
by_rate (const void *a, const void *b)
{
  const sw_rated *x = a, *y = b;
  const sw_wide left = (sw_wide)x->cost * y->room, right = (sw_wide)y->cost * x->room;
  if (left != right)
    return left < right ? -1 : 1;
  if (x->room != y->room)
    return x->room > y->room ? -1 : 1;
  return x->stock < y->stock ? -1 : 1;
}

sw_status
sw_rank_stocks (const sw_model *model, const sw_model_section *section, sw_aim aim, sw_rated **out)
{
  sw_rated *ranked = *out = sw_alloc (section->stock_count, sizeof *ranked);
  if (ranked == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < section->stock_count; i++)
    {
      const size_t stock = section->stock_first + i;
      ranked[i]
          = (sw_rated){ .stock = stock, .cost = sw_stock_adds (model, stock, aim), .room = model->stocks[stock].room };
    }
  if (section->stock_count > 1)
    qsort (ranked, section->stock_count, sizeof *ranked, by_rate);
  return SW_OK;
}

/* ---- What is left ----------------------------------------------------------------------- */

/* Count the pieces of the layout that the boards which stand do not yield, and the limited boards that are left. */
static void
count_left (filling *f)
{
  const sw_model *model = f->model;
  const sw_patterns *pool = &f->search->pool;
  sw_solution_lacking (&f->solution, model, pool, f->left);
  for (size_t n = 0; n < model->need_count; n++)
    if (f->left[n] < 0)
      f->left[n] = 0;
  for (size_t i = 0; i < model->stock_count; i++)
    f->stocked[i] = model->stocks[i].limit < 0 ? INT64_MAX : model->stocks[i].limit;
  for (size_t i = 0; i < f->solution.count; i++)
    if (model->stocks[pool->items[f->solution.boards[i].pattern].stock].limit >= 0)
      f->stocked[pool->items[f->solution.boards[i].pattern].stock] -= f->solution.boards[i].copies;
}

/* The first need of the section, from its N-th on, that has pieces left; need_count: there is none. */
static size_t
next_left (filling *f, size_t n)
{
  size_t found = n;
  while (found < f->section->need_count && f->left[f->section->need_first + found] == 0)
    found = f->next[found];
  /* Shorten the way for the next time. */
  while (n < found)
    {
      size_t then = f->next[n];
      f->next[n] = found;
      n = then;
    }
  return found;
}

/* Cut the chosen board as often as the pieces that are left allow, and take those pieces off. */
static sw_status
cut_boards (filling *f)
{
  sw_patterns *pool = &f->search->pool;
  size_t pattern;
  bool is_new;
  sw_status status = sw_patterns_add (pool, (uint32_t)f->stock, f->entries, f->count, &pattern, &is_new);
  if (status != SW_OK)
    return status;
  const int64_t times = sw_pattern_times (pool, pattern, f->left, f->stocked[f->stock]);
  sw_pattern_count (pool, pattern, -times, f->left);
  if (f->model->stocks[f->stock].limit >= 0)
    f->stocked[f->stock] -= times;
  return is_new ? sw_solution_append (&f->solution, pattern, times) : sw_solution_add (&f->solution, pattern, times);
}

/* Use pieces on hand that are just what is needed, without a cut. */
static sw_status
fill_wholes (filling *f)
{
  sw_status status = SW_OK;
  for (size_t i = f->section->stock_first; i < f->section->stock_first + f->section->stock_count && status == SW_OK;
       i++)
    {
      const uint32_t whole = f->model->stocks[i].whole;
      if (whole == 0 || f->left[whole - 1] <= 0 || f->stocked[i] <= 0)
        continue;
      f->stock = i;
      f->count = 1;
      f->entries[0] = (sw_entry){ .need = whole - 1, .copies = 1 };
      status = cut_boards (f);
    }
  return status;
}

static void
take_trial (filling *f, size_t stock, uint32_t count)
{
  f->stock = stock;
  f->count = count;
  memcpy (f->entries, f->trial, count * sizeof *f->trial);
}

/* ---- Two ways to choose a board; COUNT 0: there is none ------------------------------- */

/* Choose the board whose pieces are worth most for what it costs: for a first plan any pieces, so that most boards are
 * quite full, and so are the patterns that the linear programme begins with; else NEED and what goes best beside it. */
static sw_status
choose_by_worth (filling *f, size_t need)
{
  const sw_model_section *section = f->section;
  const int64_t size = f->first ? 0 : f->model->needs[need].size, own = f->first ? 0 : f->value[need];
  double best_rate = -1;
  sw_status status = SW_OK;
  if (f->boards % SW_CLEARING == 0)
    status = sw_knapsack_load (f->knapsack, f->model, (size_t)(section - f->model->sections), f->value, f->left);
  else
    /* The entries are those of the board before. */
    for (uint32_t c = 0; c < f->count; c++)
      sw_knapsack_set_most (f->knapsack, f->entries[c].need, f->left[f->entries[c].need]);
  if (!f->first)
    sw_knapsack_set_most (f->knapsack, (uint32_t)need, f->left[need] - 1);
  f->count = 0;
  for (size_t i = section->stock_first + section->stock_count;
       i-- > section->stock_first && status == SW_OK && !sw_watch_stop (f->search->watch);)
    {
      const double room = (double)f->model->stocks[i].room, weight = (double)sw_prices_stock (f->prices, i);
      int64_t value;
      uint32_t count;
      if (f->stocked[i] <= 0 || f->model->stocks[i].room < size)
        continue;
      status = sw_knapsack_best (f->knapsack, f->model->stocks[i].room - size, &value, f->trial, &count);
      /* Boards that cost nothing go first, the best used of them before the others. */
      const double all = (double)(own + value), rate = weight > 0 ? all / weight : 1e60 * all / room;
      if (status != SW_OK || all == 0 || rate <= best_rate)
        continue;
      best_rate = rate;
      take_trial (f, i, f->first ? count : sw_entries_with (f->trial, count, (uint32_t)need));
    }
  return status;
}

/* Fill the entries for a board of STOCK with the longest piece that is left and fits, then with the longest that still
 * fits, and so on; returns the room that they take up (first fit decreasing; D. S. Johnson et al., SIAM Journal on
 * Computing 3, 1974). */
static int64_t
fill_in_order (filling *f, size_t stock)
{
  int64_t room = f->model->stocks[stock].room;
  f->stock = stock;
  f->count = 0;
  for (size_t from = 0;;)
    {
      size_t n = sw_model_largest_within (f->model, f->section, room) - f->section->need_first;
      n = next_left (f, n > from ? n : from);
      if (n == f->section->need_count)
        return f->model->stocks[stock].room - room;
      from = n + 1;
      size_t need = f->section->need_first + n;
      int64_t copies = room / f->model->needs[need].size;
      if (copies > f->left[need])
        copies = f->left[need];
      if (copies > UINT32_MAX)
        copies = UINT32_MAX;
      f->entries[f->count++] = (sw_entry){ .need = (uint32_t)need, .copies = (uint32_t)copies };
      room -= copies * f->model->needs[need].size;
    }
}

/* Of the first boards in the order that hold a piece of NEED, choose the one that costs least for what goes on it. */
static void
choose_in_order (filling *f, size_t need)
{
  sw_rated best = { .stock = SIZE_MAX };
  int tried = 0;
  for (size_t i = 0; i < f->section->stock_count && tried < SW_TRIED; i++)
    {
      sw_rated now = f->ranked[i];
      if (f->stocked[now.stock] <= 0 || now.room < f->model->needs[need].size)
        continue;
      now.room = fill_in_order (f, now.stock);
      if (tried++ == 0 || by_rate (&now, &best) < 0)
        best = now;
    }
  f->count = 0;
  if (tried > 0)
    fill_in_order (f, best.stock);
}

/* ---- Board after board ------------------------------------------------------------------ */

/* The time is up.  The first plan is still completed, so that there is one; others are given up. */
static sw_status
hurry (filling *f, bool *go_on)
{
  *go_on = f->first;
  return f->first ? sw_rank_stocks (f->model, f->section, SW_AIM_COST, &f->ranked) : SW_OK;
}

static sw_status
fill_section (filling *f, bool *filled)
{
  f->boards = f->count = 0;
  for (size_t n = 0; n < f->section->need_count; n++)
    f->next[n] = n + 1;
  for (;; f->boards++)
    {
      const size_t n = next_left (f, 0), need = f->section->need_first + n;
      sw_status status = SW_OK;
      if (n == f->section->need_count)
        return SW_OK;
      if (f->ranked == NULL)
        status = choose_by_worth (f, need);
      /* What was chosen when the time ran out is not used. */
      if (f->ranked == NULL && status == SW_OK && sw_watch_stop (f->search->watch))
        status = hurry (f, filled);
      if (status != SW_OK || !*filled)
        return status;
      if (f->ranked != NULL)
        choose_in_order (f, need);
      *filled = f->count > 0;
      if (status == SW_OK && *filled)
        status = cut_boards (f);
      if (status != SW_OK || !*filled)
        return status;
    }
}

static sw_status
fill_all (filling *f, const sw_solution *start)
{
  bool filled = true;
  sw_status status = sw_solution_copy (&f->solution, start, f->model);
  if (status == SW_OK)
    count_left (f);
  for (size_t g = 0; g < f->model->section_count && status == SW_OK && filled; g++)
    {
      f->section = &f->model->sections[g];
      status = fill_wholes (f);
      if (status == SW_OK)
        status = fill_section (f, &filled);
      free (f->ranked);
      f->ranked = NULL;
    }
  return status == SW_OK && filled ? sw_search_offer (f->search, &f->solution) : status;
}

sw_status
sw_fill (sw_search *s, const sw_solution *start, const sw_prices *prices)
{
  const sw_model *model = s->model;
  filling f = { .search = s, .model = model, .prices = prices, .first = !s->best.valid, .knapsack = s->knapsack };
  f.value = sw_alloc (model->need_count, sizeof *f.value);
  f.left = sw_alloc (model->need_count, sizeof *f.left);
  f.stocked = sw_alloc (model->stock_count, sizeof *f.stocked);
  f.entries = sw_alloc (model->need_count, sizeof *f.entries);
  f.trial = sw_alloc (model->need_count + 1, sizeof *f.trial);
  f.next = sw_alloc (model->need_count, sizeof *f.next);
  sw_status status = sw_solution_init (&f.solution, model);
  if (!f.value || !f.left || !f.stocked || !f.entries || !f.trial || !f.next)
    status = SW_NO_MEMORY;
  if (status == SW_OK)
    {
      /* A piece that is worth nothing would never be put on a board, and of two that are worth the same the longer one
       * is harder to place. */
      for (size_t n = 0; n < model->need_count; n++)
        f.value[n] = prices->need[n] + model->needs[n].size;
      status = fill_all (&f, start);
    }
  sw_solution_clear (&f.solution);
  free (f.value);
  free (f.left);
  free (f.stocked);
  free (f.entries);
  free (f.trial);
  free (f.next);
  return status;
}
