/* fitting.h - what goes on the same order and is not cut
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FITTING_H
#define SW_FITTING_H

#include "base/name_index.h"
#include "csv/table.h"
#include "job/settings.h"

/* What a fitting is counted by. */
typedef enum sw_per
{
  SW_PER_POST,     /* a corner that two runs meet at in mitres is one post */
  SW_PER_END_POST, /* the first and the last post of a run */
  SW_PER_BAY,      /* with timber */
  SW_PER_OPENING,
  SW_PER_METRE, /* of fence: spans of the bays with timber, level measure */
  SW_PER_PIECE, /* cut from a board: in its place, blocks and extras */
  SW_PER_JOIN,
  SW_PER_CROSSING, /* a level at a post of a run, where its timber is */
  SW_PER_BOARD,    /* cut up, bought or from hand */
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
  int64_t each; /* millionths, how many a unit */
  int64_t pack; /* sold in packs of so many; 1: singly */
  bool priced;
  sw_money price; /* of a pack */
  char *only;     /* names of the runs that have it, as written; NULL: all */
  bool *runs;     /* the same by run of the fence, once the job is checked; NULL: all */
  size_t first;   /* the first row of the same item, whose pack and price are this one's too */
  size_t line;
} sw_fitting;

typedef struct sw_fittings
{
  size_t count;
  sw_fitting *items;
} sw_fittings;

/* fittings.csv.  Rows of one item add up to one line of the order. */
sw_status sw_fittings_read (sw_fittings *out, const sw_table *table, sw_report *report);
/* "post", "end post" ... as in the file. */
const char *sw_per_name (sw_per per);
/* Is run RUN of the fence counted for FITTING? */
bool sw_fitting_is_on (const sw_fitting *fitting, size_t run);
void sw_fittings_clear (sw_fittings *fittings);

#endif
