/* ends.c - how the ends of a piece are sawn, as a word
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout/ends.h"

#include "job/corner.h"
#include "layout/take.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

bool
sw_ends_of (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t from, size_t to,
            char out[SW_ENDS_TEXT])
{
  static const char sides[] = "soi"; /* by sw_side */
  const sw_run *run = &job->fence.runs[stretch->run];
  const sw_end *start = level->through && from == stretch->first ? &run->bays[from].start : NULL;
  const sw_end *finish = level->through && to == stretch->last ? &run->bays[to - 1].finish : NULL;
  const int32_t start_saw = start != NULL ? sw_end_saw_setting (start) : 0;
  const int32_t finish_saw = finish != NULL ? sw_end_saw_setting (finish) : 0;
  sw_length span = 0, rise = 0;
  for (size_t b = from; b < to; b++)
    {
      span += run->bays[b].span;
      rise += run->bays[b].rise;
    }
  out[0] = '\0';
  if (start_saw == 0 && finish_saw == 0 && rise == 0)
    return false;
  snprintf (out, SW_ENDS_TEXT, "%" PRId32 "%c %" PRId32 "%c %" PRId32 "%c", start_saw,
            start_saw != 0 ? sides[sw_corner_long_side (start)] : 's', finish_saw,
            finish_saw != 0 ? sides[sw_corner_long_side (finish)] : 's', sw_take_plumb (span, rise),
            rise == 0 ? 'l' : rise < 0 ? 'f' : 'r');
  return true;
}

size_t
sw_ends_kept (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t from, size_t to,
              sw_length cut, sw_length take)
{
  char ends[SW_ENDS_TEXT] = "";
  if (!job->on_hand.given)
    return 0;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const sw_stock *row = &job->stocks.items[s];
      if (row->ends == NULL || row->section != level->section || row->cut != cut || row->take != take)
        continue;
      if (ends[0] == '\0' && !sw_ends_of (job, level, stretch, from, to, ends))
        return 0;
      if (strcmp (row->ends, ends) == 0)
        return s + 1;
    }
  return 0;
}
