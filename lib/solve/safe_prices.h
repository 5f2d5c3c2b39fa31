/* safe_prices.h - prices out of a master, columns at prices
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SAFE_PRICES_H
#define SW_SAFE_PRICES_H

#include "solve/search.h"

/* Price of a piece that no board covers, the STEPth time that it was too low. */
double sw_search_penalty (const sw_search *search, int step);

/* Put the duals of the master's last LP, in which an uncovered piece costs PENALTY, in search->duals. */
void sw_search_take_duals (sw_search *search, double penalty);

void sw_search_copy_prices (const sw_search *search, sw_prices *to, const sw_prices *from);

/* The bound of PRICES in granules (or joins, boards), not rounded. */
double sw_search_bound_in_units (const sw_prices *prices);
/* search->now has a bound: it becomes search->root if it is the best. */
void sw_search_note_bound (sw_search *search);

/* Weight, in eighths, of the best bound's prices when columns are priced (dual smoothing after Wentges 1997). */
#define SW_SMOOTH 4
/* Set search->now: the duals, drawn towards the prices of the best bound by so many EIGHTHS. */
void sw_search_smooth (sw_search *search, int eighths);

/* Put patterns that are worth more than their board at search->now into the
 * master: *ADDED of them, *USEFUL of those also at search->duals.  MOST[stock]:
 * none is worth more.  Cut short, its results not to be used, when the watch says stop. */
sw_status sw_search_price_patterns (sw_search *search, int64_t *most, size_t *added, size_t *useful);

/* Make PRICES such that no pattern is worth more than its board: a limited
 * stock costs more, for others all values are scaled down. */
void sw_search_make_safe (sw_search *search, sw_prices *prices, const int64_t *most);

/* What the prices come to without the layouts: fixed pieces, less limited boards and caps. */
sw_wide sw_search_fixed_part (const sw_search *search, const sw_prices *prices);

#endif
