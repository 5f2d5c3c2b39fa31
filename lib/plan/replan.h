/* replan.h - planning on from what is fixed, cut and left
 *
 * The plan before is read back from its folder, and what happened on site is
 * laid over it.  Together they give the timber on hand and the pieces in their
 * places.  What results is a job like any other, with the places that are
 * still open.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_REPLAN_H
#define SW_REPLAN_H

#include "layout/layout.h"
#include "plan/plan.h"

typedef enum sw_site_state
{
  SW_SITE_NOTHING, /* nothing is said of it */
  SW_SITE_FIXED,
  SW_SITE_CUT,
  SW_SITE_SPOILED,
  SW_SITE_BAD,     /* the last two are said of boards */
  SW_SITE_CUT_UP
} sw_site_state;

/* What a row of site.csv says. */
typedef struct sw_said
{
  sw_site_state state;
  sw_length left;  /* -1: none is written */
  size_t line;
  size_t weight;   /* the longer the part of a label that is written, the more it counts; SIZE_MAX: the whole label */
} sw_said;

/* A piece of the plan before, as its tables have it, with exact lengths. */
typedef struct sw_old_piece
{
  char *label;
  sw_piece_kind kind;
  size_t section;
  size_t run;        /* index in the job before; SW_NONE for extras, and so on */
  size_t level;
  size_t from;
  size_t to;
  size_t extra;
  int64_t number;    /* of blocks and extras, from 1; 0: the extra is there once */
  sw_length cut;
  sw_length take;
  sw_length square;  /* what is left of the piece when its ends are sawn square */
  char *ends;        /* NULL: they are square */
  size_t board;      /* index; SW_NONE: the piece is in its place already */
  sw_said said;
} sw_old_piece;

typedef struct sw_old_board
{
  int64_t number;    /* as in the table */
  size_t section;
  sw_length length;
  size_t stock;      /* a stock of the job before */
  bool hand;
  size_t timber;     /* index of the job's on_hand; SW_NONE: it is a whole board */
  sw_said said;
} sw_old_board;

typedef struct sw_old_plan
{
  const sw_job *job;
  char *dir;
  size_t piece_count, piece_room;
  sw_old_piece *pieces;
  size_t board_count, board_room;
  sw_old_board *boards;
  int64_t *ordered;  /* for each stock: boards that were ordered, with the spare ones */
  size_t had_count, had_room;
  sw_had *had;       /* fittings that were ordered; their names belong to the table */
  sw_table *order;   /* order.csv */
} sw_old_plan;

/* replan_old.c: read the tables of the plan for JOB from the folder DIR. */
sw_status sw_old_plan_read (sw_old_plan *out, const sw_job *job, const char *dir, sw_report *report);
void sw_old_plan_clear (sw_old_plan *plan);

/* replan_measure.c */
/* EXACT, if FOUND is EXACT rounded as in a table, else FOUND. */
sw_length sw_old_nearest (sw_length found, sw_length exact);
/* Make the lengths of OLD, a piece from post to post, exact again, and set how its ends are sawn. */
sw_status sw_old_piece_measure (const sw_job *job, sw_old_piece *old);

/* replan_site.c: lay the file SITE over PLAN. */
sw_status sw_site_read (sw_old_plan *plan, const char *site, sw_report *report);

/* replan_state.c: list what is on hand and what is in its place by now in JOB, which has no such lists of its own. */
sw_status sw_old_plan_state (const sw_old_plan *plan, sw_job *job, const char *site, sw_report *report);

/* What becomes of a piece. */
typedef enum sw_fate
{
  SW_FATE_FIXED,   /* the piece is in its place */
  SW_FATE_CUT,     /* it is cut, and will go to its place */
  SW_FATE_SAME,    /* it is still to be cut, as before */
  SW_FATE_LENGTH,  /* its label stays, but its length changes */
  SW_FATE_NEW      /* there was no such label */
} sw_fate;

struct sw_replan
{
  sw_job *before;
  sw_old_plan old;
  sw_job *job;
  sw_plan *plan;
  sw_fate *fates;        /* for each piece of the plan */
  size_t *was;           /* for each piece: the old piece with the same label, or SW_NONE */
  bool *stays;           /* for each old piece: some piece has its label */
  sw_replan_figures figures;
};

/* plan_offers.c: as sw_plan_make, but going on from a plan.  The cost of what is bought counts first, then the pieces
 * that change.  CHANGED (a function of REPLAN) says which do. */
sw_status sw_plan_make_on (sw_plan **out, const sw_job *job, void (*changed) (sw_layout *layout, const void *data),
                           const void *data, const sw_limits *limits, sw_report *report);

/* replan_settle.c: where it matters what is bought where, replace *PLAN, which was made for JOB, with a plan that buys
 * the same and changes as few pieces as that allows. */
sw_status sw_replan_settle (sw_plan **plan, const sw_job *job, void (*changed) (sw_layout *layout, const void *data),
                            const void *data, const sw_limits *limits, sw_report *report);

#endif
