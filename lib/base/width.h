/* width.h - how many terminal columns a character takes
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_WIDTH_H
#define SW_WIDTH_H

#include "spanwright.h"

/* The width of CODE: 0 for control characters, combining marks and invisible characters, 2 for wide
 * ones, 1 for the others.  O(log n) of the table. */
size_t sw_width_of (uint32_t code);

#endif
