/* pair_pricer.h - the most valuable board where some pairs of kinds exclude each other
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PAIR_PRICER_H
#define SW_PAIR_PRICER_H

#include "price/knapsack.h"

/* KINDS * KINDS bits, the same both ways round: no board may have both kinds.  Set for a kind and itself: no board may
 * have two of it. */
static inline bool
sw_apart (const uint8_t *apart, size_t kinds, size_t a, size_t b)
{
  size_t at = a * kinds + b;
  return apart[at / 8] >> at % 8 & 1;
}

typedef struct sw_pair_pricer sw_pair_pricer;

/* A pricer for at most KINDS kinds; APART, borrowed, has their bits. */
sw_pair_pricer *sw_pair_pricer_new (size_t kinds);
void sw_pair_pricer_free (sw_pair_pricer *pricer);

/* Load the needs of MODEL that are in demand as kinds, each with its VALUE (0 or more), for boards up to ROOM.  Only
 * boards that leave WASTE or less count; all of them do where the lengths are too fine for a table. */
sw_status sw_pair_pricer_load (sw_pair_pricer *pricer, const sw_model *model, const uint8_t *apart,
                               const int64_t *value, int64_t room, int64_t waste);

/* Set *BEST to the most that a board with ROOM can be worth.  FN gets boards that are worth more than FLOOR, each
 * better than the one before, and then at most MORE others.  SW_STOPPED: STEPS ran out, so *BEST is no bound. */
sw_status sw_pair_pricer_best (sw_pair_pricer *pricer, int64_t room, int64_t floor, size_t more, uint64_t *steps,
                               int64_t *best, sw_pattern_fn fn, void *data);

#endif
