/* programme.h - the one linear programme of a search: patterns and whole layouts, by column generation
 *
 * A job that has only pieces is the case without layouts.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PROGRAMME_H
#define SW_PROGRAMME_H

#include "solve/search.h"

typedef struct sw_programme
{
  sw_search *search;
  sw_master *master;          /* NULL between sw_programme_end and the next sw_programme_begin */
  sw_master *outer;           /* what search->beside was before */
  sw_breakpoints breakpoints; /* breakpoints that the programme has rows for; where there are none, it has a row for
                                 each need */
  size_t block_count;
  sw_block *blocks;      /* of all strips, in the order of the strips */
  sw_layouts layouts;    /* all layouts that ever were columns */
  int penalty_step;      /* how often the price of an uncovered piece was raised */
  size_t turn;           /* lets each round begin with another piece */
  sw_prices duals;       /* those of the last linear programme */
  sw_prices now;         /* the prices that columns are looked for at */
  int64_t *most;         /* for each need: more of it on one board is of no use at present */
  int64_t *cost;         /* for each option: what it costs at NOW */
  uint8_t *used;         /* for each option: whether the layouts that were priced last use it */
  const uint8_t *barred; /* for each option: whether no layout may use it at present; NULL: none is barred */
  uint8_t *covered;      /* for each need: whether a pattern of this round has it */
  sw_entry *entries;
} sw_programme;

sw_status sw_programme_init (sw_programme *programme, sw_search *search);
void sw_programme_clear (sw_programme *programme);

/* Make the linear programme of the present aim, in place of the old one, with all patterns and layouts met so far, a
 * pattern of each piece alone, and the best plan's layout.  BREAKPOINTS: about so many rows where strips have more
 * needs. */
sw_status sw_programme_begin (sw_programme *programme, size_t breakpoints);
/* Free the master and its breakpoints. */
void sw_programme_end (sw_programme *programme);

/* Set MOST back to what the model allows. */
void sw_programme_reset_most (sw_programme *programme);
/* The work done so far, the same on every run. */
uint64_t sw_programme_work (const sw_programme *programme);
/* The price of a piece that no board covers, when it has been too low STEP times. */
double sw_programme_penalty (const sw_programme *programme, int step);

/* Does the value of the last linear programme, in which something was fixed, show that no better plan can come of it?
 */
bool sw_programme_hopeless (const sw_programme *programme);

/* More rounds of column generation than any job comes near. */
#define SW_ALL_ROUNDS 100000
/* Values for NEAR of sw_programme_columns: until no column prices out; until no better bound can come of it. */
#define SW_THOROUGH (-1.0)
#define SW_BOUND_ONLY 0.0

/* Generate columns for the master as it stands, until none prices out or ROUNDS are over.  AT_ROOT: bounds are kept for
 * the whole model, and layouts are priced too.  It then ends also when programme and bound are as near to each other as
 * the part NEAR of the bound, or when the whole-number bound cannot rise; with a negative NEAR not before no column
 * prices out.  *DONE: further rounds are of no use. */
sw_status sw_programme_columns (sw_programme *programme, int rounds, bool at_root, double near, sw_lp *outcome,
                                bool *done);

#endif
