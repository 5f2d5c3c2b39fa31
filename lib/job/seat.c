/* seat.c - how timber sits on its posts, seen from above
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/seat.h"

#include "job/corner.h"

static const sw_section *
section_of (const sw_job *job, const sw_level *level)
{
  return &job->sections.items[level->section];
}

sw_length
sw_seat_post_depth (const sw_job *job, sw_length post_width)
{
  return job->settings->post_depth > 0 ? job->settings->post_depth : post_width;
}

sw_length
sw_seat_check (const sw_job *job, const sw_level *level)
{
  if (!level->through || level->seat != SW_SEAT_LET_IN)
    return 0;
  return level->let_in > 0 ? level->let_in : section_of (job, level)->thickness;
}

sw_faces
sw_seat_faces (const sw_job *job, const sw_level *level, sw_length post_width)
{
  const sw_section *section = section_of (job, level);
  const sw_length half = sw_seat_post_depth (job, post_width) / 2;
  if (level->seat == SW_SEAT_TOP)
    return (sw_faces){ section->width / 2, -(section->width / 2) };
  const sw_length inner = half - sw_seat_check (job, level);
  return (sw_faces){ inner + section->thickness, inner };
}

sw_end_kind
sw_seat_end (const sw_level *level, sw_end_kind kind)
{
  bool needs_a_face = kind == SW_END_FACE || kind == SW_END_HOUSED;
  return needs_a_face && level->through && level->seat == SW_SEAT_TOP ? SW_END_FLUSH : kind;
}

sw_length
sw_seat_reach (const sw_job *job, const sw_level *level, const sw_end *end, sw_length post_width)
{
  if (end->kind == SW_END_MITRE)
    return sw_corner_reach (sw_seat_faces (job, level, post_width), end->angle);
  const sw_end here = { .kind = sw_seat_end (level, end->kind), .length = end->length };
  return sw_end_reach (&here, post_width);
}

sw_length
sw_seat_height (const sw_job *job, const sw_level *level)
{
  return sw_level_tall (level, &job->sections);
}

sw_length
sw_seat_sawn_through (const sw_job *job, const sw_level *level)
{
  const sw_section *section = section_of (job, level);
  return level->seat == SW_SEAT_TOP ? section->width : section->thickness;
}
