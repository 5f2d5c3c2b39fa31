/* sheet_saw.c - how the saw is set for a piece, in words
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_board.h"

#include "view/cuts.h"
#include "base/decimal.h"
#include "job/seat.h"

bool
sw_sheet_is_angled (const sw_piece *piece)
{
  return piece->start_saw != 0 || piece->finish_saw != 0 || piece->plumb != 0;
}

/* Compare to a tenth of a degree, because no saw is set more closely than that.  Slopes that differ by less are told
 * apart by the short point of a mitre. */
static bool
plumb_alike (const sw_piece *a, const sw_piece *b)
{
  bool mitred = a->start_saw != 0 || a->finish_saw != 0;
  int64_t tenths = sw_decimal_round (a->plumb, 100);
  return a->plumb == b->plumb || (!mitred && tenths > 0 && tenths == sw_decimal_round (b->plumb, 100));
}

bool
sw_sheet_sawn_alike (const sw_job *job, const sw_piece *a, const sw_piece *b)
{
  return a->start_saw == b->start_saw && a->finish_saw == b->finish_saw && a->start_long == b->start_long
         && a->finish_long == b->finish_long && plumb_alike (a, b) && a->falls == b->falls
         && sw_cuts_flat (job, a) == sw_cuts_flat (job, b);
}

/* How far back the short point lies along the piece.  A corner's cut stands plumb, so timber that is raked is sawn
 * through on the slant. */
sw_length
sw_sheet_short_point (const sw_job *job, const sw_piece *piece, int32_t saw)
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

/* Write "saw 45° through the thickness, long point on the outer face, short point 38 back". */
static void
add_mitre (sw_text *out, const sw_job *job, const sw_piece *piece, int32_t saw, sw_side side)
{
  bool flat = sw_cuts_flat (job, piece);
  char angle[SW_VIEW_THOUSANDTHS], length[SW_LENGTH_TEXT];
  sw_view_thousandths (saw, angle);
  sw_text_printf (out, "saw %s\302\260 %s, long point on the %s %s", angle,
                  flat ? "across the width" : "through the thickness", side == SW_SIDE_INNER ? "inner" : "outer",
                  flat ? "edge" : "face");
  sw_length back = sw_sheet_short_point (job, piece, saw);
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

/* ---- The key ---- */

/* What has to be explained of the ends that are drawn of the plan's pieces. */
typedef struct explain
{
  bool angled;
  bool flat;
  bool leaning; /* some cut is plumb across the width */
  bool through; /* some cut comes out at another place on the other side */
} explain;

static explain
find_angles (const sw_plan *plan)
{
  explain found = { 0 };
  for (size_t i = 0; i < plan->piece_count; i++)
    {
      const sw_piece *piece = &plan->pieces[i];
      bool flat = sw_cuts_flat (plan->job, piece), mitred = piece->start_saw != 0 || piece->finish_saw != 0;
      found.angled = found.angled || sw_sheet_is_angled (piece);
      found.flat = found.flat || (flat && sw_sheet_is_angled (piece));
      found.leaning = found.leaning || (piece->plumb != 0 && !flat);
      found.through = found.through || (flat ? piece->plumb != 0 : mitred);
    }
  return found;
}

void
sw_sheet_saw_key (sw_sheet *sheet)
{
  explain found = find_angles (sheet->plan);
  if (!found.angled)
    return;
  sw_text key = { 0 };
  sw_text_printf (&key,
                  "Boards lie with the outer face up and the upper edge at the back%s; a piece's start is at its left. "
                  "Angles are off square.",
                  found.flat ? "; timber that is laid flat, the upper side up and the outer edge at the front" : "");
  if (found.through)
    sw_text_add (&key,
                 " Dashed: where a cut comes out on the side that lies down; dark: a sloping cut that is seen from "
                 "above.");
  if (found.leaning)
    sw_text_add (&key, " A plumb cut leans so that it stands upright in the fence.");
  double width = sheet->right - sheet->left;
  if (key.failed)
    sw_sheet_fail (sheet, SW_NO_MEMORY);
  else
    {
      sw_sheet_paragraph (sheet, SW_SHEET_BODY, sheet->left, sheet->y, width, key.data);
      sheet->y += sw_sheet_paragraph_height (sheet, SW_SHEET_BODY, width, key.data) + 4;
    }
  sw_text_drop (&key);
}
