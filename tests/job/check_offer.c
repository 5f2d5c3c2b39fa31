/* check_offer.c - yards, packs, prices that fall and fittings as they are read
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/report.h"
#include "job/fitting.h"
#include "job/stock.h"

#include "remarks.h"
#include "suite.h"

#include <string.h>

static sw_report *report;
static sw_settings *settings;
static sw_sections sections;
static sw_stocks stocks;
static sw_yards yards;
static sw_fittings fittings;

static void
setup (void)
{
  report = sw_report_new ();
  settings = sw_settings_new ();
  memset (&sections, 0, sizeof sections);
  memset (&stocks, 0, sizeof stocks);
  memset (&yards, 0, sizeof yards);
  memset (&fittings, 0, sizeof fittings);
}

static void
clear (void)
{
  sw_stocks_clear (&stocks);
  sw_sections_clear (&sections);
  sw_yards_clear (&yards);
  sw_fittings_clear (&fittings);
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
read_yards (const char *csv)
{
  sw_table *table = remarks_table (csv, "yards.csv", report);
  sw_status status = sw_yards_read (&yards, table, report);
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

static sw_status
read_fittings (const char *csv)
{
  sw_table *table = remarks_table (csv, "fittings.csv", report);
  sw_status status = sw_fittings_read (&fittings, table, report);
  sw_table_free (table);
  return status;
}

/* Rows of one yard that differ in `from` are one offer, in whatever order they stand; a row of no yard is one each. */
START_TEST (offers)
{
  ck_assert_int_eq (read_yards ("yard,delivery,minimum,description\nnorth,12.50,,\nsouth,,90,\"by the river, left\"\n"), SW_OK);
  ck_assert_uint_eq (yards.count, 2);
  ck_assert_int_eq (yards.items[0].delivery, 12500000);
  ck_assert_int_eq (yards.items[1].minimum, 90000000);
  ck_assert_str_eq (yards.items[1].description, "by the river, left");
  ck_assert_int_eq (read_stock ("section,length,price,per,limit,hand,yard,from,pack\n"
                                "rail,4.8,17,,,,north,10,\n"
                                "rail,5.4,5,metre,4,2,,,\n"
                                "rail,4.8,20,,30,1,north,,5\n"
                                "rail,4.8,18,,,,north,6,\n"
                                "rail,4.8,19,,,,south,,\n"),
                    SW_OK);
  remarks_expect (report, "", "offers");
  ck_assert (stocks.offers);
  ck_assert_uint_eq (stocks.count, 4);
  const sw_stock *north = &stocks.items[0];
  ck_assert_uint_eq (north->yard, 0);
  ck_assert_int_eq (north->pack, 5);
  ck_assert_int_eq (north->limit, 30);
  ck_assert_int_eq (north->hand, 1);
  ck_assert_uint_eq (north->price_count, 3);
  static const struct
  {
    int64_t count;
    sw_money price;
  } prices[] = { { 1, 20 }, { 5, 20 }, { 6, 18 }, { 9, 18 }, { 10, 17 }, { 1000, 17 } };
  for (size_t i = 0; i < sizeof prices / sizeof *prices; i++)
    ck_assert_int_eq (sw_stock_price (&stocks, north, prices[i].count), prices[i].price * SW_MONEY_UNIT);
  ck_assert (sw_stock_same (north, &stocks.items[1]));
  ck_assert (!sw_stock_same (north, &stocks.items[2]));
  /* The row of no yard: at both, and what is on hand once. */
  for (size_t s = 2; s < 4; s++)
    {
      ck_assert_uint_eq (stocks.items[s].yard, s - 2);
      ck_assert_int_eq (stocks.items[s].price, 27 * SW_MONEY_UNIT);
      ck_assert_int_eq (stocks.items[s].limit, 4);
    }
  ck_assert_int_eq (stocks.items[2].hand + stocks.items[3].hand, 2);
}
END_TEST

/* Without any of it nothing is different. */
START_TEST (plain)
{
  ck_assert_int_eq (read_stock ("section,length,price,yard,from,pack\nrail,4.8,20,,,\nrail,5.4,22,,1,1\n"), SW_OK);
  ck_assert (!stocks.offers);
  ck_assert_uint_eq (stocks.items[0].yard, SW_NO_YARD);
  clear ();
  /* The column alone names the yards. */
  ck_assert_int_eq (read_stock ("section,length,yard\nrail,4.8,b\nrail,4.8,a\n"), SW_OK);
  ck_assert (stocks.offers);
  ck_assert_uint_eq (yards.count, 2);
  ck_assert_str_eq (yards.items[0].name, "b");
}
END_TEST

START_TEST (stock_faults)
{
  static const struct
  {
    const char *rows;
    const char *remarks;
  } cases[] = {
    { "rail,4.8,20,,,,north,,\nrail,4.8,19,,,,north,,\n", "fault stock.csv:3:length\n" },
    { "rail,4.8,20,,,,north,,\nrail,4.8,19,,,,north,5,\nrail,4.8,18,,,,north,5,\n", "fault stock.csv:4:length\n" },
    { "rail,4.8,20,,,,north,,\nrail,4.8,21,,,,north,5,\n", "fault stock.csv:3:price\n" },
    { "rail,4.8,20,,,,north,,5\nrail,4.8,19,,,,north,5,4\n", "fault stock.csv:3:pack\n" },
    { "rail,4.8,20,,9,,north,,\nrail,4.8,19,,8,,north,5,\n", "fault stock.csv:3:limit\n" },
    { "rail,4.8,20,,,1,north,,\nrail,4.8,19,,,2,north,5,\n", "fault stock.csv:3:hand\n" },
    { "rail,4.8,20,,,,north,,\nrail,4.8,19,,,,,,\nrail,4.8,19,,,,south,,\n", "fault stock.csv:3:yard\n" },
    { "rail,4.8,20,,,,west,,\n", "fault stock.csv:2:yard\n" },
    { "rail,4.8,,,,,north,5,\n", "fault stock.csv:2:from\n" },
    { "rail,4.8,20,,,,north,0,\nrail,5.4,20,,,,north,,0\n", "fault stock.csv:2:from\nfault stock.csv:3:pack\n" },
    { "rail,4.8,20,,,,north,1.5,\nrail,5.4,20,,,,north,,x\n", "fault stock.csv:2:from\nfault stock.csv:3:pack\n" },
  };
  for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
    {
      char csv[500] = "section,length,price,per,limit,hand,yard,from,pack\n";
      strcat (csv, cases[i].rows);
      ck_assert_int_eq (read_yards ("yard\nnorth\nsouth\n"), SW_OK);
      ck_assert_int_eq (read_stock (csv), SW_REJECTED);
      remarks_expect (report, cases[i].remarks, cases[i].rows);
      clear ();
    }
}
END_TEST

START_TEST (yard_faults)
{
  ck_assert_int_eq (read_yards ("yard,delivery,minimum\nnorth,-1,\nnorth,2,\n,3,\neast,,x\n"), SW_REJECTED);
  remarks_expect (report, "fault yards.csv:2:delivery\nfault yards.csv:4:yard\nfault yards.csv:5:minimum\n", "yards");
  clear ();
  ck_assert_int_eq (read_yards ("yard,delivery\nnorth,1\nnorth,2\n"), SW_REJECTED);
  remarks_say (report, "yard \"north\" stands twice; it is on line 2 already");
  clear ();
  ck_assert_int_eq (read_yards ("yard,delivery\n"), SW_REJECTED);
}
END_TEST

START_TEST (fitting_rows)
{
  ck_assert_int_eq (read_fittings ("item,per,each,pack,price,only\nnail,Crossing,2,100,9.9,\nnail,join,0.5,,,lane\n"
                                   "cap,end post,,,,\n"),
                    SW_OK);
  ck_assert_uint_eq (fittings.count, 3);
  ck_assert_uint_eq (fittings.items[1].first, 0);
  ck_assert_int_eq (fittings.items[1].pack, 100);
  ck_assert_int_eq (fittings.items[1].each, 500000);
  ck_assert_int_eq (fittings.items[1].price, 9900000);
  ck_assert_uint_eq (fittings.items[2].first, 2);
  ck_assert_int_eq (fittings.items[2].per, SW_PER_END_POST);
  ck_assert (!fittings.items[2].priced);
  remarks_expect (report, "", "fittings");
}
END_TEST

START_TEST (fitting_faults)
{
  ck_assert_int_eq (read_fittings ("item,per,each,pack,price,only\n"
                                   ",post,,,,\n"
                                   "a,,,,,\n"
                                   "b,yard,,,,\n"
                                   "c,post,-1,,,\n"
                                   "d,post,,0,,\n"
                                   "e,board,,,,lane\n"
                                   "f,post,,5,2,\n"
                                   "f,join,,6,,\n"
                                   "f,bay,,,3,\n"
                                   "g,post,0.1234567,,,\n"),
                    SW_REJECTED);
  remarks_expect (report,
                  "fault fittings.csv:2:item\nfault fittings.csv:3:per\nfault fittings.csv:4:per\n"
                  "fault fittings.csv:5:each\nfault fittings.csv:6:pack\nfault fittings.csv:7:only\n"
                  "fault fittings.csv:9:pack\nfault fittings.csv:10:price\nfault fittings.csv:11:each\n",
                  "fittings");
}
END_TEST

/* A spare as a part of the lengths, and an end trim of the section's own. */
START_TEST (section_columns)
{
  sw_table *table = remarks_table ("section,spare,end_trim\na,5%,\nb,12.5 %,25\nc,2,0\nd,101%,\ne,x%,\nf,-1%,\n",
                                   "sections.csv", report);
  ck_assert_int_eq (sw_sections_read (&sections, table, settings, report), SW_REJECTED);
  sw_table_free (table);
  remarks_expect (report,
                  "fault sections.csv:5:spare\nfault sections.csv:6:spare\nfault sections.csv:7:spare\n", "spare");
  ck_assert_int_eq (sections.items[0].spare_rate, SW_SPARE_WHOLE / 20);
  ck_assert (!sections.items[0].own_trim);
  ck_assert_int_eq (sections.items[1].spare_rate, SW_SPARE_WHOLE / 8);
  ck_assert (sections.items[1].own_trim);
  ck_assert_int_eq (sections.items[1].end_trim, 25 * SW_MM);
  ck_assert_int_eq (sections.items[2].spare, 2);
  ck_assert_int_eq (sections.items[2].spare_rate, 0);
  ck_assert (sections.items[2].own_trim);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("offer");
  TCase *tcase = tcase_create ("reading");
  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_add_test (tcase, offers);
  tcase_add_test (tcase, plain);
  tcase_add_test (tcase, stock_faults);
  tcase_add_test (tcase, yard_faults);
  tcase_add_test (tcase, fitting_rows);
  tcase_add_test (tcase, fitting_faults);
  tcase_add_test (tcase, section_columns);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
