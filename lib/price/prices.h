/* prices.h - prices in whole numbers, and the exact bounds that come of them
 *
 * The duals of a linear programme are rounded to whole numbers before columns
 * are priced, so that a Lagrangian bound follows in exact arithmetic, whatever
 * the programme's own rounding was (after Neumaier & Shcherbina 2004; scaling
 * by the most violated pattern after Farley 1990).  The root and the nodes of
 * branch and price have their prices, and their bounds, from here.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PRICES_H
#define SW_PRICES_H

#include "model/solution.h"
#include "price/strip.h"

/* What is made least, and under which caps. */
typedef struct sw_goal
{
  const sw_model *model;
  sw_aim aim;
  int64_t caps[SW_AIM_COUNT]; /* -1: none */
} sw_goal;

/* Prices of GOAL's model; one unit is 1 / scale of a granule (or of a join, a board). */
typedef struct sw_prices
{
  const sw_goal *goal; /* borrowed */
  int64_t scale;
  int64_t *need;             /* value of a piece, >= 0 */
  int64_t *stock;            /* of a board to be had, >= 0; 0 where there is no limit */
  int64_t *owed;             /* of a board that must be cut, >= 0; NULL where none must */
  int64_t cap[SW_AIM_COUNT]; /* of a unit under a cap, >= 0 */
  int64_t aligned;           /* of an aligned pair, >= 0, where some over the floors are allowed */
  sw_wide bound;             /* scaled: nothing is better */
  bool valid;                /* there is such a bound */
} sw_prices;

/* OWED: boards may have to be cut. */
sw_status sw_prices_init (sw_prices *prices, const sw_goal *goal, bool owed);
void sw_prices_clear (sw_prices *prices);
/* Both of one model and without boards owed. */
void sw_prices_copy (sw_prices *to, const sw_prices *from);
/* Set TO: NEW drawn towards OLD, of the same scale, by so many EIGHTHS (dual smoothing after Wentges 1997). */
void sw_prices_blend (sw_prices *to, const sw_prices *old, const sw_prices *new, int eighths);

/* The most that a board adds to AIM, at least 1. */
int64_t sw_goal_largest (const sw_goal *goal, sw_aim aim);
/* Units in a granule at which a piece that no board covers may cost PENALTY granules. */
int64_t sw_goal_scale (const sw_goal *goal, double penalty);
/* A price of a unit under a cap at which no weight comes near 2^62; any price is good for a bound. */
int64_t sw_goal_most_cap (const sw_goal *goal, sw_aim aim);
/* A dual in such units, rounded; 0 where it is not positive. */
int64_t sw_scaled (double dual, int64_t scale, bool up);

/* What a board or an option weighs, scaled: what it adds to the aim and to the sums under caps. */
int64_t sw_prices_stock (const sw_prices *prices, size_t stock);
int64_t sw_prices_option (const sw_prices *prices, size_t option);
/* What each option costs in its strip, the value of its piece and its own weight; COST has room for all. */
void sw_prices_options (const sw_prices *prices, int64_t *cost);
/* Weight of an aligned pair: before all else where none over the floors is allowed. */
sw_wide sw_prices_aligned (const sw_prices *prices);
/* What a board cut to PATTERN of POOL weighs over the worth of its pieces, scaled. */
sw_wide sw_prices_loss (const sw_prices *prices, const sw_patterns *pool, size_t pattern);
/* A pattern of STOCK is a new column when it is worth more than this: a hair more than the board. */
int64_t sw_prices_floor (const sw_prices *prices, size_t stock);

/* Change the prices so that no pattern is worth more than its board, where MOST[stock] says what none is worth more
 * than: a board that is owed is worth less, one with a limit costs more, and for others all values are scaled down. */
void sw_prices_make_safe (sw_prices *prices, const int64_t *most);
/* What the prices come to without the layouts: fixed pieces and boards owed, OWED[stock] of them (NULL: none), less
 * limited boards and caps. */
sw_wide sw_prices_fixed (const sw_prices *prices, const int64_t *owed);
/* The bound in whole units of the aim, at least 0; and as it is. */
int64_t sw_prices_whole (const sw_prices *prices);
double sw_prices_in_units (const sw_prices *prices);

#endif
