/* pattern.h - ways to cut one board, each kept once
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PATTERN_H
#define SW_PATTERN_H

#include "model/model.h"

/* COPIES pieces of a need. */
typedef struct sw_entry
{
  uint32_t need;
  uint32_t copies;
} sw_entry;

/* Cuts of one board of a stock, by need. */
typedef struct sw_pattern
{
  uint32_t stock;
  uint32_t count;
  size_t first; /* index into the pool's cuts */
} sw_pattern;

typedef struct sw_patterns
{
  size_t count, capacity;
  sw_pattern *items;
  size_t entry_count, entry_capacity;
  sw_entry *entries;
  size_t *table; /* hash table of indices + 1 */
  size_t table_size;
} sw_patterns;

/* Add a pattern (ENTRIES sorted by need); *INDEX (may be NULL) is where it
 * stands, *NEW (may be NULL) whether it was not there before.  O(COUNT)
 * expected. */
sw_status sw_patterns_add (sw_patterns *patterns, uint32_t stock, const sw_entry *entries, uint32_t count,
                           size_t *index, bool *new_one);
/* Add a piece of NEED to ENTRIES, which are in the order of needs and have room for one more; returns how many they are
 * then. */
uint32_t sw_entries_with (sw_entry *entries, uint32_t count, uint32_t need);
void sw_patterns_clear (sw_patterns *patterns);

#endif
