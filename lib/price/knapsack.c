/* knapsack.c - the most valuable way to cut one board, exactly
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/knapsack.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/tuning.h"
#include "price/things.h"

/* So many copies of a thing, which are taken together or not at all. */
typedef struct part
{
  size_t thing;
  int64_t copies;
} part;

/* A thing, and the value of the best board that has it. */
typedef struct ranked
{
  int64_t value;
  size_t thing;
} ranked;

struct sw_knapsack
{
  uint64_t work;
  size_t count, capacity;
  sw_thing *things;
  size_t taken_capacity, best_capacity;
  int64_t *taken, *best_taken;
  size_t ranked_capacity;
  ranked *ranked;
  /* what the last sw_knapsack_best did */
  bool exact;
  int64_t last_room, last_best;
  /* The table: value[room], and for each part one bit a room. */
  bool table_ready;
  int64_t table_room;
  size_t table_capacity;
  int64_t *table;
  size_t bits_capacity;
  uint8_t *bits;
  size_t part_count, part_capacity;
  part *parts;
};

sw_knapsack *
sw_knapsack_new (void)
{
  return sw_alloc (1, sizeof (sw_knapsack));
}

void
sw_knapsack_free (sw_knapsack *k)
{
  if (k == NULL)
    return;
  free (k->things);
  free (k->taken);
  free (k->best_taken);
  free (k->ranked);
  free (k->table);
  free (k->bits);
  free (k->parts);
  free (k);
}

sw_status
sw_knapsack_load (sw_knapsack *k, const sw_model *model, size_t section, const int64_t *value, const int64_t *most)
{
  const sw_model_section *g = &model->sections[section];
  sw_status status = sw_grow ((void **)&k->things, &k->capacity, g->need_count, sizeof *k->things);
  if (status == SW_OK)
    status = sw_grow ((void **)&k->taken, &k->taken_capacity, g->need_count, sizeof *k->taken);
  if (status == SW_OK)
    status = sw_grow ((void **)&k->best_taken, &k->best_capacity, g->need_count, sizeof *k->best_taken);
  if (status != SW_OK)
    return status;
  k->count = 0;
  k->table_ready = false;
  for (size_t n = g->need_first; n < g->need_first + g->need_count; n++)
    {
      int64_t copies = most != NULL ? most[n] : model->needs[n].most;
      if (value[n] > 0 && copies > 0)
        k->things[k->count++] = sw_thing_of (model, n, value[n], copies);
    }
  sw_things_sort (k->things, k->count);
  return SW_OK;
}

void
sw_knapsack_set_most (sw_knapsack *k, uint32_t need, int64_t most)
{
  for (size_t i = 0; i < k->count; i++)
    if (k->things[i].need == need)
      k->things[i].most = most;
  k->table_ready = false;
}

uint64_t
sw_knapsack_work (const sw_knapsack *k)
{
  return k->work;
}

/* ---- Branch and bound -------------------------------------------------------- */

/* Search depth first; false when so many LOOKS at things were not enough. */
static bool
search (sw_knapsack *k, int64_t room, int64_t *best, uint64_t looks)
{
  const size_t n = k->count;
  sw_walk w = { .things = k->things, .count = n, .taken = k->taken, .left = room };
  *best = 0;
  memset (k->best_taken, 0, n * sizeof *k->best_taken);
  for (;;)
    {
      const size_t from = w.at;
      if (sw_walk_down (&w, *best) && w.value > *best)
        {
          *best = w.value;
          memcpy (k->best_taken, k->taken, w.at * sizeof *k->taken);
          memset (k->best_taken + w.at, 0, (n - w.at) * sizeof *k->taken);
        }
      const uint64_t looked = w.at - from + 1;
      if (!sw_walk_up (&w))
        return true;
      k->work++;
      if (looks < looked)
        return false;
      looks -= looked;
    }
}

/* ---- Table -------------------------------------------------------------------------- */

static bool
table_fits (const sw_knapsack *k, int64_t room)
{
  return room < (int64_t)SW_CELLS && (uint64_t)room * k->count <= SW_MOVES;
}

static bool
has_table_for (const sw_knapsack *k, int64_t room)
{
  return k->table_ready && room <= k->table_room;
}

/* Split the copies of each thing into parts of 1, 2, 4 ... copies. */
static sw_status
make_parts (sw_knapsack *k, int64_t room)
{
  k->part_count = 0;
  for (size_t i = 0; i < k->count; i++)
    {
      int64_t most = room / k->things[i].size;
      if (most > k->things[i].most)
        most = k->things[i].most;
      for (int64_t step = 1; most > 0; step *= 2)
        {
          int64_t copies = step < most ? step : most;
          sw_status status = sw_grow ((void **)&k->parts, &k->part_capacity, k->part_count + 1, sizeof *k->parts);
          if (status != SW_OK)
            return status;
          k->parts[k->part_count++] = (part){ .thing = i, .copies = copies };
          most -= copies;
        }
    }
  return SW_OK;
}

/* Let each room take part P or not, whichever is worth more; BITS notes where it was taken. */
static void
add_part (sw_knapsack *k, const part *p, size_t cells, uint8_t *bits)
{
  const size_t size = (size_t)(k->things[p->thing].size * p->copies);
  const int64_t gain = k->things[p->thing].value * p->copies;
  int64_t *value = k->table;
  for (size_t c = cells; c-- > size;)
    if (value[c - size] + gain > value[c])
      {
        value[c] = value[c - size] + gain;
        bits[c / 8] |= (uint8_t)(1U << c % 8);
      }
}

/* The bytes that the bits of one part take up. */
static size_t
row_bytes (const sw_knapsack *k)
{
  return (size_t)k->table_room / 8 + 1;
}

/* Fill the table for boards up to ROOM, by dynamic programming over the length.  O(room * parts). */
static sw_status
fill_table (sw_knapsack *k, int64_t room)
{
  const size_t cells = (size_t)room + 1;
  sw_status status = make_parts (k, room);
  k->table_ready = false;
  k->table_room = room;
  if (status == SW_OK)
    status = sw_grow ((void **)&k->table, &k->table_capacity, cells, sizeof *k->table);
  if (status == SW_OK)
    status = sw_grow ((void **)&k->bits, &k->bits_capacity, k->part_count * row_bytes (k), 1);
  if (status != SW_OK)
    return status;
  memset (k->table, 0, cells * sizeof *k->table);
  if (k->part_count > 0)
    memset (k->bits, 0, k->part_count * row_bytes (k));
  for (size_t p = 0; p < k->part_count; p++)
    add_part (k, &k->parts[p], cells, &k->bits[p * row_bytes (k)]);
  k->work += cells * k->part_count / SW_CELLS_A_LOOK;
  k->table_ready = true;
  return SW_OK;
}

/* Read the best pattern for ROOM out of the table into best_taken; returns its value. */
static int64_t
read_table (sw_knapsack *k, int64_t room)
{
  size_t c = (size_t)room;
  memset (k->best_taken, 0, k->count * sizeof *k->best_taken);
  for (size_t p = k->part_count; p-- > 0;)
    if (k->bits[p * row_bytes (k) + c / 8] >> c % 8 & 1)
      {
        const part *taken = &k->parts[p];
        k->best_taken[taken->thing] += taken->copies;
        c -= (size_t)(k->things[taken->thing].size * taken->copies);
      }
  return k->table[room];
}

/* ---- Search or table ---------------------------------------------------------------- */

/* How long a search may take: no longer than the table that could be made instead. */
static uint64_t
most_looks (const sw_knapsack *k, int64_t room)
{
  const uint64_t as_table = (uint64_t)room * k->count / SW_CELLS_A_LOOK;
  return table_fits (k, room) && as_table < SW_BOARD_LOOKS ? as_table : SW_BOARD_LOOKS;
}

sw_status
sw_knapsack_best (sw_knapsack *k, int64_t room, int64_t *best, sw_entry *entries, uint32_t *count)
{
  *best = 0;
  *count = 0;
  k->exact = true;
  k->last_room = room;
  k->last_best = 0;
  if (k->count == 0 || room <= 0)
    return SW_OK;
  bool by_table = has_table_for (k, room);
  if (!by_table)
    {
      k->exact = search (k, room, best, most_looks (k, room));
      by_table = !k->exact && table_fits (k, room);
      sw_status status = by_table ? fill_table (k, room) : SW_OK;
      if (status != SW_OK)
        return status;
    }
  if (by_table)
    {
      k->exact = true;
      *best = read_table (k, room);
    }
  k->last_best = *best;
  *count = sw_things_entries (k->things, k->count, k->best_taken, entries);
  return SW_OK;
}

sw_status
sw_knapsack_tabulate (sw_knapsack *k, int64_t room)
{
  if (k->count == 0 || room <= 0 || !table_fits (k, room) || has_table_for (k, room))
    return SW_OK;
  return fill_table (k, room);
}

int64_t
sw_knapsack_at_most (const sw_knapsack *k)
{
  int64_t left = k->last_room, value = 0;
  if (k->exact)
    return k->last_best;
  for (size_t i = 0; i < k->count; i++)
    {
      const sw_thing *t = &k->things[i];
      if (left / t->size < t->most)
        return (int64_t)sw_thing_at_most (value, left, t->worth);
      value += t->most * t->value;
      left -= t->most * t->size;
    }
  return value;
}

bool
sw_knapsack_has_table (const sw_knapsack *k)
{
  return k->table_ready;
}

static int
by_value (const void *a, const void *b)
{
  const ranked *x = a, *y = b;
  if (x->value != y->value)
    return x->value > y->value ? -1 : 1;
  return x->thing < y->thing ? -1 : x->thing > y->thing;
}

sw_status
sw_knapsack_more (sw_knapsack *k, int64_t room, int64_t floor, size_t most, sw_entry *entries, sw_pattern_fn fn,
                  void *data)
{
  size_t count = 0;
  sw_status status = sw_grow ((void **)&k->ranked, &k->ranked_capacity, k->count, sizeof *k->ranked);
  if (status != SW_OK || !k->table_ready || room > k->table_room)
    return status;
  for (size_t i = 0; i < k->count; i++)
    if (k->things[i].size <= room)
      {
        int64_t value = k->things[i].value + k->table[room - k->things[i].size];
        if (value > floor)
          k->ranked[count++] = (ranked){ .value = value, .thing = i };
      }
  qsort (k->ranked, count, sizeof *k->ranked, by_value);
  for (size_t r = 0; r < count && most > 0; r++)
    {
      size_t i = k->ranked[r].thing;
      read_table (k, room - k->things[i].size);
      /* The table may have used up all copies of this thing. */
      if (k->best_taken[i] >= k->things[i].most)
        continue;
      k->best_taken[i]++;
      most--;
      if (!fn (entries, sw_things_entries (k->things, k->count, k->best_taken, entries), k->ranked[r].value, data))
        return SW_OK;
    }
  return SW_OK;
}
