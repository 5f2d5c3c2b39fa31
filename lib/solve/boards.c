/* boards.c - most of the boards for a layout that stands, out of the linear programme
 *
 * A part of the programme of patterns is rounded, and the programme is solved
 * again for what is left.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/steps.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/tuning.h"

typedef struct cutting
{
  sw_programme *programme;
  int64_t *left;    /* a need each */
  int64_t *stocked; /* for each stock: boards that can still be had; INT64_MAX where there is no limit */
} cutting;

static const sw_pattern *
pattern_of (const cutting *c, size_t i)
{
  return &c->programme->search->pool.items[sw_master_pattern (c->programme->master, i)];
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

/* How many boards of the master's pattern I can still be used. */
static int64_t
copies_left (const cutting *c, size_t i)
{
  const sw_pattern *p = pattern_of (c, i);
  int64_t most = c->stocked[p->stock];
  for (uint32_t k = 0; k < p->count; k++)
    {
      const sw_entry *entry = &c->programme->search->pool.entries[p->first + k];
      int64_t copies = c->left[entry->need] / entry->copies;
      most = copies < most ? copies : most;
    }
  return most < 0 ? 0 : most;
}

static sw_status
take (cutting *c, size_t i, int64_t copies, sw_solution *solution)
{
  const sw_pattern *p = pattern_of (c, i);
  for (uint32_t k = 0; k < p->count; k++)
    {
      const sw_entry *entry = &c->programme->search->pool.entries[p->first + k];
      c->left[entry->need] -= copies * entry->copies;
    }
  if (c->programme->search->model->stocks[p->stock].limit >= 0)
    c->stocked[p->stock] -= copies;
  return sw_solution_add (solution, sw_master_pattern (c->programme->master, i), copies);
}

/* Decide one part in SW_PART_DECIDED of the boards: first whole ones, then those most nearly decided.  *BOARDS: how
 * many the programme had; 0: there is nothing to decide. */
static sw_status
decide (cutting *c, double *boards, sw_solution *solution)
{
  size_t count = sw_master_patterns (c->programme->master), shares = 0;
  share *list = sw_alloc (count, sizeof *list);
  sw_status status = list != NULL ? SW_OK : SW_NO_MEMORY;
  *boards = 0;
  for (size_t i = 0; i < count && status == SW_OK; i++)
    {
      double value = sw_master_pattern_value (c->programme->master, i);
      if (value < SW_WHOLE)
        continue;
      *boards += value;
      list[shares++] = (share){ i, value };
    }
  if (status == SW_OK)
    qsort (list, shares, sizeof *list, most_first);
  double wanted = ceil (*boards / SW_PART_DECIDED), taken = 0;
  for (size_t i = 0; i < shares && status == SW_OK && taken < wanted; i++)
    {
      int64_t copies = (int64_t)floor (list[i].value + SW_WHOLE), most = copies_left (c, list[i].pattern);
      copies = copies < 1 ? 1 : copies;
      copies = copies < most ? copies : most;
      if (copies == 0)
        continue;
      taken += (double)copies;
      status = take (c, list[i].pattern, copies, solution);
    }
  if (taken <= 0)
    *boards = 0;
  free (list);
  return status;
}

/* Set the programme's rows and columns to what is left now. */
static void
set_left (cutting *c)
{
  sw_programme *lp = c->programme;
  for (size_t n = 0; n < lp->search->model->need_count; n++)
    {
      lp->most[n] = c->left[n] > 0 ? c->left[n] : 0;
      sw_master_demand (lp->master, n, (double)lp->most[n]);
    }
  for (size_t i = 0; i < lp->search->model->stock_count; i++)
    if (lp->search->model->stocks[i].limit >= 0)
      sw_master_stock (lp->master, i, 0, c->stocked[i]);
  for (size_t i = 0; i < sw_master_patterns (lp->master); i++)
    sw_master_bound_pattern (lp->master, i, 0, copies_left (c, i) > 0 ? -1 : 0);
}

static sw_status
cut_parts (cutting *c, sw_solution *solution)
{
  sw_programme *lp = c->programme;
  bool done;
  double boards = INFINITY;
  sw_lp outcome;
  sw_status status = sw_programme_columns (lp, SW_ALL_ROUNDS, false, SW_THOROUGH, &outcome, &done);
  while (status == SW_OK && outcome == SW_LP_OPTIMAL && boards > SW_FEW_BOARDS && !sw_watch_stop (lp->search->watch))
    {
      status = decide (c, &boards, solution);
      if (status != SW_OK || boards == 0)
        break;
      set_left (c);
      status = sw_programme_columns (lp, SW_ROUNDS, false, SW_THOROUGH, &outcome, &done);
    }
  return status;
}

sw_status
sw_cut_most (sw_programme *lp, sw_solution *solution)
{
  const sw_model *model = lp->search->model;
  cutting c = { .programme = lp };
  c.left = sw_alloc (model->need_count, sizeof *c.left);
  c.stocked = sw_alloc (model->stock_count, sizeof *c.stocked);
  sw_status status = c.left && c.stocked ? SW_OK : SW_NO_MEMORY;
  for (size_t n = 0; n < model->need_count && status == SW_OK; n++)
    c.left[n] = model->needs[n].demand;
  for (size_t i = 0; i < model->stock_count && status == SW_OK; i++)
    c.stocked[i] = model->stocks[i].limit < 0 ? INT64_MAX : model->stocks[i].limit;
  if (status == SW_OK)
    status = cut_parts (&c, solution);
  free (c.left);
  free (c.stocked);
  return status;
}
