/* plan_boards.c - the boards that a plan's pieces are cut from
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/plan_fill.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum
{
  TIMBER_FREE,
  TIMBER_KEPT,
  TIMBER_TAKEN
};

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
queue_pieces (sw_filling *f)
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

/* Do boards I of model M stand for what is in its place? */
static bool
is_in_place (const sw_filling *f, size_t m, size_t i)
{
  const sw_pattern *pattern = &f->solved[m].pool.items[f->solved[m].solution.boards[i].pattern];
  const sw_model *model = &f->models[m];
  return model->sections[model->stocks[pattern->stock].section].of_job == SW_SECTION_IN_PLACE;
}

static sw_status
list_uses (const sw_filling *f, use **out, size_t *count, size_t *boards)
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

/* Decide which of the pieces that were cut already are used as they are.  Each goes to the place whose label it bears,
 * where that place has its length, so that what is pencilled on it stays true. */
static sw_status
keep_labels (sw_filling *f, const use *uses, size_t count)
{
  sw_plan *plan = f->plan;
  const sw_on_hand *list = &plan->job->on_hand;
  f->timber_of = sw_alloc (plan->piece_count, sizeof *f->timber_of);
  f->timber_state = sw_alloc (list->count, 1);
  f->kept_for = sw_alloc (list->count, sizeof *f->kept_for);
  if (f->timber_of == NULL || f->timber_state == NULL || f->kept_for == NULL)
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
          f->kept_for[t] = item;
          copies--;
        }
    }
  return SW_OK;
}

/* Take a piece of timber of row STOCK that is still free: one that is kept for a piece of ITEM, or else one that is
 * kept for nothing.  SW_NONE: the row is of whole boards. */
static size_t
take_timber (sw_filling *f, size_t stock, size_t item)
{
  const sw_on_hand *list = &f->plan->job->on_hand;
  if (!f->plan->job->stocks.items[stock].sawn)
    return SW_NONE;
  for (int state = TIMBER_KEPT; state >= TIMBER_FREE; state--)
    for (size_t t = 0; t < list->count; t++)
      if (list->items[t].stock == stock && f->timber_state[t] == state && (state == TIMBER_FREE || f->kept_for[t] == item))
        {
          f->timber_state[t] = TIMBER_TAKEN;
          return t;
        }
  return SW_NONE;
}

/* The next piece of ITEM for a board out of TIMBER; SW_NONE: none is left. */
static size_t
next_piece (sw_filling *f, size_t item, size_t timber)
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

/* Cut one board.  A pattern may have more pieces of an item than are needed; those over the number are not cut. */
static sw_status
cut_board (sw_filling *f, const use *u)
{
  sw_plan *plan = f->plan;
  sw_board *board = &plan->boards[plan->board_count];
  const sw_model_stock *stock = &u->model->stocks[u->pattern->stock];
  size_t most = 0;
  for (uint32_t c = 0; c < u->pattern->count; c++)
    most += u->pool->entries[u->pattern->first + c].copies;
  *board = (sw_board){ .stock = stock->of_job, .hand = stock->hand };
  /* A board that is cut down, or cut into several pieces, cannot be one that was kept as it is. */
  const size_t alone = most == 1 ? u->model->needs[u->pool->entries[u->pattern->first].need].item : SW_NONE;
  const size_t timber = take_timber (f, stock->of_job, alone);
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
add_boards (sw_filling *f)
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

sw_status
sw_filling_boards (sw_filling *f)
{
  sw_status status = queue_pieces (f);
  return status == SW_OK ? add_boards (f) : status;
}
