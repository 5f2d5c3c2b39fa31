/* branch.h - branch and price over the pieces of one section
 *
 * Ryan & Foster (1981) with lengths in place of single pieces: in one branch
 * one piece of each of two kinds lies on one board, as a piece of a new kind;
 * in the other no board has both.  Before that, the number of boards of each
 * stock is made whole.  Both leave pricing a knapsack, with pairs that
 * exclude each other.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_BRANCH_H
#define SW_BRANCH_H

#include "price/pair_pricer.h"
#include "solve/search.h"

/* Two kinds laid together: A and B, SIZE_MAX where it is a length of the model. */
typedef struct sw_kind
{
  size_t a, b;
} sw_kind;

/* A part of all solutions. */
typedef struct sw_node
{
  struct sw_node *next;
  int64_t *demand; /* a kind each; 0: not in use */
  int64_t *low;    /* boards, a stock each */
  int64_t *high;   /* -1: no limit */
  uint8_t *apart;  /* as sw_apart has it */
} sw_node;

typedef struct sw_tree
{
  sw_search *search;
  const sw_model *model;
  sw_model wide; /* the node at work as a model: kinds in place of needs, as many as the programme has rows for */
  sw_goal goal;  /* the cost of that */
  sw_prices prices;
  size_t kind_count, kind_room;
  sw_kind *kinds;
  sw_patterns pool;
  sw_master *master;
  uint64_t past_work; /* of masters that this one has replaced */
  sw_pair_pricer *pricer;
  sw_node *stack;
  double penalty;
  bool incomplete;  /* something was left out, so that there is no proof */
  int64_t *most;    /* a stock each: no board is worth more */
  double *together; /* kinds * kinds, in the programme's solution */
  size_t stock;     /* of the boards that are taken in */
  size_t added;
  sw_status status;
  int64_t *unfolded; /* a need each */
  int64_t *value;    /* a need each */
  sw_entry *entries; /* room for those of one board */
} sw_tree;

/* What became of a node. */
typedef enum sw_node_fate
{
  SW_CLOSED, /* nothing better is in it */
  SW_OPEN,   /* to be split */
  SW_GIVEN_UP
} sw_node_fate;

/* Take a board into the programme; DATA is the tree.  False: its status says why not. */
bool sw_tree_take (const sw_entry *entries, uint32_t count, int64_t value, void *data);

/* Solve the programme of NODE with all columns that it needs (branch_node.c).
 * SW_CLOSED only where an exact bound says so, or with t->incomplete set. */
sw_status sw_tree_solve (sw_tree *tree, const sw_node *node, sw_node_fate *fate);

#endif
