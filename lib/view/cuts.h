/* cuts.h - the cut list: what to cut from each board
 *
 * A text is at most WIDTH columns wide where that can be done.  Functions that
 * return sw_status return SW_OK or SW_NO_MEMORY; the others leave a failed
 * allocation in OUT.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CUTS_H
#define SW_CUTS_H

#include "plan/plan.h"
#include "base/text.h"

/* Does PIECE lie flat on its posts, so that the saw goes through its width at a corner? */
bool sw_cuts_flat (const sw_job *job, const sw_piece *piece);
/* Does the saw do the same for A as for B? */
bool sw_cuts_same (const sw_job *job, const sw_piece *a, const sw_piece *b);
/* The number of boards from FIRST on that are cut alike: they have the same stock and source, and
 * the same pieces in the same order, as far as the saw can tell.  It is at least 1.  The plan keeps
 * equal boards together. */
size_t sw_cuts_alike (const sw_plan *plan, size_t first);
/* Add PIECE for the person who saws it: its length, a mitre at its start in front and one at its
 * finish behind, its slope, and where it is raked what it takes of the board.  "2398", "45° outer
 * 2398", "2398 22.5° inner", "2452 rises 14° (2489.5)".  It says "flat" if its section is used both
 * ways.  Hard spaces keep together what must stand on one line. */
void sw_cuts_length (sw_text *out, const sw_plan *plan, const sw_piece *piece);

/* Is there a piece, laid FLAT or on edge, that is mitred (if MITRED) and raked (if RAKED)? */
bool sw_cuts_any (const sw_plan *plan, bool flat, bool mitred, bool raked);
/* Is any piece mitred?  Is any cut plumb? */
bool sw_cuts_mitred (const sw_plan *plan);
bool sw_cuts_raked (const sw_plan *plan);
/* Explain the angles beside the lengths of the plan.  Nothing is added if there are none. */
void sw_cuts_angles (sw_text *out, const sw_plan *plan, size_t width);
/* For the mitres of SECTION, in timber laid FLAT or on edge, say what the saw goes through and how
 * far back the short points lie.  Nothing is added if there are none. */
sw_status sw_cuts_short_points (sw_text *out, const sw_plan *plan, size_t section, bool flat, size_t width);

/* The column where labels begin in the printed list: after the boards' numbers and the widest stock length. */
size_t sw_cuts_label_column (const sw_job *job);
/* Add the boards FIRST ... FIRST + *COUNT - 1, which are cut alike, with labels from COLUMN on.  As
 * many are added as fit MOST lines, or a few lines more, and at least one.  *COUNT becomes the
 * number added. */
sw_status sw_cuts_group (sw_text *out, const sw_plan *plan, size_t first, size_t *count, size_t column, size_t most,
                         size_t width);
/* Add the list by run and post (cuts_run.c), whose heading begins at byte BEGUN of OUT. */
sw_status sw_cuts_along (const sw_plan *plan, size_t begun, size_t width, sw_text *out);

sw_status sw_cuts_table (const sw_plan *plan, sw_table **out);
sw_status sw_cuts_text (const sw_plan *plan, size_t width, sw_text *out);

#endif
