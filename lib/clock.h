/* clock.h - time limit and interruption of a solve (layer 5)
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLOCK_H
#define SW_CLOCK_H

#include "spanwright.h"

typedef enum sw_stop
{
  SW_GO_ON,
  SW_STOP_TIME,
  SW_STOP_CALLBACK
} sw_stop;

typedef struct sw_clock
{
  int64_t began; /* monotonic, milliseconds */
  int64_t limit; /* milliseconds from began; -1: none */
  const sw_limits *limits;
  sw_progress shown; /* best plan and bound so far */
  sw_stop stop;      /* sticks */
} sw_clock;

void sw_clock_begin (sw_clock *clock, int64_t limit, const sw_limits *limits);
double sw_clock_seconds (const sw_clock *clock);
/* Milliseconds left, at least 1 unless none are left; INT32_MAX when there is no limit. */
int sw_clock_left (const sw_clock *clock);
/* Has the time come, or did the callback say stop?  Tells the callback how things stand. */
bool sw_clock_stop (sw_clock *clock);

#endif
