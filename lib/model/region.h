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

/* Of PLAN, a layout with boards out of POOL, of model WHOLE: so many of each of its boards as STAYS says (NULL: all),
 * and the layout of all strips but those FREE_STRIP (NULL: none).  What those do not make is for the region to make;
 * its START is valid only where PLAN was.  ALL_PATTERNS: all those of POOL that are of use to the region are in its
 * pool. */
sw_status sw_region_new (sw_region *region, const sw_model *whole, const sw_patterns *pool, const sw_solution *plan,
                         const int64_t *stays, const uint8_t *free_strip, bool all_patterns);
void sw_region_clear (sw_region *region);

/* Put KEPT and SOLUTION, of the region with patterns of FROM, together in ALL, begun;
 * patterns go to POOL. */
sw_status sw_region_whole (const sw_region *region, const sw_solution *solution, const sw_patterns *from,
                           sw_patterns *pool, sw_solution *all);

#endif
