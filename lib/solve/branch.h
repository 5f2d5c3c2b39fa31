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

#include "solve/search.h"

/* A length, or two kinds laid together: A and B, SIZE_MAX where it is a length of the model. */
typedef struct sw_kind
{
  int64_t size;
  size_t a, b;
} sw_kind;

/* A part of all solutions. */
typedef struct sw_node
{
  struct sw_node *next;
  int64_t *demand; /* a kind each; 0: not in use */
  int64_t *low;    /* boards, a stock each */
  int64_t *high;   /* -1: no limit */
  uint8_t *apart;  /* kinds * kinds bits: no board has both; with itself: not twice */
} sw_node;

static inline bool
sw_node_apart (const sw_node *node, size_t kinds, size_t a, size_t b)
{
  size_t at = a * kinds + b;
  return node->apart[at / 8] >> at % 8 & 1;
}

/* ---- Pricing where some pairs exclude each other (branch_price.c) */

typedef struct sw_pair_pricer sw_pair_pricer;

sw_pair_pricer *sw_pair_pricer_new (size_t kinds);
void sw_pair_pricer_free (sw_pair_pricer *pricer);

/* Take the kinds of NODE in use, with VALUE (0 or more) each, for boards up to ROOM. */
sw_status sw_pair_pricer_load (sw_pair_pricer *pricer, const sw_node *node, const sw_kind *kinds, const int64_t *value,
                               int64_t room);

/* The most that one board with ROOM can be worth, in *BEST; FN is told of
 * boards worth more than FLOOR, each better than the one before, then of at
 * most MORE others.  SW_STOPPED: STEPS ran out, and *BEST is no bound. */
sw_status sw_pair_pricer_best (sw_pair_pricer *pricer, int64_t room, int64_t floor, size_t more, uint64_t *steps,
                               int64_t *best, sw_pattern_fn fn, void *data);

/* ---- The tree */

typedef struct sw_tree
{
  sw_search *search;
  const sw_model *model;
  sw_model wide; /* with rows for further kinds */
  size_t kind_count, kind_room;
  size_t row_room; /* kinds that the programme has rows for */
  sw_kind *kinds;
  sw_patterns pool;
  sw_master *master;
  uint64_t past_work; /* of masters that this one has replaced */
  sw_pair_pricer *pricer;
  sw_node *stack;
  uint64_t steps;
  double penalty;
  bool incomplete; /* something was left out: no proof */
  /* prices, scaled, and the most a board is worth */
  int64_t scale;
  int64_t *value, *dear, *cheap, *most; /* dear: of one board less; cheap: of one more that must be */
  double *together;                     /* kinds * kinds, in the programme's solution */
  size_t stock, added;
  sw_status status;
  int64_t *unfolded; /* a need each */
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
