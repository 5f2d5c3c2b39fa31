/* strip_sweep.c - one sweep over the posts of a strip
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/strip_parts.h"

#include <string.h>

/* A decision at one post. */
typedef struct move
{
  size_t to; /* the state that follows */
  sw_wide cost;
  int64_t aligned;
  uint32_t count;
  int32_t options[SW_LEVELS];
} move;

/* The level below or above level R that is laid out already, or NULL. */
static const sw_beside *
beside (const sw_sweep *w, uint32_t r, bool above)
{
  if (above)
    return r + 1 == w->strip->level_count ? w->above : NULL;
  return r == 0 ? w->below : NULL;
}

/* Are the levels beside level R against a piece that ends at POST and has so many BAYS?  *ALIGNED grows by the number
 * of those that its join at POST lines up with. */
static bool
clashes (const sw_sweep *w, uint32_t r, uint32_t post, uint32_t bays, int64_t *aligned)
{
  for (int above = 0; above < 2; above++)
    {
      const sw_beside *b = beside (w, r, above == 1);
      if (b == NULL)
        continue;
      if (bays == post && bays != w->strip->bays && (bays < b->least || bays > b->most))
        return true;
      *aligned += b->joins[post];
    }
  return false;
}

/* Is the pair of levels LEVEL and LEVEL + 1 out of turn when the levels of JOINS join at POST? */
static bool
out_of_turn (const sw_sweep *w, uint32_t level, const uint32_t *open, uint32_t post, uint32_t joins)
{
  uint32_t longer = (level + w->turn) % 2 == 0 ? level : level + 1;
  uint32_t shorter = longer == level ? level + 1 : level;
  bool ends_first = open[longer] + 1 == post && (joins >> longer & 1);
  return ends_first && open[shorter] + 1 == post && !(joins >> shorter & 1);
}

/* Make the move in which the levels of JOINS join (or end) at POST, from a state whose pieces have been open for OPEN
 * bays at the post before.  False: the move is not allowed. */
static bool
make_move (const sw_sweep *w, uint32_t post, const uint32_t *open, uint32_t joins, move *out)
{
  const sw_strip *strip = w->strip;
  const bool last = post == strip->bays, any_beside = w->below != NULL || w->above != NULL;
  out->to = 0;
  out->cost = 0;
  out->aligned = 0;
  out->count = 0;
  for (uint32_t r = 0; r < strip->level_count; r++)
    {
      const sw_strip_level *level = &strip->levels[r];
      if (w->alone >> r & 1)
        continue;
      uint32_t bays = open[r] + 1;
      if (!(joins >> r & 1))
        {
          if (bays >= level->reach)
            return false;
          out->to += bays * w->stride[r];
          continue;
        }
      int32_t option = level->at[(size_t)post * level->reach + bays - 1];
      if (option < 0 || (w->in_turn && bays == strip->bays)
          || (any_beside && clashes (w, r, post, bays, &out->aligned)))
        return false;
      out->cost += w->price[option];
      out->options[out->count++] = option;
    }
  if (last)
    return true;
  for (uint32_t r = 0; r + 1 < strip->level_count; r++)
    {
      if ((w->alone >> r & 3) != 0)
        continue;
      if ((joins >> r & 3) == 3 && w->model->stagger && sw_strip_counts (strip, post, r))
        out->aligned++;
      if (w->in_turn && sw_strip_turns (strip, r) && out_of_turn (w, r, open, post, joins))
        return false;
    }
  out->cost += out->aligned * w->aligned_weight;
  return true;
}

static void
open_of_state (const sw_sweep *w, size_t state, uint32_t *open)
{
  for (uint32_t r = 0; r < w->strip->level_count; r++)
    open[r] = w->alone >> r & 1 ? 0 : (uint32_t)(state / w->stride[r] % w->strip->levels[r].reach); /* NOLINT: over 0 */
}

static uint32_t
first_joins (const sw_sweep *w, uint32_t post, uint32_t all)
{
  return post == w->strip->bays ? all : 0;
}

/* May a first piece end at POST?  Then the long-and-short rule has to be checked there. */
static bool
first_pieces_end (const sw_sweep *w, uint32_t post)
{
  for (uint32_t r = 0; w->in_turn && r < w->strip->level_count; r++)
    if (!(w->alone >> r & 1) && post <= w->strip->levels[r].reach)
      return true;
  return false;
}

/* Go from the states FROM of the post before to those at POST, one decision at a time. */
static void
step (const sw_sweep *w, uint32_t post, const sw_wide *from, sw_wide *to)
{
  uint32_t all = (((uint32_t)1 << w->strip->level_count) - 1) & ~w->alone, open[SW_LEVELS];
  for (size_t s = 0; s < w->states; s++)
    to[s] = SW_STRIP_NONE;
  for (size_t s = 0; s < w->states; s++)
    {
      if (from[s] >= SW_STRIP_NONE)
        continue;
      open_of_state (w, s, open);
      for (uint32_t joins = first_joins (w, post, all); joins <= all; joins++)
        {
          move m;
          if ((joins & w->alone) != 0 || !make_move (w, post, open, joins, &m))
            continue;
          if (from[s] + m.cost < to[m.to])
            to[m.to] = from[s] + m.cost;
        }
    }
}

/* Level R decides at POST; the levels below have decided already.  Either its piece ends, the cheapest of those that
 * are open, or all its pieces stay open for one bay more. */
static void
step_level (const sw_sweep *w, uint32_t post, uint32_t r, sw_wide *ending, sw_wide *states)
{
  const sw_strip_level *level = &w->strip->levels[r];
  const size_t stride = w->stride[r];
  const bool last = post == w->strip->bays;
  const bool looks_down = r > 0 && !last && (w->alone >> (r - 1) & 3) == 0 && w->model->stagger
                          && sw_strip_counts (w->strip, post, r - 1);
  for (uint32_t d = 0; d < level->reach; d++)
    {
      int32_t option = d < post ? level->at[(size_t)post * level->reach + d] : -1;
      int64_t aligned = 0;
      bool allowed = option >= 0 && !clashes (w, r, post, d + 1, &aligned);
      ending[d] = allowed ? w->price[option] + aligned * w->aligned_weight : SW_STRIP_NONE;
    }
  for (size_t block = 0; block < w->states; block += stride * level->reach)
    for (size_t k = 0; k < stride; k++)
      {
        sw_wide *line = &states[block + k], best = SW_STRIP_NONE;
        for (uint32_t d = 0; d < level->reach; d++)
          if (line[d * stride] < SW_STRIP_NONE && ending[d] < SW_STRIP_NONE && line[d * stride] + ending[d] < best)
            best = line[d * stride] + ending[d];
        /* In the first states of a block the piece of the level below has just ended. */
        if (best < SW_STRIP_NONE && looks_down && k < w->stride[r - 1])
          best += w->aligned_weight;
        for (uint32_t d = level->reach - 1; d > 0; d--)
          line[d * stride] = last ? SW_STRIP_NONE : line[(d - 1) * stride];
        line[0] = best;
      }
}

void
sw_sweep_ahead (const sw_sweep *w, sw_strip_work *work)
{
  for (size_t s = 0; s < w->states; s++)
    work->ahead[s] = SW_STRIP_NONE;
  work->ahead[0] = 0;
  for (uint32_t post = 1; post <= w->strip->bays; post++)
    {
      const sw_wide *from = &work->ahead[(post - 1) * w->states];
      sw_wide *to = &work->ahead[post * w->states];
      if (first_pieces_end (w, post))
        {
          step (w, post, from, to);
          continue;
        }
      memcpy (to, from, w->states * sizeof *to);
      for (uint32_t r = 0; r < w->strip->level_count; r++)
        if (!(w->alone >> r & 1))
          step_level (w, post, r, work->ending, to);
    }
}

/* The next of the states that differ from OPEN only in the levels of JOINS; false: that was the last. */
static bool
next_open (const sw_sweep *w, uint32_t joins, uint32_t *open)
{
  for (uint32_t r = 0; r < w->strip->level_count; r++)
    if (joins >> r & 1)
      {
        if (++open[r] < w->strip->levels[r].reach)
          return true;
        open[r] = 0;
      }
  return false;
}

/* Find a move from the post before that gives *STATE at POST its value; *STATE becomes the state that it came from. */
static bool
step_back (const sw_sweep *w, const sw_strip_work *work, uint32_t post, size_t *state, move *m)
{
  const sw_wide *from = &work->ahead[(post - 1) * w->states];
  const sw_wide value = work->ahead[post * w->states + *state];
  uint32_t open[SW_LEVELS], joins = 0;
  open_of_state (w, *state, open);
  for (uint32_t r = 0; r < w->strip->level_count; r++)
    if (!(w->alone >> r & 1) && open[r] == 0)
      joins |= (uint32_t)1 << r;
    else if (!(w->alone >> r & 1))
      open[r]--;
  do
    {
      size_t before = 0;
      for (uint32_t r = 0; r < w->strip->level_count; r++)
        before += w->alone >> r & 1 ? 0 : open[r] * w->stride[r];
      if (from[before] >= SW_STRIP_NONE || !make_move (w, post, open, joins, m) || m->to != *state
          || from[before] + m->cost != value)
        continue;
      *state = before;
      return true;
    }
  while (next_open (w, joins, open));
  return false;
}

void
sw_sweep_trace (const sw_sweep *w, const sw_strip_work *work, uint8_t *used, int64_t *aligned)
{
  size_t state = 0;
  *aligned = 0;
  for (uint32_t post = w->strip->bays; post > 0; post--)
    {
      move m;
      if (!step_back (w, work, post, &state, &m))
        return;
      for (uint32_t i = 0; i < m.count; i++)
        used[m.options[i]] = 1;
      *aligned += m.aligned;
    }
}

void
sw_sweep_behind (const sw_sweep *w, sw_strip_work *work, sw_wide base, sw_wide *through)
{
  uint32_t all = (((uint32_t)1 << w->strip->level_count) - 1) & ~w->alone, open[SW_LEVELS];
  sw_wide *after = work->behind, *before = work->behind + w->states;
  for (size_t s = 0; s < w->states; s++)
    after[s] = SW_STRIP_NONE;
  after[0] = 0;
  for (uint32_t post = w->strip->bays; post > 0; post--)
    {
      const sw_wide *from = &work->ahead[(post - 1) * w->states];
      for (size_t s = 0; s < w->states; s++)
        {
          before[s] = SW_STRIP_NONE;
          if (from[s] >= SW_STRIP_NONE)
            continue;
          open_of_state (w, s, open);
          for (uint32_t joins = first_joins (w, post, all); joins <= all; joins++)
            {
              move m;
              if ((joins & w->alone) != 0 || !make_move (w, post, open, joins, &m) || after[m.to] >= SW_STRIP_NONE)
                continue;
              sw_wide rest = m.cost + after[m.to], sum = from[s] + rest + base;
              if (rest < before[s])
                before[s] = rest;
              for (uint32_t i = 0; i < m.count; i++)
                if (sum < through[m.options[i]])
                  through[m.options[i]] = sum;
            }
        }
      sw_wide *swap = after;
      after = before;
      before = swap;
    }
}
