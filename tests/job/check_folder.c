/* check_folder.c - reading a job's folder
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/folder.h"

#include "base/checksum.h"
#include "job/job_warning.h"
#include "plan_fixture.h"
#include "remarks.h"
#include "suite.h"
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define SPANS "run,span\nlane,2400\nlane,2400\n"
#define LEVELS "level,section\nlow,rail\nmiddle,rail\nhigh,rail\n"
#define STOCK "section,length,price\nrail,6.0,30\n"
#define EXTRAS "label,section,length\nbrace,rail,1500\n"

static char *directory;
static sw_report *report;
static sw_settings *settings;
static sw_job *job;

static void
setup (void)
{
  directory = fixture_directory ();
  report = sw_report_new ();
  settings = sw_settings_new ();
  job = NULL;
}

static void
teardown (void)
{
  sw_job_free (job);
  sw_settings_free (settings);
  sw_report_free (report);
  fixture_remove (directory);
}

static void
put (const char *name, const char *bytes)
{
  char *path = sw_text_path (directory, name);
  FILE *file = fopen (path, "wb");
  ck_assert_msg (file != NULL, "%s", path);
  fputs (bytes, file);
  ck_assert_int_eq (fclose (file), 0);
  free (path);
}

static void
make (const char *name)
{
  char *path = sw_text_path (directory, name);
  ck_assert_int_eq (mkdir (path, 0777), 0);
  free (path);
}

static sw_status
read_folder (const sw_sources *given)
{
  sw_job_free (job);
  return sw_job_read_folder (&job, directory, given, settings, report);
}

static sw_status
read_kept (const sw_sources *given)
{
  sw_job_free (job);
  return sw_job_read_kept (&job, directory, given, settings, report);
}

static void
ck_remarks (const char *expected)
{
  remarks_expect (report, expected, "remarks");
  sw_report_clear (report);
}

/* ---- A folder ------------------------------------------------------------ */

START_TEST (all_files)
{
  put ("spans.csv", SPANS);
  put ("levels.csv", LEVELS);
  put ("stock.csv", STOCK);
  put ("sections.csv", "section,width\nrail,90\n");
  put ("extras.csv", EXTRAS);
  put ("yards.csv", "yard\nnorth\n");
  put ("fittings.csv", "item,per\ncap,post\n");
  put ("settings.csv", "key,value\nkerf,4\n");
  put ("notes.txt", "mine");
  ck_assert_int_eq (read_folder (NULL), SW_OK);
  ck_remarks ("");
  ck_assert_uint_eq (job->fence.run_count, 1);
  ck_assert_uint_eq (job->levels.count, 3);
  ck_assert (job->priced);
  ck_assert_uint_eq (job->extras.count, 1);
  ck_assert_int_eq (job->settings->kerf, 4 * SW_MM);
  /* The caller's settings have not changed, and the job knows its files. */
  ck_assert_int_eq (settings->kerf, 3 * SW_MM);
  for (int f = 0; f <= SW_FILE_SETTINGS; f++)
    {
      char *path = sw_text_path (directory, sw_folder_name ((sw_job_file)f));
      ck_assert_str_eq (job->files[f], path);
      free (path);
    }
}
END_TEST

START_TEST (spans_alone)
{
  put ("spans.csv", SPANS);
  ck_assert_int_eq (read_folder (NULL), SW_OK);
  ck_assert_uint_eq (job->levels.count, 2);
  ck_assert_ptr_null (job->files[SW_FILE_SETTINGS]);
}
END_TEST

START_TEST (extras_alone)
{
  put ("extras.csv", EXTRAS);
  ck_assert_int_eq (read_folder (NULL), SW_OK);
  ck_assert_uint_eq (job->fence.run_count, 0);
}
END_TEST

/* A file that the caller names, and settings that it has set or read, take precedence. */
START_TEST (what_is_given_wins)
{
  put ("spans.csv", SPANS);
  put ("levels.csv", LEVELS);
  put ("settings.csv", "key,value\nkerf,4\nkeep,700\n");
  put ("other.csv", "level,section\nonly,rail\n");
  put ("mine.csv", "key,value\nkeep,800\n");
  char *other = sw_text_path (directory, "other.csv");
  char *mine = sw_text_path (directory, "mine.csv");
  const sw_sources given = { .levels = other };
  ck_assert_int_eq (sw_settings_set (settings, "kerf", "5", report), SW_OK);
  ck_assert_int_eq (read_folder (&given), SW_OK);
  ck_assert_uint_eq (job->levels.count, 1);
  ck_assert_int_eq (job->settings->kerf, 5 * SW_MM);
  ck_assert_int_eq (job->settings->keep, 700 * SW_MM);
  ck_assert_int_eq (sw_settings_read (settings, mine, report), SW_OK);
  ck_assert_int_eq (read_folder (&given), SW_OK);
  ck_assert_int_eq (job->settings->keep, 800 * SW_MM);
  ck_remarks ("");
  free (mine);
  free (other);
}
END_TEST

/* Stock and levels that the caller names replace the settings of settings.csv in their place. */
START_TEST (given_files_win_over_settings)
{
  put ("spans.csv", SPANS);
  put ("settings.csv", "key,value\nstock-length,3.6\nrails,5\n");
  put ("other.csv", LEVELS);
  put ("yard.csv", STOCK);
  char *other = sw_text_path (directory, "other.csv");
  char *yard = sw_text_path (directory, "yard.csv");
  ck_assert_int_eq (read_folder (NULL), SW_OK);
  ck_assert_uint_eq (job->levels.count, 5);
  ck_assert_int_eq (job->stocks.items[0].length, 3600 * SW_MM);
  const sw_sources given = { .levels = other, .stock = yard };
  ck_assert_int_eq (read_folder (&given), SW_OK);
  ck_assert_uint_eq (job->levels.count, 3);
  ck_assert_int_eq (job->stocks.items[0].length, 6 * SW_METRE);
  ck_assert (sw_settings_same (job->settings, settings));
  /* They do not replace the caller's own settings. */
  ck_assert_int_eq (sw_settings_set (settings, "rails", "2", report), SW_OK);
  ck_assert_int_eq (read_folder (&given), SW_USAGE);
  ck_assert_ptr_null (job);
  remarks_say (report, "levels come either from this file or from the setting rails, not from both");
  free (yard);
  free (other);
}
END_TEST

/* A setting beside a file of the folder that says the same is refused, as beside a named file. */
START_TEST (two_tongues)
{
  put ("spans.csv", SPANS);
  put ("stock.csv", STOCK);
  ck_assert_int_eq (sw_settings_set (settings, "stock-length", "4.8", report), SW_OK);
  ck_assert_int_eq (read_folder (NULL), SW_USAGE);
  ck_remarks ("fault stock.csv\n");
}
END_TEST

START_TEST (none_of_them)
{
  put ("order.csv", "section\n");
  ck_assert_int_eq (read_folder (NULL), SW_REJECTED);
  ck_assert_ptr_null (job);
  ck_assert_str_eq (sw_report_get (report, 0)->file, directory);
  remarks_say (report, "expected a job's files in this folder (spans.csv, levels.csv, stock.csv ...), found none of "
                       "them");
  sw_report_clear (report);
  /* A plan's folder is taken for a job's. */
  make ("job");
  ck_assert_int_eq (read_folder (NULL), SW_REJECTED);
  char *kept = sw_text_path (directory, "job");
  remarks_say (report, "the job of a plan is in the folder job in it: name ");
  remarks_say (report, kept);
  free (kept);
}
END_TEST

START_TEST (neither_spans_nor_extras)
{
  put ("levels.csv", LEVELS);
  ck_assert_int_eq (read_folder (NULL), SW_REJECTED);
  remarks_say (report, "expected spans.csv or extras.csv in this folder, found neither");
  sw_report_clear (report);
  put ("mine.csv", SPANS);
  char *mine = sw_text_path (directory, "mine.csv");
  const sw_sources given = { .spans = mine };
  ck_assert_int_eq (read_folder (&given), SW_OK);
  ck_assert_uint_eq (job->levels.count, 3);
  free (mine);
}
END_TEST

START_TEST (no_folder)
{
  put ("file", "mine");
  char *file = sw_text_path (directory, "file");
  char *nowhere = sw_text_path (directory, "nowhere");
  ck_assert_int_eq (sw_job_read_folder (&job, nowhere, NULL, settings, report), SW_IO);
  ck_assert_int_eq (sw_job_read_folder (&job, file, NULL, settings, report), SW_IO);
  ck_assert_ptr_null (job);
  ck_remarks ("fault nowhere\nfault file\n");
  free (nowhere);
  free (file);
}
END_TEST

/* A file would be left out silently because of its name. */
START_TEST (misnamed)
{
  static const char *const names[] = { "Levels.csv", "LEVELS.CSV", "levels.CSV",     "levels.csv.txt", "levels.xlsx",
                                       "Levels.XLS", "levels.ods", "levels.numbers", "levels.tsv" };
  put ("spans.csv", SPANS);
  put ("other.csv", LEVELS);
  char *other = sw_text_path (directory, "other.csv");
  const sw_sources given = { .levels = other };
  for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
    {
      char expected[64];
      put (names[i], LEVELS);
      ck_assert_msg (read_folder (NULL) == SW_REJECTED, "%s", names[i]);
      bool workbook = strstr (names[i], ".xls") != NULL || strstr (names[i], ".XLS") != NULL
                      || strstr (names[i], ".ods") != NULL || strstr (names[i], ".numbers") != NULL;
      remarks_say (report, workbook
                               ? "is a workbook, not CSV: expected levels.csv, a CSV file with this very name (in the "
                                 "spreadsheet: Save as, \"CSV UTF-8\")"
                               : "is not read under this name: expected levels.csv, a CSV file with this very name");
      snprintf (expected, sizeof expected, "fault %s\n", names[i]);
      ck_remarks (expected);
      /* The name does not matter where the file is not wanted. */
      ck_assert_msg (read_folder (&given) == SW_OK, "%s", names[i]);
      ck_remarks ("");
      put ("levels.csv", LEVELS);
      ck_assert_msg (read_folder (NULL) == SW_OK, "%s", names[i]);
      ck_remarks ("");
      char *path = sw_text_path (directory, "levels.csv");
      unlink (path);
      free (path);
      path = sw_text_path (directory, names[i]);
      unlink (path);
      free (path);
    }
  /* None of these is meant for a file of the job. */
  put ("levels", "");
  put ("levels.txt", "");
  put ("old levels.csv", "");
  put ("level.csv", "");
  put ("levels.csv~", "");
  ck_assert_int_eq (read_folder (NULL), SW_OK);
  ck_remarks ("");
  free (other);
}
END_TEST

/* Of several names the same one is reported, however the folder lists them.  Each file is reported by itself. */
START_TEST (misnamed_in_order)
{
  put ("levels.xlsx", "");
  put ("STOCK.CSV", "");
  put ("Spans.csv", "");
  put ("LEVELS.csv", "");
  ck_assert_int_eq (read_folder (NULL), SW_REJECTED);
  ck_remarks ("fault Spans.csv\nfault LEVELS.csv\nfault STOCK.CSV\n");
}
END_TEST

START_TEST (yards_and_fittings)
{
  put ("spans.csv", SPANS);
  put ("fittings.csv", "item,per\nnail,join\n");
  put ("yards.csv", "yard,delivery\nnorth,\nsouth,0\n");
  ck_assert_int_eq (read_folder (NULL), SW_OK);
  ck_remarks ("");
  ck_assert_uint_eq (job->fittings.count, 1);
  ck_assert_uint_eq (job->yards.count, 2);
  /* Both lengths of --stock-length can be had at either. */
  ck_assert_uint_eq (job->stocks.count, 4);
  sw_job_free (job);
  job = NULL;
  /* Without prices nothing can be added to what delivery costs. */
  put ("yards.csv", "yard,delivery\nnorth,\nsouth,40\n");
  ck_assert_int_eq (read_folder (NULL), SW_REJECTED);
  ck_remarks ("fault yards.csv:3:delivery\n");
}
END_TEST

/* Faults name the files with their paths.  A link that leads nowhere is not passed over. */
START_TEST (faults_of_files)
{
  put ("spans.csv", "run,span\nlane,wide\n");
  make ("levels.csv");
  char *link = sw_text_path (directory, "stock.csv");
  ck_assert_int_eq (symlink ("nowhere", link), 0);
  ck_assert_int_eq (read_folder (NULL), SW_IO);
  ck_remarks ("fault spans.csv:2:span\nfault levels.csv\nfault stock.csv\n");
  put ("settings.csv", "key,value\nwobble,1\n");
  ck_assert_int_eq (read_folder (NULL), SW_REJECTED);
  ck_remarks ("fault settings.csv:2:key\n");
  free (link);
}
END_TEST

/* ---- A plan's folder ------------------------------------------------------ */

/* Write a list of FILES ("spans.csv" ...) as they are in the folder job now. */
static void
put_list (const char *const *files, size_t count)
{
  sw_text list = { 0 };
  sw_text_add (&list, "file,bytes,cksum\n");
  for (size_t i = 0; i < count; i++)
    {
      char name[64];
      snprintf (name, sizeof name, "job/%s", files[i]);
      char *bytes = fixture_bytes (directory, name);
      sw_text_printf (&list, "%s,%zu,%lu\n", files[i], strlen (bytes),
                      (unsigned long)sw_checksum (bytes, strlen (bytes)));
      free (bytes);
    }
  char *text = sw_text_take (&list);
  put ("job/kept.csv", text);
  free (text);
}

static void
put_kept (void)
{
  static const char *const files[] = { "spans.csv", "levels.csv", "settings.csv" };
  make ("job");
  put ("job/spans.csv", SPANS);
  put ("job/levels.csv", LEVELS);
  put ("job/settings.csv", "key,value\nkerf,4mm\n");
  put_list (files, 3);
}

START_TEST (kept_job)
{
  put_kept ();
  ck_assert_int_eq (read_kept (NULL), SW_OK);
  remarks_say (report, "the job is read from here: spans.csv, levels.csv, settings.csv");
  ck_remarks ("note job\n");
  ck_assert_uint_eq (job->levels.count, 3);
  ck_assert_int_eq (job->settings->kerf, 4 * SW_MM);
}
END_TEST

START_TEST (kept_job_and_given)
{
  put_kept ();
  put ("mine.csv", "run,span\nlane,2500\n");
  put ("mine-settings.csv", "key,value\nkeep,800\n");
  char *mine = sw_text_path (directory, "mine.csv");
  char *own = sw_text_path (directory, "mine-settings.csv");
  const sw_sources given = { .spans = mine };
  ck_assert_int_eq (read_kept (&given), SW_OK);
  remarks_say (report, "the rest of the job is read from here: levels.csv, settings.csv");
  ck_remarks ("note job\n");
  ck_assert_uint_eq (job->fence.runs[0].bay_count, 1);
  ck_assert_int_eq (job->settings->kerf, 4 * SW_MM);
  ck_assert_int_eq (sw_settings_read (settings, own, report), SW_OK);
  const sw_sources all = { .spans = mine, .levels = job->files[SW_FILE_LEVELS] };
  sw_job *again = NULL;
  ck_assert_int_eq (sw_job_read_kept (&again, directory, &all, settings, report), SW_OK);
  /* There was nothing left to take. */
  ck_remarks ("");
  ck_assert_int_eq (again->settings->kerf, 3 * SW_MM);
  sw_job_free (again);
  free (own);
  free (mine);
}
END_TEST

START_TEST (kept_job_edited)
{
  put_kept ();
  put ("job/spans.csv", "run,span\nlane,2400\nlane,2401\n");
  ck_assert_int_eq (read_kept (NULL), SW_OK);
  remarks_say (report, "was edited after the plan was made from it: what is wrong with the plan may come of that");
  ck_remarks ("note job\nwarning spans.csv\n");
  /* An edit is noticed although the number of bytes is the same.  It does not matter in a file that is not read. */
  put ("mine.csv", SPANS);
  char *mine = sw_text_path (directory, "mine.csv");
  const sw_sources given = { .spans = mine };
  ck_assert_int_eq (read_kept (&given), SW_OK);
  ck_remarks ("note job\n");
  free (mine);
}
END_TEST

START_TEST (kept_job_grown_and_shrunk)
{
  put_kept ();
  put ("job/stock.csv", STOCK);
  char *levels = sw_text_path (directory, "job/levels.csv");
  ck_assert_int_eq (unlink (levels), 0);
  ck_assert_int_eq (read_kept (NULL), SW_OK);
  remarks_say (report, "the plan was made with a levels.csv that was kept here and is gone");
  remarks_say (report, "was put here after the plan was made: it is read, and the plan was made without it");
  ck_remarks ("note job\nwarning job\nwarning stock.csv\n");
  free (levels);
}
END_TEST

START_TEST (kept_list_missing)
{
  put_kept ();
  char *list = sw_text_path (directory, "job/kept.csv");
  ck_assert_int_eq (unlink (list), 0);
  ck_assert_int_eq (read_kept (NULL), SW_OK);
  remarks_say (report, "there is no kept.csv");
  ck_remarks ("note job\nnote job\n");
  free (list);
}
END_TEST

START_TEST (kept_list_broken)
{
  put_kept ();
  put ("job/kept.csv", "file,bytes,cksum\nspans.csv,x,1\ncuts.csv,1,1\nlevels.csv,1,4294967296\nlevels.csv,1,1\n"
                       "levels.csv,1,1\n,1,1\nspans.csv,1,\n");
  ck_assert_int_eq (read_kept (NULL), SW_REJECTED);
  ck_remarks ("note job\nfault kept.csv:2:bytes\nfault kept.csv:3:file\nfault kept.csv:4:cksum\n"
              "fault kept.csv:6:file\nfault kept.csv:7:file\nfault kept.csv:8:cksum\n");
  put ("job/kept.csv", "file,bytes\n");
  ck_assert_int_eq (read_kept (NULL), SW_REJECTED);
  ck_remarks ("note job\nfault kept.csv:1:cksum\n");
}
END_TEST

/* There is no job/, or it holds nothing of a job. */
START_TEST (nothing_kept)
{
  for (int round = 0; round < 2; round++)
    {
      ck_assert_int_eq (read_kept (NULL), SW_USAGE);
      remarks_say (report, "no job is kept here, so what the plan was made from must be named");
      ck_remarks ("fault job\n");
      put ("mine.csv", SPANS);
      char *mine = sw_text_path (directory, "mine.csv");
      const sw_sources given = { .spans = mine };
      const sw_sources useless = { .levels = mine };
      ck_assert_int_eq (read_kept (&given), SW_OK);
      ck_remarks ("");
      ck_assert_int_eq (read_kept (&useless), SW_USAGE);
      ck_remarks ("fault job\n");
      free (mine);
      if (round == 0)
        make ("job");
    }
}
END_TEST

/* ---- Checksums ------------------------------------------------------------ */

/* These are the figures of cksum(1) of GNU coreutils 9.1.  The first is the check value of the algorithm in POSIX. */
START_TEST (checksums)
{
  static const struct
  {
    const char *bytes;
    size_t count;
    uint32_t sum;
  } cases[] = { { "", 0, 4294967295U },
                { "123456789", 9, 930766865U },
                { "a", 1, 1220704766U },
                { "\0", 1, 4215202376U },
                { "\xFF\xFE", 2, 3723966713U } };
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
    ck_assert_uint_eq (sw_checksum (cases[i].bytes, cases[i].count), cases[i].sum);
  /* Counts of more than one byte. */
  char *many = calloc (70000, 1);
  ck_assert_uint_eq (sw_checksum (many, 70000), 1774371287U);
  free (many);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("folder");
  TCase *tests = tcase_create ("folder");
  tcase_add_checked_fixture (tests, setup, teardown);
  tcase_add_test (tests, all_files);
  tcase_add_test (tests, spans_alone);
  tcase_add_test (tests, extras_alone);
  tcase_add_test (tests, what_is_given_wins);
  tcase_add_test (tests, given_files_win_over_settings);
  tcase_add_test (tests, two_tongues);
  tcase_add_test (tests, none_of_them);
  tcase_add_test (tests, neither_spans_nor_extras);
  tcase_add_test (tests, no_folder);
  tcase_add_test (tests, misnamed);
  tcase_add_test (tests, misnamed_in_order);
  tcase_add_test (tests, yards_and_fittings);
  tcase_add_test (tests, faults_of_files);
  tcase_add_test (tests, kept_job);
  tcase_add_test (tests, kept_job_and_given);
  tcase_add_test (tests, kept_job_edited);
  tcase_add_test (tests, kept_job_grown_and_shrunk);
  tcase_add_test (tests, kept_list_missing);
  tcase_add_test (tests, kept_list_broken);
  tcase_add_test (tests, nothing_kept);
  tcase_add_test (tests, checksums);
  suite_add_tcase (suite, tests);
  return suite_run (suite);
}
