/* fitting.h - what is on the same order and is not cut
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FITTING_H
#define SW_FITTING_H

#include "base/name_index.h"
#include "csv/table.h"
#include "job/settings.h"

/* What a fitting is counted by. */
typedef enum sw_per
{
  SW_PER_POST,     /* a corner post where two runs meet in mitres counts once */
  SW_PER_END_POST, /* the first and the last post of a run */
  SW_PER_BAY,      /* with timber */
  SW_PER_OPENING,
  SW_PER_METRE, /* metres of fence: spans of the bays with timber, measured level */
  SW_PER_PIECE, /* pieces cut from boards, or in their places, with blocks and extras */
  SW_PER_JOIN,
  SW_PER_CROSSING, /* a level at a post of a run, where it has timber */
  SW_PER_BOARD,    /* a board that is cut up, bought or from hand */
  SW_PER_RUN,
  SW_PER_JOB,
  SW_PER_COUNT
} sw_per;

/* Amounts of fittings are counted in millionths. */
#define SW_FITTING_UNIT 1000000

typedef struct sw_fitting
{
  char *item;
  sw_per per;
  int64_t each; /* how many for a unit, in millionths */
  int64_t pack; /* how many are in a pack; 1: they are sold singly */
  bool priced;
  sw_money price; /* of a pack */
  char *only;     /* names of the runs that have it, as written; NULL: all runs */
  bool *runs;     /* for each run of the fence, once the job is checked: it has the fitting; NULL: all runs */
  size_t first;   /* the first row of the same item, whose pack and price hold for this row too */
  size_t line;
} sw_fitting;

typedef struct sw_fittings
{
  size_t count;
  sw_fitting *items;
} sw_fittings;

/* Read fittings.csv.  Rows of one item add up to one line of the order. */
sw_status sw_fittings_read (sw_fittings *out, const sw_table *table, sw_report *report);
/* Is FITTING counted on run RUN of the fence? */
bool sw_fitting_is_on (const sw_fitting *fitting, size_t run);
void sw_fittings_clear (sw_fittings *fittings);

#endif
