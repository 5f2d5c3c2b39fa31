/* fit_sketch.c - a run drawn in characters
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/fit.h"

#include "base/memory.h"
#include "view/figures.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define INDENT 2
#define NAME_MAX 16
#define BAY_LEAST 7 /* columns of a bay with one of its posts */
#define BOARD "board"

typedef struct sketch
{
  const sw_plan *plan;
  size_t run;
  size_t first; /* the run's pieces are FIRST ... END - 1 */
  size_t end;
  size_t name_width;
  size_t bay_width;
  size_t from; /* the part drawn side by side is posts FROM to TO */
  size_t to;
  size_t *next; /* by level: its first piece that reaches into this part or a later one */
  char *line;   /* (to - from) * bay_width + 1 characters and a NUL */
  char *boards; /* as long, for the line below it */
} sketch;

static void
measure (sketch *sketch)
{
  const sw_job *job = sketch->plan->job;
  sketch->bay_width = BAY_LEAST;
  for (size_t p = sketch->first; p < sketch->end; p++)
    {
      const sw_piece *piece = &sketch->plan->pieces[p];
      char text[SW_LENGTH_TEXT];
      char board[SW_LENGTH_TEXT];
      sw_view_length (job, piece->cut, text);
      sw_view_board (piece, board);
      const size_t widest = strlen (text) > strlen (board) ? strlen (text) : strlen (board);
      /* A through piece needs its post and a dash that shows how it goes on; a piece between posts
       * needs the post and two brackets. */
      size_t columns = widest + (piece->kind == SW_PIECE_BETWEEN ? 3 : 2);
      if (columns > sketch->bay_width)
        sketch->bay_width = columns;
    }
}

/* Put TEXT into the middle of the bay that begins at AT. */
static void
put_text (const sketch *sketch, char *at, const char *text, bool through)
{
  const size_t bytes = strlen (text);
  const size_t room = sketch->bay_width - (through ? 1 : 3);
  if (bytes <= room)
    memcpy (at + (through ? 1 : 2) + (room - bytes) / 2, text, bytes);
}

static void
draw (const sketch *sketch, const sw_piece *piece)
{
  const size_t bay = sketch->bay_width;
  bool through = piece->kind == SW_PIECE_THROUGH;
  for (size_t b = piece->from > sketch->from ? piece->from : sketch->from; b < piece->to && b < sketch->to; b++)
    {
      char *at = sketch->line + (b - sketch->from) * bay;
      memset (at + 1, '-', bay - 1);
      if (!through)
        {
          at[1] = '[';
          at[bay - 1] = ']';
          continue;
        }
      at[0] = b == piece->from ? '|' : '+';
      at[bay] = b + 1 == piece->to ? '|' : '+';
    }
  if (piece->from >= sketch->from && piece->from < sketch->to)
    {
      char text[SW_LENGTH_TEXT];
      const size_t at = (piece->from - sketch->from) * bay;
      sw_view_length (sketch->plan->job, piece->cut, text);
      put_text (sketch, sketch->line + at, text, through);
      sw_view_board (piece, text);
      put_text (sketch, sketch->boards + at, text, through);
    }
}

static void
draw_level (const sketch *sketch, size_t level)
{
  const sw_piece *pieces = sketch->plan->pieces;
  const size_t columns = (sketch->to - sketch->from) * sketch->bay_width + 1;
  size_t p = sketch->next[level];
  memset (sketch->line, ' ', columns);
  memset (sketch->boards, ' ', columns);
  sketch->line[columns] = sketch->boards[columns] = '\0';
  for (; p < sketch->end && pieces[p].level == level && pieces[p].from < sketch->to; p++)
    {
      draw (sketch, &pieces[p]);
      if (pieces[p].to <= sketch->to)
        sketch->next[level] = p + 1;
    }
}

static sw_status
add_strip (sw_text *out, const sketch *sketch)
{
  const sw_levels *levels = &sketch->plan->job->levels;
  sw_text_repeat (out, ' ', INDENT + sketch->name_width + 2);
  for (size_t post = sketch->from; post <= sketch->to; post++)
    if (post < sketch->to)
      sw_text_printf (out, "%-*zu", (int)sketch->bay_width, post + 1);
    else
      sw_text_printf (out, "%zu\n", post + 1);
  for (size_t l = levels->count; l-- > 0;)
    {
      sw_text name = { 0 };
      if (!sw_level_is_on (&levels->items[l], sketch->run))
        continue;
      draw_level (sketch, l);
      sw_view_name (&name, levels->items[l].name);
      char *text = sw_view_take (out, &name);
      if (text == NULL)
        return SW_NO_MEMORY;
      sw_text_repeat (out, ' ', INDENT);
      sw_view_cell (out, text, sketch->name_width, false);
      sw_text_add (out, "  ");
      sw_text_add (out, sketch->line);
      sw_view_end_line (out);
      free (text);
      if (strspn (sketch->boards, " ") == strlen (sketch->boards))
        continue;
      sw_text_printf (out, "%*s%*s  %s", INDENT, "", (int)sketch->name_width, BOARD, sketch->boards);
      sw_view_end_line (out);
    }
  return SW_OK;
}

sw_status
sw_fit_sketch (const sw_plan *plan, size_t run, size_t first, size_t end, size_t begun, size_t width, size_t *post,
               sw_text *out)
{
  const sw_job *job = plan->job;
  const size_t bays = job->fence.runs[run].bay_count;
  sketch sketch = { .plan = plan, .run = run, .first = first, .end = end, .name_width = strlen (BOARD) };
  for (size_t l = 0; l < job->levels.count; l++)
    {
      if (!sw_level_is_on (&job->levels.items[l], run))
        continue;
      size_t columns = sw_text_width (job->levels.items[l].name);
      if (columns > sketch.name_width)
        sketch.name_width = columns < NAME_MAX ? columns : NAME_MAX;
    }
  measure (&sketch);
  size_t digits = 1; /* room for the number of the last post */
  for (size_t posts = bays + 1; posts >= 10; posts /= 10)
    digits++;
  size_t used = INDENT + sketch.name_width + 2 + digits;
  size_t strip = width > used + sketch.bay_width ? (width - used) / sketch.bay_width : 1;
  strip = strip < bays ? strip : bays;
  sketch.line = sw_alloc (strip * sketch.bay_width + 2, 1);
  sketch.boards = sw_alloc (strip * sketch.bay_width + 2, 1);
  sketch.next = sw_alloc (job->levels.count, sizeof *sketch.next);
  sw_status status = sketch.line != NULL && sketch.boards != NULL && sketch.next != NULL ? SW_OK : SW_NO_MEMORY;
  for (size_t p = end; status == SW_OK && p-- > first;)
    sketch.next[plan->pieces[p].level] = p;
  for (; sketch.from < bays && status == SW_OK && sw_view_room (out, begun, SW_VIEW_LINES) > 0; sketch.from = sketch.to)
    {
      sketch.to = bays - sketch.from > strip ? sketch.from + strip : bays;
      sw_text_add (out, "\n");
      status = add_strip (out, &sketch);
    }
  *post = sketch.from < bays ? sketch.from : SW_NONE;
  free (sketch.line);
  free (sketch.boards);
  free (sketch.next);
  return status;
}
