/* way.c - the ways in which a stretch can be divided into bays
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/way.h"

#include "base/memory.h"
#include "job/seat.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

__extension__ typedef __int128 wide;

/* The equal bays beside an odd one have a length that is easily pegged. */
#define GRID (5 * SW_MM)
#define GRID_IN_INCHES (SW_INCH / 4)

typedef struct finding
{
  const sw_job *job;
  sw_report *report;
  sw_division *division;
  sw_divide wanted;
  size_t capacity;
} finding;

/* ---- Where posts stand ---- */

/* NUMERATOR / DENOMINATOR, rounded to the nearest STEP, halves up; neither is negative. */
static sw_length
to_step (wide numerator, int64_t denominator, sw_length step)
{
  const wide unit = (wide)denominator * step;
  return (sw_length)((2 * numerator + unit) / (2 * unit)) * step;
}

sw_length
sw_way_post (const sw_division *d, const sw_way *way, uint32_t post)
{
  if (post == 0)
    return 0;
  if (post >= way->bays)
    return d->span;
  switch (way->kind)
    {
    case SW_DIVIDE_ODD:
      return to_step ((wide)way->equal * post, 1, d->step);
    case SW_DIVIDE_ENDS:
      return to_step ((wide)(d->span + d->start_reach + d->finish_reach) * post - (wide)d->start_reach * way->bays,
                      way->bays, d->step);
    default:
      return to_step ((wide)d->span * post, way->bays, d->step);
    }
}

/* ---- Ways ---- */

/* A smaller clear bay would be taken for a number that lacks its unit. */
#define LEAST_CLEAR (50 * SW_MM)

/* Does every bay leave an opening between its posts?  The posts between the ends are as wide as the setting says. */
static bool
is_open (const finding *f, const sw_way *way)
{
  const sw_division *d = f->division;
  const sw_run *run = &f->job->fence.runs[d->run];
  const sw_length inner = f->job->settings->post_width;
  for (uint32_t b = 0; b < way->bays; b++)
    {
      const sw_length near = b == 0 ? run->posts[d->bay].width : inner;
      const sw_length far = b + 1 == way->bays ? run->posts[d->bay + 1].width : inner;
      if (2 * (sw_way_post (d, way, b + 1) - sw_way_post (d, way, b)) < near + far + 2 * LEAST_CLEAR)
        return false;
    }
  return true;
}

static sw_status
add_way (finding *f, sw_divide kind, uint32_t bays, sw_length equal)
{
  sw_division *d = f->division;
  const sw_way way = { .kind = kind, .bays = bays, .equal = equal };
  if (d->way_count > SW_WAYS_MAX || !is_open (f, &way))
    return SW_OK;
  sw_status status = sw_grow ((void **)&d->ways, &f->capacity, d->way_count + 1, sizeof *d->ways);
  if (status == SW_OK)
    d->ways[d->way_count++] = way;
  return status;
}

static bool
wants (const finding *f, sw_divide kind)
{
  return f->wanted == kind || f->wanted == SW_DIVIDE_BEST;
}

/* Add the way in which the bays between the ends are as long as an end bay with its reach.  All bays must be within the
 * limits. */
static sw_status
add_ends (finding *f, uint32_t bays)
{
  const sw_division *d = f->division;
  const sw_length low = f->job->settings->min_bay, high = f->job->settings->max_bay;
  const wide whole = (wide)d->span + d->start_reach + d->finish_reach;
  const sw_length more = d->start_reach > d->finish_reach ? d->start_reach : d->finish_reach;
  const sw_length less = d->start_reach + d->finish_reach - more;
  const sw_length longest = bays > 2 ? 0 : less;
  /* Where nothing reaches past a post this way is the same as equal bays, so it need not be tried beside them. */
  if (bays < 2 || whole < (wide)bays * (low + more) || whole > (wide)bays * (high + longest)
      || (f->wanted == SW_DIVIDE_BEST && more == 0))
    return SW_OK;
  return add_way (f, SW_DIVIDE_ENDS, bays, 0);
}

static sw_status
add_odd (finding *f, uint32_t bays)
{
  const sw_division *d = f->division;
  const sw_settings *settings = f->job->settings;
  const sw_length grid = settings->inches ? GRID_IN_INCHES : GRID;
  sw_status status = SW_OK;
  sw_length equal = (settings->min_bay + grid - 1) / grid * grid;
  /* What is left for the odd bay must be at most max-bay. */
  const sw_length most_left = d->span - settings->max_bay;
  if (bays < 2)
    return SW_OK;
  if (most_left > (wide)equal * (bays - 1))
    equal = ((most_left + bays - 2) / (bays - 1) + grid - 1) / grid * grid;
  for (; equal <= settings->max_bay && d->way_count <= SW_WAYS_MAX && status == SW_OK; equal += grid)
    {
      const wide odd = d->span - (wide)equal * (bays - 1);
      if (odd < settings->min_bay)
        break;
      if (odd <= settings->max_bay && (odd != equal || f->wanted == SW_DIVIDE_ODD))
        status = add_way (f, SW_DIVIDE_ODD, bays, equal);
    }
  return status;
}

static sw_status
find_ways (finding *f)
{
  sw_division *d = f->division;
  const sw_length low = f->job->settings->min_bay, high = f->job->settings->max_bay;
  sw_status status = SW_OK;
  /* `ends` needs at least as many bays as equal bays do, because none of its bays is over max-bay. */
  for (sw_length bays = (d->span + high - 1) / high; bays <= d->span / low && bays <= UINT32_MAX; bays++)
    {
      const bool one = bays == 1;
      if (d->way_count > SW_WAYS_MAX)
        break;
      if (status == SW_OK && (one || wants (f, SW_DIVIDE_EQUAL)))
        status = add_way (f, SW_DIVIDE_EQUAL, (uint32_t)bays, 0);
      if (status == SW_OK && wants (f, SW_DIVIDE_ENDS))
        status = add_ends (f, (uint32_t)bays);
      if (status == SW_OK && wants (f, SW_DIVIDE_ODD))
        status = add_odd (f, (uint32_t)bays);
      if (status != SW_OK)
        return status;
    }
  return status;
}

/* ---- What cannot be divided ---- */

static void
say_none (const finding *f)
{
  const sw_division *d = f->division;
  const sw_settings *settings = f->job->settings;
  const sw_run *run = &f->job->fence.runs[d->run];
  const sw_length few = d->span / settings->max_bay, more = few + 1;
  char low[SW_SHOWN], high[SW_SHOWN], span[SW_SHOWN], bay[SW_SHOWN], apart[SW_SHOWN], text[400] = "", name[SW_SHOWN];
  sw_show_lengths (settings->min_bay, settings->max_bay, settings->inches, low, high);
  sw_show_length (d->span, settings->inches, span);
  sw_show_text (run->name, name);
  size_t used = 0;
  if (few > 0)
    {
      sw_show_length (d->span / few, settings->inches, bay);
      sw_show_length ((d->span + few - 1) / few - settings->max_bay, settings->inches, apart);
      used = (size_t)snprintf (text, sizeof text, ": %" PRId64 " equal bay%s %s %s, %s too long", few,
                               few > 1 ? "s" : "", few > 1 ? "are" : "is", bay, apart);
    }
  sw_show_length (d->span / more, settings->inches, bay);
  if (d->span / more < settings->min_bay)
    {
      sw_show_length (settings->min_bay - d->span / more, settings->inches, apart);
      snprintf (text + used, sizeof text - used, "%s %" PRId64 " %s %s, %s too short", few > 0 ? ";" : ":", more,
                few > 0 ? "are" : "equal bay is", bay, apart);
    }
  sw_report_add (f->report, SW_FAULT, f->job->files[SW_FILE_SPANS], run->bays[d->bay].line, "span",
                 "expected a stretch that can be divided as \"%s\" into bays from %s to %s, found %s in run \"%s\"%s",
                 sw_divide_name (f->wanted), low, high, span, name, text);
}

static void
say_many (const finding *f)
{
  const sw_run *run = &f->job->fence.runs[f->division->run];
  char name[SW_SHOWN];
  sw_show_text (run->name, name);
  sw_report_add (f->report, SW_FAULT, f->job->files[SW_FILE_SPANS], run->bays[f->division->bay].line, "divide",
                 "this stretch of run \"%s\" can be divided in more than %d ways; choose min-bay and max-bay nearer to "
                 "each other, or another way than \"%s\"",
                 name, SW_WAYS_MAX, sw_divide_name (f->wanted));
}

/* ---- The fence ---- */

/* The furthest that timber of any level reaches past the centre of the post where END is. */
static sw_length
furthest (const sw_job *job, size_t run, const sw_end *end, sw_length width)
{
  sw_length most = 0;
  for (size_t l = 0; l < job->levels.count && end->kind != SW_END_ON; l++)
    {
      const sw_level *level = &job->levels.items[l];
      if (!level->through || !sw_level_is_on (level, run))
        continue;
      const sw_length reach = sw_seat_reach (job, level, end, width);
      if (reach > most)
        most = reach;
    }
  return most;
}

static sw_status
divide (sw_division *d, const sw_job *job, size_t r, size_t b, sw_report *report, bool *rejected)
{
  const sw_run *run = &job->fence.runs[r];
  const sw_bay *bay = &run->bays[b];
  const sw_length high = job->settings->max_bay;
  *d = (sw_division){ .run = r, .bay = b, .span = bay->span, .step = job->settings->inches ? SW_INCH / 16 : SW_MM };
  d->start_reach = furthest (job, r, &bay->start, run->posts[b].width);
  d->finish_reach = furthest (job, r, &bay->finish, run->posts[b + 1].width);
  finding f = { .job = job, .report = report, .division = d, .wanted = bay->divide };
  if ((d->span + high - 1) / high > UINT32_MAX)
    return SW_FAILED;
  d->habit = (sw_way){ .kind = SW_DIVIDE_EQUAL, .bays = (uint32_t)((d->span + high - 1) / high) };
  sw_status status = find_ways (&f);
  if (status != SW_OK || (d->way_count > 0 && d->way_count <= SW_WAYS_MAX))
    return status;
  *rejected = true;
  (d->way_count == 0 ? say_none : say_many) (&f);
  return SW_OK;
}

sw_status
sw_divisions_new (sw_division **out, size_t *count, const sw_job *job, sw_report *report)
{
  size_t room = 0, made = 0;
  bool rejected = false;
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t b = 0; b < job->fence.runs[r].bay_count; b++)
      room += job->fence.runs[r].bays[b].divide != SW_DIVIDE_NOT ? 1 : 0;
  sw_division *divisions = sw_alloc (room, sizeof *divisions);
  sw_status status = divisions != NULL ? SW_OK : SW_NO_MEMORY;
  for (size_t r = 0; r < job->fence.run_count && status == SW_OK; r++)
    for (size_t b = 0; b < job->fence.runs[r].bay_count && status == SW_OK; b++)
      if (job->fence.runs[r].bays[b].divide != SW_DIVIDE_NOT)
        status = divide (&divisions[made++], job, r, b, report, &rejected);
  if (status == SW_OK && rejected)
    status = SW_REJECTED;
  *out = NULL;
  *count = 0;
  if (status != SW_OK)
    {
      sw_divisions_free (divisions, made);
      return status;
    }
  *out = divisions;
  *count = made;
  return SW_OK;
}

void
sw_divisions_free (sw_division *divisions, size_t count)
{
  for (size_t i = 0; divisions != NULL && i < count; i++)
    free (divisions[i].ways);
  free (divisions);
}
