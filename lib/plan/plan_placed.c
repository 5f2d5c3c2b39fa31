/* plan_placed.c - what pieces that are in their places do to the rules
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/plan_pieces.h"

/* The first piece of LEVEL on the stretch, or NULL. */
static const sw_piece *
first_piece (const sw_plan *plan, const sw_stretch *stretch, size_t level)
{
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      const sw_piece *piece = &plan->pieces[p];
      if (piece->kind == SW_PIECE_THROUGH && piece->run == stretch->run && piece->level == level
          && piece->from == stretch->first)
        return piece;
    }
  return NULL;
}

/* Count the pairs of levels on STRETCH that are out of turn when the lowest level is long (TURN 0) or short: those of
 * which both pieces are in their places, and the others. */
static void
count_turns (const sw_plan *plan, const sw_layout *layout, const sw_stretch *stretch, unsigned turn, int64_t *placed,
             int64_t *others)
{
  const sw_piece *below = NULL;
  size_t rank = 0;
  *placed = *others = 0;
  for (size_t t = 0; t < layout->through_count; t++)
    {
      if (!sw_level_is_on (&plan->job->levels.items[layout->through[t]], stretch->run))
        continue;
      const sw_piece *piece = first_piece (plan, stretch, layout->through[t]);
      if (below != NULL && piece != NULL && below->to != stretch->last && piece->to != stretch->last)
        {
          const bool wrong = (rank - 1 + turn) % 2 == 0 ? below->to < piece->to : below->to > piece->to;
          *(below->placed && piece->placed ? placed : others) += wrong ? 1 : 0;
        }
      below = piece;
      rank++;
    }
}

/* Does a piece of LEVEL that is in its place begin or end at POST of RUN? */
static bool
joins_there (const sw_job *job, size_t run, size_t level, size_t post)
{
  size_t count;
  const sw_placed *placed = sw_in_place_of (&job->in_place, run, level, &count);
  for (size_t i = 0; i < count; i++)
    if (placed[i].from == post || placed[i].to == post)
      return true;
  return false;
}

static void
count_aligned (sw_plan *plan, const sw_layout *layout, const sw_stretch *stretch)
{
  const sw_job *job = plan->job;
  for (size_t post = stretch->first + 1; post < stretch->last; post++)
    {
      bool below = false;
      if (job->fence.runs[stretch->run].posts[post].join == SW_JOIN_ALWAYS)
        continue;
      for (size_t t = 0; t < layout->through_count; t++)
        {
          if (!sw_level_is_on (&job->levels.items[layout->through[t]], stretch->run))
            continue;
          const bool here = joins_there (job, stretch->run, layout->through[t], post);
          plan->placed_aligned += here && below ? 1 : 0;
          below = here;
        }
    }
}

void
sw_plan_count_placed (sw_plan *plan, const sw_layout *layout)
{
  const sw_settings *settings = plan->job->settings;
  plan->placed_aligned = plan->placed_turns = 0;
  if (plan->job->in_place.count == 0 || settings->stagger == SW_STAGGER_OFF)
    return;
  for (size_t s = 0; s < layout->stretch_count; s++)
    {
      int64_t placed[2], others[2];
      count_aligned (plan, layout, &layout->stretches[s]);
      for (unsigned turn = 0; turn < 2 && settings->turn == SW_TURN_KEEP; turn++)
        count_turns (plan, layout, &layout->stretches[s], turn, &placed[turn], &others[turn]);
      if (settings->turn != SW_TURN_KEEP)
        continue;
      /* The stretch has the turn that its open pieces keep. */
      const bool second = others[1] < others[0] || (others[1] == others[0] && placed[1] < placed[0]);
      plan->placed_turns += placed[second] + others[second];
    }
}
