/* plan_once.h - from a job to a plan where each length has one price
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PLAN_ONCE_H
#define SW_PLAN_ONCE_H

#include "layout/layout.h"
#include "plan/plan.h"

typedef struct sw_once
{
  bool brief;     /* in: first looks only, at the cost; the plan may be far from the best */
  bool cost_only; /* in: joins, boards and offcuts as they come */
  int64_t enough; /* in: once no plan can cost less than this, nothing more is looked for; 0: it is */
  /* In: marks the pieces that differ from those of the plan that is gone on from, with DATA; NULL: there is none. */
  void (*changed) (sw_layout *layout, const void *data);
  const void *data;
  int64_t bound;  /* out: no plan with as few aligned joins as the plan has costs less; without a plan: none at all */
} sw_once;

/* sw_plan_make for a job without offers.  ONCE may be NULL. */
sw_status sw_plan_once (sw_plan **out, const sw_job *job, const sw_limits *limits, sw_once *once, sw_report *report);

#endif
