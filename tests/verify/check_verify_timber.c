/* check_verify_timber.c - corners, seats, slopes and rounding of verify, compared with worked values
 *
 * Figures without a source beside them are derived by drawing and by hand.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "suite.h"
#include "verify/verify.h"

#include <inttypes.h>

/* 38 thick, 150 wide. */
static sw_section section;
static sw_level level;
static sw_settings *settings;
static sw_job job;

static void
setup (void)
{
  settings = sw_settings_new ();
  section = (sw_section){ .width = 150 * SW_MM, .thickness = 38 * SW_MM };
  level = (sw_level){ .through = true };
  job = (sw_job){ .settings = settings,
                  .sections = { .count = 1, .items = &section },
                  .levels = { .count = 1, .items = &level } };
}

static void
teardown (void)
{
  sw_settings_free (settings);
}

static void
set (const char *key, const char *value)
{
  ck_assert_int_eq (sw_settings_set (settings, key, value, NULL), SW_OK);
}

/* Fail unless LENGTH is so many tenths of a millimetre, rounded to the nearest. */
static void
expect_tenths (sw_length length, int64_t tenths)
{
  const sw_length off = length - tenths * (SW_MM / 10);
  ck_assert_msg (off >= -SW_MM / 20 && off <= SW_MM / 20, "%" PRId64 " nm is not %" PRId64 " tenths of a millimetre",
                 length, tenths);
}

static sw_end
mitre (int32_t degrees)
{
  return (sw_end){ .kind = SW_END_MITRE, .angle = degrees * 1000 };
}

static void
expect_corner (int32_t degrees, int64_t tenths)
{
  const sw_end end = mitre (degrees);
  expect_tenths (sw_verify_reach (&job, &level, &end, 100 * SW_MM), tenths);
}

/* ---- Corners and seats --------------------------------------------------- */

START_TEST (saw_is_set_half_the_difference_from_180)
{
  static const struct
  {
    int32_t corner;
    int64_t saw;
  } rows[] = { { 90, 45000 }, { 120, 30000 }, { 135, 22500 }, { 60, 60000 }, { 270, 45000 }, { 330, 75000 } };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      const sw_end end = mitre (rows[i].corner);
      ck_assert_int_eq (sw_verify_saw_setting (&end), rows[i].saw);
    }
  const sw_end square = { .kind = SW_END_FLUSH };
  ck_assert_int_eq (sw_verify_saw_setting (&square), 0);
}
END_TEST

START_TEST (let_in_flush_at_a_corner)
{
  expect_corner (90, 500);
  expect_corner (60, 866);
  expect_corner (120, 289);
  expect_corner (135, 207);
  expect_corner (270, -120);
}
END_TEST

/* The outer face is that of the post, even if the thickness is not known. */
START_TEST (let_in_flush_of_unknown_thickness)
{
  section.thickness = 0;
  expect_corner (90, 500);
  expect_corner (60, 866);
}
END_TEST

/* 20 deep: the faces are 68 and 30 outside the line of centres. */
START_TEST (let_in_to_a_depth_at_a_corner)
{
  level.let_in = 20 * SW_MM;
  expect_corner (90, 680);
  expect_corner (270, -300);
  expect_corner (60, 1178);
  ck_assert_int_eq (sw_verify_check (&job, &level), 20 * SW_MM);
  level.let_in = 0;
  ck_assert_int_eq (sw_verify_check (&job, &level), 38 * SW_MM);
}
END_TEST

/* The faces are 88 and 50 outside. */
START_TEST (on_the_face_at_a_corner)
{
  level.seat = SW_SEAT_FACE;
  expect_corner (90, 880);
  expect_corner (270, -500);
  expect_corner (120, 508);
  ck_assert_int_eq (sw_verify_check (&job, &level), 0);
}
END_TEST

/* 100 wide: the edges are 50 to either side, whatever the post. */
START_TEST (capping_on_top_at_a_corner)
{
  level.seat = SW_SEAT_TOP;
  section.width = 100 * SW_MM;
  expect_corner (90, 500);
  expect_corner (135, 207);
  expect_corner (225, 207);
  set ("post-depth", "70");
  expect_corner (90, 500);
  ck_assert_int_eq (sw_verify_check (&job, &level), 0);
  ck_assert_int_eq (sw_verify_tall (&job, &level), 38 * SW_MM);
  level.seat = SW_SEAT_FACE;
  ck_assert_int_eq (sw_verify_tall (&job, &level), 100 * SW_MM);
}
END_TEST

/* With a post 70 across the fence, the rail's outer face is at 35. */
START_TEST (post_depth_counts_at_a_corner)
{
  set ("post-depth", "70");
  expect_corner (90, 350);
  const sw_end flush = { .kind = SW_END_FLUSH };
  expect_tenths (sw_verify_reach (&job, &level, &flush, 100 * SW_MM), 500);
}
END_TEST

START_TEST (capping_passes_over_the_post)
{
  static const sw_end face = { .kind = SW_END_FACE };
  static const sw_end housed = { .kind = SW_END_HOUSED, .length = 33 * SW_MM };
  ck_assert_int_eq (sw_verify_end (&level, &face), SW_END_FACE);
  expect_tenths (sw_verify_reach (&job, &level, &face, 100 * SW_MM), -500);
  expect_tenths (sw_verify_reach (&job, &level, &housed, 100 * SW_MM), -170);
  level.seat = SW_SEAT_TOP;
  ck_assert_int_eq (sw_verify_end (&level, &face), SW_END_FLUSH);
  ck_assert_int_eq (sw_verify_end (&level, &housed), SW_END_FLUSH);
  expect_tenths (sw_verify_reach (&job, &level, &face, 100 * SW_MM), 500);
  expect_tenths (sw_verify_reach (&job, &level, &housed, 100 * SW_MM), 500);
  const sw_end centre = { .kind = SW_END_CENTRE };
  ck_assert_int_eq (sw_verify_end (&level, &centre), SW_END_CENTRE);
}
END_TEST

START_TEST (face_of_the_long_point)
{
  const sw_end outside = mitre (60);
  const sw_end inside = mitre (300);
  const sw_end join = { .kind = SW_END_ON };
  ck_assert_str_eq (sw_verify_long_point (&join, &join), "");
  ck_assert_str_eq (sw_verify_long_point (&outside, &join), "outer");
  ck_assert_str_eq (sw_verify_long_point (&join, &outside), "outer");
  ck_assert_str_eq (sw_verify_long_point (&outside, &outside), "outer");
  ck_assert_str_eq (sw_verify_long_point (&inside, &join), "inner");
  ck_assert_str_eq (sw_verify_long_point (&join, &inside), "inner");
  ck_assert_str_eq (sw_verify_long_point (&inside, &inside), "inner");
  ck_assert_str_eq (sw_verify_long_point (&outside, &inside), "outer inner");
  ck_assert_str_eq (sw_verify_long_point (&inside, &outside), "inner outer");
}
END_TEST

/* ---- Slopes and what a piece takes --------------------------------------- */

START_TEST (plumb_cut)
{
  /* 600 in 2400: 14.0 degrees; up or down. */
  ck_assert_int_eq (sw_verify_plumb (2400 * SW_MM, 600 * SW_MM), 14036);
  ck_assert_int_eq (sw_verify_plumb (2400 * SW_MM, -600 * SW_MM), 14036);
  ck_assert_int_eq (sw_verify_plumb (2400 * SW_MM, 0), 0);
  /* 3, 4, 5. */
  ck_assert_int_eq (sw_verify_plumb (4 * SW_METRE, 3 * SW_METRE), 36870);
  ck_assert_int_eq (sw_verify_plumb (SW_METRE, SW_METRE), 45000);
}
END_TEST

static sw_length
take (sw_length rise, const sw_end *finish)
{
  return sw_verify_take (&job, &level, 2400 * SW_MM, 2400 * SW_MM, rise, finish) - 2400 * SW_MM;
}

START_TEST (plumb_cut_takes_a_triangle)
{
  set ("kerf", "0");
  expect_tenths (take (600 * SW_MM, NULL), 375);
  expect_tenths (take (-600 * SW_MM, NULL), 375);
  ck_assert_int_eq (take (0, NULL), 0);
  /* If the width is not known, nothing is added. */
  section.width = 0;
  ck_assert_int_eq (take (600 * SW_MM, NULL), 0);
}
END_TEST

/* 3 mm take 4.24 at 45 degrees, 3.25 at 22.5 and 3.09 at 14.0.  Of two angles the steeper counts. */
START_TEST (angled_cut_takes_a_wider_kerf)
{
  const sw_end square_corner = mitre (90);
  const sw_end blunt = mitre (135);
  const sw_end inside = mitre (270);
  const sw_end slight = mitre (170);
  const sw_end flush = { .kind = SW_END_FLUSH };
  section.width = 0;
  ck_assert_int_eq (take (0, &square_corner), 1242641);
  ck_assert_int_eq (take (0, &inside), 1242641);
  ck_assert_int_eq (take (0, &blunt), 247177);
  ck_assert_int_eq (take (0, &flush), 0);
  ck_assert_int_eq (take (600 * SW_MM, NULL), 92329);
  ck_assert_int_eq (take (600 * SW_MM, &square_corner), 1242641);
  ck_assert_int_eq (take (600 * SW_MM, &slight), 92329);
}
END_TEST

/* ---- Lengths ------------------------------------------------------------- */

/* A run of two bays of SPAN, of which the second rises by RISE, from flush to flush, with posts WIDTH wide. */
static sw_bay bays[2];
static sw_post posts[3];
static sw_run run;
static sw_length along[3];

static void
make_run (sw_length span, sw_length rise, sw_length width)
{
  for (int b = 0; b < 2; b++)
    bays[b] = (sw_bay){ .span = span };
  bays[1].rise = rise;
  bays[0].start.kind = bays[1].finish.kind = SW_END_FLUSH;
  for (int p = 0; p < 3; p++)
    posts[p] = (sw_post){ .width = width };
  run = (sw_run){ .bay_count = 2, .bays = bays, .posts = posts };
  sw_verify_measure (&run, along);
}

static sw_length
through (size_t from, size_t to)
{
  return sw_verify_through (&job, &level, &run, along, from, to);
}

/* A rail over two bays, from the outer face of an end post to a centre. */
START_TEST (end_bay_trap)
{
  make_run (2400 * SW_MM, 0, 100 * SW_MM);
  bays[1].finish.kind = SW_END_ON;
  ck_assert_int_eq (through (0, 2), 4850 * SW_MM);
  make_run (2350 * SW_MM, 0, 100 * SW_MM);
  bays[1].finish.kind = SW_END_ON;
  ck_assert_int_eq (through (0, 2), 4750 * SW_MM);
  set ("round", "0");
  make_run (2700 * SW_MM, 0, 125 * SW_MM);
  bays[1].finish.kind = SW_END_ON;
  expect_tenths (through (0, 2), 54625);
  make_run (96 * SW_INCH, 0, 7 * SW_INCH / 2);
  bays[1].finish.kind = SW_END_ON;
  ck_assert_int_eq (through (0, 2), 775 * SW_INCH / 4);
  make_run (94 * SW_INCH, 0, 7 * SW_INCH / 2);
  bays[1].finish.kind = SW_END_ON;
  ck_assert_int_eq (through (0, 2), 759 * SW_INCH / 4);
}
END_TEST

START_TEST (lengths_along_a_slope)
{
  static const struct
  {
    sw_length span, rise;
    int64_t tenths;
  } rows[] = { { 2400, 500, 24515 }, { 2400, 250, 24130 }, { 3000, 600, 30594 }, { 2400, -500, 24515 } };
  set ("round", "0");
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      make_run (rows[i].span * SW_MM, rows[i].rise * SW_MM, 100 * SW_MM);
      bays[1].finish.kind = SW_END_CENTRE;
      expect_tenths (through (1, 2), rows[i].tenths);
    }
}
END_TEST

/* 2300 clear, 600 in 2400: 2370.8 along the edge, 2408.3 of board. */
START_TEST (plinth_between_plumb_posts)
{
  set ("round", "0");
  set ("kerf", "0");
  make_run (2400 * SW_MM, 600 * SW_MM, 100 * SW_MM);
  level.through = false;
  const sw_length cut = sw_verify_between (&job, &level, &run, 1);
  expect_tenths (cut, 23708);
  expect_tenths (sw_verify_take (&job, &level, cut, 2400 * SW_MM, 600 * SW_MM, NULL), 24083);
  /* A piece between posts is rounded down to whole millimetres; a gap is taken off before and is not lengthened. */
  set ("round", "1");
  expect_tenths (sw_verify_between (&job, &level, &run, 1), 23700);
  level.gap = SW_MM;
  expect_tenths (sw_verify_between (&job, &level, &run, 1), 23690);
  level.gap = 9 * SW_MM / 10;
  expect_tenths (sw_verify_between (&job, &level, &run, 1), 23690);
}
END_TEST

/* A reach is lengthened by the slope of its own bay: 50 at 600 in 2400 is 51.5. */
START_TEST (reach_on_a_slope)
{
  set ("round", "0");
  make_run (2400 * SW_MM, 600 * SW_MM, 100 * SW_MM);
  expect_tenths (through (1, 2), 24739 + 515);
  expect_tenths (through (0, 1), 24500);
}
END_TEST

START_TEST (positions_to_the_nearest)
{
  ck_assert_int_eq (sw_verify_round (&job, 2400499999), 2400 * SW_MM);
  ck_assert_int_eq (sw_verify_round (&job, 2400500000), 2401 * SW_MM);
  ck_assert_int_eq (sw_verify_round (&job, -37500000), -37 * SW_MM);
  ck_assert_int_eq (sw_verify_round (&job, -37500001), -38 * SW_MM);
  ck_assert_int_eq (sw_verify_round (&job, -38000000), -38 * SW_MM);
  set ("round", "5");
  ck_assert_int_eq (sw_verify_round (&job, 2402500000), 2405 * SW_MM);
  ck_assert_int_eq (sw_verify_round (&job, -2500000), 0);
  set ("round", "0");
  ck_assert_int_eq (sw_verify_round (&job, 2400499999), 2400499999);
  sw_settings_free (settings);
  job.settings = settings = sw_settings_new ();
  set ("inches", "yes");
  ck_assert_int_eq (sw_verify_round (&job, SW_INCH + SW_INCH / 32), SW_INCH + SW_INCH / 16);
  ck_assert_int_eq (sw_verify_round (&job, SW_INCH + SW_INCH / 33), SW_INCH);
}
END_TEST

/* Posts of 75 reach 37.5 past the centres, which makes 4875 in all, in one piece or in two. */
START_TEST (nothing_adds_up)
{
  make_run (2400 * SW_MM, 0, 75 * SW_MM);
  ck_assert_int_eq (through (0, 2), 4875 * SW_MM);
  ck_assert_int_eq (through (0, 1), 2437 * SW_MM);
  ck_assert_int_eq (through (1, 2), 2438 * SW_MM);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("verify timber");
  TCase *tests = tcase_create ("worked values");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_add_test (tests, saw_is_set_half_the_difference_from_180);
  tcase_add_test (tests, let_in_flush_at_a_corner);
  tcase_add_test (tests, let_in_flush_of_unknown_thickness);
  tcase_add_test (tests, let_in_to_a_depth_at_a_corner);
  tcase_add_test (tests, on_the_face_at_a_corner);
  tcase_add_test (tests, capping_on_top_at_a_corner);
  tcase_add_test (tests, post_depth_counts_at_a_corner);
  tcase_add_test (tests, capping_passes_over_the_post);
  tcase_add_test (tests, face_of_the_long_point);
  tcase_add_test (tests, plumb_cut);
  tcase_add_test (tests, plumb_cut_takes_a_triangle);
  tcase_add_test (tests, angled_cut_takes_a_wider_kerf);
  tcase_add_test (tests, end_bay_trap);
  tcase_add_test (tests, lengths_along_a_slope);
  tcase_add_test (tests, plinth_between_plumb_posts);
  tcase_add_test (tests, reach_on_a_slope);
  tcase_add_test (tests, positions_to_the_nearest);
  tcase_add_test (tests, nothing_adds_up);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
