/* sheet_boards.c - boards as bars to scale, with their cuts
 *
 * Boards that are sawn alike are drawn once; each keeps its own box to tick
 * and its own piece labels.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_board.h"

#include "view/cuts.h"

#include <math.h>
#include <stdio.h>

#define BAR SW_SHEET_BAR
#define NUMBER 52.0 /* points for box and board number, left of the bar */
#define ROW 15.0
#define GRID_NUMBER 38.0 /* the same, where several boards stand in a row */
#define GRID_GAP 26.0

/* ---- A group ---- */

typedef enum rows
{
  ROWS_UNDER, /* a row a board, each label under its piece of the bar */
  ROWS_GRID,  /* several boards in a row */
  ROWS_FLOW   /* labels one after the other */
} rows;

typedef struct group
{
  sw_sheet *sheet;
  size_t first; /* of the plan's boards */
  size_t count;
  const sw_board *board; /* the first: all are sawn like it */
  const sw_stock *stock;
  double scale; /* points a nanometre */
  rows rows;
  double cell; /* width of one in the grid */
} group;

/* Points for what is left over, right of the bar: "keep 617.5", "keep 24 13/16". */
static double
left_over (const sw_sheet *sheet)
{
  return sheet->job->settings->inches ? 98 : 76;
}

static double
bar_left (const group *g)
{
  return g->sheet->left + NUMBER;
}

static const sw_piece *
cut_piece (const group *g, size_t which, size_t cut)
{
  const sw_plan *plan = g->sheet->plan;
  return &plan->pieces[plan->boards[g->first + which].pieces[cut]];
}

/* ---- The bar ---- */

/* Points from PIECE's beginning to its end on the bar, its saw cut apart. */
static double
cut_length (const group *g, const sw_piece *piece)
{
  return ((double)piece->take - sw_sheet_wider_kerf (g->sheet, piece)) * g->scale;
}

/* What is docked off each end of the group's boards. */
static sw_length
trim_of (const group *g)
{
  return sw_job_trim (g->sheet->job, g->stock->section);
}

static void
draw_bar (const group *g, double y)
{
  const sw_settings *settings = g->sheet->job->settings;
  double x0 = bar_left (g), whole = (double)g->stock->length * g->scale, trim = (double)trim_of (g) * g->scale;
  double left = (double)g->board->left * g->scale, end = x0 + whole - trim;
  if (g->sheet->cr == NULL)
    return;
  sw_sheet_hatch (g->sheet, x0, y, trim, BAR);
  sw_sheet_hatch (g->sheet, end, y, trim, BAR);
  if (!sw_board_is_kept (g->sheet->plan, g->board))
    sw_sheet_hatch (g->sheet, end - left, y, left, BAR);
  else
    {
      char length[SW_LENGTH_TEXT], text[SW_LENGTH_TEXT + 8];
      sw_view_length (g->sheet->job, g->board->left, length);
      snprintf (text, sizeof text, "keep %s", length);
      if (sw_sheet_measure (g->sheet, SW_SHEET_BODY, text) + 8 <= left)
        sw_sheet_text (g->sheet, SW_SHEET_BODY, SW_SHEET_CENTRE, end - left / 2, y + BAR / 2 + 3.7, 0, text);
    }
  sw_sheet_box (g->sheet, x0, y, whole, BAR, -1, 1);
  sw_length at = trim_of (g);
  for (size_t cut = 0; cut < g->board->piece_count; cut++)
    {
      const sw_piece *piece = cut_piece (g, 0, cut);
      double x1 = x0 + (double)at * g->scale, x2 = x1 + cut_length (g, piece);
      double wide = ((double)settings->kerf + sw_sheet_wider_kerf (g->sheet, piece)) * g->scale;
      sw_sheet_cut (g->sheet, piece, x1, x2, y);
      /* The saw cut: never so thin that it is lost, none where the piece ends with the board. */
      if (x2 < end - 0.01)
        sw_sheet_saw_cut (g->sheet, piece, x1, x2, y, fmax (wide, 1));
      at += piece->take + settings->kerf;
    }
}

/* ---- Heads ---- */

/* "75x38, 5.4 m, from hand": over the boards of one stock. */
static void
draw_stock (const group *g, bool continued)
{
  sw_sheet *sheet = g->sheet;
  char length[SW_LENGTH_TEXT];
  sw_text text = { 0 };
  sw_view_stock (sheet->job, g->stock->length, length);
  sw_text_printf (&text, "%s, %s%s%s", sheet->job->sections.items[g->stock->section].name, length,
                  g->board->hand ? ", from hand" : "", continued ? ", continued" : "");
  sheet->y += SW_SHEET_LINE + 2;
  if (text.failed)
    sheet->status = SW_NO_MEMORY;
  else
    sw_sheet_text (sheet, SW_SHEET_HEADING, SW_SHEET_LEFT, sheet->left, sheet->y,
                   sheet->right - sheet->left - left_over (sheet), text.data);
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, sheet->right, sheet->y, 0, "left over");
  sheet->y += 8;
  sw_text_drop (&text);
}

/* The bar has no room for some of its lengths. */
static bool
bar_is_crowded (const group *g)
{
  for (size_t cut = 0; cut < g->board->piece_count; cut++)
    if (cut_length (g, cut_piece (g, 0, cut)) < 14)
      return true;
  return false;
}

/* So they stand under it in words: "1 of 2573, 14 of 50". */
static void
draw_lengths (const group *g)
{
  char length[SW_LENGTH_TEXT];
  sw_text text = { 0 };
  for (size_t first = 0, end; first < g->board->piece_count; first = end)
    {
      end = first;
      while (end < g->board->piece_count && cut_piece (g, 0, end)->cut == cut_piece (g, 0, first)->cut)
        end++;
      sw_view_length (g->sheet->job, cut_piece (g, 0, first)->cut, length);
      sw_text_printf (&text, "%s%zu of %s", first > 0 ? ", " : "", end - first, length);
    }
  if (text.failed)
    g->sheet->status = SW_NO_MEMORY;
  else
    sw_sheet_text (g->sheet, SW_SHEET_BODY, SW_SHEET_LEFT, bar_left (g), g->sheet->y + 11,
                   g->sheet->right - bar_left (g), text.data);
  g->sheet->y += ROW;
  sw_text_drop (&text);
}

/* The next cut from FIRST on that is the first that is sawn as it is, at an angle; the board's count: none. */
static size_t
next_setting (const group *g, size_t first)
{
  for (size_t cut = first; cut < g->board->piece_count; cut++)
    {
      const sw_piece *piece = cut_piece (g, 0, cut);
      size_t before = 0;
      while (before < cut && !sw_sheet_sawn_alike (g->sheet->job, cut_piece (g, 0, before), piece))
        before++;
      if (sw_sheet_is_angled (piece) && before == cut)
        return cut;
    }
  return g->board->piece_count;
}

/* "Cuts 1, 3-5: plumb 3.6 degrees ...": all cuts that are sawn as cut FIRST. */
static void
setting_text (const group *g, size_t first, sw_text *out)
{
  const sw_board *board = g->board;
  size_t count = 0;
  sw_text numbers = { 0 };
  for (size_t cut = first, end; cut < board->piece_count; cut = end)
    {
      end = cut;
      while (end < board->piece_count
             && sw_sheet_sawn_alike (g->sheet->job, cut_piece (g, 0, first), cut_piece (g, 0, end)))
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
  sw_sheet_saw_words (out, g->sheet->job, cut_piece (g, 0, first));
}

/* A single row of labels stands nearer to the bar than how it is sawn. */
static bool
angles_last (const group *g)
{
  return g->rows == ROWS_UNDER && g->count == 1;
}

/* How the saw is set for the cuts at an angle: from sheet->y on, or only how high that is. */
static double
angles (const group *g, bool draw)
{
  sw_sheet *sheet = g->sheet;
  double height = 0, width = sheet->right - bar_left (g);
  sw_text text = { 0 };
  for (size_t cut = next_setting (g, 0); cut < g->board->piece_count; cut = next_setting (g, cut + 1))
    {
      setting_text (g, cut, &text);
      if (text.failed)
        {
          sheet->status = SW_NO_MEMORY;
          break;
        }
      if (draw)
        sw_sheet_paragraph (sheet, SW_SHEET_BODY, bar_left (g), sheet->y + height, width, text.data);
      height += sw_sheet_paragraph_height (sheet, SW_SHEET_BODY, width, text.data);
    }
  sw_text_drop (&text);
  return height;
}

static void
draw_number (const group *g, size_t which, double x, double baseline)
{
  char number[32];
  snprintf (number, sizeof number, "%zu", g->first + which + 1);
  sw_sheet_tick_box (g->sheet, x, baseline);
  sw_sheet_text (g->sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, x + 14, baseline, 0, number);
}

/* The bar, what stands at its left and right, and sheet->y under it. */
static void
draw_head (const group *g)
{
  sw_sheet *sheet = g->sheet;
  bool keep = sw_board_is_kept (sheet->plan, g->board);
  double baseline = sheet->y + BAR / 2 + 3.7;
  char length[SW_LENGTH_TEXT], text[SW_LENGTH_TEXT + 24];
  if (g->count == 1)
    draw_number (g, 0, sheet->left, baseline);
  else
    {
      snprintf (text, sizeof text, "%zu alike", g->count);
      sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, sheet->left, baseline, NUMBER - 4, text);
    }
  draw_bar (g, sheet->y);
  sw_view_length (sheet->job, g->board->left, length);
  snprintf (text, sizeof text, "%s%s", keep ? "keep " : "", g->board->left > 0 ? length : "nothing");
  sw_sheet_text (sheet, keep ? SW_SHEET_STRONG : SW_SHEET_BODY, SW_SHEET_RIGHT, sheet->right, baseline,
                 left_over (sheet) - 6, text);
  sheet->y += BAR + 2;
  if (bar_is_crowded (g))
    draw_lengths (g);
  if (!angles_last (g))
    sheet->y += angles (g, true);
}

/* ---- Rows ---- */

/* Room for HEIGHT more, under the same bar again where the page is full. */
static void
need_row (const group *g, double height)
{
  if (!sw_sheet_need (g->sheet, height))
    return;
  draw_stock (g, true);
  draw_head (g);
}

/* The number of a board whose bar is not its own. */
static void
draw_row_number (const group *g, size_t which, double x, double baseline)
{
  if (g->count > 1)
    draw_number (g, which, x, baseline);
}

static void
draw_rows_under (const group *g)
{
  const sw_settings *settings = g->sheet->job->settings;
  for (size_t which = 0; which < g->count && sw_sheet_goes_on (g->sheet); which++)
    {
      need_row (g, ROW);
      double y = g->sheet->y, baseline = y + 11;
      draw_row_number (g, which, g->sheet->left, baseline);
      sw_length at = trim_of (g);
      for (size_t cut = 0; cut < g->board->piece_count; cut++)
        {
          const sw_piece *piece = cut_piece (g, which, cut);
          double x1 = bar_left (g) + (double)at * g->scale, x2 = x1 + cut_length (g, piece);
          sw_sheet_text (g->sheet, SW_SHEET_STRONG, SW_SHEET_CENTRE, (x1 + x2) / 2, baseline, 0, piece->label);
          sw_sheet_line (g->sheet, x2, y - 2, x2, y + ROW - 2, 0.4);
          at += piece->take + settings->kerf;
        }
      g->sheet->y += ROW;
    }
}

static void
draw_rows_grid (const group *g)
{
  size_t columns = (size_t)((g->sheet->right - g->sheet->left + GRID_GAP) / g->cell);
  for (size_t which = 0; which < g->count && sw_sheet_goes_on (g->sheet); which++)
    {
      size_t column = which % columns;
      if (column == 0)
        need_row (g, ROW);
      double x = g->sheet->left + (double)column * g->cell, baseline = g->sheet->y + 11;
      draw_row_number (g, which, x, baseline);
      x += GRID_NUMBER;
      for (size_t cut = 0; cut < g->board->piece_count; cut++)
        {
          const char *label = cut_piece (g, which, cut)->label;
          if (cut > 0)
            sw_sheet_line (g->sheet, x - 6, baseline - 9, x - 6, baseline + 2, 0.6);
          sw_sheet_text (g->sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, x, baseline, 0, label);
          x += sw_sheet_measure (g->sheet, SW_SHEET_STRONG, label) + 12;
        }
      if (column == columns - 1 || which == g->count - 1)
        g->sheet->y += ROW;
    }
}

static void
draw_rows_flow (const group *g)
{
  sw_sheet *sheet = g->sheet;
  double x0 = bar_left (g), room = sheet->right - x0;
  for (size_t which = 0; which < g->count && sw_sheet_goes_on (g->sheet); which++)
    {
      double x = x0;
      need_row (g, ROW);
      draw_row_number (g, which, sheet->left, sheet->y + 11);
      for (size_t cut = 0; cut < g->board->piece_count; cut++)
        {
          const char *label = cut_piece (g, which, cut)->label;
          double width = sw_sheet_measure (sheet, SW_SHEET_STRONG, label);
          if (x > x0 && x + width > sheet->right)
            {
              sheet->y += ROW;
              x = x0;
              need_row (g, ROW);
            }
          if (width > room)
            {
              double height = sw_sheet_paragraph_height (sheet, SW_SHEET_STRONG, room, label) + 2;
              need_row (g, height);
              sw_sheet_paragraph (sheet, SW_SHEET_STRONG, x0, sheet->y, room, label);
              sheet->y += height;
              continue;
            }
          if (x > x0)
            sw_sheet_line (sheet, x - 6, sheet->y + 2, x - 6, sheet->y + 13, 0.6);
          sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, x, sheet->y + 11, 0, label);
          x += width + 12;
        }
      if (x > x0)
        sheet->y += ROW;
    }
}

/* How the group's labels are best set out; also the grid's cell. */
static void
choose_rows (group *g)
{
  bool under = g->board->piece_count > 1 || g->count == 1;
  g->cell = 0;
  for (size_t which = 0; which < g->count; which++)
    {
      double wide = GRID_NUMBER + GRID_GAP - 12;
      for (size_t cut = 0; cut < g->board->piece_count; cut++)
        {
          const sw_piece *piece = cut_piece (g, which, cut);
          double label = sw_sheet_measure (g->sheet, SW_SHEET_STRONG, piece->label);
          under = under && label + 4 <= cut_length (g, piece);
          wide += label + 12;
        }
      g->cell = fmax (g->cell, wide);
    }
  g->rows = under ? ROWS_UNDER : g->cell <= g->sheet->right - g->sheet->left + GRID_GAP ? ROWS_GRID : ROWS_FLOW;
}

static bool
is_first_of_stock (const group *g)
{
  const sw_board *boards = g->sheet->plan->boards;
  return g->first == 0 || boards[g->first - 1].stock != g->board->stock || boards[g->first - 1].hand != g->board->hand;
}

static void
draw_group (group *g)
{
  double height = BAR + 2 + ROW + (bar_is_crowded (g) ? ROW : 0) + angles (g, false);
  choose_rows (g);
  if (is_first_of_stock (g))
    {
      sw_sheet_need (g->sheet, SW_SHEET_LINE + 10 + height);
      draw_stock (g, false);
    }
  else if (sw_sheet_need (g->sheet, height))
    draw_stock (g, true);
  draw_head (g);
  if (g->rows == ROWS_UNDER)
    draw_rows_under (g);
  else if (g->rows == ROWS_GRID)
    draw_rows_grid (g);
  else
    draw_rows_flow (g);
  if (angles_last (g))
    g->sheet->y += angles (g, true);
  g->sheet->y += 9;
}

void
sw_sheet_boards (sw_sheet *sheet)
{
  const sw_plan *plan = sheet->plan;
  const sw_job *job = sheet->job;
  if (plan->board_count == 0)
    return;
  sw_length longest = 0;
  for (size_t i = 0; i < plan->board_count; i++)
    {
      sw_length length = job->stocks.items[plan->boards[i].stock].length;
      longest = length > longest ? length : longest;
    }
  char kerf[SW_LENGTH_TEXT], note[160];
  sw_view_length (job, job->settings->kerf, kerf);
  snprintf (note, sizeof note,
            "cut from left to right;  lengths in %s, to the long point;  saw cut %s;  hatched: waste",
            job->settings->inches ? "inches" : "mm", kerf);
  sw_sheet_new_part (sheet, "Boards", note, "cuts.csv");
  sw_sheet_saw_key (sheet);
  for (size_t first = 0; first < plan->board_count && sw_sheet_goes_on (sheet);)
    {
      group g = { .sheet = sheet, .first = first, .count = sw_cuts_alike (plan, first), .board = &plan->boards[first] };
      g.stock = &job->stocks.items[g.board->stock];
      g.scale = (sheet->right - sheet->left - NUMBER - left_over (sheet)) / (double)longest;
      draw_group (&g);
      first += g.count;
    }
}
