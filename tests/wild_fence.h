/* wild_fence.h - fences in which hardly two spans are alike, for the tests of the search
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
  sw_watch watch; /* without a time limit */
} wild_fence;

/* Make one model, with its floors of aligned pairs set.  It has RUNS runs of BAYS bays of 1.2 to
 * 2.9 m, ROWS rails of one section, and five extras.  Its stock is 5.4 m and 4.8 m, of which the
 * latter is sometimes limited.  The same *STATE gives the same model. */
sw_model *wild_make (wild_fence *fence, uint64_t *state, size_t runs, size_t bays, size_t rows);
void wild_drop (wild_fence *fence);

/* Begin a search of MODEL with a first plan. */
void wild_begin (wild_fence *fence, sw_search *search, sw_model *model);

/* Solve the linear programme of the search's aim and make plans out of it, as aim.c does. */
sw_status wild_programme (sw_search *search);

#endif
