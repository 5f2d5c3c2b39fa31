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
  size_t *timber_of;     /* a piece each: the cut piece of on_hand that is kept for it, or SW_NONE */
  uint8_t *timber_state; /* of on_hand each */
} filling;

enum
{
  TIMBER_FREE,
  TIMBER_KEPT,
  TIMBER_TAKEN
};

/* ---- Pieces ---------------------------------------------------------------------------- */

static void
mark_arcs (filling *f)
{
  /* What is in its place may be of sections that nothing is cut of, so that no model has them. */
  for (size_t a = 0; a < f->layout->arc_count; a++)
    f->used[a] = f->layout->arcs[a].item == SW_NO_ITEM;
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
  /* Those of through levels are counted as arcs; there is room for them twice. */
  return count + f->plan->job->in_place.count;
}

static sw_status
add_piece (filling *f, const sw_piece *piece, size_t item, sw_text *label)
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
add_placed (filling *f, sw_piece *piece, size_t item)
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
add_arc (filling *f, const sw_arc *arc)
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
add_between (filling *f, size_t run, size_t level, size_t bay, sw_length cut, size_t item)
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

/* The block number N of RUN and LEVEL, or piece N of EXTRA, that is in its place; NULL: it is not. */
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

/* The blocks of one run and level, OPEN of which are to be cut of ITEM; they
 * are numbered in the order of the list, those that are in their places too. */
static sw_status
add_blocks (filling *f, size_t run, size_t level, int64_t open, size_t item)
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

/* The same of the pieces of one extra. */
static sw_status
add_extras (filling *f, size_t index, int64_t open, size_t item)
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

/* What is open of the blocks of RUN and LEVEL, or of EXTRA; NULL: nothing is. */
static const sw_fixed *
find_open (const sw_layout *l, sw_fixed_kind kind, size_t run, size_t level, size_t extra)
{
  for (size_t i = 0; i < l->fixed_count; i++)
    if (l->fixed[i].kind == kind
        && (kind == SW_FIXED_EXTRA ? l->fixed[i].extra == extra : l->fixed[i].run == run && l->fixed[i].level == level))
      return &l->fixed[i];
  return NULL;
}

/* Blocks and extras where some are in their places. */
static sw_status
add_others (filling *f)
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
    if (f->item_of[p] != SW_NO_ITEM)
      f->queue_start[f->item_of[p] + 1]++;
  for (size_t i = 0; i < items; i++)
    f->queue_start[i + 1] += f->queue_start[i];
  memcpy (f->queue_next, f->queue_start, (items + 1) * sizeof *f->queue_next);
  for (int shape = 0; shape < 8; shape++)
    for (size_t p = 0; p < pieces; p++)
      if (f->item_of[p] != SW_NO_ITEM && shape_of (&f->plan->pieces[p]) == shape)
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
  return s->of_job < t->of_job ? -1 : s->of_job > t->of_job;
}

/* Are boards I of model M those that stand for what is in its place? */
static bool
is_in_place (const filling *f, size_t m, size_t i)
{
  const sw_pattern *pattern = &f->solved[m].pool.items[f->solved[m].solution.boards[i].pattern];
  const sw_model *model = &f->models[m];
  return model->sections[model->stocks[pattern->stock].section].of_job == SW_SECTION_IN_PLACE;
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
        if (is_in_place (f, m, i))
          continue;
        uses[n++] = (use){ .model = &f->models[m],
                           .pool = &f->solved[m].pool,
                           .job = f->plan->job,
                           .pattern = &f->solved[m].pool.items[f->solved[m].solution.boards[i].pattern],
                           .copies = f->solved[m].solution.boards[i].copies };
        *boards += (size_t)f->solved[m].solution.boards[i].copies;
      }
  *count = n;
  if (n > 1)
    qsort (uses, n, sizeof *uses, by_place);
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

/* ---- Timber on hand ------------------------------------------------------------------------ */

/* Of the pieces that were cut already, which are used as they are: each goes
 * to the place whose label it bears, where that is one of its length, so that
 * what is pencilled stays true. */
static sw_status
keep_labels (filling *f, const use *uses, size_t count)
{
  sw_plan *plan = f->plan;
  const sw_on_hand *list = &plan->job->on_hand;
  f->timber_of = sw_alloc (plan->piece_count, sizeof *f->timber_of);
  f->timber_state = sw_alloc (list->count, 1);
  if (f->timber_of == NULL || f->timber_state == NULL)
    return SW_NO_MEMORY;
  for (size_t p = 0; p < plan->piece_count; p++)
    f->timber_of[p] = SW_NONE;
  for (size_t i = 0; i < count; i++)
    {
      const sw_model_stock *stock = &uses[i].model->stocks[uses[i].pattern->stock];
      int64_t copies = uses[i].copies;
      if (!plan->job->stocks.items[stock->of_job].sawn || uses[i].pattern->count != 1
          || uses[i].pool->entries[uses[i].pattern->first].copies != 1)
        continue;
      const size_t item = uses[i].model->needs[uses[i].pool->entries[uses[i].pattern->first].need].item;
      for (size_t t = 0; t < list->count && copies > 0; t++)
        {
          if (list->items[t].kind != SW_TIMBER_PIECE || list->items[t].stock != stock->of_job)
            continue;
          size_t p = f->queue_start[item];
          while (p < f->queue_start[item + 1] && strcmp (plan->pieces[f->queue[p]].label, list->items[t].name) != 0)
            p++;
          if (p == f->queue_start[item + 1])
            continue;
          f->timber_of[f->queue[p]] = t;
          f->timber_state[t] = TIMBER_KEPT;
          copies--;
        }
    }
  return SW_OK;
}

/* A piece of timber of the row STOCK that is not taken yet, first those that are
 * kept for the place whose label they bear; SW_NONE: these are whole boards. */
static size_t
take_timber (filling *f, size_t stock)
{
  const sw_on_hand *list = &f->plan->job->on_hand;
  if (!f->plan->job->stocks.items[stock].sawn)
    return SW_NONE;
  for (int state = TIMBER_KEPT; state >= TIMBER_FREE; state--)
    for (size_t t = 0; t < list->count; t++)
      if (list->items[t].stock == stock && f->timber_state[t] == state)
        {
          f->timber_state[t] = TIMBER_TAKEN;
          return t;
        }
  return SW_NONE;
}

/* The next piece of ITEM for a board that is TIMBER; SW_NONE: there is none left. */
static size_t
next_piece (filling *f, size_t item, size_t timber)
{
  for (size_t p = f->queue_start[item]; timber != SW_NONE && p < f->queue_start[item + 1]; p++)
    if (f->timber_of[f->queue[p]] == timber)
      return f->queue[p];
  while (f->queue_next[item] < f->queue_start[item + 1])
    {
      const size_t piece = f->queue[f->queue_next[item]++];
      if (f->timber_of[piece] == SW_NONE)
        return piece;
    }
  return SW_NONE;
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
  const size_t timber = take_timber (f, stock->of_job);
  if (timber != SW_NONE)
    board->timber = &plan->job->on_hand.items[timber];
  board->pieces = sw_alloc (most, sizeof *board->pieces);
  if (board->pieces == NULL)
    return SW_NO_MEMORY;
  for (uint32_t c = 0; c < u->pattern->count; c++)
    {
      const sw_entry *cut = &u->pool->entries[u->pattern->first + c];
      size_t item = u->model->needs[cut->need].item;
      for (uint32_t k = 0; k < cut->copies; k++)
        {
          const size_t piece = next_piece (f, item, timber);
          if (piece == SW_NONE)
            break;
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
  if (status == SW_OK)
    status = keep_labels (f, uses, count);
  for (size_t i = 0; i < count && status == SW_OK; i++)
    for (int64_t k = 0; k < uses[i].copies && status == SW_OK; k++)
      status = cut_board (f, &uses[i]);
  free (uses);
  for (size_t p = 0; p < f->plan->piece_count && status == SW_OK; p++)
    if (f->plan->pieces[p].board == SW_NONE && !f->plan->pieces[p].placed)
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
      /* What is there to stay is counted apart. */
      if (!sw_strip_counts (strip, post, r))
        continue;
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
  free (f.timber_of);
  free (f.timber_state);
  return status;
}
