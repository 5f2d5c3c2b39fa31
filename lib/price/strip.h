/* strip.h - the best layout of one strip for given prices
 *
 * Dynamic programming over the posts of a strip.  Its state says for each
 * level where the open piece began.  Flow, stagger and the long-and-short rule
 * are kept exactly, so the least cost over all layouts is a bound that no
 * linear programme over single pieces can beat.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_STRIP_H
#define SW_STRIP_H

#include "model/model.h"
#include "model/tuning.h"

__extension__ typedef __int128 sw_wide;

/* The weight of an aligned pair when pairs go before every cost. */
#define SW_ALIGNED_FIRST ((sw_wide)1 << 96)

typedef struct sw_strip_work sw_strip_work;

sw_strip_work *sw_strip_work_new (void);
void sw_strip_work_free (sw_strip_work *work);

/* The number of states of a strip, or SW_STATES + 1 where there are more. */
size_t sw_strip_states (const sw_strip *strip);

/* Can strip INDEX be laid out by the exact method? */
bool sw_strip_is_exact (const sw_model *model, size_t index);

/* Find the best layout of strip INDEX: the one with the least sum of PRICE over its options plus ALIGNED_WEIGHT for
 * each aligned pair.  PRICE has one entry for each option of the model, join costs included; |price| < 2^62.  Each
 * result may be NULL.  *VALUE: the sum.  *ALIGNED: the pairs of that layout.  USED[o]: 1 for each chosen option of the
 * strip, 0 for its others.  THROUGH[o]: the least sum of any layout with option o (SW_STRIP_NONE where there is none).
 * SW_NO_PLAN: there is no layout.  SW_USAGE: too many states, or too many bays or strips for so many states.  O(bays *
 * states * 2^levels), twice with THROUGH. */
sw_status sw_strip_best (const sw_model *model, size_t index, const int64_t *price, sw_wide aligned_weight,
                         sw_strip_work *work, sw_wide *value, int64_t *aligned, uint8_t *used, sw_wide *through);

/* As sw_strip_best where the exact method can be used, else a bound: no layout has a sum under *VALUE, fewer pairs than
 * *ALIGNED (with SW_ALIGNED_FIRST), or, with option o, a sum under THROUGH[o].  For the bound the levels are divided
 * into blocks, each of which is laid out best without regard to the others.  Never SW_USAGE. */
sw_status sw_strip_relaxed (const sw_model *model, size_t index, const int64_t *price, sw_wide aligned_weight,
                            sw_strip_work *work, sw_wide *value, int64_t *aligned, sw_wide *through);

/* A bound whatever the pairs, with each level by itself: no layout has a sum under *VALUE.  O(options). */
sw_status sw_strip_apart (const sw_model *model, size_t index, const int64_t *price, sw_strip_work *work,
                          sw_wide *value);

/* Find the best layout where the exact method can be used, else a good one, block by block, each on top of the level
 * below it.  SW_NO_PLAN: there is no layout, or this way finds none. */
sw_status sw_strip_layout (const sw_model *model, size_t index, const int64_t *price, sw_wide aligned_weight,
                           sw_strip_work *work, uint8_t *used);

/* Lay strip INDEX out level by level, for when there is no time for a good layout.  SW_NO_PLAN: there is no layout, or
 * this way finds none.  O(options). */
sw_status sw_strip_quickly (const sw_model *model, size_t index, const int64_t *price, sw_strip_work *work,
                            uint8_t *used);

/* Neighbouring levels of a strip: all of its levels where it is exact, else as many as are done quickly. */
typedef struct sw_block
{
  size_t strip;
  uint32_t first, count; /* levels */
} sw_block;

/* The block of strip INDEX that begins with level FIRST. */
sw_block sw_strip_block (const sw_model *model, size_t index, uint32_t first);
/* The levels of BLOCK as a strip of their own. */
sw_strip sw_block_strip (const sw_model *model, const sw_block *block);
/* As sw_strip_best, for the levels of BLOCK alone, whatever the other levels are. */
sw_status sw_block_best (const sw_model *model, const sw_block *block, const int64_t *price, sw_wide aligned_weight,
                         sw_strip_work *work, sw_wide *value, uint8_t *used);

/* Find few aligned pairs for strip INDEX, whatever the timber.  No layout has fewer than *LOW; USED (as in
 * sw_strip_best) is a layout with *HIGH.  The two are equal where the strip is exact.  NOTHING: 0 for each option of
 * the model.  SW_NO_PLAN: as sw_strip_layout. */
sw_status sw_strip_fewest (const sw_model *model, size_t index, const int64_t *nothing, sw_strip_work *work,
                           int64_t *low, int64_t *high, uint8_t *used);

#define SW_STRIP_NONE ((sw_wide)1 << 120)

#endif
