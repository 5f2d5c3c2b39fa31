/* offer_node.h - one set of decisions on what is bought where, as a job in which each length has its price
 *
 * What n of a length cost is no straight line where packs, falling prices and
 * limits of several yards are in play.  Between the least and the most of it
 * that a node allows, the highest convex line below it takes its place: steps
 * of so many at a price each, which dearer ones follow.  The least is paid in
 * any case and then costs nothing: as if it were on hand.  So a plan for the
 * job of a node costs no more there than any plan that the node allows costs
 * in truth, and the two are the same where the line touches.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_OFFER_NODE_H
#define SW_OFFER_NODE_H

#include "plan/purchase.h"

typedef struct sw_offer_node
{
  sw_yard_set in;  /* paid yards that deliver in any case */
  sw_yard_set out; /* yards that nothing is bought at */
  int64_t *least;  /* a cell each: so many are paid */
  int64_t *most;   /* and no more are bought */
  int64_t bound;   /* no plan that it allows costs less */
  bool thorough;   /* there is nothing more to branch on: all that can be proved of its job is wanted */
} sw_offer_node;

/* So many lengths, up to END, at PRICE each. */
typedef struct sw_offer_step
{
  int64_t end;
  int64_t price;
} sw_offer_step;

/* A node's convex lines, and the job that they make. */
typedef struct sw_offer_lines
{
  const sw_buying *buying;
  sw_costs costs;        /* of the yards that are not out */
  int64_t base;          /* what is paid in any case, delivery too */
  int64_t *paid;         /* a cell each: so many are, at the cost of the node's least */
  int64_t *last;         /* and no more can be bought */
  size_t *step_first;    /* cell_count + 1 of them */
  size_t step_count, step_capacity;
  sw_offer_step *steps;
  sw_job job;
  size_t *cell_of;       /* a row of job's stocks each */
} sw_offer_lines;

/* Clear it after a failure too. */
sw_status sw_offer_lines_make (sw_offer_lines *out, sw_buying *buying, const sw_offer_node *node);
void sw_offer_lines_clear (sw_offer_lines *lines);
/* What COUNT of CELL cost by the lines, from what is paid on; COUNT is no more than the last. */
int64_t sw_offer_lines_at (const sw_offer_lines *lines, size_t cell, int64_t count);
/* Are the lines the costs themselves? */
bool sw_offer_lines_exact (const sw_offer_lines *lines);
/* Where the range of CELL is best cut in two, so that what COUNT of it cost by the lines comes nearer to the truth: below
 * and from *CUT on.  False: nowhere. */
bool sw_offer_lines_cut (const sw_offer_lines *lines, size_t cell, int64_t count, int64_t *cut);

#endif
