/* sheet_stick.c - the marked stick that is held to every post
 *
 * Marks from one stick make all posts alike.  Runs that have not the same
 * levels have a stick each.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_setout.h"

#include "base/memory.h"
#include "base/name_index.h"
#include "job/seat.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define STICK 18.0 /* its height on paper */
#define GREY 0.84

/* The levels that are marked on one stick. */
typedef struct stick
{
  sw_sheet *sheet;
  const sw_job *job;
  size_t run; /* the first that it is for */
  double y;   /* its upper edge on paper */
  double scale;
} stick;

/* The next level from LEVEL on that has a mark; the number of levels: none. */
static size_t
next_mark (const stick *s, size_t level)
{
  while (level < s->job->levels.count
         && !(s->job->levels.items[level].has_height && sw_level_is_on (&s->job->levels.items[level], s->run)))
    level++;
  return level;
}

static double
mark_x (const stick *s, sw_length mark)
{
  return s->sheet->left + 8 + (double)mark * s->scale;
}

/* Figures under or over the stick, each in the first of two rows that is free at its place. */
static void
draw_figures (const stick *s, bool tops)
{
  const sw_job *job = s->job;
  double used[2] = { 0, 0 };
  for (size_t l = next_mark (s, 0); l < job->levels.count; l = next_mark (s, l + 1))
    {
      const sw_level *level = &job->levels.items[l];
      sw_length high = sw_seat_height (job, level);
      if (tops && high == 0)
        continue;
      sw_length mark = tops ? level->height + high : level->height;
      double x = mark_x (s, mark);
      char text[SW_LENGTH_TEXT];
      sw_view_length (job, mark, text);
      double half = sw_sheet_measure (s->sheet, SW_SHEET_STRONG, text) / 2;
      size_t row = x - half < used[0] ? 1 : 0;
      if (x - half < used[row])
        continue;
      used[row] = x + half + 4;
      double reach = 4 + (double)row * 11;
      sw_sheet_line (s->sheet, x, tops ? s->y : s->y + STICK, x, tops ? s->y - reach : s->y + STICK + reach, 0.6);
      sw_sheet_text (s->sheet, SW_SHEET_STRONG, SW_SHEET_CENTRE, x, tops ? s->y - reach - 2 : s->y + STICK + reach + 9,
                     0, text);
    }
}

/* Where the timber of LEVEL lies on the stick, and its name; NEXT: where the next level's begins. */
static void
draw_level (const stick *s, const sw_level *level, double next)
{
  double x = mark_x (s, level->height), width = (double)sw_seat_height (s->job, level) * s->scale;
  if (width > 0)
    sw_sheet_box (s->sheet, x, s->y, width, STICK, GREY, 0.8);
  else
    sw_sheet_line (s->sheet, x, s->y, x, s->y + STICK, 1.6);
  /* Where the timber is too thin for it, or not known, the name follows the mark. */
  double wide = sw_sheet_measure (s->sheet, SW_SHEET_BODY, level->name);
  if (wide <= width - 4)
    sw_sheet_text (s->sheet, SW_SHEET_BODY, SW_SHEET_CENTRE, x + width / 2, s->y + STICK / 2 + 3.7, 0, level->name);
  else if (next - x - width > 16)
    sw_sheet_text (s->sheet, SW_SHEET_BODY, SW_SHEET_LEFT, x + width + 4, s->y + STICK / 2 + 3.7,
                   fmin (next - x - width - 6, 110), level->name);
}

/* Lying down, its foot (the datum) at the left. */
static void
draw_stick (stick *s, const char *title, bool steps)
{
  sw_sheet *sheet = s->sheet;
  const sw_job *job = s->job;
  sw_length most = 0, least = 0;
  for (size_t l = next_mark (s, 0); l < job->levels.count; l = next_mark (s, l + 1))
    {
      const sw_level *level = &job->levels.items[l];
      sw_length top = level->height + sw_seat_height (job, level);
      most = top > most ? top : most;
      least = level->height < least ? level->height : least;
    }
  /* Levels under the datum cannot be marked on a stick that stands on it. */
  if (most <= 0 || least < 0)
    return;
  const char *note
      = steps ? "foot on the datum, past a step so far over it as the table says;  undersides below, tops above"
              : "its foot on the datum;  undersides below, tops above";
  double right = sheet->right - sw_sheet_measure (sheet, SW_SHEET_BODY, note) - 12;
  sw_sheet_need (sheet, 110);
  sheet->y += SW_SHEET_LINE;
  sw_sheet_text (sheet, SW_SHEET_HEADING, SW_SHEET_LEFT, sheet->left, sheet->y, right - sheet->left, title);
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, sheet->right, sheet->y, 0, note);
  /* What is thin and topmost has its name beyond it. */
  s->scale = (sheet->right - sheet->left - 124) / (double)most;
  s->y = sheet->y + 34;
  sw_sheet_box (sheet, sheet->left + 8, s->y, (double)most * s->scale, STICK, 1, 0.8);
  for (size_t l = next_mark (s, 0); l < job->levels.count;)
    {
      size_t next = next_mark (s, l + 1);
      draw_level (s, &job->levels.items[l],
                  next < job->levels.count ? mark_x (s, job->levels.items[next].height) : sheet->right);
      l = next;
    }
  draw_figures (s, true);
  draw_figures (s, false);
  sheet->y = s->y + STICK + 34;
}

/* ---- Which runs a stick is for ---- */

/* A stick a kind of run: runs of a kind have the same levels. */
typedef struct kinds
{
  char *keys;   /* of each run: a letter a level, a 0 at the end */
  size_t *of;   /* of each run: the first of its kind */
  size_t count; /* of kinds */
} kinds;

static sw_status
find_kinds (kinds *out, const sw_job *job)
{
  const size_t levels = job->levels.count, runs = job->fence.run_count;
  sw_name_index known = { 0 };
  sw_status status = SW_OK;
  /* No more than the marks of the set-out, which are in memory. */
  out->keys = sw_alloc (runs, levels + 1);
  out->of = sw_alloc (runs, sizeof *out->of);
  if (out->keys == NULL || out->of == NULL)
    return SW_NO_MEMORY;
  for (size_t r = 0; r < runs && status == SW_OK; r++)
    {
      char *key = out->keys + r * (levels + 1);
      for (size_t l = 0; l < levels; l++)
        key[l] = job->levels.items[l].has_height && sw_level_is_on (&job->levels.items[l], r) ? 'y' : 'n';
      key[levels] = '\0';
      if (sw_name_index_find (&known, key, &out->of[r]))
        continue;
      out->of[r] = r;
      out->count++;
      status = sw_name_index_add (&known, key, r);
    }
  sw_name_index_clear (&known);
  return status;
}

/* "One stick for every post of runs a, b": as many as there is room for. */
static void
add_title (sw_text *out, const sw_job *job, const kinds *kinds, size_t first)
{
  size_t named = 0;
  sw_text_add (out, "One stick for every post");
  for (size_t r = first; r < job->fence.run_count && kinds->count > 1; r++)
    if (kinds->of[r] == first)
      sw_text_printf (out, "%s%s", named++ > 0 ? ", " : " of run ", job->fence.runs[r].name);
}

static bool
has_step (const sw_job *job, const kinds *kinds, size_t first)
{
  for (size_t r = first; r < job->fence.run_count; r++)
    for (size_t b = 0; b < job->fence.runs[r].bay_count && kinds->of[r] == first; b++)
      if (job->fence.runs[r].bays[b].step != 0)
        return true;
  return false;
}

void
sw_sheet_sticks (sw_sheet *sheet)
{
  const sw_job *job = sheet->job;
  kinds kinds = { 0 };
  sw_status status = find_kinds (&kinds, job);
  for (size_t r = 0; r < job->fence.run_count && status == SW_OK && sw_sheet_goes_on (sheet); r++)
    {
      if (kinds.of[r] != r)
        continue;
      sw_text title = { 0 };
      stick s = { .sheet = sheet, .job = job, .run = r };
      add_title (&title, job, &kinds, r);
      if (title.failed)
        status = SW_NO_MEMORY;
      else
        draw_stick (&s, title.data, has_step (job, &kinds, r));
      sw_text_drop (&title);
    }
  if (sheet->status == SW_OK)
    sheet->status = status;
  free (kinds.keys);
  free (kinds.of);
}
