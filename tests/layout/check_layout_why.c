/* check_layout_why.c - the reasons that are given when a job cannot be laid out
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout_job.h"
#include "suite.h"

#include "base/report.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static sw_job *job;
static sw_report *report;

static void
setup (void)
{
  job = job_make ();
  report = sw_report_new ();
}

static void
teardown (void)
{
  sw_report_free (report);
  job_drop (job);
}

static void
lay_out_in_vain (void)
{
  sw_layout *layout;
  sw_report_clear (report);
  ck_assert_int_eq (sw_layout_new (&layout, job, report), SW_NO_PLAN);
  ck_assert_ptr_null (layout);
}

static void
check_remark (size_t index, const char *file, size_t line, const char *column, const char *message)
{
  const sw_remark *remark = sw_report_get (report, index);
  ck_assert_ptr_nonnull (remark);
  ck_assert_str_eq (remark->message, message);
  ck_assert_int_eq (remark->severity, SW_FAULT);
  if (file == NULL)
    ck_assert_ptr_null (remark->file);
  else
    ck_assert_str_eq (remark->file, file);
  ck_assert_uint_eq (remark->line, line);
  if (column == NULL)
    ck_assert_ptr_null (remark->column);
  else
    ck_assert_str_eq (remark->column, column);
}

/* Fail unless there is exactly this reason. */
static void
expect (const char *file, size_t line, const char *column, const char *message)
{
  lay_out_in_vain ();
  check_remark (0, file, line, column, message);
  ck_assert_uint_eq (sw_report_count (report), 1);
}

/* Three bays of 2400 and one rail of 4.8 m stock, for the tests to spoil. */
static sw_run *
good_fence (void)
{
  job_even_run (job, "road", 3, 2400 * SW_MM, 100 * SW_MM);
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 4800 * SW_MM);
  sw_layout *layout;
  ck_assert_int_eq (sw_layout_new (&layout, job, report), SW_OK);
  sw_layout_free (layout);
  return &job->fence.runs[0];
}

START_TEST (bay_too_long)
{
  good_fence ()->bays[2].span = 5600 * SW_MM;
  expect ("spans.csv", 4, "span",
          "run road, level rail 1: bay 3 (posts 3 to 4) needs a piece of 5650 mm with its end; the longest rail that "
          "can be had is 4.8 m: set a post, or get 5.7 m");
  /* An inner bay has no end. */
  job->fence.runs[0].bays[2].span = 2400 * SW_MM;
  job->fence.runs[0].bays[1].span = 4801 * SW_MM;
  expect ("spans.csv", 3, "span",
          "run road, level rail 1: bay 2 (posts 2 to 3) needs a piece of 4801 mm; the longest rail that can be had is "
          "4.8 m: set a post, or get 5.1 m");
  /* A length that is a hair too long is not shown as the length that would fit. */
  job->fence.runs[0].bays[1].span = 4800 * SW_MM + 1;
  expect ("spans.csv", 3, "span",
          "run road, level rail 1: bay 2 (posts 2 to 3) needs a piece of 4800.1 mm; the longest rail that can be had "
          "is 4.8 m: set a post, or get 5.1 m");
}
END_TEST

START_TEST (single_bay_with_both_ends)
{
  job_even_run (job, "porch", 1, 4800 * SW_MM, 100 * SW_MM);
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 4800 * SW_MM);
  expect ("spans.csv", 2, "span",
          "run porch, level rail 1: bay 1 (posts 1 to 2) needs a piece of 4900 mm with its ends; the longest rail that "
          "can be had is 4.8 m: set a post, or get 5.1 m");
}
END_TEST

/* A listed length that cannot be had now is advised, and one that nobody sells is not. */
START_TEST (what_to_get)
{
  good_fence ()->bays[1].span = 5000 * SW_MM;
  job_stock (job, "rail", 6300 * SW_MM)->limit = 0;
  expect ("spans.csv", 3, "span",
          "run road, level rail 1: bay 2 (posts 2 to 3) needs a piece of 5000 mm; the longest rail that can be had is "
          "4.8 m: set a post, or get 6.3 m");
  job->fence.runs[0].bays[1].span = 11999 * SW_MM;
  expect ("spans.csv", 3, "span",
          "run road, level rail 1: bay 2 (posts 2 to 3) needs a piece of 11999 mm; the longest rail that can be had is "
          "4.8 m: set a post, or get 12.0 m");
  job->fence.runs[0].bays[1].span = 12001 * SW_MM;
  expect ("spans.csv", 3, "span",
          "run road, level rail 1: bay 2 (posts 2 to 3) needs a piece of 12001 mm; the longest rail that can be had is "
          "4.8 m: set a post");
}
END_TEST

START_TEST (end_trim_counts)
{
  good_fence ()->bays[1].span = 4760 * SW_MM;
  job->settings->end_trim = 25 * SW_MM;
  expect ("spans.csv", 3, "span",
          "run road, level rail 1: bay 2 (posts 2 to 3) needs a piece of 4760 mm; the longest rail that can be had is "
          "4.8 m (4750 mm without its end trim): set a post, or get 5.1 m");
  /* 5060 + 2 x 25 does not come out of 5.1 m. */
  job->fence.runs[0].bays[1].span = 5060 * SW_MM;
  expect ("spans.csv", 3, "span",
          "run road, level rail 1: bay 2 (posts 2 to 3) needs a piece of 5060 mm; the longest rail that can be had is "
          "4.8 m (4750 mm without its end trim): set a post, or get 5.4 m");
}
END_TEST

START_TEST (longest_piece_to_handle)
{
  good_fence ()->bays[1].span = 3100 * SW_MM;
  job->settings->max_piece = 3000 * SW_MM;
  expect ("spans.csv", 3, "span",
          "run road, level rail 1: bay 2 (posts 2 to 3) needs a piece of 3100 mm; --max-piece is 3000 mm: set a post, "
          "or allow longer pieces");
  /* Longer stock alone would not help. */
  job->fence.runs[0].bays[1].span = 5000 * SW_MM;
  expect ("spans.csv", 3, "span",
          "run road, level rail 1: bay 2 (posts 2 to 3) needs a piece of 5000 mm; the longest rail that can be had is "
          "4.8 m and --max-piece is 3000 mm: set a post, or allow longer pieces");
}
END_TEST

START_TEST (bays_forced_together)
{
  sw_run *run = good_fence ();
  run->posts[1].join = SW_JOIN_NEVER;
  expect ("spans.csv", 2, "join",
          "run road, level rail 1: bays 1 and 2 (posts 1 to 3) need one piece of 4850 mm with its end, for no join is "
          "allowed on post 2; the longest rail that can be had is 4.8 m: allow a join there, or get 5.1 m");
  run->posts[2].join = SW_JOIN_NEVER;
  expect ("spans.csv", 2, "join",
          "run road, level rail 1: bays 1 to 3 (posts 1 to 4) need one piece of 7300 mm with its ends, for no join is "
          "allowed on posts 2 and 3; the longest rail that can be had is 4.8 m: allow a join there, or get 7.5 m");
  /* A join does not help where a single bay is too long. */
  run->posts[2].join = SW_JOIN_MAY;
  run->bays[0].span = 5000 * SW_MM;
  expect ("spans.csv", 2, "span",
          "run road, level rail 1: bays 1 and 2 (posts 1 to 3) need one piece of 7450 mm with its end, for no join is "
          "allowed on post 2; the longest rail that can be had is 4.8 m: set a post, or get 7.5 m");
}
END_TEST

START_TEST (many_bays_forced_together)
{
  job_even_run (job, "road", 6, 2400 * SW_MM, 100 * SW_MM);
  for (size_t p = 2; p <= 4; p++)
    job->fence.runs[0].posts[p].join = SW_JOIN_NEVER;
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 4800 * SW_MM);
  job->settings->max_piece = 4800 * SW_MM;
  expect ("spans.csv", 3, "join",
          "run road, level rail 1: bays 2 to 5 (posts 2 to 6) need one piece of 9600 mm, for no join is allowed on "
          "posts 3 to 5; the longest rail that can be had is 4.8 m and --max-piece is 4800 mm: allow a join there, or "
          "allow longer pieces");
}
END_TEST

START_TEST (bend_without_a_join)
{
  sw_run *run = good_fence ();
  job->stocks.items[0].length = 6000 * SW_MM;
  run->posts[1].join = SW_JOIN_NEVER;
  run->bays[0].rise = 125 * SW_MM;
  expect (
      "spans.csv", 2, "join",
      "run road, level rail 1: bays 1 and 2 (posts 1 to 3) need one straight piece, for no join is allowed on post "
      "2; but the slope changes, and post 2 stands 62.5 mm above the straight line (--bow is 5 mm): allow a join on "
      "post 2");
  run->posts[2].join = SW_JOIN_NEVER;
  run->bays[2].rise = 200 * SW_MM;
  job->stocks.items[0].length = 9000 * SW_MM;
  /* Heights 0, 125, 125, 325: the line stands at 108.3 and 216.7. */
  expect ("spans.csv", 3, "join",
          "run road, level rail 1: bays 1 to 3 (posts 1 to 4) need one straight piece, for no join is allowed on posts "
          "2 and 3; but the slope changes, and post 3 stands 91.7 mm below the straight line (--bow is 5 mm): allow a "
          "join on post 3");
}
END_TEST

/* A post that is a hair over the bow is shown as over it. */
START_TEST (bend_by_a_hair)
{
  sw_run *run = good_fence ();
  job->stocks.items[0].length = 6000 * SW_MM;
  run->posts[1].join = SW_JOIN_NEVER;
  run->bays[0].rise = 10 * SW_MM + 2;
  expect ("spans.csv", 2, "join",
          "run road, level rail 1: bays 1 and 2 (posts 1 to 3) need one straight piece, for no join is allowed on post "
          "2; but the slope changes, and post 2 stands 5.1 mm above the straight line (--bow is 5 mm): allow a join on "
          "post 2");
  /* The two do not look the same either if the bow is no whole tenth: 5.08 is over 5.06. */
  run->bays[0].rise = 2 * 5080000;
  job->settings->bow = 5060000;
  expect ("spans.csv", 2, "join",
          "run road, level rail 1: bays 1 and 2 (posts 1 to 3) need one straight piece, for no join is allowed on post "
          "2; but the slope changes, and post 2 stands 5.1 mm above the straight line (--bow is 5.06 mm): allow a join "
          "on post 2");
}
END_TEST

/* Make a run of bays of 1000 over posts of these heights (mm), with no join on two of them. */
static void
hill (const int *heights, size_t bays, size_t never, size_t never_either)
{
  job_run (job, "hill", 100 * SW_MM);
  for (size_t p = 1; p <= bays; p++)
    job_bay (job, 1000 * SW_MM, 100 * SW_MM)->rise = (heights[p] - heights[p - 1]) * SW_MM;
  job_close (job);
  job->fence.runs[0].posts[never].join = job->fence.runs[0].posts[never_either].join = SW_JOIN_NEVER;
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 6000 * SW_MM);
}

START_TEST (two_bends)
{
  static const int heights[] = { 0, 400, 0, 8, 400, 0 };
  hill (heights, 5, 2, 4);
  lay_out_in_vain ();
  ck_assert_uint_eq (sw_report_count (report), 2);
  ck_assert_ptr_nonnull (strstr (sw_report_get (report, 0)->message, "posts 2 to 4"));
  ck_assert_ptr_nonnull (strstr (sw_report_get (report, 1)->message, "posts 4 to 6"));
}
END_TEST

/* Only a piece from 2 to 5 passes the bend at post 3, and only one from 4 to 7 the bend at post 6.
 * These two overlap, and one more join is enough. */
START_TEST (bends_that_bar_each_other)
{
  static const int heights[] = { 400, 0, -4, 4, 0, 6, 0 };
  hill (heights, 6, 2, 5);
  expect ("spans.csv", 6, "join",
          "run hill, level rail 1: bays 5 and 6 (posts 5 to 7) need one straight piece, for no join is allowed on post "
          "6; but the slope changes, and post 6 stands 6 mm above the straight line (--bow is 5 mm): allow a join on "
          "post 6");
  job->fence.runs[0].posts[5].join = SW_JOIN_MAY;
  sw_layout *layout;
  ck_assert_int_eq (sw_layout_new (&layout, job, report), SW_OK);
  sw_layout_free (layout);
}
END_TEST

/* What is wrong at one place with one section is reported once, with its levels. */
START_TEST (levels_are_named_together)
{
  static const char *const places[] = {
    "run road, level rail 1: ",
    "run road, levels rail 1 and rail 2: ",
    "run road, levels rail 1, rail 2 and rail 3: ",
    "run road, levels rail 1, rail 2, rail 3 and 1 more: ",
    "run road, levels rail 1, rail 2, rail 3 and 2 more: ",
  };
  good_fence ()->bays[1].span = 5000 * SW_MM;
  for (int l = 2; l <= _i + 1; l++)
    {
      char name[16];
      snprintf (name, sizeof name, "rail %d", l);
      job_level (job, name, "rail", true);
    }
  lay_out_in_vain ();
  ck_assert_uint_eq (sw_report_count (report), 1);
  const char *message = sw_report_get (report, 0)->message;
  ck_assert_msg (strncmp (message, places[_i], strlen (places[_i])) == 0, "%s", message);
}
END_TEST

START_TEST (all_places_are_told)
{
  sw_run *run = good_fence ();
  run->bays[0].span = run->bays[2].span = 5000 * SW_MM;
  job_even_run (job, "side", 2, 6000 * SW_MM, 100 * SW_MM);
  job_level (job, "capping", "cap", true);
  job_stock (job, "cap", 6000 * SW_MM);
  lay_out_in_vain ();
  static const char *const starts[] = {
    "run road, level rail 1: bay 1 ", "run road, level rail 1: bay 3 ",  "run side, level rail 1: bay 1 ",
    "run side, level rail 1: bay 2 ", "run side, level capping: bay 1 ", "run side, level capping: bay 2 ",
  };
  ck_assert_uint_eq (sw_report_count (report), sizeof starts / sizeof starts[0]);
  for (size_t i = 0; i < sizeof starts / sizeof starts[0]; i++)
    {
      const char *message = sw_report_get (report, i)->message;
      ck_assert_msg (strncmp (message, starts[i], strlen (starts[i])) == 0, "%zu: %s", i, message);
    }
}
END_TEST

START_TEST (very_many_places)
{
  job_even_run (job, "road", 100, 6000 * SW_MM, 100 * SW_MM);
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 4800 * SW_MM);
  lay_out_in_vain ();
  ck_assert_uint_eq (sw_report_faults_of (report, "spans.csv"), 100);
  ck_assert_uint_le (sw_report_count (report), SW_REPORT_FILE_FAULTS + 1);
}
END_TEST

START_TEST (labels_of_bays)
{
  sw_run *run = good_fence ();
  free (run->bays[1].label);
  run->bays[1].label = strdup ("by the oak");
  run->bays[1].span = 5000 * SW_MM;
  expect (
      "spans.csv", 3, "span",
      "run road, level rail 1: bay by the oak (posts 2 to 3) needs a piece of 5000 mm; the longest rail that can be "
      "had is 4.8 m: set a post, or get 5.1 m");
}
END_TEST

START_TEST (ends_that_leave_nothing)
{
  sw_run *run = good_fence ();
  run->bays[0].start = (sw_end){ .kind = SW_END_REACH, .length = -2400 * SW_MM };
  expect (
      "spans.csv", 2, "start",
      "run road: bay 1 (posts 1 to 2) is left without timber of level rail 1: it is 2400 mm between post centres, and the timber is "
      "set back 2400 mm by how it ends there");
  run->bays[0].start.length += 1;
  run->bays[2].finish = (sw_end){ .kind = SW_END_REACH, .length = -2500 * SW_MM };
  expect (
      "spans.csv", 4, "finish",
      "run road: bay 3 (posts 3 to 4) is left without timber of level rail 1: it is 2400 mm between post centres, and the timber is "
      "set back 2500 mm by how it ends there");
  run->bays[0].start.length = -3000 * SW_MM;
  lay_out_in_vain ();
  ck_assert_uint_eq (sw_report_count (report), 2);
}
END_TEST

START_TEST (ends_of_one_bay_leave_nothing)
{
  job_run (job, "porch", 100 * SW_MM);
  sw_bay *bay = job_bay (job, 2000 * SW_MM, 100 * SW_MM);
  bay->start = (sw_end){ .kind = SW_END_REACH, .length = -1000 * SW_MM };
  bay->finish = (sw_end){ .kind = SW_END_REACH, .length = -1000 * SW_MM };
  job_close (job);
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 4800 * SW_MM);
  expect (
      "spans.csv", 2, "start",
      "run porch: bay 1 (posts 1 to 2) is left without timber of level rail 1: it is 2000 mm between post centres, and the timber is "
      "set back 2000 mm by how it ends there");
  /* Without a through level the ends do not matter. */
  job->levels.items[0].through = false;
  sw_layout *layout;
  ck_assert_int_eq (sw_layout_new (&layout, job, report), SW_OK);
  sw_layout_free (layout);
}
END_TEST

/* It is reported once for a section, whatever needs the section. */
START_TEST (nothing_to_be_had)
{
  good_fence ();
  job_level (job, "rail 2", "rail", true);
  job_level (job, "plinth", "rail", false);
  job_extra (job, "brace", "rail", 900 * SW_MM);
  job->stocks.items[0].limit = 0;
  job_stock (job, "rail", 5400 * SW_MM)->limit = 0;
  expect ("stock.csv", 2, "limit", "no rail can be had: each of its lengths has the limit 0, and none is on hand");
  job->stocks.items[1].hand = 1;
  job->settings->end_trim = 2700 * SW_MM;
  expect ("stock.csv", 2, "length",
          "no rail can be had: the end trim, 2700 mm off each end, leaves nothing of the longest, 5.4 m");
  job->stocks.items[0].line = job->stocks.items[1].line = 0; /* from --stock-length */
  expect (NULL, 0, NULL,
          "no rail can be had: the end trim, 2700 mm off each end, leaves nothing of the longest, 5.4 m");
}
END_TEST

START_TEST (between_pieces)
{
  sw_run *run = good_fence ();
  job_level (job, "plinth", "board", false);
  job_stock (job, "board", 1800 * SW_MM);
  lay_out_in_vain ();
  ck_assert_uint_eq (sw_report_count (report), 3);
  check_remark (1, "spans.csv", 3, "span",
                "run road, level plinth: bay 2 (posts 2 to 3) needs a piece of 2300 mm between its posts; the longest "
                "board that can be had is 1.8 m: set a post, or get 2.4 m");
  job->stocks.items[1].length = 2400 * SW_MM;
  run->bays[1].span = 110 * SW_MM;
  job->levels.items[1].gap = 10 * SW_MM;
  expect ("spans.csv", 3, "span",
          "run road, level plinth: bay 2 (posts 2 to 3) has 10 mm between its posts, of which the gap of 10 mm leaves "
          "nothing");
  run->bays[1].span = 2400 * SW_MM;
  job->settings->max_piece = 2450 * SW_MM;
  job->levels.items[1].gap = 0;
  run->bays[1].span = 2560 * SW_MM;
  lay_out_in_vain ();
  ck_assert_uint_eq (sw_report_count (report), 2);
  check_remark (1, "spans.csv", 3, "span",
                "run road, level plinth: bay 2 (posts 2 to 3) needs a piece of 2460 mm between its posts; the longest "
                "board that can be had is 2.4 m and --max-piece is 2450 mm: set a post, or allow longer pieces");
}
END_TEST

/* The length of a block belongs to the level, so that it is reported once and not for every run. */
START_TEST (blocks)
{
  good_fence ();
  job_even_run (job, "side", 2, 2400 * SW_MM, 100 * SW_MM);
  sw_level *plinth = job_level (job, "plinth", "board", false);
  plinth->blocks = 2;
  plinth->block_length = 2500 * SW_MM;
  job_stock (job, "board", 2400 * SW_MM);
  expect ("levels.csv", 3, "block_length",
          "level plinth: a fixing block is 2500 mm long; the longest board that can be had is 2.4 m: get 2.7 m");
}
END_TEST

START_TEST (extras)
{
  job_extra (job, "gate brace", "rail", 5401 * SW_MM);
  job_extra (job, "shelf", "rail", 900 * SW_MM);
  job_stock (job, "rail", 5400 * SW_MM);
  expect ("extras.csv", 2, "length",
          "gate brace: it is 5401 mm long; the longest rail that can be had is 5.4 m: get 5.7 m");
  job->settings->max_piece = 800 * SW_MM;
  lay_out_in_vain ();
  ck_assert_uint_eq (sw_report_count (report), 2);
  check_remark (1, "extras.csv", 3, "length", "shelf: it is 900 mm long; --max-piece is 800 mm: allow longer pieces");
  job->settings->max_piece = 0;
  job->extras.items[0].length = 12001 * SW_MM;
  expect ("extras.csv", 2, "length", "gate brace: it is 12001 mm long; the longest rail that can be had is 5.4 m");
}
END_TEST

/* In inches, lengths are rounded up to 1/16, stock is in feet, and the next length is in steps of 2 ft. */
START_TEST (inches)
{
  job->settings->inches = true;
  job_even_run (job, "road", 3, 96 * SW_INCH, 7 * SW_INCH / 2);
  job->fence.runs[0].posts[1].join = SW_JOIN_NEVER;
  job_level (job, "rail 1", "rail", true);
  job_stock (job, "rail", 192 * SW_INCH);
  expect (
      "spans.csv", 2, "join",
      "run road, level rail 1: bays 1 and 2 (posts 1 to 3) need one piece of 193 3/4 in with its end, for no join is "
      "allowed on post 2; the longest rail that can be had is 16 ft: allow a join there, or get 18 ft");
  job->fence.runs[0].posts[1].join = SW_JOIN_MAY;
  job->fence.runs[0].bays[1].span = 192 * SW_INCH + 1;
  job->settings->end_trim = SW_INCH;
  expect (
      "spans.csv", 3, "span",
      "run road, level rail 1: bay 2 (posts 2 to 3) needs a piece of 192 1/16 in; the longest rail that can be had is "
      "16 ft (190 in without its end trim): set a post, or get 18 ft");
}
END_TEST

/* The report may be NULL. */
START_TEST (without_a_report)
{
  good_fence ()->bays[1].span = 5000 * SW_MM;
  sw_layout *layout;
  ck_assert_int_eq (sw_layout_new (&layout, job, NULL), SW_NO_PLAN);
  ck_assert_ptr_null (layout);
}
END_TEST

static Suite *
layout_why_suite (void)
{
  Suite *suite = suite_create ("layout_why");
  TCase *paths = tcase_create ("paths");
  TCase *others = tcase_create ("others");
  tcase_add_checked_fixture (paths, setup, teardown);
  tcase_add_checked_fixture (others, setup, teardown);
  tcase_add_test (paths, bay_too_long);
  tcase_add_test (paths, single_bay_with_both_ends);
  tcase_add_test (paths, what_to_get);
  tcase_add_test (paths, end_trim_counts);
  tcase_add_test (paths, longest_piece_to_handle);
  tcase_add_test (paths, bays_forced_together);
  tcase_add_test (paths, many_bays_forced_together);
  tcase_add_test (paths, bend_without_a_join);
  tcase_add_test (paths, bend_by_a_hair);
  tcase_add_test (paths, two_bends);
  tcase_add_test (paths, bends_that_bar_each_other);
  tcase_add_loop_test (paths, levels_are_named_together, 0, 5);
  tcase_add_test (paths, all_places_are_told);
  tcase_add_test (paths, very_many_places);
  tcase_add_test (paths, labels_of_bays);
  tcase_add_test (others, ends_that_leave_nothing);
  tcase_add_test (others, ends_of_one_bay_leave_nothing);
  tcase_add_test (others, nothing_to_be_had);
  tcase_add_test (others, between_pieces);
  tcase_add_test (others, blocks);
  tcase_add_test (others, extras);
  tcase_add_test (others, inches);
  tcase_add_test (others, without_a_report);
  suite_add_tcase (suite, paths);
  suite_add_tcase (suite, others);
  return suite;
}

int
main (void)
{
  return suite_run (layout_why_suite ());
}
