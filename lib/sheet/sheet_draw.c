/* sheet_draw.c - lines and shapes on the sheet
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet.h"

#include <math.h>
#include <stdio.h>

void
sw_sheet_line (sw_sheet *sheet, double x1, double y1, double x2, double y2, double thick)
{
  if (sheet->cr == NULL)
    return;
  cairo_move_to (sheet->cr, x1, y1);
  cairo_line_to (sheet->cr, x2, y2);
  cairo_set_line_width (sheet->cr, thick);
  cairo_stroke (sheet->cr);
}

void
sw_sheet_dashed (sw_sheet *sheet, double x1, double y1, double x2, double y2, double thick)
{
  if (sheet->cr == NULL)
    return;
  /* A short line needs short dashes to look dashed. */
  const bool small = hypot (x2 - x1, y2 - y1) < 12;
  const double dash[] = { small ? 1.4 : 4, small ? 1.1 : 3 };
  cairo_set_dash (sheet->cr, dash, 2, 0);
  sw_sheet_line (sheet, x1, y1, x2, y2, thick);
  cairo_set_dash (sheet->cr, NULL, 0, 0);
}

void
sw_sheet_polygon (sw_sheet *sheet, const double *points, size_t count, double grey, double thick)
{
  cairo_t *cr = sheet->cr;
  if (cr == NULL || count == 0)
    return;
  cairo_move_to (cr, points[0], points[1]);
  for (size_t i = 1; i < count; i++)
    cairo_line_to (cr, points[2 * i], points[2 * i + 1]);
  cairo_close_path (cr);
  if (grey >= 0)
    {
      cairo_set_source_rgb (cr, grey, grey, grey);
      cairo_fill_preserve (cr);
      cairo_set_source_rgb (cr, 0, 0, 0);
    }
  if (thick > 0)
    {
      cairo_set_line_width (cr, thick);
      cairo_stroke_preserve (cr);
    }
  cairo_new_path (cr);
}

void
sw_sheet_box (sw_sheet *sheet, double x, double y, double width, double height, double grey, double thick)
{
  const double corners[] = { x, y, x + width, y, x + width, y + height, x, y + height };
  sw_sheet_polygon (sheet, corners, 4, grey, thick);
}

void
sw_sheet_hatch (sw_sheet *sheet, double x, double y, double width, double height)
{
  cairo_t *cr = sheet->cr;
  if (cr == NULL || width <= 0 || height <= 0)
    return;
  const double pitch = 6;
  const int lines = (int)ceil ((width + height) / pitch - 0.5);
  for (int i = 0; i < lines; i++)
    {
      const double at = (i + 0.5) * pitch;
      /* Each line runs from the top or the right edge down to the left edge or the foot. */
      double x1 = fmin (at, width), y1 = at - x1;
      double y2 = fmin (at, height), x2 = at - y2;
      cairo_move_to (cr, x + x1, y + y1);
      cairo_line_to (cr, x + x2, y + y2);
    }
  cairo_set_line_width (cr, 0.5);
  cairo_stroke (cr);
}

void
sw_sheet_disc (sw_sheet *sheet, double x, double y, double radius, const char *text)
{
  cairo_t *cr = sheet->cr;
  if (cr == NULL)
    return;
  double half = fmax (radius, sw_sheet_measure (sheet, SW_SHEET_STRONG, text) / 2 + 3);
  cairo_new_path (cr);
  cairo_arc (cr, x + half - radius, y, radius, -G_PI / 2, G_PI / 2);
  cairo_arc (cr, x - half + radius, y, radius, G_PI / 2, 3 * G_PI / 2);
  cairo_close_path (cr);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  sw_sheet_text_turned (sheet, SW_SHEET_STRONG, x, y, 0, text);
  cairo_set_source_rgb (cr, 0, 0, 0);
}

/* The height of the ring around a board's number. */
static double
ring_height (sw_sheet_style style)
{
  return style == SW_SHEET_SMALL || style == SW_SHEET_SMALL_STRONG ? 11 : 13;
}

double
sw_sheet_ring_width (sw_sheet *sheet, sw_sheet_style style, size_t number)
{
  char text[32];
  if (number == SW_NONE)
    return 0;
  snprintf (text, sizeof text, "%zu", number + 1);
  return fmax (sw_sheet_measure (sheet, style, text) + 6.5, ring_height (style));
}

void
sw_sheet_ring (sw_sheet *sheet, sw_sheet_style style, double x, double y, size_t number)
{
  cairo_t *cr = sheet->cr;
  if (cr == NULL || number == SW_NONE)
    return;
  char text[32];
  const double half = sw_sheet_ring_width (sheet, style, number) / 2, radius = ring_height (style) / 2;
  snprintf (text, sizeof text, "%zu", number + 1);
  cairo_new_path (cr);
  cairo_arc (cr, x + half - radius, y, radius, -G_PI / 2, G_PI / 2);
  cairo_arc (cr, x - half + radius, y, radius, G_PI / 2, 3 * G_PI / 2);
  cairo_close_path (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_fill_preserve (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
  cairo_set_line_width (cr, 0.7);
  cairo_stroke (cr);
  sw_sheet_text_turned (sheet, style, x, y, 0, text);
}

void
sw_sheet_tick_box (sw_sheet *sheet, double x, double baseline)
{
  sw_sheet_box (sheet, x, baseline - SW_SHEET_BOX + 0.9, SW_SHEET_BOX, SW_SHEET_BOX, 1, 0.8);
}

void
sw_sheet_tick (sw_sheet *sheet, double x, double baseline)
{
  const double foot = baseline + 0.9;
  sw_sheet_line (sheet, x + 2, foot - 4.5, x + 4, foot - 2, 1.2);
  sw_sheet_line (sheet, x + 4, foot - 2, x + 7.5, foot - 7.5, 1.2);
}

void
sw_sheet_block_sign (sw_sheet *sheet, double x, double y, double width, double height)
{
  sw_sheet_box (sheet, x, y, width, height, 1, 0.7);
  sw_sheet_line (sheet, x, y + height, x + width, y, 0.7);
}

void
sw_sheet_clip (sw_sheet *sheet, double x, double y, double width, double height)
{
  if (sheet->cr == NULL)
    return;
  cairo_save (sheet->cr);
  cairo_rectangle (sheet->cr, x, y, width, height);
  cairo_clip (sheet->cr);
}

void
sw_sheet_unclip (sw_sheet *sheet)
{
  if (sheet->cr != NULL)
    cairo_restore (sheet->cr);
}

void
sw_sheet_turn (sw_sheet *sheet, double x, double y, double angle)
{
  if (sheet->cr == NULL)
    return;
  cairo_save (sheet->cr);
  cairo_translate (sheet->cr, x, y);
  cairo_rotate (sheet->cr, angle);
}

void
sw_sheet_unturn (sw_sheet *sheet)
{
  if (sheet->cr != NULL)
    cairo_restore (sheet->cr);
}
