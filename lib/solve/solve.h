/* solve.h - all models of a layout, aim after aim
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SOLVE_H
#define SW_SOLVE_H

#include "solve/search.h"

/* What became of one model. */
typedef struct sw_solved
{
  sw_patterns pool;
  sw_solution solution;        /* valid when there is a plan */
  int64_t bound[SW_AIM_COUNT]; /* each holds under the caps of the aims before it */
  bool proved[SW_AIM_COUNT];
  /* The prices of the best bound of the cost (scale 0: there are none).  Whatever boards cost and however many there
   * are: with no more aligned pairs than were allowed, what a plan costs in joins, times SCALE, is at least LEAST less
   * the WORTH of each of its boards (for each stock). */
  int64_t scale;
  sw_wide least;
  int64_t *worth;
  int64_t aligned;
  int64_t aligned_bound;
  bool impossible; /* it is proved that there is no plan */
} sw_solved;

/* Find a first plan and a bound of MODEL and tell them only to WATCH, so that the sum over a job's models is known
 * before each model has had its turn. */
sw_status sw_solve_begin (sw_model *model, sw_watch *watch);

/* Solve MODEL.  Sets the floors of its strips.  SW_OK: look at solved->solution.valid and ->impossible.  When neither
 * holds, the time of the watch or the work allowed ran out without a plan.  A failure after there is a plan only ends
 * the search: the plan stands, with what is proved. */
sw_status sw_solve_model (sw_solved *solved, sw_model *model, sw_watch *watch, bool hard_way);
void sw_solved_clear (sw_solved *solved);

#endif
