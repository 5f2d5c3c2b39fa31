/* cuts.h - what to cut from each board (layer 9)
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CUTS_H
#define SW_CUTS_H

#include "plan.h"
#include "text.h"

/* How many boards from FIRST on are cut alike: same stock and source, same
 * lengths and saw settings in the same order.  At least 1.  The plan keeps
 * equal boards together. */
size_t sw_cuts_alike (const sw_plan *plan, size_t first);
/* What is left of BOARD is long enough to be kept. */
bool sw_cuts_keep (const sw_plan *plan, const sw_board *board);
/* A piece's length for the eye, with a saw setting in front for its start
 * and behind for its finish: "2398", "45° 2398", "2398 22.5°". */
void sw_cuts_length (sw_text *out, const sw_plan *plan, const sw_piece *piece);
/* How far a mitre's short point lies behind its long point: THICKNESS times
 * the tangent of the saw's setting SAW (thousandths of a degree off square),
 * to the nearest tenth of a millimetre.  Derived: 38 mm at 45 degrees gives
 * 38.0, at 22.5 degrees 15.7. */
sw_length sw_cuts_mitre (sw_length thickness, int32_t saw);

sw_status sw_cuts_table (const sw_plan *plan, sw_table **out);
sw_status sw_cuts_text (const sw_plan *plan, size_t width, sw_text *out);

#endif
