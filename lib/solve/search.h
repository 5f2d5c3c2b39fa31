/* search.h - what is known of one model while it is solved: the best plan, the bound, the patterns met so far
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SEARCH_H
#define SW_SEARCH_H

#include "lp/master.h"
#include "price/knapsack.h"
#include "model/tuning.h"

typedef struct sw_search
{
  sw_goal goal;
  const sw_model *model; /* the goal's */
  sw_watch *watch;
  bool hard_way;         /* no easy way out is taken, so that a small job goes through everything */
  bool brief;            /* it is part of another search and not worth much work */
  sw_master *beside;     /* a master that is in use, or NULL */
  sw_patterns pool;      /* all patterns met so far */
  uint8_t *fewest;       /* for each option: whether its strip's layout with the fewest known pairs uses it */
  sw_prices root;        /* the prices of the best bound found for this aim */
  sw_solution best;      /* when valid, it keeps every rule and cap */
  int64_t bound;         /* a bound for this aim, in its unit: no solution has less */
  bool impossible;       /* it is proved that there is no solution */
  sw_strip_work *work;   /* room to lay strips out in */
  sw_knapsack *knapsack; /* and to fill boards in */
} sw_search;

sw_status sw_search_begin (sw_search *search, const sw_model *model, sw_watch *watch, bool hard_way);
void sw_search_end (sw_search *search);

/* Is the time up, and has enough been laid out well before STRIP? */
bool sw_search_hurry (const sw_search *search, size_t strip);
/* Set the floors of MODEL, the search's own: the fewest aligned pairs of each strip, whatever the timber.  Sets
 * search->fewest as well.  *OPEN: the pairs over the floors that search->fewest has; fewer might do. */
sw_status sw_search_floors (sw_search *search, sw_model *model, int64_t *open);

/* Lay STRIP out in USED (for each option).  PRICE says what an option costs; a pair weighs WEIGHT.  The layout is the
 * best where the strip is exact, a good one where it is not, and has no more pairs than the fewest known.  SW_NO_PLAN:
 * as sw_strip_best. */
sw_status sw_search_lay_out (sw_search *search, size_t strip, const int64_t *price, sw_wide weight, uint8_t *used);
/* Copy the layout of STRIP in FROM over the one in TO. */
void sw_copy_strip (const sw_strip *strip, const uint8_t *from, uint8_t *to);

/* The next number of a stream, from 0 to 1, the same on every machine; *STATE is not 0. */
#define SW_CHANCE_SEED 88172645463325252ULL
double sw_search_chance (uint64_t *state);

/* Tell the watch, and so the caller, how things stand. */
void sw_search_show (const sw_search *search);
/* The value of the best solution in the aim, INT64_MAX when there is no solution. */
int64_t sw_search_best (const sw_search *search);
/* Is it proved that nothing is better than the best? */
bool sw_search_done (const sw_search *search);
/* Take SOLUTION as the best when it is valid, under the caps and better. */
sw_status sw_search_offer (sw_search *search, sw_solution *solution);
/* PRICES have a bound; they become search->root when it is the best one. */
void sw_search_note_bound (sw_search *search, const sw_prices *prices);

#endif
