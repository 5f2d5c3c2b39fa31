/* cuts_saw.c - how the saw is set, in words
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/cuts.h"

#include "base/memory.h"
#include "view/figures.h"

#include <stdlib.h>
#include <string.h>

/* ---- The legend ------------------------------------------------------------- */

bool
sw_cuts_any (const sw_plan *plan, bool flat, bool mitred, bool raked)
{
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      const sw_piece *piece = &plan->pieces[p];
      if (sw_cuts_flat (plan->job, piece) == flat && (!mitred || piece->start_saw != 0 || piece->finish_saw != 0)
          && (!raked || piece->plumb != 0))
        return true;
    }
  return false;
}

bool
sw_cuts_mitred (const sw_plan *plan)
{
  return sw_cuts_any (plan, false, true, false) || sw_cuts_any (plan, true, true, false);
}

bool
sw_cuts_raked (const sw_plan *plan)
{
  return sw_cuts_any (plan, false, false, true) || sw_cuts_any (plan, true, false, true);
}

/* With the edges of a piece level on the bench, its plumb ends lean.  If the piece rises to the
 * right, they lean to the right at the top: the bottom corner stands out at the start, the top
 * corner at the finish.  The bisector of a corner is plumb, too, so that a mitre follows the same
 * line with the blade tilted. */
void
sw_cuts_angles (sw_text *out, const sw_plan *plan, size_t width)
{
  sw_text legend = { 0 };
  if (sw_cuts_mitred (plan))
    {
      sw_text_printf (
          &legend,
          "In front of a length: how its start is mitred, the end at the lower post number; behind it: its"
          " finish. The saw's setting off square, and outer or inner: the face that the long point is on%s.",
          sw_cuts_any (plan, true, true, false) ? " (of timber laid flat: the edge)" : "");
      sw_view_paragraph (out, &legend, 2, 2, width);
    }
  if (!sw_cuts_raked (plan))
    return;
  sw_text_printf (&legend,
                  "A piece that rises from its start to its finish has both ends cut plumb, so far off square: at the"
                  " start the bottom edge is long, at the finish the top edge%s. Where it falls, the other way round."
                  " Its length is along either edge; in brackets: what it takes of the board.",
                  sw_cuts_any (plan, true, false, true) ? " (of timber laid flat: underside and upper side)" : "");
  if (sw_cuts_any (plan, false, true, true))
    sw_text_add (&legend, " A mitre on it: saw along the plumb line with the blade tilted.");
  sw_view_paragraph (out, &legend, 2, 2, width);
}

/* ---- Short points ---------------------------------------------------------- */

/* A setting of the saw, and how far back a mitre's short point lies. */
typedef struct setting
{
  int32_t saw;
  sw_length back;     /* for level timber */
  sw_length steepest; /* for the steepest raked piece; 0: there is none */
} setting;

typedef struct settings
{
  size_t count;
  size_t room;
  setting *items;
} settings;

static int
by_saw (const void *a, const void *b)
{
  const setting *x = a;
  const setting *y = b;
  return x->saw < y->saw ? -1 : x->saw > y->saw ? 1 : 0;
}

/* How far THROUGH is along the slope of PIECE.  The bisector of a corner is plumb, so that the saw
 * goes through a raked piece on the slant. */
static sw_length
on_slope (const sw_job *job, const sw_piece *piece, sw_length through)
{
  sw_length span = 0;
  sw_length rise = 0;
  for (size_t b = piece->from; b < piece->to; b++)
    {
      span += job->fence.runs[piece->run].bays[b].span;
      rise += job->fence.runs[piece->run].bays[b].rise;
    }
  return sw_length_on_slope (through, span, rise);
}

static sw_status
note_setting (settings *found, const sw_job *job, const sw_piece *piece, int32_t saw, sw_length through)
{
  size_t s = 0;
  while (s < found->count && found->items[s].saw != saw)
    s++;
  if (s == found->count)
    {
      sw_status status = sw_grow ((void **)&found->items, &found->room, s + 1, sizeof *found->items);
      if (status != SW_OK)
        return status;
      found->items[found->count++] = (setting){ .saw = saw, .back = sw_corner_short_point (through, saw) };
    }
  if (piece->plumb == 0)
    return SW_OK;
  const sw_length back = sw_corner_short_point (on_slope (job, piece, through), saw);
  if (back > found->items[s].steepest)
    found->items[s].steepest = back;
  return SW_OK;
}

sw_status
sw_cuts_short_points (sw_text *out, const sw_plan *plan, size_t section, bool flat, size_t width)
{
  const sw_job *job = plan->job;
  sw_length through = flat ? job->sections.items[section].width : job->sections.items[section].thickness;
  settings found = { 0 };
  sw_status status = SW_OK;
  for (size_t p = 0; p < plan->piece_count && status == SW_OK; p++)
    {
      const sw_piece *piece = &plan->pieces[p];
      if (piece->section != section || sw_cuts_flat (job, piece) != flat)
        continue;
      if (piece->start_saw != 0)
        status = note_setting (&found, job, piece, piece->start_saw, through);
      if (piece->finish_saw != 0 && status == SW_OK)
        status = note_setting (&found, job, piece, piece->finish_saw, through);
    }
  if (status == SW_OK && found.count > 0)
    {
      char text[SW_LENGTH_TEXT];
      char slope[SW_LENGTH_TEXT];
      sw_text line = { 0 };
      qsort (found.items, found.count, sizeof *found.items, by_saw);
      sw_view_length (job, through, text);
      sw_text_printf (&line, "%s through the %s", flat ? "Laid flat: saw" : "Saw", flat ? "width" : "thickness");
      if (through > 0)
        sw_text_printf (&line, " (%s)", text);
      sw_text_add (&line, ".");
      for (size_t s = 0; s < found.count && through > 0; s++)
        {
          const setting *item = &found.items[s];
          sw_text_add (&line, s > 0 ? "; " : " ");
          sw_view_mitre (&line, item->saw, SW_SIDE_NONE);
          sw_view_length (job, item->back, text);
          sw_text_printf (&line, ": short point %s back", text);
          sw_view_length (job, item->steepest, slope);
          if (item->steepest > 0 && strcmp (text, slope) != 0)
            sw_text_printf (&line, ", on the slope up to %s", slope);
        }
      sw_view_paragraph (out, &line, 2, 4, width);
    }
  free (found.items);
  return status;
}
