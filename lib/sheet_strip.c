/* sheet_strip.c - one strip of a run in elevation
 *
 * From the top: post numbers, the levels (their timber in front of the
 * posts, as it is fixed), the ground, dimensions, rises, notes on the ends.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet_run.h"

#include <math.h>
#include <stdio.h>

#define NUMBERS 15.0 /* row of post numbers */
#define PITCH 28.0   /* from level to level */
#define BAND 18.0    /* a piece's height on paper */
#define OVER 5.0     /* posts stand this much above the top level */
#define UNDER 8.0    /* and the ground lies this much below the lowest */
#define BURIED 6.0
#define GREY 0.84
#define FAR 1e6 /* no strip is so wide */

/* ---- Where things are ---- */

static double
levels_height (const sw_strip *strip)
{
  return OVER + PITCH * (double)(strip->level_end - strip->level_first) + UNDER;
}

double
sw_sheet_post_x (const sw_sheet_frame *f, size_t post)
{
  return f->x0 + f->e->at[post] - f->e->at[f->strip->first];
}

static double
ground_y (const sw_sheet_frame *f, double height)
{
  return f->ground - (height - f->strip->low);
}

/* Middle of level LEVEL over ground that is at HEIGHT. */
static double
level_y (const sw_sheet_frame *f, size_t level, double height)
{
  return ground_y (f, height) - UNDER - PITCH * ((double)(level - f->strip->level_first) + 0.5);
}

static double
post_top (const sw_sheet_frame *f, size_t post)
{
  return level_y (f, f->strip->level_end - 1, f->e->height[post]) - PITCH / 2 - OVER;
}

double
sw_sheet_half_post (const sw_sheet_frame *f, size_t post)
{
  return fmax ((double)f->e->run->posts[post].width * f->e->scale / 2, 1.2);
}

/* ---- Pieces ---- */

/* A piece as a straight band: from x1 at height h1 to x2 at height h2. */
typedef struct band
{
  double x1, h1, x2, h2;
  bool cut_start; /* goes on beyond the strip */
  bool cut_finish;
} band;

static double
bay_slope (const sw_elevation *e, size_t bay)
{
  double span = e->at[bay + 1] - e->at[bay];
  return span > 0 ? (e->height[bay + 1] - e->height[bay]) / span : 0;
}

/* False: nothing of it shows in this strip. */
static bool
piece_band (const sw_sheet_frame *f, const sw_piece *piece, band *out)
{
  const sw_elevation *e = f->e;
  const sw_run *run = e->run;
  size_t last_bay = piece->to - 1;
  double before, after; /* how far it reaches past the two posts' centres */
  if (piece->kind == SW_PIECE_BETWEEN)
    {
      before = -sw_sheet_half_post (f, piece->from);
      after = -sw_sheet_half_post (f, piece->to);
    }
  else
    {
      before = (double)sw_end_reach (&run->bays[piece->from].start, run->posts[piece->from].width) * e->scale;
      after = (double)sw_end_reach (&run->bays[last_bay].finish, run->posts[piece->to].width) * e->scale;
    }
  out->x1 = sw_sheet_post_x (f, piece->from) - before;
  out->h1 = e->height[piece->from] - before * bay_slope (e, piece->from);
  out->x2 = sw_sheet_post_x (f, piece->to) + after;
  out->h2 = e->height[piece->to] + after * bay_slope (e, last_bay);
  double start = sw_sheet_post_x (f, f->strip->first) - (f->strip->mark_first > 0 ? SW_SHEET_STUB : FAR);
  double finish = sw_sheet_post_x (f, f->strip->last) + (f->strip->mark_last > 0 ? SW_SHEET_STUB : FAR);
  if (out->x2 <= start + 0.5 || out->x1 >= finish - 0.5 || out->x2 <= out->x1)
    return false;
  double slope = (out->h2 - out->h1) / (out->x2 - out->x1);
  out->cut_start = out->x1 < start - 0.5;
  out->cut_finish = out->x2 > finish + 0.5;
  if (out->cut_start)
    {
      out->h1 += slope * (start - out->x1);
      out->x1 = start;
    }
  if (out->cut_finish)
    {
      out->h2 += slope * (finish - out->x2);
      out->x2 = finish;
    }
  return true;
}

/* One edge of a band, from its upper corner down (or back up): straight, or torn where the piece goes on. */
static size_t
add_edge (double *points, size_t count, double x, double y, bool torn, bool downward)
{
  double step = downward ? BAND / 3 : -BAND / 3;
  double y0 = y - (downward ? BAND / 2 : -BAND / 2);
  for (int i = 0; i <= 3; i++)
    {
      if (!torn && (i == 1 || i == 2))
        continue;
      points[2 * count] = x + (i == 1 ? 2.5 : i == 2 ? -2.5 : 0);
      points[2 * count + 1] = y0 + i * step;
      count++;
    }
  return count;
}

/* The short point of a mitred end, hidden behind the piece. */
static void
draw_mitre (const sw_sheet_frame *f, const sw_piece *piece, const band *b, double y1, double y2)
{
  double thick = (double)f->sheet->job->sections.items[piece->section].thickness * f->e->scale;
  double slope = (y2 - y1) / (b->x2 - b->x1);
  if (piece->start_saw != 0 && !b->cut_start)
    {
      double back = fmax (thick * tan (piece->start_saw / 1000.0 * G_PI / 180), 5);
      sw_sheet_dashed (f->sheet, b->x1 + back, y1 + slope * back - BAND / 2, b->x1 + back, y1 + slope * back + BAND / 2,
                       0.8);
    }
  if (piece->finish_saw != 0 && !b->cut_finish)
    {
      double back = fmax (thick * tan (piece->finish_saw / 1000.0 * G_PI / 180), 5);
      sw_sheet_dashed (f->sheet, b->x2 - back, y2 - slope * back - BAND / 2, b->x2 - back, y2 - slope * back + BAND / 2,
                       0.8);
    }
}

/* The label and the length as far as they find room: rather the posts alone than nothing. */
static void
draw_label (const sw_sheet_frame *f, const sw_piece *piece, const band *b, double y1, double y2)
{
  if (f->sheet->cr == NULL)
    return;
  double room = hypot (b->x2 - b->x1, y2 - y1) - 8 - (piece->start_saw != 0 ? 6 : 0) - (piece->finish_saw != 0 ? 6 : 0);
  char length[SW_LENGTH_TEXT], posts[64];
  sw_view_length (f->sheet->job, piece->cut, length);
  snprintf (posts, sizeof posts, "%zu-%zu", piece->from + 1, piece->to + 1);
  const char *label = piece->label;
  double label_width = sw_sheet_measure (f->sheet, SW_SHEET_STRONG, label);
  double length_width = sw_sheet_measure (f->sheet, SW_SHEET_BODY, length), gap = 8;
  if (label_width + gap + length_width > room)
    {
      double posts_width = sw_sheet_measure (f->sheet, SW_SHEET_STRONG, posts);
      if (label_width > room || posts_width + gap + length_width <= room)
        {
          label = posts;
          label_width = posts_width;
        }
      if (label_width > room)
        return;
      if (label_width + gap + length_width > room)
        length_width = gap = 0;
    }
  double angle = atan2 (y2 - y1, b->x2 - b->x1);
  double x = (b->x1 + b->x2) / 2, y = (y1 + y2) / 2;
  double before = (label_width - (label_width + gap + length_width)) / 2;
  double after = (label_width + gap + length_width - length_width) / 2;
  sw_sheet_text_turned (f->sheet, SW_SHEET_STRONG, x + before * cos (angle), y + before * sin (angle), angle, label);
  if (length_width > 0)
    sw_sheet_text_turned (f->sheet, SW_SHEET_BODY, x + after * cos (angle), y + after * sin (angle), angle, length);
}

static void
draw_pieces (const sw_sheet_frame *f)
{
  const sw_plan *plan = f->sheet->plan;
  size_t level = SW_NONE, in_level = 0;
  for (size_t i = f->e->piece_first; i < f->e->piece_end; i++)
    {
      const sw_piece *piece = &plan->pieces[i];
      in_level = piece->level == level ? in_level + 1 : 0;
      level = piece->level;
      band b;
      if (level < f->strip->level_first || level >= f->strip->level_end || !piece_band (f, piece, &b))
        continue;
      double y1 = level_y (f, level, b.h1), y2 = level_y (f, level, b.h2);
      double points[16];
      size_t count = add_edge (points, 0, b.x2, y2, b.cut_finish, true);
      count = add_edge (points, count, b.x1, y1, b.cut_start, false);
      sw_sheet_polygon (f->sheet, points, count, in_level % 2 == 0 ? 1 : GREY, 0.9);
      draw_mitre (f, piece, &b, y1, y2);
      draw_label (f, piece, &b, y1, y2);
    }
}

/* A bar over every post centre where two pieces meet. */
static void
draw_joins (const sw_sheet_frame *f)
{
  for (size_t i = f->e->piece_first; i < f->e->piece_end; i++)
    {
      const sw_piece *piece = &f->sheet->plan->pieces[i];
      if (piece->kind != SW_PIECE_THROUGH || piece->finish_end != SW_END_ON || piece->to < f->strip->first
          || piece->to > f->strip->last || piece->level < f->strip->level_first || piece->level >= f->strip->level_end)
        continue;
      double x = sw_sheet_post_x (f, piece->to), y = level_y (f, piece->level, f->e->height[piece->to]);
      sw_sheet_line (f->sheet, x, y - BAND / 2 - 3, x, y + BAND / 2 + 3, 2.6);
    }
}

/* ---- Posts, ground, gates ---- */

static void
draw_posts (const sw_sheet_frame *f)
{
  for (size_t post = f->strip->first; post <= f->strip->last; post++)
    {
      double x = sw_sheet_post_x (f, post), top = post_top (f, post), ground = ground_y (f, f->e->height[post]);
      double half = sw_sheet_half_post (f, post);
      char number[32];
      snprintf (number, sizeof number, "%zu", post + 1);
      sw_sheet_box (f->sheet, x - half, top, 2 * half, ground + BURIED - top, 1, 0.6);
      sw_sheet_text (f->sheet, SW_SHEET_STRONG, SW_SHEET_CENTRE, x, top - 4, 0, number);
      if (post < f->strip->last)
        sw_sheet_line (f->sheet, x + half, ground, sw_sheet_post_x (f, post + 1) - sw_sheet_half_post (f, post + 1),
                       ground_y (f, f->e->height[post + 1]), 0.5);
    }
}

static void
draw_gate (const sw_sheet_frame *f, size_t bay)
{
  double x1 = sw_sheet_post_x (f, bay) + sw_sheet_half_post (f, bay) + 2,
         x2 = sw_sheet_post_x (f, bay + 1) - sw_sheet_half_post (f, bay + 1) - 2;
  double height = fmax (f->e->height[bay], f->e->height[bay + 1]);
  double foot = level_y (f, f->strip->level_first, height) + BAND / 2;
  double top = level_y (f, f->strip->level_end - 1, height) - BAND / 2;
  if (x2 <= x1)
    return;
  sw_sheet_dashed (f->sheet, x1, foot, x1, top, 0.8);
  sw_sheet_dashed (f->sheet, x2, foot, x2, top, 0.8);
  sw_sheet_dashed (f->sheet, x1, foot, x2, foot, 0.8);
  sw_sheet_dashed (f->sheet, x1, top, x2, top, 0.8);
  sw_sheet_dashed (f->sheet, x1, foot, x2, top, 0.8);
  double drawn = f->e->at[bay + 1] - f->e->at[bay];
  bool broken = drawn < (double)f->e->run->bays[bay].span * f->e->scale - 1;
  const char *text = broken ? "gate (drawn short)" : "gate";
  double half = sw_sheet_measure (f->sheet, SW_SHEET_BODY, text) / 2 + 3;
  double y = (foot + top) / 2, x = (x1 + x2) / 2;
  sw_sheet_box (f->sheet, x - half, y - 8, 2 * half, 16, 1, 0);
  sw_sheet_text (f->sheet, SW_SHEET_BODY, SW_SHEET_CENTRE, x, y + 3.6, 0, text);
}

/* ---- The strip ---- */

static sw_sheet_frame
frame_of (sw_sheet *sheet, const sw_elevation *elevation, const sw_strip *strip)
{
  sw_sheet_frame f = { .sheet = sheet, .e = elevation, .strip = strip, .top = sheet->y };
  f.x0 = sheet->left + SW_SHEET_NAMES + SW_SHEET_BEFORE + elevation->overhang;
  f.ground = f.top + NUMBERS + (strip->high - strip->low) + levels_height (strip);
  return f;
}

double
sw_sheet_strip_height (sw_sheet *sheet, const sw_elevation *elevation, sw_strip *strip)
{
  sw_sheet_frame f = frame_of (sheet, elevation, strip);
  sw_sheet_measure_rows (&f, strip);
  return NUMBERS + (strip->high - strip->low) + levels_height (strip) + BURIED + strip->dimensions
         + (strip->rises ? SW_SHEET_LINE : 0) + SW_SHEET_LINE * (double)strip->note_rows + 12;
}

static void
draw_names (const sw_sheet_frame *f)
{
  const sw_job *job = f->sheet->job;
  for (size_t level = f->strip->level_first; level < f->strip->level_end; level++)
    {
      const sw_level *item = &job->levels.items[level];
      double y = level_y (f, level, f->e->height[f->strip->first]), limit = SW_SHEET_NAMES - 4;
      sw_text text = { 0 };
      sw_text_add (&text, job->sections.items[item->section].name);
      if (item->has_height)
        {
          char height[SW_LENGTH_TEXT];
          sw_view_length (f->sheet->job, item->height, height);
          sw_text_printf (&text, " at %s", height);
        }
      if (text.failed)
        f->sheet->status = SW_NO_MEMORY;
      else
        {
          sw_sheet_text (f->sheet, SW_SHEET_STRONG, SW_SHEET_LEFT, f->sheet->left, y - 1, limit, item->name);
          sw_sheet_text (f->sheet, SW_SHEET_BODY, SW_SHEET_LEFT, f->sheet->left, y + 10, limit, text.data);
        }
      sw_text_drop (&text);
    }
}

/* Where a strip breaks off: the same letter at both ends. */
static void
draw_match (const sw_sheet_frame *f, size_t mark, size_t post, double side)
{
  if (mark == 0)
    return;
  char text[16] = "";
  size_t at = sizeof text - 1;
  for (size_t n = mark; n > 0 && at > 0; n = (n - 1) / 26)
    text[--at] = (char)('A' + (n - 1) % 26);
  double x = sw_sheet_post_x (f, post), top = post_top (f, post);
  sw_sheet_dashed (f->sheet, x, top - 2, x, ground_y (f, f->e->height[post]) + BURIED, 1.2);
  sw_sheet_disc (f->sheet, x + side * 20, top - 7, 7, text + at);
}

void
sw_sheet_strip (sw_sheet *sheet, const sw_elevation *elevation, const sw_strip *strip)
{
  sw_sheet_frame f = frame_of (sheet, elevation, strip);
  double y = f.ground + BURIED;
  if (sheet->cr != NULL)
    {
      sw_sheet_clip (sheet, sheet->left, 0, sheet->right - sheet->left, sheet->height);
      draw_names (&f);
      draw_posts (&f);
      for (size_t bay = strip->first; bay < strip->last; bay++)
        if (elevation->run->bays[bay].opening)
          draw_gate (&f, bay);
      draw_pieces (&f);
      draw_joins (&f);
      draw_match (&f, strip->mark_first, strip->first, -1);
      draw_match (&f, strip->mark_last, strip->last, 1);
      sw_sheet_draw_rows (&f, y);
      sw_sheet_unclip (sheet);
    }
  y = f.ground + BURIED + strip->dimensions + (strip->rises ? SW_SHEET_LINE : 0);
  sheet->y = y + SW_SHEET_LINE * (double)strip->note_rows + 12;
}
