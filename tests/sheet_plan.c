/* sheet_plan.c - a plan without a solver, for the tests of the sheet
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet_plan.h"

#include "layout.h"
#include "memory.h"
#include "text.h"

#include <inttypes.h>
#include <stdlib.h>

static void *
need (void *memory)
{
  if (memory == NULL)
    abort ();
  return memory;
}

/* ---- Pieces ---- */

static sw_piece *
add_piece (sw_plan *plan, sw_piece piece, sw_text *label)
{
  plan->pieces = need (realloc (plan->pieces, (plan->piece_count + 1) * sizeof *plan->pieces));
  piece.label = need (sw_text_take (label));
  plan->pieces[plan->piece_count] = piece;
  return &plan->pieces[plan->piece_count++];
}

static void
place_label (const sw_job *job, const sw_piece *piece, sw_text *label)
{
  sw_text_printf (label, "%s/%s/", job->fence.runs[piece->run].name, job->levels.items[piece->level].name);
  if (piece->from != SW_NONE)
    sw_text_printf (label, "%zu-%zu", piece->from + 1, piece->to + 1);
}

/* The path of a level through a stretch. */
static void
add_path (sw_plan *plan, const sw_layout *layout, size_t s, size_t t)
{
  const sw_job *job = plan->job;
  const sw_stretch *stretch = &layout->stretches[s];
  const sw_run *run = &job->fence.runs[stretch->run];
  const size_t *start = &layout->arc_start[s * layout->through_count + t];
  for (size_t at = stretch->first; at < stretch->last;)
    {
      const sw_arc *best = NULL;
      for (size_t a = start[0]; a < start[1]; a++)
        {
          const sw_arc *arc = &layout->arcs[a];
          bool shorter = at == stretch->first && t % 2 == 1;
          if (arc->from == at && (best == NULL || (shorter ? arc->to < best->to : arc->to > best->to)))
            best = arc;
        }
      need ((void *) best);
      const sw_end *begin = &run->bays[best->from].start, *finish = &run->bays[best->to - 1].finish;
      sw_piece piece = { .kind = SW_PIECE_THROUGH, .run = stretch->run, .level = best->level, .from = best->from };
      piece.to = best->to;
      piece.cut = best->cut;
      piece.section = job->levels.items[best->level].section;
      piece.start_end = begin->kind;
      piece.finish_end = finish->kind;
      piece.start_saw = sw_end_saw_setting (begin);
      piece.finish_saw = sw_end_saw_setting (finish);
      sw_text label = { 0 };
      place_label (job, &piece, &label);
      add_piece (plan, piece, &label);
      plan->summary.joins += finish->kind == SW_END_ON ? 1 : 0;
      at = best->to;
    }
}

static void
add_fixed (sw_plan *plan, const sw_layout *layout, const sw_fixed *fixed)
{
  const sw_job *job = plan->job;
  for (int64_t n = 1; n <= fixed->quantity; n++)
    {
      const sw_item *item = &layout->items[fixed->item];
      sw_piece piece = { .section = item->section, .run = SW_NONE, .level = SW_NONE, .from = SW_NONE, .to = SW_NONE };
      sw_text label = { 0 };
      piece.cut = item->cut;
      piece.start_end = piece.finish_end = SW_END_FACE;
      if (fixed->kind == SW_FIXED_EXTRA)
        {
          piece.kind = SW_PIECE_EXTRA;
          sw_text_add (&label, job->extras.items[fixed->extra].label);
          if (fixed->quantity > 1)
            sw_text_printf (&label, " %" PRId64, n);
        }
      else
        {
          piece.run = fixed->run;
          piece.level = fixed->level;
          piece.kind = fixed->kind == SW_FIXED_BLOCK ? SW_PIECE_BLOCK : SW_PIECE_BETWEEN;
          if (fixed->kind == SW_FIXED_BETWEEN)
            {
              piece.from = fixed->bay;
              piece.to = fixed->bay + 1;
            }
          place_label (job, &piece, &label);
          if (fixed->kind == SW_FIXED_BLOCK)
            sw_text_printf (&label, "block %" PRId64, n);
        }
      add_piece (plan, piece, &label);
    }
}

static int
by_place (const void *a, const void *b)
{
  const sw_piece *x = a, *y = b;
  size_t kind_x = x->kind <= SW_PIECE_BETWEEN ? 0 : x->kind, kind_y = y->kind <= SW_PIECE_BETWEEN ? 0 : y->kind;
  const size_t left[] = { kind_x, x->run, x->level, x->from }, right[] = { kind_y, y->run, y->level, y->from };
  for (int i = 0; i < 4; i++)
    if (left[i] != right[i])
      return left[i] < right[i] ? -1 : 1;
  return 0;
}

/* ---- Boards ---- */

static const sw_plan *sorted;   /* qsort has no room for it */

static int
by_length (const void *a, const void *b)
{
  size_t i = *(const size_t *) a, j = *(const size_t *) b;
  const sw_piece *x = &sorted->pieces[i], *y = &sorted->pieces[j];
  if (x->section != y->section)
    return x->section < y->section ? -1 : 1;
  if (x->cut != y->cut)
    return x->cut > y->cut ? -1 : 1;
  return i < j ? -1 : 1;
}

static int
by_cuts (const void *a, const void *b)
{
  const sw_board *x = a, *y = b;
  if (x->stock != y->stock)
    return x->stock < y->stock ? -1 : 1;
  for (size_t i = 0; i < x->piece_count && i < y->piece_count; i++)
    {
      const sw_piece *p = &sorted->pieces[x->pieces[i]], *q = &sorted->pieces[y->pieces[i]];
      const int64_t left[] = { p->cut, p->start_saw, p->finish_saw }, right[] = { q->cut, q->start_saw, q->finish_saw };
      for (int k = 0; k < 3; k++)
        if (left[k] != right[k])
          return left[k] > right[k] ? -1 : 1;
    }
  if (x->piece_count != y->piece_count)
    return x->piece_count > y->piece_count ? -1 : 1;
  return x->pieces[0] < y->pieces[0] ? -1 : 1;
}

static size_t
longest_stock (const sw_job *job, size_t section)
{
  size_t best = SW_NONE;
  for (size_t s = 0; s < job->stocks.count; s++)
    if (job->stocks.items[s].section == section
        && (best == SW_NONE || job->stocks.items[s].length > job->stocks.items[best].length))
      best = s;
  if (best == SW_NONE)
    abort ();
  return best;
}

static void
put_piece (sw_plan *plan, size_t piece)
{
  const sw_settings *settings = plan->job->settings;
  const sw_piece *p = &plan->pieces[piece];
  size_t stock = longest_stock (plan->job, p->section), b = 0;
  while (b < plan->board_count && (plan->boards[b].stock != stock || plan->boards[b].left < p->cut))
    b++;
  if (b == plan->board_count)
    {
      plan->boards = need (realloc (plan->boards, (b + 1) * sizeof *plan->boards));
      plan->boards[b] = (sw_board){ .stock = stock, .left = plan->job->stocks.items[stock].length - 2 * settings->end_trim };
      plan->board_count++;
    }
  sw_board *board = &plan->boards[b];
  board->pieces = need (realloc (board->pieces, (board->piece_count + 1) * sizeof *board->pieces));
  board->pieces[board->piece_count++] = piece;
  board->left -= p->cut + settings->kerf;
  board->left = board->left < 0 ? 0 : board->left;
}

static void
add_up (sw_plan *plan)
{
  sw_summary *sum = &plan->summary;
  for (size_t b = 0; b < plan->board_count; b++)
    {
      sw_board *board = &plan->boards[b];
      sum->bought += plan->job->stocks.items[board->stock].length;
      if (board->left >= plan->job->settings->keep)
        sum->kept += board->left;
      for (size_t c = 0; c < board->piece_count; c++)
        {
          sw_piece *piece = &plan->pieces[board->pieces[c]];
          piece->board = b;
          piece->cut_number = c;
          sum->used += piece->cut;
        }
    }
  sum->boards = (int64_t) plan->board_count;
  sum->cost = sum->bound = sum->bought;
}

sw_plan *
sheet_plan (const sw_job *job)
{
  sw_plan *plan = need (sw_alloc (1, sizeof *plan));
  sw_layout *layout;
  plan->job = job;
  if (sw_layout_new (&layout, job, NULL) != SW_OK)
    abort ();
  for (size_t s = 0; s < layout->stretch_count; s++)
    for (size_t t = 0; t < layout->through_count; t++)
      add_path (plan, layout, s, t);
  for (size_t i = 0; i < layout->fixed_count; i++)
    add_fixed (plan, layout, &layout->fixed[i]);
  sw_layout_free (layout);
  qsort (plan->pieces, plan->piece_count, sizeof *plan->pieces, by_place);
  sorted = plan;
  size_t *order = need (sw_alloc (plan->piece_count, sizeof *order));
  for (size_t i = 0; i < plan->piece_count; i++)
    order[i] = i;
  qsort (order, plan->piece_count, sizeof *order, by_length);
  for (size_t i = 0; i < plan->piece_count; i++)
    put_piece (plan, order[i]);
  free (order);
  qsort (plan->boards, plan->board_count, sizeof *plan->boards, by_cuts);
  add_up (plan);
  return plan;
}
