/* corner.c - where the timber of two runs meets
 *
 * A tangent and a cosine have no exact value, so that the lengths of this file
 * pass through floating point; no other lengths of the library do.  Each is
 * rounded to a whole nanometre at once, a millionth of what anybody can saw.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/corner.h"

#include <math.h>

#define STRAIGHT 180000 /* thousandths of a degree */

/* (180 - ANGLE) / 2, in radians; it is negative on the inside of a corner. */
static long double
saw_radians (int32_t angle)
{
  return (long double)(STRAIGHT - angle) / (2 * STRAIGHT) * acosl (-1.0L);
}

sw_length
sw_corner_reach (sw_faces faces, int32_t angle)
{
  const long double tangent = tanl (saw_radians (angle));
  const sw_length outer = llroundl ((long double)faces.outer * tangent);
  const sw_length inner = llroundl ((long double)faces.inner * tangent);
  return outer > inner ? outer : inner;
}

sw_side
sw_corner_long_side (const sw_end *end)
{
  if (end->kind != SW_END_MITRE)
    return SW_SIDE_NONE;
  return end->angle < STRAIGHT ? SW_SIDE_OUTER : SW_SIDE_INNER;
}

sw_length
sw_corner_short_point (sw_length through, int32_t saw)
{
  const long double radians = (long double)saw / STRAIGHT * acosl (-1.0L);
  const sw_length tenth = SW_MM / 10;
  return llroundl ((long double)through / (long double)tenth * tanl (radians)) * tenth;
}

sw_length
sw_corner_kerf (const sw_end *end, sw_length kerf)
{
  if (end->kind != SW_END_MITRE)
    return kerf;
  return llroundl ((long double)kerf / cosl (saw_radians (end->angle)));
}
