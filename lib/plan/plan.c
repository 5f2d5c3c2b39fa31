/* plan.c - a plan's end, its summary, and what is left of its boards
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/plan.h"

#include <stdlib.h>

void
sw_plan_free (sw_plan *plan)
{
  if (plan == NULL)
    return;
  if (plan->boards != NULL)
    for (size_t b = 0; b < plan->board_count; b++)
      free (plan->boards[b].pieces);
  if (plan->pieces != NULL)
    for (size_t p = 0; p < plan->piece_count; p++)
      free (plan->pieces[p].label);
  free (plan->boards);
  free (plan->pieces);
  free (plan->aligned);
  free (plan->purchases);
  free (plan);
}

void
sw_plan_summary (const sw_plan *plan, sw_summary *out)
{
  *out = plan->summary;
}

sw_length
sw_board_left_after (const sw_plan *plan, const sw_board *board, size_t count)
{
  const sw_settings *settings = plan->job->settings;
  sw_length left = sw_job_usable (plan->job, &plan->job->stocks.items[board->stock]);
  for (size_t c = 0; c < count; c++)
    left -= plan->pieces[board->pieces[c]].take + settings->kerf;
  /* If the last piece ends with the board, its last cut takes no kerf, so that the sum may be below 0. */
  return left > 0 ? left : 0;
}

bool
sw_board_is_kept (const sw_plan *plan, const sw_board *board)
{
  return board->left > 0 && board->left >= plan->job->settings->keep;
}
