/* things.h - what the searches over one board share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_THINGS_H
#define SW_THINGS_H

#include "base/watch.h"
#include "model/pattern.h"

/* A need as the searches use it. */
typedef struct sw_thing
{
  int64_t size;
  int64_t value;
  int64_t most;
  double worth;       /* value a unit of size, rounded up a hair so that bounds stay true */
  int64_t least_size; /* the least size of this thing and all after it */
  uint32_t need;
} sw_thing;

/* Need N of MODEL, with VALUE, MOST copies of it; least_size is not set. */
sw_thing sw_thing_of (const sw_model *model, size_t n, int64_t value, int64_t most);
/* VALUE and LEFT units of WORTH each, and a hair more than all that the arithmetic rounds off. */
double sw_thing_at_most (int64_t value, int64_t left, double worth);
/* Sort the things, those worth most a unit of size first, and set least_size. */
void sw_things_sort (sw_thing *things, size_t count);
/* Write what is TAKEN of COUNT things into ENTRIES, in the order of needs; returns the number of entries. */
uint32_t sw_things_entries (const sw_thing *things, size_t count, const int64_t *taken, sw_entry *entries);

/* In the table: no board comes out so. */
#define SW_AHEAD_NONE (INT64_MIN / 2)

/* A table of the most that things from AT on add to a board with LEFT units: value[at * cells + left].  With it a
 * search goes down only those branches that lead to something. */
typedef struct sw_ahead
{
  bool ready; /* the table was small enough to be filled */
  size_t cells, capacity;
  int64_t *value;
} sw_ahead;

/* Fill the table for boards up to ROOM; AHEAD->ready tells whether it was done.  It is given up when WATCH (may be
 * NULL) says stop.  O(room * copies of all things). */
sw_status sw_ahead_fill (sw_ahead *ahead, const sw_thing *things, size_t count, int64_t room, int64_t waste,
                         sw_watch *watch);

/* Can the things from AT on not bring VALUE over THAN in a board that has LEFT units left?  AHEAD: NULL where there is
 * no table. */
bool sw_things_fall_short (const sw_thing *things, size_t at, const sw_ahead *ahead, int64_t left, int64_t value,
                           int64_t than);

/* A search over one board, depth first, with most copies of a thing first. */
typedef struct sw_walk
{
  const sw_thing *things;
  size_t count;
  const sw_ahead *ahead; /* NULL: none */
  int64_t *taken;        /* copies of each thing before AT */
  size_t at;
  int64_t left, value;
} sw_walk;

/* From AT on, take as many copies of each thing as fit and are needed.  False: no board that begins like this one has a
 * value over THAN. */
bool sw_walk_down (sw_walk *walk, int64_t than);
/* Take one copy less of the thing that was taken last.  False: that was the last board. */
bool sw_walk_up (sw_walk *walk);

#endif
