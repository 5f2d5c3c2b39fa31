/* plan_fill.c - turns solved models into boards, pieces and places
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/plan_fill.h"

#include <stdlib.h>

#include "base/memory.h"

/* ---- Aligned joins ---------------------------------------------------------------------------- */

static sw_status
add_aligned_at (sw_filling *f, const sw_model *model, const sw_strip *strip, const uint8_t *joined, uint32_t post)
{
  sw_plan *plan = f->plan;
  const sw_stretch *st = &f->layout->stretches[strip->stretch];
  for (uint32_t r = 0; r + 1 < strip->level_count; r++)
    {
      if (!model->stagger || !joined[r] || !joined[r + 1])
        continue;
      if (!strip->counted[post])
        {
          plan->summary.always++;
          continue;
        }
      /* Pairs that are in their places are counted apart. */
      if (!sw_strip_counts (strip, post, r))
        continue;
      size_t capacity = plan->aligned_count;
      sw_aligned *larger = realloc (plan->aligned, (capacity + 1) * sizeof *larger);
      if (larger == NULL)
        return SW_NO_MEMORY;
      plan->aligned = larger;
      plan->aligned[plan->aligned_count++] = (sw_aligned){
        .run = st->run, .post = st->first + post, .lower = strip->levels[r].of_job, .upper = strip->levels[r + 1].of_job
      };
    }
  return SW_OK;
}

static sw_status
add_aligned (sw_filling *f)
{
  sw_status status = SW_OK;
  for (size_t m = 0; m < f->model_count; m++)
    for (size_t i = 0; i < f->models[m].strip_count; i++)
      {
        const sw_strip *strip = &f->models[m].strips[i];
        uint8_t *joined = sw_alloc (strip->level_count, 1);
        if (joined == NULL)
          return SW_NO_MEMORY;
        for (uint32_t p = 1; p < strip->bays && status == SW_OK; p++)
          {
            for (uint32_t r = 0; r < strip->level_count; r++)
              {
                const sw_strip_level *row = &strip->levels[r];
                joined[r] = 0;
                for (uint32_t d = 1; d <= row->reach && d <= p; d++)
                  {
                    int32_t o = row->at[(size_t)p * row->reach + d - 1];
                    if (o >= 0 && f->solved[m].solution.used[o])
                      joined[r] = 1;
                  }
              }
            status = add_aligned_at (f, &f->models[m], strip, joined, p);
          }
        free (joined);
        if (status != SW_OK)
          return status;
      }
  return SW_OK;
}

sw_status
sw_plan_fill (sw_plan *plan, const sw_layout *layout, const sw_model *models, const sw_solved *solved,
              size_t model_count)
{
  sw_filling f = { .plan = plan, .layout = layout, .models = models, .solved = solved, .model_count = model_count };
  f.used = sw_alloc (layout->arc_count, 1);
  sw_status status = f.used != NULL ? sw_filling_pieces (&f) : SW_NO_MEMORY;
  if (status == SW_OK)
    status = sw_filling_boards (&f);
  if (status == SW_OK)
    status = add_aligned (&f);
  free (f.used);
  free (f.item_of);
  free (f.queue);
  free (f.queue_start);
  free (f.queue_next);
  free (f.timber_of);
  free (f.timber_state);
  free (f.kept_for);
  return status;
}
