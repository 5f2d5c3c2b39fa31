/* breakpoints.c - lengths between which prices run straight
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "model/breakpoints.h"

#include <stdlib.h>

#include "base/memory.h"
#include "model/tuning.h"

void
sw_breakpoints_clear (sw_breakpoints *breakpoints)
{
  free (breakpoints->size_of);
  free (breakpoints->above);
  free (breakpoints->below);
  *breakpoints = (sw_breakpoints){ 0 };
}

/* Mark the needs on both sides of each length at which the prices of one section may jump. */
static void
mark_jumps (const sw_model *model, const sw_model_section *section, uint8_t *marked)
{
  const size_t end = section->need_first + section->need_count;
  for (size_t i = section->stock_first; i < section->stock_first + section->stock_count; i++)
    for (int64_t pieces = 1; pieces <= SW_JUMPS; pieces++)
      {
        size_t need = sw_model_largest_within (model, section, model->stocks[i].room / pieces);
        if (need < end)
          marked[need] = 1;
        if (need > section->need_first)
          marked[need - 1] = 1;
      }
}

static void
mark_section (const sw_model *model, const sw_model_section *section, size_t most, uint8_t *marked)
{
  if (section->need_count == 0)
    return;
  marked[section->need_first] = 1;
  marked[section->need_first + section->need_count - 1] = 1;
  mark_jumps (model, section, marked);
  for (size_t k = 1; k < most; k++)
    marked[section->need_first + (size_t)((double)k / (double)most * (double)section->need_count)] = 1;
}

/* Find the two breakpoints that each need of SECTION lies between. */
static void
place_needs (sw_breakpoints *breakpoints, const sw_model *model, const sw_model_section *section, const uint8_t *marked)
{
  size_t upper = SIZE_MAX;
  const size_t end = section->need_first + section->need_count;
  for (size_t n = section->need_first, lower = n; n < end; n++)
    {
      if (marked[n])
        {
          upper = n;
          breakpoints->size_of[breakpoints->count++] = n;
          for (lower = n + 1; lower < end && !marked[lower];)
            lower++;
        }
      breakpoints->above[n] = breakpoints->count - 1;
      if (n == upper)
        continue;
      const int64_t high = model->needs[upper].size, low = model->needs[lower].size;
      breakpoints->below[n] = (double)(high - model->needs[n].size) / (double)(high - low);
    }
}

sw_status
sw_breakpoints_new (sw_breakpoints *breakpoints, const sw_model *model, size_t most)
{
  uint8_t *marked = sw_alloc (model->need_count, 1);
  *breakpoints = (sw_breakpoints){ .size_of = sw_alloc (model->need_count, sizeof *breakpoints->size_of),
                                   .above = sw_alloc (model->need_count, sizeof *breakpoints->above),
                                   .below = sw_alloc (model->need_count, sizeof *breakpoints->below) };
  if (marked == NULL || breakpoints->size_of == NULL || breakpoints->above == NULL || breakpoints->below == NULL)
    {
      free (marked);
      sw_breakpoints_clear (breakpoints);
      return SW_NO_MEMORY;
    }
  for (size_t g = 0; g < model->section_count; g++)
    {
      mark_section (model, &model->sections[g], most * model->sections[g].need_count / model->need_count + 1, marked);
      place_needs (breakpoints, model, &model->sections[g], marked);
    }
  free (marked);
  return SW_OK;
}
