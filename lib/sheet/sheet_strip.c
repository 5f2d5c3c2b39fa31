/* sheet_strip.c - one strip of a run in elevation
 *
 * From the top: post numbers, the levels (their timber in front of the
 * posts, as it is fixed), the ground, dimensions, rises, notes on the ends.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#include <math.h>
#include <stdio.h>

#define NUMBERS 15.0 /* row of post numbers */
#define OVER 5.0     /* posts stand this much above the top row */
#define UNDER 8.0    /* and the ground lies this much below the lowest */
#define BURIED 6.0

/* ---- Where things are ---- */

static double
rows_height (const sw_strip *strip)
{
  return OVER + SW_SHEET_PITCH * (double)(strip->row_end - strip->row_first) + UNDER;
}

double
sw_sheet_post_x (const sw_sheet_frame *f, size_t post)
{
  return f->x0 + f->e->at[post] - f->e->at[f->strip->first];
}

static double
ground_y (const sw_sheet_frame *f, double height)
{
  return f->ground - (height - f->strip->low);
}

double
sw_sheet_row_y (const sw_sheet_frame *f, size_t row, double height)
{
  return ground_y (f, height) - UNDER - SW_SHEET_PITCH * ((double)(row - f->strip->row_first) + 0.5);
}

/* How high the bay of this strip before POST, or the one after it, stands there. */
static double
low_side (const sw_sheet_frame *f, size_t post)
{
  double near = f->e->before[post], far = f->e->height[post];
  return post == f->strip->first ? far : post == f->strip->last ? near : fmin (near, far);
}

static double
high_side (const sw_sheet_frame *f, size_t post)
{
  double near = f->e->before[post], far = f->e->height[post];
  return post == f->strip->first ? far : post == f->strip->last ? near : fmax (near, far);
}

/* Top of the rows at a post. */
static double
rows_top (const sw_sheet_frame *f, size_t post)
{
  return sw_sheet_row_y (f, f->strip->row_end - 1, high_side (f, post)) - SW_SHEET_PITCH / 2 - OVER;
}

double
sw_sheet_bay_slope (const sw_elevation *e, size_t bay)
{
  double span = e->at[bay + 1] - e->at[bay];
  return span > 0 ? (e->before[bay + 1] - e->height[bay]) / span : 0;
}

double
sw_sheet_half_post (const sw_sheet_frame *f, size_t post)
{
  return fmax ((double)f->e->run->posts[post].width * f->e->scale / 2, 1.2);
}

/* ---- Posts, ground, gates ---- */

/* A post from its foot up; timber that is laid flat as the topmost lies on it, along the slope of either bay. */
static void
draw_post (const sw_sheet_frame *f, size_t post)
{
  const sw_elevation *e = f->e;
  size_t row = f->strip->row_end - 1;
  double x = sw_sheet_post_x (f, post), half = sw_sheet_half_post (f, post);
  double foot = ground_y (f, low_side (f, post)) + BURIED;
  double left = rows_top (f, post), middle = left, right = left;
  if (f->sheet->job->levels.items[e->levels[row]].seat == SW_SEAT_TOP)
    {
      left = middle = right = sw_sheet_row_y (f, row, high_side (f, post)) + SW_SHEET_BAND / 2;
      if (post > 0 && e->before[post] >= e->height[post])
        left += half * sw_sheet_bay_slope (e, post - 1);
      if (post < e->run->bay_count && e->height[post] >= e->before[post])
        right -= half * sw_sheet_bay_slope (e, post);
    }
  const double points[] = { x - half, foot, x - half, left, x, middle, x + half, right, x + half, foot };
  sw_sheet_polygon (f->sheet, points, 5, 1, 0.6);
}

static void
draw_posts (const sw_sheet_frame *f)
{
  for (size_t post = f->strip->first; post <= f->strip->last; post++)
    {
      double x = sw_sheet_post_x (f, post), half = sw_sheet_half_post (f, post);
      char number[32];
      snprintf (number, sizeof number, "%zu", post + 1);
      draw_post (f, post);
      sw_sheet_text (f->sheet, SW_SHEET_STRONG, SW_SHEET_CENTRE, x, rows_top (f, post) - 4, 0, number);
      if (post < f->strip->last)
        sw_sheet_line (f->sheet, x + half, ground_y (f, f->e->height[post]),
                       sw_sheet_post_x (f, post + 1) - sw_sheet_half_post (f, post + 1),
                       ground_y (f, f->e->before[post + 1]), 0.5);
    }
}

static void
draw_gate (const sw_sheet_frame *f, size_t bay)
{
  double x1 = sw_sheet_post_x (f, bay) + sw_sheet_half_post (f, bay) + 2,
         x2 = sw_sheet_post_x (f, bay + 1) - sw_sheet_half_post (f, bay + 1) - 2;
  double height = fmax (f->e->height[bay], f->e->before[bay + 1]);
  double foot = sw_sheet_row_y (f, f->strip->row_first, height) + SW_SHEET_BAND / 2;
  double top = sw_sheet_row_y (f, f->strip->row_end - 1, height) - SW_SHEET_BAND / 2;
  if (x2 <= x1)
    return;
  sw_sheet_dashed (f->sheet, x1, foot, x1, top, 0.8);
  sw_sheet_dashed (f->sheet, x2, foot, x2, top, 0.8);
  sw_sheet_dashed (f->sheet, x1, foot, x2, foot, 0.8);
  sw_sheet_dashed (f->sheet, x1, top, x2, top, 0.8);
  sw_sheet_dashed (f->sheet, x1, foot, x2, top, 0.8);
  double drawn = f->e->at[bay + 1] - f->e->at[bay];
  bool broken = drawn < (double)f->e->run->bays[bay].span * f->e->scale - 1;
  const char *text = broken ? "gate (drawn short)" : "gate";
  double half = sw_sheet_measure (f->sheet, SW_SHEET_BODY, text) / 2 + 3;
  double y = (foot + top) / 2, x = (x1 + x2) / 2;
  sw_sheet_box (f->sheet, x - half, y - 8, 2 * half, 16, 1, 0);
  sw_sheet_text (f->sheet, SW_SHEET_BODY, SW_SHEET_CENTRE, x, y + 3.6, 0, text);
}

/* ---- The strip ---- */

static sw_sheet_frame
frame_of (sw_sheet *sheet, const sw_elevation *elevation, const sw_strip *strip)
{
  sw_sheet_frame f = { .sheet = sheet, .e = elevation, .strip = strip, .top = sheet->y };
  f.x0 = sheet->left + SW_SHEET_NAMES + SW_SHEET_BEFORE + elevation->overhang;
  f.ground = f.top + NUMBERS + (strip->high - strip->low) + rows_height (strip);
  return f;
}

double
sw_sheet_strip_height (sw_sheet *sheet, const sw_elevation *elevation, sw_strip *strip)
{
  sw_sheet_frame f = frame_of (sheet, elevation, strip);
  sw_sheet_measure_rows (&f, strip);
  return NUMBERS + (strip->high - strip->low) + rows_height (strip) + BURIED + strip->dimensions
         + (strip->rises ? SW_SHEET_LINE : 0) + SW_SHEET_LINE * (double)strip->note_rows + 12;
}

static void
draw_names (const sw_sheet_frame *f)
{
  const sw_job *job = f->sheet->job;
  for (size_t row = f->strip->row_first; row < f->strip->row_end; row++)
    {
      const sw_level *item = &job->levels.items[f->e->levels[row]];
      double y = sw_sheet_row_y (f, row, f->e->height[f->strip->first]), limit = SW_SHEET_NAMES - 4;
      sw_text text = { 0 };
      sw_text_add (&text, job->sections.items[item->section].name);
      if (item->has_height)
        {
          char height[SW_LENGTH_TEXT];
          sw_view_length (f->sheet->job, item->height, height);
          sw_text_printf (&text, " at %s", height);
        }
      if (text.failed)
        f->sheet->status = SW_NO_MEMORY;
      else
        {
          sw_sheet_text (f->sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, f->sheet->left, y - 1, limit, item->name);
          sw_sheet_text (f->sheet, SW_SHEET_BODY, SW_SHEET_LEFT, f->sheet->left, y + 10, limit, text.data);
        }
      sw_text_drop (&text);
    }
}

/* Where a strip breaks off: the same letter at both ends. */
static void
draw_match (const sw_sheet_frame *f, size_t mark, size_t post, double side)
{
  if (mark == 0)
    return;
  char text[16] = "";
  size_t at = sizeof text - 1;
  for (size_t n = mark; n > 0 && at > 0; n = (n - 1) / 26)
    text[--at] = (char)('A' + (n - 1) % 26);
  double x = sw_sheet_post_x (f, post), top = rows_top (f, post);
  sw_sheet_dashed (f->sheet, x, top - 2, x, ground_y (f, low_side (f, post)) + BURIED, 1.2);
  sw_sheet_disc (f->sheet, x + side * 20, top - 7, 7, text + at);
}

void
sw_sheet_strip (sw_sheet *sheet, const sw_elevation *elevation, const sw_strip *strip)
{
  sw_sheet_frame f = frame_of (sheet, elevation, strip);
  double y = f.ground + BURIED;
  if (sheet->cr != NULL)
    {
      sw_sheet_clip (sheet, sheet->left, 0, sheet->right - sheet->left, sheet->height);
      draw_names (&f);
      draw_posts (&f);
      for (size_t bay = strip->first; bay < strip->last; bay++)
        if (elevation->run->bays[bay].opening)
          draw_gate (&f, bay);
      sw_sheet_timber (&f);
      draw_match (&f, strip->mark_first, strip->first, -1);
      draw_match (&f, strip->mark_last, strip->last, 1);
      sw_sheet_draw_rows (&f, y);
      sw_sheet_unclip (sheet);
    }
  y = f.ground + BURIED + strip->dimensions + (strip->rises ? SW_SHEET_LINE : 0);
  sheet->y = y + SW_SHEET_LINE * (double)strip->note_rows + 12;
}
