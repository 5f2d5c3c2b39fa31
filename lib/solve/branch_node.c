/* branch_node.c - branch and price: nodes, the programme of one, and its bound
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/branch.h"
#include "model/tuning.h"

#include <string.h>

#include "base/memory.h"

/* ---- Nodes ----------------------------------------------------------------------- */

sw_node *
sw_tree_push (sw_tree *t, const sw_node *from)
{
  const size_t k = t->kind_room, s = t->model->stock_count, bytes = (k + 2 * s) * sizeof (int64_t) + k * k / 8 + 1;
  sw_node *node = sw_alloc (1, sizeof *node + bytes);
  if (node == NULL)
    return NULL;
  if (from != NULL)
    memcpy (node + 1, from + 1, bytes);
  node->demand = (int64_t *)(node + 1);
  node->low = node->demand + k;
  node->high = node->low + s;
  node->apart = (uint8_t *)(node->high + s);
  node->next = t->stack;
  t->stack = node;
  return node;
}

sw_status
sw_tree_programme (sw_tree *t, size_t rows)
{
  sw_master *master = NULL;
  t->wide.need_count = rows;
  sw_status status = sw_master_new_lp (&master, &t->goal, &t->pool, NULL, 0, t->search->beside);
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

/* ---- The programme of a node --------------------------------------------------- */

/* Pattern I has no pair that NODE excludes, and no more of a kind than NODE needs. */
static bool
allowed (const sw_tree *t, const sw_node *node, const sw_pattern *p)
{
  const sw_entry *entries = &t->pool.entries[p->first];
  for (uint32_t c = 0; c < p->count; c++)
    {
      if (entries[c].copies > node->demand[entries[c].need])
        return false;
      if (entries[c].copies > 1 && sw_apart (node->apart, t->kind_room, entries[c].need, entries[c].need))
        return false;
      for (uint32_t d = 0; d < c; d++)
        if (sw_apart (node->apart, t->kind_room, entries[c].need, entries[d].need))
          return false;
    }
  return true;
}

/* Put NODE into the tree's wide model and into the programme. */
static void
enter (sw_tree *t, const sw_node *node)
{
  for (size_t k = 0; k < t->kind_room; k++)
    t->wide.needs[k].demand = node->demand[k];
  for (size_t k = 0; k < t->wide.need_count; k++)
    sw_master_demand (t->master, k, (double)node->demand[k]);
  for (size_t i = 0; i < t->model->stock_count; i++)
    {
      t->wide.stocks[i].limit = node->high[i];
      sw_master_stock (t->master, i, node->low[i], node->high[i]);
    }
  for (size_t i = 0; i < sw_master_patterns (t->master); i++)
    sw_master_bound_pattern (t->master, i, 0,
                             allowed (t, node, &t->pool.items[sw_master_pattern (t->master, i)]) ? -1 : 0);
}

bool
sw_tree_take (const sw_entry *entries, uint32_t count, int64_t value, void *data)
{
  sw_tree *t = data;
  size_t pattern;
  bool new_one;
  (void)value;
  t->status = sw_patterns_add (&t->pool, (uint32_t)t->stock, entries, count, &pattern, NULL);
  if (t->status == SW_OK)
    t->status = sw_master_add (t->master, pattern, &new_one);
  if (t->status == SW_OK && new_one)
    t->added++;
  return t->status == SW_OK;
}

/* Add columns at the present prices.  SW_STOPPED: it is too much work. */
static sw_status
price (sw_tree *t, const sw_node *node)
{
  const int64_t longest = sw_model_longest (t->model, &t->model->sections[0]);
  t->added = 0;
  sw_status status = sw_pair_pricer_load (t->pricer, &t->wide, node->apart, t->prices.need, longest, t->waste);
  for (size_t i = 0; i < t->model->stock_count && status == SW_OK; i++)
    {
      uint64_t steps = SW_CLOSING_WORK;
      if (sw_watch_stop (t->search->watch))
        return SW_STOPPED;
      t->stock = i;
      status = sw_pair_pricer_best (t->pricer, t->model->stocks[i].room, sw_prices_floor (&t->prices, i), SW_COLUMNS,
                                    &steps, &t->prices.worth[i], sw_tree_take, t);
      if (t->status != SW_OK)
        return t->status;
    }
  return status;
}

/* Make the prices safe; returns a whole number that no solution of NODE is under. */
static int64_t
bound_of (sw_tree *t, const sw_node *node)
{
  sw_prices_make_safe (&t->prices);
  t->prices.bound = sw_prices_fixed (&t->prices, node->low);
  return sw_prices_whole (&t->prices);
}

/* ---- One node ------------------------------------------------------------------------ */

sw_status
sw_tree_solve (sw_tree *t, const sw_node *node, sw_node_fate *fate)
{
  *fate = SW_GIVEN_UP;
  enter (t, node);
  for (int raised = 0;;)
    {
      sw_lp outcome;
      sw_status status = sw_master_lp (t->master, t->search->watch, &outcome);
      if (status != SW_OK || outcome == SW_LP_STOPPED)
        return status;
      if (outcome == SW_LP_INFEASIBLE)
        {
          /* Either too many boards must be cut, or only a rounding error keeps the node open: give up the proof. */
          t->incomplete = true;
          *fate = SW_CLOSED;
          return SW_OK;
        }
      sw_master_prices (t->master, t->penalty, &t->prices);
      status = price (t, node);
      if (status != SW_OK)
        return status == SW_STOPPED ? SW_OK : status;
      const int64_t bound = bound_of (t, node);
      if (bound > t->target)
        {
          *fate = SW_CLOSED;
          return SW_OK;
        }
      bool covered = sw_master_uncovered (t->master) < SW_WHOLE;
      /* No bound of this node is over the programme's value; the hard way is to solve it nevertheless. */
      if (covered && sw_master_value (t->master) - SW_WHOLE <= (double)(t->search->hard_way ? bound : t->target))
        break;
      if (t->added > 0)
        continue;
      if (covered)
        break;
      if (raised++ == SW_PENALTY_STEPS)
        {
          t->incomplete = true;
          *fate = SW_CLOSED;
          return SW_OK;
        }
      t->penalty *= SW_PENALTY;
      sw_master_penalty (t->master, t->penalty);
    }
  *fate = SW_OPEN;
  return SW_OK;
}
