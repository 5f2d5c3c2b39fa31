/* watch.c - the watch over a solve: its time limit, its interruption, its progress
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/watch.h"

#include <time.h>

static int64_t
now (void)
{
  struct timespec t;
  if (clock_gettime (CLOCK_MONOTONIC, &t) != 0)
    return 0;
  return (int64_t)t.tv_sec * 1000 + t.tv_nsec / 1000000;
}

void
sw_watch_begin (sw_watch *clock, int64_t limit, const sw_limits *limits)
{
  *clock = (sw_watch){ .began = now (), .limit = limit, .limits = limits };
}

double
sw_watch_seconds (const sw_watch *clock)
{
  return (double)(now () - clock->began) / 1000;
}

int
sw_watch_left (const sw_watch *clock)
{
  if (clock->limit < 0)
    return INT32_MAX;
  int64_t left = clock->limit - (now () - clock->began);
  if (left <= 0)
    return 0;
  return left > INT32_MAX ? INT32_MAX : (int)left;
}

void
sw_watch_parts (sw_watch *clock, sw_part *parts, size_t count, double unit)
{
  clock->parts = parts;
  clock->part_count = count;
  clock->unit = unit;
}

void
sw_watch_note (sw_watch *clock, int64_t bound, bool has_plan, int64_t cost)
{
  if (clock->parts == NULL)
    return;
  sw_part *now = &clock->parts[clock->part];
  if (bound > now->bound)
    now->bound = bound;
  if (has_plan && (!now->has_plan || cost < now->cost))
    {
      now->has_plan = true;
      now->cost = cost;
    }
  sw_progress *shown = &clock->shown;
  shown->has_plan = true;
  shown->bound = shown->cost = 0;
  for (size_t i = 0; i < clock->part_count; i++)
    {
      shown->bound += (double)clock->parts[i].bound;
      shown->cost += (double)clock->parts[i].cost;
      shown->has_plan = shown->has_plan && clock->parts[i].has_plan;
    }
  shown->bound /= clock->unit;
  shown->cost = shown->has_plan ? shown->cost / clock->unit : 0;
}

void
sw_watch_seek (sw_watch *clock, sw_seeking seeking)
{
  clock->shown.seeking = seeking;
}

int64_t
sw_watch_bound (const sw_watch *clock)
{
  int64_t bound = 0;
  for (size_t i = 0; clock->parts != NULL && i < clock->part_count; i++)
    bound += clock->parts[i].bound;
  return bound;
}

bool
sw_watch_stop (sw_watch *clock)
{
  if (clock->stop != SW_GO_ON)
    return true;
  /* The callback learns the latest figures even when the time is up. */
  if (clock->limits != NULL && clock->limits->progress != NULL)
    {
      clock->shown.seconds = sw_watch_seconds (clock);
      clock->shown.seconds_left = clock->limit < 0 ? -1 : (double)sw_watch_left (clock) / 1000;
      if (!clock->limits->progress (&clock->shown, clock->limits->data))
        clock->stop = SW_STOP_CALLBACK;
    }
  if (clock->stop == SW_GO_ON && sw_watch_left (clock) == 0)
    clock->stop = SW_STOP_TIME;
  if (clock->stop == SW_GO_ON && clock->enough > 0 && sw_watch_bound (clock) >= clock->enough)
    clock->stop = SW_STOP_ENOUGH;
  return clock->stop != SW_GO_ON;
}
