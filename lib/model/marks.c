/* marks.c - lengths between which prices run straight
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "model/marks.h"

#include <stdlib.h>

#include "base/memory.h"

/* Prices jump where so many pieces of a length just come out of a board. */
#define JUMPS 6

void
sw_marks_clear (sw_marks *marks)
{
  free (marks->size_of);
  free (marks->above);
  free (marks->below);
  *marks = (sw_marks){ 0 };
}

/* Set MARKED for needs at the jumps of one group's prices, on both sides. */
static void
mark_jumps (const sw_model *model, const sw_group *group, uint8_t *marked)
{
  const size_t end = group->need_first + group->need_count;
  for (size_t i = group->supply_first; i < group->supply_first + group->supply_count; i++)
    for (int64_t pieces = 1; pieces <= JUMPS; pieces++)
      {
        size_t need = sw_model_largest_within (model, group, model->supplies[i].room / pieces);
        if (need < end)
          marked[need] = 1;
        if (need > group->need_first)
          marked[need - 1] = 1;
      }
}

static void
mark_group (const sw_model *model, const sw_group *group, size_t most, uint8_t *marked)
{
  if (group->need_count == 0)
    return;
  marked[group->need_first] = 1;
  marked[group->need_first + group->need_count - 1] = 1;
  mark_jumps (model, group, marked);
  for (size_t k = 1; k < most; k++)
    marked[group->need_first + (size_t)((double)k / (double)most * (double)group->need_count)] = 1;
}

/* Where the needs of GROUP stand among the marks. */
static void
place_needs (sw_marks *marks, const sw_model *model, const sw_group *group, const uint8_t *marked)
{
  size_t upper = SIZE_MAX;
  const size_t end = group->need_first + group->need_count;
  for (size_t n = group->need_first, lower = n; n < end; n++)
    {
      if (marked[n])
        {
          upper = n;
          marks->size_of[marks->count++] = n;
          for (lower = n + 1; lower < end && !marked[lower];)
            lower++;
        }
      marks->above[n] = marks->count - 1;
      if (n == upper)
        continue;
      const int64_t high = model->needs[upper].size, low = model->needs[lower].size;
      marks->below[n] = (double)(high - model->needs[n].size) / (double)(high - low);
    }
}

sw_status
sw_marks_new (sw_marks *marks, const sw_model *model, size_t most)
{
  uint8_t *marked = sw_alloc (model->need_count, 1);
  *marks = (sw_marks){ .size_of = sw_alloc (model->need_count, sizeof *marks->size_of),
                       .above = sw_alloc (model->need_count, sizeof *marks->above),
                       .below = sw_alloc (model->need_count, sizeof *marks->below) };
  if (marked == NULL || marks->size_of == NULL || marks->above == NULL || marks->below == NULL)
    {
      free (marked);
      sw_marks_clear (marks);
      return SW_NO_MEMORY;
    }
  for (size_t g = 0; g < model->group_count; g++)
    {
      mark_group (model, &model->groups[g], most * model->groups[g].need_count / model->need_count + 1, marked);
      place_needs (marks, model, &model->groups[g], marked);
    }
  free (marked);
  return SW_OK;
}
