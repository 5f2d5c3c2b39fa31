/* offer_node.h - one set of decisions on what is bought where, as a job in which each length has its price
 *
 * Where packs, falling prices and limits of several yards are in play, what n
 * of a length cost is no straight line.  So, between the least and the most
 * lengths that a node allows, the highest convex line below the true cost
 * takes its place.  It is made of steps: so many lengths at one price, then
 * others at a dearer one.  The least number of lengths is paid in any case and
 * then costs nothing, as if it were on hand.  So no plan that the node allows
 * costs more by the line than in truth, and the two costs are the same where
 * the line touches.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_OFFER_NODE_H
#define SW_OFFER_NODE_H

#include "plan/purchase.h"

typedef struct sw_offer_node
{
  sw_yard_set in;  /* paid yards that deliver in any case */
  sw_yard_set out; /* yards at which nothing is bought */
  int64_t *least;  /* for each cell: so many lengths are paid */
  int64_t *most;   /* for each cell: no more lengths are bought */
  int64_t bound;   /* no plan that the node allows costs less */
  bool thorough;   /* there is nothing left to branch on, so the solver is to prove of its job what it can */
} sw_offer_node;

/* Lengths up to number END, at PRICE each. */
typedef struct sw_offer_step
{
  int64_t end;
  int64_t price;
} sw_offer_step;

/* A node's convex lines, and the job that they make. */
typedef struct sw_offer_lines
{
  const sw_buying *buying;
  sw_costs costs;     /* the costs with all yards that are not out */
  sw_yard_set in;     /* the paid yards that deliver in any case */
  int64_t base;       /* what is paid in any case, with delivery */
  int64_t *paid;      /* for each cell: so many lengths come at the cost of the node's least */
  int64_t *last;      /* for each cell: no more can be bought */
  size_t *step_first; /* cell_count + 1 of them */
  size_t step_count, step_capacity;
  sw_offer_step *steps;
  sw_job job;      /* once sw_offer_lines_job has made it */
  size_t *cell_of; /* for each stock of the job */
} sw_offer_lines;

/* To be cleared even after a failure. */
sw_status sw_offer_lines_make (sw_offer_lines *out, sw_buying *buying, const sw_offer_node *node);
/* Make the job. */
sw_status sw_offer_lines_job (sw_offer_lines *lines);
void sw_offer_lines_clear (sw_offer_lines *lines);
/* What COUNT of CELL cost by the lines beyond what is paid; COUNT is at most the last. */
int64_t sw_offer_lines_at (const sw_offer_lines *lines, size_t cell, int64_t count);
/* What COUNT of CELL, which need not be whole, cost in truth (straight between whole numbers) beyond what they cost by
 * the line through the numbers at which both are the same. */
double sw_offer_lines_gap (const sw_offer_lines *lines, size_t cell, double count);
/* Are the lines equal to the true costs? */
bool sw_offer_lines_exact (const sw_offer_lines *lines);
/* Find where to cut the range of CELL in two, below *CUT and from *CUT on, so that what COUNT of it cost by the lines
 * comes as near to the truth as possible.  False: there is no such place. */
bool sw_offer_lines_cut (const sw_offer_lines *lines, size_t cell, int64_t count, int64_t *cut);

#endif
