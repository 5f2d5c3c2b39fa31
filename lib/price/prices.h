/* prices.h - prices in whole numbers, and the exact bounds that follow from them
 *
 * The duals of a linear programme are rounded to whole numbers before columns
 * are priced, so that a Lagrangian bound follows in exact arithmetic, however
 * the programme itself was rounded (after Neumaier & Shcherbina 2004; scaling
 * by the most violated pattern after Farley 1990).  Both the root and the
 * nodes of branch and price get their prices and bounds here.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PRICES_H
#define SW_PRICES_H

#include "model/solution.h"
#include "price/strip.h"

/* The aim that is brought down to the least, and the caps that it is under. */
typedef struct sw_goal
{
  const sw_model *model;
  sw_aim aim;
  int64_t caps[SW_AIM_COUNT]; /* -1: none */
} sw_goal;

/* Prices of GOAL's model, in units of 1 / scale of a granule (or of a join, or of a board). */
typedef struct sw_prices
{
  const sw_goal *goal; /* borrowed */
  int64_t scale;
  int64_t *need;             /* value of a piece, >= 0 */
  int64_t *stock;            /* price of a board of limited stock, >= 0; 0 where there is no limit */
  int64_t *worth;            /* no pattern of the stock is worth more; who prices the patterns sets it */
  int64_t *owed;             /* value of a board that must be cut, >= 0; NULL where none must */
  int64_t cap[SW_AIM_COUNT]; /* price of a unit under a cap, >= 0 */
  int64_t aligned;           /* price of an aligned pair, >= 0, where more than the floors are allowed */
  sw_wide bound;             /* scaled: no solution has less */
  bool valid;                /* the prices have a bound */
} sw_prices;

/* OWED: some boards may have to be cut. */
sw_status sw_prices_init (sw_prices *prices, const sw_goal *goal, bool owed);
void sw_prices_clear (sw_prices *prices);
/* Both are of one model, and neither has boards owed. */
void sw_prices_copy (sw_prices *to, const sw_prices *from);
/* Set TO to NEW, moved towards OLD by so many EIGHTHS of the way; both have the same scale (dual smoothing after
 * Wentges 1997). */
void sw_prices_blend (sw_prices *to, const sw_prices *old, const sw_prices *new, int eighths);

/* The most that one board adds to AIM, at least 1. */
int64_t sw_goal_largest (const sw_goal *goal, sw_aim aim);
/* The units in a granule when a piece that no board covers may cost PENALTY granules. */
int64_t sw_goal_scale (const sw_goal *goal, double penalty);
/* The largest price of a unit under a cap that keeps all weights far from 2^62.  A higher price may be lowered to it,
 * because any price gives a true bound. */
int64_t sw_goal_most_cap (const sw_goal *goal, sw_aim aim);
/* The dual in units of SCALE, rounded (UP or down); 0 where it is not positive. */
int64_t sw_scaled (double dual, int64_t scale, bool up);

/* The scaled weight of a board or an option: what it adds to the aim and, at their prices, to the sums under caps. */
int64_t sw_prices_stock (const sw_prices *prices, size_t stock);
int64_t sw_prices_option (const sw_prices *prices, size_t option);
/* Set COST, which has room for all options, to what each costs in its strip: the value of its piece and its own
 * weight. */
void sw_prices_options (const sw_prices *prices, int64_t *cost);
/* The weight of an aligned pair.  Where no pair over the floors is allowed, it exceeds all else. */
sw_wide sw_prices_aligned (const sw_prices *prices);
/* What COUNT entries are worth, scaled. */
sw_wide sw_prices_pieces (const sw_prices *prices, const sw_entry *entries, uint32_t count);
/* How much more a board cut to PATTERN of POOL weighs than its pieces are worth, scaled. */
sw_wide sw_prices_loss (const sw_prices *prices, const sw_patterns *pool, size_t pattern);
/* A pattern of STOCK is a new column when it is worth more than this, which is a hair more than the board weighs. */
int64_t sw_prices_floor (const sw_prices *prices, size_t stock);

/* Change the prices so that no pattern is worth more than its board.  Their worths are known.  A board that is
 * owed then has a lower value and a limited one a higher price; for the others all values are scaled down. */
void sw_prices_make_safe (sw_prices *prices);
/* The part of the bound that does not come from layouts: fixed pieces and boards owed, OWED[stock] of them (NULL:
 * none), less limited boards and caps. */
sw_wide sw_prices_fixed (const sw_prices *prices, const int64_t *owed);
/* The bound in whole units of the aim, at least 0; then the bound as it is. */
int64_t sw_prices_whole (const sw_prices *prices);
double sw_prices_in_units (const sw_prices *prices);

#endif
