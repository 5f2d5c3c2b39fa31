/* offer_plan.h - a plan for a node's job, priced in truth
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_OFFER_PLAN_H
#define SW_OFFER_PLAN_H

#include "plan/offer_node.h"

typedef struct sw_offer_plan
{
  sw_plan *plan;          /* NULL: there is none */
  int64_t *needed;        /* for each cell: boards that are bought */
  sw_purchase *purchases; /* for each stock of the whole job: the cheapest way to buy those boards */
  int64_t cost;           /* cost of timber, delivery and joins */
  bool bill_exact;        /* the purchases are the cheapest way */
  bool proved;            /* no plan for the node's job costs less at its prices */
  bool exact_here;        /* no plan that the node allows costs less in truth */
  bool whole;             /* the search was for fewer joins and boards too, among all plans */
  sw_offer_node node;     /* the node of the plan; where its least is NULL, no node was kept */
} sw_offer_plan;

/* MADE->plan was made for the job of LINES.  Find out which of its boards are bought and what they cost.  The boards'
 * stock becomes that of the whole job. */
sw_status sw_offer_plan_price (sw_offer_plan *made, sw_buying *buying, const sw_offer_lines *lines);
/* Is A better than B: fewer aligned pairs, then less cost, then fewer joins, then fewer boards? */
bool sw_offer_plan_better (const sw_offer_plan *a, const sw_offer_plan *b);
/* Turn it into a plan of the whole job: which boards come from hand, what is bought where, and the figures. */
sw_status sw_offer_plan_finish (sw_offer_plan *made, const sw_buying *buying);
void sw_offer_plan_clear (sw_offer_plan *made);

#endif
