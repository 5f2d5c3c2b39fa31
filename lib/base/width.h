/* width.h - how many terminal columns a character takes
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_WIDTH_H
#define SW_WIDTH_H

#include "spanwright.h"

/* 0 for control characters, combining marks and invisible ones; 2 for wide
 * ones; else 1.  O(log n) of the table. */
size_t sw_width_of (uint32_t code);

#endif
