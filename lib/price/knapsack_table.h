/* knapsack_table.h - the knapsack's table, and what it shares with the search
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_KNAPSACK_TABLE_H
#define SW_KNAPSACK_TABLE_H

#include "price/knapsack.h"
#include "price/things.h"

struct sw_knapsack
{
  uint64_t work;
  size_t count, capacity;
  sw_thing *things;
  size_t sorted_capacity;
  sw_thing **sorted; /* by size */
  size_t taken_capacity;
  int64_t *taken, *best_taken;
  size_t ranked_capacity;
  struct ranked
  {
    int64_t value;
    size_t thing;
  } * ranked;
  /* what sw_knapsack_best did last */
  bool exact;
  bool hurry;
  int64_t last_room, last_best;
  /* the table: value[room], and for each part of a thing one bit a room; sizes are
   * rounded up to the grid, so that what it finds fits: 1 is exact */
  bool table_ready;
  int64_t grid;
  int64_t table_room;
  size_t table_capacity;
  int64_t *table;
  /* the same with sizes rounded down to the grid: nothing is worth more */
  bool high_ready;
  size_t high_capacity;
  int64_t *high;
  size_t bits_capacity;
  uint8_t *bits;
  size_t part_count, part_capacity;
  struct part
  {
    size_t thing;
    int64_t copies;
  } * parts;
};

/* Fill the table for boards up to ROOM, sizes rounded up to GRID units; 0: as coarse as it takes.  O(cells * parts). */
sw_status sw_knapsack_fill_table (sw_knapsack *knapsack, int64_t room, int64_t grid);
/* The same with sizes rounded down. */
sw_status sw_knapsack_fill_high (sw_knapsack *knapsack);
/* The best cuts for ROOM, as the table has them, in best_taken. */
void sw_knapsack_read_table (sw_knapsack *knapsack, int64_t room, int64_t *best);

#endif
