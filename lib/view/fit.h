/* fit.h - which piece goes where
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FIT_H
#define SW_FIT_H

#include "plan/plan.h"
#include "base/text.h"

/* "join", "flush" ... or "post" for a piece between posts. */
const char *sw_fit_start (const sw_piece *piece);
const char *sw_fit_finish (const sw_piece *piece);
/* Pieces of RUN that have a place on it are FIRST ... *END - 1; FIRST is
 * where those of the run before ended. */
void sw_fit_pieces (const sw_plan *plan, size_t run, size_t first, size_t *end);

sw_status sw_fit_table (const sw_plan *plan, sw_table **out);
sw_status sw_fit_text (const sw_plan *plan, size_t width, sw_text *out);
/* The same for paper, fit_list.c: a line a piece, with its ends, below the run's heading and the level. */
sw_status sw_fit_list (const sw_plan *plan, size_t width, sw_text *out);

/* Their parts. */

/* "Run front: posts 1 to 6, 10600 from centre to centre, opening 4-5" */
void sw_fit_run_heading (sw_text *out, const sw_job *job, size_t run, size_t width);
/* ", let in 30": how a level's timber sits on its posts, where that is not the usual way. */
void sw_fit_seat (sw_text *out, const sw_job *job, const sw_level *level);
/* The pieces FIRST ... END - 1 of RUN as a drawing in characters, top level
 * first as one stands before the fence, with the numbers of their boards below.
 * As much of it as goes into the lines of the part that begins at byte BEGUN of
 * OUT: *POST is the first post that is not drawn, SW_NONE where all are. */
sw_status sw_fit_sketch (const sw_plan *plan, size_t run, size_t first, size_t end, size_t begun, size_t width,
                         size_t *post, sw_text *out);

#endif
