/* layout.c - from a job to possible pieces and fixed demands
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout.h"

#include "layout_why.h"
#include "memory.h"

#include <stdlib.h>
#include <string.h>

__extension__ typedef __int128 wide;

/* What only matters while a layout is being made. */
typedef struct builder
{
  const sw_job *job;
  sw_layout *layout;
  sw_report *report;
  sw_length *longest;   /* by section: the longest piece that can be had; 0: none */
  bool *told;           /* by section: that none can be had has been said */
  bool *block_told;     /* by level: that its blocks are too long has been said */
  sw_length *fixed_cut; /* by fixed piece: its length and section, until it has an item */
  size_t *fixed_section;
  bool *mark; /* by post of the run in hand */
  size_t stretch_room;
  size_t arc_room;
  size_t fixed_room;
  size_t fixed_cut_room;
  size_t fixed_section_room;
  bool impossible;
} builder;

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

sw_length
sw_layout_between_cut (const sw_job *job, const sw_level *level, const sw_run *run, size_t bay)
{
  (void)job;
  sw_length clear = run->bays[bay].span - run->posts[bay].width / 2 - run->posts[bay + 1].width / 2;
  return sw_bay_on_slope (&run->bays[bay], clear) - level->gap;
}

/* ---- Stretches ---- */

static sw_status
find_stretches (builder *b)
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

static sw_status
find_levels (builder *b)
{
  const sw_levels *levels = &b->job->levels;
  b->layout->through = sw_alloc (levels->count, sizeof *b->layout->through);
  if (b->layout->through == NULL)
    return SW_NO_MEMORY;
  for (size_t l = 0; l < levels->count; l++)
    if (levels->items[l].through)
      b->layout->through[b->layout->through_count++] = l;
  return SW_OK;
}

/* ---- What can be had ---- */

static sw_status
find_longest (builder *b)
{
  const sw_job *job = b->job;
  const sw_settings *settings = job->settings;
  b->longest = sw_alloc (job->sections.count, sizeof *b->longest);
  b->told = sw_alloc (job->sections.count, sizeof *b->told);
  b->block_told = sw_alloc (job->levels.count, sizeof *b->block_told);
  if (b->longest == NULL || b->told == NULL || b->block_told == NULL)
    return SW_NO_MEMORY;
  for (size_t k = 0; k < job->stocks.count; k++)
    {
      const sw_stock *stock = &job->stocks.items[k];
      if (stock->limit == 0 && stock->hand == 0)
        continue;
      sw_length usable = stock->length - 2 * settings->end_trim;
      if (settings->max_piece > 0 && usable > settings->max_piece)
        usable = settings->max_piece;
      if (usable > b->longest[stock->section])
        b->longest[stock->section] = usable;
    }
  return SW_OK;
}

/* Can anything of SECTION be had?  If not it is said, once. */
static sw_status
check_section (builder *b, size_t section, bool *usable)
{
  *usable = b->longest[section] > 0;
  if (*usable || b->told[section])
    return SW_OK;
  b->told[section] = true;
  b->impossible = true;
  return sw_layout_why_none (b->job, section, b->report);
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
add_arc (builder *b, const sw_arc *arc)
{
  sw_layout *layout = b->layout;
  if (layout->arc_count >= SW_LAYOUT_MAX_ARCS)
    {
      sw_report_add (b->report, SW_FAULT, b->job->files[0], 0, NULL,
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
add_arcs_from (builder *b, size_t s, size_t level, size_t from, size_t *furthest)
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
      length = add (length, bay_length (bay));
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
prune (builder *b, size_t begin, const sw_stretch *stretch)
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
add_level (builder *b, size_t s, size_t level)
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

/* The arcs of through level T are those of an earlier one of the same section:
 * copy them.  False: there is none. */
static sw_status
copy_level (builder *b, size_t s, size_t t, bool *copied)
{
  sw_layout *layout = b->layout;
  const sw_level *levels = b->job->levels.items;
  *copied = false;
  for (size_t e = 0; e < t && !*copied; e++)
    {
      if (levels[layout->through[e]].section != levels[layout->through[t]].section)
        continue;
      *copied = true;
      const size_t *start = &layout->arc_start[s * layout->through_count + e];
      for (size_t a = start[0]; a < start[1]; a++)
        {
          sw_arc arc = layout->arcs[a];
          arc.level = layout->through[t];
          sw_status status = add_arc (b, &arc);
          if (status != SW_OK)
            return status;
        }
    }
  return SW_OK;
}

/* Do the stretch's ends leave something of its first and its last bay? */
static sw_status
check_ends (builder *b, const sw_stretch *stretch, bool *sound)
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
add_stretch (builder *b, size_t s)
{
  sw_layout *layout = b->layout;
  bool sound;
  sw_status status = check_ends (b, &layout->stretches[s], &sound);
  for (size_t t = 0; status == SW_OK && t < layout->through_count; t++)
    {
      size_t *start = &layout->arc_start[s * layout->through_count + t];
      size_t level = layout->through[t];
      bool usable;
      bool copied = false;
      start[0] = layout->arc_count;
      status = check_section (b, b->job->levels.items[level].section, &usable);
      if (status == SW_OK && sound && usable)
        status = copy_level (b, s, t, &copied);
      if (status == SW_OK && sound && usable && !copied)
        status = add_level (b, s, level);
      start[1] = layout->arc_count;
    }
  return status;
}

static sw_status
add_arcs (builder *b)
{
  sw_layout *layout = b->layout;
  size_t most_posts = 0;
  for (size_t r = 0; r < b->job->fence.run_count; r++)
    if (b->job->fence.runs[r].bay_count >= most_posts)
      most_posts = b->job->fence.runs[r].bay_count + 1;
  if (layout->through_count > 0 && layout->stretch_count > (SIZE_MAX - 1) / layout->through_count)
    return SW_NO_MEMORY;
  layout->arc_start = sw_alloc (layout->stretch_count * layout->through_count + 1, sizeof *layout->arc_start);
  b->mark = sw_alloc (most_posts, sizeof *b->mark);
  if (layout->arc_start == NULL || b->mark == NULL)
    return SW_NO_MEMORY;
  sw_status status = SW_OK;
  for (size_t s = 0; status == SW_OK && layout->through_count > 0 && s < layout->stretch_count; s++)
    status = add_stretch (b, s);
  return status;
}

/* ---- Fixed pieces ---- */

static sw_status
add_fixed (builder *b, const sw_fixed *fixed, size_t section, sw_length cut)
{
  sw_layout *layout = b->layout;
  bool usable;
  sw_status status = check_section (b, section, &usable);
  if (status != SW_OK || !usable)
    return status;
  if (cut <= 0 || cut > b->longest[section])
    {
      b->impossible = true;
      if (fixed->kind == SW_FIXED_BLOCK && b->block_told[fixed->level])
        return SW_OK;
      if (fixed->kind == SW_FIXED_BLOCK)
        b->block_told[fixed->level] = true;
      return sw_layout_why_fixed (b->job, fixed, section, cut, b->report);
    }
  size_t need = layout->fixed_count + 1;
  status = sw_grow ((void **)&layout->fixed, &b->fixed_room, need, sizeof *layout->fixed);
  if (status == SW_OK)
    status = sw_grow ((void **)&b->fixed_cut, &b->fixed_cut_room, need, sizeof *b->fixed_cut);
  if (status == SW_OK)
    status = sw_grow ((void **)&b->fixed_section, &b->fixed_section_room, need, sizeof *b->fixed_section);
  if (status != SW_OK)
    return status;
  layout->fixed[layout->fixed_count] = *fixed;
  b->fixed_cut[layout->fixed_count] = cut;
  b->fixed_section[layout->fixed_count] = section;
  layout->fixed_count = need;
  return SW_OK;
}

static sw_status
add_fixed_of (builder *b, size_t r, size_t l)
{
  const sw_run *run = &b->job->fence.runs[r];
  const sw_level *level = &b->job->levels.items[l];
  sw_fixed fixed = { .kind = SW_FIXED_BETWEEN, .quantity = 1, .run = r, .level = l };
  sw_status status = SW_OK;
  int64_t bays = 0;
  for (size_t bay = 0; status == SW_OK && bay < run->bay_count; bay++)
    {
      if (run->bays[bay].opening)
        continue;
      bays++;
      fixed.bay = bay;
      if (!level->through)
        status = add_fixed (b, &fixed, level->section, sw_layout_between_cut (b->job, level, run, bay));
    }
  if (status != SW_OK || bays == 0 || level->blocks == 0)
    return status;
  fixed = (sw_fixed){ .kind = SW_FIXED_BLOCK, .run = r, .level = l };
  if (!sw_length_mul (bays, level->blocks, &fixed.quantity))
    return SW_FAILED;
  return add_fixed (b, &fixed, level->block_section, level->block_length);
}

static sw_status
add_all_fixed (builder *b)
{
  sw_status status = SW_OK;
  for (size_t r = 0; status == SW_OK && r < b->job->fence.run_count; r++)
    for (size_t l = 0; status == SW_OK && l < b->job->levels.count; l++)
      status = add_fixed_of (b, r, l);
  for (size_t e = 0; status == SW_OK && e < b->job->extras.count; e++)
    {
      const sw_extra *extra = &b->job->extras.items[e];
      sw_fixed fixed = { .kind = SW_FIXED_EXTRA, .quantity = extra->quantity, .extra = e };
      status = add_fixed (b, &fixed, extra->section, extra->length);
    }
  return status;
}

/* ---- Items ---- */

static int
compare_items (const void *left, const void *right)
{
  const sw_item *a = left;
  const sw_item *b = right;
  if (a->section != b->section)
    return a->section < b->section ? -1 : 1;
  if (a->cut != b->cut)
    return a->cut > b->cut ? -1 : 1;
  return 0;
}

static size_t
find_item (const sw_layout *layout, size_t section, sw_length cut)
{
  sw_item key = { .section = section, .cut = cut };
  const sw_item *item = bsearch (&key, layout->items, layout->item_count, sizeof key, compare_items);
  return (size_t)(item - layout->items);
}

static sw_status
add_items (builder *b)
{
  sw_layout *layout = b->layout;
  const sw_level *levels = b->job->levels.items;
  size_t pieces = layout->arc_count + layout->fixed_count;
  layout->items = sw_alloc (pieces, sizeof *layout->items);
  if (layout->items == NULL)
    return SW_NO_MEMORY;
  for (size_t a = 0; a < layout->arc_count; a++)
    layout->items[a] = (sw_item){ .section = levels[layout->arcs[a].level].section, .cut = layout->arcs[a].cut };
  for (size_t f = 0; f < layout->fixed_count; f++)
    layout->items[layout->arc_count + f] = (sw_item){ .section = b->fixed_section[f], .cut = b->fixed_cut[f] };
  qsort (layout->items, pieces, sizeof *layout->items, compare_items);
  for (size_t i = 0; i < pieces; i++)
    if (i == 0 || compare_items (&layout->items[i], &layout->items[layout->item_count - 1]) != 0)
      layout->items[layout->item_count++] = layout->items[i];
  for (size_t a = 0; a < layout->arc_count; a++)
    layout->arcs[a].item = find_item (layout, levels[layout->arcs[a].level].section, layout->arcs[a].cut);
  for (size_t f = 0; f < layout->fixed_count; f++)
    {
      sw_fixed *fixed = &layout->fixed[f];
      fixed->item = find_item (layout, b->fixed_section[f], b->fixed_cut[f]);
      sw_item *item = &layout->items[fixed->item];
      if (!sw_length_add (item->demand, fixed->quantity, &item->demand))
        return SW_FAILED;
    }
  return SW_OK;
}

/* ---- The whole ---- */

static sw_status
build (builder *b)
{
  sw_status status = find_stretches (b);
  if (status == SW_OK)
    status = find_levels (b);
  if (status == SW_OK)
    status = find_longest (b);
  if (status == SW_OK)
    status = add_arcs (b);
  if (status == SW_OK)
    status = add_all_fixed (b);
  if (status == SW_OK && b->impossible)
    status = SW_NO_PLAN;
  if (status == SW_OK)
    status = add_items (b);
  return status;
}

sw_status
sw_layout_new (sw_layout **out, const sw_job *job, sw_report *report)
{
  *out = NULL;
  sw_layout *layout = sw_alloc (1, sizeof *layout);
  if (layout == NULL)
    return SW_NO_MEMORY;
  layout->job = job;
  builder b = { .job = job, .layout = layout, .report = report };
  sw_status status = build (&b);
  free (b.longest);
  free (b.told);
  free (b.block_told);
  free (b.fixed_cut);
  free (b.fixed_section);
  free (b.mark);
  if (status == SW_OK)
    *out = layout;
  else
    sw_layout_free (layout);
  return status;
}

void
sw_layout_free (sw_layout *layout)
{
  if (layout == NULL)
    return;
  free (layout->stretches);
  free (layout->through);
  free (layout->arcs);
  free (layout->arc_start);
  free (layout->items);
  free (layout->fixed);
  free (layout);
}
