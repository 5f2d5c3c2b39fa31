/* cuts_text.c - the cut list for the eye
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/cuts.h"

#include "base/memory.h"
#include "view/order.h"
#include "view/figures.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Does some section say what is docked off its boards? */
static bool
has_own_trim (const sw_job *job)
{
  for (size_t s = 0; s < job->sections.count; s++)
    if (job->sections.items[s].own_trim)
      return true;
  return false;
}

static void
add_legend (sw_text *out, const sw_plan *plan, size_t width)
{
  const sw_settings *settings = plan->job->settings;
  const bool mitres = sw_cuts_mitred (plan);
  char text[SW_LENGTH_TEXT];
  sw_text legend = { 0 };
  sw_view_length (plan->job, settings->kerf, text);
  sw_text_printf (&legend, "Lengths in %s%s, in the order of cutting; each cut takes %s%s.",
                  settings->inches ? "inches" : "mm", mitres ? " to the long point" : "", text,
                  mitres || sw_cuts_raked (plan) ? ", one at an angle more" : "");
  if (settings->end_trim > 0)
    {
      sw_view_length (plan->job, settings->end_trim, text);
      sw_text_printf (&legend, " Dock %s off both ends of every board%s.", text,
                      has_own_trim (plan->job) ? ", but where its section says otherwise" : "");
    }
  sw_text_add (&legend, " Below each length: the label to pencil on the piece.");
  sw_view_paragraph (out, &legend, 2, 2, width);
  sw_cuts_angles (out, plan, width);
}

/* Add a section's name, where its boards come from, and how its mitres are sawn. */
static sw_status
add_heading (sw_text *out, const sw_plan *plan, size_t section, bool hand, size_t width)
{
  sw_text line = { 0 };
  sw_order_title (&line, plan->job, section);
  sw_text_add (&line, hand ? ", from hand" : "");
  if (plan->job->sections.items[section].own_trim)
    {
      char trim[SW_LENGTH_TEXT];
      sw_view_length (plan->job, plan->job->sections.items[section].end_trim, trim);
      sw_text_printf (&line, " (dock %s off both ends of each)", trim);
    }
  sw_text_add (out, "\n");
  sw_view_paragraph (out, &line, 0, 2, width);
  sw_status status = sw_cuts_short_points (out, plan, section, false, width);
  return status == SW_OK ? sw_cuts_short_points (out, plan, section, true, width) : status;
}

sw_status
sw_cuts_text (const sw_plan *plan, size_t width, sw_text *out)
{
  const sw_job *job = plan->job;
  const size_t column = sw_cuts_label_column (job);
  const size_t begun = out->length;
  sw_status status = SW_OK;
  sw_text_add (out, "CUT LIST\n");
  add_legend (out, plan, width);
  if (job->settings->by == SW_BY_RUN && job->fence.run_count > 0)
    return sw_cuts_along (plan, begun, width, out);
  for (size_t first = 0; first < plan->board_count && status == SW_OK;)
    {
      const sw_board *board = &plan->boards[first];
      const sw_board *before = first > 0 ? board - 1 : NULL;
      const size_t room = sw_view_room (out, begun, SW_VIEW_LINES);
      if (room == 0)
        {
          sw_text rest = { 0 };
          sw_text_printf (&rest, "boards %zu to %zu", first + 1, plan->board_count);
          sw_view_left_out (out, &rest, "cuts", width);
          return SW_OK;
        }
      size_t count = sw_cuts_alike (plan, first);
      size_t section = job->stocks.items[board->stock].section;
      if (before == NULL || before->hand != board->hand || job->stocks.items[before->stock].section != section)
        status = add_heading (out, plan, section, board->hand, width);
      if (status == SW_OK)
        status = sw_cuts_group (out, plan, first, &count, column, room, width);
      first += count;
    }
  return status;
}
