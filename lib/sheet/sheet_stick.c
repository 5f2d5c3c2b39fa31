/* sheet_stick.c - the margin of a block: its levels, and the marked stick that is held to every post
 *
 * Marks from one stick make all posts alike.  The stick is drawn beside the
 * rows at a scale of its own, and a line leads from each level's place on it
 * to the level's row.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#include "job/seat.h"

#include <math.h>

#define STICK 8.0 /* width of the stick on paper */
#define GREY 0.84

/* The stick on paper. */
typedef struct stick
{
  const sw_sheet_frame *f;
  double x; /* its left edge */
  double foot;
  double scale;
} stick;

static const sw_level *
level_of (const sw_sheet_frame *f, size_t row)
{
  return &f->sheet->job->levels.items[f->e->levels[row]];
}

static double
row_y (const sw_sheet_frame *f, size_t row)
{
  return sw_sheet_row_y (f, row, f->e->height[f->block->first]);
}

/* ---- Names ---- */

/* Write "300-375", the underside and the top. */
static void
add_marks (sw_text *out, const sw_job *job, const sw_level *level)
{
  char text[SW_LENGTH_TEXT];
  if (!level->has_height)
    return;
  sw_view_length (job, level->height, text);
  sw_text_add (out, text);
  sw_length tall = sw_seat_height (job, level);
  if (tall == 0)
    return;
  sw_view_length (job, level->height + tall, text);
  sw_text_printf (out, "\342\200\223%s", text);
}

static const char *
seat_text (const sw_level *level)
{
  return !level->through ? "between" : level->seat == SW_SEAT_TOP ? "on top" : "";
}

/* Write "A2 top rail" over "75x38" and the level's marks. */
static void
draw_name (const sw_sheet_frame *f, size_t row)
{
  sw_sheet *sheet = f->sheet;
  const sw_job *job = sheet->job;
  const sw_level *level = level_of (f, row);
  const double y = row_y (f, row), room = SW_SHEET_NAMES - 2;
  char run[SW_PENCIL_RUN];
  sw_text name = { 0 }, section = { 0 }, marks = { 0 };
  sw_pencil_run (f->block->run, run);
  sw_text_printf (&name, "%s%zu %s", run, f->e->levels[row] + 1, level->name);
  sw_text_add (&section, job->sections.items[level->section].name);
  add_marks (&marks, job, level);
  if (name.failed || section.failed || marks.failed)
    sw_sheet_fail (sheet, SW_NO_MEMORY);
  else
    {
      const double wide = marks.length > 0 ? sw_sheet_measure (sheet, SW_SHEET_SMALL_STRONG, marks.data) : 0;
      sw_sheet_text (sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, f->left, y - 1.5, room, name.data);
      const double named = sw_sheet_measure (sheet, SW_SHEET_STRONG, name.data) + 5;
      if (named + sw_sheet_measure (sheet, SW_SHEET_SMALL, seat_text (level)) <= room)
        sw_sheet_text (sheet, SW_SHEET_SMALL, SW_SHEET_LEFT, f->left + named, y - 1.5, 0, seat_text (level));
      if (marks.length > 0)
        sw_sheet_text (sheet, SW_SHEET_SMALL_STRONG, SW_SHEET_RIGHT, f->left + SW_SHEET_NAMES, y + 9, room, marks.data);
      if (room - wide > 18)
        sw_sheet_text (sheet, SW_SHEET_SMALL, SW_SHEET_LEFT, f->left, y + 9, room - wide - 4, section.data);
    }
  sw_text_drop (&name);
  sw_text_drop (&section);
  sw_text_drop (&marks);
}

/* ---- The stick ---- */

/* The highest top of the block's levels above the datum, on which the stick is set; 0 where no stick can be marked. */
static sw_length
highest (const sw_sheet_frame *f)
{
  sw_length most = 0;
  for (size_t row = f->block->row_first; row < f->block->row_end; row++)
    {
      const sw_level *level = level_of (f, row);
      if (!level->has_height)
        continue;
      if (level->height < 0)
        return 0;
      sw_length top = level->height + sw_seat_height (f->sheet->job, level);
      most = top > most ? top : most;
    }
  return most;
}

/* Draw where the timber of a row lies on the stick, and the line that leads to the row. */
static void
draw_place (const stick *s, size_t row)
{
  const sw_sheet_frame *f = s->f;
  const sw_level *level = level_of (f, row);
  const double tall = (double)sw_seat_height (f->sheet->job, level) * s->scale;
  const double under = s->foot - (double)level->height * s->scale, middle = under - tall / 2;
  if (tall > 0)
    sw_sheet_box (f->sheet, s->x, under - tall, STICK, tall, GREY, 0.5);
  sw_sheet_line (f->sheet, s->x - 2, under, s->x + STICK, under, 1.1);
  sw_sheet_line (f->sheet, s->x + STICK, middle, s->x + STICK + 7, row_y (f, row), 0.4);
  sw_sheet_line (f->sheet, s->x - 2, under, s->x - 6, row_y (f, row) + 6, 0.4);
}

static void
draw_stick (const sw_sheet_frame *f)
{
  const sw_length most = highest (f);
  if (most <= 0)
    return;
  const double top = row_y (f, f->block->row_end - 1) - SW_SHEET_PITCH / 2;
  stick s = { .f = f, .x = f->left + SW_SHEET_NAMES + 8 };
  s.foot = sw_sheet_ground_y (f, f->e->height[f->block->first]);
  s.scale = (s.foot - top) / (double)most;
  sw_sheet_box (f->sheet, s.x, top, STICK, s.foot - top, 1, 0.8);
  for (size_t row = f->block->row_first; row < f->block->row_end; row++)
    if (level_of (f, row)->has_height)
      draw_place (&s, row);
  sw_sheet_line (f->sheet, s.x - 3, s.foot, s.x + STICK + 3, s.foot, 0.8);
}

void
sw_sheet_margin (const sw_sheet_frame *f)
{
  for (size_t row = f->block->row_first; row < f->block->row_end; row++)
    draw_name (f, row);
  draw_stick (f);
  const double y = row_y (f, f->block->row_end - 1) - SW_SHEET_PITCH / 2 - SW_SHEET_OVER;
  sw_sheet_text (f->sheet, SW_SHEET_SMALL, SW_SHEET_LEFT, f->left, y - 8, SW_SHEET_NAMES + SW_SHEET_BEFORE - 4,
                 "seen from the outside,");
  sw_sheet_text (f->sheet, SW_SHEET_SMALL, SW_SHEET_LEFT, f->left, y + 1, SW_SHEET_NAMES + SW_SHEET_BEFORE - 4,
                 f->block->first == 0 ? "post 1 on the left" : "post 1 to the left");
}
