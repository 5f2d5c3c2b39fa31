/* pair_pricer.c - the most valuable board where some pairs of kinds exclude each other
 *
 * Depth first over the kinds, most valuable for their length first; the bound
 * is a table of the knapsack without the pairs, where it is small enough,
 * else value a unit of length.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/branch.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* Most cells of the table. */
#define MOST_CELLS 16000000

typedef struct thing
{
  int64_t size, value, most;
  double worth; /* value a unit of size, rounded up a hair */
  uint32_t kind;
} thing;

struct sw_pair_pricer
{
  size_t kinds;
  const sw_node *node;
  size_t count;
  thing *things;
  int64_t *taken, *best_taken;
  uint32_t *on; /* things on the board, in order */
  size_t on_count;
  uint8_t *seen; /* thing: a new board has it */
  sw_entry *entries;
  size_t turn;
  /* ahead[at * cells + left]: the most that things from `at` on add */
  size_t cells, ahead_capacity;
  int64_t *ahead;
  bool has_table;
};

sw_pair_pricer *
sw_pair_pricer_new (size_t kinds)
{
  sw_pair_pricer *p = sw_alloc (1, sizeof *p);
  if (p == NULL)
    return NULL;
  p->kinds = kinds;
  p->things = sw_alloc (kinds, sizeof *p->things);
  p->taken = sw_alloc (kinds, sizeof *p->taken);
  p->best_taken = sw_alloc (kinds, sizeof *p->best_taken);
  p->on = sw_alloc (kinds, sizeof *p->on);
  p->seen = sw_alloc (kinds, 1);
  p->entries = sw_alloc (kinds, sizeof *p->entries);
  if (p->things && p->taken && p->best_taken && p->on && p->seen && p->entries)
    return p;
  sw_pair_pricer_free (p);
  return NULL;
}

void
sw_pair_pricer_free (sw_pair_pricer *p)
{
  if (p == NULL)
    return;
  free (p->things);
  free (p->taken);
  free (p->best_taken);
  free (p->on);
  free (p->seen);
  free (p->entries);
  free (p->ahead);
  free (p);
}

static int
by_worth (const void *a, const void *b)
{
  const thing *x = a, *y = b;
  if (x->worth != y->worth)
    return x->worth > y->worth ? -1 : 1;
  if (x->size != y->size)
    return x->size > y->size ? -1 : 1;
  return x->kind < y->kind ? -1 : x->kind > y->kind;
}

/* The table from the last thing back: copies of one thing are looked at one by one, as there are few. */
static sw_status
look_ahead (sw_pair_pricer *p, int64_t room)
{
  p->has_table = false;
  if (room >= MOST_CELLS || (p->count + 1) * (size_t)(room + 1) > MOST_CELLS)
    return SW_OK;
  p->cells = (size_t)room + 1;
  sw_status status = sw_grow ((void **)&p->ahead, &p->ahead_capacity, (p->count + 1) * p->cells, sizeof *p->ahead);
  if (status != SW_OK)
    return status;
  memset (&p->ahead[p->count * p->cells], 0, p->cells * sizeof *p->ahead);
  for (size_t at = p->count; at-- > 0;)
    {
      const thing *t = &p->things[at];
      int64_t *now = &p->ahead[at * p->cells];
      const int64_t *then = now + p->cells;
      memcpy (now, then, p->cells * sizeof *now);
      for (int64_t k = 1; k <= t->most && k * t->size <= room; k++)
        for (int64_t left = k * t->size; left <= room; left++)
          {
            int64_t with = then[left - k * t->size] + k * t->value;
            if (with > now[left])
              now[left] = with;
          }
    }
  p->has_table = true;
  return SW_OK;
}

sw_status
sw_pair_pricer_load (sw_pair_pricer *p, const sw_node *node, const sw_kind *kinds, const int64_t *value, int64_t room)
{
  p->node = node;
  p->count = 0;
  for (size_t k = 0; k < p->kinds; k++)
    {
      int64_t most = node->demand[k];
      if (most <= 0 || value[k] <= 0 || kinds[k].size > room)
        continue;
      if (most > room / kinds[k].size)
        most = room / kinds[k].size;
      if (sw_node_apart (node, p->kinds, k, k))
        most = 1;
      p->things[p->count++] = (thing){ .size = kinds[k].size,
                                       .value = value[k],
                                       .most = most,
                                       .worth = (double)value[k] / (double)kinds[k].size * (1 + 1e-14),
                                       .kind = (uint32_t)k };
    }
  if (p->count > 0)
    qsort (p->things, p->count, sizeof *p->things, by_worth);
  p->turn += 37;
  return look_ahead (p, room);
}

/* Things from AT on cannot bring VALUE over THAN. */
static bool
hopeless (const sw_pair_pricer *p, size_t at, int64_t left, int64_t value, int64_t than)
{
  if (p->has_table)
    return value + p->ahead[at * p->cells + (size_t)left] <= than;
  return ((double)value + (double)left * p->things[at].worth) * (1 + 1e-15) + 1 <= (double)than;
}

/* How many of thing AT may lie with those on the board. */
static int64_t
most_of (const sw_pair_pricer *p, size_t at, int64_t left)
{
  const thing *t = &p->things[at];
  int64_t copies = left / t->size;
  if (copies > t->most)
    copies = t->most;
  for (size_t i = 0; i < p->on_count && copies > 0; i++)
    if (sw_node_apart (p->node, p->kinds, t->kind, p->things[p->on[i]].kind))
      copies = 0;
  return copies;
}

static int
by_need (const void *a, const void *b)
{
  const sw_entry *x = a, *y = b;
  return x->need < y->need ? -1 : x->need > y->need;
}

/* Hand out the board in TAKEN. */
static bool
hand_out (sw_pair_pricer *p, int64_t value, sw_pattern_fn fn, void *data)
{
  uint32_t count = 0;
  for (size_t i = 0; i < p->count; i++)
    if (p->taken[i] > 0)
      {
        p->seen[i] = 1;
        p->entries[count++] = (sw_entry){ .need = p->things[i].kind, .copies = (uint32_t)p->taken[i] };
      }
  qsort (p->entries, count, sizeof *p->entries, by_need);
  return fn (p->entries, count, value, data);
}

/* Depth first, most copies first.  SW_OK: *BEST is the most of all. */
static sw_status
search (sw_pair_pricer *p, int64_t room, int64_t floor, uint64_t *steps, int64_t *best, sw_pattern_fn fn, void *data)
{
  size_t at = 0;
  int64_t left = room, value = 0;
  *best = 0;
  p->on_count = 0;
  for (;;)
    {
      while (at < p->count && !hopeless (p, at, left, value, *best))
        {
          int64_t copies = most_of (p, at, left);
          p->taken[at] = copies;
          if (copies > 0)
            p->on[p->on_count++] = (uint32_t)at;
          left -= copies * p->things[at].size;
          value += copies * p->things[at].value;
          at++;
        }
      if (value > *best)
        {
          *best = value;
          memset (p->taken + at, 0, (p->count - at) * sizeof *p->taken);
          if (value > floor && !hand_out (p, value, fn, data))
            return SW_STOPPED;
        }
      /* up: one copy less of the last thing taken */
      if (p->on_count == 0)
        return SW_OK;
      at = p->on[p->on_count - 1];
      left += p->things[at].size;
      value -= p->things[at].value;
      if (--p->taken[at] == 0)
        p->on_count--;
      /* whatever came after it is off the board */
      at++;
      if (*steps == 0)
        return SW_STOPPED;
      --*steps;
    }
}

/* A board with thing FIRST and then what the table says, as far as pairs let it. */
static int64_t
fill_after (sw_pair_pricer *p, size_t first, int64_t room)
{
  int64_t left = room - p->things[first].size, value = p->things[first].value;
  memset (p->taken, 0, p->count * sizeof *p->taken);
  p->taken[first] = 1;
  p->on[0] = (uint32_t)first;
  p->on_count = 1;
  for (size_t at = 0; at < p->count; at++)
    {
      const thing *t = &p->things[at];
      const int64_t *now = &p->ahead[at * p->cells], *then = now + p->cells;
      int64_t copies = most_of (p, at, left);
      if (copies + (at == first) > t->most)
        copies--;
      while (copies > 0 && then[left - copies * t->size] + copies * t->value < now[left])
        copies--;
      if (copies <= 0)
        continue;
      p->taken[at] += copies;
      if (at != first)
        p->on[p->on_count++] = (uint32_t)at;
      left -= copies * t->size;
      value += copies * t->value;
    }
  return value;
}

sw_status
sw_pair_pricer_best (sw_pair_pricer *p, int64_t room, int64_t floor, size_t more, uint64_t *steps, int64_t *best,
                     sw_pattern_fn fn, void *data)
{
  memset (p->seen, 0, p->kinds);
  sw_status status = search (p, room, floor, steps, best, fn, data);
  if (status != SW_OK || *best <= floor || !p->has_table)
    return status;
  for (size_t i = 0; i < p->count && more > 0; i++)
    {
      size_t first = (i + p->turn) % p->count;
      if (p->seen[first] || p->things[first].size > room)
        continue;
      int64_t value = fill_after (p, first, room);
      if (value <= floor)
        continue;
      more--;
      if (!hand_out (p, value, fn, data))
        return SW_STOPPED;
    }
  return SW_OK;
}
