/* plan_offers.c - the cheapest plan of all, wherever its timber is bought
 *
 * This is branch and bound over what is bought where.  A node says which yards
 * deliver or are out, and how many of each length are bought at least and at
 * most.  It becomes a job in which each length has its price (offer_node.h);
 * the bound of that job holds for all plans that the node allows.  The plan of
 * that job is priced in truth, which may give a better plan than the best so
 * far.  Where the two costs differ, the node is cut in two: by a yard at which
 * the plan buys without paying for delivery, or else by the length whose price
 * is farthest from the truth.  The node with the least bound comes first.
 *
 * To branch on a fixed charge, and to bound a cost that is not convex by a
 * convex line, are after J. E. Falk, R. M. Soland, "An algorithm for separable
 * nonconvex programming problems", Management Science 15 (1969).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "base/report.h"
#include "base/watch.h"
#include "plan/offer_node.h"
#include "plan/offer_plan.h"
#include "plan/plan_once.h"
#include "plan/purchase_cuts.h"
#include "plan/replan.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The most nodes that are planned, so that a job without a time limit ends too. */
#define MOST_NODES 4000

typedef struct tree
{
  const sw_job *job;
  const sw_limits *limits;
  sw_report *report;
  void (*changed) (sw_layout *layout, const void *data); /* as in sw_once */
  const void *data;
  sw_watch watch;
  sw_buying buying;
  sw_cuts cuts;
  size_t looks;
  size_t count, capacity;
  sw_offer_node *nodes; /* that are open */
  size_t planned;
  bool stopped;          /* the callback stopped it */
  bool timed_out;        /* the search has used its part of the time */
  bool polishing;        /* the search is over, and the best plan is being improved */
  /* The best plan so far, as it was made for the job of its node. */
  sw_offer_plan best;
  int64_t left_open;     /* the least bound of the nodes that were given up; INT64_MAX: there is none */
  int64_t aligned_bound; /* no plan has fewer aligned pairs */
} tree;

/* ---- Nodes ------------------------------------------------------------------------------ */

static void
free_node (sw_offer_node *node)
{
  free (node->least);
  *node = (sw_offer_node){ .least = NULL };
}

/* Copy NODE (NULL: a node that allows everything). */
static sw_status
copy_node (const tree *t, const sw_offer_node *node, sw_offer_node *out)
{
  const size_t cells = t->buying.cell_count;
  int64_t *numbers = sw_alloc (2 * cells + 1, sizeof *numbers);
  if (numbers == NULL)
    return SW_NO_MEMORY;
  *out = node != NULL ? *node : (sw_offer_node){ .in = 0 };
  out->least = numbers;
  out->most = numbers + cells;
  for (size_t c = 0; c < cells; c++)
    {
      out->least[c] = node != NULL ? node->least[c] : 0;
      out->most[c] = node != NULL ? node->most[c] : t->buying.cells[c].most;
    }
  return SW_OK;
}

static sw_status
open_node (tree *t, const sw_offer_node *node)
{
  sw_status status = sw_grow ((void **)&t->nodes, &t->capacity, t->count + 1, sizeof *t->nodes);
  if (status == SW_OK)
    status = copy_node (t, node, &t->nodes[t->count]);
  if (status == SW_OK)
    t->count++;
  return status;
}

/* Take the open node with the least bound; of several, the one that was opened last, because it is the deepest. */
static sw_offer_node
take_node (tree *t)
{
  size_t at = 0;
  for (size_t i = 1; i < t->count; i++)
    if (t->nodes[i].bound <= t->nodes[at].bound)
      at = i;
  sw_offer_node taken = t->nodes[at];
  memmove (&t->nodes[at], &t->nodes[at + 1], (--t->count - at) * sizeof *t->nodes);
  return taken;
}

static int64_t
least_bound (const tree *t)
{
  int64_t least = t->left_open;
  for (size_t i = 0; i < t->count; i++)
    least = t->nodes[i].bound < least ? t->nodes[i].bound : least;
  return least;
}

/* ---- The clock ---------------------------------------------------------------------------- */

/* Pass what a node's plan tells on to the caller, as what is known of the whole. */
static bool
relay (const sw_progress *now, void *data)
{
  tree *t = data;
  if (t->limits == NULL || t->limits->progress == NULL)
    return true;
  const double unit = sw_job_by_length (t->job) ? (double)SW_METRE : (double)SW_MONEY_UNIT;
  int64_t bound = least_bound (t);
  sw_progress shown = *now;
  shown.seconds = sw_watch_seconds (&t->watch);
  shown.seconds_left = t->watch.limit < 0 ? -1 : (double)sw_watch_left (&t->watch) / 1000;
  shown.has_plan = t->best.plan != NULL;
  if (shown.has_plan && bound > t->best.cost)
    bound = t->best.cost;
  shown.cost = shown.has_plan ? (double)t->best.cost / unit : 0;
  shown.bound = bound == INT64_MAX ? 0 : (double)bound / unit;
  if (!t->limits->progress (&shown, t->limits->data))
    t->stopped = true;
  return !t->stopped;
}

/* The milliseconds that the search may still take.  A part of the limit is kept back for improving the best plan. */
static int
time_left (const tree *t)
{
  const int left = sw_watch_left (&t->watch);
  const int64_t kept = t->watch.limit < 0 || t->polishing ? 0 : t->watch.limit / 4;
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
plan_job (tree *t, sw_plan **out, sw_offer_lines *lines, sw_once *once, sw_report *report)
{
  sw_job *job = &lines->job;
  lesson lesson = { .cuts = &t->cuts, .lines = lines };
  sw_status status = sw_offer_lines_job (lines);
  if (status != SW_OK)
    return status;
  once->learn = learn;
  once->learner = &lesson;
  const sw_limits limits
      = { .progress = relay, .data = t, .hard_way = t->limits != NULL && t->limits->hard_way };
  if (t->watch.limit >= 0)
    job->settings->time_limit = time_left (t);
  once->changed = t->changed;
  once->data = t->data;
  return sw_plan_once (out, job, &limits, once, report);
}

static bool
time_is_up (const tree *t)
{
  return t->stopped || time_left (t) == 0;
}

/* ---- Branching ---------------------------------------------------------------------------- */

/* Find the paid yard, not yet in, at which so many lengths of each cell would be bought at the node's costs and which
 * asks most for delivery; SW_NO_YARD: there is none. */
static sw_status
find_yard (tree *t, const sw_offer_node *node, const sw_offer_lines *lines, const int64_t *numbers, size_t *yard)
{
  const sw_job *job = t->job;
  sw_purchase *split = sw_alloc (job->stocks.count, sizeof *split);
  *yard = SW_NO_YARD;
  if (split == NULL)
    return SW_NO_MEMORY;
  sw_status status = SW_OK;
  for (size_t c = 0; c < t->buying.cell_count && status == SW_OK; c++)
    {
      const int64_t needed = numbers[c] > lines->paid[c] ? numbers[c] : lines->paid[c];
      status = sw_buying_split (&t->buying, c, lines->costs.yards, needed, split);
    }
  for (size_t s = 0; s < job->stocks.count && status == SW_OK; s++)
    {
      const size_t y = job->stocks.items[s].yard;
      if (split[s].bought == 0 || y == SW_NO_YARD || !(t->buying.paid >> y & 1) || node->in >> y & 1)
        continue;
      if (*yard == SW_NO_YARD || job->yards.items[y].delivery > job->yards.items[*yard].delivery)
        *yard = y;
    }
  free (split);
  return status;
}

/* Find the cell whose cost by the lines is farthest from the truth, and where to cut it. */
static bool
find_cell (const tree *t, const sw_offer_lines *lines, const sw_offer_plan *made, size_t *cell, int64_t *cut)
{
  int64_t widest = 0;
  for (size_t c = 0; c < t->buying.cell_count; c++)
    {
      int64_t at;
      const int64_t needed = made->needed[c];
      if (needed <= lines->paid[c])
        continue;
      const int64_t gap = lines->costs.of[c][needed] - sw_offer_lines_at (lines, c, needed);
      if (gap > widest && sw_offer_lines_cut (lines, c, needed, &at))
        {
          widest = gap;
          *cell = c;
          *cut = at;
        }
    }
  return widest > 0;
}

/* Every line is equal to the true cost, and yet the plan costs more, because a least order is not reached.  Then cut
 * some range of numbers. */
static bool
find_any_cell (const tree *t, const sw_offer_node *node, const sw_offer_lines *lines, const sw_offer_plan *made,
               size_t *cell, int64_t *cut)
{
  int64_t widest = 0;
  for (size_t c = 0; c < t->buying.cell_count; c++)
    {
      const int64_t most = node->most[c] < lines->last[c] ? node->most[c] : lines->last[c];
      const int64_t range = most - node->least[c];
      if (range <= widest)
        continue;
      widest = range;
      *cell = c;
      *cut = made->needed[c] < most ? made->needed[c] + 1 : made->needed[c];
      *cut = *cut > node->least[c] ? *cut : node->least[c] + 1;
      *cut = *cut < most ? *cut : most;
    }
  return widest > 0;
}

static sw_status
branch_on_yard (tree *t, sw_offer_node *node, size_t yard)
{
  const sw_yard_set bit = (sw_yard_set)1 << yard;
  node->thorough = false;
  node->out |= bit;
  sw_status status = open_node (t, node);
  node->out &= ~bit;
  node->in |= bit;
  node->bound += t->job->yards.items[yard].delivery;
  return status == SW_OK ? open_node (t, node) : status;
}

static sw_status
branch_on_cell (tree *t, sw_offer_node *node, size_t cell, int64_t cut)
{
  node->thorough = false;
  const int64_t most = node->most[cell];
  node->most[cell] = cut - 1;
  sw_status status = open_node (t, node);
  node->most[cell] = most;
  node->least[cell] = cut;
  return status == SW_OK ? open_node (t, node) : status;
}

/* Cut NODE in two, or drop it where MADE is all that it has. */
static sw_status
branch (tree *t, sw_offer_node *node, const sw_offer_lines *lines, const sw_offer_plan *made)
{
  size_t yard;
  size_t cell = 0;
  int64_t cut = 0;
  sw_status status = find_yard (t, node, lines, made->needed, &yard);
  if (status != SW_OK)
    return status;
  if (yard != SW_NO_YARD)
    return branch_on_yard (t, node, yard);
  bool found = find_cell (t, lines, made, &cell, &cut);
  if (!found && !made->proved)
    {
      /* Its costs are known but its plan is not proved.  A thorough search is worth while after a first look. */
      if (node->thorough && node->bound < t->left_open)
        t->left_open = node->bound;
      if (node->thorough)
        return SW_OK;
      node->thorough = true;
      return open_node (t, node);
    }
  found = found || (!made->exact_here && find_any_cell (t, node, lines, made, &cell, &cut));
  if (!found)
    {
      /* One number of each length is left, so no purchase of so many costs less than MADE's.  Where that is not
         certain, only the bound is known. */
      if (!made->bill_exact && node->bound < t->left_open)
        t->left_open = node->bound;
      return SW_OK;
    }
  return branch_on_cell (t, node, cell, cut);
}

/* ---- The search ----------------------------------------------------------------------------- */

/* Does NODE have nothing of use? */
static bool
is_done (const tree *t, const sw_offer_node *node, const sw_offer_plan *made)
{
  if (t->best.plan == NULL)
    return false;
  const sw_summary *best = &t->best.plan->summary;
  /* Fewer aligned pairs come first, whatever the cost. */
  if (made != NULL && made->plan->summary.aligned_bound > best->aligned)
    return true;
  return (made == NULL ? best->aligned == t->aligned_bound : made->plan->summary.aligned >= best->aligned)
         && node->bound >= t->best.cost;
}

/* Round BOUND up: a node's cost is a whole number of units. */
static int64_t
whole_bound (const tree *t, int64_t bound)
{
  const int64_t unit = t->buying.unit;
  return (bound + unit - 1) / unit * unit;
}

/* What COUNT of a cell cost by the true table, straight between whole numbers; then: by the line below it. */
static double
truly (const int64_t *cost, double count)
{
  const double low = floor (count);
  const int64_t n = (int64_t)low;
  return count > low ? (double)cost[n] * (low + 1 - count) + (double)cost[n + 1] * (count - low) : (double)cost[n];
}

static double
by_line (const sw_offer_lines *lines, size_t c, double count)
{
  const int64_t *cost = lines->costs.of[c];
  int64_t from = lines->paid[c];
  for (size_t s = lines->step_first[c]; s < lines->step_first[c + 1]; s++)
    {
      const int64_t end = lines->steps[s].end;
      if (count <= (double)end)
        return (double)cost[from]
               + (double)(cost[end] - cost[from]) * (count - (double)from) / (double)(end - from);
      from = end;
    }
  return (double)cost[from];
}

/* Find the cell whose COUNT costs farthest from the truth by the lines, and where to cut it. */
static bool
find_turn (const tree *t, const sw_offer_lines *lines, const double *count, size_t *cell, int64_t *cut)
{
  double widest = (double)t->buying.unit;
  bool found = false;
  for (size_t c = 0; c < t->buying.cell_count; c++)
    {
      const double gap = truly (lines->costs.of[c], count[c]) - by_line (lines, c, count[c]);
      if (gap <= widest)
        continue;
      int64_t n = (int64_t)ceil (count[c]);
      if (!sw_offer_lines_cut (lines, c, n, cut))
        {
          while (n > lines->paid[c] + 1 && lines->costs.of[c][n - 1] == lines->costs.of[c][n])
            n--;
          *cut = n;
        }
      *cell = c;
      widest = gap;
      found = true;
    }
  return found;
}

/* Bound NODE by the cuts that are known, and cut it in two where that says how.  *SETTLED: there is no need to plan its
 * job now. */
static sw_status
look_at (tree *t, sw_offer_node *node, const sw_offer_lines *lines, bool *settled)
{
  int64_t bound;
  size_t yard;
  size_t cell = 0;
  int64_t cut = 0;
  *settled = false;
  if (t->best.plan == NULL || t->best.plan->summary.aligned != t->aligned_bound)
    return SW_OK;
  double *count = sw_alloc (t->buying.cell_count, sizeof *count);
  int64_t *whole = sw_alloc (t->buying.cell_count, sizeof *whole);
  sw_status status = count != NULL && whole != NULL ? SW_OK : SW_NO_MEMORY;
  t->looks++;
  if (status == SW_OK)
    status = sw_cuts_bound (&t->cuts, lines, t->best.cost, &t->watch, &bound, count);
  if (status == SW_OK && bound != INT64_MIN)
    {
      bound = whole_bound (t, bound);
      node->bound = bound > node->bound ? bound : node->bound;
      *settled = true;
      for (size_t c = 0; c < t->buying.cell_count; c++)
        {
          const double near = floor (count[c] + 0.5);
          if (fabs (count[c] - near) < 1e-6)
            count[c] = near;
          whole[c] = (int64_t)ceil (count[c]);
        }
      if (getenv ("SWDBG2"))
        {
          fprintf (stderr, "   look %.2f:", bound / 1e6);
          for (size_t c = 0; c < t->buying.cell_count; c++)
            fprintf (stderr, " %.3f/%.2f[%d-%d]", count[c], lines->costs.of[c][(int64_t)ceil (count[c])] / 1e6, (int)lines->paid[c], (int)lines->last[c]);
          fprintf (stderr, "\n");
        }
      if (is_done (t, node, NULL))
        ;
      else if (node->bound > least_bound (t))
        status = open_node (t, node);
      else
        {
          status = find_yard (t, node, lines, whole, &yard);
          if (status == SW_OK && yard != SW_NO_YARD)
            status = branch_on_yard (t, node, yard);
          else if (status == SW_OK && find_turn (t, lines, count, &cell, &cut))
            status = branch_on_cell (t, node, cell, cut);
          else
            *settled = false;
        }
    }
  free (count);
  free (whole);
  return status;
}

/* Plan NODE's job, keep the plan where it is better, and go on from there. */
static sw_status
work_on (tree *t, sw_offer_node *node)
{
  sw_offer_lines lines;
  sw_offer_plan made = { .plan = NULL };
  const bool root = t->planned == 0;
  bool settled = false;
  sw_status status = sw_offer_lines_make (&lines, &t->buying, node);
  if (status == SW_OK && !root && !node->thorough)
    status = look_at (t, node, &lines, &settled);
  if (status != SW_OK || settled)
    {
      sw_offer_lines_clear (&lines);
      return status;
    }
  t->planned++;
  const bool alone = root && status == SW_OK && (t->buying.paid & ~node->in) == 0 && sw_offer_lines_exact (&lines);
  sw_once once = { .brief = !alone && !node->thorough, .cost_only = !alone };
  if (t->best.plan != NULL && t->best.plan->summary.aligned == 0 && t->best.cost > lines.base)
    once.enough = t->best.cost - lines.base;
  sw_report *report = root ? t->report : NULL;
  if (status == SW_OK)
    status = plan_job (t, &made.plan, &lines, &once, report);
  const bool told = status == SW_OK || status == SW_STOPPED;
  if (told && lines.base + once.bound > node->bound && (made.plan == NULL || once.enough > 0))
    node->bound = whole_bound (t, lines.base + once.bound);
  if (status == SW_OK)
    {
      const int64_t bound = whole_bound (t, lines.base + made.plan->summary.bound);
      node->bound = bound > node->bound ? bound : node->bound;
      if (root)
        t->aligned_bound = made.plan->summary.aligned_bound;
      made.proved = made.plan->summary.outcome == SW_PROVED;
      status = sw_offer_plan_price (&made, &t->buying, &lines);
    }
  if (status == SW_OK)
    {
      made.exact_here = made.proved && made.bill_exact && made.cost <= node->bound;
      bool better = sw_offer_plan_better (&made, &t->best);
      if (better)
        status = copy_node (t, node, &made.node);
      const bool open = !(better && made.exact_here);
      if (better && status == SW_OK)
        {
          made.whole = alone;
          sw_offer_plan swap = t->best;
          t->best = made;
          made = swap;
        }
      const sw_offer_plan *mine = better ? &t->best : &made;
      if (status == SW_OK && open && !is_done (t, node, mine))
        {
          if (!node->thorough)
            status = look_at (t, node, &lines, &settled);
          if (status == SW_OK && !settled)
            status = branch (t, node, &lines, mine);
        }
    }
  else if (status == SW_NO_PLAN && !root)
    status = SW_OK; /* nothing that the node allows can be built */
  else if (status == SW_STOPPED && !root)
    {
      /* It was cut short: either its plan is of no use or the time is up. */
      status = SW_OK;
      if (!is_done (t, node, NULL) && node->bound < t->left_open)
        t->left_open = node->bound;
    }
  if (getenv ("SWDBG"))
    fprintf (stderr, "%.2f plan %zu looks %zu th %d in %x out %x bound %.2f made %.2f proved %d best %.2f open %zu least %.2f st %d settled %d\n",
             sw_watch_seconds (&t->watch), t->planned, t->looks, node->thorough, node->in, node->out, node->bound / 1e6, made.cost / 1e6, made.proved,
             t->best.cost / 1e6, t->count, least_bound (t) / 1e6, (int)status, settled);
  if (getenv ("SWDBG2"))
    {
      const sw_offer_plan *m = made.plan && !(t->best.cost < made.cost) ? &made : &t->best;
      fprintf (stderr, "   best:");
          for (size_t c = 0; c < t->buying.cell_count; c++)
            fprintf (stderr, " %d/%.2f", (int)m->needed[c], lines.costs.of[c][m->needed[c]] / 1e6);
          fprintf (stderr, "\n");
    }
  sw_offer_plan_clear (&made);
  sw_offer_lines_clear (&lines);
  return status;
}

static sw_status
search (tree *t)
{
  sw_offer_node root;
  sw_status status = sw_buying_begin (&t->buying, t->job);
  if (status == SW_OK)
    status = copy_node (t, NULL, &root);
  if (status != SW_OK)
    return status;
  status = open_node (t, &root);
  free_node (&root);
  while (status == SW_OK && t->count > 0 && (t->planned == 0 || (!time_is_up (t) && t->planned < MOST_NODES)))
    {
      sw_offer_node node = take_node (t);
      /* The nodes that are left have bounds that are no lower. */
      if (t->best.plan == NULL || !is_done (t, &node, NULL))
        status = work_on (t, &node);
      free_node (&node);
    }
  return status;
}

/* Plan the job of the best plan's node again, for fewer joins and boards and longer offcuts at that cost. */
static sw_status
polish (tree *t)
{
  sw_offer_lines lines;
  sw_offer_plan made = { .plan = NULL };
  sw_once once = { .cost_only = false };
  t->timed_out = time_is_up (t);
  t->polishing = true;
  if (t->best.whole || time_is_up (t))
    return SW_OK;
  sw_status status = sw_offer_lines_make (&lines, &t->buying, &t->best.node);
  if (status == SW_OK)
    status = plan_job (t, &made.plan, &lines, &once, NULL);
  if (status == SW_OK)
    status = sw_offer_plan_price (&made, &t->buying, &lines);
  if (status == SW_OK && !sw_offer_plan_better (&t->best, &made))
    {
      sw_offer_plan swap = t->best;
      made.node = swap.node;
      swap.node = (sw_offer_node){ .least = NULL };
      t->best = made;
      made = swap;
    }
  sw_offer_plan_clear (&made);
  sw_offer_lines_clear (&lines);
  return status == SW_STOPPED || status == SW_NO_PLAN ? SW_OK : status;
}

/* Set what is proved, and why no more is. */
static void
settle (tree *t)
{
  sw_plan *plan = t->best.plan;
  sw_summary *sum = &plan->summary;
  int64_t bound = least_bound (t);
  if (bound > t->best.cost)
    bound = t->best.cost;
  sum->bound = bound;
  sum->aligned_bound = t->aligned_bound < sum->aligned ? t->aligned_bound : sum->aligned;
  if (t->job->all_free)
    {
      /* The job counts lengths, and all of them cost nothing. */
      plan->least = bound;
      sum->cost = sum->bound = 0;
    }
  if (bound >= t->best.cost)
    sum->outcome = SW_PROVED;
  else
    sum->outcome = t->stopped     ? SW_INTERRUPTED
                   : t->timed_out ? SW_TIMED_OUT
                                  : SW_WITHIN_GAP;
  /* Other nodes of the same cost were not searched for fewer joins. */
  plan->joins_proved = plan->joins_proved && t->best.whole && sum->outcome == SW_PROVED;
  plan->boards_proved = plan->boards_proved && plan->joins_proved;
  plan->seconds = sw_watch_seconds (&t->watch);
}

static sw_status
plan_offers (sw_plan **out, const sw_job *job, const sw_limits *limits, const sw_once *once, sw_report *report)
{
  tree t = { .job = job,
             .limits = limits,
             .report = report,
             .changed = once->changed,
             .data = once->data,
             .left_open = INT64_MAX };
  sw_watch_begin (&t.watch, job->settings->time_limit, limits);
  const bool entered = sw_master_enter ();
  sw_status status = search (&t);
  /* A failure after there is a plan only ends the search. */
  const bool failed = status == SW_FAILED && t.best.plan != NULL;
  if (failed)
    t.left_open = 0;
  if (status == SW_OK)
    status = polish (&t);
  if (status == SW_OK || failed)
    status = sw_offer_plan_finish (&t.best, &t.buying);
  if (status == SW_OK)
    {
      settle (&t);
      *out = t.best.plan;
      t.best.plan = NULL;
    }
  sw_offer_plan_clear (&t.best);
  while (t.count > 0)
    free_node (&t.nodes[--t.count]);
  free (t.nodes);
  if (getenv ("SWDBG"))
    fprintf (stderr, "planned %zu looks %zu cuts %zu\n", t.planned, t.looks, t.cuts.count);
  sw_cuts_clear (&t.cuts);
  sw_master_leave (entered);
  sw_buying_clear (&t.buying);
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
