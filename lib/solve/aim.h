/* aim.h - the order of the steps
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_AIM_H
#define SW_AIM_H

#include "solve/programme.h"

/* Make the first plan and set *BOUND to the least that any plan can cost, whatever the limit on aligned pairs becomes;
 * both are told to the watch. */
sw_status sw_begin (sw_search *search, int64_t *bound);
/* Bring the search's aim down as far as possible.  PROGRAMME belongs to the search and is the same for each of its
 * aims. */
sw_status sw_run_aim (sw_search *search, sw_programme *programme);

#endif
