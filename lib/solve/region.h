/* region.h - some strips of a model and their boards as a model of its own
 *
 * The layout of the other strips stays, and so do most of the boards: what is
 * left to choose is small enough to be solved to the end.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_REGION_H
#define SW_REGION_H

#include "solve/search.h"

typedef struct sw_region
{
  sw_model model;    /* aligned_cap 0 */
  size_t *need_of;   /* its needs as the whole model has them */
  size_t *option_of; /* its options likewise */
  sw_solution kept;    /* of the whole model: the layout of the other strips, the boards that stay */
  sw_solution start;   /* of the region: the rest of the best solution */
  sw_patterns pool;  /* of the region: patterns of START */
} sw_region;

/* The strips marked FREE, and boards of the best solution that their pieces
 * are cut from, or that waste more than SPARE (scaled, at the root's prices),
 * or one in a few by chance. */
sw_status sw_region_new (sw_region *region, const sw_search *search, const uint8_t *free_strip, sw_wide spare,
                         uint64_t *chance);
void sw_region_clear (sw_region *region);

/* Put KEPT and SOLUTION, of the region with patterns of POOL, together and offer them to SEARCH. */
sw_status sw_region_offer (const sw_region *region, sw_search *search, const sw_solution *solution,
                           const sw_patterns *pool);

#endif
