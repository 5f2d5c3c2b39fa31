/* take.h - what a piece takes of the board that it is cut from
 *
 * Timber that rises is cut plumb, so out of a square-ended board it takes a
 * triangle more than its edge is long: the section's width times the slope.
 * A saw that is set at an angle takes its kerf over the cosine of that angle
 * along the board.  Derived.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TAKE_H
#define SW_TAKE_H

#include "job/job.h"

/* A piece as the saw sees it. */
typedef struct sw_sawn_piece
{
  sw_length cut;         /* along its edge, to the long point */
  sw_length width;       /* of its section; 0: not known */
  sw_length span;        /* level, of the bays that it passes; 0: it has no place on the fence */
  sw_length rise;        /* of these bays */
  const sw_end *finish;  /* NULL: a join, or square */
} sw_sawn_piece;

/* The piece and its triangle, and what its last cut takes more than an
 * ordinary KERF (of a mitre and a plumb cut on one end the steeper counts).
 * INT64_MAX where that does not fit. */
sw_length sw_take (const sw_sawn_piece *piece, sw_length kerf);

/* WIDTH * |RISE| / SPAN, to the nearest nanometre.  150 wide, 600 in 2400: 37.5.  SPAN > 0. */
sw_length sw_take_triangle (sw_length width, sw_length span, sw_length rise);

/* The angle of a plumb cut off square, thousandths of a degree; 0: level.  600 in 2400: 14036. */
int32_t sw_take_plumb (sw_length span, sw_length rise);

#endif
