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

/* Can the exact method lay STRIP out? */
bool sw_strip_is_exact (const sw_model *model, const sw_strip *strip);

/* Find the best layout of STRIP, a strip of MODEL or some neighbouring levels of one: the layout with the least sum of
 * PRICE over its options plus ALIGNED_WEIGHT for each aligned pair.  PRICE has one entry for each option of the model,
 * join costs included; |price| < 2^62.  Each result may be NULL.  *VALUE: the sum.  *ALIGNED: the pairs of that layout.
 * USED[o]: 1 for each chosen option of the strip, 0 for its others.  THROUGH[o]: the least sum of any layout with
 * option o (SW_STRIP_NONE where there is none).  O(bays * states * 2^levels), twice with THROUGH.
 *
 * Where the strip is not exact, its levels are divided into blocks.  For bounds each of them is laid out best without
 * regard to the others: no layout has a sum under *VALUE, fewer pairs than *ALIGNED (with SW_ALIGNED_FIRST), or, with
 * option o, a sum under THROUGH[o].  USED is a good layout, in which each block stands on top of the level below it.
 *
 * SW_NO_PLAN: there is no layout, or, where the strip is not exact and USED is asked for, this way finds none. */
sw_status sw_strip_best (const sw_model *model, const sw_strip *strip, const int64_t *price, sw_wide aligned_weight,
                         sw_strip_work *work, sw_wide *value, int64_t *aligned, uint8_t *used, sw_wide *through);

/* For when there is no time, with each level by itself: no layout has a sum under *VALUE, whatever the pairs; USED is a
 * layout with each level on top of the one below.  Each may be NULL.  SW_NO_PLAN: as sw_strip_best.  O(options). */
sw_status sw_strip_quickly (const sw_model *model, const sw_strip *strip, const int64_t *price, sw_strip_work *work,
                            sw_wide *value, uint8_t *used);

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

/* Find few aligned pairs for STRIP, whatever the timber.  No layout has fewer than *LOW; USED (as in sw_strip_best) is
 * a layout with *HIGH.  The two are equal where the strip is exact.  NOTHING: 0 for each option of the model.
 * SW_NO_PLAN: as sw_strip_best. */
sw_status sw_strip_fewest (const sw_model *model, const sw_strip *strip, const int64_t *nothing, sw_strip_work *work,
                           int64_t *low, int64_t *high, uint8_t *used);

#define SW_STRIP_NONE ((sw_wide)1 << 120)

#endif
