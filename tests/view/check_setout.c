/* check_setout.c - running dimensions, marks and housings
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan_stepped.h"
#include "suite.h"

#include "view/setout.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Worked by hand.  The running distances from post 1's centre are 2400, 4800, 7200, 8200 (the gate
 * counts) and 10600.  Rails are let in 45, their thickness, right across (common practice), and a
 * third of the post, 33, at the housed end.  Nothing is cut at the faces of the gate post, and the
 * plinth stands between posts. */
START_TEST (table_of_a_fence)
{
  fixture front;
  fixture_front (&front);
  char *csv = fixture_csv (&front, SW_TABLE_SETOUT);
  ck_contains (csv, "run,post,distance_mm,post_width_mm,level,mark_mm,top_mm,housing,depth_mm,join\r\n"
                    "front,1,0,100,plinth,0,150,,,\r\n"
                    "front,1,0,100,rail 1,300,390,through,45,\r\n"
                    "front,1,0,100,rail 2,1200,1290,through,45,\r\n"
                    "front,2,2400,100,plinth,0,150,,,\r\n"
                    "front,2,2400,100,rail 1,300,390,through,45,\r\n"
                    "front,2,2400,100,rail 2,1200,1290,through,45,join\r\n");
  ck_contains (csv, "\r\nfront,3,4800,100,rail 1,300,390,through,45,join\r\n");
  ck_contains (csv, "\r\nfront,4,7200,100,rail 1,300,390,stopped,33,\r\n");
  ck_contains (csv, "\r\nfront,5,8200,100,rail 1,300,390,,,\r\n");
  ck_contains (csv, "\r\nfront,6,10600,100,rail 2,1200,1290,through,45,\r\n");
  sw_text_free (csv);
  fixture_drop (&front);
}
END_TEST

START_TEST (text_of_a_fence)
{
  fixture front;
  fixture_front (&front);
  char *text = fixture_text (&front, SW_TEXT_SETOUT, 0);
  ck_contains (text, "  rail 1                        300        390         45\n"
                     "  plinth                          0        150          -\n");
  ck_contains (text, "    post   distance    width  rail 1      rail 2\n"
                     "       1          0      100  through     through\n"
                     "       2       2400      100  through     join\n"
                     "       3       4800      100  join        through\n"
                     "       4       7200      100  stopped 33  stopped 33\n"
                     "       5       8200      100  face        face\n"
                     "       6      10600      100  through     through\n");
  sw_text_free (text);
  fixture_drop (&front);
}
END_TEST

/* Timber ends on both sides of post 2, which is 100 wide, as written; the rail is 40 thick. */
START_TEST (two_ends_on_a_post)
{
  static const struct
  {
    const char *finish, *start;
    sw_housing housing;
    sw_length depth;
  } rows[] = {
    { "flush", "face", SW_HOUSING_THROUGH, 40 },
    { "face", "centre", SW_HOUSING_THROUGH, 40 },
    { "centre", "centre", SW_HOUSING_THROUGH, 40 },
    { "mitre 120", "face", SW_HOUSING_THROUGH, 40 },
    { "face", "face", SW_HOUSING_NONE, 0 },
    /* On the inside of a corner of 270 degrees the long point is 10 before the centre, of 330 degrees 37. */
    { "mitre 270", "face", SW_HOUSING_THROUGH, 40 },
    { "mitre 330", "face", SW_HOUSING_THROUGH, 40 },
    /* Inside a corner of 345 degrees it is 76 before it, so that the timber does not touch its post. */
    { "mitre 345", "face", SW_HOUSING_NONE, 0 },
    { "housed 20", "flush", SW_HOUSING_STOPPED, 20 },
    { "flush", "housed 20", SW_HOUSING_STOPPED, 20 },
    { "housed 20", "housed 25", SW_HOUSING_STOPPED, 25 },
    { "housed 25", "housed 20", SW_HOUSING_STOPPED, 25 },
    { "housed", "face", SW_HOUSING_STOPPED, 33 },
    { "reach -50", "face", SW_HOUSING_NONE, 0 },
    { "reach -49", "face", SW_HOUSING_THROUGH, 40 },
    { "reach 80", "reach -70", SW_HOUSING_THROUGH, 40 },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      char spans[200];
      snprintf (spans, sizeof spans, "run,span,start,finish\na,2000,,%s\na,2000,%s,\n", rows[i].finish, rows[i].start);
      const fixture_texts texts = { .spans = spans,
                                    .sections = "section,thickness\nrail,40\n",
                                    .settings = "rails=1",
                                    .plan = "through a/rail 1: 1-2 2-3\n"
                                            "board rail 4.8: a/rail 1/1-2, a/rail 1/2-3\n" };
      fixture made;
      sw_setout setout;
      fixture_make (&made, &texts);
      ck_assert_int_eq (sw_setout_make (&setout, made.plan), SW_OK);
      const sw_mark *mark = sw_setout_mark (&setout, 0, 1, 0);
      ck_assert_msg (mark->housing == rows[i].housing && mark->depth == rows[i].depth * SW_MM,
                     "%s and %s: housing %d, depth %lld", rows[i].finish, rows[i].start, (int)mark->housing,
                     (long long)mark->depth);
      /* An end that is written inside a run is not a join, and without a height there is no mark. */
      ck_assert (mark->timber && !mark->join && !mark->has_mark && !mark->has_top);
      sw_setout_clear (&setout);
      char *csv = fixture_csv (&made, SW_TABLE_SETOUT);
      ck_contains (csv, "\r\na,2,2000,100,rail 1,,,");
      sw_text_free (csv);
      fixture_drop (&made);
    }
}
END_TEST

/* Between two gates nothing is marked, although the level has a height.  A level whose section has
 * no width has a mark but no top. */
START_TEST (no_timber)
{
  const fixture_texts texts = { .spans = "run,span,opening\na,2000,\na,1000,yes\na,1000,yes\na,2000,\n",
                                .levels = "level,section,height\nrail,r,250.5\n",
                                .plan = "through a/rail: 1-2 4-5\nboard r 4.8: a/rail/1-2, a/rail/4-5\n" };
  fixture made;
  fixture_make (&made, &texts);
  char *csv = fixture_csv (&made, SW_TABLE_SETOUT);
  ck_contains (csv, "\r\na,1,0,100,rail,250.5,,through,,\r\n"
                    "a,2,2000,100,rail,250.5,,,,\r\n"
                    "a,3,3000,100,rail,,,,,\r\n"
                    "a,4,4000,100,rail,250.5,,,,\r\n");
  sw_text_free (csv);
  char *text = fixture_text (&made, SW_TEXT_SETOUT, 0);
  ck_contains (text, "\n       3       3000      100  -\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* On a slope distances stay level, and the rise of the posts is shown in addition. */
START_TEST (slope)
{
  const fixture_texts texts = { .spans = "run,span,rise\na,2000,100\na,2000,100\na,2000,-50\n",
                                .settings = "rails=1",
                                .plan = "through a/rail 1: 1-3 3-4\n"
                                        "board rail 4.8: a/rail 1/1-3\nboard rail 4.8: a/rail 1/3-4\n" };
  fixture made;
  fixture_make (&made, &texts);
  char *csv = fixture_csv (&made, SW_TABLE_SETOUT);
  ck_contains (csv, "\r\na,3,4000,100,rail 1,,,through,,join\r\na,4,6000,100,rail 1,,,through,,\r\n");
  sw_text_free (csv);
  char *text = fixture_text (&made, SW_TEXT_SETOUT, 0);
  ck_contains (text, "\n       3       4000      100      200  join\n       4       6000      100      150  through\n");
  ck_contains (text, "  Heights are not given");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Worked by hand.  Where the fence steps with timber on both sides, each side has its mark, the
 * near one's first.  Beyond a gate only the far side has one.  Timber is let in 30.  Nothing is cut
 * out for what is nailed on or lies on top.  The top of the latter is its underside and its
 * thickness.  A level that a run lacks has no row there. */
START_TEST (stepped_fence)
{
  fixture made;
  fixture_make (&made, &plan_stepped);
  char *csv = fixture_csv (&made, SW_TABLE_SETOUT);
  ck_contains (csv, "\r\ndrive,2,2400,100,low,200,290,through,30,\r\n"
                    "drive,2,2400,100,middle,700,790,,,join\r\n"
                    "drive,2,2400,100,capping,1200,1225,,,\r\n"
                    "drive,3,4800,100,low,200,290,through,30,\r\n"
                    "drive,3,4800,100,low,500,590,through,30,\r\n"
                    "drive,3,4800,100,middle,700,790,,,\r\n"
                    "drive,3,4800,100,middle,1000,1090,,,\r\n"
                    "drive,3,4800,100,capping,1200,1225,,,\r\n"
                    "drive,3,4800,100,capping,1500,1525,,,\r\n"
                    "drive,4,7200,100,low,500,590,through,30,join\r\n");
  ck_contains (csv, "\r\nback,2,2400,100,low,200,290,stopped,33,\r\n"
                    "back,2,2400,100,capping,1200,1225,,,\r\n"
                    "back,3,3400,100,low,50,140,,,\r\n"
                    "back,3,3400,100,capping,1050,1075,,,\r\n");
  ck_lacks (csv, "back,1,0,100,middle");
  sw_text_free (csv);
  char *text = fixture_text (&made, SW_TEXT_SETOUT, 0);
  ck_contains (text, "  level                   underside        top      check\n"
                     "  capping                      1200       1225          -   only on drive; back\n"
                     "  middle                        700        790          -   only on drive\n"
                     "  low                           200        290         30\n");
  ck_contains (text, "\nRun drive\n\n"
                     "    post   distance  width   rise   step  low         middle      capping\n"
                     "       1          0    100      0      0  through     nailed      on top\n"
                     "       2       2400    100      0      0  through     join        on top\n"
                     "       3       4800    100      0      0  through     nailed      on top\n"
                     "                                     300  through     nailed      on top\n"
                     "       4       7200    100      0    300  join        join        join\n"
                     "       5       9600    100    100    300  through     nailed      on top\n"
                     "\nRun back\n\n"
                     "    post   distance  width   step  low         capping\n"
                     "       1          0    100      0  through     on top\n"
                     "       2       2400    100      0  stopped 33  on top\n"
                     "       3       3400    100   -150  face        on top\n"
                     "       4       5800    100   -150  through     on top\n");
  ck_contains (text, "    nailed   nailed or screwed on the outer face, no check\n"
                     "    on top   laid flat on the post, no check\n");
  sw_text_free (text);
  /* In 40 columns a slope and a step leave no room for the posts' widths.  The runs of a level stand below it. */
  text = fixture_text (&made, SW_TEXT_SETOUT, 40);
  ck_contains (text, "\n  middle           700      790        -\n    only on drive\n");
  ck_contains (text, "  post distance  rise  step  middle\n     1        0     0     0  nailed\n");
  ck_contains (text, "  post distance width  step  low\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Only words that stand in the tables are explained. */
START_TEST (legend)
{
  static const struct
  {
    const char *seat, *join;
  } rows[]
      = { { "",
            "    join     two pieces meet on the post's centre, checked as where one runs\n             through\n" },
          { "face", "    join     two pieces meet on the post's centre\n" },
          { "top", "    join     two pieces meet on the post's centre\n" } };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      char levels[100];
      snprintf (levels, sizeof levels, "level,section,seat\nrail,r,%s\n", rows[i].seat);
      const fixture_texts texts = { .spans = "run,span\na,2000\na,2000\n",
                                    .levels = levels,
                                    .sections = "section,width,thickness\nr,90,30\n",
                                    .plan = "through a/rail: 1-2 2-3\nboard r 4.8: a/rail/1-2, a/rail/2-3\n" };
      fixture made;
      fixture_make (&made, &texts);
      char *text = fixture_text (&made, SW_TEXT_SETOUT, 0);
      ck_contains (text, rows[i].join);
      ck_lacks (text, "    stopped ");
      ck_lacks (text, "    face ");
      ck_lacks (text, " step:");
      ck_lacks (text, " rise:");
      ck_assert_int_eq (strstr (text, "\n    through ") != NULL, i == 0);
      ck_assert_int_eq (strstr (text, "\n    nailed ") != NULL, i == 1);
      ck_assert_int_eq (strstr (text, "\n    on top ") != NULL, i == 2);
      sw_text_free (text);
      fixture_drop (&made);
    }
}
END_TEST

/* If there are more levels than fit side by side, the posts are listed again. */
START_TEST (many_levels)
{
  const fixture_texts texts = { .spans = "run,span\na,2000\n",
                                .settings = "rails=6",
                                .plan = "through a/rail 1: 1-2\nthrough a/rail 2: 1-2\nthrough a/rail 3: 1-2\n"
                                        "through a/rail 4: 1-2\nthrough a/rail 5: 1-2\nthrough a/rail 6: 1-2\n"
                                        "board rail 4.8: a/rail 1/1-2, a/rail 2/1-2\n"
                                        "board rail 4.8: a/rail 3/1-2, a/rail 4/1-2\n"
                                        "board rail 4.8: a/rail 5/1-2, a/rail 6/1-2\n" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_SETOUT, 0);
  ck_contains (text, "  width  rail 1      rail 2      rail 3      rail 4\n");
  ck_contains (text, "  width  rail 5      rail 6\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("setout");
  TCase *tcase = tcase_create ("setout");
  tcase_add_test (tcase, table_of_a_fence);
  tcase_add_test (tcase, text_of_a_fence);
  tcase_add_test (tcase, two_ends_on_a_post);
  tcase_add_test (tcase, no_timber);
  tcase_add_test (tcase, slope);
  tcase_add_test (tcase, stepped_fence);
  tcase_add_test (tcase, legend);
  tcase_add_test (tcase, many_levels);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
