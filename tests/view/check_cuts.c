/* check_cuts.c - the cut list: what to cut from each board
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan_fixture.h"
#include "suite.h"

#include "view/cuts.h"
#include "csv/table.h"
#include "view/figures.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Two pieces of LENGTH out of a board of 4800. */
static void
two_of (fixture *out, const char *length, const char *settings)
{
  char extras[100];
  snprintf (extras, sizeof extras, "label,section,length,quantity\na,rail,%s,2\n", length);
  const fixture_texts texts = { .extras = extras, .settings = settings, .plan = "extras\nboard rail 4.8: a 1, a 2" };
  fixture_make (out, &texts);
}

/* Worked values of the trade's kerf rule (derived): n pieces need n - 1 kerfs when the last ends
 * with the board.  With a 3 mm kerf 2 x 2400 does not come out of 4800.  2 x 2398 leaves 1 before
 * the last cut, 2 x 2395 leaves 7.  Sawing that off takes another kerf, so that 0 and 4 are left in
 * the end. */
START_TEST (kerf)
{
  static const struct
  {
    const char *length;
    sw_length cut, spare, left;
  } rows[] = { { "2400", 2400, -3, 0 }, { "2398", 2398, 1, 0 }, { "2395", 2395, 7, 4 }, { "2398.5", 2398, 0, 0 } };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      fixture made;
      two_of (&made, rows[i].length, NULL);
      const sw_board *board = &made.plan->boards[0];
      const sw_length cut = made.plan->pieces[0].cut;
      ck_assert_int_eq (cut / SW_MM, rows[i].cut);
      ck_assert_int_eq (sw_board_left_after (made.plan, board, 0), 4800 * SW_MM);
      ck_assert_int_eq (sw_board_left_after (made.plan, board, 1), 4797 * SW_MM - cut);
      ck_assert_int_eq (sw_board_left_after (made.plan, board, 1) - cut, rows[i].spare * SW_MM);
      ck_assert_int_eq (sw_board_left_after (made.plan, board, 2), rows[i].left * SW_MM);
      char *text = fixture_text (&made, SW_TEXT_CUTS, 0);
      ck_contains (text, rows[i].left > 0 ? " left 4\n" : " nothing left\n");
      sw_text_free (text);
      fixture_drop (&made);
    }
}
END_TEST

/* With 25 mm docked off each end, 4750 can be used. */
START_TEST (end_trim)
{
  fixture made;
  two_of (&made, "2000", "end-trim=25");
  const sw_board *board = &made.plan->boards[0];
  ck_assert_int_eq (sw_board_left_after (made.plan, board, 0), 4750 * SW_MM);
  ck_assert_int_eq (sw_board_left_after (made.plan, board, 1), 2747 * SW_MM);
  ck_assert_int_eq (sw_board_left_after (made.plan, board, 2), 744 * SW_MM);
  char *text = fixture_text (&made, SW_TEXT_CUTS, 0);
  ck_contains (text, " Dock 25 off both\n  ends of every board. ");
  ck_contains (text, " left 744, keep\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Worked by hand, see fixture_front: 45 at the corner, and a third of 100 (33) into the gate post. */
START_TEST (table_of_a_fence)
{
  fixture front;
  fixture_front (&front);
  char *csv = fixture_csv (&front, SW_TABLE_CUTS);
  ck_contains (csv, "board,section,source,board_mm,cut,piece,run,level,from_post,to_post,cut_mm,start_cut,finish_cut,"
                    "left_mm,plumb,long_point,take_mm\r\n"
                    "1,90x45,yard,5400,1,front/rail 2/1-2,front,rail 2,1,2,2450,45,square,2947,,outer,2450\r\n"
                    "1,90x45,yard,5400,2,front/rail 2/5-6,front,rail 2,5,6,2400,square,square,544,,,2400\r\n"
                    "2,90x45,yard,4800,1,front/rail 2/2-4,front,rail 2,2,4,4783,square,square,14,,,4783\r\n"
                    "3,90x45,yard,4800,1,front/rail 1/5-6,front,rail 1,5,6,2400,square,square,2397,,,2400\r\n"
                    "3,90x45,yard,4800,2,front/rail 1/3-4,front,rail 1,3,4,2383,square,square,11,,,2383\r\n");
  ck_contains (csv, "\r\n4,90x45,yard,4800,2,brace 2,,,,,1300,square,square,2194,,,1300\r\n");
  ck_contains (csv, "\r\n5,90x45,hand,5400,3,front/plinth/block 8,front,plinth,,,150,square,square,241,,,150\r\n");
  ck_contains (csv, "\r\n6,150x25,yard,4800,1,front/plinth/1-2,front,plinth,1,2,2296,square,square,2501,,,2296\r\n");
  sw_text_free (csv);
  sw_table *table = NULL;
  ck_assert_int_eq (sw_plan_table (front.plan, SW_TABLE_CUTS, &table), SW_OK);
  ck_assert_uint_eq (sw_table_rows (table), front.plan->piece_count);
  sw_table_free (table);
  fixture_drop (&front);
}
END_TEST

/* A corner of internal angle A: the saw is (180 - A) / 2, the long point 50 x tan (saw) past the
 * post's centre, and with 38 thick let in flush the short point 38 x tan (saw) behind it (job.md).
 * 135: + 20.7, 15.7 back; 120: + 28.9, 21.9 back; 90: + 50. */
START_TEST (mitres)
{
  const fixture_texts texts = { .spans = "run,span,start,finish\na,2000,mitre 135,mitre 120\nb,2000,mitre,flush\n",
                                .sections = "section,thickness\nrail,38\n",
                                .settings = "rails=1",
                                .plan = "through a/rail 1: 1-2\nthrough b/rail 1: 1-2\n"
                                        "board rail 4.8: b/rail 1/1-2, a/rail 1/1-2" };
  fixture made;
  fixture_make (&made, &texts);
  char *csv = fixture_csv (&made, SW_TABLE_CUTS);
  ck_contains (csv, ",2050,22.5,30,");
  ck_contains (csv, ",2100,45,square,");
  sw_text_free (csv);
  char *text = fixture_text (&made, SW_TEXT_CUTS, 0);
  ck_contains (text, "\nrail\n  Saw through the thickness (38). 22.5\xc2\xb0: short point 15.7 back; 30\xc2\xb0: short"
                     " point\n    21.9 back; 45\xc2\xb0: short point 38 back\n");
  ck_contains (text, " 45\xc2\xb0 outer 2100   22.5\xc2\xb0 outer 2050 30\xc2\xb0 outer\n");
  ck_contains (text, " each cut takes 3,\n  one at an angle more.");
  ck_contains (text, "  In front of a length: how its start is mitred");
  /* What is not there is not explained. */
  ck_lacks (text, "plumb");
  ck_lacks (text, "flat");
  sw_text_free (text);
  /* If the thickness is not known, no short point is given. */
  made.job->sections.items[0].thickness = 0;
  text = fixture_text (&made, SW_TEXT_CUTS, 0);
  ck_contains (text, "\nrail\n  Saw through the thickness.\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* One section on edge and laid flat, both sides of corners, a slope: said so that no wrong hand can be cut.
 * a/rail: 250 in 1000, let in flush, from +50 x 1.0308 to -12 x 1.0308: -52 to 2461, the triangle 100 x 0.25, the saw
 * 3 / cos 45 - 3; the short point 38 back, along the slope 39.2.  b/rail on the inside of 225: 12 x tan 22.5 short of
 * the post's centre; the capping 50 x tan 22.5 past it, its short point 100 x tan 22.5 back. */
START_TEST (every_hand)
{
  const fixture_texts texts
      = { .spans = "run,span,rise,start,finish\na,2400,600,mitre 90,mitre 270\nb,2000,,flush,mitre 225\n"
                   "c,2400,-600,centre,centre\n",
          .levels = "level,section,seat,only\nrail,100x38,,\ncapping,100x38,top,b\n",
          .sections = "section,width,thickness\n100x38,100,38\n",
          .stock = "section,length\n100x38,4.8\n",
          .plan = "through a/rail: 1-2\nthrough b/rail: 1-2\nthrough b/capping: 1-2\nthrough c/rail: 1-2\n"
                  "board 100x38 4.8: a/rail/1-2, b/rail/1-2\nboard 100x38 4.8: c/rail/1-2, b/capping/1-2" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_CUTS, 0);
  ck_contains (text,
               "\n100x38\n  Saw through the thickness (38). 22.5\xc2\xb0: short point 15.7 back; 45\xc2\xb0: short"
               " point\n    38 back, on the slope up to 39.2\n"
               "  Laid flat: saw through the width (100). 22.5\xc2\xb0: short point 41.4 back\n");
  ck_contains (text, "45\xc2\xb0 outer 2513 45\xc2\xb0 inner rises 14\xc2\xb0 (2539.2)");
  ck_contains (text, "2045 22.5\xc2\xb0 inner");
  ck_contains (text, "2474 falls 14\xc2\xb0 (2499.1)   2071 22.5\xc2\xb0 inner flat ");
  ck_contains (text, "  brackets: what it takes of the board. A mitre on it: saw along the plumb line\n  with the blade"
                     " tilted.\n");
  ck_lacks (text, SW_VIEW_HARD);
  sw_text_free (text);
  /* On a narrow terminal a length and its angles are broken only where they may be, and nothing is cut off. */
  text = fixture_text (&made, SW_TEXT_CUTS, 40);
  ck_contains (text, "\n                    45\xc2\xb0 outer 2513\n"
                     "                    45\xc2\xb0 inner rises 14\xc2\xb0\n"
                     "                    (2539.2)\n                    a/rail/1-2\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Worked by hand, see fixture_front.  A board is opened where the first of its pieces goes, but one
 * of blocks and extras alone at the run's first post.  What is from hand stands apart. */
START_TEST (along_the_fence)
{
  fixture front;
  fixture_front (&front);
  front.job->settings->by = SW_BY_RUN;
  char *text = fixture_text (&front, SW_TEXT_CUTS, 0);
  ck_contains (text, "  By run and post: each board stands where the first of its pieces goes.\n"
                     "\n90x45 H3 primed pine\n"
                     "  Saw through the thickness (45). 45\xc2\xb0: short point 45 back\n"
                     "\nRun front\n"
                     "  Drop at\n"
                     "    post 1   90x45: 1/4.8 (4), 1/5.4 (1), 1/5.4 from hand (5); 150x25: 1/4.8 (6)\n"
                     "    post 2   90x45: 1/4.8 (2)\n"
                     "    post 3   90x45: 1/4.8 (3); 150x25: 1/4.8 (7)\n"
                     "\n"
                     "  Post 1, 90x45 H3 primed pine\n"
                     "        4  4.8 m    2 x 1300        6 x 150                      left 1276, keep\n"
                     "                    brace 1 and 2   front/plinth/block 1 to 6\n"
                     "        1  5.4 m    45\xc2\xb0 outer 2450     2400                             left 544\n"
                     "                    front/rail 2/1-2   front/rail 2/5-6\n"
                     "\n"
                     "  Post 1, 90x45 H3 primed pine, from hand\n"
                     "        5  5.4 m");
  ck_contains (text, "\n\n  Post 3, 150x25\n        7  4.8 m    2296 ");
  /* Each board occurs once. */
  for (int b = 1; b <= 7; b++)
    {
      char line[32];
      snprintf (line, sizeof line, "\n        %d  ", b);
      const char *first = strstr (text, line);
      ck_assert_msg (first != NULL && strstr (first + 1, line) == NULL, "board %d in:\n%s", b, text);
    }
  ck_lacks (text, SW_VIEW_HARD);
  sw_text_free (text);
  fixture_drop (&front);
}
END_TEST

/* A board goes to the first run that it has a piece for, whatever is cut from it first.  Boards
 * without a run come last.  Without a fence there is nothing to go along. */
START_TEST (boards_for_several_places)
{
  const fixture_texts texts = { .spans = "run,span\na,2000\na,2000\nb,1500\n",
                                .extras = "label,section,length\nprop,rail,900\n",
                                .settings = "rails=1\nby=run",
                                .plan = "through a/rail 1: 1-2 2-3\nthrough b/rail 1: 1-2\nextras\n"
                                        "board rail 4.8: prop\nboard rail 4.8: a/rail 1/1-2\n"
                                        "board rail 4.8: a/rail 1/2-3, b/rail 1/1-2\n" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_CUTS, 0);
  ck_contains (text, "\nRun a\n  Drop at\n    post 1   rail: 1/4.8 (2)\n    post 2   rail: 1/4.8 (3)\n\n  Post 1, rail\n");
  ck_contains (text, "a/rail 1/2-3   b/rail 1/1-2\n\nWhat has no place along the fence\n\n  rail\n        1  4.8 m ");
  ck_lacks (text, "Run b");
  sw_text_free (text);
  fixture_drop (&made);
  two_of (&made, "2000", "by=run");
  text = fixture_text (&made, SW_TEXT_CUTS, 0);
  ck_lacks (text, "By run");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Boards are alike only if the saw does the same. */
START_TEST (what_is_cut_alike)
{
  fixture front;
  fixture_front (&front);
  ck_assert_uint_eq (sw_cuts_alike (front.plan, 5), 2);
  sw_piece *piece = &front.plan->pieces[front.plan->boards[6].pieces[1]];
  const sw_piece was = *piece;
  for (int change = 0; change < 8; change++)
    {
      *piece = was;
      piece->cut += change == 0;
      piece->take += change == 1;
      piece->start_saw += change == 2;
      piece->finish_saw += change == 3;
      piece->start_long = change == 4 ? SW_SIDE_INNER : was.start_long;
      piece->finish_long = change == 5 ? SW_SIDE_INNER : was.finish_long;
      piece->plumb += change == 6;
      piece->falls = change == 7;
      ck_assert_msg (sw_cuts_alike (front.plan, 5) == 1, "change %d", change);
    }
  *piece = was;
  ck_assert_uint_eq (sw_cuts_alike (front.plan, 5), 2);
  fixture_drop (&front);
}
END_TEST

/* 150 wide at 600 in 2400: plumb at 14.0 degrees, which takes 37.5 more of the board.  3 mm of saw
 * take 4.24 at 45 degrees and 3.25 at 22.5 (derived).  Between mitres of 90 and 270 the long points
 * are on different faces. */
START_TEST (how_it_is_sawn)
{
  const fixture_texts texts
      = { .spans = "run,span,rise,start,finish\na,2400,600,mitre 90,mitre 270\nb,2000,,flush,mitre 225\n",
          .sections = "section,width,thickness\nrail,150,38\n",
          .settings = "rails=1",
          .plan = "through a/rail 1: 1-2\nthrough b/rail 1: 1-2\nboard rail 4.8: a/rail 1/1-2, b/rail 1/1-2" };
  fixture made;
  fixture_make (&made, &texts);
  char *csv = fixture_csv (&made, SW_TABLE_CUTS);
  ck_contains (csv, ",2513,45,45,2245.3,14.036,outer inner,2551.7\r\n");
  ck_contains (csv, ",2045,square,22.5,197,,inner,2045.2\r\n");
  sw_text_free (csv);
  csv = fixture_csv (&made, SW_TABLE_FIT);
  ck_contains (csv, ",2513,45,45,mitre,mitre,14.036,outer inner,2551.7\r\n");
  sw_text_free (csv);
  fixture_drop (&made);
}
END_TEST

START_TEST (text_of_a_fence)
{
  fixture front;
  fixture_front (&front);
  char *text = fixture_text (&front, SW_TEXT_CUTS, 0);
  /* Boards that are cut alike share their lengths. */
  ck_assert_uint_eq (sw_cuts_alike (front.plan, 5), 2);
  ck_assert_uint_eq (sw_cuts_alike (front.plan, 0), 1);
  ck_contains (text, "      6-7  4.8 m    2296               2296                             left 202\n"
                     "                 6  front/plinth/1-2   front/plinth/2-3\n"
                     "                 7  front/plinth/3-4   front/plinth/5-6\n");
  /* So do blocks and extras whose numbers count up. */
  ck_contains (text, "        4  4.8 m    2 x 1300        6 x 150                      left 1276, keep\n"
                     "                    brace 1 and 2   front/plinth/block 1 to 6\n");
  ck_contains (text, "\n90x45 H3 primed pine, from hand\n");
  sw_text_free (text);
  fixture_drop (&front);
}
END_TEST

/* Ten different pieces of one board do not fit side by side, so that each gets a line. */
START_TEST (many_cuts)
{
  const fixture_texts texts = { .extras = "label,section,length\n"
                                          "first,rail,410\nsecond,rail,409\nthird,rail,408\nfourth,rail,407\n"
                                          "fifth,rail,406\nsixth,rail,405\nseventh,rail,404\neighth,rail,403\n",
                                .plan = "extras\nboard rail 4.8: first, second, third, fourth, fifth, sixth, seventh,"
                                        " eighth" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_CUTS, 0);
  ck_contains (text, "                    410   first\n                    409   second\n");
  ck_contains (text, "                    403   eighth\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

START_TEST (exact_inches)
{
  const fixture_texts texts = { .extras = "label,section,length\na,2x4,\"7' 10 33/64\"\"\"\n",
                                .stock = "section,length\n2x4,8ft\n",
                                .settings = "inches=yes\nkerf=1/8in",
                                .plan = "extras\nboard 2x4 8ft: a" };
  fixture made;
  fixture_make (&made, &texts);
  char *csv = fixture_csv (&made, SW_TABLE_CUTS);
  ck_contains (csv, ",board_in,cut,piece,run,level,from_post,to_post,cut_in,start_cut,finish_cut,left_in,plumb,"
                    "long_point,take_in\r\n");
  ck_contains (csv, "1,2x4,yard,96,1,a,,,,,94.515625,square,square,1.359375,,,94.515625\r\n");
  sw_text_free (csv);
  char *text = fixture_text (&made, SW_TEXT_CUTS, 0);
  ck_contains (text, " 8 ft     94 1/2 ");
  ck_contains (text, " left 1 3/8\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* A stock length in inches may be wider than usual.  The labels then move to the right, and lines
 * stay within 80 columns. */
START_TEST (wide_stock)
{
  const fixture_texts texts = { .extras = "label,section,length,quantity\na,2x4,70,1\nb,2x4,69,1\nc,2x4,68,1\n",
                                .stock = "section,length\n2x4,\"17' 8 5/8\"\"\"\n",
                                .settings = "inches=yes\nkerf=1/8in",
                                .plan = "extras\nboard 2x4 5400.675: a, b, c" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_CUTS, 0);
  ck_contains (text, "\n        1  212 5/8 in  2 3/4   2 11/16   2 11/16              left 204 1/8, keep\n"
                     "                       a       b         c\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* On a narrow terminal a label that does not fit beside its length stands below it in one piece. */
START_TEST (narrow_terminal)
{
  const fixture_texts texts = { .extras = "label,section,length,quantity\nbrace of the wide gate,2x4,700,1\n"
                                          "brace of the gate beside,2x4,690,1\nb,2x4,680,1\n",
                                .stock = "section,length\n2x4,4.8\n",
                                .plan = "extras\nboard 2x4 4.8: brace of the wide gate, brace of the gate beside, b" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_CUTS, 40);
  ck_contains (text, "                    700\n           brace of the wide gate\n"
                     "                    690\n           brace of the gate beside\n"
                     "                    680   b\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("cuts");
  TCase *tcase = tcase_create ("cuts");
  tcase_add_test (tcase, kerf);
  tcase_add_test (tcase, end_trim);
  tcase_add_test (tcase, table_of_a_fence);
  tcase_add_test (tcase, mitres);
  tcase_add_test (tcase, every_hand);
  tcase_add_test (tcase, along_the_fence);
  tcase_add_test (tcase, boards_for_several_places);
  tcase_add_test (tcase, what_is_cut_alike);
  tcase_add_test (tcase, how_it_is_sawn);
  tcase_add_test (tcase, text_of_a_fence);
  tcase_add_test (tcase, many_cuts);
  tcase_add_test (tcase, exact_inches);
  tcase_add_test (tcase, wide_stock);
  tcase_add_test (tcase, narrow_terminal);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
