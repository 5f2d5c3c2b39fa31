/* check_stock.c - sections and the lengths they come in
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "remarks.h"
#include "job/stock.h"
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static sw_report *report;
static sw_settings *settings;
static sw_sections sections;
static sw_stocks stocks;
static sw_yards yards;

static void
setup (void)
{
  report = sw_report_new ();
  settings = sw_settings_new ();
  memset (&sections, 0, sizeof sections);
  memset (&stocks, 0, sizeof stocks);
  memset (&yards, 0, sizeof yards);
}

static void
clear (void)
{
  sw_sections_clear (&sections);
  sw_stocks_clear (&stocks);
  sw_yards_clear (&yards);
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
read_sections (const char *csv)
{
  sw_table *table = remarks_table (csv, "sections.csv", report);
  sw_status status = sw_sections_read (&sections, table, settings, report);
  sw_table_free (table);
  return status;
}

static sw_status
read_stock (const char *csv)
{
  sw_table *table = remarks_table (csv, "stock.csv", report);
  sw_status status = sw_stocks_read (&stocks, &sections, &yards, table, settings, report);
  sw_table_free (table);
  return status;
}

START_TEST (interning)
{
  size_t a;
  size_t b;
  size_t c;
  ck_assert_int_eq (sw_sections_find (&sections, "rail"), -1);
  ck_assert_int_eq (sw_sections_intern (&sections, "rail", &a), SW_OK);
  ck_assert_int_eq (sw_sections_intern (&sections, "Rail", &b), SW_OK);
  ck_assert_int_eq (sw_sections_intern (&sections, "rail", &c), SW_OK);
  ck_assert_uint_eq (a, 0);
  ck_assert_uint_eq (b, 1);
  ck_assert_uint_eq (c, 0);
  ck_assert_int_eq (sw_sections_find (&sections, "Rail"), 1);
  ck_assert_uint_eq (sections.count, 2);
}
END_TEST

START_TEST (section_columns)
{
  ck_assert_int_eq (read_sections ("spare,Section,width,thickness,description,density\n"
                                   "2,75x38,75,38,\"H3 primed, pine\",550.5\n"
                                   ",post,4in,,,\n"),
                    SW_OK);
  ck_assert_uint_eq (sections.count, 2);
  const sw_section *first = &sections.items[0];
  ck_assert_str_eq (first->name, "75x38");
  ck_assert_int_eq (first->width, 75 * SW_MM);
  ck_assert_int_eq (first->thickness, 38 * SW_MM);
  ck_assert_str_eq (first->description, "H3 primed, pine");
  ck_assert_int_eq (first->density, 550500);
  ck_assert_int_eq (first->spare, 2);
  ck_assert_uint_eq (first->line, 2);
  ck_assert_int_eq (sections.items[1].width, 4 * SW_INCH);
  ck_assert_int_eq (sections.items[1].thickness, 0);
  ck_assert_ptr_null (sections.items[1].description);
  ck_assert_int_eq (sections.items[1].density, 0);
  remarks_expect (report, "", "sections");
}
END_TEST

START_TEST (section_sizes_in_doubt)
{
  ck_assert_int_eq (read_sections ("section,width,thickness\n"
                                   "swapped,38,75\n"
                                   "square,90,90\n"
                                   "cm,9,4.5\n"
                                   "plinth in cm,15,2.5\n"
                                   "lath,15,10\n"
                                   "written,9mm,4mm\n"
                                   "thickness alone,,1.9\n"),
                    SW_OK);
  remarks_expect (report,
                  "warning sections.csv:2:thickness\nwarning sections.csv:4:width\n"
                  "warning sections.csv:5:thickness\nwarning sections.csv:8:thickness\n",
                  "sections");
  remarks_say (report, "the section is taken for 38 mm wide and 75 mm thick, though the width is the larger side of a "
                       "timber; exchange the two if they are swapped");
  remarks_say (report,
               "is taken for 9 mm, since a bare number is millimetres; if centimetres are meant, write 9cm (90 mm)");
  remarks_say (report, "write 2.5cm (25 mm)");
  clear ();
  settings->inches = true;
  ck_assert_int_eq (read_sections ("section,width,thickness\n2x4,3.5,1.5\n"), SW_OK);
  remarks_expect (report, "warning sections.csv:2:width\n", "inches");
  remarks_say (report, "is taken for 3.5 mm, since a bare number is millimetres; if inches are meant, write 3.5in");
}
END_TEST

START_TEST (section_faults)
{
  ck_assert_int_eq (read_sections ("section,width,thickness,density,spare\n"
                                   "a,0,38,,\n"
                                   "b,75,-38,,\n"
                                   "c,,,heavy,\n"
                                   "d,,,550,1.5\n"
                                   "\"\",,,,\n"
                                   "e,2001,,5001,-1\n"
                                   ",75,,,\n"
                                   "f,,,,\n"
                                   "f,,,,\n"),
                    SW_REJECTED);
  remarks_expect (report,
                  "fault sections.csv:2:width\nfault sections.csv:3:thickness\nfault sections.csv:4:density\n"
                  "fault sections.csv:5:spare\nfault sections.csv:6:section\nfault sections.csv:7:width\nfault "
                  "sections.csv:7:density\n"
                  "fault sections.csv:7:spare\nfault sections.csv:8:section\nfault sections.csv:10:section\n",
                  "sections");
  remarks_say (report, "section \"f\" stands twice; it is on line 9 already");
}
END_TEST

START_TEST (stock_columns)
{
  ck_assert_int_eq (read_stock ("section,length,price,per,limit,hand\n"
                                "rail,5.4,6.55,metre,,3\n"
                                "rail,4.8,29.76,,10,\n"
                                "rail,3600,20,Length,0,2\n"
                                "board,16ft,3,meter,,\n"),
                    SW_OK);
  ck_assert_uint_eq (stocks.count, 4);
  static const sw_stock expected[] = {
    { .length = 3600 * SW_MM, .priced = true, .price = 20000000, .limit = 0, .hand = 2, .line = 4 },
    { .length = 4800 * SW_MM, .priced = true, .price = 29760000, .limit = 10, .line = 3 },
    /* 5.4 m at 6.55 a metre: 35.37. */
    { .length = 5400 * SW_MM, .priced = true, .price = 35370000, .limit = -1, .hand = 3, .line = 2 },
    /* 4.8768 m at 3 a metre. */
    { .section = 1, .length = 192 * SW_INCH, .priced = true, .price = 14630400, .limit = -1, .line = 5 },
  };
  for (size_t i = 0; i < 4; i++)
    {
      const sw_stock *stock = &stocks.items[i];
      ck_assert_uint_eq (stock->section, expected[i].section);
      ck_assert_int_eq (stock->length, expected[i].length);
      ck_assert_int_eq (stock->priced, expected[i].priced);
      ck_assert_int_eq (stock->price, expected[i].price);
      ck_assert_int_eq (stock->limit, expected[i].limit);
      ck_assert_int_eq (stock->hand, expected[i].hand);
      ck_assert_uint_eq (stock->line, expected[i].line);
    }
  remarks_expect (report, "", "stock");
}
END_TEST

START_TEST (decimal_comma)
{
  ck_assert_int_eq (read_stock ("section;length;price;per\nrail;4,8;6,20;metre\nrail;5400;0;\n"), SW_OK);
  ck_assert_int_eq (stocks.items[0].length, 4800 * SW_MM);
  ck_assert_int_eq (stocks.items[0].price, 29760000);
  ck_assert_int_eq (stocks.items[1].length, 5400 * SW_MM);
  ck_assert (stocks.items[1].priced);
  ck_assert_int_eq (stocks.items[1].price, 0);
}
END_TEST

/* Lengths that are printed alike could not be told apart in the plan. */
START_TEST (lengths_that_look_the_same)
{
  ck_assert_int_eq (read_stock ("section,length\nrail,4800\npost,4800.04\nrail,4800.04\nrail,4800.06\nrail,5.4\n"),
                    SW_REJECTED);
  remarks_expect (report, "fault stock.csv:4:length\n", "in millimetres");
  remarks_say (report, "section \"rail\" in 4.80004 m cannot be told from 4.8 m on line 2 where lengths are printed; "
                       "expected lengths further apart, or one row for both");
  clear ();
  /* The later line is to blame, whichever length is longer. */
  ck_assert_int_eq (read_stock ("section,length,price\nrail,16ft,10\nrail,4876.82mm,9\nrail,4876.77mm,9\n"),
                    SW_REJECTED);
  remarks_expect (report, "fault stock.csv:3:length\nfault stock.csv:4:length\n", "feet");
  remarks_say (report, "in 4.87682 m cannot be told from 4.8768 m on line 2");
  remarks_say (report, "in 4.87677 m cannot be told from 4.8768 m on line 2");
  clear ();
  /* If they look the same in metres, too, the message says what tells them apart. */
  ck_assert_int_eq (read_stock ("section,length\nrail,54.25321mm\nrail,54.25324mm\n"), SW_REJECTED);
  remarks_say (report, "in 54.25324 mm cannot be told from 54.25321 mm on line 2");
  clear ();
  static const char near[] = "section,length\nrail,4800\nrail,4800.5\n";
  ck_assert_int_eq (read_stock (near), SW_OK);
  clear ();
  ck_assert_int_eq (sw_settings_set (settings, "inches", "yes", NULL), SW_OK);
  ck_assert_int_eq (read_stock (near), SW_REJECTED);
  remarks_expect (report, "fault stock.csv:3:length\n", "in inches");
}
END_TEST

/* Other words for what the price is for. */
START_TEST (per_in_other_words)
{
  ck_assert_int_eq (read_stock ("section,length,price,per\na,5,3,m\nb,5,3,LM\nc,5,3,meter\nd,5,3,each\ne,5,3,metre\n"
                                "f,5,3,length\n"),
                    SW_OK);
  remarks_expect (report, "", "per");
  static const int64_t prices[] = { 15, 15, 15, 3, 15, 3 };
  for (size_t i = 0; i < 6; i++)
    ck_assert_int_eq (stocks.items[i].price, prices[i] * SW_MONEY_UNIT);
}
END_TEST

START_TEST (cell_faults)
{
  ck_assert_int_eq (read_stock ("section,length,price,per,limit,hand\n"
                                ",4.8,,,,\n"
                                "a,,,,,\n"
                                "b,31,,,,\n"
                                "c,-4.8,,,,\n"
                                "d,4.8,-1,,,\n"
                                "e,4.8,1,foot,,\n"
                                "f,4.8,,metre,,\n"
                                "g,4.8,,,1.5,\n"
                                "h,4.8,,,,-1\n"
                                "i,4.8,,,many,some\n"
                                "j,99km,,,,\n"
                                "k,99000m,1000000000,metre,,\n"),
                    SW_REJECTED);
  remarks_expect (report,
                  "fault stock.csv:2:section\nfault stock.csv:3:length\nfault stock.csv:4:length\n"
                  "fault stock.csv:5:length\nfault stock.csv:6:price\nfault stock.csv:7:per\nfault stock.csv:8:per\n"
                  "fault stock.csv:9:limit\nfault stock.csv:10:hand\nfault stock.csv:11:limit\n"
                  "fault stock.csv:11:hand\nfault stock.csv:12:length\nfault stock.csv:13:price\n",
                  "stock");
  remarks_say (report, "from 50 mm");
  remarks_say (report, "\"length\" or \"metre\", found \"foot\"");
}
END_TEST

START_TEST (rows_that_clash)
{
  ck_assert_int_eq (read_stock ("section,length,price\n"
                                "rail,5.4,\n"
                                "rail,4.8,25\n"
                                "board,4.8,\n"
                                "rail,4800,26\n"
                                "rail,6.0,\n"
                                "rail,4.8m,\n"
                                "board,5.4,\n"),
                    SW_REJECTED);
  remarks_expect (report,
                  "fault stock.csv:2:price\nfault stock.csv:5:length\nfault stock.csv:6:price\n"
                  "fault stock.csv:7:length\nfault stock.csv:7:price\n",
                  "stock");
  remarks_say (report, "section \"rail\" in 4.8 m stands twice; it is on line 3 already");
  remarks_say (report, "since section \"rail\" has one on line 3");
}
END_TEST

START_TEST (not_for_sale_needs_no_price)
{
  ck_assert_int_eq (read_stock ("section,length,price,limit,hand\n"
                                "rail,3.6,,0,4\n"
                                "rail,4.8,25,,\n"
                                "rail,6.0,30,0,\n"
                                "board,3.6,9,0,4\n"
                                "board,4.8,,,\n"),
                    SW_OK);
  ck_assert (stocks.items[0].priced && stocks.items[0].price == 0);
  ck_assert (stocks.items[1].priced && stocks.items[1].price == 25000000);
  ck_assert (stocks.items[2].priced && stocks.items[2].price == 30000000);
  ck_assert (!stocks.items[3].priced && stocks.items[3].price == 0);
  ck_assert (!stocks.items[4].priced);
}
END_TEST

START_TEST (no_rows)
{
  ck_assert_int_eq (read_stock ("section,length\n"), SW_REJECTED);
  remarks_expect (report, "fault stock.csv\n", "stock");
  clear ();
  ck_assert_int_eq (read_stock ("section,len\nrail,4.8\n"), SW_REJECTED);
  remarks_expect (report, "fault stock.csv:1:length\nwarning stock.csv:1:len\n", "stock");
  clear ();
  ck_assert_int_eq (read_sections ("section\n"), SW_OK);
}
END_TEST

START_TEST (unknown_columns)
{
  ck_assert_int_eq (read_sections ("Section,Spare,colour,de-scription\na,1,red,x\n"), SW_OK);
  remarks_expect (report, "warning sections.csv:1:colour\nwarning sections.csv:1:de-scription\n", "sections");
  clear ();
  ck_assert_int_eq (read_stock ("section,length,in-hand\na,4.8,1\n"), SW_OK);
  remarks_expect (report, "warning stock.csv:1:in-hand\n", "stock");
}
END_TEST

/* Fail unless reading a stock file with the unknown column HEADER names MEANT.  NULL: no column. */
static void
expect_meant (const char *header, const char *meant)
{
  char csv[200];
  char says[80];
  snprintf (csv, sizeof csv, "section,length,%s\na,4.8,1\n", header);
  clear ();
  ck_assert_int_eq (read_stock (csv), SW_OK);
  ck_assert_uint_eq (sw_report_count (report), 1);
  const char *message = sw_report_get (report, 0)->message;
  if (meant == NULL)
    ck_assert_str_eq (message, "a column of this name is not known and is ignored");
  else
    {
      snprintf (says, sizeof says, "is not known and is ignored; did you mean \"%s\"?", meant);
      remarks_say (report, says);
    }
}

START_TEST (columns_that_were_meant)
{
  static const char *const pairs[][2] = {
    /* Other words for the same. */
    { "cost", "price" },
    { "Cost", "price" },
    { "Unit price", "price" },
    { "unit", "per" },
    { "qty", "limit" },
    { "available", "limit" },
    { "on hand", "hand" },
    { "In-Stock", "hand" },
    /* Misspelt: a letter too few, too many, a wrong one, two wrong ones. */
    { "pice", "price" },
    { "prices", "price" },
    { "prica", "price" },
    { "prizes", "price" },
    { "limits", "limit" },
    { "prizers", NULL },
    { "colour", NULL },
    { "pe", NULL },
    { "id", NULL },
    { "x", NULL },
    { "priceprice", NULL },
    { "a name that is far longer than that of any column", NULL },
  };
  for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++)
    expect_meant (pairs[i][0], pairs[i][1]);
  /* No other column can be meant by a column that is there. */
  clear ();
  ck_assert_int_eq (read_stock ("section,length,price,cost,lenght\na,4.8,1,2,3\n"), SW_OK);
  remarks_expect (report, "warning stock.csv:1:cost\nwarning stock.csv:1:lenght\n", "price is there");
  for (size_t i = 0; i < 2; i++)
    ck_assert_ptr_null (strstr (sw_report_get (report, i)->message, "mean"));
  /* A needed column has another name. */
  clear ();
  ck_assert_int_eq (read_stock ("timber,size\na,4.8\n"), SW_REJECTED);
  remarks_expect (report,
                  "fault stock.csv:1:section\nfault stock.csv:1:length\nwarning stock.csv:1:timber\n"
                  "warning stock.csv:1:size\n",
                  "needed");
  ck_assert_str_eq (sw_report_get (report, 2)->message,
                    "a column of this name is not known and is ignored; did you mean \"section\"?");
  ck_assert_str_eq (sw_report_get (report, 3)->message,
                    "a column of this name is not known and is ignored; did you mean \"length\"?");
}
END_TEST

START_TEST (default_stock)
{
  size_t index;
  ck_assert_int_eq (sw_sections_intern (&sections, "b", &index), SW_OK);
  ck_assert_int_eq (sw_sections_intern (&sections, "a", &index), SW_OK);
  ck_assert_int_eq (sw_settings_set (settings, "stock-length", "6.0,5.4,4.8", report), SW_OK);
  ck_assert_int_eq (sw_stocks_default (&stocks, &sections, &yards, settings), SW_OK);
  ck_assert_uint_eq (stocks.count, 6);
  for (size_t i = 0; i < 6; i++)
    {
      ck_assert_uint_eq (stocks.items[i].section, i / 3);
      ck_assert_int_eq (stocks.items[i].length, (sw_length)(4800 + 600 * (i % 3)) * SW_MM);
      ck_assert (!stocks.items[i].priced);
      ck_assert_int_eq (stocks.items[i].limit, -1);
      ck_assert_int_eq (stocks.items[i].hand, 0);
      ck_assert_uint_eq (stocks.items[i].line, 0);
    }
}
END_TEST

START_TEST (without_report)
{
  sw_table *table = remarks_table ("section,length\nrail,x\nrail,4.8\n", "stock.csv", report);
  ck_assert_int_eq (sw_stocks_read (&stocks, &sections, &yards, table, settings, NULL), SW_REJECTED);
  sw_table_free (table);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("stock");
  TCase *tests = tcase_create ("stock");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_add_test (tests, interning);
  tcase_add_test (tests, section_columns);
  tcase_add_test (tests, section_sizes_in_doubt);
  tcase_add_test (tests, per_in_other_words);
  tcase_add_test (tests, lengths_that_look_the_same);
  tcase_add_test (tests, section_faults);
  tcase_add_test (tests, stock_columns);
  tcase_add_test (tests, decimal_comma);
  tcase_add_test (tests, cell_faults);
  tcase_add_test (tests, rows_that_clash);
  tcase_add_test (tests, not_for_sale_needs_no_price);
  tcase_add_test (tests, no_rows);
  tcase_add_test (tests, unknown_columns);
  tcase_add_test (tests, columns_that_were_meant);
  tcase_add_test (tests, default_stock);
  tcase_add_test (tests, without_report);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
