/* page_board.c - the boards of the page: each drawn, its pieces in the order of cutting
 *
 * Lengths are drawn in per cent of the longest board, heights and angled ends
 * in pixels, so that a drawing is as wide as the screen and its figures keep
 * their size.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "page/page.h"

#include "view/cuts.h"
#include "view/figures.h"

#include <inttypes.h>

/* Pixels: the height of the drawing, and that of the timber in it. */
#define TALL 38
#define THICK 30
#define TOP 4
#define BASE 25 /* base line of the figures */
/* How far an angled end is drawn back. */
#define SLANT 9
/* A piece shows figures of so many pixels a character, where they fit in a drawing 328 pixels wide. */
#define CHARACTER 9
#define NARROW 328

typedef struct drawing
{
  sw_text *out;
  const sw_plan *plan;
  const sw_board *board;
  sw_length whole; /* the longest board */
} drawing;

/* ---- How the saw is set ---- */

static void
add_mitre (sw_text *out, const sw_plan *plan, const sw_piece *piece, const char *end, int32_t saw, sw_side side)
{
  const sw_section *section = &plan->job->sections.items[piece->section];
  const bool flat = sw_cuts_flat (plan->job, piece);
  const sw_length through = flat ? section->width : section->thickness;
  char text[SW_VIEW_THOUSANDTHS];
  char back[SW_LENGTH_TEXT];
  if (saw == 0)
    return;
  sw_view_thousandths (saw, text);
  sw_text_printf (out, "%s: saw %s\xc2\xb0 through the %s, long point on the %s %s", end, text,
                  flat ? "width" : "thickness", side == SW_SIDE_OUTER ? "outer" : "inner", flat ? "edge" : "face");
  if (through > 0 && piece->plumb == 0)
    {
      sw_view_length (plan->job, sw_corner_short_point (through, saw), back);
      sw_text_printf (out, ", short point %s back", back);
    }
  sw_text_add (out, ".\n");
}

void
sw_page_saw (sw_text *out, const sw_plan *plan, const sw_piece *piece)
{
  char take[SW_LENGTH_TEXT];
  add_mitre (out, plan, piece, "Start", piece->start_saw, piece->start_long);
  add_mitre (out, plan, piece, "Finish", piece->finish_saw, piece->finish_long);
  if (piece->plumb == 0)
    return;
  sw_view_length (plan->job, piece->take, take);
  sw_text_add (out, "Ends plumb: it ");
  sw_view_slope (out, piece);
  sw_text_printf (out, " from its start, and takes %s of the board.\n", take);
}

void
sw_page_mishap (sw_text *out, const sw_plan *plan, size_t p)
{
  sw_text_printf (out, "<button type=\"button\" data-piece=\"%zu\" aria-label=\"Mishap: ", p);
  sw_page_text (out, plan->pieces[p].label);
  sw_text_add (out, "\" disabled>!</button>");
}

/* ---- The drawing ---- */

/* Add an attribute that is a length: NAME="12.5%". */
static void
add_length (const drawing *d, const char *name, sw_length length)
{
  sw_text_printf (d->out, " %s=\"", name);
  sw_page_percent (d->out, length, d->whole);
  sw_text_add (d->out, "\"");
}

/* Add TEXT in the middle of the WIDTH from AT on, where there is room for it even on a telephone. */
static void
add_figure (const drawing *d, const char *text, sw_length at, sw_length width)
{
  if ((sw_length)sw_text_width (text) * CHARACTER > width / (d->whole / NARROW + 1))
    return;
  sw_text_add (d->out, "<text");
  add_length (d, "x", at + width / 2);
  sw_text_printf (d->out, " y=\"%d\">%s</text>", BASE, text);
}

/* Add the corner that is sawn off at AT, of the upper or the lower edge as it is drawn, to the left or right of AT. */
static void
add_corner (const drawing *d, sw_length at, const char *kind, bool upper, bool leftward)
{
  const int back = leftward ? -SLANT : SLANT;
  sw_text_add (d->out, "<svg");
  add_length (d, "x", at);
  sw_text_printf (d->out, " y=\"%d\"><path%s d=\"M0 %dh%dL0 %dz\"/></svg>", TOP, kind, upper ? 0 : THICK, back,
                  upper ? THICK : 0);
}

/* Add the sawn ends.  The board is seen from above with the outer face (of timber laid flat: an edge) below; plumb cuts
 * are seen from the outside. */
static void
add_ends (const drawing *d, const sw_piece *piece, sw_length at, sw_length width)
{
  if (piece->plumb != 0)
    {
      add_corner (d, at, " class=\"q\"", !piece->falls, false);
      add_corner (d, at + width, " class=\"q\"", piece->falls, true);
    }
  if (piece->start_saw != 0)
    add_corner (d, at, "", piece->start_long == SW_SIDE_OUTER, false);
  if (piece->finish_saw != 0)
    add_corner (d, at + width, "", piece->finish_long == SW_SIDE_OUTER, true);
}

static void
add_rest (const drawing *d, sw_length at, sw_length end)
{
  char text[SW_LENGTH_TEXT];
  sw_text_printf (d->out, "<rect class=\"w%s\"", sw_board_is_kept (d->plan, d->board) ? " keep" : "");
  add_length (d, "x", at);
  add_length (d, "width", end - at);
  sw_text_printf (d->out, " y=\"%d\" height=\"%d\"/>", TOP, THICK);
  sw_view_length (d->plan->job, d->board->left, text);
  add_figure (d, text, at, end - at);
}

static void
add_drawing (const drawing *d)
{
  const sw_settings *settings = d->plan->job->settings;
  const sw_stock *stock = &d->plan->job->stocks.items[d->board->stock];
  const sw_length length = stock->length;
  const sw_length trim = sw_job_board_trim (d->plan->job, stock), end = length - trim;
  sw_length at = trim;
  sw_text_printf (d->out, "<div class=\"draw\"><svg aria-hidden=\"true\" width=\"100%%\" height=\"%d\">", TALL);
  if (at > 0)
    {
      sw_text_add (d->out, "<rect class=\"dock\" x=\"0\"");
      add_length (d, "width", length);
      sw_text_printf (d->out, " y=\"%d\" height=\"%d\"/>", TOP, THICK);
    }
  for (size_t c = 0; c < d->board->piece_count; c++)
    {
      const sw_piece *piece = &d->plan->pieces[d->board->pieces[c]];
      char text[SW_LENGTH_TEXT];
      sw_text_printf (d->out, "<g class=\"c\" id=\"s%zu\"><rect", d->board->pieces[c]);
      add_length (d, "x", at);
      add_length (d, "width", piece->take);
      sw_text_printf (d->out, " y=\"%d\" height=\"%d\"/>", TOP, THICK);
      add_ends (d, piece, at, piece->take);
      sw_view_length (d->plan->job, piece->cut, text);
      add_figure (d, text, at, piece->take);
      sw_text_add (d->out, "</g>");
      at += piece->take + settings->kerf;
    }
  if (at < end)
    add_rest (d, at, end);
  sw_text_add (d->out, "</svg></div>\n");
}

/* ---- The list ---- */

static void
add_piece (const drawing *d, size_t cut, sw_length left)
{
  const size_t p = d->board->pieces[cut];
  const sw_piece *piece = &d->plan->pieces[p];
  char text[SW_LENGTH_TEXT];
  sw_view_length (d->plan->job, piece->cut, text);
  sw_text_printf (d->out,
                  "<li class=\"row\" id=\"p%zu\"><label><input type=\"checkbox\" disabled><span class=\"t\">"
                  "<b class=\"n\">%s</b> <span class=\"label\">",
                  p, text);
  sw_page_label (d->out, piece->label);
  sw_text_add (d->out, "</span> <span class=\"s\"></span> ");
  if (piece->start_saw != 0 || piece->finish_saw != 0 || piece->plumb != 0)
    {
      sw_text_add (d->out, "<span class=\"rest saw\">");
      sw_page_saw (d->out, d->plan, piece);
      sw_text_add (d->out, "</span>");
    }
  sw_view_length (d->plan->job, left, text);
  sw_text_printf (d->out, "<span class=\"rest over\">left %s</span></span></label>", text);
  sw_page_mishap (d->out, d->plan, p);
  sw_text_add (d->out, "</li>\n");
}

static void
add_head (const drawing *d, size_t b)
{
  const sw_stock *stock = &d->plan->job->stocks.items[d->board->stock];
  char length[SW_LENGTH_TEXT];
  sw_view_stock (d->plan->job, stock->length, length);
  sw_text_printf (d->out,
                  "<li class=\"board\" id=\"b%zu\"><div class=\"head\"><label><input type=\"checkbox\" disabled>"
                  "<span class=\"t\"><b>Board %zu</b> <span class=\"stock\">",
                  b + 1, b + 1);
  sw_page_name (d->out, d->plan->job->sections.items[stock->section].name);
  sw_text_printf (d->out, ", %s%s", length, d->board->hand ? ", from hand" : "");
  if (d->board->timber != NULL && d->board->timber->name != NULL)
    {
      sw_text_add (d->out, d->board->timber->kind == SW_TIMBER_PIECE ? ": the piece " : ": ");
      sw_page_label (d->out, d->board->timber->name);
    }
  sw_text_printf (
      d->out,
      "</span><span class=\"s\"></span></span></label>"
      "<button type=\"button\" class=\"go\" data-go=\"%zu\" aria-label=\"Cut board %zu now\" disabled>Saw</button>"
      "<button type=\"button\" data-board=\"%zu\" aria-label=\"Mishap: board %zu\" disabled>!</button></div>\n",
      b + 1, b + 1, b + 1, b + 1);
}

static void
add_board (const drawing *d, size_t b)
{
  add_head (d, b);
  add_drawing (d);
  sw_text_add (d->out, "<ol>\n");
  /* Counted down here, not by sw_board_left_after each time, because a board may give hundreds of blocks. */
  sw_length left = sw_board_left_after (d->plan, d->board, 0);
  for (size_t c = 0; c < d->board->piece_count; c++)
    {
      const sw_length taken = d->plan->pieces[d->board->pieces[c]].take + d->plan->job->settings->kerf;
      left = taken < left ? left - taken : 0;
      add_piece (d, c, left);
    }
  sw_text_add (d->out, "</ol></li>\n");
}

sw_status
sw_page_boards (sw_text *out, const sw_plan *plan)
{
  const sw_job *job = plan->job;
  drawing d = { .out = out, .plan = plan };
  for (size_t b = 0; b < plan->board_count; b++)
    if (job->stocks.items[plan->boards[b].stock].length > d.whole)
      d.whole = job->stocks.items[plan->boards[b].stock].length;
  for (size_t b = 0; b < plan->board_count;)
    {
      const size_t section = job->stocks.items[plan->boards[b].stock].section;
      sw_text_add (out, "<h3>");
      sw_page_name (out, job->sections.items[section].name);
      sw_text_add (out, "</h3>\n<ul>\n");
      for (; b < plan->board_count && job->stocks.items[plan->boards[b].stock].section == section; b++)
        {
          d.board = &plan->boards[b];
          add_board (&d, b);
        }
      sw_text_add (out, "</ul>\n");
    }
  return out->failed ? SW_NO_MEMORY : SW_OK;
}
