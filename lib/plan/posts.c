/* posts.c - where the posts go: how stretches are divided, and what that saves
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/posts.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "job/divided.h"
#include "lp/master.h"

/* The part of a time limit that the search may take; then the part of the rest that the plan of the usual division may
 * take. */
#define SEARCH_SHARE(milliseconds) ((milliseconds) / 4 * 3)
#define HABIT_SHARE(milliseconds) ((milliseconds) / 2)
/* The nodes of a search for another number of posts. */
#define FEW_NODES 40

typedef struct making
{
  sw_posts *posts;
  sw_watch watch;
  sw_part part;
  sw_choosing choosing;
} making;

/* Check that there is something to divide, and that prices of posts can be counted. */
static sw_status
check (const sw_job *job, sw_report *report)
{
  size_t run, bay;
  sw_status status = SW_OK;
  if (!sw_fence_undivided (&job->fence, &run, &bay))
    {
      sw_report_add (report, SW_FAULT, job->files[SW_FILE_SPANS], 0, "divide",
                     "expected at least one stretch to divide (equal, ends, odd or best in the column divide), found "
                     "none; where all posts are set, `spanwright plan` is what is needed");
      status = SW_REJECTED;
    }
  if (job->settings->min_bay > job->settings->max_bay)
    {
      sw_settings_remark (job->settings, report, SW_FAULT, "min-bay", "expected at most what max-bay is, found more");
      status = SW_REJECTED;
    }
  if (job->settings->post_cost > 0 && sw_job_by_length (job))
    {
      sw_settings_remark (job->settings, report, SW_FAULT, "post-cost",
                          "needs prices%s: without them cost is metres of timber, to which no money can be added; give "
                          "prices in the stock file, or no post-cost",
                          job->all_free ? " over 0" : "");
      status = SW_REJECTED;
    }
  return status;
}

/* ---- The habit, and what there is when the time is up ---- */

static sw_status
plan_simply (making *m, sw_divided *out, bool habit, int milliseconds)
{
  const sw_choosing *c = &m->choosing;
  sw_way *ways = sw_alloc (c->count, sizeof *ways);
  if (ways == NULL)
    return SW_NO_MEMORY;
  for (size_t d = 0; d < c->count; d++)
    ways[d] = habit ? c->divisions[d].habit : c->divisions[d].ways[0];
  sw_status status = sw_divide_and_plan (out, c, ways, INT64_MAX, INT64_MAX / 2, milliseconds, NULL);
  free (ways);
  return status;
}

static sw_status
search (making *m)
{
  sw_posts *p = m->posts;
  sw_watch watch = m->watch;
  const int left = sw_watch_left (&m->watch);
  if (left < INT32_MAX)
    watch.limit = SEARCH_SHARE (watch.limit);
  m->choosing.watch = &watch;
  sw_status status = sw_choose (&p->chosen, &m->choosing);
  m->choosing.watch = &m->watch;
  m->watch.shown = watch.shown;
  m->watch.stop = watch.stop == SW_STOP_CALLBACK ? SW_STOP_CALLBACK : SW_GO_ON;
  if (status != SW_STOPPED || watch.stop == SW_STOP_CALLBACK)
    return status;
  /* There is not even a first plan.  Take the fewest bays of each stretch, whatever comes of it. */
  status = plan_simply (m, &p->chosen.best, false, sw_watch_left (&m->watch));
  p->chosen.outcome = SW_TIMED_OUT;
  for (size_t d = 0; d < p->count; d++)
    p->chosen.looked_at += p->divisions[d].way_count;
  return status == SW_OK && p->chosen.best.plan == NULL ? SW_STOPPED : status;
}

/* Are equal bays of at most max-bay among the ways of every stretch? */
static bool
habit_is_a_way (const sw_posts *p)
{
  for (size_t d = 0; d < p->count; d++)
    {
      const sw_division *division = &p->divisions[d];
      size_t w = 0;
      while (w < division->way_count
             && (division->ways[w].kind != SW_DIVIDE_EQUAL || division->ways[w].bays != division->habit.bays))
        w++;
      if (w == division->way_count)
        return false;
    }
  return true;
}

/* Make the plan of the usual division.  Where it is as good as any it is chosen, because equal bays are what everybody
 * expects. */
static sw_status
plan_habit (making *m)
{
  sw_posts *p = m->posts;
  const int left = sw_watch_left (&m->watch);
  sw_status status = plan_simply (m, &p->habit, true, left < INT32_MAX ? HABIT_SHARE (left) : left);
  if (status != SW_OK || p->habit.plan == NULL || !habit_is_a_way (p) || sw_divided_before (&p->chosen.best, &p->habit))
    return status;
  sw_divided_clear (&p->chosen.best);
  p->chosen.best = p->habit;
  p->habit = (sw_divided){ .ways = NULL };
  p->habit_is_best = true;
  if (p->chosen.best.cost <= p->chosen.bound)
    p->chosen.outcome = SW_PROVED;
  return SW_OK;
}

const sw_divided *
sw_posts_habit (const sw_posts *posts)
{
  return posts->habit_is_best ? &posts->chosen.best : &posts->habit;
}

/* ---- One post more or less ---- */

/* Give stretch D BAYS bays, and leave all others as chosen. */
static sw_status
try_other (making *m, size_t d, uint32_t bays, sw_posts_other *out)
{
  const sw_posts *p = m->posts;
  const sw_division *division = &p->divisions[d];
  sw_division *few = sw_alloc (p->count, sizeof *few);
  sw_chosen chosen;
  if (few == NULL)
    return SW_NO_MEMORY;
  memcpy (few, p->divisions, p->count * sizeof *few);
  for (size_t i = 0; i < p->count; i++)
    {
      few[i].ways = &p->chosen.best.ways[i];
      few[i].way_count = 1;
    }
  size_t first = 0;
  while (first < division->way_count && division->ways[first].bays != bays)
    first++;
  few[d].ways = division->ways + first;
  few[d].way_count = 0;
  while (first + few[d].way_count < division->way_count && few[d].ways[few[d].way_count].bays == bays)
    few[d].way_count++;
  sw_choosing choosing = m->choosing;
  sw_report *report = sw_report_new ();
  choosing.divisions = few;
  choosing.report = report;
  choosing.most_nodes = FEW_NODES;
  sw_status status = report != NULL ? SW_OK : SW_NO_MEMORY;
  out->known = true;
  if (few[d].way_count > 0 && status == SW_OK)
    {
      status = sw_choose (&chosen, &choosing);
      out->possible = status == SW_OK;
      out->known = status != SW_STOPPED;
      if (status == SW_OK)
        {
          out->proved = chosen.outcome == SW_PROVED;
          out->timber = sw_timber_cost (chosen.best.plan);
          out->aligned = chosen.best.plan->summary.aligned;
        }
      sw_chosen_clear (&chosen);
    }
  if (status == SW_NO_PLAN || status == SW_STOPPED || status == SW_REJECTED)
    status = SW_OK;
  sw_report_free (report);
  free (few);
  return status;
}

static sw_status
try_others (making *m)
{
  sw_posts *p = m->posts;
  sw_status status = SW_OK;
  for (size_t d = 0; d < p->count && status == SW_OK && !sw_watch_stop (&m->watch); d++)
    {
      const uint32_t bays = p->chosen.best.ways[d].bays;
      if (bays > 1)
        status = try_other (m, d, bays - 1, &p->fewer[d]);
      else
        p->fewer[d].known = true;
      if (status == SW_OK && !sw_watch_stop (&m->watch))
        status = try_other (m, d, bays + 1, &p->more[d]);
    }
  return status;
}

/* ---- The whole ---- */

/* Pass on the warnings about the finished job that were not given about the undivided one. */
static sw_status
pass_warnings (const sw_posts *p, sw_report *report)
{
  const sw_report *now = p->chosen.best.job->warnings, *before = p->job->warnings;
  for (size_t i = 0; now != NULL && i < sw_report_count (now); i++)
    {
      const sw_remark *remark = sw_report_get (now, i);
      bool told = false;
      for (size_t k = 0; before != NULL && k < sw_report_count (before); k++)
        told = told || strcmp (sw_report_get (before, k)->message, remark->message) == 0;
      if (!told)
        sw_report_add (report, remark->severity, remark->file, remark->line, remark->column, "%s", remark->message);
    }
  return sw_report_broken (report) ? SW_NO_MEMORY : SW_OK;
}

static sw_status
make (making *m, const sw_limits *limits, sw_report *report)
{
  sw_posts *p = m->posts;
  const sw_job *job = p->job;
  sw_watch_begin (&m->watch, job->settings->time_limit, limits);
  sw_watch_parts (&m->watch, &m->part, 1, (double)(sw_job_by_length (job) ? SW_METRE : SW_MONEY_UNIT));
  sw_status status = sw_divisions_new (&p->divisions, &p->count, job, report);
  if (status != SW_OK)
    return status;
  p->fewer = sw_alloc (p->count, sizeof *p->fewer);
  p->more = sw_alloc (p->count, sizeof *p->more);
  if (p->fewer == NULL || p->more == NULL)
    return SW_NO_MEMORY;
  m->choosing = (sw_choosing){ .job = job,
                               .divisions = p->divisions,
                               .count = p->count,
                               .watch = &m->watch,
                               .report = report,
                               .hard_way = limits != NULL && limits->hard_way };
  status = search (m);
  if (status == SW_OK)
    status = plan_habit (m);
  if (status == SW_OK)
    status = try_others (m);
  p->seconds = sw_watch_seconds (&m->watch);
  return status == SW_OK ? pass_warnings (p, report) : status;
}

sw_status
sw_posts_make (sw_posts **out, const sw_job *job, const sw_limits *limits, sw_report *report)
{
  *out = NULL;
  if (job->stocks.offers)
    {
      sw_report_add (report, SW_FAULT, job->files[SW_FILE_STOCK], 0, NULL,
                     "posts are set by one price a length: leave yards, packs and prices from a number on out here, "
                     "and plan the finished spans with them");
      return SW_REJECTED;
    }
  sw_status status = check (job, report);
  if (status != SW_OK)
    return status;
  making m = { .posts = sw_alloc (1, sizeof *m.posts) };
  if (m.posts == NULL)
    return SW_NO_MEMORY;
  m.posts->job = job;
  bool entered = sw_master_enter ();
  status = make (&m, limits, report);
  sw_master_leave (entered);
  if (status == SW_OK)
    *out = m.posts;
  else
    sw_posts_free (m.posts);
  return status;
}

void
sw_posts_free (sw_posts *posts)
{
  if (posts == NULL)
    return;
  sw_chosen_clear (&posts->chosen);
  sw_divided_clear (&posts->habit);
  sw_divisions_free (posts->divisions, posts->count);
  free (posts->fewer);
  free (posts->more);
  free (posts);
}

const sw_plan *
sw_posts_plan (const sw_posts *posts)
{
  return posts->chosen.best.plan;
}

const sw_job *
sw_posts_job (const sw_posts *posts)
{
  return posts->chosen.best.job;
}

void
sw_posts_summary (const sw_posts *posts, sw_posts_figures *out)
{
  const sw_divided *habit = sw_posts_habit (posts);
  *out = (sw_posts_figures){ .outcome = posts->chosen.outcome,
                             .priced = posts->job->priced,
                             .ways = (int64_t)posts->chosen.looked_at,
                             .posts = posts->chosen.best.posts,
                             .cost = posts->chosen.best.cost,
                             .bound = posts->chosen.bound,
                             .has_habit = habit->plan != NULL };
  if (habit->plan == NULL)
    return;
  out->habit_posts = habit->posts;
  out->habit_cost = habit->cost;
  out->habit_bought = habit->plan->summary.bought;
  out->habit_aligned = habit->plan->summary.aligned;
  out->habit_outcome = habit->plan->summary.outcome;
}
