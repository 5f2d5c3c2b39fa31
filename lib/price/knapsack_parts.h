/* knapsack_parts.h - what the searches over one board share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_KNAPSACK_PARTS_H
#define SW_KNAPSACK_PARTS_H

#include "price/knapsack.h"

/* A need as the searches see it. */
typedef struct sw_thing
{
  int64_t size;
  int64_t value;
  int64_t most;
  double worth;       /* value a unit of size, rounded up a hair: bounds stay bounds */
  int64_t least_size; /* of this thing and those after it */
  uint32_t need;
  bool useless; /* to the table */
} sw_thing;

/* Value a unit of size, rounded up a hair. */
double sw_thing_worth (int64_t value, int64_t size);
/* What VALUE and LEFT units worth WORTH each come to at most: more by a hair
 * than all that the arithmetic rounds off. */
double sw_thing_at_most (int64_t value, int64_t left, double worth);
/* Most worth a unit first; sets least_size. */
void sw_things_sort (sw_thing *things, size_t count);
/* For qsort over sw_entry. */
int sw_cuts_by_need (const void *a, const void *b);

#endif
