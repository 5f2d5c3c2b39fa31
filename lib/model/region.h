/* region.h - a part of a model as a model of its own
 *
 * The layout of some strips is free.  The layout of the others stays, and so
 * do most of the boards, so that what is left is small enough to be solved to
 * the end.  Where no strip is free, only boards are to be chosen.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_REGION_H
#define SW_REGION_H

#include "model/solution.h"

typedef struct sw_region
{
  const sw_model *whole;
  sw_model model;    /* aligned_cap 0 */
  size_t *need_of;   /* for each need of the region: that need in the whole */
  size_t *need_at;   /* for each need of the whole: that need in the region, or SIZE_MAX */
  size_t *option_of; /* for each option of the region: that option in the whole */
  sw_solution kept;  /* of the whole model: the layout of the other strips, the boards that stay */
  sw_solution start; /* of the region: the rest of the plan */
  sw_patterns pool;  /* of the region: patterns of START, and more */
  sw_entry *entries; /* room for the entries of one pattern */
} sw_region;

/* Make the region of PLAN, a layout of model WHOLE with boards out of POOL.  PLAN may lack some boards.  STAYS says how
 * many boards of each pattern of PLAN stay (NULL: all); FREE_STRIP says which strips are laid out anew (NULL: none).
 * The region has to make every piece that the boards which stay do not yield; where PLAN is valid, START makes them
 * all.  ALL_PATTERNS: the region's pool begins with every pattern of POOL that is of use to it. */
sw_status sw_region_new (sw_region *region, const sw_model *whole, const sw_patterns *pool, const sw_solution *plan,
                         const int64_t *stays, const uint8_t *free_strip, bool all_patterns);
void sw_region_clear (sw_region *region);

/* Make ALL, a solution of the whole, out of what was kept and SOLUTION of the region.  The patterns of SOLUTION are in
 * FROM; they are added to POOL, the pool of the whole. */
sw_status sw_region_whole (const sw_region *region, const sw_solution *solution, const sw_patterns *from,
                           sw_patterns *pool, sw_solution *all);

#endif
