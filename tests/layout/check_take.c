/* check_take.c - what a piece takes of the board that it is cut from
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan_fixture.h"
#include "suite.h"

#include "layout/layout.h"
#include "layout/take.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* job.md, derived: the length along the slope is the root of span^2 + rise^2, the plumb cut is at
 * atan (rise / span), and the triangle is the width times its tangent. */
START_TEST (worked_slopes)
{
  static const struct
  {
    sw_length span, rise;
    const char *length; /* mm to the tenth */
  } rows[] = { { 2400, 500, "2451.5" }, { 2400, 250, "2413" }, { 3000, 600, "3059.4" }, { 2400, -500, "2451.5" } };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      char text[SW_LENGTH_TEXT];
      const sw_length span = rows[i].span * SW_MM;
      sw_length_format_mm (sw_length_on_slope (span, span, rows[i].rise * SW_MM), text);
      ck_assert_str_eq (text, rows[i].length);
    }
  ck_assert_int_eq (sw_take_plumb (2400 * SW_MM, 600 * SW_MM), 14036);
  ck_assert_int_eq (sw_take_plumb (2400 * SW_MM, -600 * SW_MM), 14036);
  ck_assert_int_eq (sw_take_plumb (2400 * SW_MM, 0), 0);
  ck_assert_int_eq (sw_take_triangle (150 * SW_MM, 2400 * SW_MM, 600 * SW_MM), 37500000);
  ck_assert_int_eq (sw_take_triangle (150 * SW_MM, 2400 * SW_MM, -600 * SW_MM), 37500000);
  /* Halves of a nanometre are rounded up. */
  ck_assert_int_eq (sw_take_triangle (1, 2, 1), 1);
  ck_assert_int_eq (sw_take_triangle (1, 3, 1), 0);
}
END_TEST

/* A plinth between posts, 2300 clear at 600 in 2400, is 2370.8 along the edge and takes 2408.3 of
 * board (job.md).  In whole millimetres it is 2370 and 37.5.  For the saw, whose cut is plumb, only
 * its wider kerf along the board is added. */
START_TEST (raked_plinth)
{
  for (int whole = 0; whole < 2; whole++)
    {
      const fixture_texts texts = { .spans = "run,span,rise\na,2400,600\n",
                                    .levels = "level,section,runs\nplinth,150x25,between\n",
                                    .sections = "section,width,thickness\n150x25,150,25\n",
                                    .stock = "section,length\n150x25,4.8\n",
                                    .settings = whole ? "kerf=0" : "kerf=0\nround=0" };
      sw_job *job = fixture_job (&texts);
      const sw_level *level = &job->levels.items[0];
      const sw_length cut = sw_layout_between_cut (job, level, &job->fence.runs[0], 0);
      char text[SW_LENGTH_TEXT];
      sw_length_format_mm (cut, text);
      ck_assert_str_eq (text, whole ? "2370" : "2370.8");
      sw_length_format_mm (sw_layout_between_take (job, level, &job->fence.runs[0], 0, cut), text);
      ck_assert_str_eq (text, whole ? "2407.5" : "2408.3");
      job->settings->kerf = 4 * SW_MM;
      /* 4 mm at 14.036 degrees: 4.123. */
      ck_assert_int_eq (sw_layout_between_take (job, level, &job->fence.runs[0], 0, cut) - cut, 37500000 + 123106);
      sw_job_free (job);
    }
}
END_TEST

/* job.md: the wider kerf of an angled finish belongs to the piece.  Of a mitre and a plumb cut on
 * one end the steeper counts. */
START_TEST (kerfs)
{
  static const struct
  {
    sw_length rise;
    int32_t angle;  /* of the corner at the finish, degrees; 0: square */
    sw_length more; /* hundredths of a millimetre, over the cut and the triangle */
  } rows[] = { { 0, 0, 0 },   { 0, 90, 124 },   { 0, 135, 25 },  { 0, 270, 124 },
               { 600, 0, 9 }, { 600, 90, 124 }, { 600, 160, 9 }, { -600, 135, 25 } };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      const sw_end mitre = { .kind = SW_END_MITRE, .angle = rows[i].angle * 1000 };
      const sw_sawn_piece piece = { .cut = 2000 * SW_MM,
                                    .width = 150 * SW_MM,
                                    .span = 2400 * SW_MM,
                                    .rise = rows[i].rise * SW_MM,
                                    .finish = rows[i].angle != 0 ? &mitre : NULL };
      const sw_length triangle = rows[i].rise != 0 ? 37500000 : 0;
      const sw_length more = sw_take (&piece, 3 * SW_MM) - piece.cut - triangle;
      ck_assert_msg (llround ((double)more / 1e4) == rows[i].more, "row %zu: %lld", i, (long long)more);
    }
  /* Blocks and extras have no place on the fence and are square. */
  const sw_sawn_piece block = { .cut = 120 * SW_MM, .width = 75 * SW_MM };
  ck_assert_int_eq (sw_take (&block, 3 * SW_MM), 120 * SW_MM);
  const sw_sawn_piece huge = { .cut = INT64_MAX - 5, .width = 150 * SW_MM, .span = SW_METRE, .rise = SW_METRE };
  ck_assert_int_eq (sw_take (&huge, 3 * SW_MM), INT64_MAX);
}
END_TEST

/* The corners of a piece of the fence as it stands: bottom and top, at its start and at its finish. */
typedef struct drawn
{
  double x[2][2];
  double y[2][2];
} drawn;

/* Draw a piece of LENGTH along its edges and WIDTH across, over SPAN and RISE, with plumb ends, and
 * lay it level on the bench. */
static drawn
draw (double length, double width, double span, double rise)
{
  const double slope = atan2 (rise, span);
  drawn piece;
  for (int finish = 0; finish < 2; finish++)
    for (int top = 0; top < 2; top++)
      {
        /* The corners of one end stand above each other. */
        const double x = finish ? length * cos (slope) : 0;
        const double y = (finish ? length * sin (slope) : 0) + (top ? width / cos (slope) : 0);
        piece.x[finish][top] = x * cos (slope) + y * sin (slope);
        piece.y[finish][top] = y * cos (slope) - x * sin (slope);
      }
  return piece;
}

/* The hand of plumb ends in the cut list, and what a piece takes of a square-ended board, are found by drawing. */
START_TEST (drawn_on_the_bench)
{
  static const double rises[] = { 600, -600, 150, -33, 2400 };
  for (size_t i = 0; i < sizeof rises / sizeof *rises; i++)
    {
      const drawn piece = draw (2000e6, 150e6, 2400e6, rises[i] * 1e6);
      /* The edges of the piece lie level. */
      ck_assert (fabs (piece.y[0][0]) < 1 && fabs (piece.y[1][0]) < 1);
      ck_assert (fabs (piece.y[0][1] - 150e6) < 1 && fabs (piece.y[1][1] - 150e6) < 1);
      const int long_at_start = piece.x[0][0] < piece.x[0][1] ? 0 : 1;
      const int long_at_finish = piece.x[1][0] > piece.x[1][1] ? 0 : 1;
      ck_assert_int_eq (long_at_start, rises[i] > 0 ? 0 : 1);
      ck_assert_int_eq (long_at_finish, rises[i] > 0 ? 1 : 0);
      const double board = piece.x[1][long_at_finish] - piece.x[0][long_at_start];
      const sw_sawn_piece sawn
          = { .cut = 2000 * SW_MM, .width = 150 * SW_MM, .span = 2400 * SW_MM, .rise = (sw_length)rises[i] * SW_MM };
      ck_assert (fabs ((double)sw_take (&sawn, 0) - board) < 2);
    }
  const fixture_texts texts = { .spans = "run,span,rise\na,2400,600\n",
                                .sections = "section,width\nrail,150\n",
                                .settings = "rails=1",
                                .plan = "through a/rail 1: 1-2\nboard rail 4.8: a/rail 1/1-2" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_CUTS, 400);
  ck_contains (text, " at the start the bottom edge is long, at the finish the top edge.");
  ck_contains (text, "  Where it falls, the other way round.");
  ck_contains (text, " 2577 rises 14\xc2\xb0 (2614.6) ");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Only a mitre at the finish costs more of the board.  Behind a mitre at the start, the next piece
 * begins where the saw went. */
START_TEST (mitres_of_a_piece)
{
  static const struct
  {
    const char *start, *finish;
    sw_length more; /* hundredths of a millimetre */
  } rows[] = { { "mitre 90", "flush", 0 }, { "flush", "mitre 90", 124 }, { "mitre 60", "mitre 135", 25 } };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      char spans[100];
      snprintf (spans, sizeof spans, "run,span,start,finish\na,2400,%s,%s\n", rows[i].start, rows[i].finish);
      const fixture_texts texts = { .spans = spans, .settings = "rails=1" };
      sw_job *job = fixture_job (&texts);
      const sw_stretch stretch = { .run = 0, .first = 0, .last = 1 };
      const sw_length cut = sw_layout_cut (job, &job->levels.items[0], &stretch, 0, 1);
      const sw_length take = sw_layout_take (job, &job->levels.items[0], &stretch, 0, 1, cut);
      ck_assert_int_eq (llround ((double)(take - cut) / 1e4), rows[i].more);
      sw_job_free (job);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("take");
  TCase *tcase = tcase_create ("take");
  tcase_add_test (tcase, worked_slopes);
  tcase_add_test (tcase, raked_plinth);
  tcase_add_test (tcase, kerfs);
  tcase_add_test (tcase, drawn_on_the_bench);
  tcase_add_test (tcase, mitres_of_a_piece);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
