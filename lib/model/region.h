/* region.h - a part of a model as a model of its own
 *
 * The layout of some strips is free, that of the others stays, and so do most
 * of the boards: what is left to choose is small enough to be solved to the
 * end.  Where no strip is free, only boards are to be chosen.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_REGION_H
#define SW_REGION_H

#include "model/solution.h"

typedef struct sw_region
{
  const sw_model *whole;
  sw_model model;    /* aligned_cap 0 */
  size_t *need_of;   /* its needs as the whole model has them */
  size_t *need_at;   /* the other way, SIZE_MAX where the region does not have it */
  size_t *option_of; /* its options as the whole model has them */
  sw_solution kept;  /* of the whole model: the layout of the other strips, the boards that stay */
  sw_solution start; /* of the region: the rest of the plan */
  sw_patterns pool;  /* of the region: patterns of START, and more */
  sw_entry *entries; /* room for those of one pattern */
} sw_region;

/* Make the region of PLAN, a layout of model WHOLE with boards out of POOL (maybe not enough of them).  STAYS says how
 * many of each of its boards stay (NULL: all), FREE_STRIP which strips are laid out anew (NULL: none).  The region has
 * to make all pieces that the boards which stay do not make; its START makes them where PLAN was valid.  ALL_PATTERNS:
 * its pool begins with all patterns of POOL that are of use to it. */
sw_status sw_region_new (sw_region *region, const sw_model *whole, const sw_patterns *pool, const sw_solution *plan,
                         const int64_t *stays, const uint8_t *free_strip, bool all_patterns);
void sw_region_clear (sw_region *region);

/* Set ALL, a solution of the whole: what was kept, and SOLUTION of the region, whose patterns are in FROM; they are
 * added to POOL, the whole's. */
sw_status sw_region_whole (const sw_region *region, const sw_solution *solution, const sw_patterns *from,
                           sw_patterns *pool, sw_solution *all);

#endif
