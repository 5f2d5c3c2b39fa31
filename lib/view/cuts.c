/* cuts.c - the cut list as a table, and which boards and pieces are cut alike
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/cuts.h"

#include "csv/table.h"
#include "view/figures.h"

bool
sw_cuts_flat (const sw_job *job, const sw_piece *piece)
{
  return piece->level != SW_NONE && piece->kind != SW_PIECE_BLOCK && job->levels.items[piece->level].through
         && job->levels.items[piece->level].seat == SW_SEAT_TOP;
}

bool
sw_cuts_same (const sw_job *job, const sw_piece *a, const sw_piece *b)
{
  return a->cut == b->cut && a->take == b->take && a->start_saw == b->start_saw && a->finish_saw == b->finish_saw
         && a->start_long == b->start_long && a->finish_long == b->finish_long && a->plumb == b->plumb
         && a->falls == b->falls && sw_cuts_flat (job, a) == sw_cuts_flat (job, b);
}

static bool
same_cuts (const sw_plan *plan, const sw_board *a, const sw_board *b)
{
  if (a->stock != b->stock || a->hand != b->hand || a->timber != b->timber || a->piece_count != b->piece_count)
    return false;
  for (size_t c = 0; c < a->piece_count; c++)
    if (!sw_cuts_same (plan->job, &plan->pieces[a->pieces[c]], &plan->pieces[b->pieces[c]]))
      return false;
  return true;
}

size_t
sw_cuts_alike (const sw_plan *plan, size_t first)
{
  size_t count = 1;
  while (first + count < plan->board_count && same_cuts (plan, &plan->boards[first], &plan->boards[first + count]))
    count++;
  return count;
}

/* Is timber of SECTION used both on edge and laid flat? */
static bool
is_mixed (const sw_job *job, size_t section)
{
  bool flat = false;
  bool on_edge = false;
  for (size_t l = 0; l < job->levels.count; l++)
    {
      const sw_level *level = &job->levels.items[l];
      bool on_top = level->through && level->seat == SW_SEAT_TOP;
      flat = flat || (level->section == section && on_top);
      on_edge = on_edge || (level->section == section && !on_top);
    }
  return flat && on_edge;
}

void
sw_cuts_length (sw_text *out, const sw_plan *plan, const sw_piece *piece)
{
  char text[SW_LENGTH_TEXT];
  if (piece->start_saw != 0)
    {
      sw_view_mitre (out, piece->start_saw, piece->start_long);
      sw_text_add (out, " ");
    }
  sw_view_length (plan->job, piece->cut, text);
  sw_text_add (out, text);
  if (piece->finish_saw != 0)
    {
      sw_text_add (out, " ");
      sw_view_mitre (out, piece->finish_saw, piece->finish_long);
    }
  if (piece->plumb != 0)
    {
      sw_text_add (out, " ");
      sw_view_slope (out, piece);
    }
  if ((piece->start_saw != 0 || piece->finish_saw != 0 || piece->plumb != 0) && sw_cuts_flat (plan->job, piece)
      && is_mixed (plan->job, piece->section))
    sw_text_add (out, " flat");
  if (piece->plumb != 0)
    {
      sw_view_length (plan->job, piece->take, text);
      sw_text_printf (out, " (%s)", text);
    }
}

static sw_status
add_row (sw_table *table, const sw_plan *plan, size_t board, size_t cut, sw_length left)
{
  const sw_job *job = plan->job;
  const sw_board *from = &plan->boards[board];
  const sw_piece *piece = &plan->pieces[from->pieces[cut]];
  char saw[SW_VIEW_THOUSANDTHS];
  sw_status status = sw_table_add_row (table);
  sw_view_set_count (&status, table, SW_CUTS_BOARD, (int64_t)board + 1);
  sw_view_set_text (&status, table, SW_CUTS_SECTION, job->sections.items[piece->section].name);
  sw_view_set (&status, table, SW_CUTS_SOURCE, from->hand ? "hand" : "yard");
  sw_view_set_length (&status, table, SW_CUTS_LENGTH, job, job->stocks.items[from->stock].length);
  sw_view_set_count (&status, table, SW_CUTS_NUMBER, (int64_t)cut + 1);
  sw_view_set_text (&status, table, SW_CUTS_PIECE, piece->label);
  if (piece->run != SW_NONE)
    sw_view_set_text (&status, table, SW_CUTS_RUN, job->fence.runs[piece->run].name);
  if (piece->level != SW_NONE)
    sw_view_set_text (&status, table, SW_CUTS_LEVEL, job->levels.items[piece->level].name);
  if (piece->from != SW_NONE)
    sw_view_set_count (&status, table, SW_CUTS_FROM, (int64_t)piece->from + 1);
  if (piece->to != SW_NONE)
    sw_view_set_count (&status, table, SW_CUTS_TO, (int64_t)piece->to + 1);
  sw_view_set_length (&status, table, SW_CUTS_CUT, job, piece->cut);
  sw_view_saw_cell (piece->start_saw, saw);
  sw_view_set (&status, table, SW_CUTS_START_CUT, saw);
  sw_view_saw_cell (piece->finish_saw, saw);
  sw_view_set (&status, table, SW_CUTS_FINISH_CUT, saw);
  sw_view_set_length (&status, table, SW_CUTS_LEFT, job, left);
  sw_view_set_sawn (&status, table, SW_CUTS_PLUMB, job, piece);
  if (from->timber != NULL)
    sw_view_set_text (&status, table, SW_CUTS_TIMBER, from->timber->name);
  return status;
}

sw_status
sw_cuts_table (const sw_plan *plan, sw_table **out)
{
  sw_table *table = NULL;
  /* Only a plan that goes on from another says which timber it goes on with. */
  const size_t columns = SW_CUTS_COLUMNS - (plan->job->on_hand.given ? 0 : 1);
  sw_status status = sw_view_table (&table, plan->job, sw_cuts_columns, columns);
  for (size_t b = 0; b < plan->board_count && status == SW_OK; b++)
    {
      const sw_board *board = &plan->boards[b];
      /* The length left is counted down here.  A board may have hundreds of blocks, and
       * sw_board_left_after for each of them would be quadratic. */
      sw_length left = sw_board_left_after (plan, board, 0);
      for (size_t c = 0; c < board->piece_count && status == SW_OK; c++)
        {
          sw_length taken = plan->pieces[board->pieces[c]].take + plan->job->settings->kerf;
          left = taken < left ? left - taken : 0;
          status = add_row (table, plan, b, c, left);
        }
    }
  if (status == SW_OK)
    *out = table;
  else
    sw_table_free (table);
  return status;
}
