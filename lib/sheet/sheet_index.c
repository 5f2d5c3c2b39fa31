/* sheet_index.c - the runs with their letters and pages, and the levels with their numbers, which explain the pencil
 * marks
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet.h"

#include "job/seat.h"

#include <math.h>
#include <stdio.h>

#define ROW 12.0
#define GAP 20.0     /* between two columns */
#define COLUMN 240.0 /* least width of a column */
#define LETTERS 26.0 /* for the letters of a run, the number of a level */

/* A table in columns, filled row by row down the first column, then down the next. */
typedef struct table
{
  sw_sheet *sheet;
  size_t count;
  size_t columns;
  double width; /* of a column */
} table;

static table
table_of (sw_sheet *sheet, size_t count)
{
  const double whole = sheet->right - sheet->left;
  table t = { .sheet = sheet, .count = count };
  t.columns = (size_t)fmax (floor ((whole + GAP) / (COLUMN + GAP)), 1);
  t.width = (whole + GAP) / (double)t.columns - GAP;
  return t;
}

/* Draw "A   front   7 bays, 14505   page 2". */
static void
draw_run (const table *t, size_t index, double x, double baseline)
{
  sw_sheet *sheet = t->sheet;
  const sw_run *run = &sheet->job->fence.runs[index];
  char letters[SW_PENCIL_RUN], total[SW_LENGTH_TEXT];
  char detail[SW_LENGTH_TEXT + 40], page[40] = "";
  sw_pencil_run (index, letters);
  sw_view_length (sheet->job, sw_run_distance (run, run->bay_count), total);
  snprintf (detail, sizeof detail, "%zu %s, %s", run->bay_count, run->bay_count == 1 ? "bay" : "bays", total);
  if (sheet->run_pages[index] > 0)
    snprintf (page, sizeof page, "page %zu", sheet->run_pages[index]);
  const double right = x + t->width, pages = 48;
  const double wide = sw_sheet_measure (sheet, SW_SHEET_BODY, detail);
  sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, x, baseline, 0, letters);
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, x + LETTERS, baseline, right - pages - wide - 8 - x - LETTERS,
                 run->name);
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, right - pages, baseline, 0, detail);
  sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_RIGHT, right, baseline, 0, page);
}

/* Write "75x38, let in 33". */
static void
add_timber (sw_text *out, const sw_job *job, const sw_level *level)
{
  char depth[SW_LENGTH_TEXT];
  const sw_length check = sw_seat_check (job, level);
  sw_text_add (out, job->sections.items[level->section].name);
  if (!level->through)
    sw_text_add (out, ", between posts");
  else if (level->seat == SW_SEAT_TOP)
    sw_text_add (out, ", on top");
  else if (level->seat == SW_SEAT_FACE)
    sw_text_add (out, ", on the face");
  else if (check > 0)
    {
      sw_view_length (job, check, depth);
      sw_text_printf (out, ", let in %s", depth);
    }
  else
    sw_text_add (out, ", let in");
}

/* Draw "2   top rail   75x38, let in 33". */
static void
draw_level (const table *t, size_t index, double x, double baseline)
{
  sw_sheet *sheet = t->sheet;
  const sw_level *level = &sheet->job->levels.items[index];
  const double right = x + t->width;
  char number[32];
  sw_text timber = { 0 };
  add_timber (&timber, sheet->job, level);
  if (timber.failed)
    {
      sw_sheet_fail (sheet, SW_NO_MEMORY);
      return;
    }
  const double wide = fmin (sw_sheet_measure (sheet, SW_SHEET_BODY, timber.data), t->width * 0.6);
  snprintf (number, sizeof number, "%zu", index + 1);
  sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, x, baseline, 0, number);
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, x + LETTERS, baseline, right - wide - 8 - x - LETTERS,
                 level->name);
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, right, baseline, wide, timber.data);
  sw_text_drop (&timber);
}

static void
draw_extra (const table *t, size_t index, double x, double baseline)
{
  sw_sheet *sheet = t->sheet;
  const sw_extra *extra = &sheet->job->extras.items[index];
  char number[32], count[64], length[SW_LENGTH_TEXT];
  snprintf (number, sizeof number, "+%zu", index + 1);
  sw_view_length (sheet->job, extra->length, length);
  snprintf (count, sizeof count, "%lld of %s", (long long)extra->quantity, length);
  const double wide = sw_sheet_measure (sheet, SW_SHEET_BODY, count), right = x + t->width;
  sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, x, baseline, 0, number);
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, x + LETTERS, baseline, right - wide - 8 - x - LETTERS,
                 extra->label);
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, right, baseline, 0, count);
}

/* Draw as many rows as a page has room for in columns side by side, and again on the next page. */
static void
draw_table (const table *t, const char *title, void (*draw) (const table *t, size_t index, double x, double baseline))
{
  sw_sheet *sheet = t->sheet;
  const double head = SW_SHEET_LINE + 2;
  for (size_t first = 0; first < t->count && sw_sheet_goes_on (sheet);)
    {
      sheet->y += 5;
      sw_sheet_need (sheet, head + ROW * fmin ((double)((t->count - first + t->columns - 1) / t->columns), 4));
      if (!sw_sheet_goes_on (sheet))
        return;
      const size_t fit = (size_t)fmax (floor ((sheet->bottom - sheet->y - head) / ROW), 1);
      const size_t left = t->count - first, even = (left + t->columns - 1) / t->columns;
      const size_t rows = even < fit ? even : fit;
      sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, sheet->left, sheet->y + 11, 0, title);
      sheet->y += head;
      for (size_t i = 0; i < rows * t->columns && i < left && sheet->cr != NULL; i++)
        draw (t, first + i, sheet->left + (double)(i / rows) * (t->width + GAP),
              sheet->y + ROW * (double)(i % rows + 1) - 2.5);
      first += rows * t->columns < left ? rows * t->columns : left;
      sheet->y += ROW * (double)rows + 4;
    }
}

void
sw_sheet_index (sw_sheet *sheet)
{
  const sw_job *job = sheet->job;
  const table runs = table_of (sheet, job->fence.run_count), levels = table_of (sheet, job->levels.count);
  const table extras = table_of (sheet, job->extras.count);
  draw_table (&runs, "Runs: the letter of the pencil mark, and where each is drawn", draw_run);
  draw_table (&levels, "Levels: the number of the pencil mark, counted from the lowest", draw_level);
  draw_table (&extras, "Other pieces", draw_extra);
}
