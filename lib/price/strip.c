/* strip.c - the best layout of one strip for given prices
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/strip_parts.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/tuning.h"

struct sw_strip_work
{
  /* ahead[p * states + s]: least cost from the first post to state s after post p */
  sw_wide *ahead;
  size_t ahead_capacity;
  /* behind[s]: least cost from state s after the present post to the end; two posts' worth */
  sw_wide *behind;
  size_t behind_capacity;
  uint8_t *trial; /* used options of the best sweep so far */
  size_t trial_capacity;
  sw_wide *ending; /* ending[d]: a level's piece that ends at the present post and is d + 1 bays long */
  size_t ending_capacity;
};

/* One sweep: levels in `alone` are a single piece each; the others have a join. */
typedef struct sweep
{
  const sw_model *model;
  const sw_strip *strip;
  const int64_t *price;
  sw_wide aligned_weight;
  uint32_t held_levels; /* a bit a level: it keeps to the options of HELD */
  const uint8_t *held;
  bool in_turn;   /* the long-and-short rule is on */
  unsigned turn;  /* 0: the lowest level is a long one; 1: a short one */
  uint32_t alone; /* bit set of levels */
  size_t states;
  size_t stride[SW_LEVELS];
} sweep;

/* A decision at one post. */
typedef struct move
{
  size_t to; /* state after it */
  sw_wide cost;
  int64_t aligned;
  uint32_t count;
  int32_t options[SW_LEVELS];
} move;

sw_strip_work *
sw_strip_work_new (void)
{
  return sw_alloc (1, sizeof (sw_strip_work));
}

void
sw_strip_work_free (sw_strip_work *work)
{
  if (work == NULL)
    return;
  free (work->ahead);
  free (work->behind);
  free (work->trial);
  free (work->ending);
  free (work);
}

size_t
sw_strip_states (const sw_strip *strip)
{
  size_t states = 1;
  if (strip->level_count > SW_LEVELS)
    return SW_STATES + 1;
  for (uint32_t r = 0; r < strip->level_count; r++)
    {
      states *= strip->levels[r].reach;
      if (states << strip->level_count > (size_t)SW_STATES << 3 || states > SW_STATES)
        return SW_STATES + 1;
    }
  return states;
}

int32_t
sw_strip_whole (const sw_strip *strip, uint32_t level)
{
  const sw_strip_level *r = &strip->levels[level];
  return strip->bays <= r->reach ? r->at[(size_t)strip->bays * r->reach + strip->bays - 1] : -1;
}

/* What one strip of MODEL may take. */
static uint64_t
most_moves (const sw_model *model)
{
  const uint64_t each = model->strip_count > 0 ? 2 * SW_MOVES / model->strip_count : 2 * SW_MOVES;
  return each > SW_MOVES ? SW_MOVES : each < SW_STATES ? SW_STATES : each;
}

uint64_t
sw_strip_moves (const sw_model *model, const sw_strip *strip)
{
  size_t states = sw_strip_states (strip);
  const uint64_t most = most_moves (model);
  bool in_turn = model->turn && strip->level_count > 1;
  if (states > SW_STATES || (uint64_t)states * (strip->bays + 1) > SW_CELLS)
    return UINT64_MAX;
  uint64_t moves = (uint64_t)strip->bays * (in_turn ? 2 : 1);
  for (uint32_t r = 0; r < strip->level_count; r++)
    {
      moves *= 2 * (uint64_t)strip->levels[r].reach + (in_turn && sw_strip_whole (strip, r) >= 0);
      if (moves > most)
        return UINT64_MAX;
    }
  return moves;
}

/* May level R be laid out with OPTION? */
static bool
is_free (const sweep *w, uint32_t r, int32_t option)
{
  return (w->held_levels >> r & 1) == 0 || w->held[option];
}

/* Does the pair of levels (LEVEL, LEVEL + 1) break the rule when the levels of JOINS join at POST? */
static bool
out_of_turn (const sweep *w, uint32_t level, const uint32_t *open, uint32_t post, uint32_t joins)
{
  uint32_t longer = (level + w->turn) % 2 == 0 ? level : level + 1;
  uint32_t shorter = longer == level ? level + 1 : level;
  bool ends_first = open[longer] + 1 == post && (joins >> longer & 1);
  return ends_first && open[shorter] + 1 == post && !(joins >> shorter & 1);
}

/* Rows of JOINS join (or end) at POST, coming from a state whose pieces have
 * been open for OPEN bays at the post before.  False: not allowed. */
static bool
make_move (const sweep *w, uint32_t post, const uint32_t *open, uint32_t joins, move *out)
{
  const sw_strip *strip = w->strip;
  bool last = post == strip->bays;
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
      if (option < 0 || (w->in_turn && bays == strip->bays) || !is_free (w, r, option))
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
open_of_state (const sweep *w, size_t state, uint32_t *open)
{
  for (uint32_t r = 0; r < w->strip->level_count; r++)
    open[r] = w->alone >> r & 1 ? 0 : (uint32_t)(state / w->stride[r] % w->strip->levels[r].reach); /* NOLINT: over 0 */
}

static uint32_t
first_joins (const sweep *w, uint32_t post, uint32_t all)
{
  return post == w->strip->bays ? all : 0;
}

/* May a first piece end at POST, so that the levels' turn is looked at there? */
static bool
first_pieces_end (const sweep *w, uint32_t post)
{
  for (uint32_t r = 0; w->in_turn && r < w->strip->level_count; r++)
    if (!(w->alone >> r & 1) && post <= w->strip->levels[r].reach)
      return true;
  return false;
}

/* From the states FROM of the post before to those at POST, all decisions one by one. */
static void
step (const sweep *w, uint32_t post, const sw_wide *from, sw_wide *to)
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

/* Row R decides at POST, those below it having done so: its piece ends, the
 * cheapest of those that are open, or all stay open for a bay more. */
static void
step_level (const sweep *w, uint32_t post, uint32_t r, sw_wide *ending, sw_wide *states)
{
  const sw_strip_level *level = &w->strip->levels[r];
  const size_t stride = w->stride[r];
  const bool last = post == w->strip->bays;
  const bool looks_down = r > 0 && !last && (w->alone >> (r - 1) & 3) == 0 && w->model->stagger
                          && sw_strip_counts (w->strip, post, r - 1);
  for (uint32_t d = 0; d < level->reach; d++)
    {
      int32_t option = d < post ? level->at[(size_t)post * level->reach + d] : -1;
      bool allowed = option >= 0 && is_free (w, r, option);
      ending[d] = allowed ? w->price[option] : SW_STRIP_NONE;
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

/* Fill work->ahead; the value at the end is in state 0 after the last post. */
static void
sweep_ahead (const sweep *w, sw_strip_work *work)
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

/* The next of the states that differ from OPEN in levels of JOINS only; false: it was the last. */
static bool
next_open (const sweep *w, uint32_t joins, uint32_t *open)
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

/* A move from the post before that makes the state *STATE at POST worth what it is; *STATE becomes where it came from.
 */
static bool
step_back (const sweep *w, const sw_strip_work *work, uint32_t post, size_t *state, move *m)
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

/* Walk back from the end over moves that reach the best value. */
static void
trace (const sweep *w, const sw_strip_work *work, uint8_t *used, int64_t *aligned)
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

/* The least sums through each option, by a sweep from the end; BASE is the price of the levels alone. */
static void
sweep_behind (const sweep *w, sw_strip_work *work, sw_wide base, sw_wide *through)
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

static sw_status
make_room (sw_strip_work *work, const sw_model *model, const sw_strip *strip, size_t states)
{
  sw_status status
      = sw_grow ((void **)&work->ahead, &work->ahead_capacity, (strip->bays + 1) * states, sizeof *work->ahead);
  if (status == SW_OK)
    status = sw_grow ((void **)&work->behind, &work->behind_capacity, 2 * states, sizeof *work->behind);
  if (status == SW_OK)
    status = sw_grow ((void **)&work->trial, &work->trial_capacity, model->option_count + 1, 1);
  for (uint32_t r = 0; r < strip->level_count && status == SW_OK; r++)
    status = sw_grow ((void **)&work->ending, &work->ending_capacity, strip->levels[r].reach, sizeof *work->ending);
  return status;
}

/* Mark, price and let through the levels that are one piece each. */
static sw_wide
price_alone (const sweep *w)
{
  sw_wide base = 0;
  for (uint32_t r = 0; r < w->strip->level_count; r++)
    if (w->alone >> r & 1)
      base += w->price[sw_strip_whole (w->strip, r)];
  return base;
}

typedef struct result
{
  sw_wide value;
  int64_t aligned;
  uint8_t *used;
  sw_wide *through;
} result;

static void
clear_used (const sw_strip *strip, uint8_t *used)
{
  for (uint32_t r = 0; r < strip->level_count; r++)
    memset (&used[strip->levels[r].option_first], 0, strip->levels[r].option_count);
}

static void
run_sweep (sweep *w, sw_strip_work *work, result *best)
{
  const sw_strip *strip = w->strip;
  w->states = 1;
  for (uint32_t r = 0; r < strip->level_count; r++)
    {
      w->stride[r] = w->states;
      if (!(w->alone >> r & 1))
        w->states *= strip->levels[r].reach;
    }
  sweep_ahead (w, work);
  sw_wide value = work->ahead[strip->bays * w->states];
  if (value >= SW_STRIP_NONE)
    return;
  sw_wide base = price_alone (w);
  if (best->through != NULL)
    {
      sweep_behind (w, work, base, best->through);
      for (uint32_t r = 0; r < strip->level_count; r++)
        if (w->alone >> r & 1)
          {
            sw_wide *sum = &best->through[sw_strip_whole (strip, r)];
            if (value + base < *sum)
              *sum = value + base;
          }
    }
  if (value + base >= best->value)
    return;
  best->value = value + base;
  clear_used (strip, work->trial);
  trace (w, work, work->trial, &best->aligned);
  for (uint32_t r = 0; r < strip->level_count; r++)
    if (w->alone >> r & 1)
      work->trial[sw_strip_whole (strip, r)] = 1;
}

/* Rows that may be one piece; *MUST: those that are, whatever is chosen. */
static uint32_t
rows_alone (const sw_strip_task *task, uint32_t *must)
{
  uint32_t can = 0;
  *must = 0;
  for (uint32_t r = 0; r < task->strip->level_count; r++)
    {
      int32_t whole = sw_strip_whole (task->strip, r);
      bool held = (task->held_levels >> r & 1) != 0;
      if (whole < 0 || (held && !task->held[whole]))
        continue;
      can |= (uint32_t)1 << r;
      if (held)
        *must |= (uint32_t)1 << r;
    }
  return can;
}

sw_status
sw_strip_solve (const sw_strip_task *task, sw_strip_work *work, sw_wide *value, int64_t *aligned, uint8_t *used,
                sw_wide *through)
{
  const sw_strip *strip = task->strip;
  if (sw_strip_moves (task->model, strip) == UINT64_MAX)
    return SW_USAGE;
  sw_status status = make_room (work, task->model, strip, sw_strip_states (strip));
  if (status != SW_OK)
    return status;
  if (through != NULL)
    for (uint32_t r = 0; r < strip->level_count; r++)
      for (size_t o = strip->levels[r].option_first; o < strip->levels[r].option_first + strip->levels[r].option_count;
           o++)
        through[o] = SW_STRIP_NONE;
  sweep w = { .model = task->model,
              .strip = strip,
              .price = task->price,
              .aligned_weight = task->aligned_weight,
              .held_levels = task->held_levels,
              .held = task->held };
  w.in_turn = task->model->turn && strip->level_count > 1;
  uint32_t must = 0, can = w.in_turn ? rows_alone (task, &must) : 0;
  result best = { .value = SW_STRIP_NONE, .through = through };
  for (uint32_t alone = must; alone <= can; alone++)
    {
      if ((alone & ~can) != 0 || (alone & must) != must)
        continue;
      for (unsigned turn = 0; turn < (w.in_turn ? 2U : 1U); turn++)
        {
          if (w.in_turn && !(task->turns >> turn & 1))
            continue;
          w.alone = alone;
          w.turn = turn;
          run_sweep (&w, work, &best);
        }
    }
  if (best.value >= SW_STRIP_NONE)
    return SW_NO_PLAN;
  if (value != NULL)
    *value = best.value;
  if (aligned != NULL)
    *aligned = best.aligned;
  if (used != NULL)
    for (uint32_t r = 0; r < strip->level_count; r++)
      memcpy (&used[strip->levels[r].option_first], &work->trial[strip->levels[r].option_first],
              strip->levels[r].option_count);
  return SW_OK;
}

bool
sw_strip_is_exact (const sw_model *model, size_t index)
{
  return sw_strip_moves (model, &model->strips[index]) != UINT64_MAX;
}

sw_status
sw_strip_best (const sw_model *model, size_t index, const int64_t *price, sw_wide aligned_weight, sw_strip_work *work,
               sw_wide *value, int64_t *aligned, uint8_t *used, sw_wide *through)
{
  sw_strip_task task = {
    .model = model, .strip = &model->strips[index], .price = price, .aligned_weight = aligned_weight, .turns = 3
  };
  return sw_strip_solve (&task, work, value, aligned, used, through);
}
