/* sheet_order.c - the sheet's first page: warnings, what to order, what is where, how good the plan is, what to mind
 *
 * The words are those of the printed plan, so that the two never differ.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/care.h"
#include "job/job_warning.h"
#include "view/order.h"
#include "view/proof.h"
#include "sheet/sheet.h"

#include <string.h>

#define COLUMNS 100 /* characters across the page, of the figures and text in columns */
#define GAP 6.0     /* points for a blank line among them */
#define TICK 16.0   /* points for a box to tick before a warning */
/* For text without line breaks of its own, because the sheet breaks it. */
#define ONE_LINE 1000000

static void
draw_paragraph (sw_sheet *sheet, sw_sheet_style style, double indent, const char *text)
{
  double width = sheet->right - sheet->left - indent, height = sw_sheet_paragraph_height (sheet, style, width, text);
  sw_sheet_need (sheet, height);
  sw_sheet_paragraph (sheet, style, sheet->left + indent, sheet->y, width, text);
  sheet->y += height + 0.5;
}

/* Draw TEXT line by line; a line that is not indented is a heading.  The first part in fixed columns is the order
 * itself.  It is larger, because it is read out over the telephone.  Changes TEXT. */
static void
draw_lines (sw_sheet *sheet, sw_sheet_style style, char *text)
{
  size_t headings = 0;
  for (char *line = text; line != NULL && sw_sheet_goes_on (sheet);)
    {
      char *end = strchr (line, '\n');
      char *next = end != NULL ? end + 1 : NULL;
      if (end != NULL)
        *end = '\0';
      if (line[0] != ' ' && line[0] != '\0')
        {
          sheet->y += 7;
          sw_sheet_need (sheet, 3 * SW_SHEET_LINE);
          draw_paragraph (sheet, SW_SHEET_STRONG, 0, line);
          headings++;
        }
      else if (style == SW_SHEET_FIXED && line[0] != '\0')
        {
          /* Columns must not move, so only the indent under the heading is removed. */
          draw_paragraph (sheet, headings > 0 ? style : SW_SHEET_FIXED_STRONG, 0,
                          strncmp (line, "  ", 2) == 0 ? line + 2 : line);
        }
      else if (style == SW_SHEET_FIXED)
        /* A heading brings its own gap. */
        sheet->y += next != NULL && next[0] == ' ' ? GAP : 0;
      else if (line[0] != '\0')
        {
          size_t indent = strspn (line, " ");
          draw_paragraph (sheet, style, indent > 2 ? 5 * (double)(indent - 2) : 0, line + indent);
        }
      line = next;
    }
}

/* The points that TEXT takes in draw_lines, or a little more. */
static double
lines_height (sw_sheet *sheet, sw_sheet_style style, const char *text)
{
  double height = SW_SHEET_LINE;
  for (const char *line = text; line != NULL;)
    {
      const char *end = strchr (line, '\n');
      sw_text one = { 0 };
      sw_text_add_bytes (&one, line, end != NULL ? (size_t)(end - line) : strlen (line));
      if (one.failed)
        sw_sheet_fail (sheet, SW_NO_MEMORY);
      else if (one.length > 0)
        height += sw_sheet_paragraph_height (sheet, style, sheet->right - sheet->left, one.data) + 0.5;
      sw_text_drop (&one);
      line = end != NULL ? end + 1 : NULL;
    }
  return height;
}

/* Draw what a function of the printed plan says.  Text that is broken into lines here stays on one page where
 * possible. */
static void
draw_part (sw_sheet *sheet, sw_sheet_style style, size_t width,
           sw_status (*write) (const sw_plan *plan, size_t width, sw_text *out))
{
  sw_text text = { 0 };
  sw_status status = write (sheet->plan, width, &text);
  char *lines = status == SW_OK ? sw_text_take (&text) : NULL;
  if (lines != NULL)
    {
      if (style == SW_SHEET_BODY)
        sw_sheet_need (sheet, lines_height (sheet, style, lines));
      draw_lines (sheet, style, lines);
    }
  else
    sw_sheet_fail (sheet, status == SW_OK ? SW_NO_MEMORY : status);
  sw_text_drop (&text);
  sw_text_free (lines);
}

static sw_status
write_proof (const sw_plan *plan, size_t width, sw_text *out)
{
  sw_proof_text (plan, width, out);
  return SW_OK;
}

/* Draw a warning with a box to tick, all on one page. */
static void
draw_warning (sw_sheet *sheet, const char *text)
{
  double x = sheet->left + TICK, width = sheet->right - x;
  double height = sw_sheet_paragraph_height (sheet, SW_SHEET_BODY, width, text);
  sw_sheet_need (sheet, height);
  sw_sheet_tick_box (sheet, sheet->left, sheet->y + 10.5);
  sw_sheet_paragraph (sheet, SW_SHEET_BODY, x, sheet->y, width, text);
  sheet->y += height + 3;
}

/* Repeat the warnings about the job, because whoever carries the sheet has not seen the terminal. */
static void
draw_warnings (sw_sheet *sheet)
{
  size_t count = sw_job_warning_count (sheet->job);
  if (count == 0)
    return;
  draw_paragraph (sheet, SW_SHEET_HEADING, 0, "Look at these first");
  sheet->y += 2;
  for (size_t i = 0; i < count && sw_sheet_goes_on (sheet); i++)
    {
      sw_text text = { 0 };
      sw_job_warning_add (&text, sw_job_warning (sheet->job, i));
      if (text.failed)
        sw_sheet_fail (sheet, SW_NO_MEMORY);
      else
        draw_warning (sheet, text.data);
      sw_text_drop (&text);
    }
  sheet->y += GAP;
  sw_sheet_need (sheet, 3 * SW_SHEET_LINE);
  sw_sheet_line (sheet, sheet->left, sheet->y, sheet->right, sheet->y, 0.6);
  sheet->y += GAP;
}

void
sw_sheet_order (sw_sheet *sheet)
{
  const char *job = sheet->job->settings->job;
  sw_sheet_new_part (sheet, "Order and totals", NULL, "order.csv", 0);
  /* The job's name is written in full here; at the foot of every page only as much of it as there is room for. */
  if (job != NULL && job[0] != '\0')
    {
      draw_paragraph (sheet, SW_SHEET_HEADING, 0, job);
      sheet->y += GAP;
    }
  draw_warnings (sheet);
  draw_part (sheet, SW_SHEET_FIXED, COLUMNS, sw_order_lines);
  sw_sheet_index (sheet);
  sw_sheet_key (sheet);
  draw_part (sheet, SW_SHEET_BODY, ONE_LINE, write_proof);
  draw_part (sheet, SW_SHEET_BODY, ONE_LINE, sw_care_text);
}
