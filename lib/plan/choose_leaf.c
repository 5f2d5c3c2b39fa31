/* choose_leaf.c - the plan of a fence that is divided
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/choose.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "job/divided.h"

/* What a plan in the making shares with the caller of the search. */
typedef struct relay
{
  sw_watch *watch;
  double unit;   /* unit of the costs that are shown */
  int64_t posts; /* what the posts cost */
  int64_t cutoff, enough;
  bool cut;
} relay;

int64_t
sw_timber_cost (const sw_plan *plan)
{
  return plan->job->all_free ? plan->summary.bought : plan->summary.cost;
}

static bool
go_on (const sw_progress *progress, void *data)
{
  relay *r = data;
  const double bound = progress->bound * r->unit + (double)r->posts, cost = progress->cost * r->unit + (double)r->posts;
  if (sw_watch_stop (r->watch))
    return false;
  /* A difference of half a nanometre, or of half a millionth, is none. */
  if (r->cutoff != INT64_MAX && bound > (double)r->cutoff - 0.5)
    r->cut = true;
  /* The cost is proved in all sections; all that is left to find is fewer joins and boards. */
  if (progress->has_plan && bound > cost - 0.5 && cost > (double)r->enough + 0.5)
    r->cut = true;
  return !r->cut;
}

sw_status
sw_divide_and_plan (sw_divided *out, const sw_choosing *c, const sw_way *ways, int64_t cutoff, int64_t enough,
                    int milliseconds, bool *cut)
{
  *out = (sw_divided){ .ways = sw_alloc (c->count, sizeof *ways) };
  sw_report *report = sw_report_new ();
  sw_status status = out->ways != NULL && report != NULL ? SW_OK : SW_NO_MEMORY;
  for (size_t d = 0; d < c->count && status == SW_OK; d++)
    {
      out->ways[d] = ways[d];
      out->posts += ways[d].bays - 1;
    }
  if (status == SW_OK)
    status = sw_divided_job (&out->job, c->job, c->divisions, c->count, ways, report);
  relay r = { .watch = c->watch,
              .unit = (double)(sw_job_by_length (c->job) ? SW_METRE : SW_MONEY_UNIT),
              .posts = out->posts * c->job->settings->post_cost,
              .cutoff = cutoff,
              .enough = enough };
  if (status == SW_OK)
    {
      const int64_t limit = out->job->settings->time_limit;
      const sw_limits limits = { .progress = go_on, .data = &r, .hard_way = c->hard_way };
      if (milliseconds < INT32_MAX)
        out->job->settings->time_limit = milliseconds;
      status = sw_plan_make (&out->plan, out->job, &limits, report);
      out->job->settings->time_limit = limit;
    }
  if (status == SW_OK)
    out->cost = sw_timber_cost (out->plan) + r.posts;
  out->impossible = status == SW_NO_PLAN || status == SW_REJECTED;
  /* A way that the reader of the finished file would refuse is no way. */
  if (status == SW_NO_PLAN || status == SW_STOPPED || status == SW_REJECTED)
    status = SW_OK;
  sw_report_free (report);
  if (cut != NULL)
    *cut = r.cut;
  return status;
}

void
sw_divided_clear (sw_divided *divided)
{
  sw_plan_free (divided->plan);
  sw_job_free (divided->job);
  free (divided->ways);
  *divided = (sw_divided){ .ways = NULL };
}

bool
sw_divided_before (const sw_divided *a, const sw_divided *b)
{
  if (a->plan == NULL || b->plan == NULL)
    return b->plan == NULL && a->plan != NULL;
  const sw_summary *x = &a->plan->summary, *y = &b->plan->summary;
  const bool posts = a->plan->job->settings->post_cost == 0;
  const int64_t left[] = { posts ? a->posts : 0, x->aligned, a->cost, x->joins, x->boards };
  const int64_t right[] = { posts ? b->posts : 0, y->aligned, b->cost, y->joins, y->boards };
  for (size_t i = 0; i < sizeof left / sizeof *left; i++)
    if (left[i] != right[i])
      return left[i] < right[i];
  return false;
}

sw_status
sw_choose_say_none (const sw_choosing *c)
{
  sw_job *job = NULL;
  sw_plan *plan = NULL;
  sw_report *own = sw_report_new ();
  sw_way *ways = sw_alloc (c->count, sizeof *ways);
  sw_status status = own != NULL && ways != NULL ? SW_OK : SW_NO_MEMORY;
  for (size_t d = 0; d < c->count && status == SW_OK; d++)
    ways[d] = c->divisions[d].ways[0];
  if (status == SW_OK)
    status = sw_divided_job (&job, c->job, c->divisions, c->count, ways, own);
  if (status == SW_OK)
    status = sw_plan_make (&plan, job, NULL, own);
  for (size_t i = 0; status == SW_NO_PLAN && i < sw_report_count (own); i++)
    if (sw_report_get (own, i)->severity == SW_FAULT)
      sw_report_add (c->report, SW_FAULT, NULL, 0, NULL,
                     "in whatever way the stretches are divided there is no plan; the first: %s",
                     sw_report_get (own, i)->message);
  sw_plan_free (plan);
  sw_job_free (job);
  sw_report_free (own);
  free (ways);
  return status == SW_NO_MEMORY ? status : SW_NO_PLAN;
}
