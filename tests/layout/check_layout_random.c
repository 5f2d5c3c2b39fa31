/* check_layout_random.c - random fences against a plain enumeration of all pieces
 *
 * The enumeration shares no code with the layout.  It works in whole
 * millimetres and long double, tries every pair of posts, and looks at every
 * post between them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout_job.h"
#include "suite.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum
{
  FENCES = 4000,
  MOST_POSTS = 14
};

/* xorshift64 (Marsaglia 2003) gives the same fences on every machine. */
static uint64_t
next (uint64_t *state)
{
  *state ^= *state << 13;
  *state ^= *state >> 7;
  *state ^= *state << 17;
  return *state;
}

static int
from_to (uint64_t *state, int low, int high)
{
  return low + (int)(next (state) % (uint64_t)(high - low + 1));
}

static bool
one_in (uint64_t *state, int n)
{
  return from_to (state, 1, n) == 1;
}

/* ---- Random jobs ---- */

static sw_end
random_end (uint64_t *state)
{
  switch (from_to (state, 0, 6))
    {
    case 0:
      return (sw_end){ .kind = SW_END_CENTRE };
    case 1:
      return (sw_end){ .kind = SW_END_FACE };
    case 2:
      return (sw_end){ .kind = SW_END_HOUSED, .length = from_to (state, 1, 40) * SW_MM };
    case 3:
      return (sw_end){ .kind = SW_END_MITRE, .angle = 90000 };
    case 4:
      return (sw_end){ .kind = SW_END_REACH, .length = from_to (state, -300, 300) * SW_MM };
    default:
      return (sw_end){ .kind = SW_END_FLUSH };
    }
}

/* Post widths are even, so that half of one is a whole millimetre. */
static sw_length
random_width (uint64_t *state)
{
  return 2 * from_to (state, 37, 75) * SW_MM;
}

static void
random_run (sw_job *job, const char *name, bool hilly, uint64_t *state)
{
  int bays = from_to (state, 1, MOST_POSTS - 1);
  int usual = from_to (state, 700, 3000);
  int slope = hilly ? from_to (state, -300, 300) : 0;
  job_run (job, name, random_width (state));
  for (int b = 0; b < bays; b++)
    {
      int span = one_in (state, 2) ? usual : from_to (state, 500, 3200);
      sw_bay *bay = job_bay (job, span * SW_MM, random_width (state));
      if (hilly)
        bay->rise = (slope + from_to (state, -8, 8)) * SW_MM;
      if (hilly && one_in (state, 6))
        slope = from_to (state, -300, 300);
      bay->opening = one_in (state, 12);
      if (!bay->opening && one_in (state, 15))
        bay->start = random_end (state);
      if (!bay->opening && one_in (state, 15))
        bay->finish = random_end (state);
      if (one_in (state, 4))
        job_last_post (job)->join = one_in (state, 3) ? SW_JOIN_ALWAYS : SW_JOIN_NEVER;
    }
  sw_run *run = &job->fence.runs[job->fence.run_count - 1];
  if (!run->bays[0].opening)
    run->bays[0].start = random_end (state);
  if (!run->bays[bays - 1].opening)
    run->bays[bays - 1].finish = random_end (state);
  job_close (job);
}

static sw_job *
random_job (uint64_t *state)
{
  static const char *const sections[] = { "a", "b" };
  sw_job *job = job_make ();
  bool hilly = one_in (state, 2);
  int runs = from_to (state, 1, 3);
  for (int r = 0; r < runs; r++)
    random_run (job, r == 0 ? "road" : r == 1 ? "side" : "back", hilly, state);
  int levels = from_to (state, 1, 4);
  for (int l = 0; l < levels; l++)
    job_level (job, "level", sections[from_to (state, 0, 1)], true);
  for (int s = 0; s < 2; s++)
    for (int k = from_to (state, 1, 3); k > 0; k--)
      {
        sw_stock *stock = job_stock (job, sections[s], (2400 + 300 * from_to (state, 0, 12)) * SW_MM);
        if (one_in (state, 4))
          stock->limit = from_to (state, 0, 2);
        if (one_in (state, 6))
          stock->hand = 1;
      }
  job->settings->bow = from_to (state, 0, 10) * SW_MM;
  job->settings->end_trim = one_in (state, 3) ? from_to (state, 1, 50) * SW_MM : 0;
  job->settings->max_piece = one_in (state, 5) ? from_to (state, 2000, 5000) * SW_MM : 0;
  return job;
}

/* ---- The plain enumeration ---- */

static long long
in_mm (sw_length length)
{
  return length / SW_MM;
}

static long double
slope_factor (const sw_bay *bay)
{
  long double span = (long double)in_mm (bay->span);
  long double rise = (long double)in_mm (bay->rise);
  return hypotl (span, rise) / span;
}

/* The table of ends in spanwright-csv(5). */
static long long
reach_mm (const sw_end *end, sw_length width)
{
  long long half = in_mm (width) / 2;
  switch (end->kind)
    {
    case SW_END_FLUSH:
    case SW_END_MITRE:
      return half;
    case SW_END_FACE:
      return -half;
    case SW_END_HOUSED:
      return in_mm (end->length) - half;
    case SW_END_REACH:
      return in_mm (end->length);
    default:
      return 0;
    }
}

static long double
cut_mm (const sw_run *run, size_t from, size_t to, bool at_start, bool at_finish)
{
  long double cut = 0;
  for (size_t b = from; b < to; b++)
    cut += slope_factor (&run->bays[b]) * (long double)in_mm (run->bays[b].span);
  if (at_start)
    cut += slope_factor (&run->bays[from]) * (long double)reach_mm (&run->bays[from].start, run->posts[from].width);
  if (at_finish)
    cut += slope_factor (&run->bays[to - 1]) * (long double)reach_mm (&run->bays[to - 1].finish, run->posts[to].width);
  return cut;
}

static bool
straight (const sw_run *run, size_t from, size_t to, sw_length bow)
{
  long long rise = 0;
  long long length = 0;
  for (size_t b = from; b < to; b++)
    {
      rise += in_mm (run->bays[b].rise);
      length += in_mm (run->bays[b].span);
    }
  long long here = 0;
  long long height = 0;
  for (size_t b = from; b + 1 < to; b++)
    {
      here += in_mm (run->bays[b].span);
      height += in_mm (run->bays[b].rise);
      if (llabs (height * length - rise * here) > in_mm (bow) * length)
        return false;
    }
  return true;
}

static long long
longest_mm (const sw_job *job, size_t section)
{
  long long longest = 0;
  for (size_t k = 0; k < job->stocks.count; k++)
    {
      const sw_stock *stock = &job->stocks.items[k];
      long long usable = in_mm (stock->length) - 2 * in_mm (job->settings->end_trim);
      if (stock->section == section && (stock->limit != 0 || stock->hand != 0) && usable > longest)
        longest = usable;
    }
  if (job->settings->max_piece != 0 && longest > in_mm (job->settings->max_piece))
    longest = in_mm (job->settings->max_piece);
  return longest;
}

/* Fill in ALLOWED[i][j] for the posts of one stretch.  False: no path leads through it. */
static bool
enumerate (const sw_job *job, const sw_run *run, size_t first, size_t last, long long longest,
           bool allowed[MOST_POSTS][MOST_POSTS])
{
  memset (allowed, 0, sizeof (bool[MOST_POSTS][MOST_POSTS]));
  for (size_t i = first; i < last; i++)
    for (size_t j = i + 1; j <= last; j++)
      {
        bool may
            = (i == first || run->posts[i].join != SW_JOIN_NEVER) && (j == last || run->posts[j].join != SW_JOIN_NEVER);
        for (size_t p = i + 1; p < j; p++)
          may = may && run->posts[p].join != SW_JOIN_ALWAYS;
        long double cut = cut_mm (run, i, j, i == first, j == last);
        allowed[i][j] = may && cut > 0 && cut <= (long double)longest && straight (run, i, j, job->settings->bow);
      }
  bool onward[MOST_POSTS] = { 0 };
  bool reached[MOST_POSTS] = { 0 };
  onward[last] = reached[first] = true;
  for (size_t i = last; i-- > first;)
    for (size_t j = i + 1; j <= last; j++)
      onward[i] = onward[i] || (allowed[i][j] && onward[j]);
  for (size_t j = first + 1; j <= last; j++)
    for (size_t i = first; i < j; i++)
      reached[j] = reached[j] || (allowed[i][j] && reached[i]);
  for (size_t i = first; i < last; i++)
    for (size_t j = i + 1; j <= last; j++)
      allowed[i][j] = allowed[i][j] && reached[i] && onward[j];
  return onward[first];
}

/* The last post of the stretch that begins at FIRST. */
static size_t
stretch_end (const sw_run *run, size_t first)
{
  size_t last = first + 1;
  while (last < run->bay_count && !run->bays[last].opening && run->bays[last].start.kind == SW_END_ON)
    last++;
  return last;
}

/* ---- Comparing ---- */

typedef struct tally
{
  int laid_out;
  int impossible;
  int forced; /* number of fences without a path, although no bay is too long by itself */
  size_t arcs;
} tally;

/* Check that the arcs of the layout's stretch S, through level T, are those of ALLOWED. */
static void
check_arcs (const sw_layout *layout, size_t s, size_t t, bool allowed[MOST_POSTS][MOST_POSTS], int fence)
{
  const sw_stretch *stretch = &layout->stretches[s];
  const sw_run *run = &layout->job->fence.runs[stretch->run];
  size_t a = layout->arc_start[s * layout->through_count + t];
  size_t end = layout->arc_start[s * layout->through_count + t + 1];
  for (size_t i = stretch->first; i < stretch->last; i++)
    for (size_t j = i + 1; j <= stretch->last; j++)
      {
        if (!allowed[i][j])
          continue;
        ck_assert_msg (a < end, "fence %d: %zu-%zu is missing", fence, i + 1, j + 1);
        const sw_arc *arc = &layout->arcs[a++];
        ck_assert_msg (arc->from == i && arc->to == j, "fence %d: %zu-%zu in place of %zu-%zu", fence, arc->from + 1,
                       arc->to + 1, i + 1, j + 1);
        ck_assert_uint_eq (arc->stretch, s);
        ck_assert_uint_eq (arc->level, layout->through[t]);
        long double cut = cut_mm (run, i, j, i == stretch->first, j == stretch->last);
        /* Each length along a slope is rounded to a nanometre. */
        ck_assert_msg (fabsl (cut - (long double)arc->cut / (long double)SW_MM) < 2e-5L, "fence %d: %zu-%zu %" PRId64,
                       fence, i + 1, j + 1, arc->cut);
        ck_assert_int_eq (arc->cut, sw_layout_cut (layout->job, &layout->job->levels.items[arc->level], stretch, i, j));
        const sw_item *item = &layout->items[arc->item];
        ck_assert_int_eq (item->take, arc->take);
        ck_assert_uint_eq (item->section, layout->job->levels.items[arc->level].section);
      }
  ck_assert_msg (a == end, "fence %d: %zu pieces too many", fence, end - a);
}

static void
check_items (const sw_layout *layout, int fence)
{
  for (size_t i = 1; i < layout->item_count; i++)
    {
      const sw_item *a = &layout->items[i - 1];
      const sw_item *b = &layout->items[i];
      ck_assert_msg (a->section < b->section || (a->section == b->section && a->take > b->take), "fence %d: item %zu",
                     fence, i);
    }
}

/* Go over the stretches as the layout should have found them.  LAYOUT may be NULL.  True: every stretch has a path. */
static bool
walk (const sw_job *job, const sw_layout *layout, int fence, bool *too_long)
{
  bool all = true;
  size_t s = 0;
  *too_long = false;
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      const sw_run *run = &job->fence.runs[r];
      for (size_t first = 0; first < run->bay_count;)
        {
          if (run->bays[first].opening)
            {
              first++;
              continue;
            }
          size_t last = stretch_end (run, first);
          for (size_t l = 0; l < job->levels.count; l++)
            {
              bool allowed[MOST_POSTS][MOST_POSTS];
              long long longest = longest_mm (job, job->levels.items[l].section);
              all = enumerate (job, run, first, last, longest, allowed) && all;
              for (size_t b = first; b < last; b++)
                *too_long = *too_long || cut_mm (run, b, b + 1, b == first, b + 1 == last) > (long double)longest;
              if (layout == NULL)
                continue;
              ck_assert_msg (s < layout->stretch_count && layout->stretches[s].run == r
                                 && layout->stretches[s].first == first && layout->stretches[s].last == last,
                             "fence %d: stretch %zu", fence, s);
              check_arcs (layout, s, l, allowed, fence);
            }
          s++;
          first = last;
        }
    }
  if (layout != NULL)
    ck_assert_uint_eq (layout->stretch_count, s);
  return all;
}

START_TEST (random_fences)
{
  tally seen = { 0 };
  sw_report *report = sw_report_new ();
  for (int fence = 0; fence < FENCES; fence++)
    {
      uint64_t state = 0x9E3779B97F4A7C15u * (uint64_t)(fence + 1);
      bool too_long;
      for (int warm = 0; warm < 5; warm++)
        next (&state);
      sw_job *job = random_job (&state);
      sw_layout *layout;
      sw_report_clear (report);
      sw_status status = sw_layout_new (&layout, job, report);
      ck_assert_msg (status == SW_OK || status == SW_NO_PLAN, "fence %d: %s", fence, sw_status_text (status));
      bool possible = walk (job, layout, fence, &too_long);
      ck_assert_msg (possible == (status == SW_OK), "fence %d: %s", fence, sw_status_text (status));
      ck_assert_msg ((sw_report_count (report) == 0) == possible, "fence %d: remarks", fence);
      if (layout != NULL)
        {
          check_items (layout, fence);
          seen.laid_out++;
          seen.arcs += layout->arc_count;
        }
      else
        {
          seen.impossible++;
          seen.forced += !too_long;
        }
      sw_layout_free (layout);
      job_drop (job);
    }
  sw_report_free (report);
  /* The test means something only if every kind has occurred. */
  ck_assert_int_gt (seen.laid_out, FENCES / 5);
  ck_assert_int_gt (seen.impossible, FENCES / 5);
  ck_assert_int_gt (seen.forced, FENCES / 100);
  ck_assert_uint_gt (seen.arcs, FENCES * 5);
}
END_TEST

static Suite *
layout_random_suite (void)
{
  Suite *suite = suite_create ("layout_random");
  TCase *all = tcase_create ("all");
  tcase_set_timeout (all, 300);
  tcase_add_test (all, random_fences);
  suite_add_tcase (suite, all);
  return suite;
}

int
main (void)
{
  return suite_run (layout_random_suite ());
}
