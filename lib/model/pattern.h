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

/* A way to cut one board of a stock: its entries, in the order of needs. */
typedef struct sw_pattern
{
  uint32_t stock;
  uint32_t count;
  size_t first; /* index into the pool's entries */
  bool listed;  /* it comes from a list of all that could be of use, of which a linear programme is better without */
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

/* Add a pattern (ENTRIES sorted by need).  *INDEX (may be NULL) becomes its place in the pool; *NEW (may be NULL)
 * whether the pool did not have it before.  O(COUNT) expected. */
sw_status sw_patterns_add (sw_patterns *patterns, uint32_t stock, const sw_entry *entries, uint32_t count,
                           size_t *index, bool *new_one);
void sw_patterns_clear (sw_patterns *patterns);

/* Add a piece of NEED to ENTRIES, which are sorted by need and have room for one more; returns the new number of
 * entries. */
uint32_t sw_entries_with (sw_entry *entries, uint32_t count, uint32_t need);
/* Write the pieces that COUNT has of each of NEEDS needs into ENTRIES; returns the number of entries. */
uint32_t sw_entries_of (sw_entry *entries, const int64_t *count, size_t needs);

/* Add the pieces of TIMES boards of PATTERN to COUNT (for each need); TIMES under 0 takes them off. */
void sw_pattern_count (const sw_patterns *pool, size_t pattern, int64_t times, int64_t *count);
/* How many boards of PATTERN yield no more pieces than are LEFT (for each need): from 0 to MOST. */
int64_t sw_pattern_times (const sw_patterns *pool, size_t pattern, const int64_t *left, int64_t most);
/* The size of all pieces of PATTERN together. */
int64_t sw_pattern_size (const sw_model *model, const sw_patterns *pool, size_t pattern);

#endif
