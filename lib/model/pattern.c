/* pattern.c - ways to cut one board, each kept once
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "model/pattern.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* FNV-1a over the numbers, which gives the same on every machine. */
static uint64_t
hash_of (uint32_t stock, const sw_entry *entries, uint32_t count)
{
  uint64_t hash = 14695981039346656037ULL;
  hash = (hash ^ stock) * 1099511628211ULL;
  for (uint32_t i = 0; i < count; i++)
    {
      hash = (hash ^ entries[i].need) * 1099511628211ULL;
      hash = (hash ^ entries[i].copies) * 1099511628211ULL;
    }
  return hash ^ hash >> 29;
}

static bool
same (const sw_patterns *patterns, size_t index, uint32_t stock, const sw_entry *entries, uint32_t count)
{
  const sw_pattern *p = &patterns->items[index];
  return p->stock == stock && p->count == count
         && (count == 0 || memcmp (&patterns->entries[p->first], entries, count * sizeof *entries) == 0);
}

static sw_status
grow_table (sw_patterns *patterns)
{
  if (2 * (patterns->count + 1) <= patterns->table_size)
    return SW_OK;
  size_t size = patterns->table_size == 0 ? 256 : 2 * patterns->table_size;
  size_t *table = sw_alloc (size, sizeof *table);
  if (table == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < patterns->count; i++)
    {
      const sw_pattern *p = &patterns->items[i];
      size_t slot = hash_of (p->stock, &patterns->entries[p->first], p->count) & (size - 1);
      while (table[slot] != 0)
        slot = (slot + 1) & (size - 1);
      table[slot] = i + 1;
    }
  free (patterns->table);
  patterns->table = table;
  patterns->table_size = size;
  return SW_OK;
}

sw_status
sw_patterns_add (sw_patterns *patterns, uint32_t stock, const sw_entry *entries, uint32_t count, size_t *index,
                 bool *new_one)
{
  sw_status status = grow_table (patterns);
  if (status != SW_OK)
    return status;
  size_t slot = hash_of (stock, entries, count) & (patterns->table_size - 1);
  while (patterns->table[slot] != 0)
    {
      size_t there = patterns->table[slot] - 1;
      if (same (patterns, there, stock, entries, count))
        {
          if (index != NULL)
            *index = there;
          if (new_one != NULL)
            *new_one = false;
          return SW_OK;
        }
      slot = (slot + 1) & (patterns->table_size - 1);
    }
  status = sw_grow ((void **)&patterns->items, &patterns->capacity, patterns->count + 1, sizeof *patterns->items);
  if (status == SW_OK)
    status = sw_grow ((void **)&patterns->entries, &patterns->entry_capacity, patterns->entry_count + count,
                      sizeof *patterns->entries);
  if (status != SW_OK)
    return status;
  patterns->items[patterns->count] = (sw_pattern){ .stock = stock, .count = count, .first = patterns->entry_count };
  if (count > 0)
    memcpy (&patterns->entries[patterns->entry_count], entries, count * sizeof *entries);
  patterns->entry_count += count;
  patterns->table[slot] = ++patterns->count;
  if (index != NULL)
    *index = patterns->count - 1;
  if (new_one != NULL)
    *new_one = true;
  return SW_OK;
}

void
sw_patterns_clear (sw_patterns *patterns)
{
  free (patterns->items);
  free (patterns->entries);
  free (patterns->table);
  *patterns = (sw_patterns){ 0 };
}

uint32_t
sw_entries_with (sw_entry *entries, uint32_t count, uint32_t need)
{
  uint32_t at = 0;
  while (at < count && entries[at].need < need)
    at++;
  if (at < count && entries[at].need == need)
    {
      entries[at].copies++;
      return count;
    }
  memmove (&entries[at + 1], &entries[at], (count - at) * sizeof *entries);
  entries[at] = (sw_entry){ .need = need, .copies = 1 };
  return count + 1;
}

uint32_t
sw_entries_of (sw_entry *entries, const int64_t *count, size_t needs)
{
  uint32_t found = 0;
  for (size_t n = 0; n < needs; n++)
    if (count[n] > 0)
      entries[found++] = (sw_entry){ .need = (uint32_t)n, .copies = (uint32_t)count[n] };
  return found;
}

void
sw_pattern_count (const sw_patterns *pool, size_t pattern, int64_t times, int64_t *count)
{
  const sw_pattern *p = &pool->items[pattern];
  for (uint32_t c = 0; c < p->count; c++)
    count[pool->entries[p->first + c].need] += times * pool->entries[p->first + c].copies;
}

int64_t
sw_pattern_times (const sw_patterns *pool, size_t pattern, const int64_t *left, int64_t most)
{
  const sw_pattern *p = &pool->items[pattern];
  int64_t times = most;
  for (uint32_t c = 0; c < p->count; c++)
    {
      const sw_entry *entry = &pool->entries[p->first + c];
      const int64_t some = left[entry->need] / entry->copies;
      times = some < times ? some : times;
    }
  return times > 0 ? times : 0;
}

int64_t
sw_pattern_size (const sw_model *model, const sw_patterns *pool, size_t pattern)
{
  const sw_pattern *p = &pool->items[pattern];
  int64_t size = 0;
  for (uint32_t c = 0; c < p->count; c++)
    size += model->needs[pool->entries[p->first + c].need].size * pool->entries[p->first + c].copies;
  return size;
}
