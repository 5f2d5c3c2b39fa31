/* strip_layouts.c - whole layouts of strips
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/strip_layouts.h"

#include "model/solution.h"

#include <stdlib.h>

#include "base/memory.h"

sw_status
sw_layouts_add (sw_layouts *layouts, const sw_model *model, const sw_block *blocks, size_t index, const uint8_t *used)
{
  const sw_strip st = sw_block_strip (model, &blocks[index]);
  sw_kept_layout kept
      = { .block = index, .first = layouts->option_count, .aligned = sw_strip_pairs (model, &st, used) };
  for (size_t o = sw_strip_first (&st); o < sw_strip_end (&st); o++)
    {
      if (!used[o])
        continue;
      sw_status status = sw_grow ((void **)&layouts->options, &layouts->option_capacity, layouts->option_count + 1,
                                  sizeof *layouts->options);
      if (status != SW_OK)
        return status;
      layouts->options[layouts->option_count++] = (uint32_t)o;
    }
  kept.count = layouts->option_count - kept.first;
  sw_status status = sw_grow ((void **)&layouts->items, &layouts->capacity, layouts->count + 1, sizeof *layouts->items);
  if (status == SW_OK)
    layouts->items[layouts->count++] = kept;
  return status;
}

void
sw_layouts_clear (sw_layouts *layouts)
{
  free (layouts->items);
  free (layouts->options);
  *layouts = (sw_layouts){ 0 };
}
