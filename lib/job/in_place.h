/* in_place.h - pieces that are fixed in their places, and stay
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_IN_PLACE_H
#define SW_IN_PLACE_H

#include "job/extra.h"
#include "job/fence.h"
#include "job/level.h"

typedef enum sw_placed_kind
{
  SW_PLACED_TIMBER, /* from post to post of a level */
  SW_PLACED_BLOCK,
  SW_PLACED_EXTRA
} sw_placed_kind;

typedef struct sw_placed
{
  char *label;       /* as it is pencilled on the piece */
  char *run_name;    /* NULL: it is an extra */
  char *level_name;  /* NULL: it is an extra */
  char *extra_name;  /* NULL: none */
  sw_placed_kind kind;
  size_t run;        /* index in the job, once that is known */
  size_t level;
  size_t extra;
  size_t from;       /* posts, counted from 0; for timber only */
  size_t to;
  int64_t number;    /* of blocks and extras, from 1; 0: the extra is there once */
  sw_length cut;     /* as it was cut, to the long point */
  size_t line;       /* line of the file that says so; 0: none */
} sw_placed;

typedef struct sw_in_place
{
  size_t count;
  size_t capacity;
  sw_placed *items;  /* after sw_in_place_resolve: timber by run, level and post; then blocks by run, level and number;
                        then extras */
} sw_in_place;

/* Read in-place.csv.  As in every reader of this room, faults go to REPORT. */
sw_status sw_in_place_read (sw_in_place *out, const sw_table *table, sw_report *report);
/* Write the list as a table from which the reader makes the same list. */
sw_status sw_in_place_table (const sw_in_place *list, const sw_settings *settings, sw_table **out);
/* Add PLACED at the end of LIST; its texts are copied. */
sw_status sw_in_place_add (sw_in_place *list, const sw_placed *placed);
/* Find the run, level or extra of each piece, and sort the list.  SW_REJECTED: some pieces have no place in this job;
 * each of them is a fault of FILE that says what is missing.  O(n log n). */
sw_status sw_in_place_resolve (sw_in_place *list, const sw_fence *fence, const sw_levels *levels,
                               const sw_extras *extras, const char *file, sw_report *report);
void sw_in_place_clear (sw_in_place *list);

/* The timber of LEVEL on RUN, in order from the first post; *COUNT pieces.  O(log n). */
const sw_placed *sw_in_place_of (const sw_in_place *list, size_t run, size_t level, size_t *count);
/* How many blocks of LEVEL on RUN, or pieces of EXTRA, are in their places. */
int64_t sw_in_place_blocks (const sw_in_place *list, size_t run, size_t level);
int64_t sw_in_place_extras (const sw_in_place *list, size_t extra);

#endif
