/* sheet_pile.c - boards that are sawn alike: one bar, then their pieces, and how the saw is set
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_board.h"

#include "view/cuts.h"

#include <math.h>
#include <stdio.h>

#define ROW 10.5
#define GAP 14.0  /* between two pieces that are named in a row */
#define OVER 3.0  /* height of the tape marks' signs over the bar */
#define APART 3.5 /* to the next pile */

/* ---- What is said of one piece ---- */

/* Write "p3", the page on which the piece's run is drawn. */
static void
add_page (const sw_sheet_stack *s, const sw_piece *piece, sw_text *out)
{
  if (piece->run < s->sheet->job->fence.run_count && s->sheet->run_pages[piece->run] > 0)
    sw_text_printf (out, "p%zu", s->sheet->run_pages[piece->run]);
}

/* What is written of a piece under the bar; what is on the bar is not written again. */
typedef struct entry
{
  sw_text mark; /* "A2 1-3", with its length where the bar has no room for that; empty: it is on the bar */
  sw_text page; /* "p3"; empty for a piece of no run */
  const char *label;
  double mark_wide; /* with its box */
  double page_wide;
  double wide; /* of all */
} entry;

static void
drop_entry (entry *e)
{
  sw_text_drop (&e->mark);
  sw_text_drop (&e->page);
}

/* Write ": 120, tape 246", what the bar has no room for. */
static void
add_length (const sw_sheet_stack *s, size_t cut, sw_text *out)
{
  const sw_job *job = s->sheet->job;
  sw_length at = sw_job_board_trim (job, s->stock);
  char length[SW_LENGTH_TEXT], tape[SW_LENGTH_TEXT];
  for (size_t before = 0; before < cut; before++)
    at += sw_sheet_pile_piece (s, 0, before)->take + job->settings->kerf;
  sw_view_length (job, sw_sheet_pile_piece (s, 0, cut)->cut, length);
  sw_sheet_tape_mark (s, cut, at, tape);
  sw_text_printf (out, tape[0] != '\0' ? ": %s, tape %s" : ": %s", length, tape);
}

static bool
find_entry (const sw_sheet_stack *s, size_t which, size_t cut, bool length, entry *e)
{
  sw_sheet *sheet = s->sheet;
  const sw_piece *piece = sw_sheet_pile_piece (s, which, cut);
  drop_entry (e);
  e->label = piece->label;
  add_page (s, piece, &e->page);
  if (!s->pile->inside)
    sw_pencil_add (&e->mark, &sheet->pencils, sw_sheet_pile_index (s, which, cut));
  if (length)
    add_length (s, cut, &e->mark);
  if (e->mark.failed || e->page.failed)
    {
      sw_sheet_fail (sheet, SW_NO_MEMORY);
      return false;
    }
  e->mark_wide
      = e->mark.length > 0 ? SW_SHEET_BOX + 3 + sw_sheet_measure (sheet, SW_SHEET_SMALL_STRONG, e->mark.data) + 4 : 0;
  e->page_wide = e->page.length > 0 ? sw_sheet_measure (sheet, SW_SHEET_SMALL_STRONG, e->page.data) + 4 : 0;
  e->wide = e->mark_wide + e->page_wide + sw_sheet_measure (sheet, SW_SHEET_SMALL, e->label);
  return true;
}

static void
draw_entry (const sw_sheet_stack *s, const entry *e, double x, double baseline, double limit)
{
  sw_sheet *sheet = s->sheet;
  if (e->mark.length > 0)
    {
      sw_sheet_tick_box (sheet, x, baseline);
      sw_sheet_text (sheet, SW_SHEET_SMALL_STRONG, SW_SHEET_LEFT, x + SW_SHEET_BOX + 3, baseline, 0, e->mark.data);
    }
  if (e->page.length > 0)
    sw_sheet_text (sheet, SW_SHEET_SMALL_STRONG, SW_SHEET_LEFT, x + e->mark_wide, baseline, 0, e->page.data);
  x += e->mark_wide + e->page_wide;
  sw_sheet_text (sheet, SW_SHEET_SMALL, SW_SHEET_LEFT, x, baseline, limit > 0 ? limit - e->mark_wide - e->page_wide : 0,
                 e->label);
}

/* ---- Rows of pieces under the bar ---- */

/* Is there room for each label under its piece of the bar? */
static bool
go_under (const sw_sheet_stack *s)
{
  bool fit = true;
  entry e = { .label = NULL };
  for (size_t which = 0; which < s->pile->count && fit; which++)
    {
      sw_length at = sw_job_board_trim (s->sheet->job, s->stock);
      for (size_t cut = 0; cut < s->board->piece_count && fit; cut++)
        {
          double x1, x2;
          sw_sheet_bar_piece (s, cut, &at, &x1, &x2);
          /* The last piece also has the room of what is left over of the board. */
          if (cut + 1 == s->board->piece_count)
            x2 = fmax (x2, s->right - SW_SHEET_LEFT_OVER);
          fit = find_entry (s, which, cut, false, &e) && e.wide + 3 <= x2 - x1;
        }
    }
  drop_entry (&e);
  return fit;
}

void
sw_sheet_pile_choose (const sw_sheet_stack *s, sw_sheet_pile *pile)
{
  const bool lengths = sw_sheet_bar_takes_lengths (s);
  pile->inside = pile->count == 1 && lengths && sw_sheet_bar_takes_marks (s);
  pile->labels = lengths && go_under (s) ? SW_SHEET_LABELS_UNDER : SW_SHEET_LABELS_FLOW;
}

/* Draw the number and box of a board that shares its bar with others. */
static void
draw_number (const sw_sheet_stack *s, size_t which, double baseline)
{
  const size_t number = s->pile->first + which;
  sw_sheet_tick_box (s->sheet, s->left, baseline);
  const sw_sheet_style style = s->pile->count > 1 ? SW_SHEET_SMALL_STRONG : SW_SHEET_STRONG;
  const double half = sw_sheet_ring_width (s->sheet, style, number) / 2;
  sw_sheet_ring (s->sheet, style, s->left + SW_SHEET_BOX + 4 + half, baseline - 3.5, number);
}

static double
rows_under (const sw_sheet_stack *s, double y, bool draw)
{
  entry e = { .label = NULL };
  for (size_t which = 0; which < s->pile->count && draw; which++)
    {
      const double baseline = y + ROW * (double)which + 8.5;
      sw_length at = sw_job_board_trim (s->sheet->job, s->stock);
      if (s->pile->count > 1)
        draw_number (s, which, baseline);
      for (size_t cut = 0; cut < s->board->piece_count; cut++)
        {
          double x1, x2;
          sw_sheet_bar_piece (s, cut, &at, &x1, &x2);
          if (find_entry (s, which, cut, false, &e))
            draw_entry (s, &e, x1 + 2, baseline, 0);
        }
    }
  drop_entry (&e);
  return ROW * (double)s->pile->count;
}

/* Write the labels one after the other, in lines. */
static double
rows_flow (const sw_sheet_stack *s, double y, bool draw)
{
  const bool lengths = !sw_sheet_bar_takes_lengths (s);
  const double left = sw_sheet_bar_left (s), right = s->right;
  double baseline = y + 8.5;
  entry e = { .label = NULL };
  for (size_t which = 0; which < s->pile->count; which++, baseline += ROW)
    {
      double x = left;
      if (draw && s->pile->count > 1)
        draw_number (s, which, baseline);
      for (size_t cut = s->pile->cut_first; cut < s->pile->cut_end; cut++)
        {
          if (!find_entry (s, which, cut, lengths, &e))
            break;
          if (x > left && x + e.wide > right)
            {
              baseline += ROW;
              x = left;
            }
          /* A label that is longer than a line gets lines of its own. */
          if (e.wide > right - x)
            {
              const double room = right - left - e.mark_wide - e.page_wide;
              const char *label = e.label;
              e.label = "";
              if (draw)
                {
                  draw_entry (s, &e, x, baseline, 0);
                  sw_sheet_paragraph (s->sheet, SW_SHEET_SMALL, x + e.mark_wide + e.page_wide, baseline - 8, room,
                                      label);
                }
              baseline += ceil (sw_sheet_paragraph_height (s->sheet, SW_SHEET_SMALL, room, label) / ROW - 1) * ROW;
              x = right;
              continue;
            }
          if (draw)
            draw_entry (s, &e, x, baseline, 0);
          x += e.wide + GAP;
        }
    }
  drop_entry (&e);
  return baseline - 8.5 - y;
}

static double
rows (const sw_sheet_stack *s, double y, bool draw)
{
  return s->pile->labels == SW_SHEET_LABELS_UNDER ? rows_under (s, y, draw) : rows_flow (s, y, draw);
}

/* Write "= offcut of board 7", where a board that an earlier plan has left comes from. */
static double
origin (const sw_sheet_stack *s, double y, bool draw)
{
  const sw_timber *timber = s->board->timber;
  if (timber == NULL || timber->name == NULL)
    return 0;
  sw_text text = { 0 };
  sw_text_printf (&text, "%s%s", timber->kind == SW_TIMBER_PIECE ? "= the piece " : "= ", timber->name);
  if (text.failed)
    sw_sheet_fail (s->sheet, SW_NO_MEMORY);
  else if (draw)
    sw_sheet_text (s->sheet, SW_SHEET_SMALL, SW_SHEET_LEFT, sw_sheet_bar_left (s) + 2, y + 8.5,
                   s->right - sw_sheet_bar_left (s), text.data);
  sw_text_drop (&text);
  return ROW;
}

/* ---- How the saw is set ---- */

/* The next cut from FIRST on with a setting at an angle that no cut before it has; the board's count: there is none. */
static size_t
next_setting (const sw_sheet_stack *s, size_t first)
{
  for (size_t cut = first; cut < s->board->piece_count; cut++)
    {
      const sw_piece *piece = sw_sheet_pile_piece (s, 0, cut);
      size_t before = 0;
      while (before < cut && !sw_sheet_sawn_alike (s->sheet->job, sw_sheet_pile_piece (s, 0, before), piece))
        before++;
      if (sw_sheet_is_angled (piece) && before == cut)
        return cut;
    }
  return s->board->piece_count;
}

/* Write "Cuts 1, 3-5: plumb 3.6 degrees ...": all cuts that are sawn like cut FIRST. */
static void
setting_text (const sw_sheet_stack *s, size_t first, sw_text *out)
{
  const sw_board *board = s->board;
  const sw_piece *piece = sw_sheet_pile_piece (s, 0, first);
  size_t count = 0;
  sw_text numbers = { 0 };
  for (size_t cut = first, end; cut < board->piece_count; cut = end)
    {
      end = cut;
      while (end < board->piece_count && sw_sheet_sawn_alike (s->sheet->job, piece, sw_sheet_pile_piece (s, 0, end)))
        end++;
      if (end == cut)
        {
          end++;
          continue;
        }
      sw_text_printf (&numbers, count > 0 ? ", %zu" : "%zu", cut + 1);
      if (end > cut + 1)
        sw_text_printf (&numbers, "-%zu", end);
      count += end - cut;
    }
  sw_text_drop (out);
  if (numbers.failed)
    out->failed = true;
  else if (board->piece_count > 1)
    sw_text_printf (out, "Cut%s %s: ", count > 1 ? "s" : "", numbers.data);
  sw_text_drop (&numbers);
  sw_sheet_saw_words (out, s->sheet->job, piece);
}

/* Draw a small view of the ends, with words beside it, for each setting of the saw. */
static double
settings (const sw_sheet_stack *s, double y, bool draw)
{
  sw_sheet *sheet = s->sheet;
  const double left = sw_sheet_bar_left (s), begin = y;
  sw_text text = { 0 };
  for (size_t cut = next_setting (s, 0); cut < s->board->piece_count; cut = next_setting (s, cut + 1))
    {
      const sw_piece *piece = sw_sheet_pile_piece (s, 0, cut);
      setting_text (s, cut, &text);
      if (text.failed)
        {
          sw_sheet_fail (sheet, SW_NO_MEMORY);
          break;
        }
      const double view = sw_sheet_end_height (sheet, piece), words = left + sw_sheet_end_width (piece) + 5;
      const double high = sw_sheet_paragraph_height (sheet, SW_SHEET_SMALL, s->right - words, text.data);
      if (draw)
        {
          sw_sheet_end_draw (sheet, piece, left, y + 1);
          sw_sheet_paragraph (sheet, SW_SHEET_SMALL, words, y + 1 + fmax (view - high, 0) / 2, s->right - words,
                              text.data);
        }
      y += fmax (view, high) + 1.5;
    }
  sw_text_drop (&text);
  return y - begin;
}

/* ---- All of it ---- */

void
sw_sheet_pile_stock (const sw_sheet_stack *s, double baseline, bool continued)
{
  sw_sheet *sheet = s->sheet;
  char length[SW_LENGTH_TEXT];
  sw_text text = { 0 };
  sw_view_stock (sheet->job, s->stock->length, length);
  sw_text_printf (&text, "%s, %s%s%s", sheet->job->sections.items[s->stock->section].name, length,
                  s->board->hand && s->board->timber == NULL ? ", from hand" : "", continued ? ", continued" : "");
  if (s->board->timber != NULL)
    sw_text_printf (&text, ": %s", s->board->timber->name);
  if (text.failed)
    sw_sheet_fail (sheet, SW_NO_MEMORY);
  else
    sw_sheet_text (sheet, SW_SHEET_HEADING, SW_SHEET_LEFT, s->left, baseline, s->right - s->left - SW_SHEET_LEFT_OVER,
                   text.data);
  sw_sheet_text (sheet, SW_SHEET_SMALL, SW_SHEET_RIGHT, s->right, baseline, 0, "left over");
  sw_text_drop (&text);
}

double
sw_sheet_pile_height (const sw_sheet_stack *s)
{
  return (s->pile->heading ? SW_SHEET_STOCK_ROW : 0) + OVER + SW_SHEET_BAR + 1 + rows (s, 0, false)
         + origin (s, 0, false) + settings (s, 0, false) + APART;
}

/* Draw what stands beside the bar at Y. */
static void
draw_beside (const sw_sheet_stack *s, double y)
{
  sw_sheet *sheet = s->sheet;
  const bool keep = sw_board_is_kept (sheet->plan, s->board);
  const double baseline = y + SW_SHEET_BAR / 2 + 3.7;
  char length[SW_LENGTH_TEXT], text[SW_LENGTH_TEXT + 24];
  if (s->pile->continued && s->pile->count == 1)
    sw_sheet_text (sheet, SW_SHEET_SMALL, SW_SHEET_LEFT, s->left, y - 1, SW_SHEET_NUMBER, "still");
  if (s->pile->count == 1)
    draw_number (s, 0, baseline);
  else
    {
      snprintf (text, sizeof text, "%zu alike", s->pile->count);
      sw_sheet_text (sheet, SW_SHEET_SMALL, SW_SHEET_LEFT, s->left, baseline, SW_SHEET_NUMBER - 3, text);
    }
  sw_view_length (sheet->job, s->board->left, length);
  if (keep)
    sw_sheet_text (sheet, SW_SHEET_SMALL_STRONG, SW_SHEET_RIGHT, s->right, y + 7, 0, "keep");
  snprintf (text, sizeof text, "%s", s->board->left > 0 ? length : "nothing");
  sw_sheet_text (sheet, keep ? SW_SHEET_SMALL_STRONG : SW_SHEET_SMALL, SW_SHEET_RIGHT, s->right,
                 keep ? y + 17 : baseline, SW_SHEET_LEFT_OVER, text);
}

void
sw_sheet_pile_draw (const sw_sheet_stack *s, double y)
{
  if (s->sheet->cr == NULL)
    return;
  if (s->pile->heading)
    {
      sw_sheet_pile_stock (s, y + 11, false);
      y += SW_SHEET_STOCK_ROW;
    }
  y += OVER;
  draw_beside (s, y);
  sw_sheet_bar (s, y);
  y += SW_SHEET_BAR + 1;
  y += rows (s, y, true);
  y += origin (s, y, true);
  settings (s, y, true);
}
