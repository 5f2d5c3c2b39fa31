/* fit.c - which piece goes where
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "fit.h"

#include "cuts.h"
#include "table.h"
#include "view.h"

#include <stdio.h>
#include <stdlib.h>

/* Columns of an end in the list, at least; of a board's number, and of what stands before the ends. */
#define END_WIDTH 14
#define BOARD_WIDTH 5
#define LENGTH_END 28

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

/* "mitre 45° outer", "housed 33", "join" */
static void
add_end (sw_text *out, const sw_job *job, const sw_piece *piece, bool start)
{
  const sw_run *run = &job->fence.runs[piece->run];
  const sw_end *end = start ? &run->bays[piece->from].start : &run->bays[piece->to - 1].finish;
  /* As the piece has it: what lies on top of its posts has no housing. */
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

/* What stands in the list of a piece's ends. */
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

/* Columns of each cell of the pieces FIRST ... END - 1, two between them; 0: nothing stands in it. */
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

/* How a level's timber sits on its posts, where that is not the usual way. */
static void
add_seat (sw_text *out, const sw_job *job, const sw_level *level)
{
  char depth[SW_LENGTH_TEXT];
  if (!level->through)
    return;
  if (level->seat == SW_SEAT_FACE)
    sw_text_add (out, ", on the face of the posts");
  else if (level->seat == SW_SEAT_TOP)
    sw_text_add (out, ", laid flat on top of the posts");
  else if (level->let_in > 0)
    {
      sw_view_length (job, level->let_in, depth);
      sw_text_printf (out, ", let in %s", depth);
    }
}

/* The ends of PIECE on a line of their own. */
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
  sw_text_printf (out, "%*zu\n", BOARD_WIDTH, piece->board + 1);
}

/* The pieces FIRST ... END - 1, which are of one run and level. */
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
  add_seat (&heading, job, level);
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
      sw_text_printf (out, "%*zu\n", BOARD_WIDTH, piece->board + 1);
      add_ends_below (out, job, piece, width);
    }
}

/* "rises 600 in all"; "rises and falls, 50 up in all" */
static void
add_rise (sw_text *out, const sw_job *job, const sw_run *run)
{
  bool up = false;
  bool down = false;
  char text[SW_LENGTH_TEXT];
  for (size_t b = 0; b < run->bay_count; b++)
    {
      up = up || run->bays[b].rise > 0;
      down = down || run->bays[b].rise < 0;
    }
  if (!up && !down)
    return;
  const sw_length rise = sw_run_height (run, run->bay_count);
  sw_view_length (job, rise < 0 ? -rise : rise, text);
  if (!up || !down)
    sw_text_printf (out, ", %s %s in all", up ? "rises" : "falls", text);
  else if (rise == 0)
    sw_text_add (out, ", rises and falls, ends as high as it begins");
  else
    sw_text_printf (out, ", rises and falls, ends %s %s", text, rise > 0 ? "higher" : "lower");
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
  add_rise (&heading, job, line);
  for (size_t b = 0; b < line->bay_count; b++)
    if (line->bays[b].opening)
      sw_text_printf (&heading, ", opening %zu-%zu", b + 1, b + 2);
  sw_text_add (out, "\n");
  sw_view_paragraph (out, &heading, 0, 2, width);
}

/* "The fence steps up 300 at post 4, down 150 at post 7." */
static void
add_steps (sw_text *out, const sw_job *job, const sw_run *run, size_t width)
{
  sw_text line = { 0 };
  char text[SW_LENGTH_TEXT];
  for (size_t b = 0; b < run->bay_count; b++)
    {
      const sw_length step = run->bays[b].step;
      if (step == 0)
        continue;
      sw_view_length (job, step < 0 ? -step : step, text);
      sw_text_printf (&line, "%s %s %s at post %zu", line.length == 0 ? "The fence steps" : ",",
                      step > 0 ? "up" : "down", text, b + 2);
    }
  if (line.length == 0 && !line.failed)
    return;
  sw_text_add (&line, ".");
  sw_text_add (out, "\n");
  sw_view_paragraph (out, &line, 2, 2, width);
}

static void
add_legend (sw_text *out, const sw_plan *plan, size_t width)
{
  const sw_job *job = plan->job;
  sw_text legend = { 0 };
  bool between = false;
  for (size_t l = 0; l < job->levels.count; l++)
    between = between || !job->levels.items[l].through;
  sw_text_printf (&legend,
                  "Post 1 is on the left. | is an end or a join, + a post that a piece runs past%s. Lengths in %s.",
                  between ? ", [ ] a piece cut to fit between two posts" : "", job->settings->inches ? "inches" : "mm");
  if (sw_cuts_mitred (plan))
    sw_text_printf (&legend, " outer, inner: the face of a mitre's long point%s.",
                    sw_cuts_any (plan, true, true, false) ? " (of timber laid flat: the edge)" : "");
  if (sw_cuts_raked (plan))
    sw_text_add (&legend, " rises, falls: from start to finish, with plumb ends.");
  sw_view_paragraph (out, &legend, 2, 2, width);
}

sw_status
sw_fit_text (const sw_plan *plan, size_t width, sw_text *out)
{
  const sw_job *job = plan->job;
  size_t first = 0;
  sw_status status = SW_OK;
  sw_text_add (out, "FIT\n");
  add_legend (out, plan, width);
  for (size_t run = 0; run < job->fence.run_count && status == SW_OK; run++)
    {
      size_t end;
      sw_fit_pieces (plan, run, first, &end);
      if (first == end)
        continue;
      add_run_heading (out, job, run, width);
      status = sw_fit_sketch (plan, run, first, end, width, out);
      add_steps (out, job, &job->fence.runs[run], width);
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
