/* sheet_ends.c - how timber ends at the posts of a block and where the fence steps, each under its post
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#include "job/corner.h"

#include <math.h>

#define NOTE_ROWS 12 /* at most */

/* Find what a corner mitres of the run's timber: timber on edge, timber laid flat. */
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

/* Write "housed 33", "corner 90, saw 45, outer face long" ... */
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
  /* Timber on top of the posts has neither a face to stop at nor a housing. */
  if (flat && (end->kind == SW_END_HOUSED || end->kind == SW_END_FACE))
    sw_text_add (out, " (on top flush)");
}

/* Write how timber ends at POST on either side and how the fence steps there; empty where all runs on. */
static void
post_note (const sw_sheet_frame *f, size_t post, sw_text *out)
{
  const sw_run *run = f->e->run;
  const sw_bay *near = post > 0 && !run->bays[post - 1].opening ? &run->bays[post - 1] : NULL;
  const sw_bay *far = post < run->bay_count && !run->bays[post].opening ? &run->bays[post] : NULL;
  sw_length step = post > 0 ? run->bays[post - 1].step : 0;
  sw_text_drop (out);
  /* Where the fence steps, timber on both sides usually ends on the centre, which is not said. */
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
    sw_sheet_fail (f->sheet, SW_NO_MEMORY);
}

/* Does all timber of the block end flush, without a step?  That is the default and need not be said. */
static bool
is_usual (const sw_sheet_frame *f)
{
  const sw_run *run = f->e->run;
  for (size_t bay = f->block->first; bay < f->block->last; bay++)
    {
      const sw_bay *b = &run->bays[bay];
      if (!b->opening
          && ((b->start.kind != SW_END_ON && b->start.kind != SW_END_FLUSH)
              || (b->finish.kind != SW_END_ON && b->finish.kind != SW_END_FLUSH)))
        return false;
      if (b->step != 0)
        return false;
    }
  return f->block->first == 0 || run->bays[f->block->first - 1].step == 0;
}

double
sw_sheet_ends (const sw_sheet_frame *f, double y, bool draw)
{
  double free_from[NOTE_ROWS] = { 0 };
  size_t used = 0;
  sw_text note = { 0 };
  if (is_usual (f))
    return 0;
  for (size_t post = f->block->first; post <= f->block->last; post++)
    {
      post_note (f, post, &note);
      if (note.failed || note.length == 0)
        continue;
      double half = sw_sheet_measure (f->sheet, SW_SHEET_SMALL, note.data) / 2, x = sw_sheet_post_x (f, post);
      x = fmax (fmin (x, f->left + f->width - half), f->left + half);
      size_t row = 0;
      while (row < NOTE_ROWS && x - half < free_from[row])
        row++;
      if (row == NOTE_ROWS)
        continue;
      free_from[row] = x + half + 8;
      used = row + 1 > used ? row + 1 : used;
      if (draw)
        sw_sheet_text (f->sheet, SW_SHEET_SMALL, SW_SHEET_CENTRE, x, y + 9 + SW_SHEET_CLOSE * (double)row, 0,
                       note.data);
    }
  sw_text_drop (&note);
  return SW_SHEET_CLOSE * (double)used;
}
