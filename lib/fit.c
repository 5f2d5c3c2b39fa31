/* fit.c - which piece goes where
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "fit.h"

#include "view.h"
#include "table.h"

#include <stdio.h>
#include <stdlib.h>

/* Columns of a row of the list; with less room its ends go on a second line. */
#define ROW_WIDTH 61
#define END_WIDTH 14

static bool
has_place (const sw_piece *piece)
{
  return piece->kind == SW_PIECE_THROUGH || piece->kind == SW_PIECE_BETWEEN;
}

static const char *
end_name (const sw_piece *piece, sw_end_kind kind)
{
  return piece->kind == SW_PIECE_BETWEEN ? "post" : sw_end_name (kind);
}

const char *
sw_fit_start (const sw_piece *piece)
{
  return end_name (piece, piece->start_end);
}

const char *
sw_fit_finish (const sw_piece *piece)
{
  return end_name (piece, piece->finish_end);
}

void
sw_fit_pieces (const sw_plan *plan, size_t run, size_t first, size_t *end)
{
  for (*end = first; *end < plan->piece_count; ++*end)
    if (!has_place (&plan->pieces[*end]) || plan->pieces[*end].run != run)
      break;
}

static sw_status
add_row (sw_table *table, const sw_plan *plan, const sw_piece *piece)
{
  const sw_job *job = plan->job;
  char saw[SW_VIEW_THOUSANDTHS];
  sw_status status = sw_table_add_row (table);
  sw_view_set_text (&status, table, 0, job->fence.runs[piece->run].name);
  sw_view_set_text (&status, table, 1, job->levels.items[piece->level].name);
  sw_view_set_text (&status, table, 2, job->sections.items[piece->section].name);
  sw_view_set_count (&status, table, 3, (int64_t)piece->from + 1);
  sw_view_set_count (&status, table, 4, (int64_t)piece->to + 1);
  sw_view_set_count (&status, table, 5, (int64_t)(piece->to - piece->from));
  sw_view_set_text (&status, table, 6, piece->label);
  sw_view_set_count (&status, table, 7, (int64_t)piece->board + 1);
  sw_view_set_length (&status, table, 8, job, piece->cut);
  sw_view_saw_cell (piece->start_saw, saw);
  sw_view_set (&status, table, 9, saw);
  sw_view_saw_cell (piece->finish_saw, saw);
  sw_view_set (&status, table, 10, saw);
  sw_view_set (&status, table, 11, sw_fit_start (piece));
  sw_view_set (&status, table, 12, sw_fit_finish (piece));
  sw_view_set_sawn (&status, table, 13, job, piece);
  return status;
}

sw_status
sw_fit_table (const sw_plan *plan, sw_table **out)
{
  static const char *const header[]
      = { "run",    "level",     "section",    "from_post",  "to_post",     "bays",  "piece",      "board",
          "cut_mm", "start_cut", "finish_cut", "start_join", "finish_join", "plumb", "long_point", "take_mm" };
  sw_table *table = NULL;
  sw_status status = sw_view_table (&table, plan->job, header, sizeof header / sizeof *header);
  for (size_t p = 0; p < plan->piece_count && status == SW_OK; p++)
    if (has_place (&plan->pieces[p]))
      status = add_row (table, plan, &plan->pieces[p]);
  if (status == SW_OK)
    *out = table;
  else
    sw_table_free (table);
  return status;
}

/* ---- Text ---------------------------------------------------------------- */

/* "mitre 45°", "housed 33", "join" */
static void
add_end (sw_text *out, const sw_job *job, const sw_piece *piece, bool start, size_t width)
{
  const sw_run *run = &job->fence.runs[piece->run];
  const sw_end *end = start ? &run->bays[piece->from].start : &run->bays[piece->to - 1].finish;
  char text[SW_LENGTH_TEXT];
  sw_text cell = { 0 };
  sw_text_add (&cell, start ? sw_fit_start (piece) : sw_fit_finish (piece));
  if (piece->kind == SW_PIECE_THROUGH && end->kind == SW_END_MITRE)
    {
      sw_view_thousandths (sw_end_saw_setting (end), text);
      sw_text_printf (&cell, " %s\xc2\xb0", text);
    }
  else if (piece->kind == SW_PIECE_THROUGH && (end->kind == SW_END_HOUSED || end->kind == SW_END_REACH))
    {
      sw_view_length (job, end->length, text);
      sw_text_printf (&cell, " %s", text);
    }
  char *shown = sw_view_take (out, &cell);
  if (shown != NULL)
    sw_view_cell (out, shown, width, false);
  free (shown);
}

/* The pieces FIRST ... END - 1, which are of one run and level. */
static void
add_level (sw_text *out, const sw_plan *plan, size_t first, size_t end, size_t width)
{
  const sw_job *job = plan->job;
  sw_text heading = { 0 };
  sw_view_name (&heading, job->levels.items[plan->pieces[first].level].name);
  sw_text_add (&heading, " - ");
  sw_view_name (&heading, job->sections.items[plan->pieces[first].section].name);
  sw_text_add (out, "\n");
  sw_view_paragraph (out, &heading, 2, 4, width);
  const bool narrow = width < ROW_WIDTH;
  sw_text_add (out, narrow ? "    posts          length   board\n"
                           : "    posts          length   start         finish        board\n");
  for (size_t p = first; p < end; p++)
    {
      const sw_piece *piece = &plan->pieces[p];
      char text[SW_LENGTH_TEXT];
      snprintf (text, sizeof text, "%zu-%zu", piece->from + 1, piece->to + 1);
      sw_text_printf (out, "    %-11s", text);
      sw_view_length (job, piece->cut, text);
      sw_text_printf (out, "%10s   ", text);
      if (narrow)
        sw_text_printf (out, "%5zu\n      ", piece->board + 1);
      add_end (out, job, piece, true, END_WIDTH);
      sw_text_add (out, narrow ? "to " : "");
      add_end (out, job, piece, false, END_WIDTH - 1);
      if (!narrow)
        sw_text_printf (out, "%6zu", piece->board + 1);
      sw_view_end_line (out);
    }
}

static void
add_run_heading (sw_text *out, const sw_job *job, size_t run, size_t width)
{
  const sw_run *line = &job->fence.runs[run];
  char length[SW_LENGTH_TEXT];
  sw_text heading = { 0 };
  sw_text_add (&heading, "Run ");
  sw_view_name (&heading, line->name);
  sw_view_length (job, sw_run_distance (line, line->bay_count), length);
  sw_text_printf (&heading, ": posts 1 to %zu, %s from centre to centre", line->bay_count + 1, length);
  for (size_t b = 0; b < line->bay_count; b++)
    if (line->bays[b].opening)
      sw_text_printf (&heading, ", opening %zu-%zu", b + 1, b + 2);
  sw_text_add (out, "\n");
  sw_view_paragraph (out, &heading, 0, 2, width);
}

sw_status
sw_fit_text (const sw_plan *plan, size_t width, sw_text *out)
{
  const sw_job *job = plan->job;
  size_t first = 0;
  sw_status status = SW_OK;
  sw_text legend = { 0 };
  bool between = false;
  for (size_t l = 0; l < job->levels.count; l++)
    between = between || !job->levels.items[l].through;
  sw_text_add (out, "FIT\n");
  sw_text_printf (&legend,
                  "Post 1 is on the left. | is an end or a join, + a post that a piece runs past%s. Lengths in %s.",
                  between ? ", [ ] a piece cut to fit between two posts" : "",
                  job->settings->inches ? "inches" : "mm");
  sw_view_paragraph (out, &legend, 2, 2, width);
  for (size_t run = 0; run < job->fence.run_count && status == SW_OK; run++)
    {
      size_t end;
      sw_fit_pieces (plan, run, first, &end);
      if (first == end)
        continue;
      add_run_heading (out, job, run, width);
      status = sw_fit_sketch (plan, run, first, end, width, out);
      while (first < end)
        {
          size_t next = first;
          while (next < end && plan->pieces[next].level == plan->pieces[first].level)
            next++;
          add_level (out, plan, first, next, width);
          first = next;
        }
    }
  return status;
}
