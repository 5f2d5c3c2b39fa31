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
  sw_way *ways;    /* a division each */
  sw_job *job;     /* finished */
  sw_plan *plan;   /* of that job; NULL: there is none, or none was found */
  bool impossible; /* there is none */
  int64_t posts;   /* set between those that stay */
  int64_t cost;    /* timber, joins and posts: money, or nanometres where no price is over 0 */
} sw_divided;

void sw_divided_clear (sw_divided *divided);

typedef struct sw_chosen
{
  sw_divided best;
  size_t looked_at; /* ways of all divisions */
  int64_t bound;    /* no plan with as few posts (where they cost nothing) and aligned pairs costs less, as best.cost */
  sw_outcome outcome; /* SW_PROVED: none is cheaper */
} sw_chosen;

/* What a search is handed from without. */
typedef struct sw_choosing
{
  const sw_job *job;
  const sw_division *divisions;
  size_t count;
  sw_watch *watch; /* of all that is done */
  sw_report *report;
  int slack;          /* posts over the fewest that a group may have, and pairs in any number; 0 at first */
  size_t most_nodes; /* gives up after so many; 0: as many as are worth while */
  bool hard_way;     /* handed to the solver */
} sw_choosing;

/* Branch and bound over the alternatives of every group (alternatives.h), with
 * the bound of the one linear programme over patterns, layouts and ways
 * (ways_lp.h); where each group has one left, the plan is the solver's own.
 * SW_NO_PLAN, SW_REJECTED, SW_STOPPED: as sw_plan_make. */
sw_status sw_choose (sw_chosen *out, const sw_choosing *choosing);
void sw_chosen_clear (sw_chosen *chosen);

/* Divide the job in WAYS and make its plan to the end; CUTOFF: it is of no
 * interest where it is known to cost as much (INT64_MAX: it always is); ENOUGH:
 * once a plan costs more than that its joins and boards are of no interest.
 * OUT->plan is NULL, and the status SW_OK, where there is no plan, or none in time. */
sw_status sw_divide_and_plan (sw_divided *out, const sw_choosing *choosing, const sw_way *ways, int64_t cutoff,
                              int64_t enough, int milliseconds, bool *cut);

/* Stock is short whatever is chosen: tell what lacks where each stretch has its first way.  SW_NO_PLAN. */
sw_status sw_choose_say_none (const sw_choosing *choosing);

/* Cost of PLAN's timber and joins: money, or nanometres where no price is over 0. */
int64_t sw_timber_cost (const sw_plan *plan);
/* Before cost come posts where they cost nothing, and aligned pairs; after it joins, then boards. */
bool sw_divided_before (const sw_divided *a, const sw_divided *b);

#endif
