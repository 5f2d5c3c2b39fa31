/* plan_pieces.c - the pieces of solved models, in their places
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/plan_fill.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "job/seat.h"
#include "layout/take.h"
#include "base/text.h"

/* ---- Pieces ---------------------------------------------------------------------------- */

static void
mark_arcs (sw_filling *f)
{
  /* What is in its place may be of sections that have nothing left to cut, so that no model has it. */
  for (size_t a = 0; a < f->layout->arc_count; a++)
    f->used[a] = f->layout->arcs[a].item == SW_NO_ITEM;
  for (size_t m = 0; m < f->model_count; m++)
    for (size_t o = 0; o < f->models[m].option_count; o++)
      if (f->solved[m].solution.used[o])
        f->used[f->models[m].options[o].arc] = 1;
}

static size_t
count_pieces (const sw_filling *f)
{
  size_t count = 0;
  for (size_t a = 0; a < f->layout->arc_count; a++)
    count += f->used[a];
  for (size_t i = 0; i < f->layout->fixed_count; i++)
    count += (size_t)f->layout->fixed[i].quantity;
  /* Pieces of through levels count as arcs already, so this leaves room for them twice. */
  return count + f->plan->job->in_place.count;
}

static sw_status
add_piece (sw_filling *f, const sw_piece *piece, size_t item, sw_text *label)
{
  sw_piece *p = &f->plan->pieces[f->plan->piece_count];
  *p = *piece;
  if (item == SW_NO_ITEM)
    {
      p->placed = true;
      p->take = p->cut;
    }
  else
    {
      p->section = f->layout->items[item].section;
      p->take = f->layout->items[item].take;
    }
  p->board = SW_NONE;
  p->label = sw_text_take (label);
  if (p->label == NULL)
    return SW_NO_MEMORY;
  f->item_of[f->plan->piece_count++] = item;
  return SW_OK;
}

void
sw_piece_set_slope (const sw_job *job, sw_piece *piece)
{
  const sw_run *run = &job->fence.runs[piece->run];
  sw_length span = 0;
  sw_length rise = 0;
  for (size_t b = piece->from; b < piece->to; b++)
    {
      span += run->bays[b].span;
      rise += run->bays[b].rise;
    }
  piece->plumb = sw_take_plumb (span, rise);
  piece->falls = rise < 0;
}

static sw_status
add_placed (sw_filling *f, sw_piece *piece, size_t item)
{
  const sw_job *job = f->plan->job;
  const sw_run *run = &job->fence.runs[piece->run];
  sw_piece_set_slope (job, piece);
  piece->section = job->levels.items[piece->level].section;
  sw_text label = { 0 };
  sw_text_printf (&label, "%s/%s/%zu-%zu", run->name, job->levels.items[piece->level].name,
                  piece->from + 1, piece->to + 1);
  return add_piece (f, piece, item, &label);
}

void
sw_piece_set_ends (const sw_job *job, const sw_stretch *st, sw_piece *piece)
{
  const sw_run *run = &job->fence.runs[st->run];
  const sw_level *level = &job->levels.items[piece->level];
  if (piece->from == st->first)
    {
      piece->start_end = sw_seat_end (level, run->bays[piece->from].start.kind);
      piece->start_long = sw_corner_long_side (&run->bays[piece->from].start);
      piece->start_saw = sw_end_saw_setting (&run->bays[piece->from].start);
    }
  if (piece->to == st->last)
    {
      piece->finish_end = sw_seat_end (level, run->bays[piece->to - 1].finish.kind);
      piece->finish_long = sw_corner_long_side (&run->bays[piece->to - 1].finish);
      piece->finish_saw = sw_end_saw_setting (&run->bays[piece->to - 1].finish);
    }
}

static sw_status
add_arc (sw_filling *f, const sw_arc *arc)
{
  const sw_stretch *st = &f->layout->stretches[arc->stretch];
  sw_piece piece = { .kind = SW_PIECE_THROUGH,
                     .run = st->run,
                     .level = arc->level,
                     .from = arc->from,
                     .to = arc->to,
                     .cut = arc->cut };
  sw_piece_set_ends (f->plan->job, st, &piece);
  return add_placed (f, &piece, arc->item);
}

static bool
is_of_run (const sw_fixed *fixed, size_t run)
{
  return fixed->kind != SW_FIXED_EXTRA && fixed->run == run;
}

static sw_status
add_between (sw_filling *f, size_t run, size_t level, size_t bay, sw_length cut, size_t item)
{
  sw_piece piece = { .kind = SW_PIECE_BETWEEN,
                     .run = run,
                     .level = level,
                     .from = bay,
                     .to = bay + 1,
                     .cut = cut,
                     .start_end = SW_END_FACE,
                     .finish_end = SW_END_FACE };
  return add_placed (f, &piece, item);
}

/* Add the pieces of one run and level: through ones from the arcs, between ones bay by bay. */
static sw_status
add_level (sw_filling *f, size_t run, size_t level, size_t *stretch, size_t *fixed)
{
  const sw_layout *l = f->layout;
  sw_status status = SW_OK;
  for (size_t st = *stretch; st < l->stretch_count && l->stretches[st].run == run; st++)
    for (size_t t = 0; t < l->through_count; t++)
      {
        if (l->through[t] != level)
          continue;
        size_t k = st * l->through_count + t;
        for (size_t a = l->arc_start[k]; a < l->arc_start[k + 1] && status == SW_OK; a++)
          if (f->used[a])
            status = add_arc (f, &l->arcs[a]);
      }
  size_t placed_count = 0, next = 0;
  const sw_placed *placed = f->plan->job->levels.items[level].through
                                ? NULL
                                : sw_in_place_of (&f->plan->job->in_place, run, level, &placed_count);
  for (size_t i = *fixed; i < l->fixed_count && is_of_run (&l->fixed[i], run) && status == SW_OK; i++)
    if (l->fixed[i].kind == SW_FIXED_BETWEEN && l->fixed[i].level == level)
      {
        for (; next < placed_count && placed[next].from < l->fixed[i].bay && status == SW_OK; next++)
          status = add_between (f, run, level, placed[next].from, placed[next].cut, SW_NO_ITEM);
        if (status == SW_OK)
          status = add_between (f, run, level, l->fixed[i].bay, l->fixed[i].cut, l->fixed[i].item);
      }
  for (; next < placed_count && status == SW_OK; next++)
    status = add_between (f, run, level, placed[next].from, placed[next].cut, SW_NO_ITEM);
  return status;
}

/* Find the block number N of RUN and LEVEL, or piece N of EXTRA, among what is in its place; NULL: it is not. */
static const sw_placed *
find_placed (const sw_job *job, sw_placed_kind kind, size_t run, size_t level, size_t extra, int64_t n)
{
  for (size_t i = 0; i < job->in_place.count; i++)
    {
      const sw_placed *p = &job->in_place.items[i];
      const bool here = kind == SW_PLACED_EXTRA ? p->extra == extra : p->run == run && p->level == level;
      if (p->kind == kind && here && (p->number == n || (p->number == 0 && n == 1)))
        return p;
    }
  return NULL;
}

/* Add the blocks of one run and level.  OPEN of them are to be cut of ITEM.  They are numbered in the order of the
 * list, together with those that are in their places. */
static sw_status
add_blocks (sw_filling *f, size_t run, size_t level, int64_t open, size_t item)
{
  const sw_job *job = f->plan->job;
  const sw_level *of = &job->levels.items[level];
  int64_t placed = sw_in_place_blocks (&job->in_place, run, level);
  sw_status status = SW_OK;
  for (int64_t n = 1; open + placed > 0 && status == SW_OK; n++)
    {
      const sw_placed *there = placed > 0 ? find_placed (job, SW_PLACED_BLOCK, run, level, 0, n) : NULL;
      if (there == NULL && open == 0)
        continue;
      sw_text label = { 0 };
      sw_piece piece = { .kind = SW_PIECE_BLOCK, .section = of->block_section, .run = run, .level = level,
                         .from = SW_NONE, .to = SW_NONE, .cut = there != NULL ? there->cut : of->block_length };
      if (there != NULL)
        sw_text_add (&label, there->label);
      else
        sw_text_printf (&label, "%s/%s/block %" PRId64, job->fence.runs[run].name, of->name, n);
      placed -= there != NULL ? 1 : 0;
      open -= there != NULL ? 0 : 1;
      status = add_piece (f, &piece, there != NULL ? SW_NO_ITEM : item, &label);
    }
  return status;
}

/* Do the same for the pieces of one extra. */
static sw_status
add_extras (sw_filling *f, size_t index, int64_t open, size_t item)
{
  const sw_job *job = f->plan->job;
  const sw_extra *extra = &job->extras.items[index];
  int64_t placed = sw_in_place_extras (&job->in_place, index);
  sw_status status = SW_OK;
  for (int64_t n = 1; open + placed > 0 && status == SW_OK; n++)
    {
      const sw_placed *there = placed > 0 ? find_placed (job, SW_PLACED_EXTRA, 0, 0, index, n) : NULL;
      if (there == NULL && open == 0)
        continue;
      sw_text label = { 0 };
      sw_piece piece = { .kind = SW_PIECE_EXTRA, .section = extra->section, .run = SW_NONE, .level = SW_NONE,
                         .from = SW_NONE, .to = SW_NONE, .cut = there != NULL ? there->cut : extra->length };
      sw_text_add (&label, there != NULL ? there->label : extra->label);
      if (there == NULL && extra->quantity > 1)
        sw_text_printf (&label, " %" PRId64, n);
      placed -= there != NULL ? 1 : 0;
      open -= there != NULL ? 0 : 1;
      status = add_piece (f, &piece, there != NULL ? SW_NO_ITEM : item, &label);
    }
  return status;
}

/* Find the blocks of RUN and LEVEL, or the pieces of EXTRA, that are open; NULL: none is. */
static const sw_fixed *
find_open (const sw_layout *l, sw_fixed_kind kind, size_t run, size_t level, size_t extra)
{
  for (size_t i = 0; i < l->fixed_count; i++)
    if (l->fixed[i].kind == kind
        && (kind == SW_FIXED_EXTRA ? l->fixed[i].extra == extra : l->fixed[i].run == run && l->fixed[i].level == level))
      return &l->fixed[i];
  return NULL;
}

/* Add blocks and extras where some of them are in their places. */
static sw_status
add_others (sw_filling *f)
{
  const sw_job *job = f->plan->job;
  sw_status status = SW_OK;
  for (size_t run = 0; run < job->fence.run_count; run++)
    for (size_t level = 0; level < job->levels.count && status == SW_OK; level++)
      {
        const sw_fixed *open = find_open (f->layout, SW_FIXED_BLOCK, run, level, 0);
        status = add_blocks (f, run, level, open != NULL ? open->quantity : 0, open != NULL ? open->item : SW_NO_ITEM);
      }
  for (size_t extra = 0; extra < job->extras.count && status == SW_OK; extra++)
    {
      const sw_fixed *open = find_open (f->layout, SW_FIXED_EXTRA, 0, 0, extra);
      status = add_extras (f, extra, open != NULL ? open->quantity : 0, open != NULL ? open->item : SW_NO_ITEM);
    }
  return status;
}

static sw_status
add_pieces (sw_filling *f)
{
  const sw_layout *l = f->layout;
  sw_status status = SW_OK;
  size_t stretch = 0, fixed = 0;
  for (size_t run = 0; run < f->plan->job->fence.run_count && status == SW_OK; run++)
    {
      while (stretch < l->stretch_count && l->stretches[stretch].run < run)
        stretch++;
      /* Fixed pieces are sorted by run; extras come last. */
      while (fixed < l->fixed_count && l->fixed[fixed].kind != SW_FIXED_EXTRA && l->fixed[fixed].run < run)
        fixed++;
      for (size_t level = 0; level < f->plan->job->levels.count && status == SW_OK; level++)
        status = add_level (f, run, level, &stretch, &fixed);
    }
  if (f->plan->job->in_place.count > 0)
    return status == SW_OK ? add_others (f) : status;
  for (int kind = SW_FIXED_BLOCK; kind <= SW_FIXED_EXTRA; kind++)
    for (size_t i = 0; i < l->fixed_count && status == SW_OK; i++)
      if ((int)l->fixed[i].kind == kind)
        status = kind == SW_FIXED_BLOCK
                     ? add_blocks (f, l->fixed[i].run, l->fixed[i].level, l->fixed[i].quantity, l->fixed[i].item)
                     : add_extras (f, l->fixed[i].extra, l->fixed[i].quantity, l->fixed[i].item);
  return status;
}

/* ---- Labels ------------------------------------------------------------------------------ */

static int
by_label (const void *a, const void *b)
{
  const sw_piece *x = *(const sw_piece *const *)a, *y = *(const sw_piece *const *)b;
  int order = strcmp (x->label, y->label);
  return order != 0 ? order : (x < y ? -1 : x > y);
}

/* Number the labels that are not unique: names may hold slashes, and extras may share a label. */
static sw_status
make_unique (sw_filling *f)
{
  size_t count = f->plan->piece_count;
  sw_piece **order = sw_alloc (count, sizeof *order);
  if (order == NULL)
    return SW_NO_MEMORY;
  sw_status status = SW_OK;
  for (bool again = true; again && status == SW_OK;)
    {
      again = false;
      for (size_t i = 0; i < count; i++)
        order[i] = &f->plan->pieces[i];
      qsort (order, count, sizeof (sw_piece *), by_label);
      for (size_t i = 1, same = 1; i < count && status == SW_OK; i++)
        {
          same = strcmp (order[i]->label, order[i - same]->label) == 0 ? same + 1 : 1;
          if (same == 1)
            continue;
          sw_text label = { 0 };
          sw_text_printf (&label, "%s (%zu)", order[i]->label, same);
          char *text = sw_text_take (&label);
          if (text == NULL)
            {
              status = SW_NO_MEMORY;
              break;
            }
          free (order[i]->label);
          order[i]->label = text;
          again = true;
        }
    }
  free (order);
  return status;
}

sw_status
sw_filling_pieces (sw_filling *f)
{
  mark_arcs (f);
  const size_t count = count_pieces (f);
  f->plan->pieces = sw_alloc (count, sizeof *f->plan->pieces);
  f->item_of = sw_alloc (count, sizeof *f->item_of);
  if (f->plan->pieces == NULL || f->item_of == NULL)
    return SW_NO_MEMORY;
  sw_status status = add_pieces (f);
  return status == SW_OK ? make_unique (f) : status;
}
