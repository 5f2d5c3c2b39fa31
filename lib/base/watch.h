/* watch.h - the watch over a solve: its time limit, its interruption, its progress
 *
 * A solve carries one watch from step to step.  The watch knows when the time
 * is up and whether the caller's callback has said stop, so that every step
 * asks it before it goes on.  It also gathers the progress that the callback is
 * told: bound, best cost and what is sought.  The clock is monotonic.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_WATCH_H
#define SW_WATCH_H

#include "spanwright.h"

typedef enum sw_stop
{
  SW_GO_ON,
  SW_STOP_TIME,
  SW_STOP_CALLBACK,
  SW_STOP_ENOUGH /* it is known that no plan costs so little as to be of use */
} sw_stop;

/* Progress: what is known of the cost of one part of the job.  A part is solved on its own. */
typedef struct sw_part
{
  int64_t bound; /* no plan that keeps the rules costs less */
  int64_t cost;  /* of the best plan, if there is one */
  bool has_plan;
} sw_part;

typedef struct sw_watch
{
  int64_t began; /* by the monotonic clock, milliseconds */
  int64_t limit; /* milliseconds after BEGAN; -1: no limit */
  const sw_limits *limits;
  sw_progress shown; /* progress: best plan and bound so far */
  sw_part *parts;    /* progress: borrowed; NULL: costs are not shown */
  size_t part_count;
  size_t part;  /* at work */
  double unit;  /* cost in a unit that is shown */
  bool brief;      /* first looks only: what takes long is left */
  bool cost_only;  /* what comes after the cost is not looked for */
  int64_t enough;  /* once no plan can cost less than this nothing more is looked for; 0: it goes on */
  sw_stop stop; /* sticks */
} sw_watch;

void sw_watch_begin (sw_watch *clock, int64_t limit, const sw_limits *limits);
double sw_watch_seconds (const sw_watch *clock);
/* Milliseconds that are left: 0 when the time is up, INT32_MAX when there is no limit. */
int sw_watch_left (const sw_watch *clock);
/* Progress: from now on show the sum of COUNT PARTS, which are all zero at first.  UNIT is the cost
 * that is shown as 1. */
void sw_watch_parts (sw_watch *clock, sw_part *parts, size_t count, double unit);
/* Progress: learn a bound, and perhaps the cost of a plan, of the part that is being solved.  A
 * figure worse than the known one changes nothing. */
void sw_watch_note (sw_watch *clock, int64_t bound, bool has_plan, int64_t cost);
/* Progress: say what is sought from now on. */
void sw_watch_seek (sw_watch *clock, sw_seeking seeking);
/* No plan of all parts costs less. */
int64_t sw_watch_bound (const sw_watch *clock);
/* Has the time come, or did the callback say stop?  Tells the callback how things stand. */
bool sw_watch_stop (sw_watch *clock);

#endif
