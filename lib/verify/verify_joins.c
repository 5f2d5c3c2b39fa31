/* verify_joins.c - checks that joins are staggered and that first pieces go long and short in turn
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "verify/verify.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* The number of aligned pairs that a remark shows.  It also says how many there are. */
#define SHOWN_PAIRS 4

/* The known places of one level of one run. */
typedef struct sw_slice
{
  sw_place **places;
  size_t count;
} sw_slice;

/* What one level has on one stretch. */
typedef struct sw_first
{
  const sw_place *place; /* the first piece; NULL when it is missing */
  size_t bays;
  size_t joins;
} sw_first;

typedef struct sw_pairs
{
  int64_t count;
  int64_t fixed;    /* pairs of which both are in their places */
  int64_t turns;    /* pairs of levels out of turn for what is in its place */
  sw_text shown;
} sw_pairs;

/* The through levels of one run, bottom to top.  A level that is not on the run does not part its neighbours. */
typedef struct sw_stack
{
  sw_slice *slices;
  size_t count;
} sw_stack;

static bool
begins_on_join (const sw_run *run, const sw_place *place)
{
  return place->from > 0 && !sw_verify_breaks (run, place->from);
}

static void
add_pair (sw_verifier *verifier, sw_pairs *pairs, const sw_place *lower, const sw_place *upper)
{
  const sw_job *job = verifier->job;
  const char *run = job->fence.runs[upper->run].name;
  const char *below = job->levels.items[lower->level].name;
  const char *above = job->levels.items[upper->level].name;
  verifier->verdict->aligned++;
  if (job->settings->stagger == SW_STAGGER_REQUIRE)
    SW_VERIFY_FAULT (verifier, &verifier->fit, upper->row, SW_FIT_FROM,
                     "join on post %zu of run %s lines up with that of level %s (line %zu): stagger is \"require\"",
                     upper->from + 1, run, below, sw_listing_line (&verifier->fit, lower->row));
  else if (pairs->count++ < SHOWN_PAIRS)
    sw_text_printf (&pairs->shown, "%s run %s post %zu (%s, %s)", pairs->count > 1 ? ";" : "", run, upper->from + 1,
                    below, above);
}

/* Find the pairs of joins on one post of RUN, of two neighbouring through levels. */
static void
find_aligned (sw_verifier *verifier, const sw_run *run, const sw_slice *lower, const sw_slice *upper, sw_pairs *pairs)
{
  size_t i = 0;
  size_t j = 0;
  while (i < lower->count && j < upper->count)
    {
      const sw_place *a = lower->places[i];
      const sw_place *b = upper->places[j];
      if (a->from == b->from && begins_on_join (run, a))
        {
          if (run->posts[a->from].join == SW_JOIN_ALWAYS)
            verifier->verdict->always++;
          else if (sw_verify_stays_joined (verifier, a->run, a->level, a->from)
                   && sw_verify_stays_joined (verifier, b->run, b->level, b->from))
            pairs->fixed++;
          else
            add_pair (verifier, pairs, a, b);
        }
      if (a->from <= b->from)
        i++;
      if (b->from <= a->from)
        j++;
    }
}

/* The first piece of SLICE and the number of its joins, on the stretch from post FIRST to LAST. */
static sw_first
look_at_stretch (const sw_slice *slice, size_t first, size_t last)
{
  sw_first found = { NULL, 0, 0 };
  size_t low = 0;
  size_t high = slice->count;
  while (low < high)
    {
      size_t middle = low + (high - low) / 2;
      if (slice->places[middle]->from < first)
        low = middle + 1;
      else
        high = middle;
    }
  for (; low < slice->count && slice->places[low]->from < last; low++)
    if (slice->places[low]->from > first)
      found.joins++;
    else if (found.place == NULL)
      {
        found.place = slice->places[low];
        found.bays = found.place->to - found.place->from;
      }
  return found;
}

/* Which way the turn of one stretch goes, as far as that is decided. */
typedef struct sw_turning
{
  bool decided;
  bool odd_longer;
} sw_turning;

/* UPPER, on level T + 1 of the stack, against LOWER below it: false when they go the other way than those before. */
static bool
goes_on (sw_turning *turning, const sw_first *lower, const sw_first *upper, size_t t)
{
  const bool longer = (lower->bays > upper->bays) == (t % 2 == 0);
  if (turning->decided)
    return longer == turning->odd_longer;
  turning->decided = true;
  turning->odd_longer = longer;
  return true;
}

/* b1 >= b2 <= b3 ... or b1 <= b2 >= b3 ...; a pair with a level that has no
 * join is free.  Pairs that are both in their places are looked at last and
 * only counted; so is one beside what is fixed, which may leave no other way. */
static void
check_turn (sw_verifier *verifier, const sw_stack *stack, size_t first, size_t last, sw_pairs *pairs)
{
  sw_turning turning = { false, false };
  for (int fixed = 0; fixed < 2; fixed++)
    {
      sw_first lower = look_at_stretch (&stack->slices[0], first, last);
      for (size_t t = 0; t + 1 < stack->count; t++)
        {
          const sw_first upper = look_at_stretch (&stack->slices[t + 1], first, last);
          const sw_first below = lower;
          lower = upper;
          if (below.joins == 0 || upper.joins == 0 || below.place == NULL || upper.place == NULL
              || below.bays == upper.bays)
            continue;
          const size_t run = upper.place->run;
          const bool both = below.place->fixed != NULL && upper.place->fixed != NULL;
          if (both != (fixed == 1) || goes_on (&turning, &below, &upper, t))
            continue;
          if (both || sw_verify_any_fixed (verifier, run, below.place->level, first, last)
              || sw_verify_any_fixed (verifier, run, upper.place->level, first, last))
            {
              pairs->turns++;
              continue;
            }
          SW_VERIFY_FAULT (verifier, &verifier->fit, upper.place->row, SW_FIT_TO,
                           "the first piece is %zu %s, that of level %s below is %zu: first pieces should be long "
                           "and short in turn up the fence (run %s from post %zu): turn is \"keep\"",
                           upper.bays, upper.bays == 1 ? "bay" : "bays",
                           verifier->job->levels.items[below.place->level].name, below.bays,
                           verifier->job->fence.runs[run].name, first + 1);
          return;
        }
    }
}

static void
check_run (sw_verifier *verifier, const sw_run *run, const sw_stack *stack, sw_pairs *pairs)
{
  for (size_t t = 0; t < stack->count; t++)
    for (size_t i = 0; i < stack->slices[t].count; i++)
      verifier->verdict->joins += begins_on_join (run, stack->slices[t].places[i]);
  if (verifier->job->settings->stagger == SW_STAGGER_OFF)
    return;
  for (size_t t = 0; t + 1 < stack->count; t++)
    find_aligned (verifier, run, &stack->slices[t], &stack->slices[t + 1], pairs);
  if (verifier->job->settings->turn == SW_TURN_OFF || stack->count < 2)
    return;
  size_t first = 0;
  for (size_t post = 1; post <= run->bay_count; post++)
    if (post == run->bay_count || sw_verify_breaks (run, post))
      {
        if (!run->bays[first].opening)
          check_turn (verifier, stack, first, post, pairs);
        first = post;
      }
}

/* Sort the places of run R, which begin at *AT, by the run's through levels.  *AT moves on to the
 * places of the next run. */
static void
stack_levels (const sw_verifier *verifier, size_t r, size_t *at, sw_stack *stack)
{
  sw_place **const placed = verifier->placed;
  stack->count = 0;
  for (size_t t = 0; t < verifier->through_count; t++)
    {
      const size_t level = verifier->through[t];
      if (!sw_level_is_on (&verifier->job->levels.items[level], r))
        continue;
      while (*at < verifier->placed_count && placed[*at]->run == r && placed[*at]->level < level)
        ++*at;
      sw_slice *slice = &stack->slices[stack->count++];
      *slice = (sw_slice){ placed + *at, 0 };
      for (; *at < verifier->placed_count && placed[*at]->run == r && placed[*at]->level == level; ++*at)
        slice->count++;
    }
  while (*at < verifier->placed_count && placed[*at]->run == r)
    ++*at;
}

/* Note which joins line up, apart from those that the job itself asks for. */
static void
note_pairs (sw_verifier *verifier, const sw_pairs *pairs)
{
  const int64_t always = verifier->verdict->always;
  const char *of_always = always == 1 ? "pair" : "pairs";
  sw_text apart = { 0 };
  if (always > 0)
    sw_text_printf (&apart, "; plus %" PRId64 " %s at posts that are always joined", always, of_always);
  if (pairs->count > 0)
    sw_report_add (verifier->report, SW_NOTE, verifier->fit.file, 0, NULL, "%" PRId64 " %s of joins line up:%s%s%s",
                   pairs->count, pairs->count == 1 ? "pair" : "pairs",
                   pairs->shown.data != NULL ? pairs->shown.data : "", pairs->count > SHOWN_PAIRS ? " ..." : "",
                   apart.data != NULL ? apart.data : "");
  else if (always > 0)
    sw_report_add (verifier->report, SW_NOTE, verifier->fit.file, 0, NULL,
                   "%" PRId64 " %s of joins line up at posts that are always joined", always, of_always);
  if (pairs->fixed > 0)
    sw_report_add (verifier->report, SW_NOTE, verifier->fit.file, 0, NULL,
                   "%" PRId64 " %s of joins line up where both are fixed, and are not counted", pairs->fixed,
                   pairs->fixed == 1 ? "pair" : "pairs");
  if (pairs->turns > 0)
    sw_report_add (verifier->report, SW_NOTE, verifier->fit.file, 0, NULL,
                   "%" PRId64 " %s of levels %s not long and short in turn for what is fixed", pairs->turns,
                   pairs->turns == 1 ? "pair" : "pairs", pairs->turns == 1 ? "is" : "are");
  sw_text_drop (&apart);
}

sw_status
sw_verify_joins (sw_verifier *verifier)
{
  const sw_job *job = verifier->job;
  sw_pairs pairs = { 0 };
  sw_stack stack = { .slices = sw_alloc (verifier->through_count, sizeof *stack.slices) };
  if (stack.slices == NULL)
    return SW_NO_MEMORY;
  size_t at = 0;
  for (size_t r = 0; r < job->fence.run_count && verifier->through_count > 0; r++)
    {
      stack_levels (verifier, r, &at, &stack);
      check_run (verifier, &job->fence.runs[r], &stack, &pairs);
    }
  free (stack.slices);
  note_pairs (verifier, &pairs);
  sw_text_drop (&pairs.shown);
  return SW_OK;
}
