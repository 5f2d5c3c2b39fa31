/* layout_arcs.c - stretches, and every piece of through timber that may lie in them
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout_build.h"

#include "layout_why.h"
#include "memory.h"

#include <string.h>

__extension__ typedef __int128 wide;

/* No sum is ever compared with anything near the ends of int64, so a sum that
 * would not fit may as well be the largest number there is. */
static sw_length
add (sw_length a, sw_length b)
{
  sw_length sum;
  if (sw_length_add (a, b, &sum))
    return sum;
  return a > 0 ? INT64_MAX : INT64_MIN;
}

static sw_length
bay_length (const sw_bay *bay)
{
  return sw_bay_on_slope (bay, bay->span);
}

static sw_length
start_reach (const sw_run *run, size_t post)
{
  const sw_bay *bay = &run->bays[post];
  return sw_bay_on_slope (bay, sw_end_reach (&bay->start, run->posts[post].width));
}

static sw_length
finish_reach (const sw_run *run, size_t post)
{
  const sw_bay *bay = &run->bays[post - 1];
  return sw_bay_on_slope (bay, sw_end_reach (&bay->finish, run->posts[post].width));
}

sw_length
sw_layout_cut (const sw_job *job, const sw_stretch *stretch, size_t from, size_t to)
{
  const sw_run *run = &job->fence.runs[stretch->run];
  sw_length cut = from == stretch->first ? start_reach (run, from) : 0;
  for (size_t b = from; b < to; b++)
    cut = add (cut, bay_length (&run->bays[b]));
  return to == stretch->last ? add (cut, finish_reach (run, to)) : cut;
}

/* ---- Stretches ---- */

static sw_status
find_stretches (sw_layout_build *b)
{
  sw_layout *layout = b->layout;
  for (size_t r = 0; r < b->job->fence.run_count; r++)
    {
      const sw_run *run = &b->job->fence.runs[r];
      size_t bay = 0;
      while (bay < run->bay_count)
        {
          if (run->bays[bay].opening)
            {
              bay++;
              continue;
            }
          size_t first = bay++;
          while (bay < run->bay_count && !run->bays[bay].opening && run->bays[bay - 1].finish.kind == SW_END_ON
                 && run->bays[bay].start.kind == SW_END_ON)
            bay++;
          sw_status status = sw_grow ((void **)&layout->stretches, &b->stretch_room, layout->stretch_count + 1,
                                      sizeof *layout->stretches);
          if (status != SW_OK)
            return status;
          layout->stretches[layout->stretch_count++] = (sw_stretch){ .run = r, .first = first, .last = bay };
        }
    }
  return SW_OK;
}

/* ---- Arcs ---- */

/* The slopes at which a line from post 0 passes every post so far within the
 * bow: from LOW_RISE / LOW_RUN to HIGH_RISE / HIGH_RUN.  It says the same as
 * sw_run_is_straight, in O(1) a post. */
typedef struct sight
{
  bool any; /* a post has been passed */
  sw_length low_rise;
  sw_length low_run;
  sw_length high_rise;
  sw_length high_run;
} sight;

static bool
sight_sees (const sight *s, sw_length rise, sw_length run)
{
  return !s->any
         || ((wide)rise * s->low_run >= (wide)s->low_rise * run
             && (wide)rise * s->high_run <= (wide)s->high_rise * run);
}

static void
sight_pass (sight *s, sw_length rise, sw_length run, sw_length bow)
{
  if (!s->any || (wide)(rise - bow) * s->low_run > (wide)s->low_rise * run)
    {
      s->low_rise = rise - bow;
      s->low_run = run;
    }
  if (!s->any || (wide)(rise + bow) * s->high_run < (wide)s->high_rise * run)
    {
      s->high_rise = rise + bow;
      s->high_run = run;
    }
  s->any = true;
}

static sw_status
add_arc (sw_layout_build *b, const sw_arc *arc)
{
  sw_layout *layout = b->layout;
  if (layout->arc_count >= SW_LAYOUT_MAX_ARCS)
    {
      sw_report_add (b->report, SW_FAULT, b->job->files[SW_FILE_SPANS], 0, NULL,
                     "this job has more than %d possible pieces, which is too many: its bays are too many or too short"
                     " for stock as long as this",
                     SW_LAYOUT_MAX_ARCS);
      return SW_REJECTED;
    }
  sw_status status = sw_grow ((void **)&layout->arcs, &b->arc_room, layout->arc_count + 1, sizeof *layout->arcs);
  if (status == SW_OK)
    layout->arcs[layout->arc_count++] = *arc;
  return status;
}

static bool
may_join (const sw_run *run, const sw_stretch *stretch, size_t post)
{
  return post == stretch->first || post == stretch->last || run->posts[post].join != SW_JOIN_NEVER;
}

/* Every piece of LEVEL that may begin at post FROM; the posts where they end are
 * marked.  Lengths only grow from post to post, because no end takes a whole
 * bay off, so the first post that is out of reach is the last to be looked at. */
static sw_status
add_arcs_from (sw_layout_build *b, size_t s, size_t level, size_t from, size_t *furthest)
{
  const sw_stretch *stretch = &b->layout->stretches[s];
  const sw_run *run = &b->job->fence.runs[stretch->run];
  sw_length longest = b->longest[b->job->levels.items[level].section];
  sw_length length = from == stretch->first ? start_reach (run, from) : 0;
  sw_length level_run = 0;
  sw_length rise = 0;
  sight s_line = { 0 };
  for (size_t to = from + 1; to <= stretch->last; to++)
    {
      if (to > from + 1)
        {
          if (run->posts[to - 1].join == SW_JOIN_ALWAYS || length > longest)
            break;
          sight_pass (&s_line, rise, level_run, b->job->settings->bow);
        }
      const sw_bay *bay = &run->bays[to - 1];
      length = add (length, b->along[to - 1]);
      level_run += bay->span;
      rise += bay->rise;
      sw_length cut = to == stretch->last ? add (length, finish_reach (run, to)) : length;
      if (cut <= 0 || cut > longest || !may_join (run, stretch, to) || !sight_sees (&s_line, rise, level_run))
        continue;
      sw_status status = add_arc (b, &(sw_arc){ .stretch = s, .level = level, .from = from, .to = to, .cut = cut });
      if (status != SW_OK)
        return status;
      b->mark[to] = true;
      if (to > *furthest)
        *furthest = to;
    }
  return SW_OK;
}

/* Keep the arcs from BEGIN on that lead on to the stretch's last post; they all
 * begin at a post that can be reached. */
static void
prune (sw_layout_build *b, size_t begin, const sw_stretch *stretch)
{
  sw_layout *layout = b->layout;
  memset (b->mark + stretch->first, 0, (stretch->last - stretch->first + 1) * sizeof *b->mark);
  b->mark[stretch->last] = true;
  for (size_t a = layout->arc_count; a-- > begin;)
    if (b->mark[layout->arcs[a].to])
      b->mark[layout->arcs[a].from] = true;
  size_t kept = begin;
  for (size_t a = begin; a < layout->arc_count; a++)
    if (b->mark[layout->arcs[a].to])
      layout->arcs[kept++] = layout->arcs[a];
  layout->arc_count = kept;
}

/* All arcs of a level in a stretch.  Where no piece leads on from the furthest
 * post that can be reached to the next that may have a join, that place is
 * reported, and the search goes on from beyond it. */
static sw_status
add_level (sw_layout_build *b, size_t s, size_t level)
{
  const sw_stretch *stretch = &b->layout->stretches[s];
  const sw_run *run = &b->job->fence.runs[stretch->run];
  size_t begin = b->layout->arc_count;
  size_t furthest = stretch->first;
  bool broken = false;
  memset (b->mark + stretch->first, 0, (stretch->last - stretch->first + 1) * sizeof *b->mark);
  b->mark[stretch->first] = true;
  for (size_t post = stretch->first; post <= stretch->last; post++)
    {
      sw_status status = SW_OK;
      if (post > furthest && may_join (run, stretch, post))
        {
          status = sw_layout_why_path (b->job, stretch, b->job->levels.items[level].section, furthest, post, b->report);
          broken = true;
          b->mark[post] = true;
          furthest = post;
        }
      if (status == SW_OK && b->mark[post] && post < stretch->last)
        status = add_arcs_from (b, s, level, post, &furthest);
      if (status != SW_OK)
        return status;
    }
  if (broken)
    {
      b->impossible = true;
      b->layout->arc_count = begin;
    }
  else
    prune (b, begin, stretch);
  return SW_OK;
}

/* Through level T has the arcs of through level E of the same section: copy them. */
static sw_status
copy_level (sw_layout_build *b, size_t s, size_t e, size_t t)
{
  sw_layout *layout = b->layout;
  const size_t *start = &layout->arc_start[s * layout->through_count + e];
  sw_status status = SW_OK;
  for (size_t a = start[0]; status == SW_OK && a < start[1]; a++)
    {
      sw_arc arc = layout->arcs[a];
      arc.level = layout->through[t];
      status = add_arc (b, &arc);
    }
  return status;
}

/* Do the stretch's ends leave something of its first and its last bay? */
static sw_status
check_ends (sw_layout_build *b, const sw_stretch *stretch, bool *sound)
{
  const sw_run *run = &b->job->fence.runs[stretch->run];
  size_t last_bay = stretch->last - 1;
  sw_length first_left = add (bay_length (&run->bays[stretch->first]), start_reach (run, stretch->first));
  sw_length last_left = add (bay_length (&run->bays[last_bay]), finish_reach (run, stretch->last));
  if (last_bay == stretch->first)
    first_left = last_left = add (first_left, finish_reach (run, stretch->last));
  sw_status status = SW_OK;
  if (first_left <= 0)
    status = sw_layout_why_empty (b->job, stretch, stretch->first, b->report);
  if (status == SW_OK && last_left <= 0 && last_bay != stretch->first)
    status = sw_layout_why_empty (b->job, stretch, last_bay, b->report);
  *sound = first_left > 0 && last_left > 0;
  if (!*sound)
    b->impossible = true;
  return status;
}

static sw_status
add_stretch (sw_layout_build *b, size_t s)
{
  sw_layout *layout = b->layout;
  const sw_stretch *stretch = &layout->stretches[s];
  bool sound;
  sw_status status = check_ends (b, stretch, &sound);
  for (size_t bay = stretch->first; bay < stretch->last; bay++)
    b->along[bay] = bay_length (&b->job->fence.runs[stretch->run].bays[bay]);
  for (size_t t = 0; status == SW_OK && t < layout->through_count; t++)
    {
      size_t *start = &layout->arc_start[s * layout->through_count + t];
      size_t level = layout->through[t];
      bool usable;
      start[0] = layout->arc_count;
      status = sw_layout_check_section (b, b->job->levels.items[level].section, &usable);
      if (status == SW_OK && sound && usable)
        status = b->twin[t] < t ? copy_level (b, s, b->twin[t], t) : add_level (b, s, level);
      start[1] = layout->arc_count;
    }
  return status;
}

sw_status
sw_layout_add_arcs (sw_layout_build *b)
{
  sw_layout *layout = b->layout;
  sw_status status = find_stretches (b);
  if (status != SW_OK)
    return status;
  size_t most_posts = 0;
  for (size_t r = 0; r < b->job->fence.run_count; r++)
    if (b->job->fence.runs[r].bay_count >= most_posts)
      most_posts = b->job->fence.runs[r].bay_count + 1;
  if (layout->through_count > 0 && layout->stretch_count > (SIZE_MAX - 1) / layout->through_count)
    return SW_NO_MEMORY;
  layout->arc_start = sw_alloc (layout->stretch_count * layout->through_count + 1, sizeof *layout->arc_start);
  b->mark = sw_alloc (most_posts, sizeof *b->mark);
  b->along = sw_alloc (most_posts, sizeof *b->along);
  if (layout->arc_start == NULL || b->mark == NULL || b->along == NULL)
    return SW_NO_MEMORY;
  for (size_t s = 0; status == SW_OK && layout->through_count > 0 && s < layout->stretch_count; s++)
    status = add_stretch (b, s);
  return status;
}
