/* strip_parts.h - what the files of the strip share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_STRIP_PARTS_H
#define SW_STRIP_PARTS_H

#include "price/strip.h"

#include <stdbool.h>

/* What is asked of one strip, or of some neighbouring levels of it. */
typedef struct sw_strip_task
{
  const sw_model *model;
  const sw_strip *strip;
  const int64_t *price;
  sw_wide aligned_weight;
  unsigned turns;       /* bit 0: the lowest level may be a long one; bit 1: a short one */
  uint32_t held_levels; /* a bit for each level that is laid out with the options of HELD and no others */
  const uint8_t *held;  /* for each option; NULL where no level is held */
} sw_strip_task;

/* As sw_strip_best. */
sw_status sw_strip_solve (const sw_strip_task *task, sw_strip_work *work, sw_wide *value, int64_t *aligned,
                          uint8_t *used, sw_wide *through);

/* The most moves that sw_strip_solve looks at; UINT64_MAX: too many moves, or too many states. */
uint64_t sw_strip_moves (const sw_model *model, const sw_strip *strip);

/* Lay the strip out level by level from the lowest, each level the best on top of the one below.  TURN 0: the lowest
 * level is a long one; 1: a short one.  The layout need not be the best of all.  SW_NO_PLAN may also mean that the
 * levels below need another layout.  O(options). */
sw_status sw_strip_level_by_level (const sw_strip_task *task, unsigned turn, uint8_t *used, sw_wide *value);

/* The option that is the whole of LEVEL, or -1. */
int32_t sw_strip_whole (const sw_strip *strip, uint32_t level);

#endif
