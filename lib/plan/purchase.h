/* purchase.h - what so many lengths cost, wherever they are bought
 *
 * Where yards, packs and prices that fall are in play, a length costs what the
 * cheapest way to buy so many of it costs, of the yards that may be used: a
 * table for each length, made by dynamic programming over the yards.  Delivery
 * and least orders are of whole yards, and looked at when all numbers are known.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PURCHASE_H
#define SW_PURCHASE_H

#include "plan/plan.h"

/* A set of yards, a bit each.  Where the job has no yards: bit 0, whatever is bought. */
typedef uint32_t sw_yard_set;

/* More than this cannot be had. */
#define SW_NOT_TO_BE_HAD (INT64_MAX / 4)

/* One length of one section: rows of the stock that differ only in their yard. */
typedef struct sw_purchase_cell
{
  size_t section;
  size_t first, end; /* rows of job->stocks */
  int64_t hand;      /* at no yard */
  int64_t most;      /* no plan needs more */
  int64_t at_once;   /* so many over what is needed may come with packs and prices that fall, over all yards */
} sw_purchase_cell;

/* What 0 ... most of each cell cost where a set of yards may be used. */
typedef struct sw_costs
{
  sw_yard_set yards;
  int64_t **of; /* a cell each: cell.most + 1 costs, never falling */
} sw_costs;

typedef struct sw_buying
{
  const sw_job *job;
  sw_yard_set all;    /* yards that sell anything */
  sw_yard_set paid;   /* of those: that ask for delivery, or for a least order */
  size_t cell_count;
  sw_purchase_cell *cells;
  size_t costs_count, costs_capacity;
  sw_costs *costs;    /* made so far */
  int64_t unit;       /* every cost is a multiple of it */
} sw_buying;

/* Everything that can be bought for JOB, whose stocks have offers; clear it after a failure too. */
sw_status sw_buying_begin (sw_buying *out, const sw_job *job);
void sw_buying_clear (sw_buying *buying);

/* The costs with YARDS, made where they are not yet.  O(lengths needed * yards * prices) for each cell. */
sw_status sw_buying_costs (sw_buying *buying, sw_yard_set yards, sw_costs *out);
/* What the yards of a set ask for delivery. */
int64_t sw_buying_delivery (const sw_buying *buying, sw_yard_set yards);

/* purchase_split.c: split NEEDED of cell number CELL among YARDS as cheaply as can be, added to PURCHASES. */
sw_status sw_buying_split (const sw_buying *buying, size_t cell, sw_yard_set yards, int64_t needed,
                           sw_purchase *purchases);

/* The cheapest way to buy NEEDED of each cell from some of YARDS. */
typedef struct sw_bill
{
  int64_t cost;            /* with delivery; SW_NOT_TO_BE_HAD: there is no way */
  sw_yard_set yards;       /* that are used */
  sw_purchase *purchases;  /* a row of job->stocks each; the caller's */
  bool exact;              /* it is the cheapest: least orders leave so much to choose from that not all was looked at */
} sw_bill;

/* BILL's purchases has room for a row each.  O(sets of paid yards * costs) where there are few such yards, else
 * a local search over sets. */
sw_status sw_buying_bill (sw_buying *buying, sw_yard_set yards, const int64_t *needed, sw_bill *bill);

#endif
