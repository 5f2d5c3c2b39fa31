/* knapsack.c - the most valuable way to cut one board, exactly
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/knapsack_table.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/tuning.h"

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

/* Search depth first, with most copies of a thing first; false when STEPS ran out. */
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
      /* down: fill greedily while the bound allows it */
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
      /* up: take one copy less of the thing that was taken last */
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

/* ---- Search or table ---------------------------------------------------------------- */

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

/* The best board out of an exact table, which is made first where there is none. */
static sw_status
best_by_table (sw_knapsack *k, int64_t room, int64_t *best)
{
  sw_status status = has_table_for (k, room) ? SW_OK : sw_knapsack_fill_table (k, room, 1);
  if (status == SW_OK)
    sw_knapsack_read_table (k, room, best);
  return status;
}

/* The search ran out of steps at *BEST, and the board is too long for an exact table.  A coarse table may have a better
 * board. */
static sw_status
best_by_coarse (sw_knapsack *k, int64_t room, int64_t *best)
{
  k->exact = false;
  if (k->count > SW_CELLS / 64)
    return SW_OK;
  sw_status status = has_table_for (k, room) ? SW_OK : sw_knapsack_fill_table (k, room, 0);
  if (status == SW_OK && k->table[room / k->grid] > *best)
    sw_knapsack_read_table (k, room, best);
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
  return sw_knapsack_fill_table (k, room, 1);
}

/* The value of the relaxation in which a piece may be cut anywhere (Dantzig 1957). */
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
  sw_status status = k->high_ready ? SW_OK : sw_knapsack_fill_high (k);
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
      sw_knapsack_read_table (k, room - k->things[i].size, &value);
      /* The table may have used up all copies of this thing. */
      if (k->best_taken[i] >= k->things[i].most)
        continue;
      k->best_taken[i]++;
      most--;
      if (!fn (entries, read_cuts (k, entries), k->ranked[r].value, data))
        return SW_OK;
    }
  return SW_OK;
}
