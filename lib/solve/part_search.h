/* part_search.h - a part of a plan as a search of its own; plans out of layouts
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PART_SEARCH_H
#define SW_PART_SEARCH_H

#include "model/region.h"
#include "solve/programme.h"

typedef struct sw_part_search
{
  sw_region region;
  sw_search search;
  sw_programme programme;
  sw_watch watch; /* shows nothing to the caller, because its bounds and plans are not those of the whole */
} sw_part_search;

/* Begin a search, for the cost, over the part of PLAN that sw_region_new makes; PLAN is a plan of SEARCH.  To be ended
 * even after a failure. */
sw_status sw_part_begin (sw_part_search *part, const sw_search *search, const sw_solution *plan, const int64_t *stays,
                         const uint8_t *free_strip);
void sw_part_end (sw_part_search *part, sw_search *search);

/* Find boards with care for PLAN, which has only a layout, and offer each plan that results. */
sw_status sw_cut (sw_search *search, sw_solution *plan);

/* Make a plan out of the programme's mixture, from the layout that is nearest to it: at little expense or WITH_CARE.
 * Then: several, with care, from layouts that the programme is led down to. */
sw_status sw_round (sw_search *search, const sw_programme *programme, bool with_care);
sw_status sw_descend_and_cut (sw_search *search, sw_programme *programme);

#endif
