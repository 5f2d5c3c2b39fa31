/* pegs.h - where posts go, as a table and in words
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PEGS_H
#define SW_PEGS_H

#include "base/text.h"
#include "plan/posts.h"

/* How far the peg of post POST is from that of its run's first post, as a whole number of steps. */
sw_length sw_peg_distance (const sw_job *job, const sw_run *run, size_t post);
/* Write the bays of RUN from FIRST to the one before LAST: "2320, 8 of 2382 to 2383, 2320". */
void sw_bays_shown (sw_text *out, const sw_job *job, const sw_run *run, size_t first, size_t last);

#endif
