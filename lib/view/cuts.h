/* cuts.h - what to cut from each board
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CUTS_H
#define SW_CUTS_H

#include "plan/plan.h"
#include "base/text.h"

/* Does PIECE lie flat on its posts, so that the saw goes through its width at a corner? */
bool sw_cuts_flat (const sw_job *job, const sw_piece *piece);
/* Is what the saw does for A the same as for B? */
bool sw_cuts_same (const sw_job *job, const sw_piece *a, const sw_piece *b);
/* How many boards from FIRST on are cut alike: same stock and source, the same
 * pieces for the saw in the same order.  At least 1.  The plan keeps equal
 * boards together. */
size_t sw_cuts_alike (const sw_plan *plan, size_t first);
/* A piece for the eye of who saws it: its length, with a mitre in front for
 * its start and behind for its finish, its slope, and what it takes of the
 * board where it is raked: "2398", "45° outer 2398", "2398 22.5° inner",
 * "2452 rises 14° (2489.5)".  "flat" where its section is used both ways.
 * Hard spaces stand where a line should not be broken. */
void sw_cuts_length (sw_text *out, const sw_plan *plan, const sw_piece *piece);

/* Is there a piece, laid FLAT or on edge, that is MITRED and RAKED, of these what is asked for? */
bool sw_cuts_any (const sw_plan *plan, bool flat, bool mitred, bool raked);
/* Is any piece mitred; is any cut plumb? */
bool sw_cuts_mitred (const sw_plan *plan);
bool sw_cuts_raked (const sw_plan *plan);
/* What the angles beside the plan's lengths mean, where there are any. */
void sw_cuts_angles (sw_text *out, const sw_plan *plan, size_t width);
/* What the saw goes through at the mitres of SECTION, of timber laid FLAT or
 * on edge, and how far back the short points lie.  Nothing where there are none. */
sw_status sw_cuts_short_points (sw_text *out, const sw_plan *plan, size_t section, bool flat, size_t width);

/* Where labels begin in the printed list: after the boards' numbers and the widest stock length. */
size_t sw_cuts_label_column (const sw_job *job);
/* The boards FIRST ... FIRST + *COUNT - 1, which are cut alike, with labels from COLUMN on: as many as go into MOST
 * lines or hardly more, at least one; *COUNT becomes that. */
sw_status sw_cuts_group (sw_text *out, const sw_plan *plan, size_t first, size_t *count, size_t column, size_t most,
                         size_t width);
/* The list by run and post, whose heading begins at byte BEGUN of OUT (cuts_run.c). */
sw_status sw_cuts_along (const sw_plan *plan, size_t begun, size_t width, sw_text *out);

sw_status sw_cuts_table (const sw_plan *plan, sw_table **out);
sw_status sw_cuts_text (const sw_plan *plan, size_t width, sw_text *out);

#endif
