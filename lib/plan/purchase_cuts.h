/* purchase_cuts.h - what every order has to bring, whatever it costs
 *
 * Prices of pieces at which a model of the job was solved say what a board of
 * each length is worth at most, and what all pieces are worth at least.  So
 * the boards of any plan must be worth that much together, whatever they cost
 * and however many there are: a cut in the space of the numbers bought (J. F.
 * Benders, "Partitioning procedures for solving mixed-variables programming
 * problems", Numerische Mathematik 4 (1962); with Lagrangian bounds: A. M.
 * Geoffrion, "Generalized Benders decomposition", Journal of Optimization
 * Theory and Applications 10 (1972)).  A small linear programme over such cuts
 * bounds a node of the search without a job being planned.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PURCHASE_CUTS_H
#define SW_PURCHASE_CUTS_H

#include "plan/offer_node.h"
#include "solve/solve.h"

/* The boards of the cells are worth LEAST or more, with what the plan pays for the joins of PART.  All in 1 /
 * SW_CUT_SCALE of a cost. */
typedef struct sw_purchase_cut
{
  size_t part; /* the first section of its model */
  int64_t least;
  int64_t *worth; /* for each cell; SW_CUT_NOT_KNOWN: the cut holds where none of it is bought or on hand */
  size_t idle;    /* bounds since it last had a part in one */
} sw_purchase_cut;

#define SW_CUT_SCALE ((int64_t)1 << 20)
#define SW_CUT_NOT_KNOWN INT64_MAX

typedef struct sw_cuts
{
  size_t count, capacity;
  sw_purchase_cut *items;
} sw_cuts;

void sw_cuts_clear (sw_cuts *cuts);
/* Take the cut of MODEL, of the job of LINES, which was SOLVED. */
sw_status sw_cuts_learn (sw_cuts *cuts, const sw_offer_lines *lines, const sw_model *model, const sw_solved *solved);

/* Bound the cost of all plans that the node of LINES allows.  USUAL: about what such a plan costs.  *BOUNDED: there is
 * a bound; COUNT is then set, for each cell, to how many are bought in the solution of the linear programme. */
sw_status sw_cuts_bound (sw_cuts *cuts, const sw_offer_lines *lines, int64_t usual, sw_watch *watch, bool *bounded,
                         int64_t *bound, double *count);

#endif
