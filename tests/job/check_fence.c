/* check_fence.c - runs of posts and bays
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/fence.h"
#include "remarks.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static sw_report *report;
static sw_settings *settings;
static sw_fence fence;

static void
setup (void)
{
  report = sw_report_new ();
  settings = sw_settings_new ();
  memset (&fence, 0, sizeof fence);
}

static void
clear (void)
{
  sw_fence_clear (&fence);
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
read_fence (const char *csv)
{
  clear ();
  sw_table *table = remarks_table (csv, "spans.csv", report);
  sw_status status = sw_fence_read (&fence, table, settings, report);
  sw_table_free (table);
  return status;
}

/* ---- Reading ---- */

START_TEST (plain_run)
{
  ck_assert_int_eq (read_fence ("run,span\nroad,2400\nroad,2.35m\nside,\"7' 10 1/2\"\"\"\n"), SW_OK);
  remarks_expect (report, "", "plain");
  ck_assert_uint_eq (fence.run_count, 2);
  const sw_run *road = &fence.runs[0];
  ck_assert_str_eq (road->name, "road");
  ck_assert_uint_eq (road->bay_count, 2);
  ck_assert_str_eq (road->bays[0].label, "1");
  ck_assert_str_eq (road->bays[1].label, "2");
  ck_assert_int_eq (road->bays[0].span, 2400 * SW_MM);
  ck_assert_int_eq (road->bays[1].measured, 2350 * SW_MM);
  ck_assert_uint_eq (road->bays[1].line, 3);
  ck_assert_int_eq (road->overall, 0);
  for (size_t post = 0; post < 3; post++)
    {
      ck_assert_int_eq (road->posts[post].width, 100 * SW_MM);
      ck_assert_int_eq (road->posts[post].join, SW_JOIN_MAY);
    }
  ck_assert_int_eq (road->bays[0].start.kind, SW_END_FLUSH);
  ck_assert (!road->bays[0].start.written);
  ck_assert_int_eq (road->bays[0].finish.kind, SW_END_ON);
  ck_assert_int_eq (road->bays[1].start.kind, SW_END_ON);
  ck_assert_int_eq (road->bays[1].finish.kind, SW_END_FLUSH);
  ck_assert_uint_eq (fence.runs[1].bay_count, 1);
  ck_assert_int_eq (fence.runs[1].bays[0].span, 2400300000);
}
END_TEST

START_TEST (all_columns)
{
  ck_assert_int_eq (read_fence ("overall,opening,rise,join,finish,start,near_post_width,post_width,bay,span,run\n"
                                "4917.5,NO,250,Never,,housed 40,125,90,gate side,2400,road\n"
                                ",,-100,,mitre 120,,,110,,2400,road\n"),
                    SW_OK);
  remarks_expect (report, "", "all columns");
  const sw_run *run = &fence.runs[0];
  ck_assert_int_eq (run->overall, 4917500000);
  ck_assert_str_eq (run->bays[0].label, "gate side");
  ck_assert_str_eq (run->bays[1].label, "2");
  ck_assert_int_eq (run->posts[0].width, 125 * SW_MM);
  ck_assert_int_eq (run->posts[1].width, 90 * SW_MM);
  ck_assert_int_eq (run->posts[2].width, 110 * SW_MM);
  ck_assert_int_eq (run->posts[1].join, SW_JOIN_NEVER);
  ck_assert_int_eq (run->bays[0].rise, 250 * SW_MM);
  ck_assert_int_eq (run->bays[1].rise, -100 * SW_MM);
  ck_assert_int_eq (run->bays[0].start.length, 40 * SW_MM);
  ck_assert_int_eq (run->bays[1].finish.angle, 120000);
  ck_assert_int_eq (sw_run_distance (run, 2), 4800 * SW_MM);
  ck_assert_int_eq (sw_run_height (run, 1), 250 * SW_MM);
  ck_assert_int_eq (sw_run_height (run, 2), 150 * SW_MM);
  /* job.md, derived: 2400 that rises 250 is 2413.0 along the slope. */
  ck_assert_int_eq ((sw_bay_on_slope (&run->bays[0], 2400 * SW_MM) + SW_MM / 20) / (SW_MM / 10), 24130);
}
END_TEST

START_TEST (measured_clear)
{
  /* job.md, derived: three clear bays of 2300 between four 100 mm posts are 2400 centres, 7300 over all. */
  settings->measured = SW_MEASURED_CLEAR;
  ck_assert_int_eq (read_fence ("run,span,overall\nroad,2300,7300\nroad,2300,\nroad,2300,\n"), SW_OK);
  remarks_expect (report, "", "clear");
  for (size_t bay = 0; bay < 3; bay++)
    {
      ck_assert_int_eq (fence.runs[0].bays[bay].measured, 2300 * SW_MM);
      ck_assert_int_eq (fence.runs[0].bays[bay].span, 2400 * SW_MM);
    }
  ck_assert_int_eq (read_fence ("run,span,post_width,near_post_width\nroad,2300,75,125\nroad,2300,90,\n"), SW_OK);
  ck_assert_int_eq (fence.runs[0].bays[0].span, 2400 * SW_MM);
  ck_assert_int_eq (fence.runs[0].bays[1].span, 2382500000);
}
END_TEST

START_TEST (ends_inside_a_run)
{
  ck_assert_int_eq (read_fence ("run,span,start,finish\n"
                                "r,2400,,\n"
                                "r,2400,,face\n"
                                "r,2400,,\n"
                                "r,2400,housed,\n"
                                "r,2400,,reach 10\n"
                                "r,2400,flush,\n"
                                "r,2400,,centre\n"),
                    SW_OK);
  const sw_bay *bays = fence.runs[0].bays;
  static const sw_end_kind kinds[7][2] = {
    { SW_END_FLUSH, SW_END_ON },  { SW_END_ON, SW_END_FACE },  { SW_END_CENTRE, SW_END_CENTRE },
    { SW_END_HOUSED, SW_END_ON }, { SW_END_ON, SW_END_REACH }, { SW_END_FLUSH, SW_END_ON },
    { SW_END_ON, SW_END_CENTRE },
  };
  for (size_t i = 0; i < 7; i++)
    {
      ck_assert_msg (bays[i].start.kind == kinds[i][0], "bay %zu", i);
      ck_assert_msg (bays[i].finish.kind == kinds[i][1], "bay %zu", i);
    }
  ck_assert (bays[1].finish.written);
  ck_assert (!bays[2].start.written);
}
END_TEST

START_TEST (openings)
{
  ck_assert_int_eq (read_fence ("run,span,opening,start,finish\n"
                                "r,1000,yes,,\n"
                                "r,2400,,,\n"
                                "r,2400,,,flush\n"
                                "r,3000,YES,,\n"
                                "r,3000,yes,,\n"
                                "r,2400,no,housed 20,\n"
                                "r,900,yes,,\n"),
                    SW_OK);
  remarks_expect (report, "", "openings");
  const sw_bay *bays = fence.runs[0].bays;
  static const sw_end_kind kinds[7][2] = {
    { SW_END_FACE, SW_END_FACE }, { SW_END_FACE, SW_END_ON },   { SW_END_ON, SW_END_FLUSH },
    { SW_END_FACE, SW_END_FACE }, { SW_END_FACE, SW_END_FACE }, { SW_END_HOUSED, SW_END_FACE },
    { SW_END_FACE, SW_END_FACE },
  };
  static const bool open[7] = { true, false, false, true, true, false, true };
  for (size_t i = 0; i < 7; i++)
    {
      ck_assert_int_eq (bays[i].opening, open[i]);
      ck_assert_msg (bays[i].start.kind == kinds[i][0], "bay %zu", i);
      ck_assert_msg (bays[i].finish.kind == kinds[i][1], "bay %zu", i);
    }
  ck_assert_int_eq (sw_run_distance (&fence.runs[0], 7), 15100 * SW_MM);
}
END_TEST

START_TEST (cell_faults)
{
  ck_assert_int_eq (read_fence ("run,span,bay,post_width,near_post_width,start,finish,join,rise,opening,overall\n"
                                "a,,,,,,,,,,\n"
                                "a,0m,,,,,,,,,\n"
                                "a,-2400,,,,,,,,,\n"
                                "a,24,,,,,,,,,\n"
                                "a,long,,,,,,,,,\n"
                                "a,2400,,0,,,,,,,\n"
                                "a,2400,,wide,,,,,,,\n"
                                "b,2400,,,-1,,,,,,x\n"
                                "b,2400,,,,left,,,,,\n"
                                "b,2400,,,,,right,,,,\n"
                                "b,2400,,,,,,sometimes,,,\n"
                                "b,2400,,,,,,,steep,,\n"
                                "b,2400,,,,,,,,perhaps,\n"
                                ",2400,,,,,,,,,\n"
                                "b,2400,,,120,,,,,,\n"
                                "b,2400,,,,,,,,,9000\n"),
                    SW_REJECTED);
  remarks_expect (report,
                  "fault spans.csv:2:span\nfault spans.csv:3:span\nfault spans.csv:4:span\nfault spans.csv:5:span\n"
                  "fault spans.csv:6:span\nfault spans.csv:7:post_width\nfault spans.csv:8:post_width\n"
                  "fault spans.csv:9:near_post_width\nfault spans.csv:9:overall\nfault spans.csv:10:start\n"
                  "fault spans.csv:11:finish\nfault spans.csv:12:join\nfault spans.csv:13:rise\n"
                  "fault spans.csv:14:opening\nfault spans.csv:15:run\nfault spans.csv:16:near_post_width\n"
                  "fault spans.csv:17:overall\n",
                  "cells");
  remarks_say (report, "found \"sometimes\"");
}
END_TEST

START_TEST (rows_of_a_run_apart)
{
  ck_assert_int_eq (read_fence ("run,span\na,2400\nb,2400\na,2400\na,2400\nb,2400\n"), SW_REJECTED);
  remarks_expect (report, "fault spans.csv:4:run\nfault spans.csv:6:run\n", "apart");
  remarks_say (report, "but run \"a\" began on line 2 already");
}
END_TEST

START_TEST (bays_of_posts_only)
{
  ck_assert_int_eq (read_fence ("run,span,post_width,near_post_width\na,100,100,100\n"), SW_REJECTED);
  remarks_expect (report, "fault spans.csv:2:span\n", "no opening");
  ck_assert_int_eq (read_fence ("run,span,post_width,near_post_width\na,100.000001,100,100\n"), SW_OK);
  settings->measured = SW_MEASURED_CLEAR;
  ck_assert_int_eq (read_fence ("run,span,post_width,near_post_width\na,50,2000,2000\n"), SW_OK);
}
END_TEST

START_TEST (steep)
{
  ck_assert_int_eq (read_fence ("run,span,rise\na,1000,2000\na,1000,-2000\n"), SW_OK);
  ck_assert_int_eq (read_fence ("run,span,rise\na,1000,2000.1\na,1000,-2001\n"), SW_REJECTED);
  remarks_expect (report, "fault spans.csv:2:rise\nfault spans.csv:3:rise\n", "steep");
  remarks_say (report, "right column");
}
END_TEST

START_TEST (openings_in_other_words)
{
  static const bool open[] = { false, true, false, true, false, true, false };
  ck_assert_int_eq (read_fence ("run,span,opening\na,2400,\na,2400,Y\na,2400,n\na,2400,Gate\na,2400,no\na,2400,yes\n"
                                "a,2400,N\n"),
                    SW_OK);
  remarks_expect (report, "", "openings");
  for (size_t i = 0; i < 7; i++)
    ck_assert_int_eq (fence.runs[0].bays[i].opening, open[i]);
  ck_assert_int_eq (read_fence ("run,span,opening\na,2400,\na,2400,x\n"), SW_REJECTED);
  remarks_say (report, "expected \"no\" or \"yes\", found \"x\"");
}
END_TEST

/* If rows do not stand together, the rows with the rarer name are to blame. */
START_TEST (the_odd_row_is_blamed)
{
  static const struct
  {
    const char *csv;
    const char *faults;
    const char *says;
  } cases[] = {
    { "front,2400\nFront,2400\nfront,2400\n", "fault spans.csv:3:run\n",
      "expected \"front\", as the rows around it have it, found \"Front\"" },
    { "a b,2400\na b,2400\nA B,2400\na b,2400\n", "fault spans.csv:4:run\n", "found \"A B\"" },
    { "side,2400\nfront,2400\nfront ,2400\nfr ont,2400\nfront,2400\nFront,2400\nfront,2400\n",
      "fault spans.csv:5:run\nfault spans.csv:7:run\n", "found \"fr ont\"" },
    /* the first and the third have a rarer name than the others */
    { "Front,2400\nfront,2400\nfront,2400\nfront,2400\nFront,2400\nfront,2400\n",
      "fault spans.csv:2:run\nfault spans.csv:6:run\n", "expected \"front\"" },
    /* each is blamed only once, although two runs come back */
    { "a,2400\nA,2400\na,2400\nA,2400\na,2400\n", "fault spans.csv:3:run\nfault spans.csv:5:run\n", "found \"A\"" },
    /* with another name between them, the rows are apart */
    { "front,2400\nside,2400\nfront,2400\n", "fault spans.csv:4:run\n",
      "the rows of one run must stand together, but run \"front\" began on line 2 already" },
    { "front,2400\nFront,2400\nside,2400\nfront,2400\n", "fault spans.csv:5:run\n", "began on line 2 already" },
    /* The fault of the row itself is reported first. */
    { "a,2400\nA,wide\na,2400\n", "fault spans.csv:3:span\nfault spans.csv:3:run\n", "expected \"a\"" },
  };
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
    {
      char csv[400];
      snprintf (csv, sizeof csv, "run,span\n%s", cases[i].csv);
      ck_assert_int_eq (read_fence (csv), SW_REJECTED);
      remarks_expect (report, cases[i].faults, csv);
      remarks_say (report, cases[i].says);
    }
  /* Two runs with similar names are not apart. */
  ck_assert_int_eq (read_fence ("run,span\nfront,2400\nFront,2400\nFront,2400\n"), SW_OK);
}
END_TEST

/* Thousands of rows that alternate give as many faults, each once. */
START_TEST (names_in_turn)
{
  enum
  {
    ROWS = 20000
  };
  static char csv[ROWS * 8 + 16];
  size_t used = (size_t)sprintf (csv, "run,span\n");
  for (int i = 0; i < ROWS; i++)
    used += (size_t)sprintf (csv + used, "%c,2400\n", i % 2 == 0 ? 'a' : 'A');
  ck_assert_int_eq (read_fence (csv), SW_REJECTED);
  ck_assert_uint_eq (sw_report_get (report, 0)->line, 3);
  ck_assert_uint_gt (sw_report_faults_of (report, "spans.csv"), ROWS / 2 - 100);
}
END_TEST

/* The first row has figures and no column's name, or one word that may also be a name. */
START_TEST (no_header)
{
  static const char *const missing[] = { "front,2400\nfront,2300\n", "side,2400,y\nside,2300,n\n", "1,94.5in\n1,8ft\n",
                                         "\"front\";2400mm;;\nfront;2,3m;;\n", "front,-2400,\"7' 10\"\"\"\n" };
  for (size_t i = 0; i < sizeof missing / sizeof missing[0]; i++)
    {
      ck_assert_int_eq (read_fence (missing[i]), SW_REJECTED);
      remarks_expect (report, "fault spans.csv:1\n", missing[i]);
      remarks_say (report, "the first row looks like data and names no column; expected a header row above it, such as "
                           "run,span, found \"");
    }
  ck_assert_int_eq (read_fence ("\nfront,2400,100,flush\n"), SW_REJECTED);
  remarks_expect (report, "fault spans.csv:2\n", "below a blank line");
  remarks_say (report, "found \"front\", \"2400\", \"100\"");
  /* These are headers with other words, or without what is needed. */
  ck_assert_int_eq (read_fence ("side,length,2026\nfront,2400,\n"), SW_REJECTED);
  remarks_say (report, "did you mean \"span\"?");
  ck_assert_int_eq (read_fence ("run,2026\nfront,2400\n"), SW_REJECTED);
  remarks_say (report, "expected a column \"span\"");
  ck_assert_int_eq (read_fence ("colour,shape\nred,round\n"), SW_REJECTED);
  remarks_say (report, "expected a column \"run\"");
}
END_TEST

START_TEST (ends_on_openings)
{
  ck_assert_int_eq (read_fence ("run,span,opening,start,finish\na,2400,,,\na,2400,yes,face,flush\n"), SW_REJECTED);
  remarks_expect (report, "fault spans.csv:3:start\nfault spans.csv:3:finish\n", "ends on openings");
  ck_assert_int_eq (read_fence ("run,span,opening\na,2400,\nb,2400,yes\nb,2400,yes\n"), SW_REJECTED);
  remarks_expect (report, "fault spans.csv:3:opening\n", "only openings");
}
END_TEST

START_TEST (housings)
{
  /* Joinery texts, job.md: best kept to a third of the post. */
  ck_assert_int_eq (read_fence ("run,span,post_width,start,finish\n"
                                "a,2400,100,housed 33,\n"
                                "a,2400,99,,housed 33\n"
                                "a,2400,98,,housed 33\n"
                                "a,2400,100,housed 49,housed 50\n"),
                    SW_OK);
  remarks_expect (report, "warning spans.csv:4:finish\nwarning spans.csv:5:start\nwarning spans.csv:5:finish\n",
                  "housings");
  remarks_say (report, "post 4 of run \"a\"");
  remarks_say (report, "50 mm in post 5");
  ck_assert_int_eq (
      read_fence ("run,span,post_width,near_post_width,start,finish\na,2400,100,90,housed 46,housed 50.1\n"),
      SW_REJECTED);
  remarks_expect (report, "fault spans.csv:2:start\nfault spans.csv:2:finish\n", "too deep");
}
END_TEST

/* Saws swing to 45 degrees (common practice).  A remark tells of a sharper corner on either side. */
START_TEST (sharp_mitres)
{
  ck_assert_int_eq (read_fence ("run,span,start,finish\na,2400,mitre 90,mitre 89.9\nb,2400,mitre 270,mitre 300\n"
                                "c,2400,mitre 135,mitre 45\n"),
                    SW_OK);
  remarks_expect (report, "warning spans.csv:2:finish\nwarning spans.csv:3:finish\nwarning spans.csv:4:finish\n",
                  "mitres");
  remarks_say (report, "a corner of 89.9 degrees, needs the saw set 45.05 degrees off square");
  remarks_say (report, "a corner of 300 degrees, needs the saw set 60 degrees off square");
  /* The corner's angle has the setting of the saw. */
  remarks_say (report, "as sharp as 45 degrees and needs the saw set 67.5 off square; a square corner, sawn at 45, is"
                       " \"mitre 90\"");
}
END_TEST

/* At a step every level ends on the centre of the post, and beside a gate on its face, unless
 * something else is written. */
START_TEST (steps)
{
  ck_assert_int_eq (read_fence ("run,span,finish,start,opening,step\n"
                                "a,2400,,,,\n"
                                "a,2400,,,,300\n"
                                "a,2400,,,,-0.15m\n"
                                "a,2400,flush,,,100\n"
                                "a,2400,,reach 20,,50\n"
                                "a,2400,,,yes,70\n"
                                "a,2400,,,,\n"),
                    SW_OK);
  remarks_expect (report, "", "steps");
  const sw_bay *bays = fence.runs[0].bays;
  ck_assert_int_eq (bays[1].step, 300 * SW_MM);
  ck_assert_int_eq (bays[2].step, -150 * SW_MM);
  ck_assert (bays[0].finish.kind == SW_END_ON && bays[1].start.kind == SW_END_ON);
  ck_assert (bays[1].finish.kind == SW_END_CENTRE && bays[2].start.kind == SW_END_CENTRE);
  ck_assert (bays[3].finish.kind == SW_END_FLUSH && bays[4].start.kind == SW_END_REACH);
  ck_assert (bays[4].finish.kind == SW_END_FACE && bays[6].start.kind == SW_END_FACE);
  ck_assert_int_eq (sw_run_step (&fence.runs[0], 1), 0);
  ck_assert_int_eq (sw_run_step (&fence.runs[0], 2), 300 * SW_MM);
  ck_assert_int_eq (sw_run_step (&fence.runs[0], 7), 370 * SW_MM);
  ck_assert_int_eq (sw_run_height (&fence.runs[0], 7), 0);
  /* Nothing is beyond a run's last post. */
  ck_assert_int_eq (read_fence ("run,span,step\na,2400,300\nb,2400,0\n"), SW_OK);
  remarks_expect (report, "warning spans.csv:2:step\n", "a last step");
  ck_assert_int_eq (fence.runs[0].bays[0].step, 0);
  ck_assert_int_eq (read_fence ("run,span,step\na,2400,5001\na,2400,\n"), SW_REJECTED);
  remarks_expect (report, "fault spans.csv:2:step\n", "too high");
}
END_TEST

START_TEST (joins_without_effect)
{
  ck_assert_int_eq (read_fence ("run,span,join,opening,finish\n"
                                "a,2400,always,,\n"
                                "a,2400,never,,centre\n"
                                "a,2400,always,,\n"
                                "a,2400,may,yes,\n"
                                "a,2400,never,,\n"
                                "a,2400,always,,\n"),
                    SW_OK);
  remarks_expect (report, "warning spans.csv:3:join\nwarning spans.csv:4:join\nwarning spans.csv:7:join\n", "joins");
  static const sw_join_rule rules[]
      = { SW_JOIN_MAY, SW_JOIN_ALWAYS, SW_JOIN_MAY, SW_JOIN_MAY, SW_JOIN_MAY, SW_JOIN_NEVER, SW_JOIN_MAY };
  for (size_t post = 0; post < 7; post++)
    ck_assert_int_eq (fence.runs[0].posts[post].join, rules[post]);
}
END_TEST

START_TEST (reaches_that_take_the_bay)
{
  ck_assert_int_eq (read_fence ("run,span,start,finish\na,1000,reach -500,reach -499.999999\n"), SW_OK);
  ck_assert_int_eq (read_fence ("run,span,start,finish\na,1000,reach -500,reach -500\nb,1000,face,reach -950\n"
                                "c,1000,reach -1000,\nd,1000,reach 5000,reach 5000\n"),
                    SW_REJECTED);
  remarks_expect (report, "fault spans.csv:2:start\nfault spans.csv:3:finish\nfault spans.csv:4:start\n", "reaches");
}
END_TEST

START_TEST (overall)
{
  /* Six readings of up to 3 m: 5 x 0.9, and 0.3 + 0.2 x 13 for the whole, make 7.4 mm. */
  static const char rows[] = "r,2400,\nr,2400,\nr,2400,\nr,2400,\n";
  char csv[200];
  static const struct
  {
    const char *overall;
    bool warned;
  } cases[]
      = { { "12100", false }, { "12107.4", false }, { "12107.5", true }, { "12092.6", false }, { "12092.5", true } };
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
    {
      snprintf (csv, sizeof csv, "run,span,overall\nr,2400,%s\n%s", cases[i].overall, rows);
      ck_assert_int_eq (read_fence (csv), SW_OK);
      remarks_expect (report, cases[i].warned ? "warning spans.csv:2:overall\n" : "", cases[i].overall);
    }
  remarks_say (report, "12100 mm");
  remarks_say (report, "12092.5 mm was measured: 7.5 mm apart");
  remarks_say (report, "the 7.4 mm that a class II tape may be wrong over 6 readings");
}
END_TEST

START_TEST (too_long_a_run)
{
  ck_assert_int_eq (read_fence ("run,span\na,60000m\na,40000m\n"), SW_OK);
  ck_assert_int_eq (read_fence ("run,span\na,60000m\na,40001m\na,60000m\n"), SW_REJECTED);
  remarks_expect (report, "fault spans.csv:3:span\n", "too long");
}
END_TEST

START_TEST (no_rows)
{
  ck_assert_int_eq (read_fence ("run,span\n"), SW_REJECTED);
  remarks_expect (report, "fault spans.csv\n", "no rows");
  ck_assert_int_eq (read_fence ("bay,post width\n1,100\n"), SW_REJECTED);
  remarks_expect (report, "fault spans.csv:1:run\nfault spans.csv:1:span\nwarning spans.csv:1:post width\n",
                  "no columns");
  remarks_say (report, "did you mean \"post_width\"");
}
END_TEST

START_TEST (in_inches)
{
  settings->inches = true;
  ck_assert_int_eq (read_fence ("run,span,post_width,finish\na,8ft,3.5in,housed 1.5in\n"), SW_OK);
  remarks_say (report, "1 1/2 in in post 2");
}
END_TEST

/* ---- Straightness ---- */

START_TEST (straightness)
{
  ck_assert_int_eq (read_fence ("run,span,rise\na,2000,100\na,2000,110\na,1000,50\na,3000,0\n"), SW_OK);
  const sw_run *run = &fence.runs[0];
  /* Post 1 stands at 100 where the line from 0 to 210 over 4000 is at 105. */
  ck_assert (sw_run_is_straight (run, 0, 2, 5 * SW_MM));
  ck_assert (!sw_run_is_straight (run, 0, 2, 5 * SW_MM - 1));
  ck_assert (sw_run_is_straight (run, 0, 1, 0));
  ck_assert (sw_run_is_straight (run, 3, 4, 0));
  /* Posts 1 and 2 at 100 and 210 where the line from 0 to 260 over 5000 is at 104 and 208. */
  ck_assert (sw_run_is_straight (run, 0, 3, 4 * SW_MM));
  ck_assert (!sw_run_is_straight (run, 0, 3, 4 * SW_MM - 1));
  /* Post 3 at 50 where the line from post 2 is at 12.5. */
  ck_assert (sw_run_is_straight (run, 2, 4, 37500000));
  ck_assert (!sw_run_is_straight (run, 2, 4, 37499999));
}
END_TEST

START_TEST (straightness_of_huge_runs)
{
  ck_assert_int_eq (read_fence ("run,span,rise\na,50000m,100000m\na,50000m,-100000m\n"), SW_OK);
  ck_assert (!sw_run_is_straight (&fence.runs[0], 0, 2, SW_METRE));
}
END_TEST

/* ---- Sizes ---- */

START_TEST (many_runs)
{
  /* Each row is a run.  This is fast only if a look-up does not depend on the number of names. */
  enum
  {
    RUNS = 200000
  };
  char *csv = malloc (32 * RUNS);
  size_t used = (size_t)sprintf (csv, "run,span\n");
  for (int i = 0; i < RUNS; i++)
    used += (size_t)sprintf (csv + used, "r%d,2400\n", i);
  ck_assert_int_eq (read_fence (csv), SW_OK);
  ck_assert_uint_eq (fence.run_count, RUNS);
  sprintf (csv + used, "r0,2400\n");
  ck_assert_int_eq (read_fence (csv), SW_REJECTED);
  remarks_expect (report, "fault spans.csv:200002:run\n", "many runs");
  free (csv);
}
END_TEST

/* ---- What was perhaps not meant ---- */

START_TEST (spans_in_centimetres)
{
  ck_assert_int_eq (read_fence ("run,span\nroad,2400\nroad,235.5\nroad,241.5\n"), SW_OK);
  remarks_expect (report, "warning spans.csv:3:span\n", "decimals");
  remarks_say (report, "is taken for 235.5 mm, since a bare number is millimetres; if centimetres are meant, write "
                       "235.5cm (2355 mm)");
  ck_assert_int_eq (read_fence ("run;span\nroad;235,5\n"), SW_OK);
  remarks_say (report, "write 235,5cm (2355 mm)");
  ck_assert_int_eq (read_fence ("run,span\nroad,240\nroad,235\nside,599\n"), SW_OK);
  remarks_expect (report, "warning spans.csv:2:span\n", "all short");
  remarks_say (report, "is taken for 240 mm, since a bare number is millimetres, and no span is 600 mm long; if "
                       "centimetres are meant, write 240cm (2400 mm)");
  settings->inches = true;
  ck_assert_int_eq (read_fence ("run,span\nroad,94.5\n"), SW_REJECTED); /* less than its posts */
  ck_assert_int_eq (read_fence ("run,span\nroad,150.5\n"), SW_OK);
  remarks_say (report, "is taken for 150.5 mm, since a bare number is millimetres; if inches are meant, write 150.5in");
  settings->inches = false;
  static const char *const clear_ones[]
      = { "run,span\nroad,2355.5\nroad,1000.5\n", "run,span\nroad,235.5mm\n", "run,span\nroad,300\nroad,600\n",
          "run,span\nroad,240mm\nroad,235\n",     "run,span\nroad,23.5cm\n",  "run,span\nroad,12.5in\n" };
  for (size_t i = 0; i < sizeof clear_ones / sizeof clear_ones[0]; i++)
    {
      ck_assert_int_eq (read_fence (clear_ones[i]), SW_OK);
      remarks_expect (report, "", clear_ones[i]);
    }
}
END_TEST

START_TEST (totals_of_a_spreadsheet)
{
  ck_assert_int_eq (read_fence ("run,span\nroad,2400\nroad,2350\nside,2000\nTotal,6749\n"), SW_OK);
  remarks_expect (report, "warning spans.csv:5:run\n", "named");
  remarks_say (report, "is taken for a run of one bay of 6749 mm; if the row is a spreadsheet's total, leave it out");
  /* A total is found by its length, whatever its name. */
  ck_assert_int_eq (read_fence ("run,span\nroad,2400\nroad,2350\nside,2000\nX,6750\n"), SW_OK);
  remarks_expect (report, "warning spans.csv:5:run\n", "the sum of all others");
  remarks_say (report, "is taken for a run of one bay of 6750 mm, which is what all others add up to; if the row");
  ck_assert_int_eq (read_fence ("run,bay,span\nroad,,2400\nroad,,2350\nroad,Sub-total:,4750\nside,,2400\n"
                                "side total,,2400\nsum,sum,900\n"),
                    SW_OK);
  remarks_expect (report, "warning spans.csv:4:bay\nwarning spans.csv:6:run\nwarning spans.csv:7:run\n", "each");
  remarks_say (report, "is taken for a bay of 4750 mm; if the row is");
  static const char *const clear_ones[]
      = { "run,span\nroad,2400\nside,2400\n", "run,span\nroad,2400\nroad,2400\nside,4801\n",
          "run,span\ntotal,2400\ntotal,2400\n", "run,span\nsummer,2400\ntotality,2350\n" };
  for (size_t i = 0; i < sizeof clear_ones / sizeof clear_ones[0]; i++)
    {
      ck_assert_int_eq (read_fence (clear_ones[i]), SW_OK);
      remarks_expect (report, "", clear_ones[i]);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("fence");
  TCase *tests = tcase_create ("reading");
  tcase_set_timeout (tests, 60);
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_add_test (tests, plain_run);
  tcase_add_test (tests, all_columns);
  tcase_add_test (tests, measured_clear);
  tcase_add_test (tests, ends_inside_a_run);
  tcase_add_test (tests, openings);
  tcase_add_test (tests, cell_faults);
  tcase_add_test (tests, rows_of_a_run_apart);
  tcase_add_test (tests, bays_of_posts_only);
  tcase_add_test (tests, steep);
  tcase_add_test (tests, ends_on_openings);
  tcase_add_test (tests, openings_in_other_words);
  tcase_add_test (tests, no_header);
  tcase_add_test (tests, the_odd_row_is_blamed);
  tcase_add_test (tests, names_in_turn);
  tcase_add_test (tests, housings);
  tcase_add_test (tests, sharp_mitres);
  tcase_add_test (tests, steps);
  tcase_add_test (tests, joins_without_effect);
  tcase_add_test (tests, reaches_that_take_the_bay);
  tcase_add_test (tests, overall);
  tcase_add_test (tests, too_long_a_run);
  tcase_add_test (tests, no_rows);
  tcase_add_test (tests, in_inches);
  tcase_add_test (tests, straightness);
  tcase_add_test (tests, straightness_of_huge_runs);
  tcase_add_test (tests, many_runs);
  tcase_add_test (tests, spans_in_centimetres);
  tcase_add_test (tests, totals_of_a_spreadsheet);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
