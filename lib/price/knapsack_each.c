/* knapsack_each.c - every set of cuts worth enough, one after another
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/knapsack_parts.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* ---- Things in order ------------------------------------------------------------ */

static int
by_worth (const void *a, const void *b)
{
  const sw_thing *x = a, *y = b;
  if (x->worth != y->worth)
    return x->worth > y->worth ? -1 : 1;
  if (x->size != y->size)
    return x->size > y->size ? -1 : 1;
  return x->need < y->need ? -1 : 1;
}

double
sw_thing_worth (int64_t value, int64_t size)
{
  return (double)value / (double)size * (1 + 1e-14);
}

/* What VALUE and LEFT units worth WORTH each come to at most: more by a hair than all that the arithmetic rounds off.
 */
double
sw_thing_at_most (int64_t value, int64_t left, double worth)
{
  return ((double)value + (double)left * worth) * (1 + 1e-15) + 1;
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

int
sw_cuts_by_need (const void *a, const void *b)
{
  const sw_entry *x = a, *y = b;
  return x->need < y->need ? -1 : x->need > y->need;
}

/* ---- All of them ----------------------------------------------------------------- */

typedef struct listing
{
  sw_thing *things;
  size_t count;
  int64_t *taken;
  sw_entry *entries;
  int64_t floor;
  uint64_t *steps;
  uint64_t looks; /* at things, since the watch was looked at */
  sw_watch *watch;
  sw_pattern_fn fn;
  void *data;
  /* ahead[at * (room + 1) + left]: the most that things from `at` on add; NULL: too large to keep */
  int64_t *ahead;
  size_t cells;
} listing;

/* Most cells of such a table, and most steps to fill it. */
#define AHEAD_MAX_CELLS 16000000
#define AHEAD_MAX_STEPS ((uint64_t)1 << 30)

/* Looks at things between two at the watch. */
#define LOOKS ((uint64_t)1 << 20)

/* Steps that look_ahead takes, at most: where there are very many copies the cells alone say little. */
static uint64_t
steps_ahead (const listing *l, int64_t room)
{
  uint64_t steps = 0;
  for (size_t i = 0; i < l->count && steps <= AHEAD_MAX_STEPS; i++)
    {
      const sw_thing *t = &l->things[i];
      const int64_t fit = room / t->size;
      /* Under 2^48: no more cells than AHEAD_MAX_CELLS. */
      steps += (uint64_t)l->cells * (uint64_t)(1 + (fit < t->most ? fit : t->most));
    }
  return steps;
}

/* Fill the table from the last sw_thing back, so that only branches which lead
 * to a listed set are gone down.  O(room * copies of all things). */
static void
look_ahead (listing *l, int64_t room)
{
  l->cells = (size_t)room + 1;
  if (room >= AHEAD_MAX_CELLS || (l->count + 1) * l->cells > AHEAD_MAX_CELLS || steps_ahead (l, room) > AHEAD_MAX_STEPS)
    return;
  l->ahead = sw_alloc ((l->count + 1) * l->cells, sizeof *l->ahead);
  for (size_t at = l->count; l->ahead != NULL && at-- > 0;)
    {
      const sw_thing *t = &l->things[at];
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
  return sw_thing_at_most (value, left, l->things[at].worth) >= (double)l->floor;
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
      l->entries[count++] = (sw_entry){ .need = l->things[i].need, .copies = (uint32_t)l->taken[i] };
  if (count == 0)
    return true;
  qsort (l->entries, count, sizeof *l->entries, sw_cuts_by_need);
  return l->fn (l->entries, count, value, l->data);
}

/* So many MORE things were looked at: is there time for others? */
static bool
has_time (listing *l, size_t more)
{
  l->looks += more;
  if (l->watch == NULL || l->looks < LOOKS)
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
      look_ahead (&l, room);
      status = list_from (&l, room) ? SW_OK : SW_STOPPED;
      free (l.ahead);
    }
  free (l.things);
  free (l.taken);
  free (l.entries);
  return status;
}
