/* knapsack_each.c - every pattern that is worth enough, one after another
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/knapsack.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "price/things.h"
#include "model/tuning.h"

typedef struct listing
{
  sw_thing *things;
  size_t count;
  int64_t *taken;
  sw_entry *entries;
  int64_t floor;
  uint64_t *steps;
  uint64_t looks; /* things looked at since the last look at the watch */
  sw_watch *watch;
  sw_pattern_fn fn;
  void *data;
  sw_ahead ahead;
} listing;

/* Can things from AT on still bring VALUE up to the floor? */
static bool
may_reach (const listing *l, size_t at, int64_t left, int64_t value)
{
  if (l->ahead.ready)
    return value + l->ahead.value[at * l->ahead.cells + (size_t)left] >= l->floor;
  return sw_thing_at_most (value, left, l->things[at].worth) >= (double)l->floor;
}

/* Does no piece that is still needed fit into LEFT? */
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
      l->entries[count++] = (sw_entry){ .need = l->things[i].need, .copies = (uint32_t)l->taken[i] };
  if (count == 0)
    return true;
  qsort (l->entries, count, sizeof *l->entries, sw_entries_by_need);
  return l->fn (l->entries, count, value, l->data);
}

/* Count MORE looks at things, look at the watch now and then, and tell whether there is time left. */
static bool
has_time (listing *l, size_t more)
{
  l->looks += more;
  if (l->watch == NULL || l->looks < SW_QUICK_MOVES)
    return true;
  l->looks = 0;
  return !sw_watch_stop (l->watch);
}

static bool
list_from (listing *l, int64_t room)
{
  size_t at = 0;
  int64_t left = room, value = 0;
  for (;;)
    {
      bool cut_off = false;
      const size_t from = at;
      while (at < l->count)
        {
          const sw_thing *t = &l->things[at];
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
      size_t looked = at - from + 1;
      if (!cut_off)
        {
          looked += l->count;
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
      if (*l->steps == 0 || !has_time (l, looked))
        return false;
      --*l->steps;
    }
}

sw_status
sw_knapsack_each (const sw_model *model, size_t section, const int64_t *value, int64_t room, int64_t floor,
                  uint64_t *steps, sw_watch *watch, sw_pattern_fn fn, void *data)
{
  const sw_model_section *g = &model->sections[section];
  listing l = { .floor = floor, .steps = steps, .watch = watch, .fn = fn, .data = data };
  l.things = sw_alloc (g->need_count, sizeof *l.things);
  l.taken = sw_alloc (g->need_count, sizeof *l.taken);
  l.entries = sw_alloc (g->need_count, sizeof *l.entries);
  sw_status status = SW_NO_MEMORY;
  if (l.things && l.taken && l.entries)
    {
      for (size_t n = g->need_first; n < g->need_first + g->need_count; n++)
        if (model->needs[n].most > 0 && model->needs[n].size <= room)
          {
            int64_t v = value[n] > 0 ? value[n] : 0;
            l.things[l.count++] = (sw_thing){ .size = model->needs[n].size,
                                              .value = v,
                                              .most = model->needs[n].most,
                                              .worth = sw_thing_worth (v, model->needs[n].size),
                                              .need = (uint32_t)n };
          }
      sw_things_sort (l.things, l.count);
      status = sw_ahead_fill (&l.ahead, l.things, l.count, room, room, watch);
      if (status == SW_OK)
        status = list_from (&l, room) ? SW_OK : SW_STOPPED;
      free (l.ahead.value);
    }
  free (l.things);
  free (l.taken);
  free (l.entries);
  return status;
}
