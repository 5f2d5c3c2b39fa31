/* branch_split.c - branch and price: what a programme's solution gives, and how a node is split
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/branch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "solve/fill.h"
#include "model/tuning.h"

/* ---- Solutions --------------------------------------------------------------------- */

static void
unfold (sw_tree *t, size_t kind, int64_t copies) /* NOLINT(misc-no-recursion): no deeper than the pieces on a board */
{
  if (t->kinds[kind].a == SIZE_MAX)
    {
      t->pieces[kind] += copies;
      return;
    }
  unfold (t, t->kinds[kind].a, copies);
  unfold (t, t->kinds[kind].b, copies);
}

/* Read the boards that are whole in the programme as patterns of the model. */
static sw_status
read_whole (sw_tree *t, sw_solution *solution)
{
  sw_search *s = t->search;
  sw_status status = sw_solution_init (solution, t->model);
  for (size_t i = 0; i < sw_master_patterns (t->master) && status == SW_OK; i++)
    {
      int64_t copies = (int64_t)floor (sw_master_pattern_value (t->master, i) + SW_WHOLE);
      if (copies <= 0)
        continue;
      const sw_pattern *p = &t->pool.items[sw_master_pattern (t->master, i)];
      if (p->count == 0)
        continue;
      memset (t->pieces, 0, t->model->need_count * sizeof *t->pieces);
      for (uint32_t c = 0; c < p->count; c++)
        unfold (t, t->pool.entries[p->first + c].need, t->pool.entries[p->first + c].copies);
      const uint32_t count = sw_entries_of (t->entries, t->pieces, t->model->need_count);
      status = sw_solution_cut (solution, &s->pool, p->stock, t->entries, count, copies);
    }
  return status;
}

/* Offer the whole boards, with boards for the rest that are filled one after another. */
static sw_status
offer (sw_tree *t)
{
  sw_search *s = t->search;
  sw_solution start;
  sw_status status = read_whole (t, &start);
  if (status == SW_OK)
    status = sw_fill (s, &start, &s->root);
  sw_solution_clear (&start);
  return status;
}

/* ---- Splitting ------------------------------------------------------------------------- */

/* Find the stock whose number of boards is farthest from whole; SIZE_MAX: all are whole. */
static size_t
fractional_stock (sw_tree *t, double *boards)
{
  size_t at = SIZE_MAX;
  double best = SW_WHOLE;
  for (size_t i = 0; i < t->model->stock_count; i++)
    {
      double sum = 0;
      for (size_t p = 0; p < sw_master_patterns (t->master); p++)
        if (t->pool.items[sw_master_pattern (t->master, p)].stock == i)
          sum += sw_master_pattern_value (t->master, p);
      double off = fabs (sum - round (sum));
      if (off > best)
        {
          best = off;
          at = i;
          *boards = sum;
        }
    }
  return at;
}

static sw_status
split_stock (sw_tree *t, const sw_node *node, size_t stock, double boards)
{
  int64_t down = (int64_t)floor (boards);
  bool up_first = boards - floor (boards) >= 0.5;
  for (int i = 0; i < 2; i++)
    {
      sw_node *child = sw_tree_push (t, node);
      if (child == NULL)
        return SW_NO_MEMORY;
      if ((i == 1) == up_first)
        child->low[stock] = down + 1;
      else
        child->high[stock] = down;
    }
  return SW_OK;
}

/* Count how often each pair lies together; returns whether any board is a fraction. */
static bool
count_pairs (sw_tree *t)
{
  bool fractional = false;
  memset (t->together, 0, t->kind_room * t->kind_room * sizeof *t->together);
  for (size_t i = 0; i < sw_master_patterns (t->master); i++)
    {
      double x = sw_master_pattern_value (t->master, i);
      if (x < SW_WHOLE)
        continue;
      if (fabs (x - round (x)) > SW_WHOLE)
        fractional = true;
      const sw_pattern *p = &t->pool.items[sw_master_pattern (t->master, i)];
      const sw_entry *entries = &t->pool.entries[p->first];
      for (uint32_t c = 0; c < p->count; c++)
        for (uint32_t d = c; d < p->count; d++)
          if (d > c || entries[c].copies > 1)
            t->together[entries[c].need * t->kind_room + entries[d].need] += x;
    }
  return fractional;
}

/* Choose the pair whose number of boards is farthest from whole, the first of those, which has the longest piece; where
 * all are whole, any pair. */
static bool
choose_pair (const sw_tree *t, size_t *a, size_t *b)
{
  double best = -1;
  for (size_t i = 0; i < t->kind_count; i++)
    for (size_t j = i; j < t->kind_count; j++)
      {
        const double x = t->together[i * t->kind_room + j], off = fabs (x - round (x));
        if (x < SW_WHOLE || off <= best + SW_WHOLE)
          continue;
        best = off;
        *a = i;
        *b = j;
      }
  return best >= 0;
}

/* Say whether A and B are apart in NODE. */
static void
set_apart (const sw_tree *t, sw_node *node, size_t a, size_t b, bool apart)
{
  const size_t at[2] = { a * t->kind_room + b, b * t->kind_room + a };
  for (int i = 0; i < 2; i++)
    {
      uint8_t *bits = &node->apart[at[i] / 8];
      *bits = (uint8_t)(apart ? *bits | 1U << at[i] % 8 : *bits & ~(1U << at[i] % 8));
    }
}

/* The kind that A and B make together, new or one that NODE does not use; SIZE_MAX: there is no room for another, or
 * *STATUS is not SW_OK. */
static size_t
find_kind (sw_tree *t, const sw_node *node, size_t a, size_t b, sw_status *status)
{
  const size_t needs = t->model->need_count, rows = t->wide.need_count;
  for (size_t k = needs; k < t->kind_count; k++)
    if (t->kinds[k].a == a && t->kinds[k].b == b && node->demand[k] == 0)
      return k;
  /* Programmes with rows that are not in use take longer, so there are few of them at first. */
  if (t->kind_count == rows && rows < t->kind_room)
    *status = sw_tree_programme (t, 2 * rows - needs < t->kind_room ? 2 * rows - needs : t->kind_room);
  if (*status != SW_OK || t->kind_count == t->wide.need_count)
    return SIZE_MAX;
  t->kinds[t->kind_count] = (sw_kind){ .a = a, .b = b };
  t->wide.needs[t->kind_count] = (sw_need){ .size = t->wide.needs[a].size + t->wide.needs[b].size };
  return t->kind_count++;
}

/* Take the columns in use that have A and B, and add each with the new kind in their place. */
static sw_status
lay_together (sw_tree *t, size_t a, size_t b, size_t kind)
{
  const size_t count = sw_master_patterns (t->master);
  for (size_t i = 0; i < count && t->status == SW_OK; i++)
    {
      const sw_pattern p = t->pool.items[sw_master_pattern (t->master, i)];
      uint32_t n = 0, found = 0;
      for (uint32_t c = 0; c < p.count; c++)
        {
          sw_entry entry = t->pool.entries[p.first + c];
          const uint32_t most = (entry.need == a ? 1u : 0u) + (entry.need == b ? 1u : 0u);
          const uint32_t less = most < entry.copies ? most : entry.copies;
          found += entry.need == kind ? 3 : less; /* a board with that kind is of another part of the tree */
          entry.copies -= less;
          if (entry.copies > 0)
            t->entries[n++] = entry;
        }
      t->stock = p.stock;
      if (found == 2)
        sw_tree_take (t->entries, sw_entries_with (t->entries, n, (uint32_t)kind), 0, t);
    }
  return t->status;
}

static sw_status
split_pair (sw_tree *t, const sw_node *node, size_t a, size_t b)
{
  sw_node *child = sw_tree_push (t, node);
  if (child == NULL)
    return SW_NO_MEMORY;
  set_apart (t, child, a, b, true);
  sw_status status = SW_OK;
  const size_t kind = find_kind (t, node, a, b, &status);
  if (kind == SIZE_MAX)
    {
      t->incomplete = true;
      return status;
    }
  child = sw_tree_push (t, node);
  if (child == NULL)
    return SW_NO_MEMORY;
  child->demand[a]--;
  child->demand[b]--;
  child->demand[kind] = 1;
  for (size_t k = 0; k < t->kind_room; k++)
    {
      const bool apart
          = k != kind && (sw_apart (node->apart, t->kind_room, a, k) || sw_apart (node->apart, t->kind_room, b, k));
      set_apart (t, child, kind, k, apart);
    }
  return lay_together (t, a, b, kind);
}

sw_status
sw_tree_split (sw_tree *t, const sw_node *node)
{
  double boards = 0;
  size_t a = 0, b = 0, stock = fractional_stock (t, &boards);
  sw_status status = offer (t);
  if (status != SW_OK)
    return status;
  if (stock != SIZE_MAX)
    return split_stock (t, node, stock, boards);
  if (!count_pairs (t))
    {
      /* The solution is whole and has been offered.  The hard way it is the best of the node; else there may be a
       * better one, which is looked for next. */
      if (sw_search_best (t->search) > t->target)
        t->incomplete = true;
      else if (!t->search->hard_way && sw_tree_push (t, node) == NULL)
        return SW_NO_MEMORY;
      return SW_OK;
    }
  if (choose_pair (t, &a, &b))
    return split_pair (t, node, a, b);
  t->incomplete = true;
  return SW_OK;
}
