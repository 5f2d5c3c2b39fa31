/* sheet_key.c - what the signs of the sheet mean
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet.h"

#include "view/cuts.h"

#include <math.h>

#define SIGN 62.0 /* points for a sign, left of its words */
#define ROW 21.0
#define COLUMNS 2
#define GAP 24.0

/* What the plan's drawings need in the key. */
typedef struct needs
{
  bool fence;
  bool joins;
  bool stopped;
  bool through;
  bool blocks;
  bool outer; /* some mitre has its long point on the outer face, or on the inner face */
  bool inner;
  bool steps;
  bool marks; /* some level has a height */
} needs;

static needs
find_needs (const sw_sheet *sheet)
{
  const sw_plan *plan = sheet->plan;
  const sw_fence *fence = &sheet->job->fence;
  needs n = { .fence = fence->run_count > 0 };
  for (size_t l = 0; l < sheet->job->levels.count; l++)
    n.marks = n.marks || sheet->job->levels.items[l].has_height;
  for (size_t i = 0; i < plan->piece_count; i++)
    {
      const sw_piece *piece = &plan->pieces[i];
      n.joins = n.joins || (piece->kind == SW_PIECE_THROUGH && piece->finish_end == SW_END_ON);
      n.blocks = n.blocks || piece->kind == SW_PIECE_BLOCK;
      n.outer = n.outer || piece->start_long == SW_SIDE_OUTER || piece->finish_long == SW_SIDE_OUTER;
      n.inner = n.inner || piece->start_long == SW_SIDE_INNER || piece->finish_long == SW_SIDE_INNER;
    }
  for (size_t r = 0; r < fence->run_count; r++)
    for (size_t post = 0; post <= fence->runs[r].bay_count; post++)
      {
        n.steps = n.steps || (post > 0 && fence->runs[r].bays[post - 1].step != 0);
        for (size_t l = 0; l < sheet->job->levels.count; l++)
          {
            const sw_mark *mark = sw_setout_mark (&sheet->setout, r, post, l);
            n.stopped = n.stopped || mark->housing == SW_HOUSING_STOPPED;
            n.through = n.through || mark->housing == SW_HOUSING_THROUGH;
          }
      }
  return n;
}

/* Draws a sign in SIGN points from X on, about the middle line Y. */
typedef void (*sign_fn) (sw_sheet *sheet, double x, double y);

static void
piece_sign (sw_sheet *sheet, double x, double y)
{
  sw_sheet_box (sheet, x, y - 7.5, SIGN - 8, 15, 1, 0.9);
  sw_sheet_tick_box (sheet, x + 4, y + 3.6);
  sw_sheet_text (sheet, SW_SHEET_SMALL_STRONG, SW_SHEET_LEFT, x + 16, y + 3, 0, "1-3");
  sw_sheet_ring (sheet, SW_SHEET_SMALL_STRONG, x + SIGN - 17, y, 6);
}

static void
join_sign (sw_sheet *sheet, double x, double y)
{
  sw_sheet_box (sheet, x, y - 5, 26, 10, 1, 0.9);
  sw_sheet_box (sheet, x + 26, y - 5, 26, 10, 0.84, 0.9);
  sw_sheet_line (sheet, x + 26, y - 8, x + 26, y + 8, 2.6);
}

static void
depth_sign (sw_sheet *sheet, double x, double y)
{
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, x, y + 3.7, 0, "depth 33");
}

static void
stopped_sign (sw_sheet *sheet, double x, double y)
{
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, x, y + 3.7, 0, "st 41");
}

static void
step_sign (sw_sheet *sheet, double x, double y)
{
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, x, y + 3.7, 0, "0|300");
}

static void
block_sign (sw_sheet *sheet, double x, double y)
{
  sw_sheet_box (sheet, x, y - 7.5, SIGN - 8, 15, 1, 0.9);
  sw_sheet_block_sign (sheet, x, y - 7.5, 6, 11);
  sw_sheet_block_sign (sheet, x + SIGN - 14, y - 7.5, 6, 11);
}

static void
outer_sign (sw_sheet *sheet, double x, double y)
{
  sw_sheet_box (sheet, x, y - 6, 40, 12, 1, 0.9);
  sw_sheet_dashed (sheet, x + 29, y - 6, x + 29, y + 6, 0.8);
}

static void
inner_sign (sw_sheet *sheet, double x, double y)
{
  sw_sheet_box (sheet, x, y - 6, 40, 12, 1, 0.9);
  sw_sheet_box (sheet, x + 29, y - 6, 11, 12, 0.5, 0.9);
}

static void
tape_sign (sw_sheet *sheet, double x, double y)
{
  const double sign[] = { x + 50, y - 6, x + 47, y - 9, x + 53, y - 9 };
  sw_sheet_box (sheet, x, y - 6, 50, 13, 1, 0.9);
  sw_sheet_line (sheet, x + 50, y - 6, x + 50, y + 7, 1.2);
  sw_sheet_polygon (sheet, sign, 3, 0, 0);
  sw_sheet_text (sheet, SW_SHEET_SMALL, SW_SHEET_RIGHT, x + 46, y + 3.2, 0, "4808");
}

static void
mark_sign (sw_sheet *sheet, double x, double y)
{
  sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, x, y + 3.7, 0, "A2 1-3");
}

static void
stick_sign (sw_sheet *sheet, double x, double y)
{
  sw_sheet_box (sheet, x + 4, y - 8, 8, 16, 1, 0.8);
  sw_sheet_box (sheet, x + 4, y - 5, 8, 4, 0.84, 0.5);
  sw_sheet_line (sheet, x + 2, y - 1, x + 12, y - 1, 1.1);
}

/* A sign and its words, shown where the plan needs it. */
typedef struct explained
{
  bool needed;
  sign_fn draw;
  const char *words;
} explained;

void
sw_sheet_key (sw_sheet *sheet)
{
  const needs n = find_needs (sheet);
  const explained all[] = {
    { true, mark_sign,
      "to be pencilled on the piece: run A, second level from the ground, posts 1 to 3 (b1: the first fixing block "
      "there; +1: the first of the other pieces)" },
    { true, tape_sign, "where the tape is at the saw cut, from the board's left end; the box is ticked when cut" },
    { n.fence, piece_sign, "a piece from post 1 to 3, with its length, out of board 7; ticked when fixed" },
    { n.joins, join_sign, "two pieces meet on the centre of the post" },
    { n.through, depth_sign,
      "the post is checked right across, 33 deep (across: as deep as the timber is thick; face: not at all, it is "
      "nailed on)" },
    { n.stopped, stopped_sign, "a stopped housing, 41 deep, for the end of the timber" },
    { n.blocks, block_sign, "fixing blocks behind the ends of the timber" },
    { n.outer, outer_sign, "at a corner: long point on this side; dashed: the short point behind" },
    { n.inner, inner_sign,
      "at a corner: short point on this side; dark: the cut that slopes to the long point behind" },
    { n.steps, step_sign, "before the step | after it" },
    { n.marks, stick_sign, "the marked stick, its foot on the datum: underside and top of each level" },
  };
  const double column = (sheet->right - sheet->left + GAP) / COLUMNS - GAP;
  size_t count = 0, shown = 0;
  double row = ROW;
  for (size_t i = 0; i < sizeof all / sizeof *all; i++)
    {
      if (!all[i].needed)
        continue;
      row = fmax (row, sw_sheet_paragraph_height (sheet, SW_SHEET_SMALL, column - SIGN, all[i].words) + 2);
      count++;
    }
  const size_t rows = (count + COLUMNS - 1) / COLUMNS;
  sw_sheet_need (sheet, SW_SHEET_LINE + 2 + row * (double)rows);
  sheet->key_page = sheet->page;
  sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, sheet->left, sheet->y + 11, 0, "Key");
  sheet->y += SW_SHEET_LINE + 2;
  for (size_t i = 0; i < sizeof all / sizeof *all; i++)
    {
      if (!all[i].needed)
        continue;
      const double x = sheet->left + (column + GAP) * (double)(shown / rows);
      const double y = sheet->y + row * ((double)(shown % rows) + 0.5);
      if (sheet->cr != NULL)
        all[i].draw (sheet, x, y);
      const double high = sw_sheet_paragraph_height (sheet, SW_SHEET_SMALL, column - SIGN, all[i].words);
      sw_sheet_paragraph (sheet, SW_SHEET_SMALL, x + SIGN, y - high / 2, column - SIGN, all[i].words);
      shown++;
    }
  sheet->y += row * (double)rows + 4;
}
