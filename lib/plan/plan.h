/* plan.h - the result: boards, pieces, places
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PLAN_H
#define SW_PLAN_H

#include "job/corner.h"

typedef enum sw_piece_kind { SW_PIECE_THROUGH, SW_PIECE_BETWEEN, SW_PIECE_BLOCK, SW_PIECE_EXTRA } sw_piece_kind;

#define SW_NONE SIZE_MAX

typedef struct sw_piece
{
  sw_piece_kind kind;
  char *label;             /* unique: run/level/from-to, run/level/block n, label or label n */
  size_t section;
  size_t run;              /* SW_NONE for extras */
  size_t level;            /* SW_NONE for extras */
  size_t from;             /* posts from 0; SW_NONE for blocks and extras */
  size_t to;
  sw_length cut;           /* along the edge, to the long point */
  sw_length take;          /* what it takes of its board without an ordinary kerf: take.h */
  int32_t plumb;           /* its square ends and joins are cut plumb: thousandths of a degree; 0: level */
  bool falls;              /* it goes down from its start to its finish */
  sw_side start_long;      /* the face (laid flat: edge) of a mitre's long point */
  sw_side finish_long;
  int32_t start_saw;       /* thousandths of a degree off square; 0: square */
  int32_t finish_saw;
  sw_end_kind start_end;   /* through: SW_END_ON is a join; between: SW_END_FACE, shown as "post" */
  sw_end_kind finish_end;
  size_t board;            /* index into boards */
  size_t cut_number;       /* from 0 within the board */
} sw_piece;

typedef struct sw_board
{
  size_t stock;            /* index into job->stocks; of several yards' rows of one length the first, wherever it is bought */
  bool hand;               /* from hand, not bought */
  size_t piece_count;
  size_t *pieces;          /* in order of cutting, longest first */
  sw_length left;          /* after the last cut, its kerf and the far end trim; >= 0 */
} sw_board;

/* Joins of two neighbouring through levels on one post. */
typedef struct sw_aligned
{
  size_t run;
  size_t post;
  size_t lower;            /* levels */
  size_t upper;
} sw_aligned;

/* What is bought of a stock row. */
typedef struct sw_purchase
{
  int64_t count;           /* lengths that the plan cuts up */
  int64_t bought;          /* at least those: what packs, falling prices and least orders make of them, spare lengths apart */
} sw_purchase;

struct sw_plan
{
  const sw_job *job;
  size_t board_count;
  sw_board *boards;        /* by section, from hand last, longest first, equal boards together */
  size_t piece_count;
  sw_piece *pieces;        /* by run, level, post; then blocks by run and level; then extras */
  size_t aligned_count;
  sw_aligned *aligned;     /* posts where joins are always made are not counted */
  sw_summary summary;
  sw_purchase *purchases;  /* a stock row each, where it matters what is bought where (stocks.offers); else NULL: boards are of their stock row */
  sw_length least;         /* where job->all_free: no plan with as few aligned joins buys less */
  double seconds;          /* the solver's */
  int64_t revision;        /* how often it was planned on from; 0: never */
  bool joins_proved;       /* no plan at this cost has fewer joins */
  bool boards_proved;      /* nor, with as few joins, fewer boards */
};

/* What of a board is left after its first COUNT cuts (formats: left_mm). */
sw_length sw_board_left_after (const sw_plan *plan, const sw_board *board, size_t count);

/* Is what is left of BOARD long enough to be kept (the setting keep)? */
bool sw_board_is_kept (const sw_plan *plan, const sw_board *board);

#endif
