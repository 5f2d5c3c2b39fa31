/* sheet.c - writing the sheet
 *
 * Each file is drawn whole in memory, then written under a temporary name
 * and renamed.  The first pass only counts the pages, because every foot
 * says how many there are.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet.h"

#include "plan/papers.h"
#include "base/report.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* What pages are drawn into. */
typedef struct sink
{
  cairo_surface_t *surface;
  sw_text bytes;     /* the file so far */
  sw_output *output; /* where it goes */
  sw_report *report;
} sink;

static cairo_status_t
collect (void *closure, const unsigned char *data, unsigned int length)
{
  sw_text *bytes = closure;
  sw_text_add_bytes (bytes, (const char *)data, length);
  return bytes->failed ? CAIRO_STATUS_WRITE_ERROR : CAIRO_STATUS_SUCCESS;
}

static void
note_status (sw_sheet *sheet, cairo_status_t status)
{
  if (sheet->status == SW_OK && status != CAIRO_STATUS_SUCCESS)
    sheet->status = status == CAIRO_STATUS_NO_MEMORY || status == CAIRO_STATUS_WRITE_ERROR ? SW_NO_MEMORY : SW_FAILED;
}

/* Add a file that has been drawn. */
static void
add_file (sw_sheet *sheet, sink *out, const char *name)
{
  for (size_t i = 0; i < sizeof sheet->job->files / sizeof *sheet->job->files && sheet->status == SW_OK; i++)
    sheet->status = sw_output_guard (out->output, name, sheet->job->files[i], out->report);
  if (sheet->status == SW_OK)
    sheet->status = sw_output_add (out->output, name, out->bytes.data, out->bytes.length, out->report);
}

static void
draw_parts (sw_sheet *sheet)
{
  sw_sheet_order (sheet);
  sw_sheet_runs (sheet);
  sw_sheet_boards (sheet);
  sw_sheet_finish (sheet);
}

/* ---- Counting ---- */

static void
count_page (sw_sheet *sheet)
{
  (void)sheet;
}

static void
count_pages (sw_sheet *sheet)
{
  sheet->begin_page = sheet->end_page = count_page;
  draw_parts (sheet);
  sheet->pages = sheet->page;
}

/* ---- PDF ---- */

static void
show_page (sw_sheet *sheet)
{
  cairo_show_page (sheet->cr);
}

/* No date, so that the same plan gives the same bytes. */
static void
set_metadata (sw_sheet *sheet, cairo_surface_t *surface)
{
  sw_text title = { 0 };
  sw_text_add (&title, "Timber sheet");
  if (sheet->job->settings->job != NULL)
    {
      sw_text_add (&title, ": ");
      sw_text_add_shown (&title, sheet->job->settings->job, strlen (sheet->job->settings->job));
    }
  if (!title.failed)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, title.data);
  else if (sheet->status == SW_OK)
    sheet->status = SW_NO_MEMORY;
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "spanwright " PACKAGE_VERSION);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
  sw_text_drop (&title);
}

static void
draw_pdf (sw_sheet *sheet, sink *out)
{
  out->surface = cairo_pdf_surface_create_for_stream (collect, &out->bytes, sheet->width, sheet->height);
  set_metadata (sheet, out->surface);
  sheet->cr = cairo_create (out->surface);
  sheet->begin_page = count_page;
  sheet->end_page = show_page;
  draw_parts (sheet);
  note_status (sheet, cairo_status (sheet->cr));
  cairo_destroy (sheet->cr);
  sheet->cr = NULL;
  cairo_surface_finish (out->surface);
  note_status (sheet, cairo_surface_status (out->surface));
  cairo_surface_destroy (out->surface);
  add_file (sheet, out, "sheet.pdf");
}

/* ---- SVG, a file a page ---- */

static void
begin_svg (sw_sheet *sheet)
{
  sink *out = sheet->sink;
  out->bytes.length = 0;
  out->surface = cairo_svg_surface_create_for_stream (collect, &out->bytes, sheet->width, sheet->height);
  sheet->cr = cairo_create (out->surface);
}

/* Remove cairo's numbers of surfaces from the file, because they differ from call to call. */
static void
drop_surface_ids (sw_text *bytes)
{
  static const char before[] = " id=\"surface";
  size_t to = 0;
  for (size_t from = 0; from < bytes->length;)
    {
      size_t end = from + sizeof before - 1;
      if (end < bytes->length && memcmp (bytes->data + from, before, sizeof before - 1) == 0)
        {
          while (end < bytes->length && bytes->data[end] >= '0' && bytes->data[end] <= '9')
            end++;
          if (end < bytes->length && bytes->data[end] == '"')
            {
              from = end + 1;
              continue;
            }
        }
      bytes->data[to++] = bytes->data[from++];
    }
  bytes->length = to;
}

static void
end_svg (sw_sheet *sheet)
{
  sink *out = sheet->sink;
  char name[64];
  note_status (sheet, cairo_status (sheet->cr));
  cairo_destroy (sheet->cr);
  sheet->cr = NULL;
  cairo_surface_finish (out->surface);
  note_status (sheet, cairo_surface_status (out->surface));
  cairo_surface_destroy (out->surface);
  drop_surface_ids (&out->bytes);
  snprintf (name, sizeof name, "sheet-%zu.svg", sheet->page);
  add_file (sheet, out, name);
}

/* ---- All of it ---- */

/* Draw every file into OUT. */
static void
draw_files (sw_sheet *sheet, sink *out, bool svg)
{
  sheet->sink = out;
  sw_sheet_check_letters (sheet);
  count_pages (sheet);
  sheet->page = 0;
  if (sheet->status == SW_OK)
    draw_pdf (sheet, out);
  if (sheet->status != SW_OK || !svg)
    return;
  sheet->page = 0;
  sheet->begin_page = begin_svg;
  sheet->end_page = end_svg;
  draw_parts (sheet);
}

/* Warn of pages that an earlier, longer sheet left behind: they would be carried along by mistake. */
static void
note_older_page (const sw_sheet *sheet, const char *dir, sw_report *report)
{
  sw_text path = { 0 };
  sw_text_printf (&path, "%s/sheet-%zu.svg", dir, sheet->pages + 1);
  if (!path.failed && access (path.data, F_OK) == 0)
    sw_report_add (report, SW_NOTE, path.data, 0, NULL, "is from an earlier sheet; this one has %zu pages",
                   sheet->pages);
  sw_text_drop (&path);
}

/* Say that the older sheet was removed when the plan's tables were written. */
static void
note_removed (const sw_papers *papers, sw_report *report)
{
  char *path = papers->older_sheet ? sw_text_path (sw_output_dir (papers->folder), "sheet.pdf") : NULL;
  if (path != NULL)
    sw_report_add (report, SW_NOTE, path, 0, NULL, "the older sheet is removed: it was not of this plan's tables");
  sw_text_free (path);
}

sw_status
sw_papers_sheet (sw_papers *papers, const sw_plan *plan, bool svg, sw_page_fn page, void *data, sw_report *report)
{
  sw_sheet sheet;
  sink out = { .report = report };
  sheet.status = sw_sheet_open (&sheet, plan);
  sheet.page_fn = page;
  sheet.page_data = data;
  sheet.report = report;
  if (sheet.status == SW_IO)
    sw_report_add (report, SW_FAULT, NULL, 0, NULL,
                   "the sheet needs a font, and none is installed (Debian: fonts-dejavu-core)");
  if (sheet.status == SW_OK)
    sheet.status = sw_output_open_again (&out.output, papers->folder, papers->tables, report);
  if (sheet.status == SW_OK)
    draw_files (&sheet, &out, svg);
  if (sheet.status == SW_OK)
    sheet.status = sw_output_commit (out.output, report);
  if (sheet.status == SW_OK && svg)
    note_older_page (&sheet, sw_output_dir (papers->folder), report);
  if (sheet.status != SW_OK)
    note_removed (papers, report);
  sw_output_free (out.output);
  sw_text_drop (&out.bytes);
  sw_sheet_runs_free (sheet.laid_runs);
  sw_sheet_boards_free (sheet.laid_boards);
  sw_sheet_close (&sheet);
  return sheet.status;
}
