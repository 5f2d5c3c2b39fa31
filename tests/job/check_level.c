/* check_level.c - levels, and heights by the picket
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/level.h"
#include "remarks.h"
#include "suite.h"

#include <string.h>

static sw_report *report;
static sw_settings *settings;
static sw_sections sections;
static sw_levels levels;

static void
setup (void)
{
  report = sw_report_new ();
  settings = sw_settings_new ();
  memset (&sections, 0, sizeof sections);
  memset (&levels, 0, sizeof levels);
}

static void
clear (void)
{
  sw_levels_clear (&levels);
  sw_sections_clear (&sections);
  sw_report_clear (report);
}

static void
teardown (void)
{
  clear ();
  sw_settings_free (settings);
  sw_report_free (report);
}

static sw_status
read_levels (const char *csv)
{
  sw_table *table = remarks_table (csv, "levels.csv", report);
  sw_status status = sw_levels_read (&levels, &sections, table, settings, report);
  sw_table_free (table);
  return status;
}

START_TEST (columns)
{
  ck_assert_int_eq (read_levels ("level,section,runs,gap,height,blocks,block_length,block_section\n"
                                 "plinth,150x25,Between,5,-25,2,150,50x50\n"
                                 "rail,75x38,,,150,1,1ft,\n"
                                 "cap,90x19,through,,1.5m,0,,\n"),
                    SW_OK);
  ck_assert_uint_eq (levels.count, 3);
  const sw_level *plinth = &levels.items[0];
  ck_assert_str_eq (plinth->name, "plinth");
  ck_assert_str_eq (sections.items[plinth->section].name, "150x25");
  ck_assert (!plinth->through);
  ck_assert_int_eq (plinth->gap, 5 * SW_MM);
  ck_assert (plinth->has_height);
  ck_assert_int_eq (plinth->height, -25 * SW_MM);
  ck_assert_int_eq (plinth->blocks, 2);
  ck_assert_int_eq (plinth->block_length, 150 * SW_MM);
  ck_assert_str_eq (sections.items[plinth->block_section].name, "50x50");
  ck_assert_uint_eq (plinth->line, 2);
  const sw_level *rail = &levels.items[1];
  ck_assert (rail->through);
  ck_assert_int_eq (rail->blocks, 1);
  ck_assert_int_eq (rail->block_length, 12 * SW_INCH);
  ck_assert_uint_eq (rail->block_section, rail->section);
  ck_assert_int_eq (levels.items[2].height, 1500 * SW_MM);
  ck_assert_uint_eq (sections.count, 4);
  remarks_expect (report, "", "levels");
}
END_TEST

START_TEST (only_what_is_needed)
{
  ck_assert_int_eq (read_levels ("section,level\nrail,low\nrail,high\n"), SW_OK);
  ck_assert_uint_eq (levels.count, 2);
  ck_assert (levels.items[0].through);
  ck_assert (!levels.items[0].has_height);
  ck_assert_int_eq (levels.items[0].blocks, 0);
  ck_assert_uint_eq (sections.count, 1);
}
END_TEST

START_TEST (faults)
{
  ck_assert_int_eq (read_levels ("level,section,runs,gap,height,blocks,block_length,block_section\n"
                                 ",a,,,,,,\n"
                                 "l1,,,,,,,\n"
                                 "l2,a,over,,,,,\n"
                                 "l3,a,through,5,,,,\n"
                                 "l4,a,,5,,,,\n"
                                 "l5,a,between,-5,,,,\n"
                                 "l6,a,,,high,,,\n"
                                 "l7,a,,,101m,,,\n"
                                 "l8,a,,,,2,,\n"
                                 "l9,a,,,,two,150,\n"
                                 "l10,a,,,,2,0,\n"
                                 "l11,a,,,,1001,150,\n"
                                 "l12,a,,,,,,\n"
                                 "l12,a,,,,,,\n"),
                    SW_REJECTED);
  remarks_expect (report,
                  "fault levels.csv:2:level\nfault levels.csv:3:section\nfault levels.csv:4:runs\n"
                  "fault levels.csv:5:gap\nfault levels.csv:6:gap\nfault levels.csv:7:gap\nfault levels.csv:8:height\n"
                  "fault levels.csv:9:height\nfault levels.csv:10:block_length\nfault levels.csv:11:blocks\n"
                  "fault levels.csv:12:block_length\nfault levels.csv:13:blocks\nfault levels.csv:15:level\n",
                  "levels");
  remarks_say (report, "level \"l12\" stands twice; it is on line 14 already");
}
END_TEST

START_TEST (no_rows)
{
  ck_assert_int_eq (read_levels ("level,section\n"), SW_REJECTED);
  remarks_expect (report, "fault levels.csv\n", "levels");
}
END_TEST

START_TEST (without_blocks)
{
  ck_assert_int_eq (read_levels ("level,section,blocks,block_length,block_section\n"
                                 "a,x,,150,y\n"
                                 "b,x,0,150,\n"
                                 "c,x,1,2,\n"),
                    SW_OK);
  remarks_expect (report,
                  "warning levels.csv:2:block_length\nwarning levels.csv:2:block_section\n"
                  "warning levels.csv:3:block_length\nwarning levels.csv:4:block_length\n",
                  "levels");
  /* A section that no block is made of does not belong to the job. */
  ck_assert_int_eq (sw_sections_find (&sections, "y"), -1);
}
END_TEST

START_TEST (heights_out_of_order)
{
  ck_assert_int_eq (read_levels ("level,section,height\na,x,100\nb,x,\nc,x,100\nd,x,50\n"), SW_OK);
  remarks_expect (report, "warning levels.csv:4:height\n", "levels");
  remarks_say (report, "\"c\" at 100 mm stands above \"a\" at 100 mm");
  clear ();
  ck_assert_int_eq (read_levels ("level,section,height\na,x,100\nb,x,\nc,x,100.1\n"), SW_OK);
  remarks_expect (report, "", "levels");
}
END_TEST

START_TEST (by_rails)
{
  settings->rails = 3;
  ck_assert_int_eq (sw_levels_default (&levels, &sections, settings), SW_OK);
  ck_assert_uint_eq (levels.count, 3);
  static const char *const names[] = { "rail 1", "rail 2", "rail 3" };
  for (size_t i = 0; i < 3; i++)
    {
      ck_assert_str_eq (levels.items[i].name, names[i]);
      ck_assert_str_eq (sections.items[levels.items[i].section].name, "rail");
      ck_assert (levels.items[i].through);
      ck_assert (!levels.items[i].has_height);
      ck_assert_uint_eq (levels.items[i].line, 0);
    }
  ck_assert_uint_eq (sections.count, 1);
}
END_TEST

/* ---- Heights by the picket: job.md, "Rail heights where none are given" (common practice, as in pickets
 * contractors' guides): the outer rails 150 mm in from the picket's ends, a third halfway. ---- */

static sw_status
fill (const char *csv, sw_length picket, sw_length width)
{
  clear ();
  ck_assert_int_eq (read_levels (csv), SW_OK);
  for (size_t i = 0; i < sections.count; i++)
    sections.items[i].width = width;
  settings->picket = picket;
  return sw_levels_fill_heights (&levels, &sections, settings, "levels.csv", report);
}

static void
expect_heights (const double *millimetres)
{
  for (size_t i = 0; i < levels.count; i++)
    if (millimetres[i] < -1000)
      ck_assert (!levels.items[i].has_height);
    else
      {
        ck_assert (levels.items[i].has_height);
        ck_assert_int_eq (levels.items[i].height, (sw_length)(millimetres[i] * 1e6));
      }
}
#define NO_HEIGHT -9999.0

START_TEST (two_rails)
{
  ck_assert_int_eq (fill ("level,section\na,x\nb,x\n", 1200 * SW_MM, 75 * SW_MM), SW_OK);
  /* 1200 - 150 - 75; 825 apart: no third is advised. */
  expect_heights ((const double[]){ 150, 975 });
  remarks_expect (report, "", "two rails");
}
END_TEST

START_TEST (third_is_advised)
{
  ck_assert_int_eq (fill ("level,section\na,x\nb,x\n", 1375 * SW_MM, 75 * SW_MM), SW_OK);
  remarks_expect (report, "", "1000 apart");
  ck_assert_int_eq (fill ("level,section\na,x\nb,x\n", 1376 * SW_MM, 75 * SW_MM), SW_OK);
  remarks_expect (report, "note levels.csv:height\n", "1001 apart");
  remarks_say (report, "1001 mm apart");
  ck_assert_int_eq (fill ("level,section\na,x\nb,x\nc,x\n", 1800 * SW_MM, 75 * SW_MM), SW_OK);
  remarks_expect (report, "", "three are enough");
  expect_heights ((const double[]){ 150, 862.5, 1575 });
}
END_TEST

START_TEST (other_counts)
{
  ck_assert_int_eq (fill ("level,section\na,x\n", 1200 * SW_MM, 100 * SW_MM), SW_OK);
  expect_heights ((const double[]){ 550 });
  ck_assert_int_eq (fill ("level,section\na,x\nb,x\nc,x\nd,x\n", 1800 * SW_MM, 60 * SW_MM), SW_OK);
  expect_heights ((const double[]){ 150, 630, 1110, 1590 });
}
END_TEST

START_TEST (written_heights_stay)
{
  /* A plinth between posts and a capping on top of the picket are no rails of it. */
  ck_assert_int_eq (fill ("level,section,runs,height\nplinth,x,between,\na,x,,\nb,x,,600\nc,x,,\nd,x,,\ncap,x,,1800\n",
                          1800 * SW_MM, 100 * SW_MM),
                    SW_OK);
  expect_heights ((const double[]){ NO_HEIGHT, 150, 600, 1075, 1550, 1800 });
  /* There is nothing to fill. */
  ck_assert_int_eq (fill ("level,section,height\na,x,10\nb,x,20\n", 1800 * SW_MM, 100 * SW_MM), SW_OK);
  expect_heights ((const double[]){ 10, 20 });
  ck_assert_int_eq (fill ("level,section,runs\na,x,between\n", 1800 * SW_MM, 100 * SW_MM), SW_OK);
  expect_heights ((const double[]){ NO_HEIGHT });
  remarks_expect (report, "", "nothing to fill");
}
END_TEST

START_TEST (unknown_width)
{
  ck_assert_int_eq (fill ("level,section\na,x\nb,x\n", 1200 * SW_MM, 0), SW_OK);
  expect_heights ((const double[]){ 150, 1050 });
  remarks_expect (report, "note levels.csv:2:height\n", "unknown width");
}
END_TEST

START_TEST (picket_too_short)
{
  ck_assert_int_eq (fill ("level,section\na,x\nb,x\n", 450 * SW_MM, 75 * SW_MM), SW_OK);
  expect_heights ((const double[]){ 150, 225 });
  ck_assert_int_eq (fill ("level,section\na,x\nb,x\n", 449 * SW_MM, 75 * SW_MM), SW_REJECTED);
  remarks_expect (report, "fault levels.csv:3:height\n", "too short");
  ck_assert_int_eq (fill ("level,section\na,x\nb,x\n", 300 * SW_MM, 0), SW_REJECTED);
  ck_assert_int_eq (fill ("level,section,height\na,x,1400\nb,x,\n", 1500 * SW_MM, 0), SW_REJECTED);
}
END_TEST

/* ---- Levels that overlap: undersides, and widths of sections ---- */

static void
check (const char *csv, sw_length width)
{
  clear ();
  ck_assert_int_eq (read_levels (csv), SW_OK);
  sw_report_clear (report);
  for (size_t i = 0; i < sections.count; i++)
    sections.items[i].width = width;
  sw_levels_check (&levels, &sections, 1, settings, "levels.csv", report);
}

START_TEST (overlapping)
{
  check ("level,section,height\na,x,100\nb,x,174.9\nc,x,\nd,y,300\n", 75 * SW_MM);
  remarks_expect (report, "warning levels.csv:3:height\n", "one pair");
  remarks_say (report, "\"b\", whose underside is taken to be at 174.9 mm, stands in the timber of \"a\", which goes "
                       "from 100 mm up to 175 mm");
  check ("level,section,height\na,x,10\nb,y,40\nc,x,70\n", 75 * SW_MM);
  remarks_expect (report, "warning levels.csv:3:height\n", "every pair");
  remarks_say (report, "up to 85 mm; 2 more pairs overlap");
  check ("level,section,height\na,x,100\nb,y,175\nc,y,\n", 75 * SW_MM);
  remarks_expect (report, "", "on top of each other");
  check ("level,section,height\na,x,100\nb,y,101\n", 0);
  remarks_expect (report, "", "widths not known");
  /* Timber laid flat on the posts is as high as it is thick, here 0. */
  check ("level,section,seat,height\na,x,top,100\nb,y,,101\n", 75 * SW_MM);
  remarks_expect (report, "", "laid flat");
  /* A fault says already that levels go from bottom to top. */
  check ("level,section,height\na,x,100\nb,x,100\nc,x,60\n", 75 * SW_MM);
  remarks_expect (report, "", "wrong order");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("level");
  TCase *tests = tcase_create ("level");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_add_test (tests, columns);
  tcase_add_test (tests, only_what_is_needed);
  tcase_add_test (tests, faults);
  tcase_add_test (tests, no_rows);
  tcase_add_test (tests, without_blocks);
  tcase_add_test (tests, heights_out_of_order);
  tcase_add_test (tests, by_rails);
  tcase_add_test (tests, two_rails);
  tcase_add_test (tests, third_is_advised);
  tcase_add_test (tests, other_counts);
  tcase_add_test (tests, written_heights_stay);
  tcase_add_test (tests, unknown_width);
  tcase_add_test (tests, picket_too_short);
  tcase_add_test (tests, overlapping);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
