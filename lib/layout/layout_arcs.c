/* layout_arcs.c - stretches, and every piece of through timber that may lie in them
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout/layout_build.h"

#include "layout/ends.h"
#include "layout/layout_why.h"
#include "base/memory.h"
#include "layout/take.h"

#include <string.h>

__extension__ typedef __int128 wide;

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

/* The slopes at which a line from post 0 passes within the bow of all posts so far: from LOW_RISE /
 * LOW_RUN to HIGH_RISE / HIGH_RUN.  It gives the answer of sw_run_is_straight in O(1) a post. */
typedef struct sight
{
  bool any; /* at least one post has been passed */
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

/* May a piece of the level in hand begin or end at POST?  One that is in its place stays with its joins. */
static bool
may_join (const sw_layout_build *b, const sw_run *run, const sw_stretch *stretch, size_t post)
{
  for (size_t i = 0; i < b->placed_count && b->placed[i].from <= post; i++)
    if (post <= b->placed[i].to)
      return post == b->placed[i].from || post == b->placed[i].to;
  return post == stretch->first || post == stretch->last || run->posts[post].join != SW_JOIN_NEVER;
}

/* The piece in its place that begins at post FROM, or the next one beyond; NULL: none. */
static const sw_placed *
next_placed (const sw_layout_build *b, size_t from)
{
  for (size_t i = 0; i < b->placed_count; i++)
    if (b->placed[i].from >= from)
      return &b->placed[i];
  return NULL;
}

static void
mark_end (sw_layout_build *b, size_t post, size_t *furthest)
{
  b->mark[post] = true;
  if (post > *furthest)
    *furthest = post;
}

/* Add every piece of LEVEL that may begin at post FROM, and mark the posts where they end.  No end
 * takes a whole bay off a piece, so that pieces grow from post to post, and the search stops at the
 * first post out of reach. */
static sw_status
add_arcs_from (sw_layout_build *b, size_t s, size_t level_index, size_t from, size_t *furthest)
{
  const sw_stretch *stretch = &b->layout->stretches[s];
  const sw_job *job = b->job;
  const sw_run *run = &job->fence.runs[stretch->run];
  const sw_level *level = &job->levels.items[level_index];
  const sw_length start = sw_layout_starts_at (job, level, stretch, from, b->along[from]);
  sw_sawn_piece piece = { .width = job->sections.items[level->section].width };
  sight s_line = { 0 };
  const sw_placed *placed = next_placed (b, from);
  if (placed != NULL && placed->from == from)
    {
      const sw_arc arc = { .stretch = s, .level = level_index, .from = from, .to = placed->to,
                           .cut = placed->cut, .take = placed->cut, .item = SW_NO_ITEM };
      mark_end (b, placed->to, furthest);
      return add_arc (b, &arc);
    }
  const size_t last = placed != NULL && placed->from < stretch->last ? placed->from : stretch->last;
  for (size_t to = from + 1; to <= last; to++)
    {
      if (to > from + 1)
        {
          const sw_length so_far = sw_layout_rounded (job, b->along[to - 1]) - start;
          if (run->posts[to - 1].join == SW_JOIN_ALWAYS || !sw_layout_reaches (b, level->section, so_far))
            break;
          sight_pass (&s_line, piece.rise, piece.span, job->settings->bow);
        }
      piece.span += run->bays[to - 1].span;
      piece.rise += run->bays[to - 1].rise;
      piece.finish = to == stretch->last ? &run->bays[to - 1].finish : NULL;
      piece.cut = sw_layout_finishes_at (job, level, stretch, to, b->along[to]) - start;
      const sw_length take = sw_take (&piece, job->settings->kerf);
      if (!may_join (b, run, stretch, to) || !sight_sees (&s_line, piece.rise, piece.span))
        continue;
      const size_t kept = sw_ends_kept (job, level, stretch, from, to, piece.cut, take);
      if (!sw_layout_fits (b, level->section, piece.cut, take)
          && (kept == 0 || !sw_layout_reaches (b, level->section, piece.cut)))
        continue;
      const sw_arc arc = { .stretch = s, .level = level_index, .from = from, .to = to,
                           .cut = piece.cut, .take = take, .kept = kept };
      sw_status status = add_arc (b, &arc);
      if (status != SW_OK)
        return status;
      mark_end (b, to, furthest);
    }
  return SW_OK;
}

/* Of the arcs from BEGIN on, keep those from which the stretch's last post can be reached.  They
 * all begin at posts that can be reached from the first. */
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

/* Add all arcs of a level in a stretch.  If no piece leads from the furthest post in reach to the
 * next post that may have a join, report that place and search on from there. */
static sw_status
add_level (sw_layout_build *b, size_t s, size_t level)
{
  const sw_stretch *stretch = &b->layout->stretches[s];
  const sw_run *run = &b->job->fence.runs[stretch->run];
  size_t begin = b->layout->arc_count;
  size_t furthest = stretch->first;
  bool broken = false;
  b->placed = sw_in_place_of (&b->job->in_place, stretch->run, level, &b->placed_count);
  memset (b->mark + stretch->first, 0, (stretch->last - stretch->first + 1) * sizeof *b->mark);
  b->mark[stretch->first] = true;
  for (size_t post = stretch->first; post <= stretch->last; post++)
    {
      sw_status status = SW_OK;
      if (post > furthest && may_join (b, run, stretch, post))
        {
          status = sw_layout_why_path (b->job, stretch, level, furthest, post, b->report);
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

/* Through level T has the same arcs as through level E: copy them. */
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

/* Do the ends of the stretch leave timber of LEVEL in its first and its last bay?  Reports a bay
 * that is left without. */
static sw_status
check_ends (sw_layout_build *b, const sw_stretch *stretch, size_t level_index, bool *sound)
{
  const sw_job *job = b->job;
  const sw_level *level = &job->levels.items[level_index];
  const sw_run *run = &job->fence.runs[stretch->run];
  const size_t last_bay = stretch->last - 1;
  sw_length first_left = sw_layout_sum (sw_layout_bay_length (&run->bays[stretch->first]),
                                        -sw_layout_start_offset (job, level, run, stretch->first));
  sw_length last_left = sw_layout_sum (sw_layout_bay_length (&run->bays[last_bay]),
                                       sw_layout_finish_offset (job, level, run, stretch->last));
  if (last_bay == stretch->first)
    first_left = last_left = sw_layout_sum (first_left, sw_layout_finish_offset (job, level, run, stretch->last));
  sw_status status = SW_OK;
  if (first_left <= 0)
    status = sw_layout_why_empty (job, stretch, level_index, stretch->first, b->report);
  if (status == SW_OK && last_left <= 0 && last_bay != stretch->first)
    status = sw_layout_why_empty (job, stretch, level_index, last_bay, b->report);
  *sound = first_left > 0 && last_left > 0;
  if (!*sound)
    b->impossible = true;
  return status;
}

/* Is all of LEVEL on STRETCH in its place? */
static bool
is_all_placed (const sw_job *job, const sw_stretch *stretch, size_t level)
{
  size_t count, bays = 0;
  const sw_placed *placed = sw_in_place_of (&job->in_place, stretch->run, level, &count);
  for (size_t i = 0; i < count; i++)
    if (placed[i].from >= stretch->first && placed[i].to <= stretch->last)
      bays += placed[i].to - placed[i].from;
  return bays == stretch->last - stretch->first;
}

static sw_status
add_stretch (sw_layout_build *b, size_t s)
{
  sw_layout *layout = b->layout;
  const sw_stretch *stretch = &layout->stretches[s];
  sw_status status = SW_OK;
  bool sound = true;
  for (size_t t = 0; status == SW_OK && t < layout->through_count; t++)
    {
      size_t *start = &layout->arc_start[s * layout->through_count + t];
      size_t level = layout->through[t];
      bool on = sw_level_is_on (&b->job->levels.items[level], stretch->run);
      bool usable = false;
      start[0] = layout->arc_count;
      usable = on && is_all_placed (b->job, stretch, level);
      if (on && !usable)
        status = sw_layout_check_section (b, b->job->levels.items[level].section, &usable);
      /* One report that an end leaves no timber is enough; other levels would repeat it. */
      if (status == SW_OK && on && sound && b->twin[t] == t)
        status = check_ends (b, stretch, level, &sound);
      if (status == SW_OK && on && sound && usable)
        status = b->twin[t] < t ? copy_level (b, s, b->twin[t], t) : add_level (b, s, level);
      start[1] = layout->arc_count;
    }
  return status;
}

/* Measure how far along the slope each post of RUN stands from the first post. */
static void
measure_run (sw_layout_build *b, const sw_run *run)
{
  b->along[0] = 0;
  for (size_t bay = 0; bay < run->bay_count; bay++)
    b->along[bay + 1] = sw_layout_sum (b->along[bay], sw_layout_bay_length (&run->bays[bay]));
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
    {
      const size_t run = layout->stretches[s].run;
      if (s == 0 || run != layout->stretches[s - 1].run)
        measure_run (b, &b->job->fence.runs[run]);
      status = add_stretch (b, s);
    }
  return status;
}
