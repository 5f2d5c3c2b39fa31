/* check_corner.c - where the timber of two runs meets
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "suite.h"

#include "job/corner.h"

#include <math.h>
#include <stdlib.h>

#define DEGREE 1000 /* thousandths */

/* Timber 38 thick let in flush at a 100 mm post, and a capping 100 wide on top. */
static const sw_faces let_in = { 50 * SW_MM, 12 * SW_MM };
static const sw_faces capping = { 50 * SW_MM, -50 * SW_MM };

/* job.md, derived: the long point past the post's centre, the saw, and how far the short point lies
 * back; to a tenth of a millimetre. */
START_TEST (worked_corners)
{
  static const struct
  {
    const sw_faces *faces;
    sw_length through; /* mm */
    int32_t angle, saw;
    sw_length reach, back; /* tenths of a millimetre */
    sw_side side;
  } rows[] = {
    { &let_in, 38, 90, 45000, 500, 380, SW_SIDE_OUTER },    { &let_in, 38, 60, 60000, 866, 658, SW_SIDE_OUTER },
    { &let_in, 38, 120, 30000, 289, 219, SW_SIDE_OUTER },   { &let_in, 38, 135, 22500, 207, 157, SW_SIDE_OUTER },
    { &let_in, 38, 270, 45000, -120, 380, SW_SIDE_INNER },  { &capping, 100, 90, 45000, 500, 1000, SW_SIDE_OUTER },
    { &capping, 100, 135, 22500, 207, 414, SW_SIDE_OUTER }, { &capping, 100, 270, 45000, 500, 1000, SW_SIDE_INNER },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      const sw_end end = { .kind = SW_END_MITRE, .angle = rows[i].angle * DEGREE };
      const sw_length tenth = SW_MM / 10;
      const sw_length reach = sw_corner_reach (*rows[i].faces, end.angle);
      ck_assert_msg (llround ((double)reach / (double)tenth) == rows[i].reach, "corner of %d: reaches %lld",
                     (int)rows[i].angle, (long long)reach);
      ck_assert_int_eq (sw_end_saw_setting (&end), rows[i].saw);
      ck_assert_int_eq (sw_corner_short_point (rows[i].through * SW_MM, rows[i].saw), rows[i].back * tenth);
      ck_assert_int_eq (sw_corner_long_side (&end), rows[i].side);
    }
  /* Square corners are exact. */
  ck_assert_int_eq (sw_corner_reach (let_in, 90 * DEGREE), 50 * SW_MM);
  ck_assert_int_eq (sw_corner_reach (let_in, 270 * DEGREE), -12 * SW_MM);
  ck_assert_int_eq (sw_corner_short_point (38 * SW_MM, 0), 0);
}
END_TEST

/* Where two lines meet that lie OFF outside the line of posts on both sides of a corner of ANGLE
 * degrees, measured along the first.  This is worked by coordinates.  The first run comes along the
 * x axis, and its outside is up.  The second leaves the post, at the origin, so that the corner
 * opens ANGLE wide below. */
static double
meets_at (double off, double angle)
{
  const double pi = acos (-1.0);
  const double to[2] = { cos (pi + angle / 180 * pi), sin (pi + angle / 180 * pi) };
  const double outside[2] = { -to[1], to[0] };
  /* A point of the second line, and how far along it the height OFF is reached. */
  const double along = (off - off * outside[1]) / to[1];
  return off * outside[0] + along * to[0];
}

/* Every angle from 30 to 330, drawn: the long point is where the farther of the two faces ends, and
 * the short point is on the other face. */
START_TEST (drawn_corners)
{
  static const sw_faces faces[] = { { 50000000, 12000000 },  { 88000000, 50000000 },  { 62500000, 24500000 },
                                    { 50000000, -50000000 }, { 70000000, -70000000 }, { 58000000, 20000000 } };
  for (size_t f = 0; f < sizeof faces / sizeof *faces; f++)
    for (int32_t angle = 30 * DEGREE; angle <= 330 * DEGREE; angle += 375)
      {
        if (angle == 180 * DEGREE)
          continue;
        const sw_end end = { .kind = SW_END_MITRE, .angle = angle };
        const double outer = meets_at ((double)faces[f].outer, angle / 1e3);
        const double inner = meets_at ((double)faces[f].inner, angle / 1e3);
        const double reach = outer > inner ? outer : inner;
        ck_assert_msg (fabs ((double)sw_corner_reach (faces[f], angle) - reach) < 2, "faces %zu, %d: %lld, drawn %f", f,
                       (int)angle, (long long)sw_corner_reach (faces[f], angle), reach);
        ck_assert_int_eq (sw_corner_long_side (&end), outer > inner ? SW_SIDE_OUTER : SW_SIDE_INNER);
        /* The saw is set to whole thousandths of a degree, and the short point is given to a tenth of a millimetre. */
        const double back = (double)sw_corner_short_point (faces[f].outer - faces[f].inner, sw_end_saw_setting (&end));
        ck_assert_msg (fabs (back - fabs (outer - inner)) < 0.08e6, "faces %zu, %d: %f back, drawn %f", f, (int)angle,
                       back, fabs (outer - inner));
      }
}
END_TEST

/* job.md: an angled cut takes kerf / cos of the angle along the board.  3 mm at 45 degrees is 4.24,
 * at 22.5 it is 3.25. */
START_TEST (kerfs)
{
  static const struct
  {
    int32_t angle;
    sw_length kerf; /* hundredths of a millimetre */
  } rows[] = { { 90, 424 }, { 135, 325 }, { 60, 600 }, { 270, 424 }, { 225, 325 } };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      const sw_end end = { .kind = SW_END_MITRE, .angle = rows[i].angle * DEGREE };
      const sw_length kerf = sw_corner_kerf (&end, 3 * SW_MM);
      ck_assert_int_eq (llround ((double)kerf / 1e4), rows[i].kerf);
    }
  const sw_end square = { .kind = SW_END_FLUSH };
  ck_assert_int_eq (sw_corner_kerf (&square, 3 * SW_MM), 3 * SW_MM);
  ck_assert_int_eq (sw_corner_long_side (&square), SW_SIDE_NONE);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("corner");
  TCase *tcase = tcase_create ("corner");
  tcase_add_test (tcase, worked_corners);
  tcase_add_test (tcase, drawn_corners);
  tcase_add_test (tcase, kerfs);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
