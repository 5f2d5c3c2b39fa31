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
  bool brief;            /* a part of another search, which is not worth much work */
  sw_master *beside;     /* a master of this thread that is in use, or NULL: see sw_master_new */
  sw_patterns pool;      /* all patterns met so far */
  uint8_t *fewest;       /* an option each: a layout of each strip with as few pairs as are known to do */
  sw_prices root;        /* of the best bound that was found for this aim */
  sw_solution best;      /* when valid, it keeps every rule and cap */
  int64_t bound;         /* of this aim, in its unit: no solution has less */
  bool impossible;       /* it is proved that there is no solution */
  sw_strip_work *work;   /* room that strips are laid out in */
  sw_knapsack *knapsack; /* and boards are filled in */
} sw_search;

sw_status sw_search_begin (sw_search *search, const sw_model *model, sw_watch *watch, bool hard_way);
void sw_search_end (sw_search *search);

/* Set the floors of MODEL, that of SEARCH: the fewest aligned pairs of each
 * strip, whatever the timber, and search->fewest.  *OPEN: with so many more
 * there is a layout, where it is not known whether fewer would do. */
sw_status sw_search_floors (sw_search *search, sw_model *model, int64_t *open);

/* Lay STRIP out in USED (an option each), where PRICE tells what an option costs and a pair weighs WEIGHT: best where
 * the strip is exact, well where it is not, and with no more pairs than are known to do.  SW_NO_PLAN: as
 * sw_strip_layout. */
sw_status sw_search_lay_out (sw_search *search, size_t strip, const int64_t *price, sw_wide weight, uint8_t *used);
/* Copy the layout FROM of STRIP over the one in TO. */
void sw_copy_strip (const sw_strip *strip, const uint8_t *from, uint8_t *to);

/* The next number of a stream, 0 to 1, the same on every machine; *STATE is not 0. */
#define SW_CHANCE_SEED 88172645463325252ULL
double sw_search_chance (uint64_t *state);

/* Set VALUE, for all needs, to what a piece is worth at PRICES and a little more, because a piece that is worth nothing
 * would never be put on a board. */
void sw_value_pieces (const sw_prices *prices, int64_t *value);

/* Tell the watch, and so the caller, how things stand. */
void sw_search_show (const sw_search *search);
/* The best solution as a number of the aim, INT64_MAX when there is none. */
int64_t sw_search_best (const sw_search *search);
/* There cannot be anything better than the best. */
bool sw_search_done (const sw_search *search);
/* Take SOLUTION when it is valid, under the caps and better. */
sw_status sw_search_offer (sw_search *search, sw_solution *solution);
/* PRICES have a bound: they become search->root if it is the best one. */
void sw_search_note_bound (sw_search *search, const sw_prices *prices);

#endif
