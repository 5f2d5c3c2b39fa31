/* plan_once.h - from a job to a plan where each length has one price
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PLAN_ONCE_H
#define SW_PLAN_ONCE_H

#include "layout/layout.h"
#include "plan/plan.h"
#include "solve/solve.h"

typedef struct sw_once
{
  bool brief;     /* in: only a first look at the cost; the plan may be far from the best */
  bool cost_only; /* in: joins, boards and offcuts do not matter */
  int64_t enough; /* in: the search ends once no plan can cost less than this; 0: it does not */
  /* In: marks, with DATA, the pieces that differ from those of the plan before; NULL: there is no such plan. */
  void (*changed) (sw_layout *layout, const void *data);
  const void *data;
  /* In: told, with LEARNER, of each model that was solved; NULL: nobody is. */
  sw_status (*learn) (const sw_model *model, const sw_solved *solved, void *learner);
  void *learner;
  int64_t bound; /* out: no plan with as few aligned joins as this plan costs less; without a plan: no plan at all
                    does */
} sw_once;

/* As sw_plan_make, for a job without offers.  ONCE may be NULL. */
sw_status sw_plan_once (sw_plan **out, const sw_job *job, const sw_limits *limits, sw_once *once, sw_report *report);

#endif
