/* breakpoints.h - lengths between which prices run straight
 *
 * A fence whose spans are all different has thousands of distinct pieces, and
 * a programme with a row for each is too large.  With prices given at some
 * hundred lengths only, the breakpoints, and in proportion between two of them, the
 * programme has a row a breakpoint: a piece counts in part for the breakpoint below it and
 * in part for the one above.  The prices of such a programme are prices like
 * any others, though not every price can be had, so that bounds out of them hold.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_BREAKPOINTS_H
#define SW_BREAKPOINTS_H

#include "model/model.h"

typedef struct sw_breakpoints
{
  size_t count;
  size_t *size_of; /* a breakpoint each: the need whose size it has; by section, largest first */
  size_t *above;   /* a need each: the breakpoint at its size or next above */
  double *below;   /* a need each: how much of it counts for breakpoint above + 1, 0 to 1 */
} sw_breakpoints;

/* Choose about MOST breakpoints for the needs of MODEL, more of them where pieces of one length use
 * boards up.  O(needs log needs). */
sw_status sw_breakpoints_new (sw_breakpoints *breakpoints, const sw_model *model, size_t most);
void sw_breakpoints_clear (sw_breakpoints *breakpoints);

#endif
