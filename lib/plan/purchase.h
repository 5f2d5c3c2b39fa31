/* purchase.h - what so many of a length cost, wherever they are bought
 *
 * Where yards, packs and prices that fall are in play, the cost of a number of
 * lengths is that of the cheapest way to buy so many from the yards that may
 * be used.  Each length has a table of these costs, made by dynamic
 * programming over the yards.  Delivery and least orders belong to whole
 * yards, so they are counted when all numbers are known.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PURCHASE_H
#define SW_PURCHASE_H

#include "plan/plan.h"

/* A set of yards, a bit for each.  Where the job has no yards, bit 0 is for whatever is bought. */
typedef uint32_t sw_yard_set;

/* A cost from here on means that so many cannot be had. */
#define SW_NOT_TO_BE_HAD (INT64_MAX / 4)

/* One length of one section: the rows of the stock that differ only in their yard. */
typedef struct sw_purchase_cell
{
  size_t section;
  size_t first, end; /* rows of job->stocks */
  int64_t hand;      /* at no yard */
  int64_t most;      /* no plan needs more of it */
  int64_t at_once;   /* how many more than needed all yards together may bring, by packs and by prices that fall */
} sw_purchase_cell;

/* What 0 ... most lengths of each cell cost when a set of yards may be used. */
typedef struct sw_costs
{
  sw_yard_set yards;
  int64_t **of; /* for each cell: cell.most + 1 costs, which never fall */
} sw_costs;

typedef struct sw_buying
{
  const sw_job *job;
  sw_yard_set all;    /* yards that sell anything */
  sw_yard_set paid;   /* of those, the yards that ask for delivery or for a least order */
  size_t cell_count;
  sw_purchase_cell *cells;
  size_t costs_count, costs_capacity;
  sw_costs *costs;    /* made so far */
  int64_t unit;       /* every cost is a multiple of it */
} sw_buying;

/* List all that can be bought for JOB, whose stocks have offers.  To be cleared even after a failure. */
sw_status sw_buying_begin (sw_buying *out, const sw_job *job);
void sw_buying_clear (sw_buying *buying);

/* The costs with YARDS; they are worked out where they are not known yet.  O(lengths needed * yards * prices) for each
 * cell. */
sw_status sw_buying_costs (sw_buying *buying, sw_yard_set yards, sw_costs *out);
/* What the yards of a set ask for delivery, together. */
int64_t sw_buying_delivery (const sw_buying *buying, sw_yard_set yards);

/* purchase_split.c: divide NEEDED lengths of cell number CELL among YARDS as cheaply as possible, and add them to
 * PURCHASES. */
sw_status sw_buying_split (const sw_buying *buying, size_t cell, sw_yard_set yards, int64_t needed,
                           sw_purchase *purchases);

/* The cheapest way to buy NEEDED lengths of each cell from some of YARDS. */
typedef struct sw_bill
{
  int64_t cost;            /* with delivery; SW_NOT_TO_BE_HAD: there is no way */
  sw_yard_set yards;       /* that are used */
  sw_purchase *purchases;  /* for each row of job->stocks; the caller's */
  bool exact;              /* no way is cheaper; false: least orders left too many ways to look at all of them */
} sw_bill;

/* BILL has room for the purchases of each row.  O(sets of paid yards * costs) where there are few such yards, else a
 * local search over sets. */
sw_status sw_buying_bill (sw_buying *buying, sw_yard_set yards, const int64_t *needed, sw_bill *bill);

#endif
