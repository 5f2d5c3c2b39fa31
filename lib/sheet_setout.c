/* sheet_setout.c - where posts, marks, housings and joins are, as tables
 *
 * Under them once the stick that is held to every post: marks from one
 * stick make all posts alike.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "setout.h"
#include "sheet.h"

#include <math.h>
#include <stdio.h>

#define ROW 14.5
#define POST 40.0 /* widths of columns */
#define FIGURE 70.0
#define TOGETHER 16 /* posts of a table that is not broken */
#define STICK 18.0  /* height of the stick on paper */
#define GREY 0.84

/* ---- The stick ---- */

static sw_length
level_top (const sw_job *job, const sw_level *level)
{
  return level->height + job->sections.items[level->section].width;
}

/* Figures under or over the stick, each in the first of two rows that is free at its place. */
static void
draw_marks (sw_sheet *sheet, double y, double scale, bool tops)
{
  const sw_job *job = sheet->job;
  double used[2] = { 0, 0 };
  for (size_t l = 0; l < job->levels.count; l++)
    {
      const sw_level *level = &job->levels.items[l];
      if (!level->has_height || (tops && job->sections.items[level->section].width == 0))
        continue;
      sw_length mark = tops ? level_top (job, level) : level->height;
      double x = sheet->left + 8 + (double)mark * scale;
      char text[SW_LENGTH_TEXT];
      sw_view_length (job, mark, text);
      double half = sw_sheet_measure (sheet, SW_SHEET_STRONG, text) / 2;
      size_t row = x - half < used[0] ? 1 : 0;
      if (x - half < used[row])
        continue;
      used[row] = x + half + 4;
      double reach = 4 + (double)row * 11;
      sw_sheet_line (sheet, x, tops ? y : y + STICK, x, tops ? y - reach : y + STICK + reach, 0.6);
      sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_CENTRE, x, tops ? y - reach - 2 : y + STICK + reach + 9, 0, text);
    }
}

/* Lying down, its foot (the datum) at the left. */
static void
draw_stick (sw_sheet *sheet)
{
  const sw_job *job = sheet->job;
  sw_length most = 0, least = 0;
  for (size_t l = 0; l < job->levels.count; l++)
    if (job->levels.items[l].has_height)
      {
        sw_length top = level_top (job, &job->levels.items[l]);
        most = top > most ? top : most;
        least = job->levels.items[l].height < least ? job->levels.items[l].height : least;
      }
  /* Levels under the datum cannot be marked on a stick that stands on it. */
  if (most <= 0 || least < 0)
    return;
  double scale = (sheet->right - sheet->left - 40) / (double)most;
  sheet->y += ROW;
  sw_sheet_text (sheet, SW_SHEET_HEADING, SW_SHEET_LEFT, sheet->left, sheet->y, 0, "One stick for every post");
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, sheet->right, sheet->y, 0,
                 "its foot on the datum;  undersides below, tops above");
  double y = sheet->y + 34;
  sw_sheet_box (sheet, sheet->left + 8, y, (double)most * scale + 16, STICK, 1, 0.8);
  for (size_t l = 0; l < job->levels.count; l++)
    {
      const sw_level *level = &job->levels.items[l];
      double x = sheet->left + 8 + (double)level->height * scale;
      double width = (double)job->sections.items[level->section].width * scale;
      if (!level->has_height)
        continue;
      if (width > 0)
        sw_sheet_box (sheet, x, y, width, STICK, GREY, 0.8);
      else
        sw_sheet_line (sheet, x, y, x, y + STICK, 1.6);
      /* Without a width the name follows the mark. */
      double room = width > 0 ? width - 4 : 80;
      double wide = sw_sheet_measure (sheet, SW_SHEET_BODY, level->name);
      if (wide <= room && width > 0)
        sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_CENTRE, x + width / 2, y + STICK / 2 + 3.7, 0, level->name);
      else
        sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, x + width + 4, y + STICK / 2 + 3.7, 80, level->name);
    }
  draw_marks (sheet, y, scale, true);
  draw_marks (sheet, y, scale, false);
  sheet->y = y + STICK + 34;
}

/* ---- A run's tables ---- */

typedef struct sheet_table
{
  sw_sheet *sheet;
  const sw_setout *setout;
  size_t run_index;
  const sw_run *run;
  size_t level_first;
  size_t level_end;
  bool rises;
  double level; /* width of a level's column */
  double join;  /* where in it the join stands, after "stopped 33.3" or "stopped 1 15/16" */
} sheet_table;

static double
level_x (const sheet_table *t, size_t level)
{
  return t->sheet->left + POST + (t->rises ? 3 : 2) * FIGURE + 16 + t->level * (double)(level - t->level_first);
}

static double
table_right (const sheet_table *t)
{
  return fmin (level_x (t, t->level_end) - 8, t->sheet->right);
}

/* "Run front", the names of the columns, a rule. */
static void
draw_head (const sheet_table *t, bool continued)
{
  sw_sheet *sheet = t->sheet;
  const sw_job *job = sheet->job;
  sw_text title = { 0 };
  sw_text_printf (&title, "Run %s", t->run->name);
  if (title.failed)
    sheet->status = SW_NO_MEMORY;
  else
    sw_sheet_text (sheet, SW_SHEET_HEADING, SW_SHEET_LEFT, sheet->left, sheet->y + ROW,
                   sheet->right - sheet->left - FIGURE, title.data);
  sw_text_drop (&title);
  if (continued)
    sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, sheet->right, sheet->y + ROW, 0, "continued");
  sw_sheet_mention_run (sheet, t->run_index);
  sheet->y += ROW + 4;
  double first = sheet->y + 12, second = first + 12, x = sheet->left + POST;
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, sheet->left, second, 0, "post");
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, x + FIGURE, first, 0, "running");
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, x + FIGURE, second, 0, "distance");
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, x + 2 * FIGURE, first, 0, "post");
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, x + 2 * FIGURE, second, 0, "width");
  if (t->rises)
    {
      sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, x + 3 * FIGURE, first, 0, "higher than");
      sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, x + 3 * FIGURE, second, 0, "post 1");
    }
  for (size_t l = t->level_first; l < t->level_end; l++)
    {
      const sw_level *level = &job->levels.items[l];
      char mark[SW_LENGTH_TEXT], text[SW_LENGTH_TEXT + 16];
      sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, level_x (t, l), first, t->level - 8, level->name);
      sw_view_length (job, level->height, mark);
      snprintf (text, sizeof text, level->has_height ? "mark %s" : "no height given", mark);
      sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, level_x (t, l), second, t->level - 8, text);
    }
  sheet->y = second + 5;
  sw_sheet_line (sheet, sheet->left, sheet->y, table_right (t), sheet->y, 0.8);
}

/* "through 38", and "join" beside it. */
static void
draw_cell (const sheet_table *t, double x, double baseline, const sw_mark *mark)
{
  static const char *const names[] = { "", "through", "stopped" };
  char depth[SW_LENGTH_TEXT], text[SW_LENGTH_TEXT + 12];
  if (mark->housing == SW_HOUSING_NONE)
    snprintf (text, sizeof text, "%s", mark->timber ? "no housing" : "\342\200\223");
  else if (mark->depth > 0)
    {
      sw_view_length (t->sheet->job, mark->depth, depth);
      snprintf (text, sizeof text, "%s %s", names[mark->housing], depth);
    }
  else
    snprintf (text, sizeof text, "%s", names[mark->housing]);
  sw_sheet_text (t->sheet, SW_SHEET_BODY, SW_SHEET_LEFT, x, baseline, t->join - 2, text);
  if (mark->join)
    sw_sheet_text (t->sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, x + t->join, baseline, 0, "join");
}

static void
draw_table (const sheet_table *t)
{
  sw_sheet *sheet = t->sheet;
  sw_length distance = 0, height = 0;
  sw_sheet_need (sheet, 50 + ROW * (double)(t->run->bay_count < TOGETHER ? t->run->bay_count + 1 : 2));
  draw_head (t, t->level_first > 0);
  for (size_t post = 0; post <= t->run->bay_count; post++)
    {
      char text[SW_LENGTH_TEXT];
      if (sw_sheet_need (sheet, ROW))
        draw_head (t, true);
      double baseline = sheet->y + 11, x = sheet->left + POST;
      snprintf (text, sizeof text, "%zu", post + 1);
      sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, sheet->left + 4, baseline, 0, text);
      sw_view_length (sheet->job, distance, text);
      sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_RIGHT, x + FIGURE, baseline, 0, text);
      sw_view_length (sheet->job, t->run->posts[post].width, text);
      sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, x + 2 * FIGURE, baseline, 0, text);
      if (t->rises)
        {
          sw_view_length (sheet->job, height, text);
          sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, x + 3 * FIGURE, baseline, 0, text);
        }
      for (size_t l = t->level_first; l < t->level_end; l++)
        {
          double left = level_x (t, l);
          sw_sheet_line (sheet, left - 8, sheet->y, left - 8, sheet->y + ROW, 0.25);
          draw_cell (t, left, baseline, sw_setout_mark (t->setout, t->run_index, post, l));
        }
      sheet->y += ROW;
      sw_sheet_line (sheet, sheet->left, sheet->y, table_right (t), sheet->y, 0.25);
      if (post < t->run->bay_count)
        {
          distance += t->run->bays[post].span;
          height += t->run->bays[post].rise;
        }
    }
  sheet->y += 10;
}

static void
draw_run (sw_sheet *sheet, const sw_setout *setout, size_t index)
{
  const sw_job *job = sheet->job;
  sheet_table t = { .sheet = sheet, .setout = setout, .run_index = index, .run = &job->fence.runs[index] };
  t.join = job->settings->inches ? 92 : 68;
  t.level = t.join + 44;
  for (size_t bay = 0; bay < t.run->bay_count; bay++)
    t.rises = t.rises || t.run->bays[bay].rise != 0;
  double room = sheet->right - level_x (&t, 0);
  size_t fit = (size_t)fmax (floor (room / t.level), 1);
  for (size_t l = 0; l < job->levels.count; l += fit)
    {
      t.level_first = l;
      t.level_end = l + fit < job->levels.count ? l + fit : job->levels.count;
      draw_table (&t);
    }
}

void
sw_sheet_setout (sw_sheet *sheet)
{
  const sw_job *job = sheet->job;
  sw_setout setout;
  if (job->fence.run_count == 0)
    return;
  sw_status status = sw_setout_make (&setout, sheet->plan);
  if (status != SW_OK)
    {
      sheet->status = status;
      return;
    }
  char note[160];
  snprintf (note, sizeof note, "distances from the centre of post 1;  marks: undersides above the datum;  in %s",
            job->settings->inches ? "inches" : "mm");
  sw_sheet_new_part (sheet, "Setting out", note);
  draw_stick (sheet);
  for (size_t r = 0; r < job->fence.run_count && sheet->status == SW_OK; r++)
    draw_run (sheet, &setout, r);
  sw_setout_clear (&setout);
}
