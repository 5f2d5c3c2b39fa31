/* layout.c - from a job to possible pieces and fixed demands
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout_build.h"

#include "layout_why.h"
#include "memory.h"

#include <stdlib.h>

/* ---- What can be had ---- */

static sw_status
find_levels (sw_layout_build *b)
{
  const sw_levels *levels = &b->job->levels;
  sw_layout *layout = b->layout;
  layout->through = sw_alloc (levels->count, sizeof *layout->through);
  b->twin = sw_alloc (levels->count, sizeof *b->twin);
  size_t *first = sw_alloc (b->job->sections.count, sizeof *first); /* by section: one more than its first level */
  bool room = layout->through != NULL && b->twin != NULL && first != NULL;
  for (size_t l = 0; room && l < levels->count; l++)
    {
      if (!levels->items[l].through)
        continue;
      size_t t = layout->through_count++;
      size_t *seen = &first[levels->items[l].section];
      layout->through[t] = l;
      b->twin[t] = *seen > 0 ? *seen - 1 : t;
      *seen = b->twin[t] + 1;
    }
  free (first);
  return room ? SW_OK : SW_NO_MEMORY;
}

static sw_status
find_longest (sw_layout_build *b)
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

sw_status
sw_layout_check_section (sw_layout_build *b, size_t section, bool *usable)
{
  *usable = b->longest[section] > 0;
  if (*usable || b->told[section])
    return SW_OK;
  b->told[section] = true;
  b->impossible = true;
  return sw_layout_why_none (b->job, section, b->report);
}

/* ---- Fixed pieces ---- */

sw_length
sw_layout_between_cut (const sw_job *job, const sw_level *level, const sw_run *run, size_t bay)
{
  (void)job;
  /* Rounded as sw_span_of_clear does, so that an opening that was measured comes back as it was. */
  sw_length posts = run->posts[bay].width + run->posts[bay + 1].width;
  sw_length clear = run->bays[bay].span - (posts + 1) / 2;
  sw_length cut;
  return sw_length_sub (sw_bay_on_slope (&run->bays[bay], clear), level->gap, &cut) ? cut : 0;
}

static sw_status
add_fixed (sw_layout_build *b, const sw_fixed *fixed, size_t section, sw_length cut)
{
  sw_layout *layout = b->layout;
  bool usable;
  sw_status status = sw_layout_check_section (b, section, &usable);
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
add_fixed_of (sw_layout_build *b, size_t r, size_t l)
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
add_all_fixed (sw_layout_build *b)
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
add_items (sw_layout_build *b)
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
  free (b.told);
  free (b.block_told);
  free (b.fixed_cut);
  free (b.fixed_section);
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
