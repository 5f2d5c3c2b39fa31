/* take.c - what a piece takes of the board that it is cut from
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout/take.h"

#include "job/corner.h"

#include <math.h>

__extension__ typedef __int128 wide;

#define STRAIGHT 180000 /* thousandths of a degree */

sw_length
sw_take_triangle (sw_length width, sw_length span, sw_length rise)
{
  const wide twice = 2 * (wide)width * (rise < 0 ? -(wide)rise : rise);
  const wide triangle = (twice + span) / (2 * (wide)span); /* NOLINT: over 0 */
  return triangle > INT64_MAX ? INT64_MAX : (sw_length)triangle;
}

int32_t
sw_take_plumb (sw_length span, sw_length rise)
{
  if (rise == 0)
    return 0;
  const double radians = atan2 (fabs ((double)rise), (double)span);
  return (int32_t)lround (radians / acos (-1.0) * STRAIGHT);
}

sw_length
sw_take (const sw_sawn_piece *piece, sw_length kerf)
{
  sw_length triangle = 0;
  sw_length slot = kerf;
  if (piece->span > 0 && piece->rise != 0)
    {
      triangle = sw_take_triangle (piece->width, piece->span, piece->rise);
      slot = sw_length_on_slope (kerf, piece->span, piece->rise);
    }
  if (piece->finish != NULL)
    {
      const sw_length mitre = sw_corner_kerf (piece->finish, kerf);
      slot = mitre > slot ? mitre : slot;
    }
  sw_length take;
  if (!sw_length_add (piece->cut, triangle, &take) || !sw_length_add (take, slot - kerf, &take))
    return INT64_MAX;
  return take;
}
