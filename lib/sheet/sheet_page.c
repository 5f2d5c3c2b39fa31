/* sheet_page.c - the sheet's pages: fonts, heads, feet, breaks
 *
 * Pages lie on their side: a fence is long and low, and so is a board.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FOOT 16.0 /* points kept for the foot */
#define HEAD 30.0 /* and for the head */

static const struct
{
  double size;
  PangoWeight weight;
} styles[SW_SHEET_STYLES] = {
  [SW_SHEET_BODY] = { 10, PANGO_WEIGHT_NORMAL },    [SW_SHEET_STRONG] = { 10, PANGO_WEIGHT_BOLD },
  [SW_SHEET_HEADING] = { 12.5, PANGO_WEIGHT_BOLD }, [SW_SHEET_TITLE] = { 17, PANGO_WEIGHT_BOLD },
  [SW_SHEET_FIXED] = { 10.5, PANGO_WEIGHT_NORMAL }, [SW_SHEET_FIXED_STRONG] = { 11.5, PANGO_WEIGHT_BOLD },
};

/* The same drawing whatever screen, desktop or language is about. */
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
  pango_context_set_round_glyph_positions (sheet->context, FALSE);
  pango_context_set_language (sheet->context, pango_language_from_string ("en"));
  for (int i = 0; i < SW_SHEET_STYLES; i++)
    {
      PangoFontDescription *font = pango_font_description_new ();
      pango_font_description_set_family_static (font, i >= SW_SHEET_FIXED ? "Monospace" : "Sans");
      pango_font_description_set_size (font, (int)(styles[i].size * PANGO_SCALE));
      pango_font_description_set_weight (font, styles[i].weight);
      sheet->layouts[i] = pango_layout_new (sheet->context);
      /* Labels read from run to posts, whatever script the run is named in. */
      pango_layout_set_auto_dir (sheet->layouts[i], FALSE);
      pango_layout_set_font_description (sheet->layouts[i], font);
      pango_font_description_free (font);
    }
  return SW_OK;
}

/* The job's name as it was written and, of a plan that goes on from another one, its number.  False: memory ran out. */
static bool
open_title (sw_sheet *sheet)
{
  const sw_settings *settings = sheet->job->settings;
  sw_text title = { 0 };
  if (settings->job == NULL && settings->revision == 0)
    return true;
  sw_text_add (&title, settings->job != NULL ? settings->job : "");
  if (settings->revision > 0)
    sw_text_printf (&title, "%srevision %" PRId64, settings->job != NULL ? ", " : "", settings->revision);
  sheet->title = sw_text_take (&title);
  return sheet->title != NULL;
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
  if (!open_title (sheet))
    return SW_NO_MEMORY;
  return open_fonts (sheet);
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
  sw_text_drop (&sheet->clean);
  free (sheet->title);
}

/* Job, runs and page number. */
static void
draw_foot (sw_sheet *sheet)
{
  double rule = sheet->height - SW_SHEET_MARGIN - FOOT + 4, baseline = rule + 12;
  double third = (sheet->right - sheet->left) / 3;
  char page[64];
  if (sheet->pages > 0)
    snprintf (page, sizeof page, "page %zu of %zu", sheet->page, sheet->pages);
  else
    snprintf (page, sizeof page, "page %zu", sheet->page);
  sw_sheet_line (sheet, sheet->left, rule, sheet->right, rule, 0.6);
  if (sheet->title != NULL)
    sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, sheet->left, baseline, third - 10, sheet->title);
  sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_RIGHT, sheet->right, baseline, third - 10, page);
  if (sheet->first_run == SW_NONE)
    return;
  sw_text runs = { 0 };
  const sw_run *all = sheet->job->fence.runs;
  if (sheet->first_run == sheet->last_run)
    sw_text_printf (&runs, "run %s", all[sheet->first_run].name);
  else
    sw_text_printf (&runs, "runs %s %s %s", all[sheet->first_run].name,
                    sheet->last_run == sheet->first_run + 1 ? "and" : "to", all[sheet->last_run].name);
  if (runs.failed)
    sheet->status = SW_NO_MEMORY;
  else
    sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_CENTRE, sheet->left + 1.5 * third, baseline, third - 10, runs.data);
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

/* The part has no page left: say so on its last, where begin_page has kept a
 * line for it, and draw nothing more of it. */
static void
cut_short (sw_sheet *sheet)
{
  char text[160];
  snprintf (text, sizeof text, "\"%s\" ends here, after %d pages: all of it is in %s.", sheet->part,
            SW_SHEET_MOST_PAGES, sheet->also);
  sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, sheet->left, sheet->bottom + SW_SHEET_LINE - 3,
                 sheet->right - sheet->left, text);
  finish_page (sheet);
  /* Once, of several passes. */
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
  double baseline = SW_SHEET_MARGIN + 14, rule = SW_SHEET_MARGIN + 20;
  double half = (sheet->right - sheet->left) / 2;
  sw_sheet_text (sheet, SW_SHEET_TITLE, SW_SHEET_LEFT, sheet->left, baseline, half, sheet->part);
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, sheet->right, baseline, 1.3 * half, sheet->note);
  sw_sheet_line (sheet, sheet->left, rule, sheet->right, rule, 1.2);
  sheet->y = sheet->top;
}

void
sw_sheet_new_part (sw_sheet *sheet, const char *part, const char *note, const char *also)
{
  sw_sheet_finish (sheet);
  sheet->part = part;
  sheet->also = also;
  sheet->part_pages = 0;
  snprintf (sheet->note, sizeof sheet->note, "%s", note != NULL ? note : "");
  begin_page (sheet);
}

bool
sw_sheet_need (sw_sheet *sheet, double height)
{
  /* What is higher than a page is begun at the top and cut off. */
  if (sheet->full || sheet->y + height <= sheet->bottom || sheet->y <= sheet->top)
    return false;
  if (sheet->part_pages < SW_SHEET_MOST_PAGES)
    begin_page (sheet);
  else
    cut_short (sheet);
  return !sheet->full;
}

void
sw_sheet_mention_run (sw_sheet *sheet, size_t index)
{
  if (sheet->first_run == SW_NONE)
    sheet->first_run = index;
  sheet->last_run = index;
}
