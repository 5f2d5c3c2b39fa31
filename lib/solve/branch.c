/* branch.c - branch and price over the pieces of one section: the tree
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/branch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "solve/fill.h"
#include "solve/steps.h"
#include "model/tuning.h"

/* ---- Nodes ----------------------------------------------------------------------- */

static void
node_free (sw_node *node)
{
  if (node == NULL)
    return;
  free (node->demand);
  free (node->low);
  free (node->high);
  free (node->apart);
  free (node);
}

/* Push a copy of FROM (NULL: an empty node) on the stack. */
static sw_node *
push (sw_tree *t, const sw_node *from)
{
  size_t k = t->kind_room, s = t->model->stock_count;
  sw_node *node = sw_alloc (1, sizeof *node);
  if (node == NULL)
    return NULL;
  node->demand = sw_alloc (k, sizeof *node->demand);
  node->low = sw_alloc (s, sizeof *node->low);
  node->high = sw_alloc (s, sizeof *node->high);
  node->apart = sw_alloc (k * k / 8 + 1, 1);
  if (!node->demand || !node->low || !node->high || !node->apart)
    {
      node_free (node);
      return NULL;
    }
  if (from != NULL)
    {
      memcpy (node->demand, from->demand, k * sizeof *node->demand);
      memcpy (node->low, from->low, s * sizeof *node->low);
      memcpy (node->high, from->high, s * sizeof *node->high);
      memcpy (node->apart, from->apart, k * k / 8 + 1);
    }
  node->next = t->stack;
  t->stack = node;
  return node;
}

static void
set_apart (const sw_tree *t, sw_node *node, size_t a, size_t b)
{
  size_t at = a * t->kind_room + b, back = b * t->kind_room + a;
  node->apart[at / 8] |= (uint8_t)(1U << at % 8);
  node->apart[back / 8] |= (uint8_t)(1U << back % 8);
}

static void
clear_apart (const sw_tree *t, sw_node *node, size_t a, size_t b)
{
  size_t at = a * t->kind_room + b, back = b * t->kind_room + a;
  node->apart[at / 8] &= (uint8_t) ~(1U << at % 8);
  node->apart[back / 8] &= (uint8_t) ~(1U << back % 8);
}

/* Make a programme with rows for ROWS kinds and all boards met so far, in place of the old one. */
static sw_status
make_master (sw_tree *t, size_t rows)
{
  sw_master *master = NULL;
  t->wide.need_count = rows;
  sw_status status = sw_master_new_lp (&master, &t->wide, &t->pool, NULL, 0, SW_AIM_COST, t->search->beside);
  for (size_t i = 0; i < t->pool.count && status == SW_OK; i++)
    status = sw_master_add (master, i, NULL);
  if (status != SW_OK)
    {
      sw_master_free (master);
      return status;
    }
  if (t->master != NULL)
    t->past_work += sw_master_work (t->master);
  sw_master_free (t->master);
  t->master = master;
  sw_master_penalty (master, t->penalty);
  return SW_OK;
}

/* Find in *KIND the kind that A and B make together, or make it; NODE must not use it yet.  SIZE_MAX: there is no room
 * for another kind. */
static sw_status
find_kind (sw_tree *t, const sw_node *node, size_t a, size_t b, size_t *kind)
{
  for (size_t k = t->model->need_count; k < t->kind_count; k++)
    if (t->kinds[k].a == a && t->kinds[k].b == b && node->demand[k] == 0)
      {
        *kind = k;
        return SW_OK;
      }
  *kind = SIZE_MAX;
  if (t->kind_count == t->kind_room)
    return SW_OK;
  size_t rows = t->model->need_count + 2 * (t->wide.need_count - t->model->need_count);
  sw_status status = SW_OK;
  if (t->kind_count == t->wide.need_count)
    status = make_master (t, rows < t->kind_room ? rows : t->kind_room);
  if (status != SW_OK)
    return status;
  *kind = t->kind_count++;
  t->kinds[*kind] = (sw_kind){ .a = a, .b = b };
  t->wide.needs[*kind] = (sw_need){ .size = t->wide.needs[a].size + t->wide.needs[b].size };
  return SW_OK;
}

/* ---- Solutions --------------------------------------------------------------------- */

static void
unfold (sw_tree *t, size_t kind, int64_t copies) /* NOLINT(misc-no-recursion): no deeper than the pieces on a board */
{
  if (t->kinds[kind].a == SIZE_MAX)
    {
      t->unfolded[kind] += copies;
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
      memset (t->unfolded, 0, t->model->need_count * sizeof *t->unfolded);
      for (uint32_t c = 0; c < p->count; c++)
        unfold (t, t->pool.entries[p->first + c].need, t->pool.entries[p->first + c].copies);
      uint32_t count = 0;
      for (size_t n = 0; n < t->model->need_count; n++)
        if (t->unfolded[n] > 0)
          t->entries[count++] = (sw_entry){ .need = (uint32_t)n, .copies = (uint32_t)t->unfolded[n] };
      size_t pattern;
      status = sw_patterns_add (&s->pool, p->stock, t->entries, count, &pattern, NULL);
      if (status == SW_OK)
        status = sw_solution_add (solution, pattern, copies);
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
  sw_value_pieces (&s->root, t->value);
  if (status == SW_OK)
    status = sw_fill (s, &start, t->value);
  sw_solution_clear (&start);
  return status;
}

/* ---- Splitting ------------------------------------------------------------------------- */

/* Find the stock whose number of boards is farthest from whole; SIZE_MAX: all are whole. */
static size_t
fractional_stock (sw_tree *t, double *boards)
{
  size_t at = SIZE_MAX;
  double best = 0.001;
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
      sw_node *child = push (t, node);
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

/* Choose the pair to split on: preferably one whose number of boards is a fraction near a half, and a long one; where
 * all are whole, any pair. */
static bool
choose_pair (const sw_tree *t, size_t *a, size_t *b)
{
  double best = -1;
  for (size_t i = 0; i < t->kind_count; i++)
    for (size_t j = i; j < t->kind_count; j++)
      {
        double x = t->together[i * t->kind_room + j];
        if (x < SW_WHOLE)
          continue;
        double off = fabs (x - round (x));
        double size = (double)(t->wide.needs[i].size + t->wide.needs[j].size) / (double)t->model->stocks[0].room;
        double worth = (off > 0.01 ? 10 : 0) + off + size;
        if (worth > best)
          {
            best = worth;
            *a = i;
            *b = j;
          }
      }
  return best >= 0;
}

/* Take the columns in use that have A and B, and add each with the new kind in their place. */
static sw_status
lay_together (sw_tree *t, size_t a, size_t b, size_t kind)
{
  size_t count = sw_master_patterns (t->master);
  for (size_t i = 0; i < count && t->status == SW_OK; i++)
    {
      sw_pattern p = t->pool.items[sw_master_pattern (t->master, i)];
      uint32_t n = 0;
      int found = 0;
      sw_entry *entries = sw_alloc (p.count + 1, sizeof *entries);
      if (entries == NULL)
        return SW_NO_MEMORY;
      for (uint32_t c = 0; c < p.count; c++)
        {
          sw_entry entry = t->pool.entries[p.first + c];
          uint32_t less = (entry.need == a ? 1u : 0u) + (entry.need == b ? 1u : 0u);
          if (entry.copies < less || entry.need == kind)
            {
              found = 3; /* a column of another part of the tree */
              break;
            }
          found += (int)less;
          entry.copies -= less;
          if (entry.copies > 0)
            entries[n++] = entry;
        }
      uint32_t at = n;
      for (; at > 0 && entries[at - 1].need > kind; at--)
        entries[at] = entries[at - 1];
      entries[at] = (sw_entry){ .need = (uint32_t)kind, .copies = 1 };
      t->stock = p.stock;
      if (found == 2)
        sw_tree_take (entries, n + 1, 0, t);
      free (entries);
    }
  return t->status;
}

static sw_status
split_pair (sw_tree *t, const sw_node *node, size_t a, size_t b)
{
  sw_node *child = push (t, node);
  if (child == NULL)
    return SW_NO_MEMORY;
  set_apart (t, child, a, b);
  size_t kind;
  sw_status status = find_kind (t, node, a, b, &kind);
  if (status != SW_OK)
    return status;
  child = push (t, node);
  if (child == NULL)
    return SW_NO_MEMORY;
  if (kind == SIZE_MAX)
    {
      t->incomplete = true;
      t->stack = child->next;
      node_free (child);
      return SW_OK;
    }
  child->demand[a]--;
  child->demand[b]--;
  child->demand[kind] = 1;
  for (size_t k = 0; k < t->kind_room; k++)
    {
      clear_apart (t, child, kind, k);
      if (k != kind && (sw_apart (node->apart, t->kind_room, a, k) || sw_apart (node->apart, t->kind_room, b, k)))
        set_apart (t, child, kind, k);
    }
  return lay_together (t, a, b, kind);
}

static sw_status
split (sw_tree *t, const sw_node *node)
{
  double boards = 0;
  size_t a = 0, b = 0, stock = fractional_stock (t, &boards);
  sw_status status = offer (t);
  if (status != SW_OK)
    return status;
  if (stock != SIZE_MAX)
    return split_stock (t, node, stock, boards);
  if (!count_pairs (t))
    return SW_OK; /* the solution is whole and has been offered */
  if (choose_pair (t, &a, &b))
    return split_pair (t, node, a, b);
  t->incomplete = true;
  return SW_OK;
}

/* ---- The tree ------------------------------------------------------------------------ */

static sw_status
begin (sw_tree *t, sw_search *s)
{
  const sw_model *model = s->model;
  size_t rooms = model->need_count + SW_MORE_KINDS;
  *t = (sw_tree){ .search = s, .model = model, .wide = *model, .kind_room = rooms };
  t->goal = (sw_goal){ .model = &t->wide, .aim = SW_AIM_COST, .caps = { -1, -1, -1 } };
  t->wide.need_count = rooms;
  t->wide.needs = sw_alloc (rooms, sizeof *t->wide.needs);
  t->wide.stocks = sw_alloc (model->stock_count, sizeof *t->wide.stocks);
  t->kinds = sw_alloc (rooms, sizeof *t->kinds);
  t->value = sw_alloc (model->need_count, sizeof *t->value);
  t->entries = sw_alloc (rooms, sizeof *t->entries);
  t->most = sw_alloc (model->stock_count, sizeof *t->most);
  t->together = sw_alloc (rooms * rooms, sizeof *t->together);
  t->unfolded = sw_alloc (model->need_count, sizeof *t->unfolded);
  t->pricer = sw_pair_pricer_new (rooms);
  if (!t->wide.needs || !t->wide.stocks || !t->kinds || !t->value || !t->entries || !t->most || !t->together
      || !t->unfolded || !t->pricer)
    return SW_NO_MEMORY;
  memcpy (t->wide.stocks, model->stocks, model->stock_count * sizeof *model->stocks);
  memcpy (t->wide.needs, model->needs, model->need_count * sizeof *model->needs);
  t->kind_count = model->need_count;
  for (size_t n = 0; n < model->need_count; n++)
    t->kinds[n] = (sw_kind){ .a = SIZE_MAX, .b = SIZE_MAX };
  t->penalty = 1;
  for (size_t i = 0; i < model->stock_count; i++)
    if (10 * (double)model->stocks[i].cost > t->penalty)
      t->penalty = 10 * (double)model->stocks[i].cost;
  sw_status status = sw_prices_init (&t->prices, &t->goal, true);
  if (status == SW_OK)
    status = make_master (t, model->need_count + SW_MORE_KINDS / 10);
  sw_node *root = status == SW_OK ? push (t, NULL) : NULL;
  if (root == NULL)
    return status == SW_OK ? SW_NO_MEMORY : status;
  for (size_t n = 0; n < model->need_count; n++)
    root->demand[n] = model->needs[n].demand;
  for (size_t i = 0; i < model->stock_count; i++)
    root->high[i] = model->stocks[i].limit;
  return SW_OK;
}

/* Take in patterns of the search's MASTER that are worth nearly what they cost. */
static sw_status
take_near (sw_tree *t, const sw_master *master)
{
  const sw_search *s = t->search;
  for (size_t i = 0; i < sw_master_patterns (master) && t->status == SW_OK; i++)
    {
      const size_t pattern = sw_master_pattern (master, i);
      const sw_pattern *p = &s->pool.items[pattern];
      t->stock = p->stock;
      if (sw_prices_loss (&s->root, &s->pool, pattern) <= sw_prices_stock (&s->root, p->stock) / 100)
        sw_tree_take (&s->pool.entries[p->first], p->count, 0, t);
    }
  /* Add an empty board of each stock, so that a least number of boards can always be reached. */
  for (t->stock = 0; t->stock < t->model->stock_count && t->status == SW_OK; t->stock++)
    sw_tree_take (t->entries, 0, 0, t);
  return t->status;
}

static void
end (sw_tree *t)
{
  while (t->stack != NULL)
    {
      sw_node *node = t->stack;
      t->stack = node->next;
      node_free (node);
    }
  sw_master_free (t->master);
  sw_patterns_clear (&t->pool);
  sw_pair_pricer_free (t->pricer);
  sw_prices_clear (&t->prices);
  free (t->wide.needs);
  free (t->wide.stocks);
  free (t->kinds);
  free (t->value);
  free (t->entries);
  free (t->most);
  free (t->together);
  free (t->unfolded);
}

static sw_status
run (sw_tree *t, int64_t nodes, uint64_t work)
{
  sw_search *s = t->search;
  sw_status status = SW_OK;
  while (t->stack != NULL && status == SW_OK)
    {
      sw_node *node = t->stack;
      sw_node_fate fate;
      if (sw_search_done (s) && !s->hard_way)
        return SW_OK;
      if (nodes-- == 0 || t->past_work + sw_master_work (t->master) > work || sw_watch_stop (s->watch))
        {
          t->incomplete = true;
          return SW_OK;
        }
      t->stack = node->next;
      status = sw_tree_solve (t, node, &fate);
      if (status == SW_OK && fate == SW_OPEN)
        status = split (t, node);
      node_free (node);
      if (fate == SW_GIVEN_UP)
        {
          t->incomplete = true;
          return status;
        }
    }
  return status;
}

sw_status
sw_branch (const sw_programme *p, int64_t nodes, uint64_t work)
{
  sw_search *s = p->search;
  const sw_model *model = s->model;
  for (size_t i = 0; i < model->stock_count; i++)
    if (model->stocks[i].whole != 0)
      return SW_OK; /* pairs say nothing of boards that are used without a cut */
  if (s->goal.aim != SW_AIM_COST || !s->best.valid || !s->root.valid || model->option_count > 0
      || model->section_count != 1 || model->need_count > SW_KINDS_NEEDS)
    return SW_OK;
  sw_tree t;
  sw_status status = begin (&t, s);
  if (status == SW_OK)
    status = take_near (&t, p->master);
  if (status == SW_OK)
    status = run (&t, nodes, work);
  if (status == SW_OK && !t.incomplete && t.stack == NULL)
    s->bound = sw_search_best (s);
  end (&t);
  return status;
}
