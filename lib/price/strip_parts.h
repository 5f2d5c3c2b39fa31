/* strip_parts.h - what the files of the strip share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_STRIP_PARTS_H
#define SW_STRIP_PARTS_H

#include "price/strip.h"

#include <stdbool.h>

/* What is asked of one strip, or of some neighbouring levels of one. */
typedef struct sw_strip_task
{
  const sw_model *model;
  const sw_strip *strip;
  const int64_t *price;
  sw_wide aligned_weight;
  unsigned turns;       /* bit 0: the lowest level may be a long one; bit 1: a short one */
  uint32_t held_levels; /* a bit a level: it is laid out with the options of HELD, whatever else there is */
  const uint8_t *held;  /* an option each; NULL where no level is held */
} sw_strip_task;

/* As sw_strip_best. */
sw_status sw_strip_solve (const sw_strip_task *task, sw_strip_work *work, sw_wide *value, int64_t *aligned,
                          uint8_t *used, sw_wide *through);

/* Moves that sw_strip_solve looks at, at most; UINT64_MAX: too many, or too many states. */
uint64_t sw_strip_moves (const sw_model *model, const sw_strip *strip);

/* The strip level by level from the lowest, each the best on top of the one below,
 * TURN 0 with the lowest level a long one, 1 with a short one.  Not the best of
 * all, and SW_NO_PLAN also where another layout of the levels below is needed.
 * O(options). */
sw_status sw_strip_level_by_level (const sw_strip_task *task, unsigned turn, uint8_t *used, sw_wide *value);

/* The option that is the whole of level LEVEL, or -1. */
int32_t sw_strip_whole (const sw_strip *strip, uint32_t level);

#endif
