/* sheet_draw.c - text, lines and shapes on the sheet
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet.h"

#include <math.h>
#include <string.h>

/* User text that is longer than this is cut in the middle: no name may fill a page. */
#define LINE_BYTES 320
#define PARAGRAPH_BYTES 8000
/* Of a digit, over its size: text is centred on the height of figures and capitals. */
#define CAP_HEIGHT 0.73

/* ---- Text ---- */

/* The nearest beginning of a character at or after AT. */
static size_t
boundary (const char *text, size_t length, size_t at)
{
  while (at < length && ((unsigned char)text[at] & 0xC0) == 0x80)
    at++;
  return at;
}

/* UTF-8 text made fit for pango: sound, in one line, of a bounded length. */
static void
add_clean (sw_text *out, const char *text, size_t limit)
{
  size_t length = strlen (text);
  if (length <= limit)
    {
      sw_text_add_shown (out, text, length);
      return;
    }
  /* The tail stays: the posts stand at a label's end. */
  size_t head = boundary (text, length, limit * 2 / 3), tail = boundary (text, length, length - limit / 4);
  sw_text_add_shown (out, text, head);
  sw_text_add (out, "\342\200\246");
  sw_text_add_shown (out, text + tail, length - tail);
}

/* The layout of STYLE with TEXT in it, or NULL. */
static PangoLayout *
lay (sw_sheet *sheet, sw_sheet_style style, const char *text, size_t limit)
{
  sheet->clean.length = 0;
  add_clean (&sheet->clean, text, limit);
  if (sheet->clean.failed)
    {
      if (sheet->status == SW_OK)
        sheet->status = SW_NO_MEMORY;
      return NULL;
    }
  PangoLayout *layout = sheet->layouts[style];
  pango_layout_set_width (layout, -1);
  pango_layout_set_text (layout, sheet->clean.length > 0 ? sheet->clean.data : "", (int)sheet->clean.length);
  return layout;
}

/* Of its one line; cheaper than to ask the whole layout. */
static double
layout_width (PangoLayout *layout)
{
  PangoRectangle box;
  pango_layout_line_get_extents (pango_layout_get_line_readonly (layout, 0), NULL, &box);
  return (double)box.width / PANGO_SCALE;
}

/* With its baseline on Y. */
static void
show_line (sw_sheet *sheet, PangoLayout *layout, double x, double y)
{
  cairo_move_to (sheet->cr, x, y);
  pango_cairo_show_layout_line (sheet->cr, pango_layout_get_line_readonly (layout, 0));
}

double
sw_sheet_measure (sw_sheet *sheet, sw_sheet_style style, const char *text)
{
  PangoLayout *layout = lay (sheet, style, text, LINE_BYTES);
  return layout != NULL ? layout_width (layout) : 0;
}

void
sw_sheet_text (sw_sheet *sheet, sw_sheet_style style, sw_sheet_align align, double x, double baseline, double limit,
               const char *text)
{
  if (sheet->cr == NULL)
    return;
  PangoLayout *layout = lay (sheet, style, text, LINE_BYTES);
  if (layout == NULL)
    return;
  double width = align != SW_SHEET_LEFT || limit > 0 ? layout_width (layout) : 0;
  if (limit > 0 && width > limit)
    {
      pango_layout_set_width (layout, (int)(limit * PANGO_SCALE));
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
      width = limit;
    }
  if (align == SW_SHEET_CENTRE)
    x -= width / 2;
  else if (align == SW_SHEET_RIGHT)
    x -= width;
  show_line (sheet, layout, x, baseline);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_NONE);
}

void
sw_sheet_text_turned (sw_sheet *sheet, sw_sheet_style style, double x, double y, double angle, const char *text)
{
  if (sheet->cr == NULL)
    return;
  PangoLayout *layout = lay (sheet, style, text, LINE_BYTES);
  if (layout == NULL)
    return;
  const PangoFontDescription *font = pango_layout_get_font_description (layout);
  double size = (double)pango_font_description_get_size (font) / PANGO_SCALE;
  cairo_save (sheet->cr);
  cairo_translate (sheet->cr, x, y);
  cairo_rotate (sheet->cr, angle);
  show_line (sheet, layout, -layout_width (layout) / 2, size * CAP_HEIGHT / 2);
  cairo_restore (sheet->cr);
}

static double
paragraph (sw_sheet *sheet, sw_sheet_style style, double x, double y, double width, const char *text, cairo_t *cr)
{
  PangoLayout *layout = lay (sheet, style, text, PARAGRAPH_BYTES);
  if (layout == NULL)
    return 0;
  pango_layout_set_width (layout, (int)(width * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  if (cr != NULL)
    {
      cairo_move_to (cr, x, y);
      pango_cairo_show_layout (cr, layout);
    }
  PangoRectangle box;
  pango_layout_get_extents (layout, NULL, &box);
  return (double)box.height / PANGO_SCALE;
}

double
sw_sheet_paragraph (sw_sheet *sheet, sw_sheet_style style, double x, double y, double width, const char *text)
{
  return paragraph (sheet, style, x, y, width, text, sheet->cr);
}

double
sw_sheet_paragraph_height (sw_sheet *sheet, sw_sheet_style style, double width, const char *text)
{
  return paragraph (sheet, style, 0, 0, width, text, NULL);
}

/* ---- Lines and shapes ---- */

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
  /* A short line has dashes too. */
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
      /* From the top or right edge down to the left or the foot. */
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

void
sw_sheet_tick_box (sw_sheet *sheet, double x, double baseline)
{
  sw_sheet_box (sheet, x, baseline - 8.6, 10, 10, 1, 1);
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
