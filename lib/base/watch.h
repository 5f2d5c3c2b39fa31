/* watch.h - time limit and interruption of a solve
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

/* A part of the job that is solved on its own: what is known of its cost. */
typedef struct sw_part
{
  int64_t bound; /* no plan that keeps the rules costs less */
  int64_t cost;  /* of the best plan, when there is one */
  bool has_plan;
} sw_part;

typedef struct sw_watch
{
  int64_t began; /* monotonic, milliseconds */
  int64_t limit; /* milliseconds from began; -1: none */
  const sw_limits *limits;
  sw_progress shown; /* best plan and bound so far */
  sw_part *parts;    /* borrowed; NULL: nothing is shown */
  size_t part_count;
  size_t part;  /* at work */
  double unit;  /* cost in a unit that is shown */
  bool cost_only;  /* what comes after the cost is not looked for */
  int64_t enough;  /* once no plan can cost less than this nothing more is looked for; 0: it goes on */
  sw_stop stop; /* sticks */
} sw_watch;

void sw_watch_begin (sw_watch *clock, int64_t limit, const sw_limits *limits);
double sw_watch_seconds (const sw_watch *clock);
/* Milliseconds left, at least 1 unless none are left; INT32_MAX when there is no limit. */
int sw_watch_left (const sw_watch *clock);
/* Show the sum of PARTS, COUNT of them, all zero at first. */
void sw_watch_parts (sw_watch *clock, sw_part *parts, size_t count, double unit);
/* What is new of the part at work; what is worse than what was known changes nothing. */
void sw_watch_note (sw_watch *clock, int64_t bound, bool has_plan, int64_t cost);
/* What is looked for from now on. */
void sw_watch_seek (sw_watch *clock, sw_seeking seeking);
/* No plan of all parts costs less. */
int64_t sw_watch_bound (const sw_watch *clock);
/* Has the time come, or did the callback say stop?  Tells the callback how things stand. */
bool sw_watch_stop (sw_watch *clock);

#endif
