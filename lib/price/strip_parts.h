/* strip_parts.h - what the files of the strip share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_STRIP_PARTS_H
#define SW_STRIP_PARTS_H

#include "model/solution.h"
#include "price/strip.h"

#include <stdbool.h>

/* A level that is laid out already, as the level next to it sees it. */
typedef struct sw_beside
{
  const uint8_t *joins; /* for each post: whether a join there lines up with one of this level; NULL: there is no such
                           level */
  uint32_t least, most; /* the bays that the first piece next to it may have, if it is not the whole level */
} sw_beside;

/* What is asked of one strip, or of some neighbouring levels of it. */
typedef struct sw_strip_task
{
  const sw_model *model;
  const sw_strip *strip;
  const int64_t *price;
  sw_wide aligned_weight;
  unsigned turns;         /* bit 0: the lowest level may be a long one; bit 1: a short one */
  sw_beside below, above; /* the levels next to these, which stay as they are */
} sw_strip_task;

/* As sw_strip_best, for a strip that is exact; SW_USAGE: it is not. */
sw_status sw_strip_solve (const sw_strip_task *task, sw_strip_work *work, sw_wide *value, int64_t *aligned,
                          uint8_t *used, sw_wide *through);

/* The most moves that sw_strip_solve looks at; UINT64_MAX: too many moves, or too many states. */
uint64_t sw_strip_moves (const sw_model *model, const sw_strip *strip);

#endif
