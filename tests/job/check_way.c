/* check_way.c - ways to divide a stretch, against the rules counted out by hand in millimetres
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/divided.h"
#include "chance.h"
#include "plan_fixture.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MOST 4000

/* Where the posts of one way stand, in millimetres. */
typedef struct row
{
  long bays;
  long at[200];
} row;

static row rows[MOST];
static size_t row_count;

/* N / D, halves up; N >= 0. */
static long
nearest (long n, long d)
{
  return (2 * n + d) / (2 * d);
}

/* The rules of the column `divide` in spanwright-csv(5), for a stretch of
 * SPAN whose timber reaches END past either end post. */
static void
count_out (const char *how, long span, long low, long high, long end)
{
  const bool best = strcmp (how, "best") == 0;
  row_count = 0;
  for (long n = 1; n * low <= span; n++)
    {
      const bool fits = span >= n * low && span <= n * high;
      if (fits && (n == 1 || best || strcmp (how, "equal") == 0))
        {
          row *r = &rows[row_count++];
          r->bays = n;
          for (long i = 0; i <= n; i++)
            r->at[i] = nearest (span * i, n);
        }
      /* The end bays are n-ths of span + 2 end, less end. */
      const long whole = span + 2 * end;
      if (n > 1 && (best ? end > 0 : strcmp (how, "ends") == 0) && whole - end * n >= low * n
          && whole - end * n <= high * n && (n == 2 || whole <= high * n))
        {
          row *r = &rows[row_count++];
          r->bays = n;
          r->at[0] = 0;
          r->at[n] = span;
          for (long i = 1; i < n; i++)
            r->at[i] = nearest (whole * i - end * n, n);
        }
      for (long bay = (low + 4) / 5 * 5; n > 1 && bay <= high && (best || strcmp (how, "odd") == 0); bay += 5)
        {
          const long odd = span - (n - 1) * bay;
          if (odd < low || odd > high || (best && odd == bay))
            continue;
          row *r = &rows[row_count++];
          r->bays = n;
          for (long i = 0; i < n; i++)
            r->at[i] = bay * i;
          r->at[n] = span;
        }
    }
}

static sw_job *
job_of (const char *spans, const char *settings)
{
  const fixture_texts texts = { .spans = spans, .settings = settings };
  return fixture_job (&texts);
}

static void
compare (const char *how, long span, long low, long high, bool flush)
{
  char spans[200], settings[100];
  snprintf (spans, sizeof spans, "run,span,divide,start,finish\na,%ld,%s,%s\n", span, how,
            flush ? "flush,flush" : "face,centre");
  snprintf (settings, sizeof settings, "min-bay=%ld\nmax-bay=%ld", low, high);
  sw_job *job = job_of (spans, settings);
  sw_division *divisions;
  size_t count;
  count_out (how, span, low, high, flush ? 50 : 0);
  sw_report *report = sw_report_new ();
  sw_status status = sw_divisions_new (&divisions, &count, job, report);
  ck_assert_msg (status == (row_count > 0 ? SW_OK : SW_REJECTED), "%s %ld from %ld to %ld", how, span, low, high);
  if (status == SW_OK)
    {
      const sw_division *d = &divisions[0];
      ck_assert_uint_eq (count, 1);
      ck_assert_msg (d->way_count == row_count, "%s %ld from %ld to %ld: %zu ways, counted %zu", how, span, low, high,
                     d->way_count, row_count);
      for (size_t w = 0; w < row_count; w++)
        {
          ck_assert_int_eq (d->ways[w].bays, rows[w].bays);
          for (uint32_t i = 0; i <= d->ways[w].bays; i++)
            ck_assert_msg (sw_way_post (d, &d->ways[w], i) == rows[w].at[i] * SW_MM, "%s %ld, way %zu, post %u", how,
                           span, w, i);
        }
      ck_assert_int_eq (d->habit.bays, (span + high - 1) / high);
    }
  sw_divisions_free (divisions, count);
  sw_report_free (report);
  sw_job_free (job);
}

START_TEST (ways_by_count)
{
  static const char *const how[] = { "equal", "ends", "odd", "best" };
  uint64_t state = 20;
  for (int i = 0; i < 200; i++)
    {
      const long low = chance (&state, 800, 2000), high = low + chance (&state, 0, 1500);
      compare (how[i % 4], chance (&state, low / 2, 30000), low, high, one_in (&state, 2));
    }
}
END_TEST

/* Ten flush bays of 2400 between 100 mm posts: the end bays are half a post
 * shorter, so that the end rails come out like the others (job.md's figure). */
START_TEST (ends_come_out_like_the_others)
{
  sw_job *job = job_of ("run,span,divide\na,23900,ends\n", "min-bay=2300");
  sw_division *divisions;
  size_t count;
  ck_assert_int_eq (sw_divisions_new (&divisions, &count, job, NULL), SW_OK);
  ck_assert_uint_eq (divisions[0].way_count, 1);
  const sw_way *way = &divisions[0].ways[0];
  ck_assert_uint_eq (way->bays, 10);
  ck_assert_int_eq (sw_way_post (&divisions[0], way, 1), 2350 * SW_MM);
  ck_assert_int_eq (sw_way_post (&divisions[0], way, 2), 4750 * SW_MM);
  ck_assert_int_eq (sw_way_post (&divisions[0], way, 9), 21550 * SW_MM);
  sw_divisions_free (divisions, count);
  sw_job_free (job);
}
END_TEST

/* The finished spans.csv of SPANS divided in the first way; "" goes on from there. */
static char *
finish (const char *spans, const char *settings, sw_job **finished)
{
  sw_job *job = job_of (spans, settings);
  sw_division *divisions;
  size_t count;
  char *bytes;
  sw_report *report = sw_report_new ();
  ck_assert_int_eq (sw_divisions_new (&divisions, &count, job, report), SW_OK);
  sw_way ways[8];
  ck_assert_uint_le (count, 8);
  for (size_t i = 0; i < count; i++)
    ways[i] = divisions[i].ways[0];
  ck_assert_int_eq (sw_divided_spans (&bytes, job, divisions, count, ways), SW_OK);
  ck_assert_int_eq (sw_divided_job (finished, job, divisions, count, ways, report), SW_OK);
  sw_divisions_free (divisions, count);
  sw_report_free (report);
  sw_job_free (job);
  return bytes;
}

START_TEST (what_a_row_says_goes_to_its_bay)
{
  sw_job *job;
  char *bytes = finish ("Bay,run,Divide,span,start,finish,join,rise,near_post_width,post_width,opening,note\n"
                        "x,front,equal,6900,mitre,,always,300,125,90,,=1\n"
                        ",front,,2200,,,,,,,,\n"
                        ",front,,1000,,,,,,,yes,\n",
                        NULL, &job);
  ck_assert_str_eq (bytes, "Bay,run,span,start,finish,join,rise,near_post_width,post_width,opening,note\r\n"
                           "x.1,front,2300,mitre,,,100,125,,,'=1\r\n"
                           "x.2,front,2300,,,,100,,,,'=1\r\n"
                           "x.3,front,2300,,,always,100,,90,,'=1\r\n"
                           ",front,2200,,,,,,,,\r\n"
                           ",front,1000,,,,,,,yes,\r\n");
  const sw_run *run = &job->fence.runs[0];
  ck_assert_uint_eq (run->bay_count, 5);
  ck_assert_int_eq (run->bays[0].start.kind, SW_END_MITRE);
  ck_assert_int_eq (run->posts[0].width, 125 * SW_MM);
  ck_assert_int_eq (run->posts[1].width, 100 * SW_MM);
  ck_assert_int_eq (run->posts[3].join, SW_JOIN_ALWAYS);
  sw_text_free (bytes);
  sw_job_free (job);
}
END_TEST

/* Clear measures come out of centres and go back into them; a decimal comma stays one. */
START_TEST (clear_and_commas)
{
  sw_job *job;
  char *bytes = finish ("run;span;divide;post_width\na;6,9005m;equal;90\n", "measured=clear", &job);
  /* 6900.5 between faces of 100 and 90: 6995.5 between centres, thirds of it at 2332 and 4664. */
  ck_assert_str_eq (bytes, "\xEF\xBB\xBFrun;span;post_width\r\na;2232;\r\na;2232;\r\na;2236,5;90\r\n");
  ck_assert_int_eq (sw_run_distance (&job->fence.runs[0], 3), 69955 * (SW_MM / 10));
  sw_text_free (bytes);
  sw_job_free (job);
}
END_TEST

START_TEST (inches)
{
  sw_job *job;
  char *bytes = finish ("run,span,divide\na,23ft,equal\n", "inches=yes\nmin-bay=90in\nmax-bay=96in", &job);
  const sw_run *run = &job->fence.runs[0];
  ck_assert_uint_eq (run->bay_count, 3);
  ck_assert_int_eq (run->bays[0].span, 92 * SW_INCH);
  sw_text_free (bytes);
  sw_job_free (job);
}
END_TEST

static void
refused (const char *spans, const char *settings, const char *part)
{
  sw_job *job = job_of (spans, settings);
  sw_division *divisions;
  size_t count;
  sw_report *report = sw_report_new ();
  ck_assert_int_eq (sw_divisions_new (&divisions, &count, job, report), SW_REJECTED);
  ck_assert_ptr_null (divisions);
  ck_assert_uint_eq (sw_report_count (report), 1);
  ck_contains (sw_report_get (report, 0)->message, part);
  sw_report_free (report);
  sw_job_free (job);
}

START_TEST (what_cannot_be_divided)
{
  refused ("run,span,divide\na,3000,equal\n", "min-bay=1600",
           "bays from 1600 mm to 2400 mm, found 3000 mm in run \"a\": 1 equal bay is 3000 mm, 600 mm too long; 2 are "
           "1500 mm, 100 mm too short");
  refused ("run,span,divide\na,900,best\n", NULL, ": 1 equal bay is 900 mm, 300 mm too short");
  refused ("run,span,divide\na,900m,best\n", "min-bay=100", "in more than 5000 ways");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("way");
  TCase *tests = tcase_create ("way");
  tcase_add_test (tests, ways_by_count);
  tcase_add_test (tests, ends_come_out_like_the_others);
  tcase_add_test (tests, what_a_row_says_goes_to_its_bay);
  tcase_add_test (tests, clear_and_commas);
  tcase_add_test (tests, inches);
  tcase_add_test (tests, what_cannot_be_divided);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
