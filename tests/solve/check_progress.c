/* check_progress.c - what is told while a plan is made, and when there is no time
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "chance.h"
#include "plan_fixture.h"
#include "base/report.h"
#include "suite.h"
#include "base/text.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

static sw_report *report;

static void
setup (void)
{
  report = sw_report_new ();
  ck_assert_ptr_nonnull (report);
}

static void
teardown (void)
{
  sw_report_free (report);
}

/* A fence of one to three rails, of one section or of two, a plinth between the posts, and extras of a third:
 * up to three parts that are solved apart. */
static sw_job *
make_job (uint64_t *state, bool priced, int64_t bays)
{
  sw_text spans = { 0 }, levels = { 0 }, stock = { 0 }, settings = { 0 };
  sw_text_add (&spans, "run,span\n");
  for (int64_t b = 0; b < bays; b++)
    sw_text_printf (&spans, "road,%" PRId64 "\n", chance (state, 1500, 2450));
  sw_text_add (&levels, "level,section,runs\nplinth,board,between\n");
  for (int64_t l = chance (state, 1, 3); l > 0; l--)
    sw_text_printf (&levels, "rail %" PRId64 ",rail,\n", l);
  sw_text_add (&stock, "section,length,price\n");
  for (int64_t length = 30; length <= 60; length += chance (state, 6, 18))
    for (int s = 0; s < 3; s++)
      {
        static const char *const sections[] = { "rail", "board", "batten" };
        sw_text_printf (&stock, "%s,%" PRId64 ".%" PRId64 ",", sections[s], length / 10, length % 10);
        if (priced)
          sw_text_printf (&stock, "%" PRId64 ".%" PRId64, length / 2 + chance (state, 0, 4), chance (state, 0, 9));
        sw_text_add (&stock, "\n");
      }
  sw_text_printf (&settings, "time-limit=2\njoin-cost=%d\nstagger=%s", priced && one_in (state, 2) ? 2 : 0,
                  one_in (state, 3) ? "off" : "prefer");
  const fixture_texts texts = { .spans = spans.data,
                                .levels = levels.data,
                                .stock = stock.data,
                                .extras = "label,section,length,quantity\nx,batten,640,9\ny,batten,1130,7\n",
                                .settings = settings.data };
  sw_job *job = fixture_job (&texts);
  sw_text_drop (&spans);
  sw_text_drop (&levels);
  sw_text_drop (&stock);
  sw_text_drop (&settings);
  return job;
}

enum
{
  MOST_SHOWN = 100000
};

typedef struct watcher
{
  size_t count;
  sw_progress shown[MOST_SHOWN];
} watcher;

static bool
watch (const sw_progress *progress, void *data)
{
  watcher *w = data;
  if (w->count < MOST_SHOWN)
    w->shown[w->count++] = *progress;
  return true;
}

static double
shown_cost (const sw_plan *plan, int64_t cost)
{
  return (double)cost / (double)(plan->summary.priced ? SW_MONEY_UNIT : SW_METRE);
}

/* The bound never falls, the cost never rises, and what came of it is between the two. */
START_TEST (what_is_shown_is_true)
{
  static watcher w;
  uint64_t state = 300 + (uint64_t)_i;
  size_t with_plan = 0, bound_rose = 0, cost_fell = 0, sought[SW_SEEKING_OFFCUTS + 1] = { 0 };
  for (int round = 0; round < 8; round++)
    {
      sw_job *job = make_job (&state, _i == 1, chance (&state, 5, 14));
      const sw_limits limits = { .progress = watch, .data = &w };
      sw_plan *plan = NULL;
      w.count = 0;
      ck_assert_int_eq (sw_plan_make (&plan, job, &limits, report), SW_OK);
      double cost = shown_cost (plan, plan->summary.cost), bound = shown_cost (plan, plan->summary.bound);
      double hair = 1e-9 * cost;
      ck_assert_uint_gt (w.count, 0);
      for (size_t i = 0; i < w.count; i++)
        {
          const sw_progress *now = &w.shown[i], *before = i > 0 ? &w.shown[i - 1] : NULL;
          ck_assert_msg (now->bound >= 0 && now->bound <= cost + hair, "bound %g, cost %g", now->bound, cost);
          ck_assert (now->bound <= bound + hair);
          ck_assert_msg (!now->has_plan || now->cost >= cost - hair, "shown %g, cost %g", now->cost, cost);
          ck_assert (!now->has_plan || now->bound <= now->cost + hair);
          ck_assert (before == NULL || now->bound >= before->bound);
          ck_assert (before == NULL || !before->has_plan || (now->has_plan && now->cost <= before->cost));
          ck_assert (now->seeking <= SW_SEEKING_OFFCUTS);
          /* What comes after the cost is looked for only where there is a plan. */
          ck_assert (now->seeking == SW_SEEKING_COST || now->has_plan);
          sought[now->seeking]++;
          with_plan += now->has_plan;
          bound_rose += before != NULL && now->bound > before->bound;
          cost_fell += before != NULL && before->has_plan && now->cost < before->cost;
        }
      sw_plan_free (plan);
      sw_job_free (job);
    }
  ck_assert_uint_gt (with_plan, 20);
  ck_assert_uint_gt (bound_rose, 8);
  ck_assert_uint_gt (cost_fell, 0);
  for (int s = SW_SEEKING_COST; s <= SW_SEEKING_OFFCUTS; s++)
    ck_assert_msg (sought[s] > 0, "never told that it looks for %d", s);
}
END_TEST

/* Without any time there is a plan by simple means and a bound by the metres: not over the least cost, and not far
 * under it. */
START_TEST (no_time_leaves_a_plan_and_a_bound)
{
  uint64_t state = 500 + (uint64_t)_i;
  int compared = 0;
  for (int round = 0; round < 12; round++)
    {
      sw_job *job = make_job (&state, _i == 1, chance (&state, 2, 8));
      sw_plan *hasty = NULL, *best = NULL;
      ck_assert_int_eq (sw_plan_make (&best, job, NULL, report), SW_OK);
      job->settings->time_limit = 0;
      sw_status status = sw_plan_make (&hasty, job, NULL, report);
      ck_assert_msg (status == SW_OK || status == SW_STOPPED, "%s", sw_status_text (status));
      if (status == SW_OK && best->summary.outcome == SW_PROVED && hasty->summary.aligned == best->summary.aligned)
        {
          compared++;
          ck_assert_int_gt (hasty->summary.bound, 0);
          ck_assert_int_le (hasty->summary.bound, best->summary.cost);
          ck_assert_int_ge (hasty->summary.bound * 10, best->summary.cost * 7);
          ck_assert_int_ge (hasty->summary.cost, best->summary.cost);
          ck_assert (hasty->summary.outcome == SW_TIMED_OUT || hasty->summary.outcome == SW_PROVED);
        }
      sw_plan_free (hasty);
      sw_plan_free (best);
      sw_job_free (job);
    }
  ck_assert_int_gt (compared, 3);
}
END_TEST

/* Boards from hand cost nothing, cheaper ones are few: what they save at most is taken off. */
START_TEST (a_bound_without_time_minds_limits)
{
  uint64_t state = 700;
  int planned = 0, told = 0;
  for (int round = 0; round < 40; round++)
    {
      sw_text stock = { 0 }, extras = { 0 };
      sw_text_add (&stock, "section,length,price,hand,limit\n");
      sw_text_printf (&stock, "rail,3.0,%" PRId64 ",%" PRId64 ",%s\n", chance (&state, 6, 15), chance (&state, 0, 3),
                      one_in (&state, 2) ? "4" : "");
      sw_text_printf (&stock, "rail,4.8,%" PRId64 ",%" PRId64 ",%s\n", chance (&state, 10, 24), chance (&state, 0, 2),
                      one_in (&state, 2) ? "3" : "");
      sw_text_printf (&stock, "rail,6.0,%" PRId64 ",,%s\n", chance (&state, 15, 30), one_in (&state, 4) ? "20" : "");
      sw_text_add (&extras, "label,section,length,quantity\n");
      for (int e = 0; e < 4; e++)
        sw_text_printf (&extras, "e%d,rail,%" PRId64 ",%" PRId64 "\n", e, chance (&state, 400, 2900),
                        chance (&state, 1, 9));
      const fixture_texts texts = { .stock = stock.data, .extras = extras.data, .settings = "kerf=3" };
      sw_job *job = fixture_job (&texts);
      sw_plan *hasty = NULL, *best = NULL;
      if (sw_plan_make (&best, job, NULL, report) == SW_OK)
        {
          job->settings->time_limit = 0;
          sw_status status = sw_plan_make (&hasty, job, NULL, report);
          ck_assert (status == SW_OK || status == SW_STOPPED);
          ck_assert_int_eq (best->summary.outcome, SW_PROVED);
          planned += status == SW_OK;
          told += status == SW_OK && hasty->summary.bound > 0;
          ck_assert (status != SW_OK || hasty->summary.bound <= best->summary.cost);
        }
      sw_plan_free (hasty);
      sw_plan_free (best);
      sw_job_free (job);
      sw_text_drop (&stock);
      sw_text_drop (&extras);
    }
  ck_assert_int_gt (planned, 25);
  ck_assert_int_gt (told, 20);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("progress");
  TCase *progress = tcase_create ("progress");
  tcase_add_checked_fixture (progress, setup, teardown);
  tcase_set_timeout (progress, 240);
  tcase_add_loop_test (progress, what_is_shown_is_true, 0, 2);
  tcase_add_loop_test (progress, no_time_leaves_a_plan_and_a_bound, 0, 2);
  tcase_add_test (progress, a_bound_without_time_minds_limits);
  suite_add_tcase (suite, progress);
  return suite_run (suite);
}
