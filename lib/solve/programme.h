/* programme.h - the one linear programme of a search: patterns and whole layouts, by column generation
 *
 * A job of pieces alone is the case without layouts.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PROGRAMME_H
#define SW_PROGRAMME_H

#include "solve/search.h"

typedef struct sw_programme
{
  sw_search *search;
  sw_master *master;          /* NULL between sw_programme_end and the next sw_programme_begin */
  sw_master *outer;           /* search->beside before that */
  sw_breakpoints breakpoints; /* that the programme has a row of; none of them: a row a need */
  size_t block_count;
  sw_block *blocks;   /* of all strips, by strip */
  sw_layouts layouts; /* all that were ever columns */
  int penalty_step;   /* so often an uncovered piece became dearer */
  size_t turn;        /* so that each round begins with another piece */
  sw_prices duals;    /* of the last linear programme */
  sw_prices now;      /* that columns are looked for at */
  int64_t *most;      /* a need each: more of it on a board is of no use, as things stand */
  int64_t *worth;     /* a stock each: no pattern is worth more at NOW */
  int64_t *cost;      /* an option each: what it costs at NOW */
  uint8_t *used;      /* an option each: the layouts that were priced last */
  uint8_t *covered;   /* a need each: some pattern of this round has it */
  sw_entry *entries;
} sw_programme;

sw_status sw_programme_init (sw_programme *programme, sw_search *search);
void sw_programme_clear (sw_programme *programme);

/* The linear programme of the present aim, in place of the one there was, with
 * all patterns and layouts met so far, a pattern of each piece alone, and the
 * best plan's layout.  BREAKPOINTS: about so many rows where strips have more needs. */
sw_status sw_programme_begin (sw_programme *programme, size_t breakpoints);
/* Free the master and its breakpoints. */
void sw_programme_end (sw_programme *programme);

/* MOST as the model has it. */
void sw_programme_reset_most (sw_programme *programme);
/* Work done so far, the same on every run. */
uint64_t sw_programme_work (const sw_programme *programme);
/* Price of a piece that no board covers, the STEPth time that it was too low. */
double sw_programme_penalty (const sw_programme *programme, int step);

/* Rounds of column generation that no job comes near. */
#define SW_ALL_ROUNDS 100000
/* How NEAR for sw_programme_columns: until nothing prices out; until no better bound can come of it. */
#define SW_THOROUGH (-1.0)
#define SW_BOUND_ONLY 0.0

/* Column generation on the master as it stands: until nothing prices out or
 * ROUNDS are over.  AT_ROOT: bounds are kept for the whole model, layouts are
 * priced too, and it ends when programme and bound are as NEAR as that part of
 * the bound, or the whole-number bound cannot rise (negative: not before
 * nothing prices out).  *DONE: there is nothing more to come of it. */
sw_status sw_programme_columns (sw_programme *programme, int rounds, bool at_root, double near, sw_lp *outcome,
                                bool *done);

#endif
