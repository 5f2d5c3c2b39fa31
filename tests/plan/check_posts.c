/* check_posts.c - stretches divided together with the timber: every way by itself planned beside it
 *
 * tests/reference/check_posts.py holds posts against another solver; here a
 * greater part of the rules is seen: limits on stock, slopes, extras, lines of
 * several stretches, gates, time, and what is told of it all.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "chance.h"
#include "job/divided.h"
#include "plan/posts.h"
#include "plan_fixture.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- Every way, planned by itself ---- */

typedef struct best
{
  bool any;
  int64_t key[3]; /* posts where they cost nothing, pairs, cost */
} best;

static bool
is_before (const int64_t a[3], const int64_t b[3])
{
  for (int i = 0; i < 3; i++)
    if (a[i] != b[i])
      return a[i] < b[i];
  return false;
}

static void
try_ways (const sw_job *job, const sw_division *divisions, size_t count, const sw_way *ways, best *out)
{
  sw_job *divided;
  sw_plan *plan = NULL;
  int64_t posts = 0;
  sw_report *report = sw_report_new ();
  ck_assert_int_eq (sw_divided_job (&divided, job, divisions, count, ways, report), SW_OK);
  const sw_status status = sw_plan_make (&plan, divided, NULL, report);
  ck_assert (status == SW_OK || status == SW_NO_PLAN);
  for (size_t d = 0; d < count; d++)
    posts += ways[d].bays - 1;
  if (status == SW_OK)
    {
      ck_assert_int_eq (plan->summary.outcome, SW_PROVED);
      const int64_t key[3] = { job->settings->post_cost > 0 ? 0 : posts, plan->summary.aligned,
                               plan->summary.cost + posts * job->settings->post_cost };
      if (!out->any || is_before (key, out->key))
        memcpy (out->key, key, sizeof key);
      out->any = true;
    }
  sw_plan_free (plan);
  sw_job_free (divided);
  sw_report_free (report);
}

static best
try_all (const sw_job *job)
{
  sw_division *divisions;
  size_t count, turn[4] = { 0 }, at;
  sw_way ways[4];
  best out = { .any = false };
  ck_assert_int_eq (sw_divisions_new (&divisions, &count, job, NULL), SW_OK);
  ck_assert_uint_le (count, 4);
  do
    {
      for (size_t d = 0; d < count; d++)
        ways[d] = divisions[d].ways[turn[d]];
      try_ways (job, divisions, count, ways, &out);
      for (at = 0; at < count && ++turn[at] == divisions[at].way_count; at++)
        turn[at] = 0;
    }
  while (at < count);
  sw_divisions_free (divisions, count);
  return out;
}

/* What `posts` finds is the best of all ways, and proved, or rightly nothing. */
static void
ck_best (const char *spans, const char *levels, const char *stock, const char *extras, const char *settings)
{
  const fixture_texts texts
      = { .spans = spans, .levels = levels, .stock = stock, .extras = extras, .settings = settings,
          .sections = "section,width,thickness\nrail,75,30\nboard,150,25\n" };
  sw_job *job = fixture_job (&texts);
  sw_report *report = sw_report_new ();
  sw_posts *posts;
  const best all = try_all (job);
  const sw_status status = sw_posts_make (&posts, job, NULL, report);
  ck_assert_msg (status == (all.any ? SW_OK : SW_NO_PLAN), "%d of\n%s%s", status, spans, settings);
  if (status == SW_OK)
    {
      sw_posts_figures figures;
      sw_posts_summary (posts, &figures);
      const int64_t key[3]
          = { job->settings->post_cost > 0 ? 0 : figures.posts, sw_posts_plan (posts)->summary.aligned, figures.cost };
      for (int i = 0; i < 3; i++)
        ck_assert_msg (key[i] == all.key[i], "figure %d is %lld, the best way has %lld, of\n%s%s", i, (long long)key[i],
                       (long long)all.key[i], spans, settings);
      ck_assert_int_eq (figures.outcome, SW_PROVED);
      ck_assert_int_eq (figures.bound, figures.cost);
    }
  else
    ck_assert_uint_gt (sw_report_count_of (report, SW_FAULT), 0);
  sw_posts_free (posts);
  sw_report_free (report);
  sw_job_free (job);
}

/* A stretch that can be divided in a few ways. */
static void
some_stretch (uint64_t *state, char *out, size_t size, const char *start, const char *finish)
{
  static const char *const how[] = { "equal", "ends", "odd", "equal" };
  const long bays = (long)chance (state, 1, 4);
  snprintf (out, size, "a,%ld,%s,%s,%s,%ld\n", (long)chance (state, bays * 1500, bays * 2000), how[chance (state, 0, 3)],
            start, finish, one_in (state, 4) ? (long)chance (state, -200, 200) : 0);
}

START_TEST (best_of_all_ways)
{
  static const char *const ends[] = { "", "face", "centre", "housed", "mitre" };
  uint64_t state = (uint64_t)_i * 977 + 5;
  for (int i = 0; i < 8; i++)
    {
      char one[80], two[80], spans[400], settings[200], stock[300];
      const bool priced = one_in (&state, 2), apart = one_in (&state, 2), odd_rows = one_in (&state, 2);
      some_stretch (&state, one, sizeof one, ends[chance (&state, 0, 4)], apart ? "centre" : "");
      some_stretch (&state, two, sizeof two, "", ends[chance (&state, 0, 4)]);
      snprintf (spans, sizeof spans, "run,span,divide,start,finish,rise\n%s%s%s", one, odd_rows ? "a,1700,,,,\n" : "",
                one_in (&state, 2) ? two : "");
      const int limit = one_in (&state, 3) ? (int)chance (&state, 0, 3) : -1;
      char limited[16] = "";
      if (limit >= 0)
        snprintf (limited, sizeof limited, "%d", limit);
      snprintf (stock, sizeof stock,
                "section,length,price,limit,hand\nrail,3.6,%s,,%d\nrail,%s,%s,%s,\nboard,3.6,%s,,\n", priced ? "17.10" : "",
                one_in (&state, 4) ? 2 : 0, one_in (&state, 2) ? "4.8" : "4.2", priced ? "23.40" : "", limited,
                priced ? "9" : "");
      snprintf (settings, sizeof settings, "min-bay=1500\nmax-bay=%d%s%s", (int)chance (&state, 1560, 2000),
                priced && one_in (&state, 2) ? "\npost-cost=7.30" : "",
                one_in (&state, 4) ? "\nstagger=off" : one_in (&state, 5) ? "\nstagger=require" : "");
      /* Limits may leave a stretch without a way. */
      const fixture_texts texts = { .spans = spans, .settings = settings };
      sw_job *job = fixture_job (&texts);
      sw_division *divisions;
      size_t count, ways = 1;
      sw_report *report = sw_report_new ();
      const bool possible = sw_divisions_new (&divisions, &count, job, report) == SW_OK;
      for (size_t d = 0; d < count; d++)
        ways *= divisions[d].way_count;
      sw_divisions_free (divisions, count);
      sw_report_free (report);
      sw_job_free (job);
      if (possible && ways <= 60)
        ck_best (spans, "level,section,runs,blocks,block_length\nfoot,board,between,1,150\nlow,rail,,,\nhigh,rail,,,\n",
                 stock, one_in (&state, 3) ? "label,section,length,quantity\nbrace,rail,1250,2\n" : NULL, settings);
    }
}
END_TEST

/* ---- What is told ---- */

static sw_posts *
make (const char *spans, const char *settings, sw_job **job)
{
  const fixture_texts texts = { .spans = spans, .settings = settings };
  sw_posts *posts;
  *job = fixture_job (&texts);
  ck_assert_int_eq (sw_posts_make (&posts, *job, NULL, NULL), SW_OK);
  return posts;
}

static const char front[] = "run,span,divide\nfront,23700,best\n";

/* job.md's figure: with the end bays half a post shorter all rails are two bays of 2380, hardly under 4.8 m. */
START_TEST (ten_bays)
{
  sw_job *job;
  sw_posts_figures figures;
  sw_posts *posts = make (front, "stock-length=4.8", &job);
  sw_posts_summary (posts, &figures);
  ck_assert_int_eq (figures.posts, 9);
  ck_assert_int_eq (figures.ways, 185);
  ck_assert_int_eq (figures.cost, 48 * SW_METRE);
  ck_assert (!figures.priced);
  ck_assert (figures.has_habit);
  ck_assert_int_eq (figures.habit_posts, 9);
  ck_assert_int_eq (figures.habit_cost, 52800 * SW_MM);
  ck_assert_int_eq (figures.habit_outcome, SW_PROVED);
  ck_assert_uint_eq (sw_posts_job (posts)->fence.runs[0].bay_count, 10);
  char *text;
  ck_assert_int_eq (sw_posts_text (posts, 0, &text), SW_OK);
  ck_contains (text, "front, posts 1 to 11: 23700 in 10 bays, equal but for shorter ones at the\n    ends: 2330, 8 of 2380, 2330.");
  ck_contains (text, "No spacing among the 185 ways looked at");
  ck_contains (text, "one post less is not possible");
  sw_text_free (text);
  sw_posts_free (posts);
  sw_job_free (job);
}
END_TEST

/* No line is wider than is asked for. */
START_TEST (widths)
{
  sw_job *job;
  sw_posts *posts = make ("run,span,divide\nthe far side of the orchard,23700,best\nb,12000,odd\n", NULL, &job);
  for (unsigned width = 40; width <= 160; width += 20)
    {
      char *text;
      ck_assert_int_eq (sw_posts_text (posts, width, &text), SW_OK);
      for (char *line = text; *line != '\0'; line += strcspn (line, "\n") + 1)
        ck_assert_msg (strcspn (line, "\n") <= width, "%u: %.*s", width, (int)strcspn (line, "\n"), line);
      sw_text_free (text);
    }
  sw_posts_free (posts);
  sw_job_free (job);
}
END_TEST

START_TEST (files)
{
  sw_job *job;
  sw_posts *posts = make (front, NULL, &job);
  sw_papers *papers;
  sw_report *report = sw_report_new ();
  char *folder = fixture_directory ();
  ck_assert_int_eq (sw_papers_open (&papers, folder, report), SW_OK);
  ck_assert_int_eq (sw_papers_posts (papers, posts, report), SW_OK);
  char *bytes = fixture_bytes (folder, "pegs.csv");
  ck_assert_int_eq (strncmp (bytes, "run,post,distance_mm\r\nfront,1,0\r\nfront,2,", 41), 0);
  ck_contains (bytes, "front,11,23700\r\n");
  free (bytes);
  bytes = fixture_bytes (folder, "spans.csv");
  char *given;
  ck_assert_int_eq (sw_posts_spans (posts, &given), SW_OK);
  ck_assert_str_eq (bytes, given);
  sw_text_free (given);
  free (bytes);
  /* The folder keeps the finished job: verify and plan need nothing else. */
  sw_job *kept;
  sw_settings *settings = sw_settings_new ();
  const sw_sources none = { .spans = NULL };
  sw_verdict verdict;
  ck_assert_int_eq (sw_job_read_kept (&kept, folder, &none, settings, report), SW_OK);
  ck_assert_int_eq (sw_verify (kept, folder, &verdict, report), SW_OK);
  ck_assert_int_eq (verdict.cost, sw_posts_plan (posts)->summary.cost);
  sw_job_free (kept);
  sw_settings_free (settings);
  sw_papers_free (papers);
  sw_report_free (report);
  fixture_remove (folder);
  sw_posts_free (posts);
  sw_job_free (job);
}
END_TEST

/* Equal bays that are as good as any are what is taken. */
START_TEST (habit)
{
  sw_job *job;
  sw_posts *posts = make (front, "min-bay=2350\nmax-bay=2370\nstock-length=6", &job);
  char *text;
  ck_assert_int_eq (sw_posts_text (posts, 0, &text), SW_OK);
  ck_contains (text, "None: equal bays of at most 2370 are as good as any.");
  ck_contains (text, "equal: 10 of 2370");
  sw_text_free (text);
  sw_posts_free (posts);
  sw_job_free (job);
}
END_TEST

static bool
stop (const sw_progress *progress, void *data)
{
  (void)progress;
  return ++*(int *)data < 3;
}

START_TEST (stopped)
{
  const fixture_texts texts = { .spans = front };
  sw_job *job = fixture_job (&texts);
  sw_posts *posts;
  int calls = 0;
  sw_limits limits = { .progress = stop, .data = &calls };
  sw_report *report = sw_report_new ();
  const sw_status status = sw_posts_make (&posts, job, &limits, report);
  ck_assert (status == SW_STOPPED || status == SW_OK);
  ck_assert (status != SW_OK || sw_posts_plan (posts) != NULL);
  sw_posts_free (posts);
  sw_report_free (report);
  sw_job_free (job);
}
END_TEST

/* Without any time there is a division all the same. */
START_TEST (no_time)
{
  sw_job *job;
  sw_posts_figures figures;
  sw_posts *posts = make (front, "time-limit=0", &job);
  sw_posts_summary (posts, &figures);
  ck_assert_int_eq (figures.outcome, SW_TIMED_OUT);
  ck_assert_int_ge (figures.cost, figures.bound);
  ck_assert_uint_eq (sw_posts_job (posts)->fence.runs[0].bay_count, 10);
  sw_posts_free (posts);
  sw_job_free (job);
}
END_TEST

START_TEST (nothing_to_divide)
{
  const fixture_texts texts = { .spans = "run,span\na,2400\n" };
  sw_job *job = fixture_job (&texts);
  sw_posts *posts;
  sw_report *report = sw_report_new ();
  ck_assert_int_eq (sw_posts_make (&posts, job, NULL, report), SW_REJECTED);
  ck_assert_ptr_null (posts);
  ck_assert_str_eq (sw_report_get (report, 0)->column, "divide");
  sw_report_free (report);
  sw_job_free (job);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("posts");
  TCase *tests = tcase_create ("posts");
  tcase_set_timeout (tests, 600);
  tcase_add_loop_test (tests, best_of_all_ways, 0, 8);
  tcase_add_test (tests, ten_bays);
  tcase_add_test (tests, widths);
  tcase_add_test (tests, files);
  tcase_add_test (tests, habit);
  tcase_add_test (tests, stopped);
  tcase_add_test (tests, no_time);
  tcase_add_test (tests, nothing_to_divide);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
