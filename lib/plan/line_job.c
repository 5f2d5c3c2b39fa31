/* line_job.c - the part of a job that is one unbroken line, divided; also the part that no division changes
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/line_job.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "job/divided.h"

/* Begin a run that borrows the names and has bays and posts of its own. */
static sw_status
begin_run (sw_run *out, const sw_run *run, size_t bays)
{
  *out = (sw_run){ .name = run->name,
                   .bays = sw_alloc (bays, sizeof *out->bays),
                   .posts = sw_alloc (bays + 1, sizeof *out->posts) };
  if (out->bays == NULL || out->posts == NULL)
    return SW_NO_MEMORY;
  out->posts[0] = run->posts[0];
  return SW_OK;
}

/* Take the timber off BAY, which keeps its length. */
static sw_bay
bare (const sw_bay *bay)
{
  sw_bay gone = *bay;
  gone.opening = true;
  gone.divide = SW_DIVIDE_NOT;
  gone.start = gone.finish = (sw_end){ .kind = SW_END_FACE };
  return gone;
}

static void
add_bay (sw_run *out, const sw_bay *bay, const sw_post *far)
{
  out->bays[out->bay_count++] = *bay;
  out->posts[out->bay_count] = *far;
}

static void
add_division (sw_run *out, const sw_job *job, const sw_division *d, const sw_way *way)
{
  const sw_run *run = &job->fence.runs[d->run];
  const sw_bay *whole = &run->bays[d->bay];
  for (uint32_t b = 0; b < way->bays; b++)
    {
      const bool last = b + 1 == way->bays;
      const sw_post inner = { .width = job->settings->post_width };
      sw_bay bay = *whole;
      bay.divide = SW_DIVIDE_NOT;
      bay.span = bay.measured = sw_way_post (d, way, b + 1) - sw_way_post (d, way, b);
      bay.rise = sw_way_rise (d, way, whole->rise, b);
      if (b > 0)
        bay.start = (sw_end){ .kind = SW_END_ON };
      if (!last)
        {
          bay.finish = (sw_end){ .kind = SW_END_ON };
          bay.step = 0;
        }
      add_bay (out, &bay, last ? &run->posts[d->bay + 1] : &inner);
    }
}

/* Begin the job with a fence and levels of its own.  RUN_OF[run of the new fence]: the run of JOB. */
static sw_status
begin_job (sw_job *out, const sw_job *job, const size_t *run_of, size_t runs)
{
  *out = *job;
  out->fence = (sw_fence){ .run_count = runs, .runs = sw_alloc (runs, sizeof *out->fence.runs) };
  out->levels.items = sw_alloc (job->levels.count, sizeof *out->levels.items);
  if (out->fence.runs == NULL || out->levels.items == NULL)
    return SW_NO_MEMORY;
  for (size_t l = 0; l < job->levels.count; l++)
    {
      out->levels.items[l] = job->levels.items[l];
      out->levels.items[l].runs = NULL;
    }
  for (size_t l = 0; l < job->levels.count; l++)
    {
      if (job->levels.items[l].runs == NULL)
        continue;
      bool *on = sw_alloc (runs, sizeof *on);
      if (on == NULL)
        return SW_NO_MEMORY;
      for (size_t r = 0; r < runs; r++)
        on[r] = job->levels.items[l].runs[run_of[r]];
      out->levels.items[l].runs = on;
    }
  return SW_OK;
}

sw_status
sw_line_job (sw_job *out, const sw_alternatives *all, const sw_group *group, const sw_way *ways)
{
  const sw_run *run = &all->job->fence.runs[group->run];
  size_t bays = run->bay_count;
  for (size_t d = 0; d < group->division_count; d++)
    bays += ways[d].bays - 1;
  sw_status status = begin_job (out, all->job, &group->run, 1);
  out->extras = (sw_extras){ .count = 0 };
  if (status == SW_OK)
    status = begin_run (&out->fence.runs[0], run, bays);
  if (status != SW_OK)
    return status;
  size_t next = 0;
  for (size_t b = 0; b < run->bay_count; b++)
    {
      const sw_division *d = &all->divisions[group->division_first + next];
      const bool inside = b >= group->first_bay && b < group->last_bay;
      const sw_bay gone = bare (&run->bays[b]);
      if (inside && next < group->division_count && d->bay == b)
        add_division (&out->fence.runs[0], all->job, d, &ways[next++]);
      else
        add_bay (&out->fence.runs[0], inside ? &run->bays[b] : &gone, &run->posts[b + 1]);
    }
  return SW_OK;
}

sw_status
sw_rest_job (sw_job *out, const sw_job *job, const sw_group *groups, size_t count)
{
  const size_t runs = job->fence.run_count;
  size_t *same = sw_alloc (runs, sizeof *same);
  if (same == NULL)
    return SW_NO_MEMORY;
  for (size_t r = 0; r < runs; r++)
    same[r] = r;
  sw_status status = begin_job (out, job, same, runs);
  free (same);
  for (size_t r = 0; r < runs && status == SW_OK; r++)
    {
      const sw_run *run = &job->fence.runs[r];
      status = begin_run (&out->fence.runs[r], run, run->bay_count);
      for (size_t b = 0; b < run->bay_count && status == SW_OK; b++)
        {
          bool inside = false;
          for (size_t g = 0; g < count; g++)
            inside = inside || (groups[g].run == r && b >= groups[g].first_bay && b < groups[g].last_bay);
          const sw_bay gone = bare (&run->bays[b]);
          add_bay (&out->fence.runs[r], inside ? &gone : &run->bays[b], &run->posts[b + 1]);
        }
    }
  return status;
}

void
sw_line_job_clear (sw_job *job)
{
  for (size_t r = 0; job->fence.runs != NULL && r < job->fence.run_count; r++)
    {
      free (job->fence.runs[r].bays);
      free (job->fence.runs[r].posts);
    }
  free (job->fence.runs);
  for (size_t l = 0; job->levels.items != NULL && l < job->levels.count; l++)
    free (job->levels.items[l].runs);
  if (job->fence.runs != NULL || job->levels.items != NULL)
    free (job->levels.items);
  *job = (sw_job){ .settings = NULL };
}
