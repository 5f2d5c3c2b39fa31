/* wild_fence.h - fences of which hardly two spans are alike, for the tests of the search
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WILD_FENCE_H
#define WILD_FENCE_H

#include "solve/programme.h"

typedef struct wild_fence
{
  sw_job *job;
  sw_layout *layout;
  sw_model *models;
  size_t count;
  sw_watch watch; /* without a limit */
} wild_fence;

/* RUNS runs of BAYS bays, 1.2 to 2.9 m, ROWS rails of one section, 4.8 m, now
 * and then limited, and 5.4 m; five extras.  The same for the same *STATE.
 * One model, whose floors of aligned pairs are set. */
sw_model *wild_make (wild_fence *fence, uint64_t *state, size_t runs, size_t bays, size_t rows);
void wild_drop (wild_fence *fence);

/* A search of MODEL with a first plan. */
void wild_begin (wild_fence *fence, sw_search *search, sw_model *model);

/* As order.c: the linear programme of the search's aim, and plans out of it. */
sw_status wild_programme (sw_search *search);

#endif
