/* boards.c - boards for a layout that stands: cutting stock alone
 *
 * With the layout given, what is left is a programme of patterns for the
 * pieces that it has.  The linear programme is rounded a part at a time and
 * solved again for what is left, until that is few pieces, which are searched
 * as a job of their own.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/safe_prices.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* So few boards are searched, not rounded. */
#define FEW_BOARDS 60
/* One board in so many is decided at a step. */
#define STEPS 25
/* Rounds of columns after each. */
#define ROUNDS 4
/* Dives into what is left at the end, and their work. */
#define DIVES 4
#define DIVES_WORK 500000
#define WHOLE 1e-6
/* Boards are cut anew so often; also those that lose nothing, as if they lost so much. */
#define TRIES 30
#define SLACK 0.1

/* The needs of a layout as a model without layouts. */
typedef struct cutting
{
  sw_search *search; /* whose patterns are wanted */
  sw_watch watch;    /* shows nothing */
  sw_model model;
  size_t *back;  /* need of the search's model, by need */
  size_t *place; /* the other way, SIZE_MAX: not there */
  sw_search inner;
} cutting;

static sw_status
model_init (cutting *c)
{
  const sw_model *outer = c->search->model;
  c->watch = *c->search->watch;
  c->watch.parts = NULL;
  c->model = *outer;
  c->model.strip_count = c->model.option_count = c->model.need_count = 0;
  c->model.aligned_cap = 0;
  c->model.priced_pairs = false;
  c->model.stagger = false;
  c->model.turn = false;
  c->model.sections = sw_alloc (outer->section_count, sizeof *c->model.sections);
  c->model.needs = sw_alloc (outer->need_count, sizeof *c->model.needs);
  c->model.stocks = sw_alloc (outer->stock_count, sizeof *c->model.stocks);
  c->back = sw_alloc (outer->need_count, sizeof *c->back);
  c->place = sw_alloc (outer->need_count, sizeof *c->place);
  if (!c->model.sections || !c->model.needs || !c->model.stocks || !c->back || !c->place)
    return SW_NO_MEMORY;
  memcpy (c->model.stocks, outer->stocks, outer->stock_count * sizeof *outer->stocks);
  for (size_t i = 0; i < outer->stock_count; i++)
    if (outer->stocks[i].limit >= 0)
      c->model.stocks[i].limit = c->search->stocked[i];
  for (size_t g = 0; g < outer->section_count; g++)
    {
      const sw_model_section *section = &outer->sections[g];
      c->model.sections[g] = *section;
      c->model.sections[g].need_first = c->model.need_count;
      for (size_t n = section->need_first; n < section->need_first + section->need_count; n++)
        {
          c->place[n] = SIZE_MAX;
          if (c->search->left[n] <= 0)
            continue;
          c->place[n] = c->model.need_count;
          c->back[c->model.need_count] = n;
          c->model.needs[c->model.need_count] = outer->needs[n];
          c->model.needs[c->model.need_count].demand = c->model.needs[c->model.need_count].most = c->search->left[n];
          c->model.need_count++;
        }
      c->model.sections[g].need_count = c->model.need_count - c->model.sections[g].need_first;
    }
  return SW_OK;
}

static void
cutting_clear (cutting *c)
{
  if (c->watch.stop != SW_GO_ON)
    c->search->watch->stop = c->watch.stop;
  sw_search_end (&c->inner);
  free (c->model.sections);
  free (c->model.needs);
  free (c->model.stocks);
  free (c->back);
  free (c->place);
}

/* Patterns of the search that are of use. */
static sw_status
take_patterns (cutting *c)
{
  const sw_patterns *pool = &c->search->pool;
  sw_status status = SW_OK;
  for (size_t i = 0; i < pool->count && status == SW_OK; i++)
    {
      const sw_pattern *p = &pool->items[i];
      bool fits = true;
      for (uint32_t k = 0; k < p->count && fits; k++)
        {
          size_t need = c->place[pool->entries[p->first + k].need];
          fits = need != SIZE_MAX && pool->entries[p->first + k].copies <= c->model.needs[need].demand;
          if (fits) /* NOLINTNEXTLINE(clang-analyzer-core.NullDereference): the search has begun */
            c->inner.entries[k] = (sw_entry){ .need = (uint32_t)need, .copies = pool->entries[p->first + k].copies };
        }
      if (fits)
        status = sw_patterns_add (&c->inner.pool, p->stock, c->inner.entries, p->count, NULL, NULL);
    }
  return status;
}

/* The best of the inner search, as boards of the outer one. */
static sw_status
give_back (cutting *c, size_t pattern, int64_t copies, sw_solution *solution)
{
  const sw_pattern *p = &c->inner.pool.items[pattern];
  sw_search *s = c->search;
  for (uint32_t k = 0; k < p->count; k++)
    {
      const sw_entry *entry = &c->inner.pool.entries[p->first + k];
      s->entries[k] = (sw_entry){ .need = (uint32_t)c->back[entry->need], .copies = entry->copies };
      s->left[c->back[entry->need]] -= copies * entry->copies;
    }
  if (s->model->stocks[p->stock].limit >= 0)
    s->stocked[p->stock] -= copies;
  size_t index;
  sw_status status = sw_patterns_add (&s->pool, p->stock, s->entries, p->count, &index, NULL);
  return status == SW_OK ? sw_solution_add (solution, index, copies) : status;
}

/* A pattern of the master and its value in the programme. */
typedef struct share
{
  size_t pattern;
  double value;
} share;

static int
most_first (const void *a, const void *b)
{
  const share *x = a, *y = b;
  if (x->value != y->value)
    return x->value > y->value ? -1 : 1;
  return x->pattern < y->pattern ? -1 : x->pattern > y->pattern;
}

/* Copies of the master's pattern I that still can be used. */
static int64_t
copies_left (const cutting *c, size_t i)
{
  const sw_pattern *p = &c->inner.pool.items[sw_master_pattern (c->inner.master, i)];
  int64_t most = c->model.stocks[p->stock].limit < 0 ? INT64_MAX : c->search->stocked[p->stock];
  for (uint32_t k = 0; k < p->count; k++)
    {
      const sw_entry *entry = &c->inner.pool.entries[p->first + k];
      int64_t copies = c->search->left[c->back[entry->need]] / entry->copies;
      most = copies < most ? copies : most;
    }
  return most < 0 ? 0 : most;
}

/* Decide one part in STEPS of the boards: whole ones, then those most nearly decided. */
static sw_status
decide (cutting *c, double *boards, sw_solution *solution)
{
  size_t count = sw_master_patterns (c->inner.master), shares = 0;
  share *list = sw_alloc (count, sizeof *list);
  sw_status status = list != NULL ? SW_OK : SW_NO_MEMORY;
  *boards = 0;
  for (size_t i = 0; i < count && status == SW_OK; i++)
    {
      double value = sw_master_pattern_value (c->inner.master, i);
      if (value < WHOLE)
        continue;
      *boards += value;
      list[shares++] = (share){ i, value };
    }
  if (status == SW_OK)
    qsort (list, shares, sizeof *list, most_first);
  double wanted = ceil (*boards / STEPS), taken = 0;
  for (size_t i = 0; i < shares && status == SW_OK && taken < wanted; i++)
    {
      int64_t copies = (int64_t)floor (list[i].value + WHOLE), most = copies_left (c, list[i].pattern);
      copies = copies < 1 ? 1 : copies;
      copies = copies < most ? copies : most;
      if (copies == 0)
        continue;
      taken += (double)copies;
      status = give_back (c, sw_master_pattern (c->inner.master, list[i].pattern), copies, solution);
    }
  if (taken <= 0)
    *boards = 0;
  free (list);
  return status;
}

/* What is left now in the programme's rows and columns. */
static void
set_left (cutting *c)
{
  sw_search *inner = &c->inner;
  for (size_t n = 0; n < c->model.need_count; n++)
    {
      int64_t left = c->search->left[c->back[n]];
      inner->most[n] = left > 0 ? left : 0;
      sw_master_demand (inner->master, n, (double)inner->most[n]);
    }
  for (size_t i = 0; i < c->model.stock_count; i++)
    if (c->model.stocks[i].limit >= 0)
      sw_master_stock (inner->master, i, 0, c->search->stocked[i]);
  for (size_t i = 0; i < sw_master_patterns (inner->master); i++)
    sw_master_bound_pattern (inner->master, i, 0, copies_left (c, i) > 0 ? -1 : 0);
}

/* The programme for what is in search->left. */
static sw_status
open_cutting (cutting *c, sw_search *s, const sw_prices *prices)
{
  *c = (cutting){ .search = s };
  sw_status status = model_init (c);
  if (status == SW_OK)
    status = sw_search_begin (&c->inner, &c->model, &c->watch, false);
  c->inner.beside = sw_search_beside (s);
  if (status == SW_OK)
    status = take_patterns (c);
  for (size_t n = 0; n < c->model.need_count && status == SW_OK; n++)
    /* NOLINTNEXTLINE(clang-analyzer-core.NullDereference): the search has begun */
    c->inner.value[n] = prices->need[c->back[n]] + prices->scale / 1000 + 1;
  c->inner.root.scale = prices->scale;
  return status;
}

static bool
anything_left (const sw_search *s)
{
  for (size_t n = 0; n < s->model->need_count; n++)
    if (s->left[n] > 0)
      return true;
  return false;
}

/* The boards of OLD that SOLUTION no longer has, for what is left, are a solution to begin with. */
static sw_status
offer_old (cutting *c, const sw_solution *old, const sw_solution *solution)
{
  sw_solution start;
  const sw_patterns *pool = &c->search->pool;
  sw_status status = sw_solution_init (&start, &c->model);
  for (size_t i = 0; i < old->count && status == SW_OK; i++)
    {
      const sw_pattern *p = &pool->items[old->boards[i].pattern];
      const int64_t copies = old->boards[i].copies - solution->boards[i].copies;
      uint32_t count = 0;
      size_t index;
      for (uint32_t k = 0; k < p->count; k++)
        {
          const sw_entry *entry = &pool->entries[p->first + k];
          if (c->place[entry->need] != SIZE_MAX) /* NOLINTNEXTLINE(clang-analyzer-core.NullDereference): as above */
            c->inner.entries[count++] = (sw_entry){ .need = (uint32_t)c->place[entry->need], .copies = entry->copies };
        }
      if (copies == 0 || count == 0)
        continue;
      status = sw_patterns_add (&c->inner.pool, p->stock, c->inner.entries, count, &index, NULL);
      if (status == SW_OK)
        status = sw_solution_add (&start, index, copies);
    }
  if (status == SW_OK)
    status = sw_search_offer (&c->inner, &start);
  sw_solution_clear (&start);
  return status;
}

/* Few pieces: searched to the end, or nearly so.  OLD (may be NULL): SOLUTION before some of its boards went. */
static sw_status
search_rest (sw_search *s, const sw_prices *prices, const sw_solution *old, sw_solution *solution, bool *whole)
{
  cutting c;
  sw_lp outcome;
  bool done;
  *whole = !anything_left (s);
  if (*whole)
    return SW_OK;
  sw_status status = open_cutting (&c, s, prices);
  if (status == SW_OK && old != NULL)
    status = offer_old (&c, old, solution);
  if (status == SW_OK && !c.inner.best.valid)
    status = sw_search_fill (&c.inner, NULL);
  if (status == SW_OK)
    status = sw_search_begin_master (&c.inner, SIZE_MAX);
  if (status == SW_OK)
    status = sw_search_columns (&c.inner, SW_ALL_ROUNDS, true, SW_BOUND_ONLY, &outcome, &done);
  if (status == SW_OK && outcome == SW_LP_OPTIMAL && !sw_search_done (&c.inner))
    status = sw_search_dive (&c.inner, DIVES, DIVES_WORK);
  *whole = c.inner.best.valid;
  for (size_t i = 0; i < c.inner.best.count && status == SW_OK; i++)
    status = give_back (&c, c.inner.best.boards[i].pattern, c.inner.best.boards[i].copies, solution);
  cutting_clear (&c);
  return status;
}

/* Round most of the boards. */
static sw_status
round_most (sw_search *s, const sw_prices *prices, sw_solution *solution)
{
  cutting c;
  bool done;
  double boards = INFINITY;
  sw_lp outcome = SW_LP_OPTIMAL;
  sw_status status = open_cutting (&c, s, prices);
  if (status == SW_OK)
    status = sw_search_begin_master (&c.inner, SIZE_MAX);
  if (status == SW_OK)
    status = sw_search_columns (&c.inner, SW_ALL_ROUNDS, false, SW_THOROUGH, &outcome, &done);
  while (status == SW_OK && outcome == SW_LP_OPTIMAL && boards > FEW_BOARDS && !sw_watch_stop (&c.watch))
    {
      status = decide (&c, &boards, solution);
      if (status != SW_OK || boards == 0)
        break;
      set_left (&c);
      status = sw_search_columns (&c.inner, ROUNDS, false, SW_THOROUGH, &outcome, &done);
    }
  cutting_clear (&c);
  return status;
}

/* Take some boards out of SOLUTION, of those that lose most more than others; rows that are left empty stay. */
static sw_status
take_out (const sw_search *s, const sw_prices *prices, sw_solution *solution, uint64_t *chance)
{
  share *list = sw_alloc (solution->count, sizeof *list);
  if (list == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < solution->count; i++)
    {
      double loss = (double)sw_search_loss (s, prices, solution->boards[i].pattern) / (double)prices->scale;
      list[i] = (share){ i, (loss + SLACK) * sw_search_chance (chance) };
    }
  qsort (list, solution->count, sizeof *list, most_first);
  int64_t wanted = FEW_BOARDS;
  for (size_t i = 0; i < solution->count && wanted > 0; i++)
    {
      struct sw_boards *boards = &solution->boards[list[i].pattern];
      int64_t copies = boards->copies < wanted ? boards->copies : wanted;
      boards->copies -= copies;
      wanted -= copies;
    }
  free (list);
  return SW_OK;
}

/* Drop rows without boards. */
static void
drop_empty (sw_solution *solution)
{
  size_t count = 0;
  for (size_t i = 0; i < solution->count; i++)
    if (solution->boards[i].copies > 0)
      solution->boards[count++] = solution->boards[i];
  solution->count = count;
}

/* Take boards out of the best solution and cut their pieces anew, if that is better or as good. */
static sw_status
cut_again (sw_search *s, const sw_prices *prices, sw_solution *best, uint64_t *chance)
{
  sw_solution solution;
  bool whole = false;
  sw_status status = sw_solution_init (&solution, s->model);
  if (status == SW_OK)
    status = sw_solution_copy (&solution, best, s->model);
  if (status == SW_OK)
    status = take_out (s, prices, &solution, chance);
  if (status == SW_OK)
    {
      sw_search_count_left (s, &solution);
      status = search_rest (s, prices, best, &solution, &whole);
    }
  drop_empty (&solution);
  if (status == SW_OK && whole && sw_solution_check (&solution, s->model, &s->pool)
      && solution.value[SW_AIM_COST] <= best->value[SW_AIM_COST])
    status = sw_solution_copy (best, &solution, s->model);
  sw_solution_clear (&solution);
  return status;
}

sw_status
sw_search_cut (sw_search *s, const sw_prices *prices)
{
  sw_solution solution;
  bool whole = false;
  sw_status status = sw_solution_init (&solution, s->model);
  if (status == SW_OK)
    {
      memcpy (solution.used, s->used, s->model->option_count);
      sw_search_count_left (s, NULL);
      if (anything_left (s))
        status = round_most (s, prices, &solution);
    }
  /* Stopped early, it would be no better than what there is, and to fill so many boards takes its time. */
  if (status == SW_OK && !(s->best.valid && sw_watch_stop (s->watch)))
    status = search_rest (s, prices, NULL, &solution, &whole);
  whole = whole && sw_solution_check (&solution, s->model, &s->pool);
  if (status == SW_OK && whole)
    status = sw_search_offer (s, &solution);
  uint64_t chance = SW_CHANCE_SEED;
  const int64_t aimed = s->aim == SW_AIM_COST ? s->bound : s->caps[SW_AIM_COST];
  for (int i = 0; whole && i < TRIES && status == SW_OK && solution.value[SW_AIM_COST] > aimed; i++)
    {
      if (sw_watch_stop (s->watch))
        break;
      status = cut_again (s, prices, &solution, &chance);
    }
  if (status == SW_OK && whole)
    status = sw_search_offer (s, &solution);
  sw_solution_clear (&solution);
  return status;
}
