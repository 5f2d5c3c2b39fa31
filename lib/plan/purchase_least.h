/* purchase_least.h - orders that no yard takes, since they are worth too little
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PURCHASE_LEAST_H
#define SW_PURCHASE_LEAST_H

#include "plan/purchase.h"

/* The yards at which less than their least order is bought.  *USED: the yards at which anything is bought. */
sw_yard_set sw_buying_lacking (const sw_buying *buying, const sw_purchase *purchases, sw_yard_set *used);

/* Find the cheapest way to buy NEEDED from YARDS that reaches the least orders of the yards in LACKING, if it costs
 * less than MOST.  More is then bought at these yards than otherwise, either of what is needed or besides.  *COST: with
 * delivery; SW_NOT_TO_BE_HAD: no way was found.  PURCHASES become that way.  *EXACT: no way is cheaper. */
sw_status sw_buying_reach_least (sw_buying *buying, sw_yard_set yards, sw_yard_set lacking, const int64_t *needed,
                                 int64_t most, sw_purchase *purchases, int64_t *cost, bool *exact);

#endif
