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
  sw_walk walk;
  sw_entry *entries;
  int64_t floor;
  uint64_t *steps;
  uint64_t looks; /* things looked at since the last look at the watch */
  sw_watch *watch;
  sw_pattern_fn fn;
  void *data;
} listing;

/* Does no piece that is still needed fit into what is left? */
static bool
is_maximal (const sw_walk *w)
{
  for (size_t i = 0; i < w->count; i++)
    if (w->things[i].size <= w->left && w->taken[i] < w->things[i].most)
      return false;
  return true;
}

static bool
hand_out (listing *l)
{
  const sw_walk *w = &l->walk;
  memset (w->taken + w->at, 0, (w->count - w->at) * sizeof *w->taken);
  if (w->value < l->floor || !is_maximal (w))
    return true;
  const uint32_t count = sw_things_entries (w->things, w->count, w->taken, l->entries);
  return count == 0 || l->fn (l->entries, count, w->value, l->data);
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
list_all (listing *l)
{
  sw_walk *w = &l->walk;
  for (;;)
    {
      size_t looked = 1 - w->at;
      const bool reached = sw_walk_down (w, l->floor - 1);
      looked += w->at;
      if (reached)
        {
          looked += w->count;
          if (!hand_out (l))
            return false;
        }
      if (!sw_walk_up (w))
        return true;
      if (*l->steps == 0 || !has_time (l, looked))
        return false;
      --*l->steps;
    }
}

/* The needs of SECTION that fit into ROOM; those without value too. */
static size_t
load (const sw_model *model, size_t section, const int64_t *value, int64_t room, sw_thing *things)
{
  const sw_model_section *g = &model->sections[section];
  size_t count = 0;
  for (size_t n = g->need_first; n < g->need_first + g->need_count; n++)
    if (model->needs[n].most > 0 && model->needs[n].size <= room)
      things[count++] = sw_thing_of (model, n, value[n] > 0 ? value[n] : 0, model->needs[n].most);
  sw_things_sort (things, count);
  return count;
}

sw_status
sw_knapsack_each (const sw_model *model, size_t section, const int64_t *value, int64_t room, int64_t floor,
                  uint64_t *steps, sw_watch *watch, sw_pattern_fn fn, void *data)
{
  const size_t needs = model->sections[section].need_count;
  listing l = { .floor = floor, .steps = steps, .watch = watch, .fn = fn, .data = data };
  sw_ahead ahead = { 0 };
  sw_thing *things = sw_alloc (needs, sizeof *things);
  l.walk = (sw_walk){ .things = things, .ahead = &ahead, .left = room };
  l.walk.taken = sw_alloc (needs, sizeof *l.walk.taken);
  l.entries = sw_alloc (needs, sizeof *l.entries);
  sw_status status = things && l.walk.taken && l.entries ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    {
      l.walk.count = load (model, section, value, room, things);
      status = sw_ahead_fill (&ahead, things, l.walk.count, room, room, watch);
    }
  if (status == SW_OK)
    status = list_all (&l) ? SW_OK : SW_STOPPED;
  free (ahead.value);
  free (things);
  free (l.walk.taken);
  free (l.entries);
  return status;
}
