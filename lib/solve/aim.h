/* aim.h - the order of the steps
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_AIM_H
#define SW_AIM_H

#include "solve/programme.h"

/* The first plan, and in *BOUND what a plan costs at least, whatever becomes of the limit on aligned pairs; told to the
 * watch. */
sw_status sw_begin (sw_search *search, int64_t *bound);
/* Bring the search's aim as low as can be; PROGRAMME is the search's, the same for each of its aims. */
sw_status sw_run_aim (sw_search *search, sw_programme *programme);

#endif
