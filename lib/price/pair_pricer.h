/* pair_pricer.h - the most valuable board where some pairs of kinds exclude each other
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PAIR_PRICER_H
#define SW_PAIR_PRICER_H

#include "price/knapsack.h"

/* KINDS * KINDS bits, both ways round: no board has both; a kind with itself: no board has two. */
static inline bool
sw_apart (const uint8_t *apart, size_t kinds, size_t a, size_t b)
{
  size_t at = a * kinds + b;
  return apart[at / 8] >> at % 8 & 1;
}

typedef struct sw_pair_pricer sw_pair_pricer;

/* For at most so many KINDS, of which APART, borrowed, has the bits. */
sw_pair_pricer *sw_pair_pricer_new (size_t kinds);
void sw_pair_pricer_free (sw_pair_pricer *pricer);

/* Take the needs of MODEL that are in demand as kinds, with VALUE (0 or more) each, for boards up to ROOM. */
sw_status sw_pair_pricer_load (sw_pair_pricer *pricer, const sw_model *model, const uint8_t *apart,
                               const int64_t *value, int64_t room);

/* The most that one board with ROOM can be worth, in *BEST; FN is told of
 * boards worth more than FLOOR, each better than the one before, then of at
 * most MORE others.  SW_STOPPED: STEPS ran out, and *BEST is no bound. */
sw_status sw_pair_pricer_best (sw_pair_pricer *pricer, int64_t room, int64_t floor, size_t more, uint64_t *steps,
                               int64_t *best, sw_pattern_fn fn, void *data);

#endif
