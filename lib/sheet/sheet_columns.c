/* sheet_columns.c - the set-out of a block, in columns under its posts
 *
 * Each kind of figure has its row: bays, rises, running distances, widths of
 * posts, heights of the ground, lifts of the stick, depths of housings.
 * Levels whose housings are alike share a row.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#include "job/seat.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define ROW 10.5
#define APART 4.0 /* least distance between two figures of a row */

/* ---- What stands in a cell ---- */

/* Write what is cut out of a post for LEVEL: "33", "st 41"; "face" where its timber is nailed on; "" for nothing. */
static void
add_housing (const sw_sheet_frame *f, size_t level, sw_text *out, const sw_mark *mark)
{
  char depth[SW_LENGTH_TEXT];
  sw_view_length (f->sheet->job, mark->depth, depth);
  if (mark->housing == SW_HOUSING_STOPPED)
    sw_text_printf (out, "st %s", depth);
  else if (mark->housing == SW_HOUSING_THROUGH)
    sw_text_add (out, mark->depth > 0 ? depth : "across");
  else if (mark->over && f->sheet->job->levels.items[level].seat == SW_SEAT_FACE)
    sw_text_add (out, "face");
}

static void
add_depth (const sw_sheet_frame *f, size_t level, size_t post, sw_text *out)
{
  const sw_mark *near = sw_setout_mark (&f->sheet->setout, f->block->run, post, level);
  const sw_mark *far = sw_setout_far_mark (&f->sheet->setout, f->block->run, post, level);
  add_housing (f, level, out, near);
  /* Each side of a step has its own housing; where the two are alike it is written once. */
  if (far == NULL || (near->housing == far->housing && near->depth == far->depth && near->over == far->over))
    return;
  sw_text_add (out, out->length > 0 ? "|" : "\342\200\223|");
  const size_t before = out->length;
  add_housing (f, level, out, far);
  if (out->length == before)
    sw_text_add (out, "\342\200\223");
}

/* Write how far the stick is lifted at POST: on both sides of the post where the fence steps between timber. */
static void
add_lift (const sw_sheet_frame *f, size_t post, sw_text *out)
{
  const sw_run *run = f->e->run;
  const sw_length step = post > 0 ? run->bays[post - 1].step : 0, before = f->e->lifted[post];
  const bool near = post > 0 && !run->bays[post - 1].opening, far = post < run->bay_count && !run->bays[post].opening;
  char text[SW_LENGTH_TEXT];
  sw_view_length (f->sheet->job, near || post == 0 ? before : before + step, text);
  sw_text_add (out, text);
  if (step == 0 || !near || !far)
    return;
  sw_view_length (f->sheet->job, before + step, text);
  sw_text_printf (out, "|%s", text);
}

static void
add_length (const sw_sheet_frame *f, sw_text *out, sw_length length)
{
  char text[SW_LENGTH_TEXT];
  sw_view_length (f->sheet->job, length, text);
  sw_text_add (out, text);
}

/* Write what was measured of a bay and how far it rises, with the bay's name where it has one of its own. */
static void
add_bay (const sw_sheet_frame *f, size_t bay, bool named, sw_text *out)
{
  const sw_bay *b = &f->e->run->bays[bay];
  char number[32];
  snprintf (number, sizeof number, "%zu", bay + 1);
  if (named && strcmp (number, b->label) != 0)
    sw_text_printf (out, "%s: ", b->label);
  add_length (f, out, b->measured);
  if (b->rise == 0)
    return;
  sw_text_add (out, b->rise > 0 ? " up " : " down ");
  add_length (f, out, b->rise > 0 ? b->rise : -b->rise);
}

/* Write cell INDEX of ROW, which belongs to a post or to the bay after it. */
static void
cell (const sw_sheet_frame *f, const sw_sheet_column_row *row, size_t index, sw_text *out)
{
  sw_text_drop (out);
  switch (row->figure)
    {
    case SW_SHEET_BAY:
      add_bay (f, index, false, out);
      break;
    case SW_SHEET_DISTANCE:
      add_length (f, out, f->e->distance[index]);
      break;
    case SW_SHEET_WIDTH:
      add_length (f, out, f->e->run->posts[index].width);
      break;
    case SW_SHEET_GROUND:
      add_length (f, out, f->e->ground[index]);
      break;
    case SW_SHEET_LIFTED:
      add_lift (f, index, out);
      break;
    case SW_SHEET_DEPTH:
      add_depth (f, row->level, index, out);
      break;
    }
  if (out->failed)
    sw_sheet_fail (f->sheet, SW_NO_MEMORY);
}

static bool
is_of_bays (sw_sheet_figure figure)
{
  return figure == SW_SHEET_BAY;
}

static sw_sheet_style
style_of (sw_sheet_figure figure)
{
  return figure == SW_SHEET_DISTANCE ? SW_SHEET_STRONG : figure == SW_SHEET_DEPTH ? SW_SHEET_BODY : SW_SHEET_SMALL;
}

/* ---- Which rows there are ---- */

/* The room of cell INDEX between its neighbours, and the middle of that room. */
static double
cell_x (const sw_sheet_frame *f, sw_sheet_figure figure, size_t index)
{
  double x = sw_sheet_post_x (f, index);
  if (!is_of_bays (figure))
    return x;
  double half = sw_sheet_half_post (f, index) - sw_sheet_half_post (f, index + 1);
  bool clear = figure == SW_SHEET_BAY && f->sheet->job->settings->measured == SW_MEASURED_CLEAR;
  return (x + sw_sheet_post_x (f, index + 1) + (clear ? half : 0)) / 2;
}

/* Set how high ROW is and whether its figures stand upright; false: all its cells are empty. */
static bool
measure_row (const sw_sheet_frame *f, sw_sheet_column_row *row)
{
  const sw_sheet_block *block = f->block;
  const size_t end = is_of_bays (row->figure) ? block->last : block->last + 1;
  double widest = 0, used = -1e9;
  sw_text text = { 0 };
  row->turned = false;
  for (size_t i = block->first; i < end; i++)
    {
      cell (f, row, i, &text);
      if (text.failed || text.length == 0)
        continue;
      double wide = sw_sheet_measure (f->sheet, style_of (row->figure), text.data), x = cell_x (f, row->figure, i);
      bool out = is_of_bays (row->figure) && wide + APART > f->e->at[i + 1] - f->e->at[i];
      row->turned = row->turned || out || x - wide / 2 < used + APART;
      used = x + wide / 2;
      widest = fmax (widest, wide);
    }
  sw_text_drop (&text);
  row->height = row->turned ? widest + 4 : row->figure == SW_SHEET_BAY ? ROW + 3 : ROW;
  return widest > 0;
}

/* Are the figures of levels A and B the same under every post of the block? */
static bool
housed_alike (const sw_sheet_frame *f, size_t a, size_t b)
{
  bool alike = true;
  sw_text x = { 0 }, y = { 0 };
  for (size_t post = f->block->first; post <= f->block->last && alike; post++)
    {
      sw_text_drop (&x);
      sw_text_drop (&y);
      add_depth (f, a, post, &x);
      add_depth (f, b, post, &y);
      alike = x.length == y.length && (x.length == 0 || (!x.failed && !y.failed && strcmp (x.data, y.data) == 0));
    }
  sw_text_drop (&x);
  sw_text_drop (&y);
  return alike;
}

static void
add_row (const sw_sheet_frame *f, sw_sheet_columns *columns, sw_sheet_figure figure, size_t level, size_t count)
{
  sw_sheet_column_row *row = &columns->rows[columns->count];
  *row = (sw_sheet_column_row){ .figure = figure, .level = level, .count = count };
  if (!measure_row (f, row))
    return;
  columns->count++;
  columns->height += row->height;
}

void
sw_sheet_columns_of (const sw_sheet_frame *f, sw_sheet_columns *out)
{
  const sw_elevation *e = f->e;
  out->count = 0;
  out->height = 0;
  add_row (f, out, SW_SHEET_BAY, 0, 0);
  add_row (f, out, SW_SHEET_DISTANCE, 0, 0);
  add_row (f, out, SW_SHEET_WIDTH, 0, 0);
  if (e->rises)
    add_row (f, out, SW_SHEET_GROUND, 0, 0);
  if (e->steps)
    add_row (f, out, SW_SHEET_LIFTED, 0, 0);
  for (size_t row = f->block->row_first, end; row < f->block->row_end; row = end)
    {
      end = row + 1;
      while (end < f->block->row_end && housed_alike (f, e->levels[row], e->levels[end]))
        end++;
      add_row (f, out, SW_SHEET_DEPTH, e->levels[row], end - row);
    }
}

/* ---- Drawing ---- */

/* Draw a dimension line from post to post (clear: between their faces), with its text over it. */
static void
draw_dimensions (const sw_sheet_frame *f, const sw_sheet_column_row *row, double y)
{
  const bool clear = f->sheet->job->settings->measured == SW_MEASURED_CLEAR;
  const double line = y + row->height - 2.5;
  sw_text text = { 0 };
  for (size_t bay = f->block->first; bay < f->block->last; bay++)
    {
      double x1 = sw_sheet_post_x (f, bay) + (clear ? sw_sheet_half_post (f, bay) : 0);
      double x2 = sw_sheet_post_x (f, bay + 1) - (clear ? sw_sheet_half_post (f, bay + 1) : 0);
      const double ends[] = { x1, x2 };
      sw_sheet_line (f->sheet, x1, line, x2, line, 0.5);
      for (int i = 0; i < 2; i++)
        {
          sw_sheet_line (f->sheet, ends[i], line - 4, ends[i], line + 2, 0.5);
          sw_sheet_line (f->sheet, ends[i] - 2, line + 2, ends[i] + 2, line - 2, 1);
        }
      sw_text_drop (&text);
      add_bay (f, bay, !row->turned, &text);
      if (!text.failed && sw_sheet_measure (f->sheet, SW_SHEET_SMALL, text.data) > x2 - x1 - 2)
        cell (f, row, bay, &text);
      if (text.failed)
        sw_sheet_fail (f->sheet, SW_NO_MEMORY);
      else if (row->turned)
        sw_sheet_text_turned (f->sheet, SW_SHEET_SMALL, (x1 + x2) / 2, line - 2 - (row->height - 4) / 2, -G_PI / 2,
                              text.data);
      else
        sw_sheet_text (f->sheet, SW_SHEET_SMALL, SW_SHEET_CENTRE, (x1 + x2) / 2, line - 3, 0, text.data);
    }
  sw_text_drop (&text);
}

static void
draw_cells (const sw_sheet_frame *f, const sw_sheet_column_row *row, double y)
{
  const sw_sheet_style style = style_of (row->figure);
  const size_t end = is_of_bays (row->figure) ? f->block->last : f->block->last + 1;
  sw_text text = { 0 };
  for (size_t i = f->block->first; i < end; i++)
    {
      cell (f, row, i, &text);
      if (text.failed || text.length == 0)
        continue;
      const double x = cell_x (f, row->figure, i);
      if (row->turned)
        sw_sheet_text_turned (f->sheet, style, x, y + row->height / 2, -G_PI / 2, text.data);
      else
        sw_sheet_text (f->sheet, style, SW_SHEET_CENTRE, x, y + ROW - 2, 0, text.data);
    }
  sw_text_drop (&text);
}

/* "A2 A3 depth": write what a row shows, in the margin before it. */
static void
row_name (const sw_sheet_frame *f, const sw_sheet_column_row *row, sw_text *out)
{
  static const char *const names[] = { [SW_SHEET_DISTANCE] = "running distance",
                                       [SW_SHEET_WIDTH] = "post width",
                                       [SW_SHEET_GROUND] = "ground over post 1",
                                       [SW_SHEET_LIFTED] = "stick lifted by" };
  if (row->figure == SW_SHEET_BAY)
    sw_text_add (out, f->sheet->job->settings->measured == SW_MEASURED_CLEAR ? "bay, clear" : "bay, centres");
  else if (row->figure != SW_SHEET_DEPTH)
    sw_text_add (out, names[row->figure]);
  else
    {
      char run[SW_PENCIL_RUN];
      sw_pencil_run (f->block->run, run);
      sw_text_add (out, "depth");
      for (size_t i = 0; i < row->count; i++)
        sw_text_printf (out, " %s%zu", run, f->e->levels[f->e->rows[row->level] + i] + 1);
    }
}

void
sw_sheet_columns_draw (const sw_sheet_frame *f, const sw_sheet_columns *columns, double y)
{
  for (size_t i = 0; i < columns->count; i++)
    {
      const sw_sheet_column_row *row = &columns->rows[i];
      const double right = f->x0 - f->e->overhang - 4;
      sw_text name = { 0 };
      if (row->figure == SW_SHEET_BAY)
        draw_dimensions (f, row, y);
      else
        draw_cells (f, row, y);
      row_name (f, row, &name);
      if (name.failed)
        sw_sheet_fail (f->sheet, SW_NO_MEMORY);
      else
        sw_sheet_text (f->sheet, SW_SHEET_SMALL, SW_SHEET_LEFT, f->left, y + row->height - 2.5, right - f->left - 12,
                       name.data);
      sw_text_drop (&name);
      y += row->height;
      if (row->figure != SW_SHEET_BAY)
        sw_sheet_line (f->sheet, f->left, y, f->left + f->width - 4, y, 0.2);
    }
}
