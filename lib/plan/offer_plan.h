/* offer_plan.h - a plan for a node's job, priced in truth
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_OFFER_PLAN_H
#define SW_OFFER_PLAN_H

#include "plan/offer_node.h"

typedef struct sw_offer_plan
{
  sw_plan *plan;          /* NULL: there is none */
  int64_t *needed;        /* a cell each: boards that are bought */
  sw_purchase *purchases; /* a row of the whole job's stock each: the cheapest way to buy those */
  int64_t cost;           /* of timber, delivery and joins */
  bool bill_exact;        /* it is the cheapest way */
  bool proved;            /* no plan for the node's job costs less by its prices */
  bool exact_here;        /* nor in truth, of those that the node allows */
  bool whole;             /* fewer joins and boards were looked for too, in all that there is */
  sw_offer_node node;     /* that it is of; least NULL: not kept */
} sw_offer_plan;

/* MADE->plan was made for the job of LINES: which of its boards are bought, and what they cost.  Its boards' stock
 * becomes that of the whole job. */
sw_status sw_offer_plan_price (sw_offer_plan *made, sw_buying *buying, const sw_offer_lines *lines);
/* Is A better than B: fewer pairs that line up, less cost, fewer joins, fewer boards? */
bool sw_offer_plan_better (const sw_offer_plan *a, const sw_offer_plan *b);
/* Make a plan of the whole job of it: which boards come from hand, what is bought where, its figures. */
sw_status sw_offer_plan_finish (sw_offer_plan *made, const sw_buying *buying);
void sw_offer_plan_clear (sw_offer_plan *made);

#endif
