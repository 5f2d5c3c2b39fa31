/* plan.h - a plan: its boards, its pieces, and their places
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
  size_t from;             /* post, from 0; SW_NONE for blocks and extras */
  size_t to;
  sw_length cut;           /* along the edge, to the long point */
  sw_length take;          /* what it takes of its board without an ordinary kerf (take.h) */
  int32_t plumb;           /* angle of the plumb cut of square ends and joins, thousandths of a degree; 0: level */
  bool falls;              /* it goes down from start to finish */
  sw_side start_long;      /* the face of a mitre's long point; of timber laid flat, the edge */
  sw_side finish_long;
  int32_t start_saw;       /* thousandths of a degree off square; 0: square */
  int32_t finish_saw;
  sw_end_kind start_end;   /* through: SW_END_ON is a join; between: SW_END_FACE, which is shown as "post" */
  sw_end_kind finish_end;
  bool placed;             /* it is in its place already */
  size_t board;            /* index of boards; SW_NONE: it is placed */
  size_t cut_number;       /* place among the board's pieces, from 0 */
} sw_piece;

typedef struct sw_board
{
  size_t stock;            /* index of job->stocks */
  bool hand;               /* taken from hand, not bought */
  size_t piece_count;
  size_t *pieces;          /* in the order of cutting, longest first */
  const sw_timber *timber; /* which of the job's timber on hand it is; NULL: a whole board */
  sw_length left;          /* length after the last cut, its kerf and the far end trim; >= 0 */
} sw_board;

/* Joins of two neighbouring through levels that line up on a post.  All are indices of the job. */
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
  int64_t bought;          /* at least `count`: packs, falling prices and least orders may bring more; spare lengths are
                              not in it */
} sw_purchase;

struct sw_plan
{
  const sw_job *job;
  size_t board_count;
  sw_board *boards;        /* by section, bought before those from hand, longest first, equal boards together */
  size_t piece_count;
  sw_piece *pieces;        /* by run, level and post; then the blocks by run and level; then the extras */
  size_t aligned_count;
  sw_aligned *aligned;     /* without posts where a join is always made */
  sw_summary summary;
  sw_purchase *purchases;  /* for each stock, where it matters what is bought where (stocks.offers); else NULL: boards
                              are of their own stock */
  sw_length least;         /* if job->all_free: the least length that a plan with as few aligned joins buys */
  double seconds;          /* time that the solver took */
  int64_t revision;        /* how many plans were made before it that led to this one; 0: none */
  bool joins_proved;       /* no plan of this cost has fewer joins */
  bool boards_proved;      /* no plan of this cost with as few joins has fewer boards */
  bool changes_proved;     /* no plan of this cost has fewer pieces that differ from those of the plan before */
  int64_t changes;         /* how many pieces on through levels differ from the plan before */
  int64_t placed_aligned;  /* aligned pairs of which both joins are in their places; not counted above */
  int64_t placed_turns;    /* pairs of levels that are out of turn because of what is in its place */
};

/* The length that is left of a board after its first COUNT cuts, their kerfs and the end trims; at
 * least 0.  It is left_mm in cuts.csv.  O(COUNT). */
sw_length sw_board_left_after (const sw_plan *plan, const sw_board *board, size_t count);

/* Is what is left of BOARD long enough to be kept (the setting keep)? */
bool sw_board_is_kept (const sw_plan *plan, const sw_board *board);

#endif
