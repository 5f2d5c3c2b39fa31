/* sheet_rows.c - what stands under a strip: dimensions, rises, how timber ends
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#include "job/corner.h"

#include <math.h>
#include <stdio.h>

#define NOTE_ROWS 12 /* at most */

/* What was measured of a bay, with its name where it has one of its own. */
static void
bay_text (const sw_sheet_frame *f, size_t bay, bool named, sw_text *out)
{
  const sw_bay *b = &f->e->run->bays[bay];
  char length[SW_LENGTH_TEXT], number[32];
  sw_view_length (f->sheet->job, b->measured, length);
  sw_text_drop (out);
  snprintf (number, sizeof number, "%zu", bay + 1);
  size_t i = 0;
  while (number[i] != '\0' && number[i] == b->label[i])
    i++;
  bool own = number[i] != b->label[i];
  if (named && own)
    sw_text_printf (out, "%s: %s", b->label, length);
  else
    sw_text_add (out, length);
}

static double
bay_width (const sw_sheet_frame *f, size_t bay)
{
  return f->e->at[bay + 1] - f->e->at[bay];
}

static void
draw_dimensions (const sw_sheet_frame *f, double y)
{
  bool clear = f->sheet->job->settings->measured == SW_MEASURED_CLEAR;
  double line = y + f->strip->dimensions - 4;
  sw_text text = { 0 };
  for (size_t bay = f->strip->first; bay < f->strip->last; bay++)
    {
      double x1 = sw_sheet_post_x (f, bay) + (clear ? sw_sheet_half_post (f, bay) : 0);
      double x2 = sw_sheet_post_x (f, bay + 1) - (clear ? sw_sheet_half_post (f, bay + 1) : 0);
      sw_sheet_line (f->sheet, x1, line, x2, line, 0.5);
      const double ends[] = { x1, x2 };
      for (int i = 0; i < 2; i++)
        {
          sw_sheet_line (f->sheet, ends[i], line - 4, ends[i], line + 3, 0.5);
          sw_sheet_line (f->sheet, ends[i] - 2.5, line + 2.5, ends[i] + 2.5, line - 2.5, 1);
        }
      bay_text (f, bay, true, &text);
      if (text.failed)
        f->sheet->status = SW_NO_MEMORY;
      else if (sw_sheet_measure (f->sheet, SW_SHEET_BODY, text.data) > bay_width (f, bay) - 4)
        bay_text (f, bay, false, &text);
      if (text.failed)
        break;
      double width = sw_sheet_measure (f->sheet, SW_SHEET_BODY, text.data);
      if (width <= bay_width (f, bay) - 4)
        sw_sheet_text (f->sheet, SW_SHEET_BODY, SW_SHEET_CENTRE, (x1 + x2) / 2, line - 3, 0, text.data);
      else if (bay_width (f, bay) >= 10)
        sw_sheet_text_turned (f->sheet, SW_SHEET_BODY, (x1 + x2) / 2, line - 4 - width / 2, -G_PI / 2, text.data);
    }
  sw_text_drop (&text);
}

static void
draw_rises (const sw_sheet_frame *f, double baseline)
{
  for (size_t bay = f->strip->first; bay < f->strip->last; bay++)
    {
      sw_length rise = f->e->run->bays[bay].rise;
      char length[SW_LENGTH_TEXT], text[SW_LENGTH_TEXT + 8];
      if (rise == 0)
        continue;
      sw_view_length (f->sheet->job, rise > 0 ? rise : -rise, length);
      snprintf (text, sizeof text, "%s %s", rise > 0 ? "up" : "down", length);
      sw_sheet_text (f->sheet, SW_SHEET_BODY, SW_SHEET_CENTRE,
                     (sw_sheet_post_x (f, bay) + sw_sheet_post_x (f, bay + 1)) / 2, baseline, bay_width (f, bay), text);
    }
}

/* What of the run's timber a corner mitres: on edge, laid flat. */
static void
find_seats (const sw_sheet_frame *f, bool *on_edge, bool *flat)
{
  *on_edge = *flat = false;
  for (size_t row = 0; row < f->e->row_count; row++)
    {
      const sw_level *level = &f->sheet->job->levels.items[f->e->levels[row]];
      *flat = *flat || (level->through && level->seat == SW_SEAT_TOP);
      *on_edge = *on_edge || (level->through && level->seat != SW_SEAT_TOP);
    }
}

/* "housed 33", "corner 90, saw 45, outer face long" ... */
static void
add_end (const sw_sheet_frame *f, const sw_end *end, sw_text *out)
{
  char number[SW_LENGTH_TEXT], saw[SW_VIEW_THOUSANDTHS], angle[SW_VIEW_THOUSANDTHS];
  bool on_edge, flat;
  find_seats (f, &on_edge, &flat);
  if (out->length > 0)
    sw_text_add (out, " | ");
  if (end->kind == SW_END_MITRE)
    {
      sw_view_thousandths (end->angle, angle);
      sw_view_thousandths (sw_end_saw_setting (end), saw);
      sw_text_printf (out, "corner %s\302\260, saw %s\302\260", angle, saw);
      if (on_edge || flat)
        sw_text_printf (out, ", %s %s long", sw_corner_long_side (end) == SW_SIDE_OUTER ? "outer" : "inner",
                        on_edge && flat ? "face or edge"
                        : flat          ? "edge"
                                        : "face");
      return;
    }
  sw_text_add (out, sw_end_name (end->kind));
  if (end->kind == SW_END_HOUSED || end->kind == SW_END_REACH)
    {
      sw_view_length (f->sheet->job, end->length, number);
      sw_text_printf (out, " %s", number);
    }
  /* On top of the posts timber has neither a face to stop at nor a housing. */
  if (flat && (end->kind == SW_END_HOUSED || end->kind == SW_END_FACE))
    sw_text_add (out, " (on top flush)");
}

/* How timber ends at POST on either side and how the fence goes on; empty where all runs on. */
static void
post_note (const sw_sheet_frame *f, size_t post, sw_text *out)
{
  const sw_run *run = f->e->run;
  const sw_bay *near = post > 0 && !run->bays[post - 1].opening ? &run->bays[post - 1] : NULL;
  const sw_bay *far = post < run->bay_count && !run->bays[post].opening ? &run->bays[post] : NULL;
  sw_length step = post > 0 ? run->bays[post - 1].step : 0;
  sw_text_drop (out);
  /* Where the fence steps both sides end on the centre, which is said only of those that do not. */
  bool usual = step != 0 && near != NULL && far != NULL && near->finish.kind == SW_END_CENTRE
               && far->start.kind == SW_END_CENTRE;
  if (near != NULL && near->finish.kind != SW_END_ON && !usual)
    add_end (f, &near->finish, out);
  if (far != NULL && far->start.kind != SW_END_ON && !usual)
    add_end (f, &far->start, out);
  if (step != 0)
    {
      char number[SW_LENGTH_TEXT];
      sw_view_length (f->sheet->job, step > 0 ? step : -step, number);
      sw_text_printf (out, "%sstep %s %s", out->length > 0 ? "; " : "", step > 0 ? "up" : "down", number);
    }
  if (out->failed)
    f->sheet->status = SW_NO_MEMORY;
}

/* Notes stand under their posts, each in the first row that is free there; the rows used. */
static size_t
place_notes (const sw_sheet_frame *f, double y, bool draw)
{
  double free_from[NOTE_ROWS] = { 0 };
  size_t used = 0;
  sw_text note = { 0 };
  for (size_t post = f->strip->first; post <= f->strip->last; post++)
    {
      post_note (f, post, &note);
      if (note.failed || note.length == 0)
        continue;
      double half = sw_sheet_measure (f->sheet, SW_SHEET_BODY, note.data) / 2, x = sw_sheet_post_x (f, post);
      x = fmax (fmin (x, f->sheet->right - half), f->sheet->left + half);
      size_t row = 0;
      while (row < NOTE_ROWS && x - half < free_from[row])
        row++;
      if (row == NOTE_ROWS)
        continue;
      free_from[row] = x + half + 8;
      used = row + 1 > used ? row + 1 : used;
      if (draw)
        sw_sheet_text (f->sheet, SW_SHEET_BODY, SW_SHEET_CENTRE, x, y + 10 + SW_SHEET_LINE * (double)row, 0, note.data);
    }
  sw_text_drop (&note);
  return used;
}

void
sw_sheet_measure_rows (const sw_sheet_frame *f, sw_strip *strip)
{
  strip->rises = false;
  strip->dimensions = 18;
  sw_text text = { 0 };
  for (size_t bay = strip->first; bay < strip->last; bay++)
    {
      strip->rises = strip->rises || f->e->run->bays[bay].rise != 0;
      bay_text (f, bay, false, &text);
      double width = text.failed ? 0 : sw_sheet_measure (f->sheet, SW_SHEET_BODY, text.data);
      if (width > bay_width (f, bay) - 4 && bay_width (f, bay) >= 10)
        strip->dimensions = fmax (strip->dimensions, width + 10);
    }
  sw_text_drop (&text);
  strip->note_rows = place_notes (f, 0, false);
}

void
sw_sheet_draw_rows (const sw_sheet_frame *f, double y)
{
  draw_dimensions (f, y);
  y += f->strip->dimensions;
  if (f->strip->rises)
    draw_rises (f, y + 10);
  place_notes (f, y + (f->strip->rises ? SW_SHEET_LINE : 0), true);
}
