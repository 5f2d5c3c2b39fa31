/* care.h - weights, ends to seal, cautions
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CARE_H
#define SW_CARE_H

#include "view/order.h"
#include "base/text.h"

/* Pine, treated: dry and fresh from the treater, kg/m3 (public wood data). */
#define SW_CARE_PINE_DRY 550
#define SW_CARE_PINE_WET 850

/* Weight of a metre of WIDTH by THICKNESS in hundredths of a kilogram, and of
 * LENGTH in tenths; DENSITY in thousandths of kg/m3.  Half up.  Derived:
 * width times thickness times density. */
int64_t sw_care_metre (sw_length width, sw_length thickness, int64_t density);
int64_t sw_care_weight (sw_length width, sw_length thickness, int64_t density, sw_length length);

/* Ends of pieces that the saw makes and a brush must seal.  Each piece has
 * two.  A board's own end needs none: the square start of its first piece
 * where nothing is docked, and the square finish of its last where that ends
 * on the board's end to the nanometre. */
int64_t sw_care_sawn_ends (const sw_plan *plan);

/* What to mind, a paragraph each; NULL past the end. */
const char *sw_care_caution (size_t index);

/* All of it, for paper. */
sw_status sw_care_text (const sw_plan *plan, size_t width, sw_text *out);
/* All of it, below the order to paste into a message. */
void sw_care_message (const sw_order *order, sw_text *out);
/* SW_TEXT_CARE: three lines, and a fourth where checks are deep. */
sw_status sw_care_brief (const sw_plan *plan, size_t width, sw_text *out);

#endif
