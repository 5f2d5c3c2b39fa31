/* steps.h - work counted in steps, which take the place of time
 *
 * The rooms from layout/ to plan/ are built with a call at every branch: a
 * step.  Iterations of GLPK's simplex count as well.  The monotonic clock is
 * made of steps, so that a run is the same on every machine.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef STEPS_H
#define STEPS_H

#include <stdint.h>

/* What is done in about a millisecond. */
#define STEPS_A_MS 500000

typedef struct steps_seen
{
  uint64_t all;    /* since steps_begin */
  uint64_t widest; /* the most between two looks at the clock, before the first and after the last included */
  uint64_t looks;
} steps_seen;

void steps_begin (void);
steps_seen steps_end (void);

#endif
