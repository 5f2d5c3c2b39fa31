/* purchase_least.h - orders that no yard takes, since they are worth too little
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PURCHASE_LEAST_H
#define SW_PURCHASE_LEAST_H

#include "plan/purchase.h"

/* The yards at which less than their least order is bought; *USED: those at which anything is. */
sw_yard_set sw_buying_lacking (const sw_buying *buying, const sw_purchase *purchases, sw_yard_set *used);

/* The cheapest way to buy NEEDED from YARDS that reaches the least order of those of LACKING, if it costs less than MOST:
 * more is bought there than else, of what is needed or besides.  *COST, with delivery; SW_NOT_TO_BE_HAD: none was found.
 * PURCHASES are that way then.  *EXACT: there is none cheaper. */
sw_status sw_buying_reach_least (sw_buying *buying, sw_yard_set yards, sw_yard_set lacking, const int64_t *needed,
                                 int64_t most, sw_purchase *purchases, int64_t *cost, bool *exact);

#endif
