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

/* ---- One sweep over the posts of a strip: the dynamic programme itself ---- */

struct sw_strip_work
{
  /* ahead[p * states + s]: the least cost from the first post to state s after post p */
  sw_wide *ahead;
  size_t ahead_capacity;
  /* behind[s]: the least cost from state s after the present post to the end; two posts are kept */
  sw_wide *behind;
  size_t behind_capacity;
  uint8_t *trial; /* options used by the best sweep so far */
  size_t trial_capacity;
  sw_wide *ending; /* ending[d]: the price of the piece of a level that ends at the present post and is d + 1 bays
                      long */
  size_t ending_capacity;
};

/* One sweep: the levels in `alone` are a single piece each; the others have at least one join. */
typedef struct sw_sweep
{
  const sw_model *model;
  const sw_strip *strip;
  const int64_t *price;
  sw_wide aligned_weight;
  const sw_beside *below, *above; /* NULL: none */
  bool in_turn;                   /* the long-and-short rule is on */
  unsigned turn;                  /* 0: the lowest level is a long one; 1: it is a short one */
  uint32_t alone;                 /* the levels that are one piece, a bit each */
  size_t states;
  size_t stride[SW_LEVELS];
} sw_sweep;

/* Fill work->ahead.  The value at the end is that of state 0 after the last post. */
void sw_sweep_ahead (const sw_sweep *sweep, sw_strip_work *work);
/* After that: mark in USED the options of a layout that reaches the best value, and count its pairs. */
void sw_sweep_trace (const sw_sweep *sweep, const sw_strip_work *work, uint8_t *used, int64_t *aligned);
/* After that: find the least sum through each option, by a sweep from the end.  BASE: the price of the levels alone. */
void sw_sweep_behind (const sw_sweep *sweep, sw_strip_work *work, sw_wide base, sw_wide *through);

#endif
