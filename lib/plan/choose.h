/* choose.h - the best way to divide every stretch, by branch and bound over alternatives
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CHOOSE_H
#define SW_CHOOSE_H

#include "job/way.h"
#include "plan/plan.h"

#include "base/watch.h"

/* A fence divided, and its plan. */
typedef struct sw_divided
{
  sw_way *ways;    /* for each division */
  sw_job *job;     /* finished */
  sw_plan *plan;   /* the plan of that job; NULL: there is none, or none was found */
  bool impossible; /* there is none */
  int64_t posts;   /* posts that are set between those that stay */
  int64_t cost;    /* timber, joins and posts: money, or nanometres where no price is over 0 */
} sw_divided;

void sw_divided_clear (sw_divided *divided);

typedef struct sw_chosen
{
  sw_divided best;
  size_t looked_at; /* ways of all divisions together */
  int64_t bound;    /* in the unit of best.cost: no plan with as few posts (where they cost nothing) and aligned pairs
                       costs less */
  sw_outcome outcome; /* SW_PROVED: no plan is cheaper */
} sw_chosen;

/* What a search is given by its caller. */
typedef struct sw_choosing
{
  const sw_job *job;
  const sw_division *divisions;
  size_t count;
  sw_watch *watch; /* over the whole search */
  sw_report *report;
  int slack;          /* how many posts over the fewest a group may have, with any number of pairs; 0 at first */
  size_t most_nodes; /* gives up after so many nodes; 0: after as many as are worth while */
  bool hard_way;     /* passed on to the solver */
} sw_choosing;

/* Search by branch and bound over the alternatives of every group (alternatives.h).  The bound is that of one linear
 * programme over patterns, layouts and ways (ways_lp.h); where each group has one alternative left, the solver itself
 * makes the plan.  SW_NO_PLAN, SW_REJECTED, SW_STOPPED: as sw_plan_make. */
sw_status sw_choose (sw_chosen *out, const sw_choosing *choosing);
void sw_chosen_clear (sw_chosen *chosen);

/* Divide the job in WAYS and make its plan to the end.  CUTOFF: the plan is given up when it is known to cost so much
 * (INT64_MAX: never).  ENOUGH: when the plan costs more than that, its joins and boards do not matter.  Where there is
 * no plan, or none in time, OUT->plan is NULL and the status SW_OK. */
sw_status sw_divide_and_plan (sw_divided *out, const sw_choosing *choosing, const sw_way *ways, int64_t cutoff,
                              int64_t enough, int milliseconds, bool *cut);

/* Stock is short whatever is chosen: say what is missing when each stretch has its first way.  SW_NO_PLAN. */
sw_status sw_choose_say_none (const sw_choosing *choosing);

/* The cost of PLAN's timber and joins: money, or nanometres where no price is over 0. */
int64_t sw_timber_cost (const sw_plan *plan);
/* Is A better than B?  Posts, where they cost nothing, and aligned pairs count before cost; joins, then boards, count
 * after it. */
bool sw_divided_before (const sw_divided *a, const sw_divided *b);

#endif
