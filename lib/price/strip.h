/* strip.h - the best layout of one strip for given prices
 *
 * Dynamic programming over the posts of a strip; a state is, for each level,
 * where its open piece began.  Flow, stagger and the long-and-short rule are
 * kept exactly, so that the least cost over all layouts is a bound that no
 * linear programme over single pieces can beat.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_STRIP_H
#define SW_STRIP_H

#include "model/model.h"
#include "model/tuning.h"

__extension__ typedef __int128 sw_wide;

/* Weight of an aligned pair that comes before every cost. */
#define SW_ALIGNED_FIRST ((sw_wide)1 << 96)

typedef struct sw_strip_work sw_strip_work;

sw_strip_work *sw_strip_work_new (void);
void sw_strip_work_free (sw_strip_work *work);

/* Number of states of a strip, bounded by SW_STATES + 1. */
size_t sw_strip_states (const sw_strip *strip);

/* Can strip INDEX be laid out by the exact method? */
bool sw_strip_is_exact (const sw_model *model, size_t index);

/* The best layout of strip INDEX: least sum of PRICE over its options plus
 * ALIGNED_WEIGHT an aligned pair.  PRICE has one entry an option of the model,
 * join costs included; |price| < 2^62.  Results, each may be NULL: *VALUE the
 * sum, *ALIGNED its pairs; USED[o] set to 1 for each chosen option of the
 * strip and 0 for the others; THROUGH[o] the least sum of any layout with option o
 * (SW_STRIP_NONE where there is none).
 * SW_NO_PLAN: no layout at all.  SW_USAGE: too many states, or too many bays or strips for so many.
 * O(bays * states * 2^levels), twice with THROUGH. */
sw_status sw_strip_best (const sw_model *model, size_t index, const int64_t *price, sw_wide aligned_weight,
                         sw_strip_work *work, sw_wide *value, int64_t *aligned, uint8_t *used, sw_wide *through);

/* The same where the exact method can be used, else a bound: no layout is worth less than
 * *VALUE, has fewer pairs than *ALIGNED (with SW_ALIGNED_FIRST), or is worth
 * less than THROUGH[o] with option o.  The levels fall in blocks; each is laid
 * out best without regard to the others.  Never SW_USAGE. */
sw_status sw_strip_relaxed (const sw_model *model, size_t index, const int64_t *price, sw_wide aligned_weight,
                            sw_strip_work *work, sw_wide *value, int64_t *aligned, sw_wide *through);

/* The best layout where the exact method can be used, else a good one: block after block,
 * each on top of the level below it.  SW_NO_PLAN: none, or none found this way. */
sw_status sw_strip_layout (const sw_model *model, size_t index, const int64_t *price, sw_wide aligned_weight,
                           sw_strip_work *work, uint8_t *used);

/* A layout of strip INDEX, level by level, when there is no time for a good one.
 * SW_NO_PLAN: there is none, or none that is found this way.  O(options). */
sw_status sw_strip_quickly (const sw_model *model, size_t index, const int64_t *price, uint8_t *used);

/* Pairs of joins that line up in the layout USED of strip INDEX; 0 where they are not counted. */
int64_t sw_strip_pairs (const sw_model *model, size_t index, const uint8_t *used);

/* Neighbouring levels of a strip: all of them where it is exact, else as many as are quick. */
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
/* Pairs between the levels of BLOCK. */
int64_t sw_block_pairs (const sw_model *model, const sw_block *block, const uint8_t *used);

/* The fewest aligned pairs of strip INDEX, whatever the timber: no layout has
 * fewer than *LOW, and USED (as in sw_strip_best) is one with *HIGH.  The same
 * number where the strip is exact.  NOTHING: 0 for each option of the model.
 * SW_NO_PLAN: as sw_strip_layout. */
sw_status sw_strip_fewest (const sw_model *model, size_t index, const int64_t *nothing, sw_strip_work *work,
                           int64_t *low, int64_t *high, uint8_t *used);

#define SW_STRIP_NONE ((sw_wide)1 << 120)

#endif
