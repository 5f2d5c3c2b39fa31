/* sheet_page.c - the sheet's pages: fonts, heads, feet, breaks
 *
 * Pages lie on their side: a fence is long and low, and so is a board.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet.h"

#include "base/memory.h"
#include "view/fingerprint.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FOOT 15.0   /* points kept for the foot */
#define HEAD 24.0   /* points kept for the head */
#define SHARED 0.64 /* a page that is filled no further than this takes another part too */

static const struct
{
  double size;
  PangoWeight weight;
} styles[SW_SHEET_STYLES] = {
  [SW_SHEET_BODY] = { 10, PANGO_WEIGHT_NORMAL },         [SW_SHEET_STRONG] = { 10, PANGO_WEIGHT_BOLD },
  [SW_SHEET_SMALL] = { 8.5, PANGO_WEIGHT_NORMAL },       [SW_SHEET_SMALL_STRONG] = { 8.5, PANGO_WEIGHT_BOLD },
  [SW_SHEET_LARGE] = { 11.5, PANGO_WEIGHT_BOLD },        [SW_SHEET_HEADING] = { 12.5, PANGO_WEIGHT_BOLD },
  [SW_SHEET_TITLE] = { 17, PANGO_WEIGHT_BOLD },          [SW_SHEET_FIXED] = { 10.5, PANGO_WEIGHT_NORMAL },
  [SW_SHEET_FIXED_STRONG] = { 11.5, PANGO_WEIGHT_BOLD },
};

/* Open fonts in such a way that the drawing is the same whatever the screen, the desktop and the language are. */
static sw_status
open_fonts (sw_sheet *sheet)
{
  sheet->fonts = pango_cairo_font_map_new ();
  PangoFontFamily **families = NULL;
  int family_count = 0;
  pango_font_map_list_families (sheet->fonts, &families, &family_count);
  g_free (families);
  if (family_count == 0)
    return SW_IO;
  sheet->context = pango_font_map_create_context (sheet->fonts);
  pango_cairo_context_set_resolution (sheet->context, 72);
  cairo_font_options_t *options = cairo_font_options_create ();
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (sheet->context, options);
  cairo_font_options_destroy (options);
  pango_context_set_base_dir (sheet->context, PANGO_DIRECTION_LTR);
  pango_context_set_round_glyph_positions (sheet->context, FALSE);
  pango_context_set_language (sheet->context, pango_language_from_string ("en"));
  for (int i = 0; i < SW_SHEET_STYLES; i++)
    {
      PangoFontDescription *font = pango_font_description_new ();
      pango_font_description_set_family_static (font, i >= SW_SHEET_FIXED ? "Monospace" : "Sans");
      pango_font_description_set_size (font, (int)(styles[i].size * PANGO_SCALE));
      pango_font_description_set_weight (font, styles[i].weight);
      sheet->layouts[i] = pango_layout_new (sheet->context);
      /* Labels read from run to posts, in whatever script the run is named. */
      pango_layout_set_auto_dir (sheet->layouts[i], FALSE);
      pango_layout_set_font_description (sheet->layouts[i], font);
      pango_font_description_free (font);
    }
  /* Where no font is installed, pango takes one that has a box for every letter. */
  return sw_sheet_has_letters (sheet, "A1") ? SW_OK : SW_IO;
}

/* Write the fingerprint, the revision and the date as they are in the plan's other files. */
static sw_status
stamp (sw_sheet *sheet)
{
  sw_text text = { 0 };
  sw_status status = sw_fingerprint_line (&text, sheet->plan);
  sheet->stamp = status == SW_OK ? sw_text_take (&text) : NULL;
  sw_text_drop (&text);
  return status == SW_OK && sheet->stamp == NULL ? SW_NO_MEMORY : status;
}

sw_status
sw_sheet_open (sw_sheet *sheet, const sw_plan *plan)
{
  memset (sheet, 0, sizeof *sheet);
  sheet->plan = plan;
  sheet->job = plan->job;
  bool letter = sheet->job->settings->paper == SW_PAPER_LETTER;
  sheet->width = letter ? 792 : 841.89;
  sheet->height = letter ? 612 : 595.28;
  sheet->left = SW_SHEET_MARGIN;
  sheet->right = sheet->width - SW_SHEET_MARGIN;
  sheet->top = SW_SHEET_MARGIN + HEAD;
  sheet->bottom = sheet->lowest = sheet->height - SW_SHEET_MARGIN - FOOT;
  sheet->first_run = SW_NONE;
  for (int i = 0; i < SW_SHEET_STYLES; i++)
    for (size_t c = 0; c < sizeof sheet->advances[i] / sizeof *sheet->advances[i]; c++)
      sheet->advances[i][c] = -1;
  sheet->run_pages = sw_alloc (sheet->job->fence.run_count, sizeof *sheet->run_pages);
  sw_status status = sheet->run_pages != NULL ? open_fonts (sheet) : SW_NO_MEMORY;
  if (status == SW_OK)
    status = sw_pencils_make (&sheet->pencils, plan);
  if (status == SW_OK)
    status = sw_setout_make (&sheet->setout, plan);
  if (status == SW_OK)
    status = stamp (sheet);
  return status;
}

void
sw_sheet_close (sw_sheet *sheet)
{
  for (int i = 0; i < SW_SHEET_STYLES; i++)
    if (sheet->layouts[i] != NULL)
      g_object_unref (sheet->layouts[i]);
  if (sheet->context != NULL)
    g_object_unref (sheet->context);
  if (sheet->fonts != NULL)
    g_object_unref (sheet->fonts);
  sw_pencils_clear (&sheet->pencils);
  sw_setout_clear (&sheet->setout);
  sw_text_free (sheet->stamp);
  free (sheet->run_pages);
  sw_text_drop (&sheet->clean);
}

/* "runs front to side": write which runs are on the page. */
static void
add_runs (const sw_sheet *sheet, sw_text *out)
{
  const sw_run *all = sheet->job->fence.runs;
  if (sheet->first_run == SW_NONE)
    return;
  if (sheet->first_run == sheet->last_run)
    sw_text_printf (out, "run %s", all[sheet->first_run].name);
  else
    sw_text_printf (out, "runs %s %s %s", all[sheet->first_run].name,
                    sheet->last_run == sheet->first_run + 1 ? "and" : "to", all[sheet->last_run].name);
}

/* Write the job, the runs, the plan's stamp and the page's number, so that a page found alone says where it belongs. */
static void
draw_foot (sw_sheet *sheet)
{
  const double rule = sheet->height - SW_SHEET_MARGIN - FOOT + 4, baseline = rule + 11;
  const double number = 90, stamp = sheet->stamp != NULL ? sw_sheet_measure (sheet, SW_SHEET_BODY, sheet->stamp) : 0;
  const double room = sheet->right - sheet->left - number - fmin (stamp, 300) - 20;
  char page[64];
  sw_text runs = { 0 };
  if (sheet->pages > 0)
    snprintf (page, sizeof page, "page %zu of %zu", sheet->page, sheet->pages);
  else
    snprintf (page, sizeof page, "page %zu", sheet->page);
  sw_sheet_line (sheet, sheet->left, rule, sheet->right, rule, 0.6);
  if (sheet->job->settings->job != NULL)
    sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, sheet->left, baseline, room / 2 - 10,
                   sheet->job->settings->job);
  add_runs (sheet, &runs);
  if (runs.failed)
    sw_sheet_fail (sheet, SW_NO_MEMORY);
  else if (runs.length > 0)
    sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT,
                   sheet->left + (sheet->job->settings->job != NULL ? room / 2 : 0), baseline, room / 2, runs.data);
  if (sheet->stamp != NULL)
    sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, sheet->right - number, baseline, 300, sheet->stamp);
  sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_RIGHT, sheet->right, baseline, number - 6, page);
  sw_text_drop (&runs);
}

static void
finish_page (sw_sheet *sheet)
{
  if (!sheet->page_open)
    return;
  draw_foot (sheet);
  sheet->end_page (sheet);
  sheet->page_open = false;
  sheet->first_run = SW_NONE;
}

/* The part has no page left.  Say so on its last page, where begin_page has kept a line for it, and draw no more of the
 * part. */
static void
cut_short (sw_sheet *sheet)
{
  char text[160];
  snprintf (text, sizeof text, "\"%s\" ends here, after %d pages: all of it is in %s.", sheet->part,
            SW_SHEET_MOST_PAGES, sheet->also);
  sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, sheet->left, sheet->bottom + SW_SHEET_LINE - 3,
                 sheet->right - sheet->left, text);
  finish_page (sheet);
  /* Only in the first of several passes. */
  if (sheet->pages == 0)
    sw_report_add (sheet->report, SW_WARNING, NULL, 0, NULL,
                   "the sheet has the first %d pages of \"%s\" and no more: all of it is in %s", SW_SHEET_MOST_PAGES,
                   sheet->part, sheet->also);
  sheet->resumes = sheet->cr;
  sheet->cr = NULL;
  sheet->full = true;
}

void
sw_sheet_finish (sw_sheet *sheet)
{
  finish_page (sheet);
  if (!sheet->full)
    return;
  sheet->full = false;
  sheet->cr = sheet->resumes;
  sheet->first_run = SW_NONE;
}

bool
sw_sheet_goes_on (const sw_sheet *sheet)
{
  return sheet->status == SW_OK && !sheet->full;
}

/* Write the part's name and its note over a rule. */
static void
draw_head (sw_sheet *sheet, double top)
{
  const double baseline = top + 13, rule = top + 18, title = sw_sheet_measure (sheet, SW_SHEET_TITLE, sheet->part);
  sw_sheet_text (sheet, SW_SHEET_TITLE, SW_SHEET_LEFT, sheet->left, baseline, 0, sheet->part);
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, sheet->right, baseline, sheet->right - sheet->left - title - 16,
                 sheet->note);
  sw_sheet_line (sheet, sheet->left, rule, sheet->right, rule, 1.2);
}

static void
begin_page (sw_sheet *sheet)
{
  finish_page (sheet);
  if (sheet->page_fn != NULL && sheet->status == SW_OK && !sheet->page_fn (sheet->page_data))
    sheet->status = SW_STOPPED;
  sheet->page++;
  sheet->part_pages++;
  sheet->page_open = true;
  sheet->bottom = sheet->lowest - (sheet->part_pages == SW_SHEET_MOST_PAGES ? SW_SHEET_LINE : 0);
  sheet->begin_page (sheet);
  draw_head (sheet, SW_SHEET_MARGIN);
  sheet->y = sheet->top;
}

/* May a part that needs LEAST points begin where the last one ended? */
static bool
shares_page (const sw_sheet *sheet, double least)
{
  const double used = sheet->y - sheet->top, whole = sheet->bottom - sheet->top;
  return least > 0 && sheet->page_open && !sheet->full && sheet->status == SW_OK && used < SHARED * whole
         && sheet->y + HEAD + 10 + least <= sheet->bottom;
}

void
sw_sheet_new_part (sw_sheet *sheet, const char *part, const char *note, const char *also, double least)
{
  const bool shares = shares_page (sheet, least);
  if (!shares)
    sw_sheet_finish (sheet);
  sheet->part = part;
  sheet->also = also;
  sheet->part_pages = 0;
  snprintf (sheet->note, sizeof sheet->note, "%s", note != NULL ? note : "");
  if (!shares)
    {
      begin_page (sheet);
      return;
    }
  sheet->part_pages = 1;
  draw_head (sheet, sheet->y + 10);
  sheet->y += HEAD + 10;
}

bool
sw_sheet_next_page (sw_sheet *sheet)
{
  if (sheet->full)
    return false;
  if (sheet->part_pages < SW_SHEET_MOST_PAGES)
    begin_page (sheet);
  else
    cut_short (sheet);
  return !sheet->full;
}

bool
sw_sheet_need (sw_sheet *sheet, double height)
{
  /* What is higher than a page begins at the top and is cut off. */
  if (sheet->full || sheet->y + height <= sheet->bottom || sheet->y <= sheet->top)
    return false;
  return sw_sheet_next_page (sheet);
}

void
sw_sheet_mention_run (sw_sheet *sheet, size_t index)
{
  if (sheet->first_run == SW_NONE)
    sheet->first_run = index;
  sheet->last_run = index;
  if (index < sheet->job->fence.run_count && sheet->run_pages[index] == 0)
    sheet->run_pages[index] = sheet->page;
}
