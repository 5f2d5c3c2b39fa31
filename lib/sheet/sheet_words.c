/* sheet_words.c - what a block says in words: pieces that are too short to be written on, and its fixing blocks
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#define GAP 12.0 /* between two pieces of the list */

/* Words one after the other, broken into lines as wide as the block. */
typedef struct flow
{
  const sw_sheet_frame *f;
  double x;
  double y;
  bool draw;
  size_t lines;
} flow;

static void
add_words (flow *w, bool box, const char *text)
{
  sw_sheet *sheet = w->f->sheet;
  const double left = w->f->left, right = left + w->f->width;
  const double wide = sw_sheet_measure (sheet, SW_SHEET_SMALL, text) + (box ? SW_SHEET_BOX + 3 : 0);
  if (w->lines == 0 || (w->x > left && w->x + wide > right))
    {
      w->x = left;
      w->lines++;
    }
  const double baseline = w->y + SW_SHEET_CLOSE * (double)w->lines - 2;
  if (w->draw)
    {
      if (box)
        sw_sheet_tick_box (sheet, w->x, baseline);
      sw_sheet_text (sheet, SW_SHEET_SMALL, SW_SHEET_LEFT, w->x + (box ? SW_SHEET_BOX + 3 : 0), baseline,
                     right - w->x - (box ? SW_SHEET_BOX + 3 : 0), text);
    }
  w->x += wide + GAP;
}

/* Write "A1 6-7: 1436, board 22". */
static void
add_piece (flow *w, size_t index)
{
  sw_sheet *sheet = w->f->sheet;
  const sw_piece *piece = &sheet->plan->pieces[index];
  char length[SW_LENGTH_TEXT];
  sw_text text = { 0 };
  sw_view_length (sheet->job, piece->cut, length);
  sw_pencil_add (&text, &sheet->pencils, index);
  sw_text_printf (&text, ": %s", length);
  if (piece->placed)
    sw_text_add (&text, ", fixed");
  else
    sw_text_printf (&text, ", board %zu", piece->board + 1);
  if (text.failed)
    sw_sheet_fail (sheet, SW_NO_MEMORY);
  else
    add_words (w, true, text.data);
  sw_text_drop (&text);
}

static void
add_short_pieces (flow *w)
{
  const sw_sheet_frame *f = w->f;
  bool any = false;
  for (size_t i = sw_sheet_next_piece (f, 0); i < f->block->piece_end; i = sw_sheet_next_piece (f, i + 1))
    {
      const sw_piece *piece = &f->sheet->plan->pieces[i];
      sw_sheet_writing writing;
      if (!sw_sheet_writing_of (f, piece, &writing) || !writing.box
          || sw_sheet_fit_of (f->sheet, piece, &writing) >= SW_SHEET_FIT_SMALL)
        continue;
      if (!any)
        add_words (w, false, "Too short to be written on:");
      any = true;
      add_piece (w, i);
    }
}

/* Write "b1-b4 board 23" for blocks FIRST to END - 1 of the level that begins at START. */
static void
add_board (flow *w, size_t start, size_t first, size_t end)
{
  sw_text text = { 0 };
  sw_text_printf (&text, "b%zu", first - start + 1);
  if (end > first + 1)
    sw_text_printf (&text, "-b%zu", end - start);
  if (w->f->sheet->plan->pieces[first].placed)
    sw_text_add (&text, " fixed");
  else
    sw_text_printf (&text, " board %zu", w->f->sheet->plan->pieces[first].board + 1);
  if (text.failed)
    sw_sheet_fail (w->f->sheet, SW_NO_MEMORY);
  else
    add_words (w, true, text.data);
  sw_text_drop (&text);
}

/* Write "Fixing blocks A1, 2 a bay, 75x50, 120 long:" and which boards they come from. */
static void
add_blocks (flow *w, size_t start, size_t end)
{
  sw_sheet *sheet = w->f->sheet;
  const sw_piece *pieces = sheet->plan->pieces, *piece = &pieces[start];
  char run[SW_PENCIL_RUN], length[SW_LENGTH_TEXT];
  sw_text text = { 0 };
  sw_pencil_run (piece->run, run);
  sw_view_length (sheet->job, piece->cut, length);
  sw_text_printf (&text, "Fixing blocks %s%zu, %lld a bay, %s, %s long:", run, piece->level + 1,
                  (long long)sheet->job->levels.items[piece->level].blocks,
                  sheet->job->sections.items[piece->section].name, length);
  if (text.failed)
    sw_sheet_fail (sheet, SW_NO_MEMORY);
  else
    add_words (w, false, text.data);
  sw_text_drop (&text);
  for (size_t first = start, next; first < end; first = next)
    {
      next = first + 1;
      while (next < end && pieces[next].board == pieces[first].board)
        next++;
      add_board (w, start, first, next);
    }
}

double
sw_sheet_words (const sw_sheet_frame *f, double y, bool draw)
{
  const sw_sheet_block *block = f->block;
  const sw_piece *pieces = f->sheet->plan->pieces;
  flow w = { .f = f, .x = f->left, .y = y, .draw = draw };
  add_short_pieces (&w);
  /* List them with the run's first posts only, because the drawing shows blocks everywhere. */
  for (size_t first = block->blocks_first, end; first < block->blocks_end && block->first == 0; first = end)
    {
      end = first + 1;
      while (end < block->blocks_end && pieces[end].level == pieces[first].level)
        end++;
      const size_t row = f->e->rows[pieces[first].level];
      if (row >= block->row_first && row < block->row_end)
        add_blocks (&w, first, end);
    }
  return SW_SHEET_CLOSE * (double)w.lines;
}
