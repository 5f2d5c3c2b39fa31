/* offer_tree.h - the search over what is bought where: its open nodes, and how a node is cut in two
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_OFFER_TREE_H
#define SW_OFFER_TREE_H

#include "base/watch.h"
#include "plan/offer_plan.h"
#include "plan/purchase_cuts.h"

typedef struct sw_offer_tree
{
  const sw_job *job;
  sw_watch watch;
  sw_buying buying;
  sw_cuts cuts;
  size_t count, capacity;
  sw_offer_node *nodes;  /* that are open */
  sw_offer_plan best;    /* as it was made for the job of its node */
  int64_t at_work;       /* the bound of the node at work; INT64_MAX: none is */
  int64_t left_open;     /* the least bound of the nodes that were given up; INT64_MAX: there is none */
  int64_t aligned_bound; /* no plan has fewer aligned pairs */
} sw_offer_tree;

void sw_offer_node_free (sw_offer_node *node);
/* Copy NODE (NULL: a node that allows everything). */
sw_status sw_offer_node_copy (const sw_offer_tree *tree, const sw_offer_node *node, sw_offer_node *out);

sw_status sw_offer_open (sw_offer_tree *tree, const sw_offer_node *node);
/* Take the open node with the least bound; of several, the one that was opened last, because it is the deepest. */
sw_offer_node sw_offer_take (sw_offer_tree *tree);
/* The least bound of the open nodes; then: with the one at work and those that were given up, a bound of all that is
 * left. */
int64_t sw_offer_next (const sw_offer_tree *tree);
int64_t sw_offer_bound (const sw_offer_tree *tree);
/* Raise the bound of NODE to BOUND, rounded up, because a cost is a whole number of units. */
void sw_offer_raise (const sw_offer_tree *tree, sw_offer_node *node, int64_t bound);
/* Has NODE nothing of use?  MADE: the plan of its job; NULL: it is not known. */
bool sw_offer_is_done (const sw_offer_tree *tree, const sw_offer_node *node, const sw_offer_plan *made);

/* Cut NODE in two where MADE, the plan of its job, costs more in truth, or drop it where MADE is all that it has. */
sw_status sw_offer_branch (sw_offer_tree *tree, sw_offer_node *node, const sw_offer_lines *lines,
                           const sw_offer_plan *made);
/* Bound NODE by the cuts that are known.  *SETTLED: its job need not be planned now, because it is done, or because it
 * was opened again or cut in two. */
sw_status sw_offer_look (sw_offer_tree *tree, sw_offer_node *node, const sw_offer_lines *lines, bool *settled);

#endif
