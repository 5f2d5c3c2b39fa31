/* things.c - what the searches over one board share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/things.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/tuning.h"

static int
by_worth (const void *a, const void *b)
{
  const sw_thing *x = a, *y = b;
  if (x->worth != y->worth)
    return x->worth > y->worth ? -1 : 1;
  if (x->size != y->size)
    return x->size > y->size ? -1 : 1;
  return x->need < y->need ? -1 : x->need > y->need;
}

sw_thing
sw_thing_of (const sw_model *model, size_t n, int64_t value, int64_t most)
{
  const int64_t size = model->needs[n].size;
  return (sw_thing){ .size = size,
                     .value = value,
                     .most = most,
                     .worth = (double)value / (double)size * (1 + SW_HAIR),
                     .need = (uint32_t)n };
}

double
sw_thing_at_most (int64_t value, int64_t left, double worth)
{
  return ((double)value + (double)left * worth) * (1 + SW_HAIR);
}

void
sw_things_sort (sw_thing *things, size_t count)
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

static int
by_need (const void *a, const void *b)
{
  const sw_entry *x = a, *y = b;
  return x->need < y->need ? -1 : x->need > y->need;
}

uint32_t
sw_things_entries (const sw_thing *things, size_t count, const int64_t *taken, sw_entry *entries)
{
  uint32_t found = 0;
  for (size_t i = 0; i < count; i++)
    if (taken[i] > 0)
      entries[found++] = (sw_entry){ .need = things[i].need, .copies = (uint32_t)taken[i] };
  if (found > 1)
    qsort (entries, found, sizeof *entries, by_need);
  return found;
}

/* Copies of THING that a board with ROOM can hold. */
static int64_t
copies_in (const sw_thing *thing, int64_t room)
{
  const int64_t fit = room / thing->size;
  return fit < thing->most ? fit : thing->most;
}

/* Steps are counted beforehand, because the number of cells says little where there are very many copies. */
static bool
is_too_large (const sw_thing *things, size_t count, int64_t room)
{
  uint64_t steps = 0;
  if (room >= (int64_t)SW_CELLS || (count + 1) * ((size_t)room + 1) > (int64_t)SW_CELLS)
    return true;
  for (size_t i = 0; i < count && steps <= SW_AHEAD_MOVES; i++)
    /* This stays under 2^48, as there are no more cells than (int64_t)SW_CELLS. */
    steps += (uint64_t)(room + 1) * (uint64_t)(1 + copies_in (&things[i], room));
  return steps > SW_AHEAD_MOVES;
}

sw_status
sw_ahead_fill (sw_ahead *a, const sw_thing *things, size_t count, int64_t room, int64_t waste, sw_watch *watch)
{
  a->ready = false;
  if (is_too_large (things, count, room))
    return SW_OK;
  a->cells = (size_t)room + 1;
  sw_status status = sw_grow ((void **)&a->value, &a->capacity, (count + 1) * a->cells, sizeof *a->value);
  if (status != SW_OK)
    return status;
  for (int64_t left = 0; left <= room; left++)
    a->value[count * a->cells + (size_t)left] = left <= waste ? 0 : SW_AHEAD_NONE;
  for (size_t at = count; at-- > 0;)
    {
      const sw_thing *t = &things[at];
      int64_t *now = &a->value[at * a->cells];
      const int64_t *then = now + a->cells;
      if (watch != NULL && sw_watch_stop (watch))
        return SW_OK;
      memcpy (now, then, a->cells * sizeof *now);
      for (int64_t k = 1; k <= copies_in (t, room); k++)
        for (int64_t left = k * t->size; left <= room; left++)
          {
            const int64_t with = then[left - k * t->size] + k * t->value;
            if (with > now[left])
              now[left] = with;
          }
    }
  a->ready = true;
  return SW_OK;
}

bool
sw_things_fall_short (const sw_thing *things, size_t at, const sw_ahead *ahead, int64_t left, int64_t value,
                      int64_t than)
{
  if (ahead != NULL && ahead->ready)
    return value + ahead->value[at * ahead->cells + (size_t)left] <= than;
  /* Values are whole numbers. */
  return sw_thing_at_most (value, left, things[at].worth) < (double)than + 1;
}

bool
sw_walk_down (sw_walk *w, int64_t than)
{
  for (; w->at < w->count && w->left >= w->things[w->at].least_size; w->at++)
    {
      const sw_thing *t = &w->things[w->at];
      if (sw_things_fall_short (w->things, w->at, w->ahead, w->left, w->value, than))
        return false;
      const int64_t copies = copies_in (t, w->left);
      w->taken[w->at] = copies;
      w->left -= copies * t->size;
      w->value += copies * t->value;
    }
  return true;
}

bool
sw_walk_up (sw_walk *w)
{
  while (w->at > 0 && w->taken[w->at - 1] == 0)
    w->at--;
  if (w->at == 0)
    return false;
  w->taken[w->at - 1]--;
  w->left += w->things[w->at - 1].size;
  w->value -= w->things[w->at - 1].value;
  return true;
}
