/* check_layout_files.c - the layout of whole jobs, from CSV files to pieces
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout_job.h"
#include "suite.h"

#include "base/report.h"
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The inputs are written beside the program, under names that no other suite has. */
#define SPANS "check_layout_files.spans.csv"
#define LEVELS "check_layout_files.levels.csv"
#define STOCK "check_layout_files.stock.csv"

static sw_settings *settings;
static sw_report *report;
static sw_job *job;
static sw_layout *layout;

static void
setup (void)
{
  settings = sw_settings_new ();
  report = sw_report_new ();
  job = NULL;
  layout = NULL;
}

static void
teardown (void)
{
  sw_layout_free (layout);
  sw_job_free (job);
  sw_report_free (report);
  sw_settings_free (settings);
  unlink (SPANS);
  unlink (LEVELS);
  unlink (STOCK);
}

static void
put (const char *name, const char *text)
{
  FILE *file = fopen (name, "w");
  ck_assert_ptr_nonnull (file);
  ck_assert_int_ge (fputs (text, file), 0);
  ck_assert_int_eq (fclose (file), 0);
}

static void
set (const char *key, const char *value)
{
  ck_assert_int_eq (sw_settings_set (settings, key, value, report), SW_OK);
}

static sw_status
lay_out (const sw_sources *sources)
{
  sw_status status = sw_job_read (&job, sources, settings, report);
  const sw_remark *remark = sw_report_get (report, 0);
  ck_assert_msg (status == SW_OK, "%s", remark != NULL ? remark->message : sw_status_text (status));
  sw_report_clear (report);
  return sw_layout_new (&layout, job, report);
}

static sw_status
lay_out_spans (const char *spans)
{
  put (SPANS, spans);
  return lay_out (&(sw_sources){ .spans = SPANS });
}

#define ck_arcs(stretch, t, expected) ck_assert_str_eq (job_arcs (layout, stretch, t), expected)

/* The number of pieces of KIND that LEVEL of RUN has, all of which must be LENGTH long. */
static int64_t
count_fixed (sw_fixed_kind kind, size_t run, size_t level, sw_length length)
{
  int64_t count = 0;
  for (size_t f = 0; f < layout->fixed_count; f++)
    {
      const sw_fixed *fixed = &layout->fixed[f];
      if (fixed->kind != kind || fixed->run != run || fixed->level != level)
        continue;
      count += fixed->quantity;
      ck_assert_int_eq (layout->items[fixed->item].take, length);
    }
  return count;
}

/* ---- Small jobs ---- */

/* Three clear bays of 2300 between four 100 mm posts: 2400 centres, 7300 overall.  Derived. */
START_TEST (clear_to_centres)
{
  set ("measured", "clear");
  set ("stock-length", "7.3");
  set ("rails", "1");
  ck_assert_int_eq (lay_out_spans ("run,span\nroad,2300\nroad,2300\nroad,2300\n"), SW_OK);
  ck_arcs (0, 0, "1-2 2450, 1-3 4850, 1-4 7300, 2-3 2400, 2-4 4850, 3-4 2450");
}
END_TEST

/* A measured opening comes back to the nanometre, whatever the posts are. */
START_TEST (clear_comes_back)
{
  static const char *const widths[] = { "100", "99.000001", "63/64in", "3 1/2in" };
  char spans[256];
  snprintf (spans, sizeof spans, "run,span,post_width,near_post_width\nroad,87 1/64in,%s,99.000003\nroad,2300,,\n",
            widths[_i]);
  set ("measured", "clear");
  set ("round", "0");
  put (LEVELS, "level,section,runs\nplinth,board,between\n");
  put (SPANS, spans);
  ck_assert_int_eq (lay_out (&(sw_sources){ .spans = SPANS, .levels = LEVELS }), SW_OK);
  ck_assert_uint_eq (layout->fixed_count, 2);
  ck_assert_int_eq (layout->items[layout->fixed[0].item].take, 87 * SW_INCH + SW_INCH / 64);
  ck_assert_int_eq (layout->items[layout->fixed[1].item].take, 2300 * SW_MM);
}
END_TEST

/* Ends as written: a mitre at a corner, a housing that is by default a third of the post (125: 41),
 * one D deep, an existing post inside the run, and ends on both sides of one post. */
START_TEST (written_ends)
{
  set ("rails", "1");
  ck_assert_int_eq (lay_out_spans ("run,span,post_width,near_post_width,start,finish\n"
                                   "a,2400,125,90,mitre 90,housed\n"
                                   "b,2000,100,100,housed 20,face\n"
                                   "b,2000,100,,,reach -30\n"
                                   "c,2000,100,100,centre,reach 15\n"
                                   "c,2000,100,,flush,\n"),
                    SW_OK);
  ck_arcs (0, 0, "1-2 2424"); /* 45 + 2400 - 62.5 + 41, half a millimetre forward */
  ck_arcs (1, 0, "1-2 1920"); /* -50 + 20 + 2000 - 50 */
  ck_arcs (2, 0, "2-3 1970"); /* on the centre, since nothing is written */
  ck_arcs (3, 0, "1-2 2015");
  ck_arcs (4, 0, "2-3 2100");
}
END_TEST

START_TEST (join_rules_as_written)
{
  set ("rails", "1");
  ck_assert_int_eq (lay_out_spans ("run,span,join\n"
                                   "a,1200,never\na,1200,always\na,1200,\na,1200,never\n"),
                    SW_OK);
  ck_arcs (0, 0, "1-3 2450, 3-4 1200, 3-5 2450, 4-5 1250");
}
END_TEST

/* The default levels are two rails with the same pieces, from 4.8 and 5.4 m. */
START_TEST (defaults)
{
  ck_assert_int_eq (lay_out_spans ("run,span\nroad,2400\nroad,2400\nroad,2400\n"), SW_OK);
  ck_assert_uint_eq (layout->through_count, 2);
  ck_arcs (0, 0, "1-2 2450, 1-3 4850, 2-3 2400, 2-4 4850, 3-4 2450");
  ck_arcs (0, 1, "1-2 2450, 1-3 4850, 2-3 2400, 2-4 4850, 3-4 2450");
}
END_TEST

/* File, line and column are those of the row to change. */
START_TEST (no_way_is_told_by_line)
{
  put (SPANS, "run,bay,span\n\nroad,1,2400\nroad,\"by the\nford\",5600\n");
  put (STOCK, "section,length\nrail,4.8\nrail,5.4\n");
  ck_assert_int_eq (lay_out (&(sw_sources){ .spans = SPANS, .stock = STOCK }), SW_NO_PLAN);
  ck_assert_ptr_null (layout);
  ck_assert_uint_eq (sw_report_count (report), 1);
  const sw_remark *remark = sw_report_get (report, 0);
  ck_assert_str_eq (remark->file, SPANS);
  ck_assert_uint_eq (remark->line, 4);
  ck_assert_str_eq (remark->column, "span");
  ck_assert_ptr_nonnull (strstr (remark->message, "(posts 2 to 3) needs a piece of 5650 mm with its end; the longest "
                                                  "rail that can be had is 5.4 m: set a post, or get 5.7 m"));
  ck_assert_ptr_null (strchr (remark->message, '\n'));
}
END_TEST

/* ---- The samples ---- */

static const char *
sample (const char *name)
{
  static char paths[5][512];
  static size_t used;
  const char *top = getenv ("srcdir");
  char *path = paths[used++ % 5];
  snprintf (path, sizeof paths[0], "%s/samples/%s", top != NULL ? top : ".", name);
  return path;
}

/* These are worked out apart from the library, in decimal arithmetic of 40 digits, by the ends of
 * spanwright-csv(5).  Rails are let in 33, and a capping on top passes over the gate's posts.
 * Positions along each run are rounded to the millimetre. */
START_TEST (corner_block)
{
  sw_sources sources = { .spans = sample ("corner-block/spans.csv"),
                         .levels = sample ("corner-block/levels.csv"),
                         .stock = sample ("corner-block/stock.csv"),
                         .sections = sample ("corner-block/sections.csv") };
  ck_assert_int_eq (lay_out (&sources), SW_OK);
  ck_assert_uint_eq (layout->stretch_count, 4);
  ck_assert_uint_eq (layout->through_count, 3);
  for (size_t t = 0; t < 2; t++)
    {
      ck_arcs (0, t, "1-2 2447, 1-3 4847, 2-3 2400, 2-4 4774, 3-4 2374");
      ck_arcs (1, t, "5-6 2378, 5-7 3918, 6-7 1540, 6-8 3953, 7-8 2413");
      ck_arcs (2, t, "1-2 1748, 1-3 3491, 2-3 1743");
      ck_arcs (3, t,
               "1-2 2418, 1-3 4818, 2-3 2400, 3-4 2400, 3-5 4804, 4-5 2404, 4-6 4809, 5-6 2405, 5-7 4795, 6-7 2390, "
               "7-8 2267");
    }
  ck_arcs (0, 2, "1-2 2447, 1-3 4847, 2-3 2400, 2-4 4858, 3-4 2458");
  ck_arcs (1, 2, "5-6 2462, 5-7 4002, 6-7 1540, 6-8 3946, 7-8 2406");
  ck_arcs (2, 2, "1-2 1741, 1-3 3477, 2-3 1736");
  ck_arcs (3, 2,
           "1-2 2411, 1-3 4811, 2-3 2400, 3-4 2400, 3-5 4804, 4-5 2404, 4-6 4809, 5-6 2405, 5-7 4795, 6-7 2390, "
           "7-8 2267");
  /* Two blocks of 120 a bay, none in the gate. */
  ck_assert_int_eq (count_fixed (SW_FIXED_BLOCK, 0, 0, 120 * SW_MM), 12);
  ck_assert_int_eq (count_fixed (SW_FIXED_BLOCK, 1, 0, 120 * SW_MM), 4);
  ck_assert_int_eq (count_fixed (SW_FIXED_BLOCK, 2, 0, 120 * SW_MM), 14);
  /* Bay 1 of the front: 2385 - (125 + 100) / 2 - 4, down to whole millimetres; its gate has no plinth. */
  ck_assert_int_eq (layout->items[layout->fixed[0].item].take, 2268 * SW_MM);
  size_t between = 0;
  for (size_t f = 0; f < layout->fixed_count; f++)
    between += layout->fixed[f].kind == SW_FIXED_BETWEEN;
  ck_assert_uint_eq (between, 15);
}
END_TEST

START_TEST (homestead)
{
  sw_sources sources = { .spans = sample ("homestead/spans.csv"),
                         .levels = sample ("homestead/levels.csv"),
                         .stock = sample ("homestead/stock.csv"),
                         .sections = sample ("homestead/sections.csv"),
                         .extras = sample ("homestead/extras.csv") };
  ck_assert_int_eq (lay_out (&sources), SW_OK);
  ck_assert_uint_eq (layout->stretch_count, 4);
  /* There is no join on post 5 of the house yard.  There is one on post 6 of the orchard, whose end
   * reaches 60 and whose first two bays come to 75 + 2650 + 2680 = 5405, which is 5 too long. */
  ck_arcs (2, 0, "1-2 1780, 1-3 3580, 1-4 5380, 2-3 1800, 2-4 3600, 3-4 1800, 4-6 3605, 4-7 5395, 6-7 1790");
  ck_arcs (3, 2,
           "1-2 2725, 2-3 2680, 2-4 5340, 3-4 2660, 3-5 5335, 4-5 2675, 4-6 5340, 5-6 2665, 6-7 2670, "
           "6-8 5325, 7-8 2655, 7-9 5315, 8-9 2660");
  ck_assert_int_eq (layout->items[layout->fixed[2].item].demand, 8);
}
END_TEST

START_TEST (inches)
{
  sw_sources sources = { .spans = sample ("inches/spans.csv"),
                         .levels = sample ("inches/levels.csv"),
                         .stock = sample ("inches/stock.csv"),
                         .sections = sample ("inches/sections.csv") };
  ck_assert_int_eq (sw_settings_read (settings, sample ("inches/settings.csv"), report), SW_OK);
  ck_assert_int_eq (lay_out (&sources), SW_OK);
  /* 95 3/4 + 1 3/4 and so on; over posts 3 to 5 exactly 192 in, which is 16 ft. */
  for (size_t t = 0; t < 3; t++)
    ck_arcs (0, t,
             "1-2 2432.1, 1-3 4864.1, 2-3 2432.1, 2-4 4870.5, 3-4 2438.4, 3-5 4876.8, 4-5 2438.4, 4-6 4864.1, "
             "5-6 2425.7, 5-7 4864.1, 6-7 2438.4");
}
END_TEST

/* ---- Rounding ---- */

/* The sum of the pieces of one bay of the only rail; OUT lists them. */
static sw_length
single_bays (sw_text *out)
{
  sw_length sum = 0;
  for (size_t a = 0; a < layout->arc_count; a++)
    {
      const sw_arc *arc = &layout->arcs[a];
      char length[SW_LENGTH_TEXT];
      if (arc->to != arc->from + 1)
        continue;
      sw_length_format_mm (arc->cut, length);
      sw_text_printf (out, "%s%s", out->length > 0 ? " " : "", length);
      sum += arc->cut;
    }
  return sum;
}

/* Ten bays of 2400.4 from centre to centre.  Positions along the fence are whole millimetres: 0,
 * 2400, 4801, 7201 ... 24004, so that the pieces add up to 24004 and not to ten times 2400.  In
 * steps of 5 they are 0, 2400, 4800, 7200, 9600, 12000, 14400, 16805 ... 24005. */
START_TEST (positions_do_not_add_up)
{
  static const struct
  {
    const char *round, *cuts;
    sw_length sum; /* tenths of a millimetre */
  } rows[] = { { "1", "2400 2401 2400 2401 2400 2400 2401 2400 2401 2400", 240040 },
               { "5", "2400 2400 2400 2400 2400 2400 2405 2400 2400 2400", 240050 },
               { "0", "2400.4 2400.4 2400.4 2400.4 2400.4 2400.4 2400.4 2400.4 2400.4 2400.4", 240040 },
               { "none", "2400.4 2400.4 2400.4 2400.4 2400.4 2400.4 2400.4 2400.4 2400.4 2400.4", 240040 } };
  char spans[400] = "run,span,start,finish\na,2400.4,centre,\n";
  for (int b = 2; b < 10; b++)
    strcat (spans, "a,2400.4,,\n");
  strcat (spans, "a,2400.4,,centre\n");
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      sw_text cuts = { 0 };
      set ("rails", "1");
      set ("round", rows[i].round);
      ck_assert_int_eq (lay_out_spans (spans), SW_OK);
      const sw_length sum = single_bays (&cuts);
      ck_assert_str_eq (cuts.data, rows[i].cuts);
      ck_assert_int_eq (sum, rows[i].sum * SW_MM / 10);
      sw_text_drop (&cuts);
      teardown ();
      setup ();
    }
}
END_TEST

/* At posts of 75 mm the timber reaches 37.5 past both ends.  Half a millimetre goes forward both
 * times, to -37 at the start and to 4838 at the finish, so that the fence stays 4875 long. */
START_TEST (halves_go_forward)
{
  set ("rails", "1");
  set ("stock-length", "6");
  set ("post-width", "75");
  ck_assert_int_eq (lay_out_spans ("run,span\na,2400\na,2400\n"), SW_OK);
  ck_arcs (0, 0, "1-2 2437, 1-3 4875, 2-3 2438");
}
END_TEST

/* With --inches, positions are sixteenths.  94.53 in are 1512.48 of them, so that posts stand at
 * 1512, 3025 and 4537. */
START_TEST (sixteenths_of_an_inch)
{
  set ("rails", "1");
  set ("inches", "yes");
  set ("stock-length", "10ft");
  ck_assert_int_eq (lay_out_spans ("run,span,start,finish\na,94.53in,centre,\na,94.53in,,\na,94.53in,,centre\n"),
                    SW_OK);
  static const sw_length cuts[] = { 1512, 3025 - 1512, 4537 - 3025 };
  ck_assert_uint_eq (layout->arc_count, 3);
  for (size_t a = 0; a < 3; a++)
    ck_assert_int_eq (layout->arcs[a].cut, cuts[a] * (SW_INCH / 16));
}
END_TEST

/* Between posts a piece that is too long does not go in.  2300.9 clear is taken for 2300; less 4
 * for fitting it is 2296.  Blocks and extras are cut as they are written. */
START_TEST (between_posts_down)
{
  put (LEVELS, "level,section,runs,gap,blocks,block_length\nplinth,board,between,4,1,120.5\nboard,board,between,,,\n");
  put (SPANS, "run,span,rise\na,2400.9,\na,2400,500\n");
  ck_assert_int_eq (lay_out (&(sw_sources){ .spans = SPANS, .levels = LEVELS }), SW_OK);
  /* On the slope 2300 x 2451.5 / 2400 = 2349.4. */
  static const struct
  {
    sw_fixed_kind kind;
    const char *cut;
  } rows[] = { { SW_FIXED_BETWEEN, "2296" },
               { SW_FIXED_BETWEEN, "2345" },
               { SW_FIXED_BLOCK, "120.5" },
               { SW_FIXED_BETWEEN, "2300" },
               { SW_FIXED_BETWEEN, "2349" } };
  ck_assert_uint_eq (layout->fixed_count, sizeof rows / sizeof *rows);
  for (size_t f = 0; f < layout->fixed_count; f++)
    {
      char cut[SW_LENGTH_TEXT];
      sw_length_format_mm (layout->fixed[f].cut, cut);
      ck_assert_int_eq (layout->fixed[f].kind, rows[f].kind);
      ck_assert_str_eq (cut, rows[f].cut);
    }
}
END_TEST

static Suite *
layout_files_suite (void)
{
  Suite *suite = suite_create ("layout_files");
  TCase *small = tcase_create ("small");
  TCase *samples = tcase_create ("samples");
  TCase *rounding = tcase_create ("rounding");
  tcase_add_checked_fixture (small, setup, teardown);
  tcase_add_checked_fixture (samples, setup, teardown);
  tcase_add_checked_fixture (rounding, setup, teardown);
  tcase_add_test (rounding, positions_do_not_add_up);
  tcase_add_test (rounding, halves_go_forward);
  tcase_add_test (rounding, sixteenths_of_an_inch);
  tcase_add_test (rounding, between_posts_down);
  tcase_add_test (small, clear_to_centres);
  tcase_add_loop_test (small, clear_comes_back, 0, 4);
  tcase_add_test (small, written_ends);
  tcase_add_test (small, join_rules_as_written);
  tcase_add_test (small, defaults);
  tcase_add_test (small, no_way_is_told_by_line);
  tcase_add_test (samples, corner_block);
  tcase_add_test (samples, homestead);
  tcase_add_test (samples, inches);
  suite_add_tcase (suite, small);
  suite_add_tcase (suite, samples);
  suite_add_tcase (suite, rounding);
  return suite;
}

int
main (void)
{
  return suite_run (layout_files_suite ());
}
