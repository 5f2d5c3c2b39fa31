/* strip_layouts.h - whole layouts of strips
 *
 * A layout is the options that one strip, or of a strip that is too wide one
 * block of levels, is laid out with: a column of the linear programme (Dantzig &
 * Wolfe 1960).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_STRIP_LAYOUTS_H
#define SW_STRIP_LAYOUTS_H

#include "price/strip.h"

typedef struct sw_kept_layout
{
  size_t block;
  size_t first, count; /* of the pool's options */
  int64_t aligned;     /* pairs of joins that line up */
  int column;          /* of the programme it is in */
} sw_kept_layout;

typedef struct sw_layouts
{
  size_t count, capacity;
  sw_kept_layout *items;
  size_t option_count, option_capacity;
  uint32_t *options;
} sw_layouts;

/* The layout of BLOCKS[INDEX] that USED (an option of the model each) has. */
sw_status sw_layouts_add (sw_layouts *layouts, const sw_model *model, const sw_block *blocks, size_t index,
                          const uint8_t *used);
void sw_layouts_clear (sw_layouts *layouts);

#endif
