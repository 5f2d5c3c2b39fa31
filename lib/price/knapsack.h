/* knapsack.h - the most valuable way to cut one board, exactly
 *
 * Bounded knapsack in whole numbers.  Few long pieces are searched by
 * depth-first branch and bound by value a unit of length (Gilmore & Gomory
 * 1963; Martello & Toth, Knapsack Problems, 1990, chapter 3).  Where that takes
 * too long, it is dynamic programming over the length.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_KNAPSACK_H
#define SW_KNAPSACK_H

#include "base/watch.h"
#include "model/pattern.h"

typedef struct sw_knapsack sw_knapsack;

sw_knapsack *sw_knapsack_new (void);
void sw_knapsack_free (sw_knapsack *knapsack);

/* The steps of all searches and cells of all tables so far: a measure of work that is the same on every run. */
uint64_t sw_knapsack_work (const sw_knapsack *knapsack);

/* Load the needs of SECTION with VALUE (one for each need of the model); needs with a value of 0 or less are left out.
 * MOST: the number of each at most (NULL: as the model has it).  Sums of values stay under 2^62. */
sw_status sw_knapsack_load (sw_knapsack *knapsack, const sw_model *model, size_t section, const int64_t *value,
                            const int64_t *most);

/* Change the most copies of NEED.  Not allowed while the table is in use. */
void sw_knapsack_set_most (sw_knapsack *knapsack, uint32_t need, int64_t most);

/* Find the best pattern for a board with ROOM.  *BEST: its value (0: nothing is worth anything).  ENTRIES has room for
 * the section's need_count; it gets *COUNT of them, by need.  The number of steps is bounded.  Where they run out, and
 * the board is too long in units for an exact table, the pattern may fall short of the best. */
sw_status sw_knapsack_best (sw_knapsack *knapsack, int64_t room, int64_t *best, sw_entry *entries, uint32_t *count);

/* Fill the table for boards with ROOM or less at once, unless it is too large. */
sw_status sw_knapsack_tabulate (sw_knapsack *knapsack, int64_t room);

/* After sw_knapsack_best: a value that no pattern for that room exceeds.  Where the best pattern was found, it is the
 * value of that one; else that of the relaxation in which a piece may be cut anywhere (Dantzig 1957). */
int64_t sw_knapsack_at_most (const sw_knapsack *knapsack);

/* Is the table in use, so that sw_knapsack_more is cheap?  After sw_knapsack_best. */
bool sw_knapsack_has_table (const sw_knapsack *knapsack);

/* Gets one set of entries; returns false to stop the listing. */
typedef bool (*sw_pattern_fn) (const sw_entry *entries, uint32_t count, int64_t value, void *data);

/* For each need, the best pattern that has at least one piece of it and is worth more than FLOOR: at most MOST
 * patterns, the most valuable first.  Needs the table.  O(needs * parts). */
sw_status sw_knapsack_more (sw_knapsack *knapsack, int64_t room, int64_t floor, size_t most, sw_entry *entries,
                            sw_pattern_fn fn, void *data);

/* Hand every maximal pattern for ROOM (no further piece fits or is needed) whose value is at least FLOOR to FN, which
 * returns false to stop.  Needs of value 0 count too.  SW_STOPPED: FN stopped it, STEPS ran out, or WATCH (may be NULL)
 * says stop. */
sw_status sw_knapsack_each (const sw_model *model, size_t section, const int64_t *value, int64_t room, int64_t floor,
                            uint64_t *steps, sw_watch *watch, sw_pattern_fn fn, void *data);

#endif
