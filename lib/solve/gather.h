/* gather.h - all options and patterns that a solution not much over the bound can use
 *
 * A solution over the bound by some amount uses no option and no pattern whose
 * reduced cost, at the prices of the bound, is more than that amount.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_GATHER_H
#define SW_GATHER_H

#include "solve/search.h"

/* Make a master, which is to bring AIM down, of all options and patterns for solutions at most SPARE (scaled) over the
 * bound of the present aim; for long offcuts also of patterns that are not full.  It is to be freed even after a
 * failure.  *COMPLETE: there were no more than MOST. */
sw_status sw_gather (sw_search *search, sw_aim aim, sw_wide spare, size_t most, sw_master **out, bool *complete);
/* Solve such a master, with at most WORK of nodes times columns, and offer what is found.  *PROVED: there is
 * nothing better, or nothing with a value of MOST or less. */
sw_status sw_gather_solve (sw_search *search, sw_master *master, int64_t work, int64_t most, bool *proved);

#endif
