/* corner.h - where the timber of two runs meets
 *
 * At a corner of internal angle A the timber of both runs is cut along the
 * bisector, the saw (180 - A) / 2 off square.  A face that lies F outside the
 * line of post centres meets its neighbour at F tan ((180 - A) / 2) past the
 * post's centre.  Derived.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CORNER_H
#define SW_CORNER_H

#include "job/seat.h"

/* The face that has a mitre's long point; of timber laid flat, the edge. */
typedef enum sw_side { SW_SIDE_NONE, SW_SIDE_OUTER, SW_SIDE_INNER } sw_side;

/* How far the long point lies past the post's centre, in level measure, to the nearest nanometre.
 * ANGLE is internal, in thousandths of a degree, over 0 and under 360000, not 180000.  For a 100 mm
 * post and 38 mm timber let in flush: 90 degrees +50, 60 +86.6, 120 +28.9, 270 -12. */
sw_length sw_corner_reach (sw_faces faces, int32_t angle);

/* SW_SIDE_OUTER under 180 degrees, SW_SIDE_INNER over 180.  SW_SIDE_NONE: END is not a mitre. */
sw_side sw_corner_long_side (const sw_end *end);

/* How far the short point lies behind the long one, to the nearest tenth of a millimetre, for the
 * eye.  The saw goes THROUGH the timber and is set SAW thousandths of a degree off square.  38 mm
 * at 45 degrees: 38.0, at 22.5: 15.7. */
sw_length sw_corner_short_point (sw_length through, int32_t saw);

/* The length of board that the saw takes when it cuts the mitre END: KERF over the cosine of the saw's setting. */
sw_length sw_corner_kerf (const sw_end *end, sw_length kerf);

#endif
