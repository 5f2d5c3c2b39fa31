/* take.h - what a piece takes of the board that it is cut from
 *
 * Timber that rises is cut plumb.  Out of a square-ended board it takes more
 * than the length of its edge, by a triangle: the section's width times the
 * slope.  A saw that is set at an angle takes its kerf over the cosine of that
 * angle along the board.  Derived.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_TAKE_H
#define SW_TAKE_H

#include "job/job.h"

/* A piece as the saw needs to know it. */
typedef struct sw_sawn_piece
{
  sw_length cut;         /* length along its edge, to the long point */
  sw_length width;       /* width of its section; 0: not known */
  sw_length span;        /* of the bays that it passes, on the level; 0: it has no place on the fence */
  sw_length rise;        /* of these bays */
  const sw_end *finish;  /* NULL: a join or a square end */
} sw_sawn_piece;

/* The piece's length, its triangle, and what its last cut takes in addition to an ordinary KERF.
 * Of a mitre and a plumb cut on one end the steeper counts.  INT64_MAX if it does not fit. */
sw_length sw_take (const sw_sawn_piece *piece, sw_length kerf);

/* WIDTH * |RISE| / SPAN, to the nearest nanometre.  150 wide, 600 in 2400: 37.5.  SPAN > 0. */
sw_length sw_take_triangle (sw_length width, sw_length span, sw_length rise);

/* The angle of a plumb cut, off square, in thousandths of a degree.  0: the timber is level.  600 in 2400: 14036. */
int32_t sw_take_plumb (sw_length span, sw_length rise);

#endif
