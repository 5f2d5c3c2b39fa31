/* model_placed.c - what a plan that goes on from another adds to a model
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "model/model_placed.h"

#include "base/memory.h"

uint32_t
sw_model_whole_need (const sw_model *model, const sw_model_section *section, size_t row)
{
  for (size_t n = section->need_first; n < section->need_first + section->need_count; n++)
    if (model->layout->items[model->needs[n].item].kept == row + 1)
      return (uint32_t)n + 1;
  return 0;
}

sw_status
sw_model_mark_placed (const sw_model *model, sw_strip *strip)
{
  strip->rank = strip->level_count;
  for (size_t o = sw_strip_first (strip); o < sw_strip_end (strip); o++)
    {
      const sw_option *option = &model->options[o];
      if (model->layout->arcs[option->arc].item != SW_NO_ITEM)
        continue;
      if (strip->placed == NULL)
        strip->placed = sw_alloc ((size_t)(strip->bays + 1) * strip->rank, 1);
      if (strip->placed == NULL)
        return SW_NO_MEMORY;
      strip->placed[(size_t)option->from * strip->rank + option->level] = 1;
      strip->placed[(size_t)option->to * strip->rank + option->level] = 1;
    }
  return SW_OK;
}

void
sw_model_set_change (sw_model *model)
{
  int64_t most = 1;
  bool any = false;
  for (size_t s = 0; s < model->strip_count; s++)
    most += (int64_t)model->strips[s].bays * model->strips[s].level_count;
  for (size_t o = 0; o < model->option_count; o++)
    any = any || model->options[o].changed;
  model->change = any ? most : 0;
}
