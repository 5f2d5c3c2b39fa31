/* sheet_block.c - one block of a run: heading, margin, elevation, set-out
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#define APART 7.0 /* to the next block */

/* Where the figures begin. */
static double
columns_y (const sw_sheet_frame *f)
{
  return f->ground + SW_SHEET_BURIED + 1;
}

double
sw_sheet_block_height (const sw_sheet_frame *f)
{
  sw_sheet_columns columns;
  sw_sheet_columns_of (f, &columns);
  return columns_y (f) + columns.height + sw_sheet_ends (f, 0, false) + sw_sheet_words (f, 0, false) + APART - f->top;
}

/* Write "A  Run front" and, as far as there is room, "7 bays, 14505 between the outer posts' centres". */
static void
draw_heading (const sw_sheet_frame *f)
{
  sw_sheet *sheet = f->sheet;
  const sw_run *run = f->e->run;
  const bool first = f->block->first == 0 && f->block->row_first == 0;
  const double baseline = f->top + 11, room = f->width - 8;
  char letters[SW_PENCIL_RUN], total[SW_LENGTH_TEXT];
  sw_text name = { 0 }, detail = { 0 };
  sw_pencil_run (f->block->run, letters);
  sw_view_length (sheet->job, f->e->distance[run->bay_count], total);
  sw_text_printf (&name, "%s  Run %s", letters, run->name);
  if (!first)
    sw_text_printf (&name, ", posts %zu to %zu", f->block->first + 1, f->block->last + 1);
  sw_text_printf (&detail, "%zu %s, %s %s over all centres", run->bay_count, run->bay_count == 1 ? "bay" : "bays",
                  total, sheet->job->settings->inches ? "in" : "mm");
  if (name.failed || detail.failed)
    sw_sheet_fail (sheet, SW_NO_MEMORY);
  else
    {
      const double wide = sw_sheet_measure (sheet, SW_SHEET_HEADING, name.data);
      sw_sheet_text (sheet, SW_SHEET_HEADING, SW_SHEET_LEFT, f->left, baseline, room, name.data);
      if (first && wide + 16 + sw_sheet_measure (sheet, SW_SHEET_BODY, detail.data) <= room)
        sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, f->left + wide + 16, baseline, 0, detail.data);
    }
  sw_text_drop (&name);
  sw_text_drop (&detail);
}

void
sw_sheet_block_draw (const sw_sheet_frame *f)
{
  sw_sheet *sheet = f->sheet;
  sw_sheet_columns columns;
  if (sheet->cr == NULL)
    return;
  sw_sheet_columns_of (f, &columns);
  sw_sheet_clip (sheet, sheet->left - 2, 0, sheet->right - sheet->left + 4, sheet->height);
  draw_heading (f);
  sw_sheet_stand (f);
  sw_sheet_timber (f);
  sw_sheet_margin (f);
  sw_sheet_matches (f);
  double y = columns_y (f);
  sw_sheet_columns_draw (f, &columns, y);
  y += columns.height;
  y += sw_sheet_ends (f, y, true);
  sw_sheet_words (f, y, true);
  sw_sheet_unclip (sheet);
}
