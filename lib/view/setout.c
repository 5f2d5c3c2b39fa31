/* setout.c - running dimensions, marks and housings
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/setout.h"

#include "base/memory.h"
#include "view/figures.h"
#include "csv/table.h"

#include <stdlib.h>

/* Does timber of LEVEL with the end END pass the near face of its post, which is WIDTH wide? */
static bool
is_over (const sw_job *job, const sw_level *level, const sw_end *end, sw_length width)
{
  const sw_end_kind kind = sw_seat_end (level, end->kind);
  if (!level->through || kind == SW_END_FACE)
    return false;
  /* On the inside of a sharp corner a mitre may stop before its post, too. */
  return (kind != SW_END_REACH && kind != SW_END_MITRE) || sw_seat_reach (job, level, end, width) > -(width / 2);
}

/* What END of LEVEL's timber cuts out of a post of WIDTH. */
static sw_housing
housing_of (const sw_job *job, const sw_level *level, const sw_end *end, sw_length width)
{
  if (!is_over (job, level, end, width) || level->seat == SW_SEAT_TOP)
    return SW_HOUSING_NONE;
  if (end->kind == SW_END_HOUSED)
    return SW_HOUSING_STOPPED;
  return level->seat == SW_SEAT_LET_IN ? SW_HOUSING_THROUGH : SW_HOUSING_NONE;
}

/* Add one side of a post to MARK.  HEIGHT is that of the level on this side, above the datum. */
static void
add_side (sw_mark *mark, const sw_job *job, const sw_end *end, sw_length width, const sw_level *level, sw_length height)
{
  const sw_housing housing = housing_of (job, level, end, width);
  const sw_length depth = housing == SW_HOUSING_STOPPED   ? end->length
                          : housing == SW_HOUSING_THROUGH ? sw_seat_check (job, level)
                                                          : 0;
  const sw_length tall = sw_seat_height (job, level);
  mark->over = mark->over || is_over (job, level, end, width);
  if (housing > mark->housing || (housing == mark->housing && depth > mark->depth))
    {
      mark->housing = housing;
      mark->depth = depth;
    }
  if (mark->timber || !level->has_height)
    {
      mark->timber = true;
      return;
    }
  mark->timber = true;
  mark->has_mark = true;
  mark->mark = height;
  mark->has_top = tall > 0;
  mark->top = height + tall;
}

/* Work out the two marks of LEVEL on POST.  STEPS is the sum of the run's steps before POST. */
static void
work_out (sw_mark marks[2], const sw_job *job, size_t r, size_t post, const sw_level *level, sw_length steps)
{
  const sw_run *run = &job->fence.runs[r];
  const sw_length width = run->posts[post].width;
  const sw_bay *near = post > 0 && !run->bays[post - 1].opening ? &run->bays[post - 1] : NULL;
  const sw_bay *far = post < run->bay_count && !run->bays[post].opening ? &run->bays[post] : NULL;
  const sw_length step = post > 0 ? run->bays[post - 1].step : 0;
  marks[0].there = sw_level_is_on (level, r);
  if (!marks[0].there)
    return;
  marks[1].there = step != 0 && near != NULL && far != NULL;
  if (near != NULL)
    add_side (&marks[0], job, &near->finish, width, level, level->height + steps);
  if (far != NULL)
    add_side (marks[1].there ? &marks[1] : &marks[0], job, &far->start, width, level, level->height + steps + step);
}

sw_status
sw_setout_make (sw_setout *out, const sw_plan *plan)
{
  const sw_job *job = plan->job;
  const size_t levels = job->levels.count;
  size_t posts = 0;
  *out = (sw_setout){ .plan = plan };
  out->start = sw_alloc (job->fence.run_count, sizeof *out->start);
  if (out->start == NULL)
    return SW_NO_MEMORY;
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      out->start[r] = posts * levels; /* no overflow: memory holds as many posts and levels */
      posts += job->fence.runs[r].bay_count + 1;
    }
  if (levels > 0 && posts > SIZE_MAX / 2 / levels)
    {
      sw_setout_clear (out);
      return SW_NO_MEMORY;
    }
  out->marks = sw_alloc (2 * posts * levels, sizeof *out->marks);
  if (out->marks == NULL)
    {
      sw_setout_clear (out);
      return SW_NO_MEMORY;
    }
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      const sw_run *run = &job->fence.runs[r];
      sw_length steps = 0; /* summed here, because sw_run_step for every post would be quadratic. */
      for (size_t post = 0; post <= run->bay_count; post++)
        {
          for (size_t l = 0; l < levels; l++)
            work_out (&out->marks[2 * (out->start[r] + post * levels + l)], job, r, post, &job->levels.items[l], steps);
          steps += post > 0 ? run->bays[post - 1].step : 0;
        }
    }
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      const sw_piece *piece = &plan->pieces[p];
      if (piece->kind == SW_PIECE_THROUGH && piece->finish_end == SW_END_ON)
        out->marks[2 * (out->start[piece->run] + piece->to * levels + piece->level)].join = true;
    }
  return SW_OK;
}

void
sw_setout_clear (sw_setout *setout)
{
  free (setout->start);
  free (setout->marks);
  *setout = (sw_setout){ 0 };
}

const sw_mark *
sw_setout_mark (const sw_setout *setout, size_t run, size_t post, size_t level)
{
  return &setout->marks[2 * (setout->start[run] + post * setout->plan->job->levels.count + level)];
}

const sw_mark *
sw_setout_far_mark (const sw_setout *setout, size_t run, size_t post, size_t level)
{
  const sw_mark *far = sw_setout_mark (setout, run, post, level) + 1;
  return far->there ? far : NULL;
}

static sw_status
add_row (sw_table *table, const sw_job *job, const sw_mark *mark, size_t run, size_t post, sw_length distance,
         size_t level)
{
  static const char *const housing[] = { "", "through", "stopped" };
  sw_status status = sw_table_add_row (table);
  sw_view_set_text (&status, table, SW_SETOUT_RUN, job->fence.runs[run].name);
  sw_view_set_count (&status, table, SW_SETOUT_POST, (int64_t)post + 1);
  sw_view_set_length (&status, table, SW_SETOUT_DISTANCE, job, distance);
  sw_view_set_length (&status, table, SW_SETOUT_WIDTH, job, job->fence.runs[run].posts[post].width);
  sw_view_set_text (&status, table, SW_SETOUT_LEVEL, job->levels.items[level].name);
  if (mark->has_mark)
    sw_view_set_length (&status, table, SW_SETOUT_MARK, job, mark->mark);
  if (mark->has_top)
    sw_view_set_length (&status, table, SW_SETOUT_TOP, job, mark->top);
  sw_view_set (&status, table, SW_SETOUT_HOUSING, housing[mark->housing]);
  if (mark->depth > 0)
    sw_view_set_length (&status, table, SW_SETOUT_DEPTH, job, mark->depth);
  sw_view_set (&status, table, SW_SETOUT_JOIN, mark->join ? "join" : "");
  return status;
}

sw_status
sw_setout_table (const sw_plan *plan, sw_table **out)
{
  const sw_job *job = plan->job;
  sw_table *table = NULL;
  sw_setout setout;
  sw_status status = sw_setout_make (&setout, plan);
  if (status != SW_OK)
    return status;
  status = sw_view_table (&table, job, sw_setout_columns, SW_SETOUT_COLUMNS);
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      const sw_run *run = &job->fence.runs[r];
      sw_length distance = 0; /* summed here, because sw_run_distance for every post would be quadratic */
      for (size_t post = 0; post <= run->bay_count; post++)
        {
          for (size_t l = 0; l < job->levels.count && status == SW_OK; l++)
            {
              const sw_mark *mark = sw_setout_mark (&setout, r, post, l);
              const sw_mark *far = sw_setout_far_mark (&setout, r, post, l);
              if (mark->there)
                status = add_row (table, job, mark, r, post, distance, l);
              if (far != NULL && status == SW_OK)
                status = add_row (table, job, far, r, post, distance, l);
            }
          distance += post < run->bay_count ? run->bays[post].span : 0;
        }
    }
  sw_setout_clear (&setout);
  if (status == SW_OK)
    *out = table;
  else
    sw_table_free (table);
  return status;
}
