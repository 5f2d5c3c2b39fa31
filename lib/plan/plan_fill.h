/* plan_fill.h - what the files that turn solved models into a plan share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PLAN_FILL_H
#define SW_PLAN_FILL_H

#include "plan/plan_pieces.h"

typedef struct sw_filling
{
  sw_plan *plan;
  const sw_layout *layout;
  const sw_model *models;
  const sw_solved *solved;
  size_t model_count;
  uint8_t *used;       /* for each arc of the layout */
  size_t *item_of;     /* by piece */
  size_t *queue;       /* the pieces of each item, in the order in which boards get them */
  size_t *queue_start; /* for each item, and the end */
  size_t *queue_next;
  size_t *timber_of;     /* for each piece: the cut piece of on_hand that is kept for it, or SW_NONE */
  uint8_t *timber_state; /* for each piece of timber of on_hand */
  size_t *kept_for;      /* for each of on_hand: the item that it is kept for */
} sw_filling;

/* plan_pieces.c: make all pieces in the plan's order, each with a label of its own.  USED and ITEM_OF are set
 * already. */
sw_status sw_filling_pieces (sw_filling *filling);
/* plan_boards.c: make the boards that the pieces are cut from. */
sw_status sw_filling_boards (sw_filling *filling);

#endif
