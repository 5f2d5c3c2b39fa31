/* sheet_saw.c - how the saw is set for a piece, in words
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet_board.h"

#include "cuts.h"
#include "seat.h"

bool
sw_sheet_is_angled (const sw_piece *piece)
{
  return piece->start_saw != 0 || piece->finish_saw != 0 || piece->plumb != 0;
}

bool
sw_sheet_sawn_alike (const sw_job *job, const sw_piece *a, const sw_piece *b)
{
  return a->start_saw == b->start_saw && a->finish_saw == b->finish_saw && a->start_long == b->start_long
         && a->finish_long == b->finish_long && a->plumb == b->plumb && a->falls == b->falls
         && sw_cuts_flat (job, a) == sw_cuts_flat (job, b);
}

/* How far back the short point lies along the piece: a corner's cut stands
 * plumb, so timber that is raked is sawn through on the slant. */
static sw_length
short_point (const sw_job *job, const sw_piece *piece, int32_t saw)
{
  const sw_run *run = &job->fence.runs[piece->run];
  sw_length through = sw_seat_sawn_through (job, &job->levels.items[piece->level]);
  sw_length span = 0, rise = 0;
  for (size_t bay = piece->from; bay < piece->to; bay++)
    {
      span += run->bays[bay].span;
      rise += run->bays[bay].rise;
    }
  return sw_corner_short_point (sw_length_on_slope (through, span, rise), saw);
}

/* "saw 45° through the thickness, long point on the outer face, short point 38 back" */
static void
add_mitre (sw_text *out, const sw_job *job, const sw_piece *piece, int32_t saw, sw_side side)
{
  bool flat = sw_cuts_flat (job, piece);
  char angle[SW_VIEW_THOUSANDTHS], length[SW_LENGTH_TEXT];
  sw_view_thousandths (saw, angle);
  sw_text_printf (out, "saw %s\302\260 %s, long point on the %s %s", angle,
                  flat ? "across the width" : "through the thickness", side == SW_SIDE_INNER ? "inner" : "outer",
                  flat ? "edge" : "face");
  sw_length back = short_point (job, piece, saw);
  if (back == 0)
    return;
  sw_view_length (job, back, length);
  sw_text_printf (out, ", short point %s back", length);
}

void
sw_sheet_saw_words (sw_text *out, const sw_job *job, const sw_piece *piece)
{
  bool mitred = piece->start_saw != 0 || piece->finish_saw != 0;
  if (piece->plumb != 0)
    {
      sw_view_slope (out, piece);
      sw_text_printf (out, ", cut plumb %s%s", sw_cuts_flat (job, piece) ? "through the thickness" : "across the width",
                      mitred ? "; " : "");
    }
  if (piece->start_saw != 0 && piece->start_saw == piece->finish_saw && piece->start_long == piece->finish_long)
    {
      sw_text_add (out, "both ends ");
      add_mitre (out, job, piece, piece->start_saw, piece->start_long);
      return;
    }
  if (piece->start_saw != 0)
    {
      sw_text_add (out, "start ");
      add_mitre (out, job, piece, piece->start_saw, piece->start_long);
    }
  if (piece->finish_saw != 0)
    {
      sw_text_add (out, piece->start_saw != 0 ? "; finish " : "finish ");
      add_mitre (out, job, piece, piece->finish_saw, piece->finish_long);
    }
}
