/* sheet_stand.c - what the timber of a block stands on: posts, ground, gates
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#include <math.h>
#include <stdio.h>

/* Draw a post from its foot up.  Where the topmost timber is laid flat, it lies on the post along the slope of either
 * bay. */
static void
draw_post (const sw_sheet_frame *f, size_t post)
{
  const sw_elevation *e = f->e;
  size_t row = f->block->row_end - 1;
  double x = sw_sheet_post_x (f, post), half = sw_sheet_half_post (f, post);
  double foot = sw_sheet_ground_y (f, sw_sheet_low_side (f, post)) + SW_SHEET_BURIED;
  double left = sw_sheet_rows_top (f, post), middle = left, right = left;
  if (f->sheet->job->levels.items[e->levels[row]].seat == SW_SEAT_TOP)
    {
      left = middle = right = sw_sheet_row_y (f, row, sw_sheet_high_side (f, post)) + SW_SHEET_BAND / 2;
      if (post > 0 && e->before[post] >= e->height[post])
        left += half * sw_sheet_bay_slope (e, post - 1);
      if (post < e->run->bay_count && e->height[post] >= e->before[post])
        right -= half * sw_sheet_bay_slope (e, post);
    }
  const double points[] = { x - half, foot, x - half, left, x, middle, x + half, right, x + half, foot };
  sw_sheet_polygon (f->sheet, points, 5, 1, 0.6);
}

static void
draw_gate (const sw_sheet_frame *f, size_t bay)
{
  double x1 = sw_sheet_post_x (f, bay) + sw_sheet_half_post (f, bay) + 2,
         x2 = sw_sheet_post_x (f, bay + 1) - sw_sheet_half_post (f, bay + 1) - 2;
  double height = fmax (f->e->height[bay], f->e->before[bay + 1]);
  double foot = sw_sheet_row_y (f, f->block->row_first, height) + SW_SHEET_BAND / 2;
  double top = sw_sheet_row_y (f, f->block->row_end - 1, height) - SW_SHEET_BAND / 2;
  if (x2 <= x1)
    return;
  sw_sheet_dashed (f->sheet, x1, foot, x1, top, 0.8);
  sw_sheet_dashed (f->sheet, x2, foot, x2, top, 0.8);
  sw_sheet_dashed (f->sheet, x1, foot, x2, foot, 0.8);
  sw_sheet_dashed (f->sheet, x1, top, x2, top, 0.8);
  sw_sheet_dashed (f->sheet, x1, foot, x2, top, 0.8);
  const char *text = sw_elevation_is_broken (f->e, bay) && x2 - x1 > 100 ? "gate (drawn short)" : "gate";
  double half = sw_sheet_measure (f->sheet, SW_SHEET_BODY, text) / 2 + 3;
  double y = (foot + top) / 2, x = (x1 + x2) / 2;
  if (2 * half > x2 - x1)
    return;
  sw_sheet_box (f->sheet, x - half, y - 8, 2 * half, 16, 1, 0);
  sw_sheet_text (f->sheet, SW_SHEET_BODY, SW_SHEET_CENTRE, x, y + 3.6, 0, text);
}

void
sw_sheet_stand (const sw_sheet_frame *f)
{
  for (size_t post = f->block->first; post <= f->block->last; post++)
    {
      double x = sw_sheet_post_x (f, post), half = sw_sheet_half_post (f, post);
      char number[32];
      snprintf (number, sizeof number, "%zu", post + 1);
      draw_post (f, post);
      sw_sheet_text (f->sheet, SW_SHEET_LARGE, SW_SHEET_CENTRE, x, sw_sheet_rows_top (f, post) - 3, 0, number);
      if (post < f->block->last)
        sw_sheet_line (f->sheet, x + half, sw_sheet_ground_y (f, f->e->height[post]),
                       sw_sheet_post_x (f, post + 1) - sw_sheet_half_post (f, post + 1),
                       sw_sheet_ground_y (f, f->e->before[post + 1]), 0.5);
    }
  for (size_t bay = f->block->first; bay < f->block->last; bay++)
    if (f->e->run->bays[bay].opening)
      draw_gate (f, bay);
}

static void
draw_match (const sw_sheet_frame *f, size_t mark, size_t post, double side)
{
  if (mark == 0)
    return;
  char text[16] = "";
  size_t at = sizeof text - 1;
  for (size_t n = mark; n > 0 && at > 0; n = (n - 1) / 26)
    text[--at] = (char)('a' + (n - 1) % 26);
  char number[32];
  snprintf (number, sizeof number, "%zu", post + 1);
  const double aside = sw_sheet_measure (f->sheet, SW_SHEET_LARGE, number) / 2 + 10;
  double x = sw_sheet_post_x (f, post), top = sw_sheet_rows_top (f, post);
  sw_sheet_dashed (f->sheet, x, top - 2, x, sw_sheet_ground_y (f, sw_sheet_low_side (f, post)) + SW_SHEET_BURIED, 1.2);
  sw_sheet_disc (f->sheet, x + side * aside, top - 7, 7, text + at);
}

void
sw_sheet_matches (const sw_sheet_frame *f)
{
  draw_match (f, f->block->mark_first, f->block->first, -1);
  draw_match (f, f->block->mark_last, f->block->last, 1);
}
