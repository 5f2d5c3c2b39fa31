/* offer_plan.c - a plan for a node's job, priced in truth
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/offer_plan.h"

#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

sw_status
sw_offer_plan_price (sw_offer_plan *made, sw_buying *b, const sw_offer_lines *lines)
{
  sw_plan *plan = made->plan;
  sw_bill bill = { .cost = 0 };
  made->needed = sw_alloc (b->cell_count, sizeof *made->needed);
  made->purchases = sw_alloc (b->job->stocks.count, sizeof *made->purchases);
  if (made->needed == NULL || made->purchases == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < plan->board_count; i++)
    {
      const size_t cell = lines->cell_of[plan->boards[i].stock];
      plan->boards[i].stock = b->cells[cell].first;
      made->needed[cell]++;
    }
  /* The plan must not point to the node's job, which is freed first. */
  plan->job = b->job;
  for (size_t c = 0; c < b->cell_count; c++)
    made->needed[c] = made->needed[c] > b->cells[c].hand ? made->needed[c] - b->cells[c].hand : 0;
  bill.purchases = made->purchases;
  sw_status status = sw_buying_bill (b, b->all, made->needed, &bill);
  if (status != SW_OK)
    return status;
  made->bill_exact = bill.exact;
  int64_t joins;
  if (bill.cost >= SW_NOT_TO_BE_HAD)
    made->cost = SW_NOT_TO_BE_HAD;
  else if (!sw_length_mul (plan->summary.joins, b->job->settings->join_cost, &joins)
           || !sw_length_add (bill.cost, joins, &made->cost))
    return SW_FAILED;
  return SW_OK;
}

bool
sw_offer_plan_better (const sw_offer_plan *a, const sw_offer_plan *b)
{
  if (a->plan == NULL || a->cost >= SW_NOT_TO_BE_HAD || b->plan == NULL)
    return a->plan != NULL && a->cost < SW_NOT_TO_BE_HAD;
  const sw_summary *x = &a->plan->summary;
  const sw_summary *y = &b->plan->summary;
  const int64_t left[] = { x->aligned, a->cost, x->joins, x->boards };
  const int64_t right[] = { y->aligned, b->cost, y->joins, y->boards };
  for (size_t i = 0; i < sizeof left / sizeof *left; i++)
    if (left[i] != right[i])
      return left[i] < right[i];
  return false;
}

/* ---- The whole job's plan --------------------------------------------------------------- */

/* A board with what its place in the plan's order depends on. */
typedef struct place
{
  sw_board board;
  size_t number;
  const sw_plan *plan;
} place;

/* The order of boards in sw_plan: by section, those from hand last, longest first, equal boards together. */
static int
by_place (const void *a, const void *b)
{
  const place *x = a;
  const place *y = b;
  const sw_stock *u = &x->plan->job->stocks.items[x->board.stock];
  const sw_stock *v = &y->plan->job->stocks.items[y->board.stock];
  if (u->section != v->section)
    return u->section < v->section ? -1 : 1;
  if (x->board.hand != y->board.hand)
    return x->board.hand ? 1 : -1;
  if (u->length != v->length)
    return u->length > v->length ? -1 : 1;
  for (size_t i = 0; i < x->board.piece_count && i < y->board.piece_count; i++)
    {
      const sw_piece *p = &x->plan->pieces[x->board.pieces[i]];
      const sw_piece *q = &y->plan->pieces[y->board.pieces[i]];
      if (p->take != q->take)
        return p->take > q->take ? -1 : 1;
      if (p->cut != q->cut)
        return p->cut > q->cut ? -1 : 1;
    }
  if (x->board.piece_count != y->board.piece_count)
    return x->board.piece_count > y->board.piece_count ? -1 : 1;
  return (x->number > y->number) - (x->number < y->number);
}

static sw_status
sort_boards (sw_plan *plan)
{
  place *places = sw_alloc (plan->board_count, sizeof *places);
  if (places == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < plan->board_count; i++)
    places[i] = (place){ .board = plan->boards[i], .number = i, .plan = plan };
  if (plan->board_count > 1)
    qsort (places, plan->board_count, sizeof *places, by_place);
  for (size_t i = 0; i < plan->board_count; i++)
    {
      plan->boards[i] = places[i].board;
      for (size_t p = 0; p < plan->boards[i].piece_count; p++)
        plan->pieces[plan->boards[i].pieces[p]].board = i;
    }
  free (places);
  return SW_OK;
}

/* Take as many boards of each length from hand as there are, beginning with those that the node's job took from
 * hand. */
static sw_status
take_hand (sw_plan *plan, const sw_buying *b)
{
  int64_t *left = sw_alloc (b->job->stocks.count, sizeof *left);
  bool *was = sw_alloc (plan->board_count, sizeof *was);
  if (left == NULL || was == NULL)
    {
      free (left);
      free (was);
      return SW_NO_MEMORY;
    }
  for (size_t c = 0; c < b->cell_count; c++)
    left[b->cells[c].first] = b->cells[c].hand;
  for (size_t i = 0; i < plan->board_count; i++)
    {
      was[i] = plan->boards[i].hand;
      plan->boards[i].hand = false;
    }
  for (int round = 0; round < 2; round++)
    for (size_t i = 0; i < plan->board_count; i++)
      {
        sw_board *board = &plan->boards[i];
        if (!board->hand && was[i] == (round == 0) && left[board->stock] > 0)
          {
            board->hand = true;
            left[board->stock]--;
          }
      }
  free (left);
  free (was);
  return SW_OK;
}

sw_status
sw_offer_plan_finish (sw_offer_plan *made, const sw_buying *b)
{
  sw_plan *plan = made->plan;
  sw_summary *sum = &plan->summary;
  sw_status status = take_hand (plan, b);
  if (status == SW_OK)
    status = sort_boards (plan);
  if (status != SW_OK)
    return status;
  sum->priced = b->job->priced;
  sum->cost = made->cost;
  sum->bought = sum->from_hand = 0;
  for (size_t i = 0; i < plan->board_count; i++)
    {
      const sw_length length = b->job->stocks.items[plan->boards[i].stock].length;
      if (plan->boards[i].hand)
        sum->from_hand += length;
      else
        sum->bought += length;
    }
  plan->purchases = made->purchases;
  made->purchases = NULL;
  return SW_OK;
}

void
sw_offer_plan_clear (sw_offer_plan *made)
{
  sw_plan_free (made->plan);
  free (made->needed);
  free (made->purchases);
  free (made->node.least);
  *made = (sw_offer_plan){ .plan = NULL };
}
