/* plan_offers.c - the cheapest plan of all, wherever its timber is bought
 *
 * This is branch and bound over what is bought where.  A node says which yards
 * deliver or are out, and how many of each length are bought at least and at
 * most.  What was learnt from the jobs before, as cuts (purchase_cuts.h),
 * bounds the node, and mostly cuts it in two: by a yard at which something is
 * bought without paying for delivery, or else by the length whose price is
 * farthest from the truth.  Where the cuts say no more, the node becomes a job
 * in which each length has its price (offer_node.h); its prices are the next
 * cut, and its plan is priced in truth, which may give a better one than the
 * best so far.  The node with the least bound comes first.
 *
 * To branch on a fixed charge, and to bound a cost that is not convex by a
 * convex line, are after J. E. Falk, R. M. Soland, "An algorithm for separable
 * nonconvex programming problems", Management Science 15 (1969).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "base/report.h"
#include "lp/master.h"
#include "plan/offer_tree.h"
#include "plan/plan_once.h"
#include "plan/replan.h"

#include <stdlib.h>

/* The most nodes that are planned, and the most looks at nodes, so that a job without a time limit ends too. */
#define MOST_NODES 4000
#define MOST_LOOKS 100000

typedef struct offers
{
  sw_offer_tree tree;
  const sw_limits *limits;
  sw_report *report;
  void (*changed) (sw_layout *layout, const void *data); /* as in sw_once */
  const void *data;
  size_t planned, looks;
  int64_t told;   /* the bound that the caller was told last */
  bool stopped;   /* the callback stopped it */
  bool timed_out; /* the search has used its part of the time */
  bool polishing; /* the search is over, and the best plan is being improved */
} offers;

/* ---- The clock ---------------------------------------------------------------------------- */

/* Pass what a node's plan tells on to the caller, as what is known of the whole. */
static bool
relay (const sw_progress *now, void *data)
{
  offers *o = data;
  if (o->limits == NULL || o->limits->progress == NULL)
    return true;
  const double unit = sw_job_by_length (o->tree.job) ? (double)SW_METRE : (double)SW_MONEY_UNIT;
  int64_t bound = sw_offer_bound (&o->tree);
  sw_progress shown = *now;
  shown.seconds = sw_watch_seconds (&o->tree.watch);
  shown.seconds_left = o->tree.watch.limit < 0 ? -1 : (double)sw_watch_left (&o->tree.watch) / 1000;
  shown.has_plan = o->tree.best.plan != NULL;
  if (shown.has_plan && bound > o->tree.best.cost)
    bound = o->tree.best.cost;
  shown.cost = shown.has_plan ? (double)o->tree.best.cost / unit : 0;
  o->told = bound > o->told && bound < INT64_MAX ? bound : o->told;
  shown.bound = (double)o->told / unit;
  if (!o->limits->progress (&shown, o->limits->data))
    o->stopped = true;
  return !o->stopped;
}

/* The milliseconds that the search may still take.  A part of the limit is kept back for improving the best plan. */
static int
time_left (const offers *o)
{
  const int left = sw_watch_left (&o->tree.watch);
  const int64_t kept = o->tree.watch.limit < 0 || o->polishing ? 0 : o->tree.watch.limit / 4;
  return left > kept ? left - (int)kept : 0;
}

typedef struct lesson
{
  sw_cuts *cuts;
  const sw_offer_lines *lines;
} lesson;

static sw_status
learn (const sw_model *model, const sw_solved *solved, void *data)
{
  const lesson *l = data;
  return sw_cuts_learn (l->cuts, l->lines, model, solved);
}

static sw_status
plan_job (offers *o, sw_plan **out, sw_offer_lines *lines, sw_once *once, sw_report *report)
{
  sw_job *job = &lines->job;
  lesson lesson = { .cuts = &o->tree.cuts, .lines = lines };
  sw_status status = sw_offer_lines_job (lines);
  if (status != SW_OK)
    return status;
  once->learn = learn;
  once->learner = &lesson;
  const sw_limits limits = { .progress = relay, .data = o, .hard_way = o->limits != NULL && o->limits->hard_way };
  if (o->tree.watch.limit >= 0)
    job->settings->time_limit = time_left (o);
  once->changed = o->changed;
  once->data = o->data;
  return sw_plan_once (out, job, &limits, once, report);
}

static bool
time_is_up (const offers *o)
{
  return o->stopped || time_left (o) == 0;
}

/* ---- The search ----------------------------------------------------------------------------- */

/* Plan NODE's job and price the plan in truth. */
static sw_status
plan_node (offers *o, sw_offer_node *node, sw_offer_lines *lines, bool alone, sw_offer_plan *made)
{
  sw_offer_tree *t = &o->tree;
  const bool root = o->planned++ == 0;
  sw_once once = { .brief = !alone && !node->thorough, .cost_only = !alone };
  if (t->best.plan != NULL && t->best.plan->summary.aligned == 0 && t->best.cost > lines->base)
    once.enough = t->best.cost - lines->base;
  sw_status status = plan_job (o, &made->plan, lines, &once, root ? o->report : NULL);
  if ((status == SW_OK || status == SW_STOPPED) && (made->plan == NULL || once.enough > 0))
    sw_offer_raise (t, node, lines->base + once.bound);
  if (status != SW_OK)
    return status;
  sw_offer_raise (t, node, lines->base + made->plan->summary.bound);
  if (root)
    t->aligned_bound = made->plan->summary.aligned_bound;
  made->proved = made->plan->summary.outcome == SW_PROVED;
  made->whole = alone;
  status = sw_offer_plan_price (made, &t->buying, lines);
  made->exact_here = made->proved && made->bill_exact && made->cost <= node->bound;
  return status;
}

/* Keep MADE, the plan of NODE's job, where it is better than the best; the worse of the two is in MADE then. */
static sw_status
keep (sw_offer_tree *t, const sw_offer_node *node, sw_offer_plan *made)
{
  sw_status status = sw_offer_node_copy (t, node, &made->node);
  if (status == SW_OK)
    {
      const sw_offer_plan before = t->best;
      t->best = *made;
      *made = before;
    }
  return status;
}

/* Go on from NODE, whose job was planned with this STATUS. */
static sw_status
go_on (offers *o, sw_offer_node *node, const sw_offer_lines *lines, sw_status status, sw_offer_plan *made)
{
  sw_offer_tree *t = &o->tree;
  const bool root = o->planned == 1;
  bool settled = false;
  if (status == SW_NO_PLAN && !root)
    return SW_OK; /* nothing that the node allows can be built */
  if (status == SW_STOPPED && !root && !node->thorough && !time_is_up (o) && !sw_offer_is_done (t, node, NULL))
    {
      /* A first look found no plan. */
      node->thorough = true;
      return sw_offer_open (t, node);
    }
  if (status == SW_STOPPED && !root)
    {
      /* It was cut short: either its plan is of no use or the time is up. */
      if (!sw_offer_is_done (t, node, NULL) && node->bound < t->left_open)
        t->left_open = node->bound;
      return SW_OK;
    }
  if (status != SW_OK)
    return status;
  const bool better = sw_offer_plan_better (made, &t->best);
  if (better)
    status = keep (t, node, made);
  const sw_offer_plan *mine = better ? &t->best : made;
  if (status != SW_OK || (better && mine->exact_here) || sw_offer_is_done (t, node, mine))
    return status;
  if (!node->thorough)
    status = sw_offer_look (t, node, lines, &settled);
  return status == SW_OK && !settled ? sw_offer_branch (t, node, lines, mine) : status;
}

static sw_status
work_on (offers *o, sw_offer_node *node)
{
  sw_offer_lines lines;
  sw_offer_plan made = { .plan = NULL };
  const bool root = o->planned == 0;
  bool settled = false;
  sw_status status = sw_offer_lines_make (&lines, &o->tree.buying, node);
  const bool alone = root && status == SW_OK && (o->tree.buying.paid & ~node->in) == 0 && sw_offer_lines_exact (&lines);
  if (status == SW_OK && !node->thorough)
    status = sw_offer_look (&o->tree, node, &lines, &settled);
  if (status == SW_OK && !settled)
    status = go_on (o, node, &lines, plan_node (o, node, &lines, alone, &made), &made);
  sw_offer_plan_clear (&made);
  sw_offer_lines_clear (&lines);
  return status;
}

static sw_status
search (offers *o)
{
  sw_offer_tree *t = &o->tree;
  sw_offer_node root;
  sw_status status = sw_buying_begin (&t->buying, t->job);
  if (status == SW_OK)
    status = sw_offer_node_copy (t, NULL, &root);
  if (status != SW_OK)
    return status;
  status = sw_offer_open (t, &root);
  sw_offer_node_free (&root);
  while (status == SW_OK && t->count > 0
         && (o->planned == 0 || (!time_is_up (o) && o->planned < MOST_NODES && o->looks < MOST_LOOKS)))
    {
      sw_offer_node node = sw_offer_take (t);
      o->looks++;
      t->at_work = node.bound;
      /* The nodes that are left have bounds that are no lower. */
      if (t->best.plan == NULL || !sw_offer_is_done (t, &node, NULL))
        status = work_on (o, &node);
      t->at_work = INT64_MAX;
      sw_offer_node_free (&node);
    }
  return status;
}

/* Plan the job of the best plan's node again, for fewer joins and boards and longer offcuts at that cost. */
static sw_status
polish (offers *o)
{
  sw_offer_lines lines;
  sw_offer_plan made = { .plan = NULL };
  sw_once once = { .cost_only = false };
  o->timed_out = time_is_up (o);
  o->polishing = true;
  if (o->tree.best.whole || time_is_up (o))
    return SW_OK;
  sw_status status = sw_offer_lines_make (&lines, &o->tree.buying, &o->tree.best.node);
  if (status == SW_OK)
    status = plan_job (o, &made.plan, &lines, &once, NULL);
  if (status == SW_OK)
    status = sw_offer_plan_price (&made, &o->tree.buying, &lines);
  if (status == SW_OK && !sw_offer_plan_better (&o->tree.best, &made))
    {
      sw_offer_plan swap = o->tree.best;
      made.node = swap.node;
      swap.node = (sw_offer_node){ .least = NULL };
      o->tree.best = made;
      made = swap;
    }
  sw_offer_plan_clear (&made);
  sw_offer_lines_clear (&lines);
  return status == SW_STOPPED || status == SW_NO_PLAN ? SW_OK : status;
}

/* Set what is proved, and why no more is. */
static void
settle (offers *o)
{
  sw_plan *plan = o->tree.best.plan;
  sw_summary *sum = &plan->summary;
  int64_t bound = sw_offer_bound (&o->tree);
  if (bound > o->tree.best.cost)
    bound = o->tree.best.cost;
  sum->bound = bound;
  sum->aligned_bound = o->tree.aligned_bound < sum->aligned ? o->tree.aligned_bound : sum->aligned;
  if (o->tree.job->all_free)
    {
      /* The job counts lengths, and all of them cost nothing. */
      plan->least = bound;
      sum->cost = sum->bound = 0;
    }
  if (bound >= o->tree.best.cost)
    sum->outcome = SW_PROVED;
  else
    sum->outcome = o->stopped ? SW_INTERRUPTED : o->timed_out ? SW_TIMED_OUT : SW_WITHIN_GAP;
  /* Other nodes of the same cost were not searched for fewer joins. */
  plan->joins_proved = plan->joins_proved && o->tree.best.whole && sum->outcome == SW_PROVED;
  plan->boards_proved = plan->boards_proved && plan->joins_proved;
  plan->seconds = sw_watch_seconds (&o->tree.watch);
}

static sw_status
plan_offers (sw_plan **out, const sw_job *job, const sw_limits *limits, const sw_once *once, sw_report *report)
{
  offers o = { .tree = { .job = job, .at_work = INT64_MAX, .left_open = INT64_MAX },
               .limits = limits,
               .report = report,
               .changed = once->changed,
               .data = once->data };
  const sw_limits relayed = { .progress = relay, .data = &o };
  sw_watch_begin (&o.tree.watch, job->settings->time_limit, &relayed);
  const bool entered = sw_master_enter ();
  sw_status status = search (&o);
  /* A failure after there is a plan only ends the search. */
  const bool failed = status == SW_FAILED && o.tree.best.plan != NULL;
  if (failed)
    o.tree.left_open = 0;
  if (status == SW_OK)
    status = polish (&o);
  if (status == SW_OK || failed)
    status = sw_offer_plan_finish (&o.tree.best, &o.tree.buying);
  if (status == SW_OK)
    {
      settle (&o);
      *out = o.tree.best.plan;
      o.tree.best.plan = NULL;
    }
  sw_offer_plan_clear (&o.tree.best);
  while (o.tree.count > 0)
    sw_offer_node_free (&o.tree.nodes[--o.tree.count]);
  free (o.tree.nodes);
  sw_cuts_clear (&o.tree.cuts);
  sw_master_leave (entered);
  sw_buying_clear (&o.tree.buying);
  return status;
}

sw_status
sw_plan_make_on (sw_plan **out, const sw_job *job, void (*changed) (sw_layout *layout, const void *data),
                 const void *data, const sw_limits *limits, sw_report *report)
{
  sw_once once = { .changed = changed, .data = data };
  *out = NULL;
  return job->stocks.offers ? plan_offers (out, job, limits, &once, report)
                            : sw_plan_once (out, job, limits, &once, report);
}

sw_status
sw_plan_make (sw_plan **out, const sw_job *job, const sw_limits *limits, sw_report *report)
{
  return sw_plan_make_on (out, job, NULL, NULL, limits, report);
}
