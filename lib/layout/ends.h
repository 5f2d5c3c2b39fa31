/* ends.h - how the ends of a piece are sawn, as a word
 *
 * A piece that is cut already and whose ends are not square fits as it is only
 * where a piece of the same ends goes.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_ENDS_H
#define SW_ENDS_H

#include "layout/layout.h"

#define SW_ENDS_TEXT 64

/* Write how a piece of LEVEL from post FROM to TO of STRETCH is sawn: "45000o 0s 0l", the setting of the saw at its start and
 * its finish in thousandths of a degree with the side of the long point (s: square), its slope and which way it goes.
 * False: both ends are square, and OUT is "". */
bool sw_ends_of (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t from, size_t to,
                 char out[SW_ENDS_TEXT]);

/* The stock row of a piece on hand that fits there as it is, + 1; 0: there is none.  O(rows). */
size_t sw_ends_kept (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t from, size_t to,
                     sw_length cut, sw_length take);

#endif
