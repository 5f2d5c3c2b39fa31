/* fit.h - where each piece goes
 *
 * A text is at most WIDTH columns wide where that can be done.  Functions that
 * return sw_status return SW_OK or SW_NO_MEMORY; the others leave a failed
 * allocation in OUT.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FIT_H
#define SW_FIT_H

#include "plan/plan.h"
#include "base/text.h"

/* How PIECE ends: "join", "flush" ..., or "post" for a piece between posts. */
const char *sw_fit_start (const sw_piece *piece);
const char *sw_fit_finish (const sw_piece *piece);
/* Find the pieces that have a place on RUN: they are FIRST ... *END - 1.  FIRST is where the pieces
 * of the run before ended. */
void sw_fit_pieces (const sw_plan *plan, size_t run, size_t first, size_t *end);

sw_status sw_fit_table (const sw_plan *plan, sw_table **out);
sw_status sw_fit_text (const sw_plan *plan, size_t width, sw_text *out);
/* Parts that these functions share. */

/* Add "Run front: posts 1 to 6, 10600 from centre to centre, opening 4-5". */
void sw_fit_run_heading (sw_text *out, const sw_job *job, size_t run, size_t width);
/* Add how a level's timber sits on its posts, unless in the usual way: ", let in 30". */
void sw_fit_seat (sw_text *out, const sw_job *job, const sw_level *level);
/* Draw the pieces FIRST ... END - 1 of RUN in characters, with the numbers of their boards below.
 * The top level comes first, as for somebody who stands before the fence.  The drawing ends where
 * the part that begins at byte BEGUN of OUT has all its lines: *POST is the first post that is not
 * drawn, or SW_NONE. */
sw_status sw_fit_sketch (const sw_plan *plan, size_t run, size_t first, size_t end, size_t begun, size_t width,
                         size_t *post, sw_text *out);

#endif
