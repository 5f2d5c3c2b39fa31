/* layout_cut.c - where a piece begins and finishes, how long it is cut, and what it takes of its board
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout/layout_build.h"

#include "layout/take.h"

sw_length
sw_layout_sum (sw_length a, sw_length b)
{
  sw_length sum;
  if (sw_length_add (a, b, &sum))
    return sum;
  return a > 0 ? INT64_MAX : INT64_MIN;
}

sw_length
sw_layout_bay_length (const sw_bay *bay)
{
  return sw_bay_on_slope (bay, bay->span);
}

sw_length
sw_layout_start_offset (const sw_job *job, const sw_level *level, const sw_run *run, size_t post)
{
  const sw_bay *bay = &run->bays[post];
  return -sw_bay_on_slope (bay, sw_seat_reach (job, level, &bay->start, run->posts[post].width));
}

sw_length
sw_layout_finish_offset (const sw_job *job, const sw_level *level, const sw_run *run, size_t post)
{
  const sw_bay *bay = &run->bays[post - 1];
  return sw_bay_on_slope (bay, sw_seat_reach (job, level, &bay->finish, run->posts[post].width));
}

sw_length
sw_layout_rounded (const sw_job *job, sw_length position)
{
  const sw_length step = sw_settings_round (job->settings);
  if (step == 0 || position > INT64_MAX - step || position < INT64_MIN + step)
    return position;
  sw_length rest = position % step;
  if (rest < 0)
    rest += step;
  return 2 * rest >= step ? position - rest + step : position - rest;
}

sw_length
sw_layout_starts_at (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t post, sw_length along)
{
  const sw_run *run = &job->fence.runs[stretch->run];
  return sw_layout_rounded (
      job, post == stretch->first ? sw_layout_sum (along, sw_layout_start_offset (job, level, run, post)) : along);
}

sw_length
sw_layout_finishes_at (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t post,
                       sw_length along)
{
  const sw_run *run = &job->fence.runs[stretch->run];
  return sw_layout_rounded (
      job, post == stretch->last ? sw_layout_sum (along, sw_layout_finish_offset (job, level, run, post)) : along);
}

sw_length
sw_layout_cut (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t from, size_t to)
{
  const sw_run *run = &job->fence.runs[stretch->run];
  sw_length along = 0;
  for (size_t b = 0; b < from; b++)
    along = sw_layout_sum (along, sw_layout_bay_length (&run->bays[b]));
  const sw_length start = sw_layout_starts_at (job, level, stretch, from, along);
  for (size_t b = from; b < to; b++)
    along = sw_layout_sum (along, sw_layout_bay_length (&run->bays[b]));
  sw_length cut;
  return sw_length_sub (sw_layout_finishes_at (job, level, stretch, to, along), start, &cut) ? cut : INT64_MAX;
}

sw_length
sw_layout_take (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t from, size_t to,
                sw_length cut)
{
  const sw_run *run = &job->fence.runs[stretch->run];
  sw_sawn_piece piece = { .cut = cut,
                          .width = job->sections.items[level->section].width,
                          .finish = to == stretch->last ? &run->bays[to - 1].finish : NULL };
  for (size_t b = from; b < to; b++)
    {
      piece.span += run->bays[b].span;
      piece.rise += run->bays[b].rise;
    }
  return sw_take (&piece, job->settings->kerf);
}

sw_length
sw_layout_between_cut (const sw_job *job, const sw_level *level, const sw_run *run, size_t bay)
{
  /* It is rounded as in sw_span_of_clear, so that a measured opening comes back unchanged. */
  const sw_length posts = run->posts[bay].width + run->posts[bay + 1].width;
  const sw_length clear = run->bays[bay].span - (posts + 1) / 2;
  const sw_length step = sw_settings_round (job->settings);
  sw_length cut;
  if (!sw_length_sub (sw_bay_on_slope (&run->bays[bay], clear), level->gap, &cut))
    return 0;
  return step > 0 && cut > 0 ? cut / step * step : cut;
}

sw_length
sw_layout_between_take (const sw_job *job, const sw_level *level, const sw_run *run, size_t bay, sw_length cut)
{
  const sw_sawn_piece piece = { .cut = cut,
                                .width = job->sections.items[level->section].width,
                                .span = run->bays[bay].span,
                                .rise = run->bays[bay].rise };
  return sw_take (&piece, job->settings->kerf);
}
