/* ways_lp.h - one linear programme over patterns, whole layouts and ways of dividing
 *
 * The columns are patterns of boards and whole layouts of alternatives, with
 * their posts; each group takes one layout, of whatever alternative.  Patterns
 * are priced by the knapsack, layouts by the dynamic programme of their
 * strips, as in solve/columns.c.  A length gets a row when a layout in the
 * programme has it.  Until then it is worth as much as the longest shorter
 * length with a row, because it would do for that.  Prices are whole numbers,
 * and the bound is exact: it sums up the least alternative of each group at
 * prices at which no pattern is worth more than its board.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_WAYS_LP_H
#define SW_WAYS_LP_H

#include "plan/alternatives.h"
#include "base/watch.h"

typedef struct sw_ways_lp sw_ways_lp;

sw_status sw_ways_lp_new (sw_ways_lp **out, const sw_alternatives *all, sw_watch *watch);
void sw_ways_lp_free (sw_ways_lp *lp);

/* COST, money or nanometres, in granules: the greatest common divisor of all that can be paid. */
int64_t sw_ways_lp_granule (const sw_ways_lp *lp);

/* Solve the programme over the alternatives in ALLOWED, at least one for each group, until its bound is as good as it
 * can be or reaches CUTOFF granules (INT64_MAX: there is no cutoff).  *BOUND, in granules: nothing costs less, as far
 * as is known when the watch says stop.  Alternatives with which nothing costs less than CUTOFF are taken out of
 * ALLOWED. */
sw_status sw_ways_lp_solve (sw_ways_lp *lp, bool *allowed, int64_t cutoff, int64_t *bound);

/* Free the programme's room until the next solve begins it anew.  Another solver may fail in between, and GLPK would take
 * this programme with it. */
void sw_ways_lp_pause (sw_ways_lp *lp);

/* After that: the share of alternative I that the programme takes, from 0 to 1. */
double sw_ways_lp_share (const sw_ways_lp *lp, size_t i);
/* After that: the alternative of GROUP with the largest share; of equal ones, the first. */
size_t sw_ways_lp_most (const sw_ways_lp *lp, size_t group);

#endif
