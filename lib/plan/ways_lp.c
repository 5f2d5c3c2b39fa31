/* ways_lp.c - one linear programme over patterns, whole layouts and ways of dividing
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/ways_lp_parts.h"

#include <math.h>
#include <string.h>

/* Each round values so many alternatives of a group, except that one round in SWEEP_EVERY sweeps over all of them. */
#define NEAREST 4
#define SWEEP_EVERY 4
/* Layouts of a group that become columns in one round. */
#define COLUMNS_OF_GROUP 3
/* A layout that gains less than this part of a board does not become a column; a bound that is as near to the programme
 * is good enough. */
#define LEAST_GAIN 1e-7
/* The most rounds of one solve. */
#define MOST_ROUNDS 2000

int64_t
sw_ways_lp_granule (const sw_ways_lp *lp)
{
  return lp->granule;
}

void
sw_ways_lp_pause (sw_ways_lp *lp)
{
  sw_master_free (lp->programme);
  lp->programme = NULL;
}

/* ---- Bounds ---- */

/* The numbers of posts that a fence of the allowed alternatives may have. */
typedef struct posts
{
  int64_t low, high;
} posts;

static posts
posts_of (const sw_ways_lp *lp, size_t g)
{
  const sw_group *group = &lp->all->groups[g];
  posts p = { .low = INT64_MAX };
  for (size_t i = group->first; i < group->first + group->count; i++)
    if (lp->allowed[i])
      {
        p.low = lp->all->items[i].posts < p.low ? lp->all->items[i].posts : p.low;
        p.high = lp->all->items[i].posts > p.high ? lp->all->items[i].posts : p.high;
      }
  return p.low == INT64_MAX ? (posts){ .low = 0 } : p;
}

static posts
all_posts (const sw_ways_lp *lp)
{
  posts sum = { .low = 0 };
  for (size_t g = 0; g < lp->all->group_count; g++)
    {
      const posts p = posts_of (lp, g);
      sum.low += p.low;
      sum.high += p.high;
    }
  return sum;
}

/* With more different numbers of posts, nearly any sum can be reached. */
#define MOST_POST_COUNTS 64

/* The least sum, at BOUND or more, that a fence with one of these numbers of POSTS can cost: that of the posts, and a
 * sum that boards and joins can have. */
static int64_t
whole (const sw_ways_lp *lp, sw_wide bound, posts p)
{
  const int64_t post = lp->all->job->settings->post_cost / lp->granule;
  sw_wide q = bound / lp->scale;
  if (q * lp->scale < bound)
    q++;
  if (q <= 0 || q > INT64_MAX / 2)
    return q <= 0 ? 0 : INT64_MAX / 2;
  const int64_t least = (int64_t)q;
  int64_t best = INT64_MAX;
  if (p.high - p.low >= MOST_POST_COUNTS)
    return least;
  for (int64_t n = p.low; n <= p.high; n++)
    {
      const int64_t units = least > n * post ? (least - n * post + lp->timber - 1) / lp->timber : 0;
      const int64_t timber = (units < SW_WAYS_SUMS ? lp->next_sum[units] : units) * lp->timber;
      if (n * post + timber < best)
        best = n * post + timber;
    }
  return best;
}

static int64_t
whole_bound (const sw_ways_lp *lp)
{
  return whole (lp, lp->bound, all_posts (lp));
}

/* The sum over all groups of the least VALUE of their allowed alternatives.  *EMPTY: some group has none. */
static sw_wide
sum_of_least (const sw_ways_lp *lp, const sw_wide *value, bool *empty)
{
  sw_wide sum = 0;
  *empty = false;
  for (size_t g = 0; g < lp->all->group_count; g++)
    {
      const sw_group *group = &lp->all->groups[g];
      sw_wide least = SW_STRIP_NONE;
      for (size_t i = group->first; i < group->first + group->count; i++)
        if (lp->allowed[i] && value[i] < least)
          least = value[i];
      *empty = *empty || least == SW_STRIP_NONE;
      sum += least;
    }
  return sum;
}

/* Take out the alternatives with which nothing costs less than CUTOFF, by values whose bound is BOUND. */
static void
take_out (sw_ways_lp *lp, const sw_wide *value, sw_wide bound, int64_t cutoff)
{
  if (cutoff == INT64_MAX)
    return;
  for (size_t g = 0; g < lp->all->group_count; g++)
    {
      const sw_group *group = &lp->all->groups[g];
      const posts of_group = posts_of (lp, g), of_all = all_posts (lp);
      sw_wide least = SW_STRIP_NONE;
      for (size_t i = group->first; i < group->first + group->count; i++)
        if (lp->allowed[i] && value[i] < least)
          least = value[i];
      for (size_t i = group->first; i < group->first + group->count; i++)
        {
          const int64_t own = lp->all->items[i].posts;
          const posts with = { .low = of_all.low - of_group.low + own, .high = of_all.high - of_group.high + own };
          if (lp->allowed[i] && whole (lp, bound + value[i] - least, with) >= cutoff)
            lp->allowed[i] = false;
        }
    }
}

static sw_wide
limits_less (const sw_ways_lp *lp)
{
  const sw_job *job = lp->all->job;
  sw_wide less = 0;
  for (size_t b = 0; b < 2 * job->stocks.count; b++)
    {
      const sw_stock *stock = &job->stocks.items[b / 2];
      const int64_t limit = b % 2 == 1 ? stock->hand : stock->limit;
      if (limit > 0)
        less += (sw_wide)lp->limit_price[b] * limit;
    }
  return less;
}

/* ---- Rounds ---- */

static void
read_duals (sw_ways_lp *lp)
{
  const size_t boards = 2 * lp->all->job->stocks.count;
  for (size_t r = 0; r < lp->row_count; r++)
    {
      const double dual = sw_master_dual (lp->programme, lp->rows[r].row) * (double)lp->scale;
      lp->rows[r].price = dual > 0 ? (int64_t)floor (fmin (dual, 4e15)) : 0;
    }
  for (size_t b = 0; b < boards; b++)
    {
      const double dual
          = lp->limit_row[b] != 0 ? -sw_master_dual (lp->programme, lp->limit_row[b]) * (double)lp->scale : 0;
      lp->limit_price[b] = dual > 0 ? (int64_t)ceil (fmin (dual, 4e15)) : 0;
    }
}

static void
read_shares (sw_ways_lp *lp)
{
  memset (lp->share, 0, lp->all->count * sizeof *lp->share);
  for (size_t c = 0; c < lp->column_count; c++)
    if (lp->columns[c].alternative != SIZE_MAX && lp->columns[c].column > 0)
      lp->share[lp->columns[c].alternative] += sw_master_share (lp->programme, lp->columns[c].column);
}

/* The alternative of GROUP that follows (VALUE, AFTER) in the order of values, then of numbers; SIZE_MAX: there is
 * none. */
static size_t
next_by_value (const sw_ways_lp *lp, const sw_group *group, sw_wide value, size_t after)
{
  size_t next = SIZE_MAX;
  for (size_t i = group->first; i < group->first + group->count; i++)
    if (lp->allowed[i] && (lp->value[i] > value || (lp->value[i] == value && (after == SIZE_MAX || i > after)))
        && (next == SIZE_MAX || lp->value[i] < lp->value[next]))
      next = i;
  return next;
}

/* Value the alternatives of GROUP that are near the least, or, with SWEEP, all of them. */
static sw_status
value_group (sw_ways_lp *lp, const sw_group *group, bool sweep)
{
  sw_status status = SW_OK;
  size_t near[NEAREST];
  size_t count = 0;
  if (sweep)
    {
      for (size_t i = group->first; i < group->first + group->count && status == SW_OK; i++)
        if (lp->allowed[i])
          status = sw_ways_value (lp, i, false, &lp->value[i]);
      return status;
    }
  sw_wide value = -SW_STRIP_NONE;
  for (size_t after = SIZE_MAX; count < NEAREST; count++)
    {
      after = next_by_value (lp, group, value, after);
      if (after == SIZE_MAX)
        break;
      value = lp->value[after];
      near[count] = after;
    }
  for (size_t k = 0; k < count && status == SW_OK; k++)
    status = sw_ways_value (lp, near[k], false, &lp->value[near[k]]);
  return status;
}

/* Make the best layouts of a group's best alternatives columns, where they pay.  *ADDED counts them. */
static sw_status
take_layouts (sw_ways_lp *lp, size_t g, bool any, size_t *added)
{
  const sw_group *group = &lp->all->groups[g];
  const double dual = any ? 0 : sw_master_dual (lp->programme, lp->group_row[g]) * (double)lp->scale;
  const double least = LEAST_GAIN * (double)lp->dearest * (double)lp->scale;
  sw_wide value = -SW_STRIP_NONE;
  sw_status status = SW_OK;
  size_t i = SIZE_MAX;
  for (int k = 0; k < (any ? 1 : COLUMNS_OF_GROUP) && status == SW_OK; k++)
    {
      sw_wide same;
      i = next_by_value (lp, group, value, i);
      if (i == SIZE_MAX || (!any && (double)lp->value[i] > dual - least))
        break;
      value = lp->value[i];
      status = sw_ways_value (lp, i, true, &same);
      ++*added;
    }
  return status;
}

/* Sweep once over the layouts at the present prices, which are safe.  FIRST: add a column for each group in any
 * case. */
static sw_status
price_layouts (sw_ways_lp *lp, bool sweep, bool first, int64_t cutoff, size_t *added)
{
  sw_status status = SW_OK;
  bool empty;
  for (size_t g = 0; g < lp->all->group_count && status == SW_OK; g++)
    {
      if (sw_watch_stop (lp->watch))
        return SW_OK;
      status = value_group (lp, &lp->all->groups[g], sweep);
      if (status == SW_OK)
        status = take_layouts (lp, g, first, added);
    }
  if (status != SW_OK || !sweep)
    return status;
  const sw_wide less = limits_less (lp);
  const sw_wide bound = sum_of_least (lp, lp->value, &empty) - less;
  if (bound > lp->bound)
    {
      lp->bound = bound;
      take_out (lp, lp->value, bound, cutoff);
      if (!lp->root_valid)
        {
          memcpy (lp->root_value, lp->value, lp->all->count * sizeof *lp->value);
          lp->root_less = less;
        }
    }
  return SW_OK;
}

/* Do one round: the programme, then patterns, then layouts.  *DONE: no column prices out. */
static sw_status
do_round (sw_ways_lp *lp, int round, int64_t cutoff, bool *done)
{
  sw_lp outcome;
  size_t patterns = 0, layouts = 0;
  *done = true;
  sw_status status = sw_ways_bring_in (lp);
  if (status == SW_OK)
    status = sw_master_lp (lp->programme, lp->watch, &outcome);
  if (status != SW_OK || outcome != SW_LP_OPTIMAL)
    return status;
  read_duals (lp);
  read_shares (lp);
  const double value = sw_master_value (lp->programme);
  status = sw_ways_price_boards (lp, &patterns);
  bool sweep = round % SWEEP_EVERY == SWEEP_EVERY - 1;
  if (status == SW_OK)
    status = price_layouts (lp, sweep, false, cutoff, &layouts);
  if (status == SW_OK && layouts == 0 && !sweep)
    {
      sweep = true;
      status = price_layouts (lp, true, false, cutoff, &layouts);
    }
  const double bound = (double)lp->bound / (double)lp->scale;
  *done = patterns + layouts == 0 || value - bound <= LEAST_GAIN * value || whole_bound (lp) >= cutoff
          || (double)whole_bound (lp) >= ceil (value - LEAST_GAIN * value);
  return status;
}

/* Add the first columns: for each group the best layouts at the first prices. */
static sw_status
begin (sw_ways_lp *lp, int64_t cutoff)
{
  size_t added = 0;
  lp->bound = 0;
  if (lp->root_valid)
    {
      bool empty;
      lp->bound = sum_of_least (lp, lp->root_value, &empty) - lp->root_less;
      memcpy (lp->value, lp->root_value, lp->all->count * sizeof *lp->value);
      take_out (lp, lp->root_value, lp->bound, cutoff);
      for (size_t c = 0; c < lp->column_count && lp->programme != NULL; c++)
        if (lp->columns[c].alternative != SIZE_MAX && lp->columns[c].column > 0)
          sw_master_allow (lp->programme, lp->columns[c].column, lp->allowed[lp->columns[c].alternative]);
      if (whole_bound (lp) >= cutoff)
        return SW_OK;
    }
  else
    {
      sw_status status = sw_ways_price_boards (lp, &added);
      if (status != SW_OK)
        return status;
    }
  return price_layouts (lp, !lp->root_valid, true, cutoff, &added);
}

sw_status
sw_ways_lp_solve (sw_ways_lp *lp, bool *allowed, int64_t cutoff, int64_t *bound)
{
  bool done = false;
  lp->allowed = allowed;
  sw_status status = begin (lp, cutoff);
  for (int round = 0;
       round < MOST_ROUNDS && status == SW_OK && !done && whole_bound (lp) < cutoff && !sw_watch_stop (lp->watch);
       round++)
    status = do_round (lp, round, cutoff, &done);
  *bound = whole_bound (lp);
  lp->root_valid = true;
  return status;
}

double
sw_ways_lp_share (const sw_ways_lp *lp, size_t i)
{
  return lp->share[i];
}

size_t
sw_ways_lp_most (const sw_ways_lp *lp, size_t g)
{
  const sw_group *group = &lp->all->groups[g];
  size_t most = SIZE_MAX;
  for (size_t i = group->first; i < group->first + group->count; i++)
    if (lp->allowed[i] && (most == SIZE_MAX || lp->share[i] > lp->share[most] + 1e-9))
      most = i;
  return most;
}
