/* layout.c - from a job to possible pieces and fixed demands
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout/layout_build.h"

#include "layout/ends.h"
#include "layout/layout_why.h"
#include "base/memory.h"

#include <stdlib.h>

/* ---- What can be had ---- */

/* Do two levels have the same pieces?  They do if they have the same timber and the same seat, and
 * both are on all runs. */
static bool
are_twins (const sw_level *a, const sw_level *b)
{
  return a->section == b->section && a->seat == b->seat && a->let_in == b->let_in && a->runs == NULL
         && b->runs == NULL;
}

static sw_status
find_levels (sw_layout_build *b)
{
  const sw_levels *levels = &b->job->levels;
  sw_layout *layout = b->layout;
  layout->through = sw_alloc (levels->count, sizeof *layout->through);
  b->twin = sw_alloc (levels->count, sizeof *b->twin);
  if (layout->through == NULL || b->twin == NULL)
    return SW_NO_MEMORY;
  for (size_t l = 0; l < levels->count; l++)
    {
      if (!levels->items[l].through)
        continue;
      size_t t = layout->through_count++;
      layout->through[t] = l;
      b->twin[t] = 0;
      /* What is in its place makes levels differ. */
      if (b->job->in_place.count > 0)
        b->twin[t] = t;
      while (b->twin[t] < t && !are_twins (&levels->items[layout->through[b->twin[t]]], &levels->items[l]))
        b->twin[t]++;
    }
  return SW_OK;
}

static sw_status
find_longest (sw_layout_build *b)
{
  const sw_job *job = b->job;
  b->longest = sw_alloc (job->sections.count, sizeof *b->longest);
  b->reach = sw_alloc (job->sections.count, sizeof *b->reach);
  b->told = sw_alloc (job->sections.count, sizeof *b->told);
  b->block_told = sw_alloc (job->levels.count, sizeof *b->block_told);
  if (b->longest == NULL || b->reach == NULL || b->told == NULL || b->block_told == NULL)
    return SW_NO_MEMORY;
  for (size_t s = 0; s < job->sections.count; s++)
    b->longest[s] = b->reach[s] = sw_layout_longest (job, s);
  for (size_t s = 0; s < job->stocks.count; s++)
    if (job->stocks.items[s].take > b->reach[job->stocks.items[s].section])
      b->reach[job->stocks.items[s].section] = job->stocks.items[s].take;
  return SW_OK;
}

/* ---- Fixed pieces ---- */

static sw_status
add_fixed (sw_layout_build *b, const sw_fixed *fixed)
{
  sw_layout *layout = b->layout;
  bool usable;
  sw_status status = sw_layout_check_section (b, fixed->section, &usable);
  if (status != SW_OK || !usable)
    return status;
  if (!sw_layout_fits (b, fixed->section, fixed->cut, fixed->take) && fixed->kept == 0)
    {
      b->impossible = true;
      if (fixed->kind == SW_FIXED_BLOCK && b->block_told[fixed->level])
        return SW_OK;
      if (fixed->kind == SW_FIXED_BLOCK)
        b->block_told[fixed->level] = true;
      return sw_layout_why_fixed (b->job, fixed, b->report);
    }
  status = sw_grow ((void **)&layout->fixed, &b->fixed_room, layout->fixed_count + 1, sizeof *layout->fixed);
  if (status == SW_OK)
    layout->fixed[layout->fixed_count++] = *fixed;
  return status;
}

/* Is the piece between the posts of BAY there already? */
static bool
is_placed (const sw_job *job, size_t run, size_t level, size_t bay)
{
  size_t count;
  const sw_placed *placed = sw_in_place_of (&job->in_place, run, level, &count);
  for (size_t i = 0; i < count; i++)
    if (placed[i].from == bay)
      return true;
  return false;
}

static sw_status
add_fixed_of (sw_layout_build *b, size_t r, size_t l)
{
  const sw_run *run = &b->job->fence.runs[r];
  const sw_level *level = &b->job->levels.items[l];
  sw_fixed fixed = { .kind = SW_FIXED_BETWEEN, .section = level->section, .quantity = 1, .run = r, .level = l };
  sw_status status = SW_OK;
  int64_t bays = 0;
  for (size_t bay = 0; status == SW_OK && bay < run->bay_count; bay++)
    {
      if (run->bays[bay].opening)
        continue;
      bays++;
      if (level->through || is_placed (b->job, r, l, bay))
        continue;
      fixed.bay = bay;
      fixed.cut = sw_layout_between_cut (b->job, level, run, bay);
      fixed.take = sw_layout_between_take (b->job, level, run, bay, fixed.cut);
      const sw_stretch stretch = { .run = r, .first = bay, .last = bay + 1 };
      fixed.kept = sw_ends_kept (b->job, level, &stretch, bay, bay + 1, fixed.cut, fixed.take);
      status = add_fixed (b, &fixed);
    }
  if (status != SW_OK || bays == 0 || level->blocks == 0)
    return status;
  fixed = (sw_fixed){ .kind = SW_FIXED_BLOCK, .section = level->block_section, .run = r, .level = l };
  fixed.cut = fixed.take = level->block_length;
  if (!sw_length_mul (bays, level->blocks, &fixed.quantity))
    return SW_FAILED;
  fixed.quantity -= sw_in_place_blocks (&b->job->in_place, r, l);
  return fixed.quantity > 0 ? add_fixed (b, &fixed) : SW_OK;
}

static sw_status
add_all_fixed (sw_layout_build *b)
{
  sw_status status = SW_OK;
  for (size_t r = 0; status == SW_OK && r < b->job->fence.run_count; r++)
    for (size_t l = 0; status == SW_OK && l < b->job->levels.count; l++)
      if (sw_level_is_on (&b->job->levels.items[l], r))
        status = add_fixed_of (b, r, l);
  for (size_t e = 0; status == SW_OK && e < b->job->extras.count; e++)
    {
      const sw_extra *extra = &b->job->extras.items[e];
      sw_fixed fixed = { .kind = SW_FIXED_EXTRA, .section = extra->section, .quantity = extra->quantity, .extra = e };
      fixed.cut = fixed.take = extra->length;
      fixed.quantity -= sw_in_place_extras (&b->job->in_place, e);
      if (fixed.quantity > 0)
        status = add_fixed (b, &fixed);
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
  if (a->take != b->take)
    return a->take > b->take ? -1 : 1;
  if (a->kept != b->kept)
    return a->kept < b->kept ? -1 : 1;
  return 0;
}

static size_t
find_item (const sw_layout *layout, size_t section, sw_length take, size_t kept)
{
  sw_item key = { .section = section, .take = take, .kept = kept };
  const sw_item *item = bsearch (&key, layout->items, layout->item_count, sizeof key, compare_items);
  return (size_t)(item - layout->items);
}

static sw_status
add_items (sw_layout_build *b)
{
  sw_layout *layout = b->layout;
  const sw_level *levels = b->job->levels.items;
  size_t pieces = layout->arc_count + layout->fixed_count;
  layout->items = sw_alloc (pieces, sizeof *layout->items);
  if (layout->items == NULL)
    return SW_NO_MEMORY;
  size_t count = 0;
  for (size_t a = 0; a < layout->arc_count; a++)
    if (layout->arcs[a].item != SW_NO_ITEM)
      layout->items[count++] = (sw_item){ .section = levels[layout->arcs[a].level].section,
                                          .take = layout->arcs[a].take,
                                          .kept = layout->arcs[a].kept };
  for (size_t f = 0; f < layout->fixed_count; f++)
    layout->items[count++] = (sw_item){ .section = layout->fixed[f].section,
                                        .take = layout->fixed[f].take,
                                        .kept = layout->fixed[f].kept };
  pieces = count;
  qsort (layout->items, pieces, sizeof *layout->items, compare_items);
  for (size_t i = 0; i < pieces; i++)
    if (i == 0 || compare_items (&layout->items[i], &layout->items[layout->item_count - 1]) != 0)
      layout->items[layout->item_count++] = layout->items[i];
  for (size_t a = 0; a < layout->arc_count; a++)
    if (layout->arcs[a].item != SW_NO_ITEM)
      layout->arcs[a].item = find_item (layout, levels[layout->arcs[a].level].section, layout->arcs[a].take,
                                        layout->arcs[a].kept);
  for (size_t f = 0; f < layout->fixed_count; f++)
    {
      sw_fixed *fixed = &layout->fixed[f];
      fixed->item = find_item (layout, fixed->section, fixed->take, fixed->kept);
      sw_item *item = &layout->items[fixed->item];
      if (!sw_length_add (item->demand, fixed->quantity, &item->demand))
        return SW_FAILED;
    }
  return SW_OK;
}

/* ---- The whole ---- */

static sw_status
build (sw_layout_build *b)
{
  sw_status status = find_levels (b);
  if (status == SW_OK)
    status = find_longest (b);
  if (status == SW_OK)
    status = sw_layout_add_arcs (b);
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
  sw_layout_build b = { .job = job, .layout = layout, .report = report };
  sw_status status = build (&b);
  free (b.longest);
  free (b.reach);
  free (b.told);
  free (b.block_told);
  free (b.twin);
  free (b.mark);
  free (b.along);
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
