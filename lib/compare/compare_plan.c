/* compare_plan.c - makes the plans of a comparison under one time limit, and says which of two comes first
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "compare/compare.h"

/* Seconds after the limit in which small choices still get the plan that can be had at once.  After that none is begun:
 * laying out a large job takes longer than any limit allows for, as often as there are choices. */
#define GRACE 1.0

/* ---- Many plans under one limit ---------------------------------------------------- */

static bool
relay_progress (const sw_progress *now, void *data)
{
  sw_relay *relay = data;
  sw_progress shown = *now;
  if (relay->limits == NULL || relay->limits->progress == NULL)
    return true;
  shown.seconds = sw_watch_seconds (&relay->watch);
  shown.seconds_left = relay->watch.limit < 0 ? -1 : (double)sw_watch_left (&relay->watch) / 1000;
  shown.cost /= (double)relay->scale;
  shown.bound /= (double)relay->scale;
  if (!relay->limits->progress (&shown, relay->limits->data))
    relay->stopped = true;
  return !relay->stopped;
}

sw_status
sw_relay_plan (sw_relay *relay, sw_plan **out, sw_job *job, int share, sw_report *report)
{
  const sw_limits limits
      = { .progress = relay_progress, .data = relay, .hard_way = relay->limits != NULL && relay->limits->hard_way };
  if (relay->watch.limit >= 0 && sw_watch_seconds (&relay->watch) > (double)relay->watch.limit / 1000 + GRACE)
    return SW_STOPPED;
  if (relay->watch.limit >= 0)
    job->settings->time_limit = sw_watch_left (&relay->watch) / share;
  return sw_plan_make (out, job, &limits, report);
}

bool
sw_compare_proved (const sw_plan *plan)
{
  return plan->summary.outcome == SW_PROVED && plan->summary.aligned == plan->summary.aligned_bound;
}

bool
sw_compare_before (const sw_comparison *c, size_t a, size_t b)
{
  const sw_summary *x = &c->choices[a].plan->summary;
  const sw_summary *y = &c->choices[b].plan->summary;
  const bool by_length = sw_job_by_length (c->job);
  const int64_t left[] = { x->cost, by_length ? x->bought : 0, x->aligned, x->joins, x->boards };
  const int64_t right[] = { y->cost, by_length ? y->bought : 0, y->aligned, y->joins, y->boards };
  for (size_t i = 0; i < sizeof left / sizeof *left; i++)
    if (left[i] != right[i])
      return left[i] < right[i];
  return a < b;
}
