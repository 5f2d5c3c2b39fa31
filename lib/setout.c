/* setout.c - running dimensions, marks and housings
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "setout.h"

#include "memory.h"
#include "view.h"
#include "table.h"

#include <stdlib.h>

/* What END cuts out of a post of WIDTH. */
static sw_housing
housing_of (const sw_end *end, sw_length width)
{
  switch (end->kind)
    {
    case SW_END_ON:
    case SW_END_FLUSH:
    case SW_END_CENTRE:
    case SW_END_MITRE:
      return SW_HOUSING_THROUGH;
    case SW_END_HOUSED:
      return SW_HOUSING_STOPPED;
    case SW_END_REACH:
      return end->length > -(width / 2) ? SW_HOUSING_THROUGH : SW_HOUSING_NONE;
    case SW_END_FACE:
      break;
    }
  return SW_HOUSING_NONE;
}

/* One side of a post. */
static void
add_side (sw_mark *mark, const sw_end *end, sw_length width, const sw_level *level, sw_length thickness)
{
  mark->timber = true;
  sw_housing housing = level->through ? housing_of (end, width) : SW_HOUSING_NONE;
  sw_length depth = housing == SW_HOUSING_STOPPED ? end->length : housing == SW_HOUSING_THROUGH ? thickness : 0;
  if (housing > mark->housing || (housing == mark->housing && depth > mark->depth))
    {
      mark->housing = housing;
      mark->depth = depth;
    }
}

static void
work_out (sw_mark *mark, const sw_job *job, const sw_run *run, size_t post, const sw_level *level)
{
  const sw_section *section = &job->sections.items[level->section];
  const sw_length width = run->posts[post].width;
  if (post > 0 && !run->bays[post - 1].opening)
    add_side (mark, &run->bays[post - 1].finish, width, level, section->thickness);
  if (post < run->bay_count && !run->bays[post].opening)
    add_side (mark, &run->bays[post].start, width, level, section->thickness);
  if (!mark->timber || !level->has_height)
    return;
  mark->has_mark = true;
  mark->mark = level->height;
  mark->has_top = section->width > 0;
  mark->top = level->height + section->width;
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
      out->start[r] = posts * levels; /* in memory already, as posts and levels: no overflow */
      posts += job->fence.runs[r].bay_count + 1;
    }
  if (levels > 0 && posts > SIZE_MAX / levels)
    {
      sw_setout_clear (out);
      return SW_NO_MEMORY;
    }
  out->marks = sw_alloc (posts * levels, sizeof *out->marks);
  if (out->marks == NULL)
    {
      sw_setout_clear (out);
      return SW_NO_MEMORY;
    }
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t post = 0; post <= job->fence.runs[r].bay_count; post++)
      for (size_t l = 0; l < levels; l++)
        work_out (&out->marks[out->start[r] + post * levels + l], job, &job->fence.runs[r], post,
                  &job->levels.items[l]);
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      const sw_piece *piece = &plan->pieces[p];
      if (piece->kind == SW_PIECE_THROUGH && piece->finish_end == SW_END_ON)
        out->marks[out->start[piece->run] + piece->to * levels + piece->level].join = true;
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
  return &setout->marks[setout->start[run] + post * setout->plan->job->levels.count + level];
}

static sw_status
add_row (sw_table *table, const sw_setout *setout, size_t run, size_t post, sw_length distance, size_t level)
{
  static const char *const housing[] = { "", "through", "stopped" };
  const sw_job *job = setout->plan->job;
  const sw_mark *mark = sw_setout_mark (setout, run, post, level);
  sw_status status = sw_table_add_row (table);
  sw_view_set_text (&status, table, 0, job->fence.runs[run].name);
  sw_view_set_count (&status, table, 1, (int64_t)post + 1);
  sw_view_set_length (&status, table, 2, job, distance);
  sw_view_set_length (&status, table, 3, job, job->fence.runs[run].posts[post].width);
  sw_view_set_text (&status, table, 4, job->levels.items[level].name);
  if (mark->has_mark)
    sw_view_set_length (&status, table, 5, job, mark->mark);
  if (mark->has_top)
    sw_view_set_length (&status, table, 6, job, mark->top);
  sw_view_set (&status, table, 7, housing[mark->housing]);
  if (mark->depth > 0)
    sw_view_set_length (&status, table, 8, job, mark->depth);
  sw_view_set (&status, table, 9, mark->join ? "join" : "");
  return status;
}

sw_status
sw_setout_table (const sw_plan *plan, sw_table **out)
{
  static const char *const header[]
      = { "run", "post", "distance_mm", "post_width_mm", "level", "mark_mm", "top_mm", "housing", "depth_mm", "join" };
  const sw_job *job = plan->job;
  sw_table *table = NULL;
  sw_setout setout;
  sw_status status = sw_setout_make (&setout, plan);
  if (status != SW_OK)
    return status;
  status = sw_view_table (&table, job, header, sizeof header / sizeof *header);
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      const sw_run *run = &job->fence.runs[r];
      sw_length distance = 0; /* summed here: sw_run_distance for every post would be quadratic */
      for (size_t post = 0; post <= run->bay_count; post++)
        {
          for (size_t l = 0; l < job->levels.count && status == SW_OK; l++)
            status = add_row (table, &setout, r, post, distance, l);
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
