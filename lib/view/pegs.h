/* pegs.h - where posts go, as a table and in words
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PEGS_H
#define SW_PEGS_H

#include "base/text.h"
#include "plan/posts.h"

/* How far post POST's peg is from its run's first: a whole step. */
sw_length sw_peg_distance (const sw_job *job, const sw_run *run, size_t post);
/* "2320, 8 of 2382 to 2383, 2320": the bays FIRST to before LAST of RUN. */
void sw_bays_shown (sw_text *out, const sw_job *job, const sw_run *run, size_t first, size_t last);

#endif
