/* strip_layouts.h - whole layouts of strips
 *
 * A layout is the set of options that one strip is laid out with, or, where
 * the strip is too wide, one block of its levels.  It is a column of the
 * linear programme (Dantzig & Wolfe 1960).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_STRIP_LAYOUTS_H
#define SW_STRIP_LAYOUTS_H

#include "price/strip.h"

typedef struct sw_kept_layout
{
  size_t block;
  size_t first, count; /* its options, as indices into the pool's */
  int64_t aligned;     /* aligned pairs */
  int column;          /* its column in the linear programme */
} sw_kept_layout;

typedef struct sw_layouts
{
  size_t count, capacity;
  sw_kept_layout *items;
  size_t option_count, option_capacity;
  uint32_t *options;
} sw_layouts;

/* Add the layout of BLOCKS[INDEX] that USED (one entry for each option of the model) has. */
sw_status sw_layouts_add (sw_layouts *layouts, const sw_model *model, const sw_block *blocks, size_t index,
                          const uint8_t *used);
void sw_layouts_clear (sw_layouts *layouts);

#endif
