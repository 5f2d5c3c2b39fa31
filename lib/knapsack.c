/* knapsack.c - the most valuable cuts of one board, exactly
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "knapsack.h"

#include <stdlib.h>
#include <string.h>

#include "memory.h"

/* Branch and bound gives up after this many steps where dynamic programming can take over. */
#define STEPS_BEFORE_TABLE 200000
/* Longest board, in units, that the table is used for, and most of its cells. */
#define TABLE_MAX_ROOM 4000000
#define TABLE_MAX_CELLS 2000000000
/* Up to this room, and from so many needs on, the table is used at once. */
#define TABLE_AT_ONCE_ROOM 4000
#define TABLE_AT_ONCE_NEEDS 24

typedef struct thing
{
  int64_t size;
  int64_t value;
  int64_t most;
  double worth;       /* value a unit of size, rounded up a hair: bounds stay bounds */
  int64_t least_size; /* of this thing and those after it */
  uint32_t need;
} thing;

struct sw_knapsack
{
  uint64_t work;
  size_t count, capacity;
  thing *things;
  size_t taken_capacity;
  int64_t *taken, *best_taken;
  size_t ranked_capacity;
  struct ranked
  {
    int64_t value;
    size_t thing;
  } * ranked;
  /* the table: value[room], and for each part of a thing one bit a room */
  bool table_ready;
  int64_t table_room;
  size_t table_capacity;
  int64_t *table;
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
  free (k->taken);
  free (k->best_taken);
  free (k->ranked);
  free (k->table);
  free (k->bits);
  free (k->parts);
  free (k);
}

static int
by_worth (const void *a, const void *b)
{
  const thing *x = a, *y = b;
  if (x->worth != y->worth)
    return x->worth > y->worth ? -1 : 1;
  if (x->size != y->size)
    return x->size > y->size ? -1 : 1;
  return x->need < y->need ? -1 : 1;
}

static double
worth_of (int64_t value, int64_t size)
{
  return (double)value / (double)size * (1 + 1e-14);
}

/* What VALUE and LEFT units worth WORTH each come to at most: more by a hair than all that the arithmetic rounds off.
 */
static double
at_most (int64_t value, int64_t left, double worth)
{
  return ((double)value + (double)left * worth) * (1 + 1e-15) + 1;
}

static void
sort_things (thing *things, size_t count)
{
  if (count == 0)
    return;
  qsort (things, count, sizeof *things, by_worth);
  int64_t least = INT64_MAX;
  for (size_t i = count; i-- > 0;)
    {
      if (things[i].size < least)
        least = things[i].size;
      things[i].least_size = least;
    }
}

sw_status
sw_knapsack_load (sw_knapsack *k, const sw_model *model, size_t group, const int64_t *value, const int64_t *most)
{
  const sw_group *g = &model->groups[group];
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
        k->things[k->count++] = (thing){ .size = model->needs[n].size,
                                         .value = value[n],
                                         .most = copies,
                                         .worth = worth_of (value[n], model->needs[n].size),
                                         .need = (uint32_t)n };
    }
  sort_things (k->things, k->count);
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
  *best = 0;
  memset (k->best_taken, 0, n * sizeof *k->best_taken);
  for (;;)
    {
      /* down: fill greedily while the bound allows */
      bool cut_off = false;
      while (at < n && left >= k->things[at].least_size)
        {
          const thing *t = &k->things[at];
          if (at_most (value, left, t->worth) <= (double)*best)
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
      /* up: take one copy less of the last thing taken */
      while (at > 0 && k->taken[at - 1] == 0)
        at--;
      if (at == 0)
        return true;
      k->taken[at - 1]--;
      left += k->things[at - 1].size;
      value -= k->things[at - 1].value;
      k->work++;
      if (steps-- == 0)
        return false;
    }
}

/* ---- Table -------------------------------------------------------------------- */

/* Split the copies of each thing in parts 1, 2, 4 ... so that each part is taken or not. */
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
          k->parts[k->part_count].thing = i;
          k->parts[k->part_count++].copies = copies;
          most -= copies;
        }
    }
  return SW_OK;
}

static sw_status
fill_table (sw_knapsack *k, int64_t room)
{
  sw_status status = make_parts (k, room);
  size_t cells = (size_t)room + 1, row_bytes = (cells + 7) / 8;
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
    {
      const thing *t = &k->things[k->parts[p].thing];
      size_t size = (size_t)(t->size * k->parts[p].copies);
      int64_t value = t->value * k->parts[p].copies;
      uint8_t *bits = &k->bits[p * row_bytes];
      for (size_t c = cells; c-- > size;)
        if (k->table[c - size] + value > k->table[c])
          {
            k->table[c] = k->table[c - size] + value;
            bits[c / 8] |= (uint8_t)(1U << c % 8);
          }
    }
  k->work += cells * k->part_count / 10;
  k->table_ready = true;
  k->table_room = room;
  return SW_OK;
}

static void
read_table (sw_knapsack *k, int64_t room, int64_t *best)
{
  size_t c = (size_t)room, row_bytes = ((size_t)k->table_room + 1 + 7) / 8;
  *best = k->table[c];
  memset (k->best_taken, 0, k->count * sizeof *k->best_taken);
  for (size_t p = k->part_count; p-- > 0;)
    if (k->bits[p * row_bytes + c / 8] >> c % 8 & 1)
      {
        k->best_taken[k->parts[p].thing] += k->parts[p].copies;
        c -= (size_t)(k->things[k->parts[p].thing].size * k->parts[p].copies);
      }
}

static bool
table_fits (const sw_knapsack *k, int64_t room)
{
  return room <= TABLE_MAX_ROOM && (uint64_t)room * k->count * 4 <= TABLE_MAX_CELLS;
}

static int
by_need (const void *a, const void *b)
{
  const sw_cut *x = a, *y = b;
  return x->need < y->need ? -1 : x->need > y->need;
}

static uint32_t
read_cuts (const sw_knapsack *k, sw_cut *cuts)
{
  uint32_t count = 0;
  for (size_t i = 0; i < k->count; i++)
    if (k->best_taken[i] > 0)
      cuts[count++] = (sw_cut){ .need = k->things[i].need, .copies = (uint32_t)k->best_taken[i] };
  if (count > 1)
    qsort (cuts, count, sizeof *cuts, by_need);
  return count;
}

sw_status
sw_knapsack_best (sw_knapsack *k, int64_t room, int64_t *best, sw_cut *cuts, uint32_t *count)
{
  *best = 0;
  *count = 0;
  if (k->count == 0 || room <= 0)
    return SW_OK;
  bool by_table = k->table_ready && room <= k->table_room;
  if (!by_table && room <= TABLE_AT_ONCE_ROOM && k->count >= TABLE_AT_ONCE_NEEDS)
    by_table = true;
  if (!by_table)
    {
      bool may_turn = table_fits (k, room);
      by_table = !search (k, room, best, may_turn ? STEPS_BEFORE_TABLE : UINT64_MAX);
    }
  if (by_table)
    {
      if (!k->table_ready || room > k->table_room)
        {
          sw_status status = fill_table (k, room);
          if (status != SW_OK)
            return status;
        }
      read_table (k, room, best);
    }
  *count = read_cuts (k, cuts);
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
sw_knapsack_more (sw_knapsack *k, int64_t room, int64_t floor, size_t most, sw_cut *cuts, sw_pattern_fn fn, void *data)
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
      if (!fn (cuts, read_cuts (k, cuts), k->ranked[r].value, data))
        return SW_OK;
    }
  return SW_OK;
}

/* ---- All of them ----------------------------------------------------------------- */

typedef struct listing
{
  thing *things;
  size_t count;
  int64_t *taken;
  sw_cut *cuts;
  int64_t floor;
  uint64_t *steps;
  sw_pattern_fn fn;
  void *data;
  /* ahead[at * (room + 1) + left]: the most that things from `at` on add; NULL: too large to keep */
  int64_t *ahead;
  size_t cells;
} listing;

/* Most cells of such a table. */
#define AHEAD_MAX_CELLS 16000000

/* Fill the table from the last thing back, so that only branches which lead
 * to a listed set are gone down.  O(room * copies of all things). */
static void
look_ahead (listing *l, int64_t room)
{
  l->cells = (size_t)room + 1;
  if (room >= AHEAD_MAX_CELLS || (l->count + 1) * l->cells > AHEAD_MAX_CELLS)
    return;
  l->ahead = sw_alloc ((l->count + 1) * l->cells, sizeof *l->ahead);
  for (size_t at = l->count; l->ahead != NULL && at-- > 0;)
    {
      const thing *t = &l->things[at];
      int64_t *now = &l->ahead[at * l->cells], *then = now + l->cells;
      for (int64_t left = 0; left <= room; left++)
        {
          int64_t best = then[left];
          for (int64_t k = 1; k <= t->most && k * t->size <= left; k++)
            if (then[left - k * t->size] + k * t->value > best)
              best = then[left - k * t->size] + k * t->value;
          now[left] = best;
        }
    }
}

/* Can things from AT on still bring VALUE up to the floor? */
static bool
may_reach (const listing *l, size_t at, int64_t left, int64_t value)
{
  if (l->ahead != NULL)
    return value + l->ahead[at * l->cells + (size_t)left] >= l->floor;
  return at_most (value, left, l->things[at].worth) >= (double)l->floor;
}

/* Nothing that is still needed fits in LEFT. */
static bool
is_maximal (const listing *l, int64_t left)
{
  for (size_t i = 0; i < l->count; i++)
    if (l->things[i].size <= left && l->taken[i] < l->things[i].most)
      return false;
  return true;
}

static bool
hand_out (listing *l, int64_t left, int64_t value)
{
  if (value < l->floor || !is_maximal (l, left))
    return true;
  uint32_t count = 0;
  for (size_t i = 0; i < l->count; i++)
    if (l->taken[i] > 0)
      l->cuts[count++] = (sw_cut){ .need = l->things[i].need, .copies = (uint32_t)l->taken[i] };
  if (count == 0)
    return true;
  qsort (l->cuts, count, sizeof *l->cuts, by_need);
  return l->fn (l->cuts, count, value, l->data);
}

static bool
list_from (listing *l, int64_t room)
{
  size_t at = 0;
  int64_t left = room, value = 0;
  for (;;)
    {
      bool cut_off = false;
      while (at < l->count)
        {
          const thing *t = &l->things[at];
          if (left < t->least_size)
            break;
          if (!may_reach (l, at, left, value))
            {
              cut_off = true;
              break;
            }
          int64_t copies = left / t->size;
          if (copies > t->most)
            copies = t->most;
          l->taken[at] = copies;
          left -= copies * t->size;
          value += copies * t->value;
          at++;
        }
      if (!cut_off)
        {
          memset (l->taken + at, 0, (l->count - at) * sizeof *l->taken);
          if (!hand_out (l, left, value))
            return false;
        }
      while (at > 0 && l->taken[at - 1] == 0)
        at--;
      if (at == 0)
        return true;
      l->taken[at - 1]--;
      left += l->things[at - 1].size;
      value -= l->things[at - 1].value;
      if (*l->steps == 0)
        return false;
      --*l->steps;
    }
}

sw_status
sw_knapsack_each (const sw_model *model, size_t group, const int64_t *value, int64_t room, int64_t floor,
                  uint64_t *steps, sw_pattern_fn fn, void *data)
{
  const sw_group *g = &model->groups[group];
  listing l = { .floor = floor, .steps = steps, .fn = fn, .data = data };
  l.things = sw_alloc (g->need_count, sizeof *l.things);
  l.taken = sw_alloc (g->need_count, sizeof *l.taken);
  l.cuts = sw_alloc (g->need_count, sizeof *l.cuts);
  sw_status status = SW_NO_MEMORY;
  if (l.things && l.taken && l.cuts)
    {
      for (size_t n = g->need_first; n < g->need_first + g->need_count; n++)
        if (model->needs[n].most > 0 && model->needs[n].size <= room)
          {
            int64_t v = value[n] > 0 ? value[n] : 0;
            l.things[l.count++] = (thing){ .size = model->needs[n].size,
                                           .value = v,
                                           .most = model->needs[n].most,
                                           .worth = worth_of (v, model->needs[n].size),
                                           .need = (uint32_t)n };
          }
      sort_things (l.things, l.count);
      look_ahead (&l, room);
      status = list_from (&l, room) ? SW_OK : SW_STOPPED;
      free (l.ahead);
    }
  free (l.things);
  free (l.taken);
  free (l.cuts);
  return status;
}
