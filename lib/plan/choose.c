/* choose.c - the best way to divide every stretch, by branch and bound over alternatives
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/choose.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "plan/ways_lp.h"

/* Without a time limit the search gives up after so many nodes. */
#define MOST_NODES 4000
/* The most additional posts of a group that are tried where stock is too short for the fewest. */
#define MOST_SLACK 2
/* The first so many nodes are rounded to a plan, and after them one in ROUND_EVERY; nodes that are sure of every group
 * always are. */
#define ROUNDED_NODES 8
#define ROUND_EVERY 16

typedef struct node
{
  bool *allowed; /* for each alternative */
  int64_t bound; /* granules */
} node;

typedef struct tree
{
  const sw_choosing *choosing;
  sw_alternatives *all;
  sw_ways_lp *lp;
  int64_t granule;
  int64_t pairs; /* aligned pairs in the best layouts of all groups, whatever the stock */
  sw_divided best;
  bool cut; /* the best plan's joins and boards have not been improved */
  size_t count, capacity;
  node *nodes; /* open */
  size_t looked_at;
  int64_t closed; /* granules: the least bound of the nodes that were closed without a verdict */
  size_t leaf_count, leaf_capacity, verdict_capacity;
  size_t *leaves;    /* every division that was planned, as the alternative of each group */
  int64_t *verdicts; /* for each of them: it costs at least so many granules */
} tree;

/* ---- Plans ---- */

/* A plan that costs so much is of no interest.  There is no such cost while, for want of stock, the best plan has more
 * aligned pairs than the layouts alone must have: a dearer plan may be better then. */
static int64_t
cutoff_of (const tree *t)
{
  return t->best.plan != NULL && t->choosing->slack == 0 && t->best.plan->summary.aligned <= t->pairs
             ? t->best.cost / t->granule
             : INT64_MAX;
}

/* No plan can cost less, as far as is known; in granules. */
static int64_t
bound_of (const tree *t)
{
  int64_t bound = cutoff_of (t) < t->closed ? cutoff_of (t) : t->closed;
  for (size_t n = 0; n < t->count; n++)
    if (t->nodes[n].bound < bound)
      bound = t->nodes[n].bound;
  return bound;
}

static void
show (const tree *t, int64_t bound)
{
  const bool has_plan = t->best.plan != NULL;
  sw_watch_note (t->choosing->watch, bound == INT64_MAX ? 0 : bound * t->granule, has_plan,
                 has_plan ? t->best.cost : 0);
}

/* Find the planned division with CHOICE, an alternative for each group; SIZE_MAX: it has not been planned yet. */
static size_t
find_leaf (const tree *t, const size_t *choice)
{
  const size_t groups = t->all->group_count;
  for (size_t l = 0; l < t->leaf_count; l++)
    if (memcmp (t->leaves + l * groups, choice, groups * sizeof *choice) == 0)
      return l;
  return SIZE_MAX;
}

static sw_status
add_leaf (tree *t, const size_t *choice, int64_t verdict)
{
  const size_t groups = t->all->group_count;
  sw_status status = sw_grow ((void **)&t->leaves, &t->leaf_capacity, (t->leaf_count + 1) * groups, sizeof *t->leaves);
  if (status == SW_OK)
    status = sw_grow ((void **)&t->verdicts, &t->verdict_capacity, t->leaf_count + 1, sizeof *t->verdicts);
  if (status != SW_OK)
    return status;
  memcpy (t->leaves + t->leaf_count * groups, choice, groups * sizeof *choice);
  t->verdicts[t->leaf_count++] = verdict;
  return SW_OK;
}

static void
ways_of (const tree *t, const size_t *choice, sw_way *ways)
{
  const sw_alternatives *all = t->all;
  for (size_t g = 0; g < all->group_count; g++)
    for (size_t d = 0; d < all->groups[g].division_count; d++)
      {
        const size_t division = all->groups[g].division_first + d;
        ways[division] = all->divisions[division].ways[all->items[choice[g]].ways[d]];
      }
}

/* What is known of the cost of MADE, in granules.  CUT: it was given up because it is no better than the best. */
static int64_t
verdict_on (const tree *t, const sw_divided *made, bool cut, int64_t floor)
{
  if (made->impossible)
    return INT64_MAX;
  if (made->plan == NULL)
    return cut ? cutoff_of (t) : floor;
  /* The plan is proved, so nothing better comes of this division. */
  if (made->plan->summary.outcome == SW_PROVED)
    return INT64_MAX;
  const int64_t timber = t->choosing->job->all_free ? made->plan->least : made->plan->summary.bound;
  const int64_t bound = (made->cost - sw_timber_cost (made->plan) + timber + t->granule - 1) / t->granule;
  return bound > floor ? bound : floor;
}

/* Plan the fence with CHOICE, of which no plan costs less than FLOOR.  *VERDICT: no plan of it costs less than that
 * either. */
static sw_status
plan_leaf (tree *t, const size_t *choice, int64_t floor, int64_t *verdict)
{
  const sw_choosing *c = t->choosing;
  sw_divided made;
  bool cut;
  const size_t known = find_leaf (t, choice);
  *verdict = known != SIZE_MAX ? t->verdicts[known] : 0;
  if (known != SIZE_MAX)
    return SW_OK;
  sw_way *ways = sw_alloc (c->count, sizeof *ways);
  if (ways == NULL)
    return SW_NO_MEMORY;
  ways_of (t, choice, ways);
  const int left = sw_watch_left (c->watch);
  const int64_t cutoff = cutoff_of (t) != INT64_MAX ? t->best.cost : INT64_MAX;
  sw_ways_lp_pause (t->lp);
  sw_status status = sw_divide_and_plan (&made, c, ways, cutoff, floor * t->granule,
                                         t->best.plan == NULL && left < INT32_MAX ? left / 2 : left, &cut);
  free (ways);
  if (status == SW_OK)
    {
      *verdict = verdict_on (t, &made, cut, floor);
      status = add_leaf (t, choice, *verdict);
    }
  if (status == SW_OK && sw_divided_before (&made, &t->best))
    {
      sw_divided old = t->best;
      t->best = made;
      t->cut = cut;
      made = old;
    }
  sw_divided_clear (&made);
  return status;
}

/* ---- Nodes ---- */

static sw_status
add_node (tree *t, const bool *allowed, int64_t bound)
{
  sw_status status = sw_grow ((void **)&t->nodes, &t->capacity, t->count + 1, sizeof *t->nodes);
  if (status != SW_OK)
    return status;
  node made = { .allowed = sw_alloc (t->all->count, sizeof *made.allowed), .bound = bound };
  if (made.allowed == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < t->all->count; i++)
    made.allowed[i] = allowed == NULL || allowed[i];
  t->nodes[t->count++] = made;
  return SW_OK;
}

/* Take the last node, which is the nearest to a plan, or, where a dive is no longer wanted, the one with the least
 * bound. */
static node
take_node (tree *t, bool dive)
{
  size_t at = t->count - 1;
  for (size_t n = 0; n < t->count && !dive; n++)
    if (t->nodes[n].bound < t->nodes[at].bound)
      at = n;
  node taken = t->nodes[at];
  memmove (t->nodes + at, t->nodes + at + 1, (t->count - at - 1) * sizeof *t->nodes);
  t->count--;
  return taken;
}

/* Find the group that the programme is least sure of, or, where it is sure of all, the group with the most alternatives
 * left; SIZE_MAX: each has one. */
static size_t
branch_on (const tree *t, const bool *allowed)
{
  size_t best = SIZE_MAX, most = 1;
  double least = 1 - 1e-6;
  for (size_t g = 0; g < t->all->group_count; g++)
    {
      const double share = sw_ways_lp_share (t->lp, sw_ways_lp_most (t->lp, g));
      if (share < least)
        {
          least = share;
          best = g;
        }
    }
  for (size_t g = 0; g < t->all->group_count && least == 1 - 1e-6; g++)
    {
      const sw_group *group = &t->all->groups[g];
      size_t left = 0;
      for (size_t i = group->first; i < group->first + group->count; i++)
        left += allowed[i] ? 1 : 0;
      if (left > most)
        {
          most = left;
          best = g;
        }
    }
  return best;
}

/* Find a group whose remaining alternatives have different numbers of posts; SIZE_MAX: none.  Where the number of posts
 * of a fence is known, its cost is that of the posts and of whole granules of timber, which rounds its bound up. */
static size_t
with_posts (const tree *t, const bool *allowed)
{
  for (size_t g = 0; g < t->all->group_count && t->choosing->job->settings->post_cost > 0; g++)
    {
      const sw_group *group = &t->all->groups[g];
      int64_t posts = -1;
      for (size_t i = group->first; i < group->first + group->count; i++)
        {
          if (allowed[i] && posts >= 0 && t->all->items[i].posts != posts)
            return g;
          if (allowed[i])
            posts = t->all->items[i].posts;
        }
    }
  return SIZE_MAX;
}

/* Branch into two nodes: one without alternative I of its group, and one with no other alternative of it.  POSTS: the
 * same with all alternatives that have as many posts as I.  The node with I comes last, so that it is looked at
 * next. */
static sw_status
branch (tree *t, const node *n, size_t i, bool posts)
{
  const sw_alternative *items = t->all->items;
  const sw_group *group = &t->all->groups[items[i].group];
  sw_status status = SW_OK;
  for (int with = 0; with < 2 && status == SW_OK; with++)
    {
      status = add_node (t, n->allowed, n->bound);
      bool *allowed = status == SW_OK ? t->nodes[t->count - 1].allowed : NULL;
      for (size_t k = group->first; allowed != NULL && k < group->first + group->count; k++)
        if ((posts ? items[k].posts == items[i].posts : k == i) != (with == 1))
          allowed[k] = false;
    }
  return status;
}

static bool
has_all_groups (const tree *t, const bool *allowed)
{
  for (size_t g = 0; g < t->all->group_count; g++)
    {
      const sw_group *group = &t->all->groups[g];
      bool any = false;
      for (size_t i = group->first; i < group->first + group->count; i++)
        any = any || allowed[i];
      if (!any)
        return false;
    }
  return true;
}

/* Is it time to plan CHOICE?  It is also where the programme takes it whole. */
static bool
is_rounded (const tree *t, const size_t *choice)
{
  bool sure = true;
  for (size_t g = 0; g < t->all->group_count; g++)
    sure = sure && sw_ways_lp_share (t->lp, choice[g]) > 1 - 1e-6;
  return sure || t->best.plan == NULL || t->looked_at <= ROUNDED_NODES || t->looked_at % ROUND_EVERY == 0;
}

/* Bound N, plan what the programme prefers, and branch where that does not close N. */
static sw_status
look_at (tree *t, node *n, bool *open)
{
  size_t *choice = sw_alloc (t->all->group_count, sizeof *choice);
  int64_t bound = 0;
  *open = false;
  if (choice == NULL)
    return SW_NO_MEMORY;
  sw_status status = SW_OK;
  if (has_all_groups (t, n->allowed))
    status = sw_ways_lp_solve (t->lp, n->allowed, cutoff_of (t), &bound);
  else
    bound = INT64_MAX / 2;
  if (bound > n->bound)
    n->bound = bound;
  const bool alive = status == SW_OK && n->bound < cutoff_of (t) && has_all_groups (t, n->allowed);
  if (alive && !(sw_watch_stop (t->choosing->watch) && t->best.plan != NULL))
    {
      const size_t by_posts = with_posts (t, n->allowed);
      size_t on = by_posts != SIZE_MAX ? by_posts : branch_on (t, n->allowed), i = SIZE_MAX;
      int64_t leaf = n->bound;
      for (size_t g = 0; g < t->all->group_count; g++)
        choice[g] = sw_ways_lp_most (t->lp, g);
      i = on != SIZE_MAX ? choice[on] : SIZE_MAX;
      show (t, n->bound < bound_of (t) ? n->bound : bound_of (t));
      if (i == SIZE_MAX || is_rounded (t, choice))
        status = plan_leaf (t, choice, n->bound < bound_of (t) ? n->bound : bound_of (t), &leaf);
      if (status == SW_OK && i == SIZE_MAX)
        {
          /* Only this division is left; it stays open where no plan of it is proved to be the cheapest. */
          if (leaf < t->closed && leaf < cutoff_of (t))
            t->closed = leaf;
        }
      else if (status == SW_OK && n->bound < cutoff_of (t))
        {
          status = branch (t, n, i, by_posts != SIZE_MAX);
          *open = true;
        }
    }
  else if (alive && n->bound < t->closed)
    t->closed = n->bound;
  free (choice);
  return status;
}

/* ---- The whole ---- */

static sw_status
search (tree *t)
{
  sw_status status = add_node (t, NULL, 0);
  bool dive = true;
  const size_t most = t->choosing->most_nodes > 0 ? t->choosing->most_nodes : MOST_NODES;
  while (status == SW_OK && t->count > 0 && t->looked_at < most)
    {
      if (t->best.plan != NULL && sw_watch_stop (t->choosing->watch))
        break;
      node n = take_node (t, dive);
      t->looked_at++;
      if (n.bound < cutoff_of (t))
        status = look_at (t, &n, &dive);
      else
        dive = false;
      free (n.allowed);
      /* A failure in GLPK after there is a plan only ends the search. */
      if (status == SW_FAILED && t->best.plan != NULL)
        {
          t->closed = n.bound < t->closed ? n.bound : t->closed;
          return SW_OK;
        }
      if (status == SW_OK)
        show (t, bound_of (t));
      if (sw_watch_stop (t->choosing->watch) && t->best.plan == NULL)
        break;
    }
  return status;
}

/* The best plan was left as soon as its cost was known: improve its joins and boards now. */
static sw_status
finish (tree *t)
{
  sw_divided made;
  if (t->best.plan == NULL || !t->cut)
    return SW_OK;
  sw_ways_lp_pause (t->lp);
  sw_status status = sw_divide_and_plan (&made, t->choosing, t->best.ways, INT64_MAX, INT64_MAX / 2,
                                         sw_watch_left (t->choosing->watch), NULL);
  if (status == SW_OK && made.plan != NULL && !sw_divided_before (&t->best, &made))
    {
      sw_divided old = t->best;
      t->best = made;
      made = old;
    }
  else if (t->best.plan->summary.outcome == SW_INTERRUPTED && t->choosing->watch->stop != SW_STOP_CALLBACK)
    t->best.plan->summary.outcome = SW_TIMED_OUT;
  sw_divided_clear (&made);
  return status;
}

static void
conclude (tree *t, sw_chosen *out)
{
  const int64_t bound = bound_of (t);
  const sw_stop stop = t->choosing->watch->stop;
  const bool proved = bound == INT64_MAX || bound >= cutoff_of (t);
  out->looked_at = t->all->looked_at;
  out->bound = proved || bound >= t->best.cost / t->granule ? t->best.cost : bound * t->granule;
  out->outcome = proved                     ? SW_PROVED
                 : stop == SW_STOP_TIME     ? SW_TIMED_OUT
                 : stop == SW_STOP_CALLBACK ? SW_INTERRUPTED
                                            : SW_WITHIN_GAP;
  out->best = t->best;
  t->best = (sw_divided){ .ways = NULL };
}

static int64_t
fewest_pairs (const sw_alternatives *all)
{
  int64_t pairs = 0;
  for (size_t g = 0; g < all->group_count; g++)
    {
      const sw_group *group = &all->groups[g];
      int64_t least = INT64_MAX;
      for (size_t i = group->first; i < group->first + group->count; i++)
        least = all->items[i].high < least ? all->items[i].high : least;
      pairs += least;
    }
  return pairs;
}

static sw_status
choose (sw_chosen *out, const sw_choosing *c, bool *short_of_stock)
{
  tree t = { .choosing = c, .closed = INT64_MAX };
  *out = (sw_chosen){ .looked_at = 0 };
  sw_status status = sw_alternatives_new (&t.all, c->job, c->divisions, c->count, c->slack, c->watch, c->report);
  if (status == SW_OK)
    status = sw_ways_lp_new (&t.lp, t.all, c->watch);
  if (status == SW_OK)
    {
      t.granule = sw_ways_lp_granule (t.lp);
      t.pairs = fewest_pairs (t.all);
      status = search (&t);
    }
  if (status == SW_OK)
    status = finish (&t);
  if (status == SW_OK && t.best.plan == NULL)
    {
      status = c->watch->stop != SW_GO_ON ? SW_STOPPED : SW_NO_PLAN;
      *short_of_stock = true;
    }
  if (status == SW_OK)
    conclude (&t, out);
  for (size_t n = 0; n < t.count; n++)
    free (t.nodes[n].allowed);
  free (t.nodes);
  free (t.leaves);
  free (t.verdicts);
  sw_divided_clear (&t.best);
  sw_ways_lp_free (t.lp);
  sw_alternatives_free (t.all);
  return status;
}

/* The search begins with the fewest posts and aligned pairs of each group.  Where stock is too short for them, more of
 * both may do. */
sw_status
sw_choose (sw_chosen *out, const sw_choosing *c)
{
  sw_choosing wider = *c;
  bool short_of_stock = false;
  sw_status status = choose (out, &wider, &short_of_stock);
  for (wider.slack = 1; status == SW_NO_PLAN && short_of_stock && wider.slack <= MOST_SLACK; wider.slack++)
    status = choose (out, &wider, &short_of_stock);
  return status == SW_NO_PLAN && short_of_stock ? sw_choose_say_none (c) : status;
}

void
sw_chosen_clear (sw_chosen *chosen)
{
  sw_divided_clear (&chosen->best);
}
