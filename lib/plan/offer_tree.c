/* offer_tree.c - the open nodes of the search over what is bought where
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/offer_tree.h"

#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

void
sw_offer_node_free (sw_offer_node *node)
{
  free (node->least);
  *node = (sw_offer_node){ .least = NULL };
}

sw_status
sw_offer_node_copy (const sw_offer_tree *t, const sw_offer_node *node, sw_offer_node *out)
{
  const size_t cells = t->buying.cell_count;
  int64_t *numbers = sw_alloc (2 * cells + 1, sizeof *numbers);
  if (numbers == NULL)
    return SW_NO_MEMORY;
  *out = node != NULL ? *node : (sw_offer_node){ .in = 0 };
  out->least = numbers;
  out->most = numbers + cells;
  for (size_t c = 0; c < cells; c++)
    {
      out->least[c] = node != NULL ? node->least[c] : 0;
      out->most[c] = node != NULL ? node->most[c] : t->buying.cells[c].most;
    }
  return SW_OK;
}

sw_status
sw_offer_open (sw_offer_tree *t, const sw_offer_node *node)
{
  sw_status status = sw_grow ((void **)&t->nodes, &t->capacity, t->count + 1, sizeof *t->nodes);
  if (status == SW_OK)
    status = sw_offer_node_copy (t, node, &t->nodes[t->count]);
  if (status == SW_OK)
    t->count++;
  return status;
}

sw_offer_node
sw_offer_take (sw_offer_tree *t)
{
  size_t at = 0;
  for (size_t i = 1; i < t->count; i++)
    if (t->nodes[i].bound <= t->nodes[at].bound)
      at = i;
  sw_offer_node taken = t->nodes[at];
  memmove (&t->nodes[at], &t->nodes[at + 1], (--t->count - at) * sizeof *t->nodes);
  return taken;
}

int64_t
sw_offer_next (const sw_offer_tree *t)
{
  int64_t least = INT64_MAX;
  for (size_t i = 0; i < t->count; i++)
    least = t->nodes[i].bound < least ? t->nodes[i].bound : least;
  return least;
}

int64_t
sw_offer_bound (const sw_offer_tree *t)
{
  const int64_t next = sw_offer_next (t), open = next < t->left_open ? next : t->left_open;
  return open < t->at_work ? open : t->at_work;
}

void
sw_offer_raise (const sw_offer_tree *t, sw_offer_node *node, int64_t bound)
{
  const int64_t unit = t->buying.unit;
  const int64_t whole = bound < INT64_MAX - unit ? (bound + unit - 1) / unit * unit : bound;
  node->bound = whole > node->bound ? whole : node->bound;
}

bool
sw_offer_is_done (const sw_offer_tree *t, const sw_offer_node *node, const sw_offer_plan *made)
{
  if (t->best.plan == NULL)
    return false;
  const sw_summary *best = &t->best.plan->summary;
  /* Fewer aligned pairs come first, whatever the cost. */
  if (made != NULL && made->plan->summary.aligned_bound > best->aligned)
    return true;
  return (made == NULL ? best->aligned == t->aligned_bound : made->plan->summary.aligned >= best->aligned)
         && node->bound >= t->best.cost;
}
