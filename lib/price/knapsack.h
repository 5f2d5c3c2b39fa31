/* knapsack.h - the most valuable cuts of one board, exactly
 *
 * Bounded knapsack in whole numbers.  Few long pieces: depth-first branch and
 * bound by value a unit of length (Gilmore & Gomory 1963; Martello & Toth,
 * Knapsack Problems, 1990, chapter 3).  Many short ones: dynamic programming
 * over the length, on a grid where the lengths are too fine for it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_KNAPSACK_H
#define SW_KNAPSACK_H

#include "base/watch.h"
#include "model/pattern.h"

typedef struct sw_knapsack sw_knapsack;

sw_knapsack *sw_knapsack_new (void);
void sw_knapsack_free (sw_knapsack *knapsack);

/* Steps of all searches and cells of all tables so far: work that is the same each time. */
uint64_t sw_knapsack_work (const sw_knapsack *knapsack);

/* Take the needs of SECTION with their values (indexed by need of the model;
 * those of value 0 or less are left out).  MOST: how many of each at most,
 * NULL: as the model has it.  Sums of values stay under 2^62. */
sw_status sw_knapsack_load (sw_knapsack *knapsack, const sw_model *model, size_t section, const int64_t *value,
                            const int64_t *most);

/* Change how many of NEED at most (not when the table is in use). */
void sw_knapsack_set_most (sw_knapsack *knapsack, uint32_t need, int64_t most);

/* The best cuts for a board with ROOM.  *BEST: their value (0: none worth
 * anything).  ENTRIES: room for the section's need_count; *COUNT of them, by need.
 * Takes a bounded number of steps; where they do not do, and the board is too
 * long in units for an exact table, the cuts may fall short of the best. */
sw_status sw_knapsack_best (sw_knapsack *knapsack, int64_t room, int64_t *best, sw_entry *entries, uint32_t *count);

/* Work the table out at once for boards with ROOM or less, if it is not too large for that. */
sw_status sw_knapsack_tabulate (sw_knapsack *knapsack, int64_t room);

/* From now on good cuts will do: each board is searched for a few steps only. */
void sw_knapsack_hurry (sw_knapsack *knapsack);

/* After sw_knapsack_best: set *MOST so that no cuts for that room are worth more.
 * It is the value that was found where those cuts are the best; else it is more,
 * by a table over lengths that are rounded down to a coarse grid. */
sw_status sw_knapsack_at_most (sw_knapsack *knapsack, int64_t *most);

/* Is the table in use, so that sw_knapsack_more is cheap?  After sw_knapsack_best. */
bool sw_knapsack_has_table (const sw_knapsack *knapsack);

/* Told of one set of entries; false stops the listing. */
typedef bool (*sw_pattern_fn) (const sw_entry *entries, uint32_t count, int64_t value, void *data);

/* For each need the best cuts with at least one piece of it, as the table has
 * them (on its grid), worth more than FLOOR: at most MOST of them, the most valuable first.
 * Needs the table.  O(needs * parts). */
sw_status sw_knapsack_more (sw_knapsack *knapsack, int64_t room, int64_t floor, size_t most, sw_entry *entries,
                            sw_pattern_fn fn, void *data);

/* Every maximal set of cuts for ROOM (no further piece fits or is needed)
 * whose value is at least FLOOR, handed to FN, which says false to stop.
 * Needs of value 0 count too.  SW_STOPPED: FN stopped it, STEPS ran out, or WATCH
 * (may be NULL) says stop. */
sw_status sw_knapsack_each (const sw_model *model, size_t section, const int64_t *value, int64_t room, int64_t floor,
                            uint64_t *steps, sw_watch *watch, sw_pattern_fn fn, void *data);

#endif
