/* fit_list.c - where each piece goes, as a list for paper
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/fit.h"

#include "view/cuts.h"
#include "view/figures.h"

#include <stdio.h>
#include <stdlib.h>

/* The columns of an end in the list, at least; of a board's number; and of what stands before the ends. */
#define END_WIDTH 14
#define BOARD_WIDTH 5
#define LENGTH_END 28

/* Add how one end of PIECE ends: "mitre 45° outer", "housed 33", "join". */
static void
add_end (sw_text *out, const sw_job *job, const sw_piece *piece, bool start)
{
  const sw_run *run = &job->fence.runs[piece->run];
  const sw_end *end = start ? &run->bays[piece->from].start : &run->bays[piece->to - 1].finish;
  /* The end of the piece, not of the run, counts: what lies on top of its posts has no housing. */
  const sw_end_kind kind = start ? piece->start_end : piece->finish_end;
  char text[SW_LENGTH_TEXT];
  sw_text_add (out, start ? sw_fit_start (piece) : sw_fit_finish (piece));
  if (piece->kind == SW_PIECE_THROUGH && kind == SW_END_MITRE)
    {
      sw_text_add (out, " ");
      sw_view_mitre (out, sw_end_saw_setting (end), start ? piece->start_long : piece->finish_long);
    }
  else if (piece->kind == SW_PIECE_THROUGH && (kind == SW_END_HOUSED || kind == SW_END_REACH))
    {
      sw_view_length (job, end->length, text);
      sw_text_printf (out, " %s", text);
    }
}

/* The cells of a piece's line after its length and board. */
typedef enum cell
{
  START,
  FINISH,
  SLOPE,
  CELLS
} cell;

static void
add_cell (sw_text *out, const sw_job *job, const sw_piece *piece, cell cell)
{
  if (cell != SLOPE)
    add_end (out, job, piece, cell == START);
  else if (piece->plumb != 0)
    sw_view_slope (out, piece);
}

/* Measure the columns of each cell for the pieces FIRST ... END - 1, with two between them.  0: the cell is empty. */
static bool
measure_cells (const sw_plan *plan, size_t first, size_t end, size_t columns[CELLS])
{
  columns[START] = columns[FINISH] = END_WIDTH;
  columns[SLOPE] = 0;
  for (size_t p = first; p < end; p++)
    for (int c = 0; c < CELLS; c++)
      {
        sw_text text = { 0 };
        add_cell (&text, plan->job, &plan->pieces[p], (cell)c);
        const size_t needed = text.length > 0 ? sw_text_width (text.data) + 2 : 0;
        const bool failed = text.failed;
        sw_text_drop (&text);
        if (failed)
          return false;
        columns[c] = needed > columns[c] ? needed : columns[c];
      }
  return true;
}

/* Add the ends of PIECE on a line of their own. */
static void
add_ends_below (sw_text *out, const sw_job *job, const sw_piece *piece, size_t width)
{
  sw_text ends = { 0 };
  add_end (&ends, job, piece, true);
  sw_text_add (&ends, " to ");
  add_end (&ends, job, piece, false);
  if (piece->plumb != 0)
    {
      sw_text_add (&ends, ", ");
      sw_view_slope (&ends, piece);
    }
  sw_view_paragraph (out, &ends, 6, 6, width);
}

static void
add_row_of_cells (sw_text *out, const sw_job *job, const sw_piece *piece, const size_t columns[CELLS])
{
  for (int c = 0; c < CELLS; c++)
    {
      sw_text cell_text = { 0 };
      if (columns[c] == 0)
        continue;
      add_cell (&cell_text, job, piece, (cell)c);
      char *shown = sw_view_take (out, &cell_text);
      if (shown == NULL)
        return;
      sw_view_soften (shown);
      sw_view_cell (out, shown, columns[c], false);
      free (shown);
    }
  char board[SW_LENGTH_TEXT];
  sw_view_board (piece, board);
  sw_text_printf (out, "%*s\n", BOARD_WIDTH, board);
}

/* Add the pieces FIRST ... END - 1, which are on one run and level. */
static void
add_level (sw_text *out, const sw_plan *plan, size_t first, size_t end, size_t width)
{
  static const char *const titles[CELLS] = { "start", "finish", "slope" };
  const sw_job *job = plan->job;
  const sw_level *level = &job->levels.items[plan->pieces[first].level];
  size_t columns[CELLS];
  sw_text heading = { 0 };
  sw_view_name (&heading, level->name);
  sw_text_add (&heading, " - ");
  sw_view_name (&heading, job->sections.items[plan->pieces[first].section].name);
  sw_fit_seat (&heading, job, level);
  sw_text_add (out, "\n");
  sw_view_paragraph (out, &heading, 2, 4, width);
  if (!measure_cells (plan, first, end, columns))
    {
      out->failed = true;
      return;
    }
  const bool narrow = width < LENGTH_END + columns[START] + columns[FINISH] + columns[SLOPE] + BOARD_WIDTH;
  sw_text_add (out, "    posts          length   ");
  for (int c = 0; c < CELLS && !narrow; c++)
    if (columns[c] > 0)
      sw_text_printf (out, "%-*s", (int)columns[c], titles[c]);
  sw_text_printf (out, "%*s\n", BOARD_WIDTH, "board");
  for (size_t p = first; p < end; p++)
    {
      const sw_piece *piece = &plan->pieces[p];
      char text[SW_LENGTH_TEXT];
      snprintf (text, sizeof text, "%zu-%zu", piece->from + 1, piece->to + 1);
      sw_text_printf (out, "    %-11s", text);
      sw_view_length (job, piece->cut, text);
      sw_text_printf (out, "%10s   ", text);
      if (!narrow)
        {
          add_row_of_cells (out, job, piece, columns);
          continue;
        }
      sw_view_board (piece, text);
      sw_text_printf (out, "%*s\n", BOARD_WIDTH, text);
      add_ends_below (out, job, piece, width);
    }
}

/* Explain the ends and slopes that the list has. */
static void
add_legend (sw_text *out, const sw_plan *plan, size_t width)
{
  sw_text legend = { 0 };
  sw_text_printf (&legend, "Lengths in %s. start: at the lower post number.",
                  plan->job->settings->inches ? "inches" : "mm");
  if (sw_cuts_mitred (plan))
    sw_text_printf (&legend, " outer, inner: the face of a mitre's long point%s.",
                    sw_cuts_any (plan, true, true, false) ? " (of timber laid flat: the edge)" : "");
  if (sw_cuts_raked (plan))
    sw_text_add (&legend, " rises, falls: from start to finish, with plumb ends.");
  sw_view_paragraph (out, &legend, 2, 2, width);
}

sw_status
sw_fit_list (const sw_plan *plan, size_t width, sw_text *out)
{
  const sw_job *job = plan->job;
  size_t first = 0;
  add_legend (out, plan, width);
  for (size_t run = 0; run < job->fence.run_count; run++)
    {
      size_t end;
      sw_fit_pieces (plan, run, first, &end);
      if (first == end)
        continue;
      sw_fit_run_heading (out, job, run, width);
      while (first < end)
        {
          size_t next = first;
          while (next < end && plan->pieces[next].level == plan->pieces[first].level)
            next++;
          add_level (out, plan, first, next, width);
          first = next;
        }
    }
  return SW_OK;
}
