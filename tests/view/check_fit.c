/* check_fit.c - where each piece goes
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan_stepped.h"
#include "suite.h"

#include "view/fit.h"
#include "base/text.h"

#include <stdlib.h>
#include <string.h>

/* Worked by hand, see fixture_front: 50 past the corner post, 33 into the far side's housing (2400
 * - 50 + 33), 50 short at the gate and 50 over at the end. */
START_TEST (table_of_a_fence)
{
  fixture front;
  fixture_front (&front);
  char *csv = fixture_csv (&front, SW_TABLE_FIT);
  ck_assert_str_eq (csv, "run,level,section,from_post,to_post,bays,piece,board,cut_mm,start_cut,finish_cut,start_join,"
                         "finish_join,plumb,long_point,take_mm\r\n"
                         "front,plinth,150x25,1,2,1,front/plinth/1-2,6,2296,square,square,post,post,,,2296\r\n"
                         "front,plinth,150x25,2,3,1,front/plinth/2-3,6,2296,square,square,post,post,,,2296\r\n"
                         "front,plinth,150x25,3,4,1,front/plinth/3-4,7,2296,square,square,post,post,,,2296\r\n"
                         "front,plinth,150x25,5,6,1,front/plinth/5-6,7,2296,square,square,post,post,,,2296\r\n"
                         "front,rail 1,90x45,1,3,2,front/rail 1/1-3,5,4850,45,square,mitre,join,,outer,4850\r\n"
                         "front,rail 1,90x45,3,4,1,front/rail 1/3-4,3,2383,square,square,join,housed,,,2383\r\n"
                         "front,rail 1,90x45,5,6,1,front/rail 1/5-6,3,2400,square,square,face,flush,,,2400\r\n"
                         "front,rail 2,90x45,1,2,1,front/rail 2/1-2,1,2450,45,square,mitre,join,,outer,2450\r\n"
                         "front,rail 2,90x45,2,4,2,front/rail 2/2-4,2,4783,square,square,join,housed,,,4783\r\n"
                         "front,rail 2,90x45,5,6,1,front/rail 2/5-6,1,2400,square,square,face,flush,,,2400\r\n");
  sw_text_free (csv);
  fixture_drop (&front);
}
END_TEST

START_TEST (text_of_a_fence)
{
  fixture front;
  fixture_front (&front);
  char *text = fixture_text (&front, SW_TEXT_FIT, 0);
  ck_contains (text, "\nRun front: posts 1 to 6, 10600 from centre to centre, opening 4-5\n");
  /* The top level comes first.  Joins stand above each other only if they line up. */
  ck_contains (text, "          1      2      3      4      5      6\n"
                     "  rail 2  |-2450-|-4783-+------|      |-2400-|\n"
                     "   board     1      2                    1\n"
                     "  rail 1  |-4850-+------|-2383-|      |-2400-|\n"
                     "   board     5             3             3\n"
                     "  plinth   [2296] [2296] [2296]        [2296]\n"
                     "   board     6      6      7             7\n"
                     "\n  Ends: post 1 mitre; post 4 housed 33; post 5 face; post 6 flush.\n");
  ck_contains (text, "\n\n  rail 2, rail 1: 90x45\n  plinth: 150x25, between the posts\n\n");
  /* The angle is given once, in the cut list. */
  ck_lacks (text, "45\xc2\xb0");
  sw_text_free (text);
  fixture_drop (&front);
}
END_TEST

/* A run longer than the line goes on below, and no bay is lost. */
START_TEST (long_run)
{
  sw_text spans = { 0 };
  sw_text plan = { 0 };
  sw_text boards = { 0 };
  sw_text_add (&spans, "run,span,start,finish\n");
  sw_text_add (&plan, "through long/rail 1:");
  for (int b = 1; b <= 24; b++)
    {
      sw_text_printf (&spans, "long,2000,,%s\n", b == 24 ? "reach -12.5" : "");
      if (b % 2 == 1)
        {
          sw_text_printf (&plan, " %d-%d", b, b + 2);
          sw_text_printf (&boards, "board rail 4.8: long/rail 1/%d-%d\n", b, b + 2);
        }
    }
  sw_text_printf (&plan, "\n%s", boards.data);
  const fixture_texts texts = { .spans = spans.data, .settings = "rails=1\nround=0", .plan = plan.data };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_FIT, 72);
  ck_contains (text, "          1       2       3       4       5       6       7       8\n"
                     "  rail 1  |-4050--+-------|-4000--+-------|-4000--+-------|-4000--+\n"
                     "   board      1               2               3               4\n");
  ck_contains (text, "          8       9       10      11      12      13      14      15\n"
                     "  rail 1  +-------|-4000--+-------|-4000--+-------|-4000--+-------|\n"
                     "   board              5               6               7\n");
  ck_contains (text, "          22      23      24      25\n"
                     "  rail 1  +-------|3987.5-+-------|\n"
                     "   board             12\n"
                     "\n  Ends: post 1 flush; post 25 reach -12.5.\n");
  sw_text_free (text);
  sw_text_drop (&spans);
  sw_text_drop (&plan);
  sw_text_drop (&boards);
  fixture_drop (&made);
}
END_TEST

/* Levels that a run lacks are not drawn.  What lies on top passes over the gate's posts.  The text
 * says how timber sits, on which faces long points are, which ends are plumb, and where steps are. */
START_TEST (stepped_fence)
{
  fixture made;
  fixture_make (&made, &plan_stepped);
  char *text = fixture_text (&made, SW_TEXT_FIT, 0);
  ck_contains (text, "\nRun drive: posts 1 to 5, 9600 from centre to centre, rises 100 in all\n\n"
                     "           1      2      3      4      5\n"
                     "  capping  |-4850-+------|-2400-|-2452-|\n"
                     "    board     6             8      8\n"
                     "  middle   |-2450-|-2400-|-2400-|-2497-|\n"
                     "    board     3      4      4      2\n"
                     "  low      |-4850-+------|-2400-|-2467-|\n"
                     "    board     1             5      2\n"
                     "\n  Ends: post 1 flush; post 3 centre on both sides; post 5 mitre.\n"
                     "  The fence steps up 300 at post 3.\n");
  ck_contains (text, "\nRun back: posts 1 to 4, 5800 from centre to centre, opening 2-3\n\n"
                     "           1      2      3      4\n"
                     "  capping  |-2500-|      |-2500-|\n"
                     "    board     7             7\n"
                     "  low      |-2448-|      |-2400-|\n"
                     "    board     3             5\n"
                     "\n  Ends: post 1 mitre; post 2 housed 33 (capping flush); post 3 face (capping\n"
                     "    flush); post 4 flush.\n"
                     "  The fence steps down 150 at post 3.\n");
  ck_contains (text, "\n\n  capping: 100x25, laid flat on top of the posts\n  middle: 90x45, on the face of the posts\n"
                     "  low: 90x45, let in 30\n\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Posts at which timber ends alike are listed together.  Both sides of a post are listed apart if they differ. */
START_TEST (ends_of_a_run)
{
  const fixture_texts texts
      = { .spans = "run,span,start,finish\na,2000,,centre\na,2000,,centre\na,2000,,face\na,2000,housed,reach 60\n",
          .settings = "rails=1",
          .plan = "through a/rail 1: 1-2 2-3 3-4 4-5\n"
                  "board rail 4.8: a/rail 1/1-2, a/rail 1/2-3\nboard rail 4.8: a/rail 1/3-4, a/rail 1/4-5\n" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_FIT, 0);
  ck_contains (text, "\n  Ends: post 1 flush; posts 2, 3 centre on both sides; post 4 face, beyond it\n"
                     "    housed 33; post 5 reach 60.\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* The text says how much higher a run ends than it begins, and how its bays rise. */
START_TEST (rises_of_a_run)
{
  static const struct
  {
    sw_length rise[2];
    const char *says;
  } rows[] = { { { 100, 50 }, "centre, rises 150 in all\n" },
               { { -100, 0 }, "centre, falls 100 in all\n" },
               { { 100, -30 }, "centre, rises and falls, ends 70 higher\n" },
               { { 10, -30 }, "centre, rises and falls, ends 20 lower\n" },
               { { -80, 80 }, "centre, rises and falls, ends as high as it begins\n" },
               { { 0, 0 }, "to centre\n" } };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      const fixture_texts texts = { .spans = "run,span\na,2000\na,2000\n",
                                    .settings = "rails=1",
                                    .plan = "through a/rail 1: 1-3\nboard rail 4.8: a/rail 1/1-3\n" };
      fixture made;
      fixture_make (&made, &texts);
      for (size_t b = 0; b < 2; b++)
        made.job->fence.runs[0].bays[b].rise = rows[i].rise[b] * SW_MM;
      char *text = fixture_text (&made, SW_TEXT_FIT, 120);
      ck_contains (text, rows[i].says);
      sw_text_free (text);
      fixture_drop (&made);
    }
}
END_TEST

/* Extras alone have no place: their table is empty, and the text does not have this part. */
START_TEST (extras_alone)
{
  const fixture_texts texts
      = { .extras = "label,section,length\nprop,rail,4000\n", .plan = "extras\nboard rail 4.8: prop" };
  fixture made;
  fixture_make (&made, &texts);
  char *csv = fixture_csv (&made, SW_TABLE_FIT);
  ck_assert_str_eq (strchr (csv, '\n'), "\n");
  sw_text_free (csv);
  csv = fixture_csv (&made, SW_TABLE_SETOUT);
  ck_assert_str_eq (strchr (csv, '\n'), "\n");
  sw_text_free (csv);
  char *text = fixture_text (&made, SW_TEXT_FIT | SW_TEXT_SETOUT, 0);
  ck_assert_str_eq (text, "");
  sw_text_free (text);
  text = fixture_text (&made, SW_TEXT_ALL, 0);
  ck_lacks (text, "Joins");
  ck_contains (text, "PROOF\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("fit");
  TCase *tcase = tcase_create ("fit");
  tcase_add_test (tcase, table_of_a_fence);
  tcase_add_test (tcase, text_of_a_fence);
  tcase_add_test (tcase, long_run);
  tcase_add_test (tcase, stepped_fence);
  tcase_add_test (tcase, ends_of_a_run);
  tcase_add_test (tcase, rises_of_a_run);
  tcase_add_test (tcase, extras_alone);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
