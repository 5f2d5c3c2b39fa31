/* knapsack_table.c - the most valuable way to cut every board up to a length, by dynamic programming over the length
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/knapsack_table.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/tuning.h"

static int
by_size (const void *a, const void *b)
{
  const sw_thing *const *x = a, *const *y = b;
  if ((*x)->size != (*y)->size)
    return (*x)->size < (*y)->size ? -1 : 1;
  if ((*x)->value != (*y)->value)
    return (*x)->value > (*y)->value ? -1 : 1;
  return (*x)->need < (*y)->need ? -1 : (*x)->need > (*y)->need;
}

/* Insert COPIES times VALUE into TOP, which keeps the KEPT largest values in order. */
static void
rank_value (int64_t *top, size_t kept, int64_t value, int64_t copies)
{
  size_t at = 0;
  while (at < kept && top[at] >= value)
    at++;
  for (size_t i = kept; i > at; i--)
    top[i - 1] = i - 1 - at < (size_t)copies ? value : top[i - 1 - (size_t)copies];
}

/* Mark things that no best board needs.  A thing is useless when, whatever else lies on the board, a copy of some thing
 * that is no longer and worth no less is free to take its place. */
static sw_status
mark_useless (sw_knapsack *k, int64_t room)
{
  int64_t top[SW_RANKS];
  sw_status status = sw_grow ((void **)&k->sorted, &k->sorted_capacity, k->count, sizeof *k->sorted);
  if (status != SW_OK)
    return status;
  for (size_t r = 0; r < SW_RANKS; r++)
    top[r] = -1;
  for (size_t i = 0; i < k->count; i++)
    k->sorted[i] = &k->things[i];
  if (k->count > 0)
    qsort (k->sorted, k->count, sizeof *k->sorted, by_size);
  for (size_t i = 0; i < k->count; i++)
    {
      sw_thing *t = k->sorted[i];
      int64_t others = room >= t->size ? (room - t->size) / k->sorted[0]->size : 0;
      t->useless = t->size > room || (others < SW_RANKS && top[others] >= t->value);
      if (!t->useless)
        rank_value (top, SW_RANKS, t->value, t->most);
    }
  return SW_OK;
}

/* Split the copies of each thing into parts of 1, 2, 4 ... copies, so that each part is either taken or not. */
static sw_status
make_parts (sw_knapsack *k, int64_t room)
{
  sw_status marked = mark_useless (k, room);
  if (marked != SW_OK)
    return marked;
  k->part_count = 0;
  for (size_t i = 0; i < k->count; i++)
    {
      if (k->things[i].useless)
        continue;
      int64_t most = room / k->things[i].size;
      if (most > k->things[i].most)
        most = k->things[i].most;
      for (int64_t step = 1; most > 0; step *= 2)
        {
          int64_t copies = step < most ? step : most;
          sw_status status = sw_grow ((void **)&k->parts, &k->part_capacity, k->part_count + 1, sizeof *k->parts);
          if (status != SW_OK)
            return status;
          k->parts[k->part_count].thing = i;
          k->parts[k->part_count++].copies = copies;
          most -= copies;
        }
    }
  return SW_OK;
}

/* Cells that a piece of thing I takes.  The number is rounded up, so that what the table finds fits. */
static int64_t
cells_of (const sw_knapsack *k, size_t i)
{
  return (k->things[i].size - 1) / k->grid + 1;
}

/* Let each number of cells take part P or not, whichever is worth more; BITS (may be NULL) notes where it was taken. */
static void
add_part (const sw_knapsack *k, const struct part *p, int64_t piece, int64_t *value, size_t cells, uint8_t *bits)
{
  if (piece > (int64_t)cells / p->copies)
    return;
  size_t size = (size_t)(piece * p->copies);
  int64_t gain = k->things[p->thing].value * p->copies;
  for (size_t c = cells; c-- > size;)
    if (value[c - size] + gain > value[c])
      {
        value[c] = value[c - size] + gain;
        if (bits != NULL)
          bits[c / 8] |= (uint8_t)(1U << c % 8);
      }
}

static size_t
table_cells (const sw_knapsack *k, int64_t room)
{
  return (size_t)(room / k->grid) + 1;
}

sw_status
sw_knapsack_fill_table (sw_knapsack *k, int64_t room, int64_t grid)
{
  sw_status status = make_parts (k, room);
  if (grid == 0)
    {
      int64_t cells = (int64_t)SW_CELLS / (int64_t)(k->part_count + 1);
      cells = cells < SW_STATES / 16 ? SW_STATES / 16 : cells > SW_STATES ? SW_STATES : cells;
      grid = (room - 1) / cells + 1;
    }
  k->grid = grid;
  size_t cells = table_cells (k, room), row_bytes = (cells + 7) / 8;
  if (status == SW_OK)
    status = sw_grow ((void **)&k->table, &k->table_capacity, cells, sizeof *k->table);
  if (status == SW_OK)
    status = sw_grow ((void **)&k->bits, &k->bits_capacity, k->part_count * row_bytes, 1);
  if (status != SW_OK)
    return status;
  memset (k->table, 0, cells * sizeof *k->table);
  if (k->part_count > 0)
    memset (k->bits, 0, k->part_count * row_bytes);
  for (size_t p = 0; p < k->part_count; p++)
    add_part (k, &k->parts[p], cells_of (k, k->parts[p].thing), k->table, cells, &k->bits[p * row_bytes]);
  k->work += cells * k->part_count / 10;
  k->table_ready = true;
  k->high_ready = false;
  k->table_room = room;
  return SW_OK;
}

/* Whatever fits on the board also fits when its cells are rounded down: floor (a) + floor (b) <= floor (a + b). */
sw_status
sw_knapsack_fill_high (sw_knapsack *k)
{
  size_t cells = table_cells (k, k->table_room);
  sw_status status = sw_grow ((void **)&k->high, &k->high_capacity, cells, sizeof *k->high);
  if (status != SW_OK)
    return status;
  memset (k->high, 0, cells * sizeof *k->high);
  for (size_t p = 0; p < k->part_count; p++)
    add_part (k, &k->parts[p], k->things[k->parts[p].thing].size / k->grid, k->high, cells, NULL);
  k->work += cells * k->part_count / 10;
  k->high_ready = true;
  return SW_OK;
}

void
sw_knapsack_read_table (sw_knapsack *k, int64_t room, int64_t *best)
{
  size_t c = (size_t)(room / k->grid), row_bytes = (table_cells (k, k->table_room) + 7) / 8;
  *best = k->table[c];
  memset (k->best_taken, 0, k->count * sizeof *k->best_taken);
  for (size_t p = k->part_count; p-- > 0;)
    if (k->bits[p * row_bytes + c / 8] >> c % 8 & 1)
      {
        k->best_taken[k->parts[p].thing] += k->parts[p].copies;
        c -= (size_t)(cells_of (k, k->parts[p].thing) * k->parts[p].copies);
      }
}
