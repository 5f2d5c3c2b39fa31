/* gather.h - all options and patterns that a solution can use which is worth so much more than the bound at most
 *
 * Such a solution uses no option and no pattern whose reduced cost at the prices
 * of the bound is more than that.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_GATHER_H
#define SW_GATHER_H

#include "solve/search.h"

/* A master of all that a solution can use which is worth SPARE (scaled) more
 * than the bound of the present aim at most, to be freed also after a failure.
 * PARTS: patterns that are not full too.  *COMPLETE: there were no more than MOST. */
sw_status sw_gather (sw_search *search, sw_wide spare, size_t most, bool parts, sw_master **out, bool *complete);
/* Solve such a master for AIM, with WORK of nodes times columns at most, and offer what is found.
 * *PROVED: there is nothing better, or nothing that is worth MOST or less. */
sw_status sw_gather_solve (sw_search *search, sw_master *master, sw_aim aim, int64_t work, int64_t most, bool *proved);

#endif
