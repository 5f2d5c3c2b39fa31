/* strip_by_level.c - a strip laid out level by level, where even two levels are too many for the exact method
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/strip_parts.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

typedef struct stack
{
  const sw_strip_task *task;
  sw_wide *ahead;  /* for each post: the least sum up to it */
  int32_t *last;   /* for each post: the option that ends there in that sum */
  uint8_t *joined; /* for each post: whether the level below joins there */
  /* The fewest and the most bays of the first piece; a piece as long as the whole level is exempt. */
  uint32_t least, most;
} stack;

static bool
may_begin (const stack *s, uint32_t post, uint32_t bays)
{
  return post != bays || post == s->task->strip->bays || (bays >= s->least && bays <= s->most);
}

/* The least sum that ends at POST.  A join there lines up with the level below and costs PAIR more. */
static void
end_at (stack *s, const sw_strip_level *level, uint32_t post, sw_wide pair)
{
  s->ahead[post] = SW_STRIP_NONE;
  for (uint32_t d = 1; d <= level->reach && d <= post; d++)
    {
      int32_t o = level->at[(size_t)post * level->reach + d - 1];
      if (o < 0 || s->ahead[post - d] >= SW_STRIP_NONE || !may_begin (s, post, d))
        continue;
      sw_wide sum = s->ahead[post - d] + s->task->price[o] + pair;
      if (sum >= s->ahead[post])
        continue;
      s->ahead[post] = sum;
      s->last[post] = o;
    }
}

/* Mark the level's options in USED and the posts where it joins; returns the bays of its first piece. */
static uint32_t
walk_back (stack *s, uint8_t *used)
{
  const uint32_t bays = s->task->strip->bays;
  uint32_t first = bays;
  memset (s->joined, 0, bays + 1);
  for (uint32_t post = bays; post > 0;)
    {
      const int32_t o = s->last[post];
      used[o] = 1;
      first = post;
      post = s->task->model->options[o].from;
      s->joined[post] = post > 0;
    }
  return first;
}

/* Set the limits for the first piece of the next level, above one whose first piece has FIRST bays. */
static void
take_turns (stack *s, uint32_t first, bool below_is_longer)
{
  const bool whole = first == s->task->strip->bays;
  s->least = whole || below_is_longer ? 0 : first;
  s->most = whole || !below_is_longer ? UINT32_MAX : first;
}

static sw_status
stack_levels (stack *s, unsigned turn, uint8_t *used, sw_wide *value)
{
  const sw_strip *strip = s->task->strip;
  *value = 0;
  s->ahead[0] = 0;
  s->most = UINT32_MAX;
  for (uint32_t r = 0; r < strip->level_count; r++)
    {
      const sw_strip_level *level = &strip->levels[r];
      for (uint32_t post = 1; post <= strip->bays; post++)
        end_at (s, level, post, s->joined[post] && sw_strip_counts (strip, post, r - 1) ? s->task->aligned_weight : 0);
      if (s->ahead[strip->bays] >= SW_STRIP_NONE)
        return SW_NO_PLAN;
      *value += s->ahead[strip->bays];
      memset (&used[level->option_first], 0, level->option_count);
      uint32_t first = walk_back (s, used);
      if (s->task->model->turn && r + 1 < strip->level_count)
        take_turns (s, sw_strip_turns (strip, r) ? first : strip->bays, (r + turn) % 2 == 0);
    }
  return SW_OK;
}

sw_status
sw_strip_level_by_level (const sw_strip_task *task, unsigned turn, uint8_t *used, sw_wide *value)
{
  const size_t posts = (size_t)task->strip->bays + 1;
  stack s = { .task = task };
  s.ahead = sw_alloc (posts, sizeof *s.ahead);
  s.last = sw_alloc (posts, sizeof *s.last);
  s.joined = sw_alloc (posts, 1);
  sw_status status = SW_NO_MEMORY;
  if (s.ahead != NULL && s.last != NULL && s.joined != NULL)
    status = stack_levels (&s, turn, used, value);
  free (s.ahead);
  free (s.last);
  free (s.joined);
  return status;
}
