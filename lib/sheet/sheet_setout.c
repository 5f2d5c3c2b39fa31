/* sheet_setout.c - where posts, marks, housings and joins are, as tables
 *
 * A table has a row a post; where the fence steps, a row for either side of
 * the post.  Marks stand over the columns, since they are the same at every
 * post, but on a run that steps in every row.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_setout.h"

#include "base/memory.h"
#include "view/setout.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define ROW 14.5
#define POST 44.0   /* width of its column */
#define TOGETHER 16 /* posts of a table that is not broken */

/* Columns FIRST to END - 1 of a run's levels. */
typedef struct sheet_table
{
  sw_sheet *sheet;
  const sw_setout *setout;
  size_t run_index;
  const sw_run *run;
  const size_t *levels;
  size_t first;
  size_t end;
  bool rises;
  bool steps;
  double figure; /* width of a column of figures */
  double level;  /* and of a level's column */
  double mark;   /* where in it the housing stands, after the mark of a run that steps */
  double join;   /* and where the join, after "stopped 33.3" or "stopped 1 15/16" */
} sheet_table;

static size_t
figure_count (const sheet_table *t)
{
  return 2 + (size_t)t->rises + (size_t)t->steps;
}

static double
column_x (const sheet_table *t, size_t column)
{
  return t->sheet->left + POST + (double)figure_count (t) * t->figure + 16 + t->level * (double)(column - t->first);
}

static double
table_right (const sheet_table *t)
{
  return fmin (column_x (t, t->end) - 8, t->sheet->right);
}

/* Two lines over a column of figures. */
static void
draw_column_name (const sheet_table *t, size_t figure, double y, const char *upper, const char *lower)
{
  double x = t->sheet->left + POST + (double)(figure + 1) * t->figure;
  sw_sheet_text (t->sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, x, y + 12, 0, upper);
  sw_sheet_text (t->sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, x, y + 24, 0, lower);
}

static void
draw_level_name (const sheet_table *t, size_t column, double y)
{
  const sw_level *level = &t->sheet->job->levels.items[t->levels[column]];
  char mark[SW_LENGTH_TEXT], text[SW_LENGTH_TEXT + 16];
  double x = column_x (t, column);
  sw_sheet_text (t->sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, x, y + 12, t->level - 8, level->name);
  sw_view_length (t->sheet->job, level->height, mark);
  if (!level->has_height)
    snprintf (text, sizeof text, "no height given");
  else if (t->steps)
    snprintf (text, sizeof text, "mark");
  else
    snprintf (text, sizeof text, "mark %s", mark);
  if (level->has_height && t->steps)
    sw_sheet_text (t->sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, x + t->mark - 8, y + 24, t->mark - 8, text);
  else
    sw_sheet_text (t->sheet, SW_SHEET_BODY, SW_SHEET_LEFT, x, y + 24, t->level - 8, text);
}

/* "Run front", the names of the columns, a rule. */
static void
draw_head (const sheet_table *t, bool continued)
{
  sw_sheet *sheet = t->sheet;
  sw_text title = { 0 };
  sw_text_printf (&title, "Run %s", t->run->name);
  if (title.failed)
    sheet->status = SW_NO_MEMORY;
  else
    sw_sheet_text (sheet, SW_SHEET_HEADING, SW_SHEET_LEFT, sheet->left, sheet->y + ROW, sheet->right - sheet->left - 70,
                   title.data);
  sw_text_drop (&title);
  if (continued)
    sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, sheet->right, sheet->y + ROW, 0, "continued");
  sw_sheet_mention_run (sheet, t->run_index);
  sheet->y += ROW + 4;
  double y = sheet->y;
  size_t figure = 0;
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, sheet->left, y + 24, 0, "post");
  draw_column_name (t, figure++, y, "running", "distance");
  draw_column_name (t, figure++, y, "post", "width");
  if (t->rises)
    draw_column_name (t, figure++, y, "higher than", "post 1");
  if (t->steps)
    draw_column_name (t, figure, y, "stick", "lifted by");
  for (size_t column = t->first; column < t->end; column++)
    draw_level_name (t, column, y);
  sheet->y = y + 29;
  sw_sheet_line (sheet, sheet->left, sheet->y, table_right (t), sheet->y, 0.8);
}

/* What is cut out of the post for LEVEL, or how its timber is fixed where that is nothing. */
static void
housing_text (const sw_job *job, const sw_level *level, const sw_mark *mark, char *text, size_t room)
{
  static const char *const names[] = { "", "through", "stopped" };
  char depth[SW_LENGTH_TEXT];
  sw_view_length (job, mark->depth, depth);
  if (mark->housing != SW_HOUSING_NONE)
    snprintf (text, room, mark->depth > 0 ? "%s %s" : "%s", names[mark->housing], depth);
  else if (!mark->timber)
    snprintf (text, room, "\342\200\223");
  else if (mark->over)
    snprintf (text, room, level->seat == SW_SEAT_TOP ? "on top" : "on the face");
  else
    snprintf (text, room, "no housing");
}

/* The mark where they differ, "through 38", and "join" beside it. */
static void
draw_cell (const sheet_table *t, size_t column, double baseline, const sw_mark *mark)
{
  const sw_job *job = t->sheet->job;
  double x = column_x (t, column);
  char text[SW_LENGTH_TEXT + 16];
  if (t->steps && mark->has_mark)
    {
      sw_view_length (job, mark->mark, text);
      sw_sheet_text (t->sheet, SW_SHEET_STRONG, SW_SHEET_RIGHT, x + t->mark - 8, baseline, 0, text);
    }
  housing_text (job, &job->levels.items[t->levels[column]], mark, text, sizeof text);
  sw_sheet_text (t->sheet, SW_SHEET_BODY, SW_SHEET_LEFT, x + t->mark, baseline, t->join - 2, text);
  if (mark->join)
    sw_sheet_text (t->sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, x + t->mark + t->join, baseline, 0, "join");
}

/* A row: the whole post, or one side of it. */
typedef struct sheet_row
{
  size_t post;
  const char *side; /* "near", "far"; NULL: the whole post */
  bool far;
  sw_length distance;
  sw_length height;
  sw_length lifted;
} sheet_row;

static void
draw_figure (const sheet_table *t, size_t figure, double baseline, sw_sheet_style style, sw_length length)
{
  char text[SW_LENGTH_TEXT];
  sw_view_length (t->sheet->job, length, text);
  sw_sheet_text (t->sheet, style, SW_SHEET_RIGHT, t->sheet->left + POST + (double)(figure + 1) * t->figure, baseline, 0,
                 text);
}

static void
draw_row (const sheet_table *t, const sheet_row *row)
{
  sw_sheet *sheet = t->sheet;
  if (sw_sheet_need (sheet, ROW))
    draw_head (t, true);
  double baseline = sheet->y + 11;
  char text[64];
  size_t figure = 0;
  snprintf (text, sizeof text, "%zu%s%s", row->post + 1, row->side != NULL ? " " : "",
            row->side != NULL ? row->side : "");
  sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, sheet->left + 4, baseline, 0, text);
  draw_figure (t, figure++, baseline, SW_SHEET_STRONG, row->distance);
  draw_figure (t, figure++, baseline, SW_SHEET_BODY, t->run->posts[row->post].width);
  if (t->rises)
    draw_figure (t, figure++, baseline, SW_SHEET_BODY, row->height);
  if (t->steps)
    draw_figure (t, figure, baseline, SW_SHEET_BODY, row->lifted);
  for (size_t column = t->first; column < t->end; column++)
    {
      size_t level = t->levels[column];
      const sw_mark *far = row->far ? sw_setout_far_mark (t->setout, t->run_index, row->post, level) : NULL;
      double left = column_x (t, column) - 8;
      sw_sheet_line (sheet, left, sheet->y, left, sheet->y + ROW, 0.25);
      draw_cell (t, column, baseline, far != NULL ? far : sw_setout_mark (t->setout, t->run_index, row->post, level));
    }
  sheet->y += ROW;
  sw_sheet_line (sheet, sheet->left, sheet->y, table_right (t), sheet->y, 0.25);
}

/* One row, or two where timber of two heights ends on the post. */
static void
draw_post (const sheet_table *t, sheet_row row, sw_length step)
{
  bool two = t->first < t->end && sw_setout_far_mark (t->setout, t->run_index, row.post, t->levels[t->first]) != NULL;
  if (two)
    {
      row.side = "near";
      draw_row (t, &row);
      row.side = "far";
      row.far = true;
    }
  /* Timber on the far side alone is as high as the fence goes on. */
  if (two || row.post == 0 || t->run->bays[row.post - 1].opening)
    row.lifted += step;
  draw_row (t, &row);
}

static void
draw_table (const sheet_table *t)
{
  sheet_row row = { 0 };
  sw_sheet_need (t->sheet, 50 + ROW * (double)(t->run->bay_count < TOGETHER ? t->run->bay_count + 1 : 2));
  draw_head (t, t->first > 0);
  for (size_t post = 0; post <= t->run->bay_count && sw_sheet_goes_on (t->sheet); post++)
    {
      sw_length step = post > 0 ? t->run->bays[post - 1].step : 0;
      row.post = post;
      draw_post (t, row, step);
      row.lifted += step;
      if (post < t->run->bay_count)
        {
          row.distance += t->run->bays[post].span;
          row.height += t->run->bays[post].rise;
        }
    }
  t->sheet->y += 10;
}

/* Closer where marks stand in every row and no heights beside them, so that four levels have room. */
static void
set_widths (sheet_table *t)
{
  const bool inches = t->sheet->job->settings->inches;
  t->figure = t->steps && !t->rises && !inches ? 56 : 70;
  t->mark = !t->steps ? 0 : inches ? 66 : 42;
  t->join = inches ? 92 : t->steps ? 64 : 68;
  t->level = t->mark + t->join + (t->steps ? 32 : 44);
}

/* LEVELS has room for all of the job. */
static void
draw_run (sw_sheet *sheet, const sw_setout *setout, size_t index, size_t *levels)
{
  const sw_job *job = sheet->job;
  sheet_table t = { .sheet = sheet, .setout = setout, .run_index = index, .run = &job->fence.runs[index] };
  size_t count = 0;
  for (size_t l = 0; l < job->levels.count; l++)
    if (sw_level_is_on (&job->levels.items[l], index))
      levels[count++] = l;
  for (size_t bay = 0; bay < t.run->bay_count; bay++)
    {
      t.rises = t.rises || t.run->bays[bay].rise != 0;
      t.steps = t.steps || t.run->bays[bay].step != 0;
    }
  t.levels = levels;
  set_widths (&t);
  double room = sheet->right - column_x (&t, 0);
  size_t fit = (size_t)fmax (floor (room / t.level), 1);
  for (size_t column = 0; column < count && sw_sheet_goes_on (sheet); column += fit)
    {
      t.first = column;
      t.end = column + fit < count ? column + fit : count;
      draw_table (&t);
    }
}

static void
draw_runs (sw_sheet *sheet, size_t *levels)
{
  sw_setout setout;
  sw_status status = sw_setout_make (&setout, sheet->plan);
  if (status != SW_OK)
    {
      sheet->status = status;
      return;
    }
  for (size_t r = 0; r < sheet->job->fence.run_count && sw_sheet_goes_on (sheet); r++)
    draw_run (sheet, &setout, r, levels);
  sw_setout_clear (&setout);
}

void
sw_sheet_setout (sw_sheet *sheet)
{
  const sw_job *job = sheet->job;
  if (job->fence.run_count == 0)
    return;
  size_t *levels = sw_alloc (job->levels.count, sizeof *levels);
  char note[160];
  snprintf (note, sizeof note, "distances from the centre of post 1;  marks: undersides above the datum;  in %s",
            job->settings->inches ? "inches" : "mm");
  sw_sheet_new_part (sheet, "Setting out", note, "setout.csv");
  sw_sheet_sticks (sheet);
  if (levels == NULL)
    sheet->status = SW_NO_MEMORY;
  else
    draw_runs (sheet, levels);
  free (levels);
}
