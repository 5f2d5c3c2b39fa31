/* sheet_bar.c - a board as a bar to scale, with its cuts and what is written on them
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_board.h"

#include "view/cuts.h"

#include <math.h>
#include <stdio.h>

#define GAP 5.0    /* between two things on a piece */
#define APART 14.0 /* between the mark and the length, which must not be read as one */
#define TICK 3.0   /* how far the sign of a tape mark reaches */

size_t
sw_sheet_pile_index (const sw_sheet_stack *s, size_t which, size_t cut)
{
  return s->sheet->plan->boards[s->pile->first + which].pieces[cut];
}

const sw_piece *
sw_sheet_pile_piece (const sw_sheet_stack *s, size_t which, size_t cut)
{
  return &s->sheet->plan->pieces[sw_sheet_pile_index (s, which, cut)];
}

double
sw_sheet_bar_left (const sw_sheet_stack *s)
{
  return s->left + SW_SHEET_NUMBER;
}

void
sw_sheet_bar_piece (const sw_sheet_stack *s, size_t cut, sw_length *at, double *x1, double *x2)
{
  const sw_piece *piece = sw_sheet_pile_piece (s, 0, cut);
  *x1 = sw_sheet_bar_left (s) + (double)*at * s->scale;
  *x2 = *x1 + ((double)piece->take - sw_sheet_wider_kerf (s->sheet, piece)) * s->scale;
  *at += piece->take + s->sheet->job->settings->kerf;
}

void
sw_sheet_tape_mark (const sw_sheet_stack *s, size_t cut, sw_length at, char out[SW_LENGTH_TEXT])
{
  const sw_job *job = s->sheet->job;
  const sw_piece *piece = sw_sheet_pile_piece (s, 0, cut);
  const sw_length tape = at + piece->take - (sw_length)llround (sw_sheet_wider_kerf (s->sheet, piece));
  out[0] = '\0';
  if (tape < s->stock->length - sw_job_board_trim (job, s->stock))
    sw_view_length (job, tape, out);
}

/* ---- What is written on a piece ---- */

typedef struct written
{
  char length[SW_LENGTH_TEXT];
  char tape[SW_LENGTH_TEXT]; /* "": the piece ends with the board, and there is no cut */
  double room[2];
  bool box; /* its box and its mark are written too */
  sw_text mark;
} written;

/* Find what is written on CUT of the first board; x1 and x2 are those of sw_sheet_bar_piece. */
static void
find_written (const sw_sheet_stack *s, size_t cut, sw_length at, const double room[2], bool box, written *out)
{
  out->room[0] = room[0];
  out->room[1] = room[1];
  out->box = box;
  sw_view_length (s->sheet->job, sw_sheet_pile_piece (s, 0, cut)->cut, out->length);
  sw_sheet_tape_mark (s, cut, at, out->tape);
  sw_text_drop (&out->mark);
  if (!box)
    return;
  sw_pencil_add (&out->mark, &s->sheet->pencils, sw_sheet_pile_index (s, 0, cut));
  if (out->mark.failed)
    sw_sheet_fail (s->sheet, SW_NO_MEMORY);
}

static double
mark_width (const sw_sheet_stack *s, const written *w)
{
  return w->box && !w->mark.failed
             ? SW_SHEET_BOX + 3 + sw_sheet_measure (s->sheet, SW_SHEET_STRONG, w->mark.data) + APART
             : 0;
}

static double
tape_width (const sw_sheet_stack *s, const written *w)
{
  return w->tape[0] == '\0' ? 0 : sw_sheet_measure (s->sheet, SW_SHEET_SMALL, w->tape) + TICK + GAP;
}

static bool
all_fit (const sw_sheet_stack *s, bool box)
{
  sw_length at = sw_job_board_trim (s->sheet->job, s->stock);
  written w = { .mark = { 0 } };
  bool fit = true;
  for (size_t cut = 0; cut < s->board->piece_count && fit; cut++)
    {
      double x1, x2, room[2];
      const sw_length begin = at;
      sw_sheet_bar_piece (s, cut, &at, &x1, &x2);
      sw_sheet_cut_room (s->sheet, sw_sheet_pile_piece (s, 0, cut), x1, x2, room);
      find_written (s, cut, begin, room, box, &w);
      fit = mark_width (s, &w) + tape_width (s, &w) + sw_sheet_measure (s->sheet, SW_SHEET_LARGE, w.length) + GAP
            <= room[1] - room[0];
    }
  sw_text_drop (&w.mark);
  return fit;
}

bool
sw_sheet_bar_takes_marks (const sw_sheet_stack *s)
{
  return all_fit (s, true);
}

bool
sw_sheet_bar_takes_lengths (const sw_sheet_stack *s)
{
  return all_fit (s, false);
}

/* Write box and mark at the left, the length in the middle, and at the right what the tape shows at the cut. */
static void
draw_written (const sw_sheet_stack *s, const written *w, double y)
{
  sw_sheet *sheet = s->sheet;
  const double middle = y + SW_SHEET_BAR / 2, room = w->room[1] - w->room[0];
  const double mark = mark_width (s, w), tape = tape_width (s, w);
  const double large = sw_sheet_measure (sheet, SW_SHEET_LARGE, w->length);
  const double small = sw_sheet_measure (sheet, SW_SHEET_SMALL_STRONG, w->length);
  if (mark + tape + large + GAP <= room)
    {
      if (w->box)
        {
          sw_sheet_tick_box (sheet, w->room[0] + 4, middle + 3.6);
          sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, w->room[0] + 7 + SW_SHEET_BOX, middle + 3.7, 0,
                         w->mark.data);
        }
      if (tape > 0)
        sw_sheet_text (sheet, SW_SHEET_SMALL, SW_SHEET_RIGHT, w->room[1] - TICK, middle + 3.2, 0, w->tape);
      sw_sheet_text (sheet, SW_SHEET_LARGE, SW_SHEET_CENTRE, (w->room[0] + mark + w->room[1] - tape) / 2, middle + 4.2,
                     0, w->length);
    }
  else if (small + 2 <= room)
    sw_sheet_text (sheet, SW_SHEET_SMALL_STRONG, SW_SHEET_CENTRE, w->room[0] + room / 2, middle + 3.2, 0, w->length);
  else if (room >= 9 && small <= SW_SHEET_BAR)
    sw_sheet_text_turned (sheet, SW_SHEET_SMALL, w->room[0] + room / 2, middle, -G_PI / 2, w->length);
}

/* ---- The bar ---- */

/* Draw what is left over, hatched where it is waste. */
static void
draw_left (const sw_sheet_stack *s, double end, double y)
{
  const double left = (double)s->board->left * s->scale;
  char length[SW_LENGTH_TEXT], text[SW_LENGTH_TEXT + 8];
  if (!sw_board_is_kept (s->sheet->plan, s->board))
    {
      sw_sheet_hatch (s->sheet, end - left, y, left, SW_SHEET_BAR);
      return;
    }
  sw_view_length (s->sheet->job, s->board->left, length);
  snprintf (text, sizeof text, "keep %s", length);
  if (sw_sheet_measure (s->sheet, SW_SHEET_BODY, text) + 8 <= left)
    sw_sheet_text (s->sheet, SW_SHEET_BODY, SW_SHEET_CENTRE, end - left / 2, y + SW_SHEET_BAR / 2 + 3.7, 0, text);
}

void
sw_sheet_bar (const sw_sheet_stack *s, double y)
{
  sw_sheet *sheet = s->sheet;
  const sw_settings *settings = sheet->job->settings;
  const double x0 = sw_sheet_bar_left (s), whole = (double)s->stock->length * s->scale;
  const double trim = (double)sw_job_board_trim (sheet->job, s->stock) * s->scale, end = x0 + whole - trim;
  sw_length at = sw_job_board_trim (sheet->job, s->stock);
  written w = { .mark = { 0 } };
  if (sheet->cr == NULL)
    return;
  sw_sheet_hatch (sheet, x0, y, trim, SW_SHEET_BAR);
  sw_sheet_hatch (sheet, end, y, trim, SW_SHEET_BAR);
  draw_left (s, end, y);
  sw_sheet_box (sheet, x0, y, whole, SW_SHEET_BAR, -1, 1);
  for (size_t cut = 0; cut < s->board->piece_count; cut++)
    {
      const sw_piece *piece = sw_sheet_pile_piece (s, 0, cut);
      const double wide = ((double)settings->kerf + sw_sheet_wider_kerf (sheet, piece)) * s->scale;
      const sw_length begin = at;
      double x1, x2, room[2];
      sw_sheet_bar_piece (s, cut, &at, &x1, &x2);
      sw_sheet_cut (sheet, piece, x1, x2, y, room);
      find_written (s, cut, begin, room, s->pile->inside, &w);
      draw_written (s, &w, y);
      /* The saw cut is never so thin that it is lost; there is none where the piece ends with the board. */
      if (x2 >= end - 0.01)
        continue;
      sw_sheet_saw_cut (sheet, piece, x1, x2, y, fmax (wide, 1));
      const double sign[] = { x2, y, x2 - TICK, y - TICK, x2 + TICK, y - TICK };
      sw_sheet_polygon (sheet, sign, 3, 0, 0);
    }
  sw_text_drop (&w.mark);
}
