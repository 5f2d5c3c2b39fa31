/* pair_pricer.c - the most valuable board where some pairs of kinds exclude each other
 *
 * The search goes depth first over the kinds, those worth most for their
 * length first.  Its bound is a table of the knapsack without the pairs where
 * that is small enough, else value a unit of length.  The table also tells
 * which boards can be filled as far as is asked for.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/pair_pricer.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "price/things.h"

struct sw_pair_pricer
{
  size_t kinds;
  const uint8_t *apart;
  size_t count;
  sw_thing *things;
  int64_t *taken;
  uint32_t *on; /* things on the board, in order */
  size_t on_count;
  uint8_t *seen; /* for each thing: whether a new board has it */
  sw_entry *entries;
  size_t turn;    /* lets each call begin with another thing */
  int64_t waste;  /* a board may have so much left */
  sw_ahead ahead; /* table of the knapsack without the pairs */
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
  p->on = sw_alloc (kinds, sizeof *p->on);
  p->seen = sw_alloc (kinds, 1);
  p->entries = sw_alloc (kinds, sizeof *p->entries);
  if (p->things && p->taken && p->on && p->seen && p->entries)
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
  free (p->on);
  free (p->seen);
  free (p->entries);
  free (p->ahead.value);
  free (p);
}

sw_status
sw_pair_pricer_load (sw_pair_pricer *p, const sw_model *model, const uint8_t *apart, const int64_t *value, int64_t room,
                     int64_t waste)
{
  p->apart = apart;
  p->count = 0;
  p->waste = waste;
  for (size_t k = 0; k < model->need_count; k++)
    {
      const int64_t size = model->needs[k].size;
      int64_t most = model->needs[k].demand;
      /* What is worth nothing can still fill a board. */
      if (most <= 0 || (value[k] <= 0 && waste >= room) || size > room)
        continue;
      if (most > room / size)
        most = room / size;
      if (sw_apart (apart, p->kinds, k, k))
        most = 1;
      p->things[p->count++] = sw_thing_of (model, k, value[k], most);
    }
  sw_things_sort (p->things, p->count);
  sw_status status = sw_ahead_fill (&p->ahead, p->things, p->count, room, waste, NULL);
  if (p->ahead.ready)
    return status;
  p->waste = room;
  while (p->count > 0 && p->things[p->count - 1].value == 0)
    p->count--;
  return status;
}

/* How many of thing AT may lie with the things on the board. */
static int64_t
most_of (const sw_pair_pricer *p, size_t at, int64_t left)
{
  const sw_thing *t = &p->things[at];
  int64_t copies = left / t->size;
  if (copies > t->most)
    copies = t->most;
  for (size_t i = 0; i < p->on_count && copies > 0; i++)
    if (sw_apart (p->apart, p->kinds, t->need, p->things[p->on[i]].need))
      copies = 0;
  return copies;
}

/* Hand the board in TAKEN to the caller. */
static bool
hand_out (sw_pair_pricer *p, int64_t value, sw_pattern_fn fn, void *data)
{
  for (size_t i = 0; i < p->count; i++)
    p->seen[i] = p->seen[i] || p->taken[i] > 0;
  return fn (p->entries, sw_things_entries (p->things, p->count, p->taken, p->entries), value, data);
}

/* Search depth first, with most copies first.  SW_OK: no board is worth more than *BEST. */
static sw_status
search (sw_pair_pricer *p, int64_t room, int64_t floor, uint64_t *steps, int64_t *best, sw_pattern_fn fn, void *data)
{
  size_t at = 0;
  int64_t left = room, value = 0;
  *best = 0;
  p->on_count = 0;
  for (;;)
    {
      while (at < p->count && !sw_things_fall_short (p->things, at, &p->ahead, left, value, *best))
        {
          int64_t copies = most_of (p, at, left);
          p->taken[at] = copies;
          if (copies > 0)
            p->on[p->on_count++] = (uint32_t)at;
          left -= copies * p->things[at].size;
          value += copies * p->things[at].value;
          at++;
        }
      if (value > *best && left <= p->waste)
        {
          *best = value;
          memset (p->taken + at, 0, (p->count - at) * sizeof *p->taken);
          if (value > floor && !hand_out (p, value, fn, data))
            return SW_STOPPED;
        }
      /* up: take one copy less of the thing that was taken last */
      if (p->on_count == 0)
        return SW_OK;
      at = p->on[p->on_count - 1];
      left += p->things[at].size;
      value -= p->things[at].value;
      if (--p->taken[at] == 0)
        p->on_count--;
      /* this takes off the board whatever came after it */
      at++;
      if (*steps == 0)
        return SW_STOPPED;
      --*steps;
    }
}

/* Make a board of thing FIRST and of what the table says for the rest, as far as the pairs allow it.  Returns its
 * value, 0 where too much is left. */
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
      const sw_thing *t = &p->things[at];
      const int64_t *now = &p->ahead.value[at * p->ahead.cells], *then = now + p->ahead.cells;
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
  return left <= p->waste ? value : 0;
}

sw_status
sw_pair_pricer_best (sw_pair_pricer *p, int64_t room, int64_t floor, size_t more, uint64_t *steps, int64_t *best,
                     sw_pattern_fn fn, void *data)
{
  memset (p->seen, 0, p->kinds);
  sw_status status = search (p, room, floor, steps, best, fn, data);
  if (status != SW_OK || *best <= floor || !p->ahead.ready)
    return status;
  for (size_t i = 0; i < p->count && more > 0; i++)
    {
      const size_t first = p->turn++ % p->count;
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
