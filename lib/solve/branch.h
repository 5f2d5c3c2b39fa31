/* branch.h - branch and price over the pieces of one section
 *
 * This is the branching of Ryan & Foster (1981), with lengths in place of
 * single pieces.  In one branch, one piece of each of two kinds lies on one
 * board, as a piece of a new kind; in the other, no board has both.  Before
 * that, the number of boards of each stock is made whole.  In either case
 * pricing is still a knapsack, with pairs that exclude each other.
 *
 * A tree looks for solutions that cost no more than its target.  Their boards
 * have little waste, and no others are priced (after da Silva & Schouery 2025).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_BRANCH_H
#define SW_BRANCH_H

#include "price/pair_pricer.h"
#include "solve/search.h"

/* Two kinds, A and B, laid together; A and B are SIZE_MAX where the kind is a length of the model. */
typedef struct sw_kind
{
  size_t a, b;
} sw_kind;

/* A node: one part of all solutions. */
typedef struct sw_node
{
  struct sw_node *next;
  int64_t *demand; /* for each kind; 0: not in use */
  int64_t *low;    /* for each stock: the least number of boards */
  int64_t *high;   /* -1: no limit */
  uint8_t *apart;  /* bits of pairs, as for sw_apart */
} sw_node;

typedef struct sw_tree
{
  sw_search *search;
  const sw_model *model;
  int64_t target; /* solutions that cost no more are looked for, */
  int64_t waste;  /* and no board of theirs has more left */
  sw_model wide;  /* the node at work as a model: kinds in place of needs, as many as the programme has rows for */
  sw_goal goal;   /* the cost of that model */
  sw_prices prices;
  size_t kind_count, kind_room;
  sw_kind *kinds;
  sw_patterns pool;
  sw_master *master;
  uint64_t past_work; /* work of the masters that this one has replaced */
  sw_pair_pricer *pricer;
  sw_node *stack;
  double penalty;
  bool incomplete;  /* something was left out, so there is no proof */
  double *together; /* kinds * kinds: how often two lie together in the programme's solution */
  size_t stock;     /* stock of the boards that are taken in */
  size_t added;
  sw_status status;
  int64_t *pieces;   /* a need each: how many a board has, or what one is worth */
  sw_entry *entries; /* room for the entries of one board */
} sw_tree;

/* What became of a node. */
typedef enum sw_node_fate
{
  SW_CLOSED, /* it has no solution that costs no more than the target */
  SW_OPEN,   /* to be split */
  SW_GIVEN_UP
} sw_node_fate;

/* branch_node.c */
/* Put a copy of FROM (NULL: an empty node) on the stack; NULL when memory runs out. */
sw_node *sw_tree_push (sw_tree *tree, const sw_node *from);
/* Make a programme with rows for ROWS kinds and all boards met so far, in place of the old one. */
sw_status sw_tree_programme (sw_tree *tree, size_t rows);
/* Take a board into the programme; DATA is the tree.  False: the tree's status says why not. */
bool sw_tree_take (const sw_entry *entries, uint32_t count, int64_t value, void *data);

/* Solve the programme of NODE with all columns that it needs.  The fate is SW_CLOSED only where an
 * exact bound says so, or else t->incomplete is set. */
sw_status sw_tree_solve (sw_tree *tree, const sw_node *node, sw_node_fate *fate);

/* Offer the whole boards of NODE's programme with others for the rest, then put the two halves of NODE on the stack
 * (branch_split.c). */
sw_status sw_tree_split (sw_tree *tree, const sw_node *node);

#endif
