/* check_order.c - what the yard is asked for
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan_fixture.h"
#include "suite.h"

#include "view/fingerprint.h"
#include "view/order.h"
#include "base/report.h"
#include "csv/table.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Worked by hand: four boards of 90x45 are from the yard, three of them 4.8 m.  The one spare
 * length goes on these, and 4 x 20.88 = 83.52. */
START_TEST (table_of_a_fence)
{
  fixture front;
  fixture_front (&front);
  char *csv = fixture_csv (&front, SW_TABLE_ORDER);
  ck_assert_str_eq (csv, "section,description,length_mm,count,spare,metres,unit_price,price,yard,kind\r\n"
                         "90x45,H3 primed pine,4800,3,1,19.2,20.88,83.52,,timber\r\n"
                         "90x45,H3 primed pine,5400,1,0,5.4,24.30,24.30,,timber\r\n"
                         "150x25,,4800,2,0,9.6,15.50,31.00,,timber\r\n");
  sw_text_free (csv);
  fixture_drop (&front);
}
END_TEST

static const char *const twelve_and_three
    = "extras\nboard 90x45 4.8: a 1\nboard 90x45 4.8: a 2\nboard 90x45 4.8: a 3\nboard 90x45 4.8: a 4\n"
      "board 90x45 4.8: a 5\nboard 90x45 4.8: a 6\nboard 90x45 4.8: a 7\nboard 90x45 4.8: a 8\n"
      "board 90x45 4.8: a 9\nboard 90x45 4.8: a 10\nboard 90x45 4.8: a 11\nboard 90x45 4.8: a 12\n"
      "board 90x45 5.4: b 1\nboard 90x45 5.4: b 2\nboard 90x45 5.4: b 3\n";

/* job.md: `90x45 H3 primed pine: 12/4.8` is twelve lengths of 4.8 m, 57.6 lineal metres (common
 * practice of the trade).  The plan here also buys three of 5.4 m. */
START_TEST (yard_notation)
{
  const fixture_texts texts = { .extras = "label,section,length,quantity\na,90x45,4700,12\nb,90x45,5300,3\n",
                                .sections = "section,description\n90x45,90x45 H3 primed pine\n",
                                .plan = twelve_and_three };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_ORDER, 0);
  ck_contains (text, "  90x45 H3 primed pine: 12/4.8, 3/5.4  ");
  ck_contains (text, " 73.8 lm\n");
  sw_text_free (text);
  sw_order order;
  ck_assert_int_eq (sw_order_make (&order, made.plan), SW_OK);
  ck_assert_uint_eq (order.line_count, 2);
  ck_assert_int_eq (order.lines[0].bought, 57600 * SW_MM);
  ck_assert_int_eq (order.bought, 73800 * SW_MM);
  ck_assert_int_eq (order.count, 15);
  sw_order_clear (&order);
  /* Without prices the cells are blank, not 0. */
  char *csv = fixture_csv (&made, SW_TABLE_ORDER);
  ck_contains (csv, "\r\n90x45,90x45 H3 primed pine,4800,12,0,57.6,,,,timber\r\n");
  ck_contains (csv, "\r\n90x45,90x45 H3 primed pine,5400,3,0,16.2,,,,timber\r\n");
  sw_text_free (csv);
  fixture_drop (&made);
}
END_TEST

/* order.txt without what stands below it for others than the yard. */
static char *
message_of (const fixture *fixture)
{
  char *text = fixture_text (fixture, SW_TEXT_MESSAGE, 0);
  char *care = strstr (text, "\nFor whoever carries, cuts and builds, not for the yard:\n- ");
  ck_assert_msg (care != NULL, "nothing of care in:\n%s", text);
  *care = '\0';
  return text;
}

/* Fail unless TEXT is HEADING, then the line of the plan's fingerprint, indented by INDENT, and then REST. */
static void
ck_headed (const fixture *made, const char *text, const char *heading, const char *indent, const char *rest)
{
  sw_text wanted = { 0 };
  sw_text_printf (&wanted, "%s\n%s", heading, indent);
  ck_assert_int_eq (sw_fingerprint_line (&wanted, made->plan), SW_OK);
  sw_text_printf (&wanted, "\n%s", rest);
  ck_assert_str_eq (text, wanted.data);
  sw_text_drop (&wanted);
}

/* A count in front of a section would mean as many fixed together. */
START_TEST (no_count_before_a_section)
{
  fixture front;
  fixture_front (&front);
  char *text = message_of (&front);
  ck_headed (&front, text, "Timber order for Front fence", "",
                          "\n"
                          "90x45 H3 primed pine: 4/4.8 (incl. 1 spare), 1/5.4 = 24.6 lm\n"
                          "150x25: 2/4.8 = 9.6 lm\n"
                          "\n"
                          "In all: 7 lengths, 34.2 lm\n"
                          "Price: 138.82 ex tax, 152.70 incl. 10 % tax\n"
                          "(number of lengths / metres each)\n");
  sw_text_free (text);
  text = fixture_text (&front, SW_TEXT_ORDER | SW_TEXT_MESSAGE, 0);
  for (const char *section = text; (section = strstr (section, "90x45")) != NULL; section++)
    {
      const char *line = section;
      while (line > text && line[-1] != '\n')
        line--;
      /* The weight is told in words of its own. */
      ck_assert_msg (line + strspn (line, " ") == section || strncmp (line, "- Weight of 90x45 ", 18) == 0,
                     "something stands before the section in:\n%s", text);
    }
  sw_text_free (text);
  fixture_drop (&front);
}
END_TEST

/* The order once more: its lines, the tax and what to ask, but nothing about how the timber is used. */
START_TEST (once_more)
{
  fixture front;
  fixture_front (&front);
  char *text = fixture_text (&front, SW_TEXT_AGAIN, 0);
  char *first = fixture_text (&front, SW_TEXT_ORDER, 0);
  ck_headed (&front, text, "ORDER for Front fence", "  ",
                          "  90x45 H3 primed pine: 4/4.8 (incl. 1 spare), 1/5.4        24.6 lm       107.82\n"
                          "  150x25: 2/4.8                                              9.6 lm        31.00\n"
                          "  Total                                                     34.2 lm       138.82\n"
                          "  Tax 10 %                                                                 13.88\n"
                          "  Total with tax                                                          152.70\n");
  ck_assert_int_eq (strncmp (first, text, strlen (text)), 0);
  sw_text_free (first);
  sw_text_free (text);
  fixture_drop (&front);
}
END_TEST

static void
ck_spare (const char *plan, int64_t first, int64_t second)
{
  const fixture_texts texts = { .extras = "label,section,length,quantity\na,rail,4000,4\n",
                                .sections = "section,spare\nrail,2\n",
                                .stock = "section,length,hand\nrail,4.8,4\nrail,5.4,\n",
                                .plan = plan };
  fixture made;
  sw_order order;
  fixture_make (&made, &texts);
  ck_assert_int_eq (sw_order_make (&order, made.plan), SW_OK);
  ck_assert_int_eq (order.lines[0].spare, first);
  ck_assert_int_eq (order.line_count > 1 ? order.lines[1].spare : 0, second);
  sw_order_clear (&order);
  fixture_drop (&made);
}

/* The project's own rule: spare lengths go on the most-ordered length, and of several on the
 * longest.  What comes from hand does not count. */
START_TEST (where_spare_goes)
{
  ck_spare ("extras\nboard rail 4.8: a 1\nboard rail 4.8: a 2\nboard rail 4.8: a 3\nboard rail 5.4: a 4", 2, 0);
  ck_spare ("extras\nboard rail 4.8: a 1\nboard rail 4.8: a 2\nboard rail 5.4: a 3\nboard rail 5.4: a 4", 0, 2);
  ck_spare ("extras\nboard rail 5.4: a 1\nhand rail 4.8: a 2\nhand rail 4.8: a 3\nhand rail 4.8: a 4", 0, 2);
  ck_spare ("extras\nhand rail 4.8: a 1\nhand rail 4.8: a 2\nhand rail 4.8: a 3\nhand rail 4.8: a 4", 0, 0);
}
END_TEST

START_TEST (nothing_to_buy)
{
  const fixture_texts texts = { .extras = "label,section,length\na,rail,4000\n",
                                .stock = "section,length,price,hand\nrail,4.8,10,1\n",
                                .settings = "tax=10",
                                .plan = "extras\nhand rail 4.8: a" };
  fixture made;
  fixture_make (&made, &texts);
  char *csv = fixture_csv (&made, SW_TABLE_ORDER);
  ck_assert_str_eq (csv, "section,description,length_mm,count,spare,metres,unit_price,price,yard,kind\r\n");
  sw_text_free (csv);
  char *text = fixture_text (&made, SW_TEXT_ORDER | SW_TEXT_MESSAGE, 0);
  ck_contains (text, "  Nothing: all of it comes from hand.\n");
  ck_contains (text, "  From hand, not to be ordered:\n  rail: 1/4.8 ");
  ck_contains (text, "Nothing to order: all of it comes from hand.\n");
  ck_contains (text, "% of what is cut up\n");
  ck_lacks (text, "tax");
  ck_lacks (text, "Tax");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Below the message stand the warnings about what is bought.  All other text is as it was. */
START_TEST (warnings_go_with_the_order)
{
  fixture_texts texts
      = { .spans = "run,span\nroad,2400\n",
          .stock = "section,length,hand\nrail,5.4,\n75x38,2.4,5\n",
          .sections = "section,spare\nrail,\n75x38,2\n",
          .extras = "label,section,length\na,75x38,2300\n",
          .settings = "rails=1",
          .plan = "through road/rail 1: 1-2\nextras\nboard rail 5.4: road/rail 1/1-2\nhand 75x38 2.4: a\n" };
  fixture made;
  fixture_make (&made, &texts);
  char *plain = message_of (&made);
  ck_contains (plain,
               "\n(number of lengths / metres each)\n"
               "\nLook at this before the order goes out, and take it off:\n"
               "- The 2 spare lengths of 75x38 are not ordered, since all of it comes from hand: ask for them in a "
               "length of your choice.\n");
  fixture_drop (&made);
  texts.sections = "section,spare\nrail,\n75x38,\n";
  fixture_make (&made, &texts);
  char *text = message_of (&made);
  ck_lacks (text, "Look at this");
  ck_contains (text, "\nIn all: 1 length, 5.4 lm\n");
  ck_assert_int_eq (strncmp (text, plain, strlen (text)), 0);
  sw_report_add (made.job->warnings, SW_WARNING, made.job->files[SW_FILE_STOCK], 3, "price", "is  odd");
  sw_report_add (made.job->warnings, SW_WARNING, made.job->files[SW_FILE_SPANS], 2, "finish", "is deep");
  sw_report_add (made.job->warnings, SW_WARNING, NULL, 0, "kerf", "is thin");
  char *warned = message_of (&made);
  ck_assert_int_eq (strncmp (warned, text, strlen (text)), 0);
  ck_assert_str_eq (warned + strlen (text), "\nLook at this before the order goes out, and take it off:\n"
                                            "- 2.csv:3: price: is  odd\n- --kerf: is thin\n");
  sw_text_free (warned);
  sw_text_free (text);
  sw_text_free (plain);
  fixture_drop (&made);
}
END_TEST

/* A section of which nothing is bought has no length for its spare.  The others have. */
START_TEST (spare_of_what_comes_from_hand)
{
  const fixture_texts texts
      = { .stock = "section,length,hand\n75x38,2.4,5\n75x38,3.0,5\n90x45,4.8,9\nbatten,2.4,2\ncap,1.8,2\n",
          .extras = "label,section,length\na,75x38,2300\nb,75x38,2900\nc,90x45,4700\nd,batten,2300\ne,cap,1700\n",
          .sections = "section,description,spare\n75x38,pine,2\n90x45,,3\nbatten,,\ncap,,1\nunused,,9\n",
          .plan = "extras\nhand 75x38 2.4: a\nhand 75x38 3.0: b\nboard 90x45 4.8: c\nhand batten 2.4: d\n"
                  "hand cap 1.8: e\n" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_ORDER, 160);
  ck_contains (text, "  90x45: 4/4.8 (incl. 3 spare) ");
  ck_contains (text,
               "\n  The 2 spare lengths of 75x38 pine are not ordered, since all of it comes from hand: ask for "
               "them in a length of your choice.\n  The 1 spare length of cap is not ordered, since all of it comes "
               "from hand: ask for it in a length of your choice.\n");
  ck_lacks (text, "of 90x45 are not");
  ck_lacks (text, "of batten");
  ck_lacks (text, "unused");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* More spare lengths are wanted than the yard has. */
START_TEST (spare_beyond_the_limit)
{
  const fixture_texts texts = { .extras = "label,section,length\na,rail,4000\n",
                                .sections = "section,spare\nrail,2\n",
                                .stock = "section,length,limit\nrail,4.8,2\n",
                                .plan = "extras\nboard rail 4.8: a" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_ORDER, 0);
  ck_contains (text, "  rail: 3/4.8 (incl. 2 spare) ");
  ck_contains (text, "  Only 2 of 4.8 m can be had of rail: ask for the spare in another length.\n");
  sw_text_free (text);
  /* Whoever sends the order sees only this text. */
  text = fixture_text (&made, SW_TEXT_MESSAGE, 0);
  ck_contains (text, "\nLook at this before the order goes out, and take it off:\n"
                     "- Only 2 of 4.8 m can be had of rail: ask for the spare in another length.\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Name, width, thickness and description of a section, and its name for the yard. */
START_TEST (titles)
{
  static const struct
  {
    const char *row, *name, *title;
  } rows[] = {
    { "90x45,,,", "90x45", "90x45" },
    { "90x45,,,H3 primed pine", "90x45", "90x45 H3 primed pine" },
    { "rail,,,90x45 H3 primed pine", "rail", "90x45 H3 primed pine" },
    { "90x45,90,45,90 x 45 MGP10", "90x45", "90 x 45 MGP10" },
    { "90x45,90,45,90\xc3\x97"
      "45 MGP10",
      "90x45",
      "90\xc3\x97"
      "45 MGP10" },
    { "rail,90,45,H3 primed pine", "rail", "90x45 H3 primed pine" },
    { "rail,90,45,", "rail", "90x45 rail" },
    { "rail,,,", "rail", "rail" },
    { "rail,,,H3 pine", "rail", "H3 pine" },
    { "capping,42.5,19,", "capping", "42.5x19 capping" },
    { "box 4,,,", "box 4", "box 4" },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      char sections[200];
      char extras[200];
      char plan[200];
      snprintf (sections, sizeof sections, "section,width,thickness,description\n%s\n", rows[i].row);
      snprintf (extras, sizeof extras, "label,section,length\na,%s,4000\n", rows[i].name);
      snprintf (plan, sizeof plan, "extras\nboard %s 4.8: a", rows[i].name);
      const fixture_texts texts = { .extras = extras, .sections = sections, .plan = plan };
      fixture made;
      fixture_make (&made, &texts);
      sw_text title = { 0 };
      sw_order_title (&title, made.job, 0);
      char *text = sw_text_take (&title);
      ck_assert_str_eq (text, rows[i].title);
      sw_text_free (text);
      fixture_drop (&made);
    }
}
END_TEST

/* The printed price, tax and sum add up, whatever the rate. */
START_TEST (tax_adds_up)
{
  static const struct
  {
    const char *price, *rate;
    sw_money ex, tax;
  } rows[] = {
    { "20.88", "10", 20880000, 2090000 },    /* 2.088 */
    { "20.05", "10", 20050000, 2010000 },    /* 2.005, half rounded up */
    { "0.004", "10", 0, 0 },                 /* less than a hundredth */
    { "10.125", "12.5", 10130000, 1270000 }, /* 10.13 x 12.5 % = 1.26625 */
    { "123456789.99", "20", 123456789990000, 24691358000000 },
    { "5", "0", 5000000, 0 },
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    {
      char stock[200];
      char settings[200];
      snprintf (stock, sizeof stock, "section,length,price\nrail,4.8,%s\n", rows[i].price);
      snprintf (settings, sizeof settings, "tax=%s", rows[i].rate);
      const fixture_texts texts = { .extras = "label,section,length\na,rail,4000\n",
                                    .stock = stock,
                                    .settings = settings,
                                    .plan = "extras\nboard rail 4.8: a" };
      fixture made;
      sw_order order;
      sw_money ex = -1;
      sw_money tax = -1;
      fixture_make (&made, &texts);
      ck_assert_int_eq (sw_order_make (&order, made.plan), SW_OK);
      ck_assert (sw_order_tax (&order, &ex, &tax));
      ck_assert_int_eq (ex, rows[i].ex);
      ck_assert_int_eq (tax, rows[i].tax);
      sw_order_clear (&order);
      char *text = fixture_text (&made, SW_TEXT_ORDER, 0);
      ck_contains (text, "  Total with tax ");
      sw_text_free (text);
      fixture_drop (&made);
    }
}
END_TEST

START_TEST (inches)
{
  const fixture_texts texts = { .extras = "label,section,length,quantity\na,2x4,15ft,2\nb,2x4,94in,1\n",
                                .stock = "section,length\n2x4,16ft\n2x4,94.5in\n",
                                .settings = "inches=yes\nkerf=1/8in",
                                .plan = "extras\nboard 2x4 16ft: a 1\nboard 2x4 16ft: a 2\nboard 2x4 94.5in: b" };
  fixture made;
  fixture_make (&made, &texts);
  char *csv = fixture_csv (&made, SW_TABLE_ORDER);
  ck_assert_str_eq (csv, "section,description,length_in,count,spare,metres,unit_price,price,yard,kind\r\n"
                         "2x4,,94.5,1,0,2.4003,,,,timber\r\n"
                         "2x4,,192,2,0,9.7536,,,,timber\r\n");
  sw_text_free (csv);
  char *text = fixture_text (&made, SW_TEXT_ORDER | SW_TEXT_MESSAGE, 0);
  /* 12/16 ft would read as three quarters of a foot. */
  ck_contains (text, "2x4: 1 of 94 1/2 in, 2 of 16 ft");
  ck_contains (text, " 39.9 ft\n"); /* 39.875 */
  ck_lacks (text, "metres each");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Text that a spreadsheet would run is defused in the file, and is whole again when it is read. */
START_TEST (formula_is_defused)
{
  const fixture_texts texts = { .extras = "label,section,length\na,=1+2,4000\n",
                                .sections = "section,description\n=1+2,@sum\n",
                                .plan = "extras\nboard =1+2 4.8: a" };
  fixture made;
  fixture_make (&made, &texts);
  char *csv = fixture_csv (&made, SW_TABLE_ORDER);
  ck_contains (csv, "\r\n'=1+2,'@sum,4800,1,");
  sw_table *back = NULL;
  ck_assert_int_eq (sw_table_read_bytes (&back, csv, strlen (csv), "order.csv", NULL), SW_OK);
  ck_assert_str_eq (sw_table_cell (back, 0, 0), "=1+2");
  ck_assert_str_eq (sw_table_cell (back, 0, 1), "@sum");
  sw_table_free (back);
  sw_text_free (csv);
  fixture_drop (&made);
}
END_TEST

/* 4 x 1197.75 + 1210.5 = 6001.5 are used and 4198.5 are not.  If both were rounded up they would make 10.201 m. */
START_TEST (waste_adds_up)
{
  fixture_texts texts = { .extras = "label,section,length,quantity\nbrace,rail,1197.75,4\npale,rail,1210.5,1\n",
                          .stock = "section,length\nrail,4.8\nrail,5.4\n",
                          .settings = "round=0\n",
                          .plan = "extras\nboard rail 4.8: brace 1, brace 2, brace 3, brace 4\nboard rail 5.4: pale\n" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_ORDER | SW_TEXT_CUTS, 0);
  ck_contains (text, "  Bought                  10.200 m  2 lengths\n");
  ck_contains (text, "  Used                     6.002 m  5 pieces\n");
  ck_contains (text, "  Waste                    4.198 m  41.2 % of what is bought\n");
  /* As hundredths of a millimetre, with a cut of 3 between them, they come out of 4800. */
  ck_contains (text, "4 x 1197.75  ");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Worked by hand: 34 200 mm are bought with spare lengths, 29 400 without.  241 is left of the
 * board from hand, which is under 600, and 1276 of another, which is over it. */
START_TEST (waste)
{
  fixture front;
  fixture_front (&front);
  char *text = fixture_text (&front, SW_TEXT_ORDER, 0);
  ck_contains (text, "  Bought                  29.400 m  6 lengths\n");
  ck_contains (text, "  From hand                5.400 m  1 length\n");
  ck_contains (text, "  Used                    32.250 m  20 pieces\n");
  ck_contains (text, "  Waste                    2.550 m  7.3 % of what is cut up\n");
  ck_contains (text, "    worth keeping          1.276 m  1 x 1276\n");
  ck_contains (text, "    scrap                  1.274 m  sawdust, and ends too short to keep\n");
  ck_contains (text, "  Joins                          2  none lines up with a join on the next level\n");
  sw_text_free (text);
  fixture_drop (&front);
}
END_TEST

/* Four bays of 2700 and three levels.  Over two bays a piece comes out of 5.4 m only in the
 * middle.  Every pair that lines up is named with its reason. */
START_TEST (joins_that_line_up)
{
  const fixture_texts texts = { .spans = "run,span\nroad,2700\nroad,2700\nroad,2700\nroad,2700\n",
                                .settings = "rails=2\nstock-length=4.8",
                                .plan = "through road/rail 1: 1-2 2-3 3-4 4-5\n"
                                        "through road/rail 2: 1-2 2-3 3-4 4-5\n"
                                        "board rail 4.8: road/rail 1/1-2\nboard rail 4.8: road/rail 1/4-5\n"
                                        "board rail 4.8: road/rail 2/1-2\nboard rail 4.8: road/rail 2/4-5\n"
                                        "board rail 4.8: road/rail 1/2-3\nboard rail 4.8: road/rail 1/3-4\n"
                                        "board rail 4.8: road/rail 2/2-3\nboard rail 4.8: road/rail 2/3-4\n" };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_ORDER, 0);
  ck_contains (text, "Joins                          6  3 pairs line up on neighbouring levels:\n"
                     "    run road, posts 2-4: rail 1 and rail 2 (nothing that can be had spans the\n"
                     "      two bays beside it)\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* The same joins where longer timber could have avoided them, with and without a proof. */
START_TEST (joins_that_need_not_line_up)
{
  const fixture_texts texts = { .spans = "run,span\nroad,2400\nroad,2400\nroad,2400\n",
                                .settings = "stock-length=5.4",
                                .plan = "through road/rail 1: 1-2 2-4\nthrough road/rail 2: 1-2 2-4\n"
                                        "board rail 5.4: road/rail 1/2-4\nboard rail 5.4: road/rail 2/2-4\n"
                                        "board rail 5.4: road/rail 1/1-2, road/rail 2/1-2\n" };
  fixture made;
  fixture_make (&made, &texts);
  made.plan->summary.aligned_bound = 0;
  char *text = fixture_text (&made, SW_TEXT_ORDER, 0);
  ck_contains (text, "  1 pair lines up on neighbouring levels:\n"
                     "    run road, post 2: rail 1 and rail 2 (not proved to be needed)\n");
  sw_text_free (text);
  made.plan->summary.aligned_bound = 1;
  text = fixture_text (&made, SW_TEXT_ORDER, 0);
  ck_contains (text, "    run road, post 2: rail 1 and rail 2 (no plan has fewer with first pieces in\n      turn)\n");
  sw_text_free (text);
  made.job->settings->turn = SW_TURN_OFF;
  text = fixture_text (&made, SW_TEXT_ORDER, 0);
  ck_contains (text, "    run road, post 2: rail 1 and rail 2 (no plan has fewer)\n");
  sw_text_free (text);
  made.job->settings->stagger = SW_STAGGER_OFF;
  text = fixture_text (&made, SW_TEXT_ORDER, 0);
  ck_contains (text, "  2  staggering is switched off\n");
  ck_lacks (text, "post 2");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Of very many such lines only the first are printed, and the text says where the rest is. */
START_TEST (joins_that_line_up_everywhere)
{
  sw_text spans = { 0 }, plan = { 0 }, boards = { 0 };
  sw_text_add (&spans, "run,span\n");
  for (int run = 1; run <= 23; run++)
    {
      sw_text_printf (&spans, "r%d,2700\nr%d,2700\n", run, run);
      for (int rail = 1; rail <= 2; rail++)
        {
          sw_text_printf (&plan, "through r%d/rail %d: 1-2 2-3\n", run, rail);
          sw_text_printf (&boards, "board rail 4.8: r%d/rail %d/1-2\nboard rail 4.8: r%d/rail %d/2-3\n", run, rail, run,
                          rail);
        }
    }
  sw_text_add (&plan, boards.data);
  const fixture_texts texts = { .spans = spans.data, .settings = "stock-length=4.8", .plan = plan.data };
  fixture made;
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_ORDER, 120);
  ck_contains (text, "\n    run r20, post 2: rail 1 and rail 2 (nothing that can be had spans the two bays beside it)\n"
                     "    and 3 more; the column join of setout.csv has them all (-o DIR, or --csv setout)\n");
  ck_lacks (text, "run r21");
  sw_text_free (text);
  fixture_drop (&made);
  sw_text_drop (&spans);
  sw_text_drop (&plan);
  sw_text_drop (&boards);
}
END_TEST

/* Joins at posts that are always joined line up in every plan, so that they are counted apart. */
START_TEST (joins_that_are_always_made)
{
  const fixture_texts texts = { .spans = "run,span,join\nroad,2400,always\nroad,2400,\nroad,2400,always\nroad,2400,\n",
                                .settings = "stock-length=5.4",
                                .plan = "through road/rail 1: 1-2 2-4 4-5\nthrough road/rail 2: 1-2 2-3 3-4 4-5\n"
                                        "board rail 5.4: road/rail 1/1-2, road/rail 1/4-5\n"
                                        "board rail 5.4: road/rail 1/2-4\nboard rail 5.4: road/rail 2/1-2\n"
                                        "board rail 5.4: road/rail 2/2-3, road/rail 2/3-4\n"
                                        "board rail 5.4: road/rail 2/4-5\n" };
  fixture made;
  fixture_make (&made, &texts);
  ck_assert_int_eq (made.plan->summary.always, 2);
  char *text = fixture_text (&made, SW_TEXT_ORDER, 0);
  ck_contains (text, "  5  none lines up with a join on the next level\n"
                     "                                    but 2 pairs at posts that are always joined\n");
  sw_text_free (text);
  made.plan->summary.aligned = made.plan->summary.always = 1;
  text = fixture_text (&made, SW_TEXT_ORDER, 0);
  ck_contains (text, "  5  1 pair lines up on neighbouring levels, plus\n"
                     "                                    1 pair at a post that is always joined:\n");
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* A sum beyond int64 is a failure and not a wrong price. */
START_TEST (overflow)
{
  const fixture_texts texts = { .extras = "label,section,length\na,rail,4000\n",
                                .stock = "section,length,price\nrail,4.8,1000\n",
                                .plan = "extras\nboard rail 4.8: a" };
  fixture made;
  sw_order order;
  char *text = NULL;
  fixture_make (&made, &texts);
  made.job->sections.items[0].spare = INT64_MAX / 1000;
  ck_assert_int_eq (sw_order_make (&order, made.plan), SW_FAILED);
  ck_assert_int_eq (sw_plan_text (made.plan, SW_TEXT_ALL, 0, &text), SW_FAILED);
  ck_assert_ptr_null (text);
  fixture_drop (&made);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("order");
  TCase *tcase = tcase_create ("order");
  tcase_add_test (tcase, table_of_a_fence);
  tcase_add_test (tcase, yard_notation);
  tcase_add_test (tcase, no_count_before_a_section);
  tcase_add_test (tcase, once_more);
  tcase_add_test (tcase, where_spare_goes);
  tcase_add_test (tcase, nothing_to_buy);
  tcase_add_test (tcase, spare_of_what_comes_from_hand);
  tcase_add_test (tcase, warnings_go_with_the_order);
  tcase_add_test (tcase, spare_beyond_the_limit);
  tcase_add_test (tcase, titles);
  tcase_add_test (tcase, tax_adds_up);
  tcase_add_test (tcase, inches);
  tcase_add_test (tcase, formula_is_defused);
  tcase_add_test (tcase, waste);
  tcase_add_test (tcase, waste_adds_up);
  tcase_add_test (tcase, joins_that_line_up);
  tcase_add_test (tcase, joins_that_line_up_everywhere);
  tcase_add_test (tcase, joins_that_need_not_line_up);
  tcase_add_test (tcase, joins_that_are_always_made);
  tcase_add_test (tcase, overflow);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
