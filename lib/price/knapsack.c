/* knapsack.c - the most valuable cuts of one board, exactly
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/knapsack.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "price/things.h"
#include "model/tuning.h"

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
  free (k->sorted);
  free (k->taken);
  free (k->best_taken);
  free (k->ranked);
  free (k->table);
  free (k->high);
  free (k->bits);
  free (k->parts);
  free (k);
}

sw_status
sw_knapsack_load (sw_knapsack *k, const sw_model *model, size_t section, const int64_t *value, const int64_t *most)
{
  const sw_model_section *g = &model->sections[section];
  sw_status status = sw_grow ((void **)&k->things, &k->capacity, g->need_count, sizeof *k->things);
  if (status == SW_OK && k->taken_capacity < g->need_count)
    {
      free (k->taken);
      free (k->best_taken);
      k->taken = sw_alloc (g->need_count, sizeof *k->taken);
      k->best_taken = sw_alloc (g->need_count, sizeof *k->best_taken);
      k->taken_capacity = k->taken && k->best_taken ? g->need_count : 0;
      if (k->taken_capacity == 0)
        status = SW_NO_MEMORY;
    }
  if (status != SW_OK)
    return status;
  k->count = 0;
  k->table_ready = false;
  for (size_t n = g->need_first; n < g->need_first + g->need_count; n++)
    {
      int64_t copies = most != NULL ? most[n] : model->needs[n].most;
      if (value[n] > 0 && copies > 0)
        k->things[k->count++] = (sw_thing){ .size = model->needs[n].size,
                                            .value = value[n],
                                            .most = copies,
                                            .worth = sw_thing_worth (value[n], model->needs[n].size),
                                            .need = (uint32_t)n };
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

/* Depth first, most copies first; false when STEPS ran out. */
static bool
search (sw_knapsack *k, int64_t room, int64_t *best, uint64_t steps)
{
  size_t n = k->count, at = 0;
  int64_t left = room, value = 0;
  uint64_t looks = steps * SW_LOOKS_A_STEP;
  *best = 0;
  memset (k->best_taken, 0, n * sizeof *k->best_taken);
  for (;;)
    {
      /* down: fill greedily while the bound allows */
      bool cut_off = false;
      const size_t from = at;
      while (at < n && left >= k->things[at].least_size)
        {
          const sw_thing *t = &k->things[at];
          if (sw_thing_at_most (value, left, t->worth) <= (double)*best)
            {
              cut_off = true;
              break;
            }
          int64_t copies = left / t->size;
          if (copies > t->most)
            copies = t->most;
          k->taken[at] = copies;
          left -= copies * t->size;
          value += copies * t->value;
          at++;
        }
      if (!cut_off && value > *best)
        {
          *best = value;
          memcpy (k->best_taken, k->taken, at * sizeof *k->taken);
          memset (k->best_taken + at, 0, (n - at) * sizeof *k->taken);
        }
      const uint64_t looked = at - from;
      /* up: take one copy less of the last thing taken */
      while (at > 0 && k->taken[at - 1] == 0)
        at--;
      if (at == 0)
        return true;
      k->taken[at - 1]--;
      left += k->things[at - 1].size;
      value -= k->things[at - 1].value;
      k->work++;
      if (steps-- == 0 || looks < looked)
        return false;
      looks -= looked;
    }
}

/* ---- Table -------------------------------------------------------------------- */

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

/* Put COPIES of VALUE into the list TOP of KEPT values, largest first. */
static void
rank_value (int64_t *top, size_t kept, int64_t value, int64_t copies)
{
  size_t at = 0;
  while (at < kept && top[at] >= value)
    at++;
  for (size_t i = kept; i > at; i--)
    top[i - 1] = i - 1 - at < (size_t)copies ? value : top[i - 1 - (size_t)copies];
}

/* A thing is of no use to the best where a board that has it could have one no
 * longer and worth no less in its place, whatever else lies on that board. */
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

/* Split the copies of each thing in parts 1, 2, 4 ... so that each part is taken or not. */
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

/* Cells of a piece of thing I, so that it fits. */
static int64_t
cells_of (const sw_knapsack *k, size_t i)
{
  return (k->things[i].size - 1) / k->grid + 1;
}

/* Take part P into VALUE or not, for each number of cells; BITS (may be NULL): where it was taken. */
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

/* GRID 0: as coarse as it takes. */
static sw_status
fill_table (sw_knapsack *k, int64_t room, int64_t grid)
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

/* Fits on the board imply fits of the rounded sizes: floor (a) + floor (b) <= floor (a + b). */
static sw_status
fill_high (sw_knapsack *k)
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

static void
read_table (sw_knapsack *k, int64_t room, int64_t *best)
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

static bool
table_fits (const sw_knapsack *k, int64_t room)
{
  return room <= (int64_t)SW_CELLS / 2 && (uint64_t)room * k->count * 4 <= 6 * SW_MOVES;
}

static uint32_t
read_cuts (const sw_knapsack *k, sw_entry *entries)
{
  uint32_t count = 0;
  for (size_t i = 0; i < k->count; i++)
    if (k->best_taken[i] > 0)
      entries[count++] = (sw_entry){ .need = k->things[i].need, .copies = (uint32_t)k->best_taken[i] };
  if (count > 1)
    qsort (entries, count, sizeof *entries, sw_entries_by_need);
  return count;
}

static bool
has_table_for (const sw_knapsack *k, int64_t room)
{
  return k->table_ready && room <= k->table_room;
}

/* Out of an exact table. */
static sw_status
best_by_table (sw_knapsack *k, int64_t room, int64_t *best)
{
  sw_status status = has_table_for (k, room) ? SW_OK : fill_table (k, room, 1);
  if (status == SW_OK)
    read_table (k, room, best);
  return status;
}

/* The search ran out of steps at *BEST and the board is too long for an exact table: look on a coarse grid too. */
static sw_status
best_by_coarse (sw_knapsack *k, int64_t room, int64_t *best)
{
  k->exact = false;
  if (k->count > SW_CELLS / 64)
    return SW_OK;
  sw_status status = has_table_for (k, room) ? SW_OK : fill_table (k, room, 0);
  if (status == SW_OK && k->table[room / k->grid] > *best)
    read_table (k, room, best);
  k->exact = k->grid == 1;
  return status;
}

sw_status
sw_knapsack_best (sw_knapsack *k, int64_t room, int64_t *best, sw_entry *entries, uint32_t *count)
{
  sw_status status = SW_OK;
  *best = 0;
  *count = 0;
  k->exact = true;
  k->last_room = room;
  k->last_best = 0;
  if (k->count == 0 || room <= 0)
    return SW_OK;
  bool by_table = has_table_for (k, room) && k->grid == 1;
  if (!by_table && !k->hurry && room <= SW_SHORT_ROOM && k->count >= SW_SOME_THINGS)
    by_table = true;
  if (by_table)
    status = best_by_table (k, room, best);
  else if (k->hurry)
    k->exact = search (k, room, best, SW_BOARD_STEPS / 20);
  else if (!search (k, room, best, SW_BOARD_STEPS))
    status = table_fits (k, room) ? best_by_table (k, room, best) : best_by_coarse (k, room, best);
  if (status != SW_OK)
    return status;
  k->last_best = *best;
  *count = read_cuts (k, entries);
  return SW_OK;
}

sw_status
sw_knapsack_tabulate (sw_knapsack *k, int64_t room)
{
  if (k->hurry || k->count == 0 || room <= 0 || !table_fits (k, room) || has_table_for (k, room))
    return SW_OK;
  return fill_table (k, room, 1);
}

/* Value of the relaxation in which a piece may be cut anywhere (Dantzig 1957). */
static int64_t
linear_bound (const sw_knapsack *k, int64_t room)
{
  int64_t left = room, value = 0;
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

void
sw_knapsack_hurry (sw_knapsack *k)
{
  k->hurry = true;
}

sw_status
sw_knapsack_at_most (sw_knapsack *k, int64_t *most)
{
  *most = k->last_best;
  if (k->exact)
    return SW_OK;
  int64_t linear = linear_bound (k, k->last_room);
  *most = linear;
  if (!has_table_for (k, k->last_room))
    return SW_OK;
  sw_status status = k->high_ready ? SW_OK : fill_high (k);
  if (status != SW_OK)
    return status;
  int64_t coarse = k->high[k->last_room / k->grid];
  *most = linear < coarse ? linear : coarse;
  return SW_OK;
}

bool
sw_knapsack_has_table (const sw_knapsack *k)
{
  return k->table_ready;
}

static int
by_value (const void *a, const void *b)
{
  const struct ranked *x = a, *y = b;
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
        int64_t value = k->things[i].value + k->table[(room - k->things[i].size) / k->grid];
        if (value > floor)
          k->ranked[count++] = (struct ranked){ .value = value, .thing = i };
      }
  qsort (k->ranked, count, sizeof *k->ranked, by_value);
  for (size_t r = 0; r < count && most > 0; r++)
    {
      size_t i = k->ranked[r].thing;
      int64_t value;
      read_table (k, room - k->things[i].size, &value);
      /* The table may have used all copies of it already. */
      if (k->best_taken[i] >= k->things[i].most)
        continue;
      k->best_taken[i]++;
      most--;
      if (!fn (entries, read_cuts (k, entries), k->ranked[r].value, data))
        return SW_OK;
    }
  return SW_OK;
}
