/* check_extra.c - other pieces out of the same stock
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/extra.h"
#include "remarks.h"
#include "suite.h"

#include <string.h>

static sw_report *report;
static sw_settings *settings;
static sw_sections sections;
static sw_extras extras;

static void
setup (void)
{
  report = sw_report_new ();
  settings = sw_settings_new ();
  memset (&sections, 0, sizeof sections);
  memset (&extras, 0, sizeof extras);
}

static void
teardown (void)
{
  sw_extras_clear (&extras);
  sw_sections_clear (&sections);
  sw_settings_free (settings);
  sw_report_free (report);
}

static sw_status
read_extras (const char *csv)
{
  sw_extras_clear (&extras);
  sw_table *table = remarks_table (csv, "extras.csv", report);
  sw_status status = sw_extras_read (&extras, &sections, table, settings, report);
  sw_table_free (table);
  return status;
}

START_TEST (columns)
{
  ck_assert_int_eq (read_extras ("label,section,length,quantity\n"
                                 "gate brace,75x38,1650,4\n"
                                 "stile,90x45,\"5' 6\"\"\",\n"
                                 "final 4,75x38,14,211\n"),
                    SW_OK);
  ck_assert_uint_eq (extras.count, 3);
  ck_assert_str_eq (extras.items[0].label, "gate brace");
  ck_assert_uint_eq (extras.items[0].section, 0);
  ck_assert_int_eq (extras.items[0].length, 1650 * SW_MM);
  ck_assert_int_eq (extras.items[0].quantity, 4);
  ck_assert_uint_eq (extras.items[0].line, 2);
  ck_assert_uint_eq (extras.items[1].section, 1);
  ck_assert_int_eq (extras.items[1].length, 66 * SW_INCH);
  ck_assert_int_eq (extras.items[1].quantity, 1);
  ck_assert_uint_eq (extras.items[2].section, 0);
  remarks_expect (report, "", "extras");
}
END_TEST

START_TEST (faults)
{
  ck_assert_int_eq (read_extras ("label,section,length,quantity\n"
                                 ",a,100,1\n"
                                 "b,,100,1\n"
                                 "c,a,,1\n"
                                 "d,a,0,1\n"
                                 "e,a,-100,1\n"
                                 "f,a,long,1\n"
                                 "g,a,100,0\n"
                                 "h,a,100,2.5\n"
                                 "i,a,100,1000000001\n"
                                 "j,a,100,1\n"
                                 "j,a,200,1\n"),
                    SW_REJECTED);
  remarks_expect (report,
                  "fault extras.csv:2:label\nfault extras.csv:3:section\nfault extras.csv:4:length\n"
                  "fault extras.csv:5:length\nfault extras.csv:6:length\nfault extras.csv:7:length\n"
                  "fault extras.csv:8:quantity\nfault extras.csv:9:quantity\nfault extras.csv:10:quantity\n"
                  "fault extras.csv:12:label\n",
                  "extras");
  remarks_say (report, "label \"j\" stands twice; it is on line 11 already");
}
END_TEST

START_TEST (long_names)
{
  char csv[2000] = "label,section,length\n";
  char name[300];
  memset (name, 'x', sizeof name);
  name[255] = '\0';
  strcat (csv, name);
  strcat (csv, ",a,100\n");
  ck_assert_int_eq (read_extras (csv), SW_OK);
  name[255] = 'x';
  name[256] = '\0';
  strcpy (csv, "label,section,length\n");
  strcat (csv, name);
  strcat (csv, ",a,100\n");
  ck_assert_int_eq (read_extras (csv), SW_REJECTED);
  remarks_say (report, "at most 255 bytes");
}
END_TEST

START_TEST (short_piece)
{
  ck_assert_int_eq (read_extras ("label,section,length\na,b,2.4\n"), SW_OK);
  remarks_expect (report, "warning extras.csv:2:length\n", "extras");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("extra");
  TCase *tests = tcase_create ("extra");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_add_test (tests, columns);
  tcase_add_test (tests, faults);
  tcase_add_test (tests, long_names);
  tcase_add_test (tests, short_piece);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
