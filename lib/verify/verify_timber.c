/* verify_timber.c - how timber lies on its posts, and what it takes of a board
 *
 * These are the rules of corners, seats, slopes and rounding a second time.
 * They are written apart from the planner's seat.c, corner.c, take.c and
 * setout.c and use other formulas, so that a mistake in one of the two shows.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "verify/verify.h"

#include <math.h>

__extension__ typedef __int128 wide;

#define HALF_TURN 180000 /* thousandths of a degree */

/* A + B.  The lengths of a wrong plan may be absurd: a sum that does not fit becomes a length that no board has. */
static sw_length
plus (sw_length a, sw_length b)
{
  sw_length sum;
  return sw_length_add (a, b, &sum) ? sum : INT64_MAX / 2;
}

static const sw_section *
section_of (const sw_job *job, const sw_level *level)
{
  return &job->sections.items[level->section];
}

static bool
lies_flat (const sw_level *level)
{
  return level->through && level->seat == SW_SEAT_TOP;
}

/* ---- Seats --------------------------------------------------------------- */

sw_end_kind
sw_verify_end (const sw_level *level, const sw_end *end)
{
  /* A capping passes over the post, so that no face is in its way. */
  if (lies_flat (level) && (end->kind == SW_END_FACE || end->kind == SW_END_HOUSED))
    return SW_END_FLUSH;
  return end->kind;
}

sw_length
sw_verify_check (const sw_job *job, const sw_level *level)
{
  if (!level->through || level->seat != SW_SEAT_LET_IN)
    return 0;
  return level->let_in != 0 ? level->let_in : section_of (job, level)->thickness;
}

sw_length
sw_verify_tall (const sw_job *job, const sw_level *level)
{
  return lies_flat (level) ? section_of (job, level)->thickness : section_of (job, level)->width;
}

/* ---- Corners ------------------------------------------------------------- */

/* The internal angle of a mitre, in radians. */
static long double
corner (const sw_end *end)
{
  return (long double)end->angle * acosl (-1.0L) / HALF_TURN;
}

/* How far past the post's centre a face that lies OUT of the line of post centres meets that of the
 * next run: OUT times the cotangent of half the internal angle. */
static sw_length
meets_at (sw_length out, const sw_end *end)
{
  const long double angle = corner (end);
  return llroundl ((long double)out * (1.0L + cosl (angle)) / sinl (angle));
}

/* How far the long point of a mitre lies past the centre of a post of WIDTH. */
static sw_length
long_point_at (const sw_job *job, const sw_level *level, const sw_end *end, sw_length width)
{
  const sw_section *section = section_of (job, level);
  const sw_length across = job->settings->post_depth > 0 ? job->settings->post_depth : width;
  sw_length outer = across / 2 + section->thickness;
  sw_length inner = across / 2;
  if (lies_flat (level))
    {
      outer = section->width / 2;
      inner = -outer;
    }
  else if (level->seat == SW_SEAT_LET_IN)
    {
      outer -= sw_verify_check (job, level);
      inner -= sw_verify_check (job, level);
    }
  const sw_length at_outer = meets_at (outer, end);
  const sw_length at_inner = meets_at (inner, end);
  return at_outer > at_inner ? at_outer : at_inner;
}

sw_length
sw_verify_reach (const sw_job *job, const sw_level *level, const sw_end *end, sw_length width)
{
  switch (sw_verify_end (level, end))
    {
    case SW_END_FLUSH:
      return width / 2;
    case SW_END_MITRE:
      return long_point_at (job, level, end, width);
    case SW_END_FACE:
      return -(width / 2);
    case SW_END_HOUSED:
      return end->length - width / 2;
    case SW_END_REACH:
      return end->length;
    case SW_END_ON:
    case SW_END_CENTRE:
      break;
    }
  return 0;
}

int64_t
sw_verify_saw_setting (const sw_end *end)
{
  if (end->kind != SW_END_MITRE)
    return 0;
  return end->angle < HALF_TURN ? (HALF_TURN - end->angle) / 2 : (end->angle - HALF_TURN) / 2;
}

/* Where the mitre's long point is.  0: END is not a mitre; 1: outside the corner; 2: inside. */
static int
side_of (const sw_end *end)
{
  return end->kind != SW_END_MITRE ? 0 : end->angle < HALF_TURN ? 1 : 2;
}

const char *
sw_verify_long_point (const sw_end *start, const sw_end *finish)
{
  static const char *const says[]
      = { "", "outer", "inner", "outer", "outer", "inner outer", "inner", "outer inner", "inner" };
  return says[side_of (start) + 3 * side_of (finish)];
}

/* ---- Slopes -------------------------------------------------------------- */

int64_t
sw_verify_plumb (sw_length span, sw_length rise)
{
  const long double up = fabsl ((long double)rise);
  return llroundl (asinl (up / hypotl ((long double)span, up)) * HALF_TURN / acosl (-1.0L));
}

/* What a plumb cut takes in addition: WIDTH times the slope, halves of a nanometre rounded up. */
static sw_length
triangle (sw_length width, sw_length span, sw_length rise)
{
  const wide product = (wide)width * (rise < 0 ? -(wide)rise : rise);
  const wide whole = product / span; /* NOLINT: over 0 */
  const wide rest = product % span;  /* NOLINT: over 0 */
  const wide nearest = rest >= span - rest ? whole + 1 : whole;
  return nearest < INT64_MAX / 2 ? (sw_length)nearest : INT64_MAX / 2;
}

sw_length
sw_verify_take (const sw_job *job, const sw_level *level, sw_length cut, sw_length span, sw_length rise,
                const sw_end *finish)
{
  const long double kerf = (long double)job->settings->kerf;
  /* The cut is off square by the slope, or by the mitre's saw setting.  The cosine of that setting
   * is the sine of half the corner. */
  long double slot = kerf * hypotl (1.0L, (long double)rise / (long double)span);
  if (finish != NULL && finish->kind == SW_END_MITRE)
    slot = fmaxl (slot, kerf / sinl (corner (finish) / 2));
  return plus (plus (cut, triangle (section_of (job, level)->width, span, rise)), llroundl (slot - kerf));
}

static sw_length
along_slope (const sw_bay *bay, sw_length length)
{
  return sw_length_on_slope (length, bay->span, bay->rise);
}

void
sw_verify_measure (const sw_run *run, sw_length *along)
{
  along[0] = 0;
  for (size_t b = 0; b < run->bay_count; b++)
    along[b + 1] = plus (along[b], along_slope (&run->bays[b], run->bays[b].span));
}

/* ---- Lengths ------------------------------------------------------------- */

sw_length
sw_verify_round (const sw_job *job, sw_length position)
{
  const wide unit = sw_settings_round (job->settings);
  if (unit == 0)
    return position;
  /* The floor of position / unit + 1/2. */
  const wide twice = 2 * (wide)position + unit;
  wide units = twice / (2 * unit);
  if (twice < 0 && twice % (2 * unit) != 0)
    units--;
  return (sw_length)(units * unit);
}

sw_length
sw_verify_through (const sw_job *job, const sw_level *level, const sw_run *run, const sw_length *along, size_t from,
                   size_t to)
{
  const sw_bay *first = &run->bays[from];
  const sw_bay *last = &run->bays[to - 1];
  const sw_length before = along_slope (first, sw_verify_reach (job, level, &first->start, run->posts[from].width));
  const sw_length after = along_slope (last, sw_verify_reach (job, level, &last->finish, run->posts[to].width));
  return sw_verify_round (job, plus (along[to], after)) - sw_verify_round (job, along[from] - before);
}

sw_length
sw_verify_between (const sw_job *job, const sw_level *level, const sw_run *run, size_t bay)
{
  /* Half a nanometre of the posts is rounded up, so that the opening is never taken for wider than it is. */
  const sw_length posts = (run->posts[bay].width + run->posts[bay + 1].width + 1) / 2;
  const sw_length fits = along_slope (&run->bays[bay], run->bays[bay].span - posts) - level->gap;
  const sw_length unit = sw_settings_round (job->settings);
  return unit > 0 && fits > 0 ? fits - fits % unit : fits;
}
