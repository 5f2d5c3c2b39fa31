/* sheet_run.c - runs in elevation: scale and breaks
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet_run.h"

#include "base/memory.h"
#include "job/seat.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define NM_A_POINT (25.4e6 / 72)
#define ROWS_A_STRIP 12
/* A gate wider than this is drawn broken: it would push the timber off the strip. */
#define WIDEST_GATE 220.0
#define WIDEST_OVERHANG 60.0
/* A whole run in one strip is worth a scale as small as this ... */
#define WHOLE_RUN_SCALE 75
/* ... else this one lets labels stand on pieces of one bay. */
#define LONG_RUN_SCALE 60
#define SMALLEST_RUN_SCALE 20

/* Scales that a rule has. */
static int64_t
next_scale (int64_t denominator)
{
  static const int64_t usual[] = { 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200 };
  int64_t decade = 1;
  while (denominator >= 200)
    {
      denominator = (denominator + 9) / 10;
      decade *= 10;
    }
  for (size_t i = 0; i < sizeof usual / sizeof usual[0]; i++)
    if (usual[i] > denominator)
      return usual[i] * decade;
  return 200 * decade;
}

/* For the posts of a strip; one that breaks off has a match mark besides. */
static double
room (const sw_sheet *sheet, const sw_elevation *elevation, bool whole)
{
  return sheet->right - sheet->left - SW_SHEET_NAMES - SW_SHEET_BEFORE - elevation->overhang
         - (whole ? elevation->overhang + 2 : 32);
}

static double
rise_room (const sw_sheet *sheet, const sw_elevation *elevation)
{
  size_t rows = elevation->row_count < ROWS_A_STRIP ? elevation->row_count : ROWS_A_STRIP;
  return sheet->bottom - sheet->top - 130 - 24.0 * (double)rows;
}

/* How far timber that ends so sticks out past the centre of a post WIDTH wide. */
static double
end_overhang (const sw_job *job, const sw_elevation *elevation, const sw_end *end, sw_length width)
{
  double most = (double)sw_end_reach (end, width);
  /* Where a mitre's long point is depends on how the timber sits. */
  for (size_t row = 0; row < elevation->row_count && end->kind == SW_END_MITRE; row++)
    {
      const sw_level *level = &job->levels.items[elevation->levels[row]];
      if (level->through)
        most = fmax (most, (double)sw_seat_reach (job, level, end, width));
    }
  return most;
}

/* The most that timber or a post sticks out past the centre of a post. */
static double
find_overhang (const sw_job *job, const sw_elevation *elevation)
{
  const sw_run *run = elevation->run;
  double most = 0;
  for (size_t i = 0; i <= run->bay_count; i++)
    {
      sw_length width = run->posts[i].width;
      most = fmax (most, (double)width / 2);
      if (i < run->bay_count)
        most = fmax (most, end_overhang (job, elevation, &run->bays[i].start, width));
      if (i > 0)
        most = fmax (most, end_overhang (job, elevation, &run->bays[i - 1].finish, width));
    }
  return fmin (most * elevation->scale, WIDEST_OVERHANG);
}

/* The levels that the run has, bottom to top. */
static void
find_rows (const sw_job *job, sw_elevation *elevation)
{
  elevation->row_count = 0;
  for (size_t level = 0; level < job->levels.count; level++)
    {
      bool on = sw_level_is_on (&job->levels.items[level], elevation->run_index);
      elevation->rows[level] = on ? elevation->row_count : SW_NONE;
      if (on)
        elevation->levels[elevation->row_count++] = level;
    }
}

/* Where the posts stand at a scale. */
static void
place_posts (const sw_job *job, sw_elevation *elevation, int64_t denominator)
{
  const sw_run *run = elevation->run;
  elevation->denominator = denominator;
  elevation->scale = 1 / (NM_A_POINT * (double)denominator);
  elevation->at[0] = elevation->before[0] = elevation->height[0] = 0;
  for (size_t i = 0; i < run->bay_count; i++)
    {
      const sw_bay *bay = &run->bays[i];
      double span = (double)bay->span * elevation->scale;
      if (bay->opening && span > WIDEST_GATE)
        span = WIDEST_GATE;
      elevation->at[i + 1] = elevation->at[i] + span;
      elevation->before[i + 1] = elevation->height[i] + (double)bay->rise * elevation->scale;
      elevation->height[i + 1] = elevation->before[i + 1] + (double)bay->step * elevation->scale;
    }
  elevation->overhang = find_overhang (job, elevation);
}

/* Widen LOW to HIGH by what timber between posts FIRST and LAST stands on. */
static void
find_heights (const sw_elevation *elevation, size_t first, size_t last, double *low, double *high)
{
  for (size_t i = first; i <= last; i++)
    {
      double near = i > first ? elevation->before[i] : elevation->height[i];
      double far = i < last ? elevation->height[i] : near;
      *low = fmin (*low, fmin (near, far));
      *high = fmax (*high, fmax (near, far));
    }
}

/* Does each bay fit a strip by itself?  WHOLE: and do they all fit one? */
static bool
fits (const sw_sheet *sheet, const sw_elevation *elevation, bool whole)
{
  double width = room (sheet, elevation, whole), rise = rise_room (sheet, elevation);
  size_t bays = elevation->run->bay_count;
  double low = 0, high = 0;
  for (size_t i = 0; i < bays; i++)
    if (elevation->at[i + 1] - elevation->at[i] > width
        || fabs (elevation->before[i + 1] - elevation->height[i]) > rise)
      return false;
  find_heights (elevation, 0, bays, &low, &high);
  return !whole || (elevation->at[bays] <= width && high - low <= rise);
}

static void
choose_scale (const sw_sheet *sheet, sw_elevation *elevation)
{
  for (int64_t d = SMALLEST_RUN_SCALE; d <= WHOLE_RUN_SCALE; d = next_scale (d))
    {
      place_posts (sheet->job, elevation, d);
      if (fits (sheet, elevation, true))
        return;
    }
  for (int64_t d = LONG_RUN_SCALE; d < INT64_C (1000000000); d = next_scale (d))
    {
      place_posts (sheet->job, elevation, d);
      if (fits (sheet, elevation, false))
        return;
    }
}

/* Last post of the strip that begins at FIRST: as far as it fits, but rather
 * where the timber ends anyhow than in the middle of pieces. */
static size_t
strip_end (const sw_sheet *sheet, const sw_elevation *elevation, size_t first)
{
  const sw_run *run = elevation->run;
  double rise = rise_room (sheet, elevation);
  bool whole = first == 0 && fits (sheet, elevation, true);
  double width = room (sheet, elevation, whole);
  double low = elevation->height[first], high = low;
  size_t last = first, natural = 0;
  while (last < run->bay_count)
    {
      find_heights (elevation, last, last + 1, &low, &high);
      double long_so_far = elevation->at[last + 1] - elevation->at[first];
      if (last > first && (long_so_far > width || high - low > rise))
        break;
      last++;
      if (last < run->bay_count && run->bays[last - 1].finish.kind != SW_END_ON && long_so_far > width / 2)
        natural = last;
    }
  return last < run->bay_count && natural > 0 ? natural : last;
}

static void
draw_strips (sw_sheet *sheet, const sw_elevation *elevation)
{
  const sw_run *run = elevation->run;
  size_t mark = 0;
  for (size_t first = 0; first < run->bay_count && sw_sheet_goes_on (sheet);)
    {
      sw_strip strip = { .first = first, .last = strip_end (sheet, elevation, first), .mark_first = mark };
      if (strip.last < run->bay_count)
        strip.mark_last = ++mark;
      strip.low = strip.high = elevation->height[first];
      find_heights (elevation, first, strip.last, &strip.low, &strip.high);
      for (size_t row = 0; row < elevation->row_count && sw_sheet_goes_on (sheet); row += ROWS_A_STRIP)
        {
          strip.row_first = row;
          strip.row_end = row + ROWS_A_STRIP < elevation->row_count ? row + ROWS_A_STRIP : elevation->row_count;
          sw_sheet_need (sheet, sw_sheet_strip_height (sheet, elevation, &strip));
          sw_sheet_mention_run (sheet, elevation->run_index);
          sw_sheet_strip (sheet, elevation, &strip);
        }
      first = strip.last;
    }
}

/* "Run front: 7 bays, 16800 from first to last post", and the scale at the right. */
static void
draw_heading (sw_sheet *sheet, const sw_elevation *elevation)
{
  const sw_run *run = elevation->run;
  sw_text text = { 0 };
  char total[SW_LENGTH_TEXT];
  sw_view_length (sheet->job, sw_run_distance (run, run->bay_count), total);
  sw_text_printf (&text, "%zu %s, posts 1 to %zu, %s %s between the outer posts' centres; lengths 1 : %" PRId64,
                  run->bay_count, run->bay_count == 1 ? "bay" : "bays", run->bay_count + 1, total,
                  sheet->job->settings->inches ? "in" : "mm", elevation->denominator);
  sheet->y += SW_SHEET_LINE + 2;
  double detail = text.failed ? 0 : sw_sheet_measure (sheet, SW_SHEET_BODY, text.data);
  double width = sheet->right - sheet->left - detail - 20;
  sw_text name = { 0 };
  sw_text_printf (&name, "Run %s", run->name);
  if (text.failed || name.failed)
    sheet->status = SW_NO_MEMORY;
  else
    {
      sw_sheet_text (sheet, SW_SHEET_HEADING, SW_SHEET_LEFT, sheet->left, sheet->y, width, name.data);
      sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_RIGHT, sheet->right, sheet->y, 0, text.data);
    }
  sheet->y += 6;
  sw_text_drop (&text);
  sw_text_drop (&name);
}

static void
draw_run (sw_sheet *sheet, sw_elevation *elevation)
{
  find_rows (sheet->job, elevation);
  choose_scale (sheet, elevation);
  /* The heading never stands alone at a page's foot. */
  sw_strip strip = { .first = 0, .last = strip_end (sheet, elevation, 0) };
  strip.row_end = elevation->row_count < ROWS_A_STRIP ? elevation->row_count : ROWS_A_STRIP;
  find_heights (elevation, 0, strip.last, &strip.low, &strip.high);
  sw_sheet_need (sheet, SW_SHEET_LINE + 8 + sw_sheet_strip_height (sheet, elevation, &strip));
  sw_sheet_mention_run (sheet, elevation->run_index);
  draw_heading (sheet, elevation);
  draw_strips (sheet, elevation);
  sheet->y += 8;
}

static bool
has_mitre (const sw_plan *plan, sw_side side)
{
  for (size_t i = 0; i < plan->piece_count; i++)
    if (plan->pieces[i].start_long == side || plan->pieces[i].finish_long == side)
      return true;
  return false;
}

/* What the lines at a mitred end are, where there are any. */
static void
draw_key (sw_sheet *sheet)
{
  bool outer = has_mitre (sheet->plan, SW_SIDE_OUTER), inner = has_mitre (sheet->plan, SW_SIDE_INNER);
  const char *text
      = outer && inner ? "At corners the further the saw is set over the wider: dashed, the short point behind the "
                         "timber; dark, the sloping cut to a long point behind it."
        : outer        ? "At corners, dashed: the short point, behind the timber. It lies further back the "
                         "further the saw is set over."
                       : "At corners, dark: the sloping cut to the long point, behind the timber. It is wider the "
                         "further the saw is set over.";
  if (!outer && !inner)
    return;
  sheet->y += 11;
  sw_sheet_text (sheet, SW_SHEET_BODY, SW_SHEET_LEFT, sheet->left, sheet->y, sheet->right - sheet->left, text);
  sheet->y += 4;
}

static void
draw_runs (sw_sheet *sheet, sw_elevation *elevation)
{
  const sw_plan *plan = sheet->plan;
  const sw_fence *fence = &sheet->job->fence;
  char note[160];
  snprintf (note, sizeof note, "seen from the outside;  thick bar: join;  bays %s, in %s;  heights not to scale",
            sheet->job->settings->measured == SW_MEASURED_CLEAR ? "clear" : "between centres",
            sheet->job->settings->inches ? "inches" : "mm");
  sw_sheet_new_part (sheet, "Runs", note, "fit.csv");
  draw_key (sheet);
  size_t piece = 0;
  for (size_t r = 0; r < fence->run_count && sw_sheet_goes_on (sheet); r++)
    {
      elevation->run_index = r;
      elevation->run = &fence->runs[r];
      /* Through and between pieces come first, by run. */
      elevation->piece_first = piece;
      while (piece < plan->piece_count && plan->pieces[piece].run == r
             && (plan->pieces[piece].kind == SW_PIECE_THROUGH || plan->pieces[piece].kind == SW_PIECE_BETWEEN))
        piece++;
      elevation->piece_end = piece;
      draw_run (sheet, elevation);
    }
}

void
sw_sheet_runs (sw_sheet *sheet)
{
  const sw_job *job = sheet->job;
  if (job->fence.run_count == 0)
    return;
  size_t most = 0;
  for (size_t r = 0; r < job->fence.run_count; r++)
    most = job->fence.runs[r].bay_count > most ? job->fence.runs[r].bay_count : most;
  sw_elevation elevation = { .at = sw_alloc (most + 1, sizeof (double)),
                             .before = sw_alloc (most + 1, sizeof (double)),
                             .height = sw_alloc (most + 1, sizeof (double)),
                             .levels = sw_alloc (job->levels.count, sizeof (size_t)),
                             .rows = sw_alloc (job->levels.count, sizeof (size_t)) };
  if (elevation.at == NULL || elevation.before == NULL || elevation.height == NULL || elevation.levels == NULL
      || elevation.rows == NULL)
    sheet->status = SW_NO_MEMORY;
  else
    draw_runs (sheet, &elevation);
  free (elevation.at);
  free (elevation.before);
  free (elevation.height);
  free (elevation.levels);
  free (elevation.rows);
}
