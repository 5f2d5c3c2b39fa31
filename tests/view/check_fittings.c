/* check_fittings.c - what goes on the order and is not cut
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan_fixture.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Two runs that meet in a corner, the first with a gate; two rails, of which the field has one. */
static const fixture_texts corner
    = { .spans = "run,span,start,finish,opening\n"
                 "lane,2000,,,\nlane,2000,,,\nlane,3000,,,yes\nlane,2000,,mitre 90,\n"
                 "field,1500,mitre 90,,\nfield,1500,,,\n",
        .levels = "level,section,only\nlow,90x45,lane\nhigh,90x45,\n",
        .sections = "section,width,thickness\n90x45,90,45\n",
        .extras = "label,section,length,quantity\nprop,90x45,900,2\n",
        .stock = "section,length,price\n90x45,4.8,20\n",
        .plan = "through lane/low: 1-3 4-5\nthrough lane/high: 1-2 2-3 4-5\nthrough field/high: 1-3\nextras\n"
                "board 90x45 4.8: lane/low/1-3, prop 1\n"
                "board 90x45 4.8: lane/high/1-2, lane/high/2-3\n"
                "board 90x45 4.8: lane/low/4-5, lane/high/4-5\n"
                "board 90x45 4.8: field/high/1-3, prop 2" };

/* Fittings of ROWS are on the order as LINES. */
static void
ck_order (const char *rows, const char *lines)
{
  fixture_texts texts = corner;
  char table[1000];
  fixture made;
  snprintf (table, sizeof table, "item,per,each,pack,price,only\n%s", rows);
  texts.fittings = table;
  fixture_make (&made, &texts);
  char *csv = fixture_csv (&made, SW_TABLE_ORDER);
  const char *found = strstr (csv, "\r\n,");
  ck_assert_msg (found != NULL && strcmp (found + 2, lines) == 0, "%s:\n%s", rows, csv);
  sw_text_free (csv);
  fixture_drop (&made);
}

/* Hand-worked. Lane: posts 1 to 5, gate between 3 and 4; field: posts 1 to 3, the first being lane's last. */
START_TEST (counted)
{
  static const struct
  {
    const char *per;
    const char *count;
  } units[] = {
    { "post", "7" },     /* 5 + 3 - the corner */
    { "end post", "3" }, /* lane's first, the corner, field's last */
    { "bay", "5" },      { "opening", "1" },
    { "metre", "9" },    /* 6 of the lane, 3 of the field */
    { "piece", "8" },    /* 6 in their places, 2 props */
    { "join", "1" },     /* lane/high on post 2 */
    { "crossing", "13" } /* 5 posts of the lane on two levels, 3 of the field on one */,
    { "board", "4" },    { "run", "2" },
    { "job", "1" },
  };
  for (size_t i = 0; i < sizeof units / sizeof *units; i++)
    {
      char row[80];
      char line[80];
      snprintf (row, sizeof row, "thing,%s,,,,\n", units[i].per);
      snprintf (line, sizeof line, ",thing,,%s,0,,,,,fitting\r\n", units[i].count);
      ck_order (row, line);
    }
}
END_TEST

START_TEST (of_some_runs)
{
  ck_order ("thing,post,,,,field\n", ",thing,,3,0,,,,,fitting\r\n");
  ck_order ("thing,post,,,,field; lane\n", ",thing,,7,0,,,,,fitting\r\n");
  ck_order ("thing,metre,,,,lane\n", ",thing,,6,0,,,,,fitting\r\n");
  ck_order ("thing,crossing,,,,field\n", ",thing,,3,0,,,,,fitting\r\n");
  /* Extras are of no run. */
  ck_order ("thing,piece,,,,lane;field\n", ",thing,,6,0,,,,,fitting\r\n");
}
END_TEST

/* Rounded up once, after all rows of the item: 13 x 0.5 + 1 x 1.6 = 8.1; packs of 4: three, three over. */
START_TEST (rounded_once)
{
  ck_order ("nail,crossing,0.5,4,2.25,\nnail,join,1.6,,,\n", ",nail,,9,3,,2.25,6.75,,fitting\r\n");
  /* 7 thirds of a millionth less than a third: 2.333331, and so 3. */
  ck_order ("bag,post,0.333333,,,\n", ",bag,,3,0,,,,,fitting\r\n");
  /* A whole number is not rounded up. */
  ck_order ("bag,metre,0.333333,,,\nbag,job,0.000003,,,\n", ",bag,,3,0,,,,,fitting\r\n");
}
END_TEST

START_TEST (in_the_total)
{
  fixture_texts texts = corner;
  fixture made;
  texts.fittings = "item,per,price\ncap,post,3\nbrace,run,\n";
  texts.settings = "tax=10";
  fixture_make (&made, &texts);
  char *text = fixture_text (&made, SW_TEXT_ORDER, 80);
  /* 4 x 20 + 7 x 3 = 101; tax 10.10. */
  ck_assert_ptr_nonnull (strstr (text, " 101.00\n"));
  ck_assert_ptr_nonnull (strstr (text, " 111.10\n"));
  ck_assert_ptr_nonnull (strstr (text, "brace: 2\n"));
  ck_assert_ptr_nonnull (strstr (text, "The total is without the fittings that have no price."));
  sw_text_free (text);
  text = fixture_text (&made, SW_TEXT_MESSAGE, 0);
  ck_assert_ptr_nonnull (strstr (text, "\ncap: 7\nbrace: 2\nPrice: 101.00 ex tax, 111.10 incl. 10 % tax\n"));
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

/* Two yards, written into a plan by hand: the parts of the order and of the message. */
START_TEST (a_part_a_yard)
{
  const fixture_texts texts = { .extras = "label,section,length,quantity\na,rail,4700,3\nb,rail,5300,2\n",
                                .stock = "section,length,price,yard,pack,from\nrail,4.8,20,north,,\nrail,4.8,18,north,,4\n"
                                         "rail,5.4,25,south,4,\n",
                                .sections = "section,spare\nrail,1\n",
                                .yards = "yard,delivery,description\nnorth,30,Mill Lane\nsouth,,\n",
                                .plan = "extras\nboard rail 5.4: b 1\nboard rail 5.4: b 2\nboard rail 4.8: a 1\n"
                                        "board rail 4.8: a 2\nboard rail 4.8: a 3" };
  fixture made;
  fixture_make (&made, &texts);
  made.plan->purchases = calloc (2, sizeof *made.plan->purchases);
  made.plan->purchases[0] = (sw_purchase){ .count = 3, .bought = 3 };
  made.plan->purchases[1] = (sw_purchase){ .count = 2, .bought = 4 };
  /* The spare one makes four of 4.8 m, and all of them cheaper. */
  char *csv = fixture_csv (&made, SW_TABLE_ORDER);
  ck_assert_str_eq (csv, "section,description,length_mm,count,spare,metres,unit_price,price,yard,kind\r\n"
                         "rail,,4800,3,1,19.2,18.00,72.00,north,timber\r\n"
                         "rail,,5400,2,2,21.6,25.00,100.00,south,timber\r\n"
                         ",delivery,,1,,,30.00,30.00,north,delivery\r\n");
  sw_text_free (csv);
  char *text = fixture_text (&made, SW_TEXT_MESSAGE, 0);
  ck_assert_ptr_nonnull (strstr (text, "Timber order to north\n"));
  ck_assert_ptr_nonnull (strstr (text, "\nMill Lane\n\nrail: 4/4.8 (incl. 1 spare) = 19.2 lm\n\n"
                                       "In all: 4 lengths, 19.2 lm\nDelivery: 30.00\nPrice: 102.00\n"));
  ck_assert_ptr_nonnull (strstr (text, "Timber order to south\n"));
  ck_assert_ptr_nonnull (strstr (text, "\n\nrail: 4/5.4 (2 over) = 21.6 lm\n\nIn all: 4 lengths, 21.6 lm\nPrice: 100.00\n"));
  ck_assert_ptr_nonnull (strstr (text, "\nAll of it together:\nIn all: 8 lengths, 40.8 lm\nPrice: 202.00\n"));
  sw_text_free (text);
  fixture_drop (&made);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("fittings");
  TCase *tcase = tcase_create ("order");
  tcase_add_test (tcase, counted);
  tcase_add_test (tcase, of_some_runs);
  tcase_add_test (tcase, rounded_once);
  tcase_add_test (tcase, in_the_total);
  tcase_add_test (tcase, a_part_a_yard);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
