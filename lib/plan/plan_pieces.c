/* plan_pieces.c - turns solved models into boards, pieces and places
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/plan_pieces.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "job/seat.h"
#include "layout/take.h"
#include "base/text.h"

typedef struct filling
{
  sw_plan *plan;
  const sw_layout *layout;
  const sw_model *models;
  const sw_solved *solved;
  size_t model_count;
  uint8_t *used;       /* by arc of the layout */
  size_t *item_of;     /* by piece */
  size_t *queue;       /* pieces by item, in the order in which boards get them */
  size_t *queue_start; /* by item, and the end */
  size_t *queue_next;
} filling;

/* ---- Pieces ---------------------------------------------------------------------------- */

static void
mark_arcs (filling *f)
{
  for (size_t m = 0; m < f->model_count; m++)
    for (size_t o = 0; o < f->models[m].option_count; o++)
      if (f->solved[m].solution.used[o])
        f->used[f->models[m].options[o].arc] = 1;
}

static size_t
count_pieces (const filling *f)
{
  size_t count = 0;
  for (size_t a = 0; a < f->layout->arc_count; a++)
    count += f->used[a];
  for (size_t i = 0; i < f->layout->fixed_count; i++)
    count += (size_t)f->layout->fixed[i].quantity;
  return count;
}

static sw_status
add_piece (filling *f, const sw_piece *piece, size_t item, sw_text *label)
{
  sw_piece *p = &f->plan->pieces[f->plan->piece_count];
  *p = *piece;
  p->section = f->layout->items[item].section;
  p->take = f->layout->items[item].take;
  p->board = SW_NONE;
  p->label = sw_text_take (label);
  if (p->label == NULL)
    return SW_NO_MEMORY;
  f->item_of[f->plan->piece_count++] = item;
  return SW_OK;
}

static sw_status
add_placed (filling *f, sw_piece *piece, size_t item)
{
  const sw_job *job = f->plan->job;
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
  sw_text label = { 0 };
  sw_text_printf (&label, "%s/%s/%zu-%zu", run->name, job->levels.items[piece->level].name,
                  piece->from + 1, piece->to + 1);
  return add_piece (f, piece, item, &label);
}

static sw_status
add_arc (filling *f, const sw_arc *arc)
{
  const sw_stretch *st = &f->layout->stretches[arc->stretch];
  const sw_run *run = &f->plan->job->fence.runs[st->run];
  const sw_level *level = &f->plan->job->levels.items[arc->level];
  sw_piece piece = { .kind = SW_PIECE_THROUGH,
                     .run = st->run,
                     .level = arc->level,
                     .from = arc->from,
                     .to = arc->to,
                     .cut = arc->cut };
  if (arc->from == st->first)
    {
      piece.start_end = sw_seat_end (level, run->bays[arc->from].start.kind);
      piece.start_long = sw_corner_long_side (&run->bays[arc->from].start);
      piece.start_saw = sw_end_saw_setting (&run->bays[arc->from].start);
    }
  if (arc->to == st->last)
    {
      piece.finish_end = sw_seat_end (level, run->bays[arc->to - 1].finish.kind);
      piece.finish_long = sw_corner_long_side (&run->bays[arc->to - 1].finish);
      piece.finish_saw = sw_end_saw_setting (&run->bays[arc->to - 1].finish);
    }
  return add_placed (f, &piece, arc->item);
}

static bool
is_of_run (const sw_fixed *fixed, size_t run)
{
  return fixed->kind != SW_FIXED_EXTRA && fixed->run == run;
}

/* Add the pieces of one run and level: through ones from the arcs, between ones bay by bay. */
static sw_status
add_level (filling *f, size_t run, size_t level, size_t *stretch, size_t *fixed)
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
  for (size_t i = *fixed; i < l->fixed_count && is_of_run (&l->fixed[i], run) && status == SW_OK; i++)
    if (l->fixed[i].kind == SW_FIXED_BETWEEN && l->fixed[i].level == level)
      {
        sw_piece piece = { .kind = SW_PIECE_BETWEEN,
                           .run = run,
                           .level = level,
                           .from = l->fixed[i].bay,
                           .to = l->fixed[i].bay + 1,
                           .cut = l->fixed[i].cut,
                           .start_end = SW_END_FACE,
                           .finish_end = SW_END_FACE };
        status = add_placed (f, &piece, l->fixed[i].item);
      }
  return status;
}

static sw_status
add_blocks (filling *f, const sw_fixed *fixed)
{
  const sw_job *job = f->plan->job;
  sw_status status = SW_OK;
  for (int64_t n = 1; n <= fixed->quantity && status == SW_OK; n++)
    {
      sw_text label = { 0 };
      sw_piece piece
          = { .kind = SW_PIECE_BLOCK, .run = fixed->run, .level = fixed->level, .from = SW_NONE, .to = SW_NONE,
              .cut = fixed->cut };
      sw_text_printf (&label, "%s/%s/block %" PRId64, job->fence.runs[fixed->run].name,
                      job->levels.items[fixed->level].name, n);
      status = add_piece (f, &piece, fixed->item, &label);
    }
  return status;
}

static sw_status
add_extras (filling *f, const sw_fixed *fixed)
{
  const sw_extra *extra = &f->plan->job->extras.items[fixed->extra];
  sw_status status = SW_OK;
  for (int64_t n = 1; n <= fixed->quantity && status == SW_OK; n++)
    {
      sw_text label = { 0 };
      sw_piece piece = { .kind = SW_PIECE_EXTRA, .run = SW_NONE, .level = SW_NONE, .from = SW_NONE, .to = SW_NONE,
                         .cut = fixed->cut };
      sw_text_add (&label, extra->label);
      if (fixed->quantity > 1)
        sw_text_printf (&label, " %" PRId64, n);
      status = add_piece (f, &piece, fixed->item, &label);
    }
  return status;
}

static sw_status
add_pieces (filling *f)
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
  for (int kind = SW_FIXED_BLOCK; kind <= SW_FIXED_EXTRA; kind++)
    for (size_t i = 0; i < l->fixed_count && status == SW_OK; i++)
      if ((int)l->fixed[i].kind == kind)
        status = kind == SW_FIXED_BLOCK ? add_blocks (f, &l->fixed[i]) : add_extras (f, &l->fixed[i]);
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
make_unique (filling *f)
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

/* ---- Boards -------------------------------------------------------------------------------- */

/* Which ends are mitred, and whether the piece is cut plumb, as a number from 0 to 7. */
static int
shape_of (const sw_piece *piece)
{
  return (piece->start_saw != 0 ? 1 : 0) + (piece->finish_saw != 0 ? 2 : 0) + (piece->plumb != 0 ? 4 : 0);
}

/* Queue the pieces of each item in the order in which boards get them.  Pieces for which the saw is
 * set alike stand together, so that boards that are cut alike follow each other. */
static sw_status
queue_pieces (filling *f)
{
  size_t items = f->layout->item_count, pieces = f->plan->piece_count;
  f->queue = sw_alloc (pieces, sizeof *f->queue);
  f->queue_start = sw_alloc (items + 1, sizeof *f->queue_start);
  f->queue_next = sw_alloc (items + 1, sizeof *f->queue_next);
  if (!f->queue || !f->queue_start || !f->queue_next)
    return SW_NO_MEMORY;
  for (size_t p = 0; p < pieces; p++)
    f->queue_start[f->item_of[p] + 1]++;
  for (size_t i = 0; i < items; i++)
    f->queue_start[i + 1] += f->queue_start[i];
  memcpy (f->queue_next, f->queue_start, (items + 1) * sizeof *f->queue_next);
  for (int shape = 0; shape < 8; shape++)
    for (size_t p = 0; p < pieces; p++)
      if (shape_of (&f->plan->pieces[p]) == shape)
        f->queue[f->queue_next[f->item_of[p]]++] = p;
  memcpy (f->queue_next, f->queue_start, (items + 1) * sizeof *f->queue_next);
  return SW_OK;
}

/* A pattern in use, for sorting into the plan's order. */
typedef struct use
{
  const sw_model *model;
  const sw_patterns *pool;
  const sw_pattern *pattern;
  int64_t copies;
  const sw_job *job;
} use;

static int
by_place (const void *a, const void *b)
{
  const use *x = a, *y = b;
  const sw_model_stock *s = &x->model->stocks[x->pattern->stock], *t = &y->model->stocks[y->pattern->stock];
  const sw_stock *u = &x->job->stocks.items[s->of_job], *v = &y->job->stocks.items[t->of_job];
  if (u->section != v->section)
    return u->section < v->section ? -1 : 1;
  if (s->hand != t->hand)
    return s->hand ? 1 : -1;
  if (u->length != v->length)
    return u->length > v->length ? -1 : 1;
  for (uint32_t i = 0; i < x->pattern->count && i < y->pattern->count; i++)
    {
      const sw_entry *c = &x->pool->entries[x->pattern->first + i], *d = &y->pool->entries[y->pattern->first + i];
      if (c->need != d->need)
        return c->need < d->need ? -1 : 1;
      if (c->copies != d->copies)
        return c->copies > d->copies ? -1 : 1;
    }
  if (x->pattern->count != y->pattern->count)
    return x->pattern->count > y->pattern->count ? -1 : 1;
  return 0;
}

static sw_status
list_uses (const filling *f, use **out, size_t *count, size_t *boards)
{
  *count = 0;
  *boards = 0;
  for (size_t m = 0; m < f->model_count; m++)
    *count += f->solved[m].solution.count;
  use *uses = sw_alloc (*count, sizeof *uses);
  if (uses == NULL)
    return SW_NO_MEMORY;
  size_t n = 0;
  for (size_t m = 0; m < f->model_count; m++)
    for (size_t i = 0; i < f->solved[m].solution.count; i++)
      {
        uses[n++] = (use){ .model = &f->models[m],
                           .pool = &f->solved[m].pool,
                           .job = f->plan->job,
                           .pattern = &f->solved[m].pool.items[f->solved[m].solution.boards[i].pattern],
                           .copies = f->solved[m].solution.boards[i].copies };
        *boards += (size_t)f->solved[m].solution.boards[i].copies;
      }
  qsort (uses, *count, sizeof *uses, by_place);
  *out = uses;
  return SW_OK;
}

/* Put the longest piece first.  A piece that takes more of the board is not always longer.  A board
 * has few pieces, and they are nearly sorted. */
static void
put_longest_first (sw_plan *plan, sw_board *board)
{
  for (size_t i = 1; i < board->piece_count; i++)
    {
      const size_t piece = board->pieces[i];
      size_t at = i;
      for (; at > 0 && plan->pieces[board->pieces[at - 1]].cut < plan->pieces[piece].cut; at--)
        board->pieces[at] = board->pieces[at - 1];
      board->pieces[at] = piece;
    }
  for (size_t i = 0; i < board->piece_count; i++)
    plan->pieces[board->pieces[i]].cut_number = i;
}

/* Cut one board.  A pattern may have more pieces of an item than are needed: these are not cut. */
static sw_status
cut_board (filling *f, const use *u)
{
  sw_plan *plan = f->plan;
  sw_board *board = &plan->boards[plan->board_count];
  const sw_model_stock *stock = &u->model->stocks[u->pattern->stock];
  size_t most = 0;
  for (uint32_t c = 0; c < u->pattern->count; c++)
    most += u->pool->entries[u->pattern->first + c].copies;
  *board = (sw_board){ .stock = stock->of_job, .hand = stock->hand };
  board->pieces = sw_alloc (most, sizeof *board->pieces);
  if (board->pieces == NULL)
    return SW_NO_MEMORY;
  for (uint32_t c = 0; c < u->pattern->count; c++)
    {
      const sw_entry *cut = &u->pool->entries[u->pattern->first + c];
      size_t item = u->model->needs[cut->need].item;
      for (uint32_t k = 0; k < cut->copies && f->queue_next[item] < f->queue_start[item + 1]; k++)
        {
          size_t piece = f->queue[f->queue_next[item]++];
          plan->pieces[piece].board = plan->board_count;
          board->pieces[board->piece_count++] = piece;
        }
    }
  plan->board_count++;
  put_longest_first (plan, board);
  board->left = sw_board_left_after (plan, board, board->piece_count);
  if (board->piece_count > 0)
    return SW_OK;
  /* No piece was left for this board. */
  free (board->pieces);
  *board = (sw_board){ 0 };
  plan->board_count--;
  return SW_OK;
}

static sw_status
add_boards (filling *f)
{
  use *uses = NULL;
  size_t count, boards;
  sw_status status = list_uses (f, &uses, &count, &boards);
  if (status == SW_OK)
    {
      f->plan->boards = sw_alloc (boards, sizeof *f->plan->boards);
      if (f->plan->boards == NULL)
        status = SW_NO_MEMORY;
    }
  for (size_t i = 0; i < count && status == SW_OK; i++)
    for (int64_t k = 0; k < uses[i].copies && status == SW_OK; k++)
      status = cut_board (f, &uses[i]);
  free (uses);
  for (size_t p = 0; p < f->plan->piece_count && status == SW_OK; p++)
    if (f->plan->pieces[p].board == SW_NONE)
      status = SW_FAILED;
  return status;
}

/* ---- Aligned joins ---------------------------------------------------------------------------- */

static sw_status
add_aligned_at (filling *f, const sw_model *model, const sw_strip *strip, const uint8_t *joined, uint32_t post)
{
  sw_plan *plan = f->plan;
  const sw_stretch *st = &f->layout->stretches[strip->stretch];
  for (uint32_t r = 0; r + 1 < strip->level_count; r++)
    {
      if (!model->stagger || !joined[r] || !joined[r + 1])
        continue;
      if (!strip->counted[post])
        {
          plan->summary.always++;
          continue;
        }
      size_t capacity = plan->aligned_count;
      sw_aligned *larger = realloc (plan->aligned, (capacity + 1) * sizeof *larger);
      if (larger == NULL)
        return SW_NO_MEMORY;
      plan->aligned = larger;
      plan->aligned[plan->aligned_count++] = (sw_aligned){
        .run = st->run, .post = st->first + post, .lower = strip->levels[r].of_job, .upper = strip->levels[r + 1].of_job
      };
    }
  return SW_OK;
}

static sw_status
add_aligned (filling *f)
{
  sw_status status = SW_OK;
  for (size_t m = 0; m < f->model_count; m++)
    for (size_t i = 0; i < f->models[m].strip_count; i++)
      {
        const sw_strip *strip = &f->models[m].strips[i];
        uint8_t *joined = sw_alloc (strip->level_count, 1);
        if (joined == NULL)
          return SW_NO_MEMORY;
        for (uint32_t p = 1; p < strip->bays && status == SW_OK; p++)
          {
            for (uint32_t r = 0; r < strip->level_count; r++)
              {
                const sw_strip_level *row = &strip->levels[r];
                joined[r] = 0;
                for (uint32_t d = 1; d <= row->reach && d <= p; d++)
                  {
                    int32_t o = row->at[(size_t)p * row->reach + d - 1];
                    if (o >= 0 && f->solved[m].solution.used[o])
                      joined[r] = 1;
                  }
              }
            status = add_aligned_at (f, &f->models[m], strip, joined, p);
          }
        free (joined);
        if (status != SW_OK)
          return status;
      }
  return SW_OK;
}

sw_status
sw_plan_fill (sw_plan *plan, const sw_layout *layout, const sw_model *models, const sw_solved *solved,
              size_t model_count)
{
  filling f = { .plan = plan, .layout = layout, .models = models, .solved = solved, .model_count = model_count };
  f.used = sw_alloc (layout->arc_count, 1);
  if (f.used != NULL)
    mark_arcs (&f);
  size_t count = f.used != NULL ? count_pieces (&f) : 0;
  plan->pieces = sw_alloc (count, sizeof *plan->pieces);
  f.item_of = sw_alloc (count, sizeof *f.item_of);
  sw_status status = f.used && plan->pieces && f.item_of ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    status = add_pieces (&f);
  if (status == SW_OK)
    status = make_unique (&f);
  if (status == SW_OK)
    status = queue_pieces (&f);
  if (status == SW_OK)
    status = add_boards (&f);
  if (status == SW_OK)
    status = add_aligned (&f);
  free (f.used);
  free (f.item_of);
  free (f.queue);
  free (f.queue_start);
  free (f.queue_next);
  return status;
}
