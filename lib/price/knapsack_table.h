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
  /* what the last sw_knapsack_best did */
  bool exact;
  bool hurry;
  int64_t last_room, last_best;
  /* The table: value[room], and for each part of a thing one bit a room.  Sizes are rounded up to the grid, so that
   * what it finds fits; with a grid of 1 it is exact. */
  bool table_ready;
  int64_t grid;
  int64_t table_room;
  size_t table_capacity;
  int64_t *table;
  /* The same with sizes rounded down to the grid: no board is worth more than its value here. */
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

/* Fill the table for boards up to ROOM, with sizes rounded up to GRID units; 0: the finest grid that the table has
 * cells for.  O(cells * parts). */
sw_status sw_knapsack_fill_table (sw_knapsack *knapsack, int64_t room, int64_t grid);
/* The same with sizes rounded down. */
sw_status sw_knapsack_fill_high (sw_knapsack *knapsack);
/* Read the best pattern for ROOM out of the table into best_taken. */
void sw_knapsack_read_table (sw_knapsack *knapsack, int64_t room, int64_t *best);

#endif
