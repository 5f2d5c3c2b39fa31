/* sheet_text.c - text on the sheet
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet.h"

#include <math.h>
#include <string.h>

/* User text that is longer than this is cut in the middle, because no name may fill a page. */
#define LINE_BYTES 320
#define PARAGRAPH_BYTES 8000
/* The height of a digit, as a part of the size; text is centred on the height of figures and capitals. */
#define CAP_HEIGHT 0.73

void
sw_sheet_fail (sw_sheet *sheet, sw_status status)
{
  if (sheet->status == SW_OK)
    sheet->status = status;
}

/* The nearest beginning of a character at or after AT. */
static size_t
boundary (const char *text, size_t length, size_t at)
{
  while (at < length && ((unsigned char)text[at] & 0xC0) == 0x80)
    at++;
  return at;
}

/* Add UTF-8 text in a form that is safe for pango: valid, in one line, and of bounded length. */
static void
add_clean (sw_text *out, const char *text, size_t limit)
{
  size_t length = strlen (text);
  if (length <= limit)
    {
      sw_text_add_shown (out, text, length);
      return;
    }
  /* The tail stays, because the posts are at the end of a label. */
  size_t head = boundary (text, length, limit * 2 / 3), tail = boundary (text, length, length - limit / 4);
  sw_text_add_shown (out, text, head);
  sw_text_add (out, "\342\200\246");
  sw_text_add_shown (out, text + tail, length - tail);
}

/* Is CODE a letter that is written from right to left? */
static bool
is_backward (uint32_t code)
{
  return (code >= 0x590 && code <= 0x8FF) || (code >= 0xFB1D && code <= 0xFDFF) || (code >= 0xFE70 && code <= 0xFEFF)
         || (code >= 0x10800 && code <= 0x10FFF) || (code >= 0x1E800 && code <= 0x1EFFF);
}

static bool
has_backward (const sw_text *text)
{
  uint32_t code;
  for (size_t at = 0, size; at < text->length; at += size)
    {
      size = sw_text_decode (text->data + at, text->length - at, &code);
      if (size == 0)
        size = 1;
      else if (is_backward (code))
        return true;
    }
  return false;
}

/* Keep a label in the order from its run to its posts, even where two of its names are written from right to left: an
 * invisible mark turns the direction back at every stroke between them. */
static void
keep_order (sw_text *text)
{
  static const char left_to_right[] = "\342\200\216";
  if (text->failed || memchr (text->data != NULL ? text->data : "", '/', text->length) == NULL || !has_backward (text))
    return;
  sw_text marked = { 0 };
  for (size_t i = 0; i < text->length; i++)
    {
      if (text->data[i] == '/')
        sw_text_add (&marked, left_to_right);
      sw_text_add_bytes (&marked, text->data + i, 1);
      if (text->data[i] == '/')
        sw_text_add (&marked, left_to_right);
    }
  sw_text_drop (text);
  *text = marked;
}

/* The layout of STYLE with TEXT in it, or NULL. */
static PangoLayout *
lay (sw_sheet *sheet, sw_sheet_style style, const char *text, size_t limit)
{
  sheet->clean.length = 0;
  add_clean (&sheet->clean, text, limit);
  keep_order (&sheet->clean);
  if (sheet->clean.failed)
    {
      sw_sheet_fail (sheet, SW_NO_MEMORY);
      return NULL;
    }
  PangoLayout *layout = sheet->layouts[style];
  pango_layout_set_width (layout, -1);
  pango_layout_set_text (layout, sheet->clean.length > 0 ? sheet->clean.data : "", (int)sheet->clean.length);
  return layout;
}

/* The width of its one line; that is cheaper than to ask the whole layout. */
static double
layout_width (PangoLayout *layout)
{
  PangoRectangle box;
  pango_layout_line_get_extents (pango_layout_get_line_readonly (layout, 0), NULL, &box);
  return (double)box.width / PANGO_SCALE;
}

/* Draw the line with its baseline on Y. */
static void
show_line (sw_sheet *sheet, PangoLayout *layout, double x, double y)
{
  cairo_move_to (sheet->cr, x, y);
  pango_cairo_show_layout_line (sheet->cr, pango_layout_get_line_readonly (layout, 0));
}

/* The advance of one character of ASCII, which pango is asked for only once. */
static double
advance (sw_sheet *sheet, sw_sheet_style style, char character)
{
  double *known = &sheet->advances[style][(unsigned char)character];
  if (*known < 0)
    {
      const char text[] = { character, '\0' };
      PangoLayout *layout = lay (sheet, style, text, LINE_BYTES);
      *known = layout != NULL ? layout_width (layout) : 0;
    }
  return *known;
}

double
sw_sheet_measure (sw_sheet *sheet, sw_sheet_style style, const char *text)
{
  double width = 0;
  size_t i = 0;
  while (text[i] >= ' ' && text[i] <= '~' && i < LINE_BYTES)
    width += advance (sheet, style, text[i++]);
  if (text[i] == '\0')
    return width;
  PangoLayout *layout = lay (sheet, style, text, LINE_BYTES);
  return layout != NULL ? layout_width (layout) : 0;
}

bool
sw_sheet_has_letters (sw_sheet *sheet, const char *text)
{
  PangoLayout *layout = lay (sheet, SW_SHEET_BODY, text, LINE_BYTES);
  return layout == NULL || pango_layout_get_unknown_glyphs_count (layout) == 0;
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
