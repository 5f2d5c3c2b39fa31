/* care.h - weights, ends to seal, cautions
 *
 * A text is at most WIDTH columns wide where that can be done.  Functions that
 * return sw_status return SW_OK, SW_NO_MEMORY, or SW_FAILED when the order is
 * out of range.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CARE_H
#define SW_CARE_H

#include "view/order.h"
#include "base/text.h"

/* The density of treated pine in kg/m3, dry and fresh from the treater (public wood data). */
#define SW_CARE_PINE_DRY 550
#define SW_CARE_PINE_WET 850

/* The weight of a metre of WIDTH by THICKNESS in hundredths of a kilogram, and of LENGTH in tenths,
 * halves rounded up.  DENSITY is in thousandths of kg/m3.  Derived: width times thickness times
 * density. */
int64_t sw_care_metre (sw_length width, sw_length thickness, int64_t density);
int64_t sw_care_weight (sw_length width, sw_length thickness, int64_t density, sw_length length);

/* The number of ends of pieces that the saw makes and that must be brushed with preservative.  A
 * piece has two ends.  An end that is a board's own needs no brush: the square start of the first
 * piece if nothing is docked, and the square finish of the last piece if that ends with the board
 * to the nanometre.  O(pieces). */
int64_t sw_care_sawn_ends (const sw_plan *plan);

/* Caution INDEX, one paragraph.  NULL past the end. */
const char *sw_care_caution (size_t index);

/* Write weights, ends to seal and cautions for paper. */
sw_status sw_care_text (const sw_plan *plan, size_t width, sw_text *out);
/* Write the same for a message, below its order. */
void sw_care_message (const sw_order *order, sw_text *out);
/* Write the same in three lines (SW_TEXT_CARE), and a fourth where checks are deep. */
sw_status sw_care_brief (const sw_plan *plan, size_t width, sw_text *out);

#endif
