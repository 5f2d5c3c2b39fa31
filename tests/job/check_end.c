/* check_end.c - how timber ends at a post, and other formulas of a fence
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/fence.h"
#include "suite.h"

#include <string.h>

START_TEST (tape)
{
  /* Directive 2014/32/EU (measuring instruments), Annex X, chapter I: class II, a = 0.3 mm, b = 0.2 mm a metre, the
   * length rounded up to the next whole metre. */
  ck_assert_int_eq (sw_tape_error (12340 * SW_MM), 2900000);
  ck_assert_int_eq (sw_tape_error (2 * SW_METRE), 700000);
  ck_assert_int_eq (sw_tape_error (2 * SW_METRE + 1), 900000);
  ck_assert_int_eq (sw_tape_error (1), 500000);
}
END_TEST

START_TEST (clear_to_centres)
{
  /* job.md, derived: half of each post more. */
  ck_assert_int_eq (sw_span_of_clear (2300 * SW_MM, 100 * SW_MM, 100 * SW_MM), 2400 * SW_MM);
  ck_assert_int_eq (sw_span_of_clear (2300 * SW_MM, 125 * SW_MM, 75 * SW_MM), 2400 * SW_MM);
  ck_assert_int_eq (sw_span_of_clear (10, 2, 3), 13);
}
END_TEST

START_TEST (saw_settings)
{
  /* job.md, derived: the saw is set |180 - A| / 2 off square. */
  static const int32_t angles[][2]
      = { { 90000, 45000 }, { 120000, 30000 }, { 135000, 22500 }, { 60000, 60000 },   { 179999, 1 },
          { 1, 90000 },     { 270000, 45000 }, { 225000, 22500 }, { 359999, 90000 }, { 180001, 1 } };
  for (size_t i = 0; i < sizeof angles / sizeof angles[0]; i++)
    {
      sw_end end = { .kind = SW_END_MITRE, .angle = angles[i][0] };
      ck_assert_int_eq (sw_end_saw_setting (&end), angles[i][1]);
    }
  sw_end square = { .kind = SW_END_HOUSED, .length = 33 * SW_MM };
  ck_assert_int_eq (sw_end_saw_setting (&square), 0);
}
END_TEST

START_TEST (reaches)
{
  /* The table of ends in spanwright-csv(5), for a post of 125 mm. */
  static const struct
  {
    const char *text;
    const char *name;
    sw_length reach;
  } cases[] = {
    { "flush", "flush", 62500000 },
    { "centre", "centre", 0 },
    { "Center", "centre", 0 },
    { "FACE", "face", -62500000 },
    { "housed", "housed", -21500000 }, /* a third of 125 is 41 and a bit */
    { "housed 33", "housed", -29500000 },
    { "Housed  1in", "housed", -37100000 },
    { "mitre", "mitre", 0 }, /* a mitre depends on the level's seat */
    { "miter 135", "mitre", 0 },
    { "reach 20", "reach", 20000000 },
    { "reach -12.5", "reach", -12500000 },
    { "reach 1/2\"", "reach", 12700000 },
    { "reach 0", "reach", 0 },
  };
  char expected[SW_PHRASE];
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
    {
      sw_end end = { 0 };
      ck_assert_msg (sw_end_parse (cases[i].text, false, 125 * SW_MM, &end, expected), "%s", cases[i].text);
      ck_assert_str_eq (sw_end_name (end.kind), cases[i].name);
      ck_assert_msg (sw_end_reach (&end, 125 * SW_MM) == cases[i].reach, "%s", cases[i].text);
      ck_assert (end.written);
    }
  sw_end on = { 0 };
  ck_assert_int_eq (sw_end_reach (&on, 125 * SW_MM), 0);
  ck_assert_str_eq (sw_end_name (on.kind), "join");
}
END_TEST

START_TEST (angles)
{
  sw_end end = { 0 };
  char expected[SW_PHRASE];
  ck_assert (sw_end_parse ("mitre", false, SW_MM, &end, expected));
  ck_assert_int_eq (end.angle, 90000);
  ck_assert (sw_end_parse ("mitre 112.125", false, SW_MM, &end, expected));
  ck_assert_int_eq (end.angle, 112125);
  ck_assert (sw_end_parse ("mitre 112,5", true, SW_MM, &end, expected));
  ck_assert_int_eq (end.angle, 112500);
  ck_assert (sw_end_parse ("mitre 135\302\260", false, SW_MM, &end, expected));
  ck_assert_int_eq (end.angle, 135000);
  /* Over 180 degrees the timber is on the inside of the corner. */
  ck_assert (sw_end_parse ("mitre 270", false, SW_MM, &end, expected));
  ck_assert_int_eq (end.angle, 270000);
  ck_assert (sw_end_parse ("mitre 359.999", false, SW_MM, &end, expected));
  ck_assert_int_eq (end.angle, 359999);
}
END_TEST

START_TEST (bad_ends)
{
  static const char *const bad[]
      = { "flus",          "flush 5",     "centre 0",   "face x",    "housed deep",       "housed 0",
          "housed -5",     "housed33",    "mitre 0",    "mitre 180", "mitre 360",         "mitre -90",
          "mitre 90.0001", "mitre right", "mitre 90,5", "reach",     "reach far",         "reach 10 20",
          "join",          "on",          "a mitre",    "flushed",   "mitremitremitre 90" };
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
    {
      sw_end end = { 0 };
      char expected[SW_PHRASE] = "";
      ck_assert_msg (!sw_end_parse (bad[i], false, 100 * SW_MM, &end, expected), "%s", bad[i]);
      ck_assert (strlen (expected) > 5);
      ck_assert_int_eq (end.kind, SW_END_ON);
      ck_assert (!end.written);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("end");
  TCase *tests = tcase_create ("end");
  tcase_add_test (tests, tape);
  tcase_add_test (tests, clear_to_centres);
  tcase_add_test (tests, saw_settings);
  tcase_add_test (tests, reaches);
  tcase_add_test (tests, angles);
  tcase_add_test (tests, bad_ends);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
