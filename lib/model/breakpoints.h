/* breakpoints.h - lengths between which prices run straight
 *
 * A fence whose spans are all different has thousands of distinct pieces, and
 * a programme with a row for each is too large.  Instead, prices are free only
 * at some hundred lengths, the breakpoints, and run straight between two of
 * them.  The programme then has a row a breakpoint, and a piece counts in part
 * for the breakpoint below it and in part for the one above.  This only
 * narrows the choice of prices, so a bound that follows from them holds as
 * before.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_BREAKPOINTS_H
#define SW_BREAKPOINTS_H

#include "model/model.h"

typedef struct sw_breakpoints
{
  size_t count;
  size_t *size_of; /* for each breakpoint: the need that has its size; section by section, largest first */
  size_t *above;   /* for each need: the breakpoint at its size, or the next larger one */
  double *below;   /* for each need: its share of breakpoint above + 1, from 0 to 1 */
} sw_breakpoints;

/* Choose about MOST breakpoints for the needs of MODEL, more of them at lengths of which a whole number of pieces just
 * fills a board.  O(needs log needs). */
sw_status sw_breakpoints_new (sw_breakpoints *breakpoints, const sw_model *model, size_t most);
void sw_breakpoints_clear (sw_breakpoints *breakpoints);

#endif
