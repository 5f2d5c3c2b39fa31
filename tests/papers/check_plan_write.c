/* check_plan_write.c - a plan's files are written whole or not at all
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan_fixture.h"
#include "suite.h"

#include "base/memory.h"
#include "base/text.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *const names[] = { "order.csv", "cuts.csv", "fit.csv", "setout.csv", "order.txt" };
/* One more for the folder that keeps the job. */
#define NAMES (sizeof names / sizeof *names + 1)

static fixture front;
static sw_report *report;
static char *directory;

static void
setup (void)
{
  fixture_front (&front);
  report = sw_report_new ();
  directory = fixture_directory ();
}

static void
teardown (void)
{
  fixture_remove (directory);
  sw_report_free (report);
  fixture_drop (&front);
}

static char *
inside (const char *name)
{
  sw_text path = { 0 };
  sw_text_printf (&path, "%s/%s", directory, name);
  return sw_text_take (&path);
}

static void
put (const char *name, const char *bytes)
{
  char *path = inside (name);
  FILE *file = fopen (path, "wb");
  ck_assert_ptr_nonnull (file);
  fputs (bytes, file);
  ck_assert_int_eq (fclose (file), 0);
  free (path);
}

/* DIRECTORY/NAME holds exactly BYTES. */
static void
ck_holds (const char *name, const char *bytes)
{
  char *found = fixture_bytes (directory, name);
  ck_assert_msg (found != NULL, "no %s", name);
  ck_assert_str_eq (found, bytes);
  sw_text_free (found);
}

static void
ck_whole (void)
{
  static const sw_table_kind kinds[] = { SW_TABLE_ORDER, SW_TABLE_CUTS, SW_TABLE_FIT, SW_TABLE_SETOUT };
  for (size_t i = 0; i < 4; i++)
    {
      char *csv = fixture_csv (&front, kinds[i]);
      ck_holds (names[i], csv);
      sw_text_free (csv);
    }
  char *text = fixture_text (&front, SW_TEXT_MESSAGE, 0);
  ck_holds ("order.txt", text);
  sw_text_free (text);
}

static void
ck_fault (const char *file, const char *message)
{
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 1);
  const sw_remark *remark = sw_report_get (report, 0);
  char *path = inside (file);
  ck_assert_str_eq (remark->file, file[0] != '\0' ? path : directory);
  ck_contains (remark->message, message);
  free (path);
}

START_TEST (five_files)
{
  ck_assert_int_eq (sw_plan_write (front.plan, directory, report), SW_OK);
  ck_whole ();
  ck_assert_uint_eq (fixture_names (directory), NAMES);
  ck_assert_uint_eq (sw_report_count (report), 0);
}
END_TEST

/* What is written is read back and checked by code that shares nothing with the writer. */
START_TEST (verifies)
{
  sw_verdict verdict;
  ck_assert_int_eq (sw_plan_write (front.plan, directory, report), SW_OK);
  sw_status status = sw_verify (front.job, directory, &verdict, report);
  const sw_remark *remark = sw_report_get (report, 0);
  ck_assert_msg (status == SW_OK, "%s line %zu: %s", remark->file, remark->line, remark->message);
  ck_assert_int_eq (verdict.pieces, (int64_t)front.plan->piece_count);
  ck_assert_int_eq (verdict.cost, front.plan->summary.cost);
  ck_assert_int_eq (verdict.joins, front.plan->summary.joins);
}
END_TEST

START_TEST (makes_the_directory)
{
  rmdir (directory);
  ck_assert_int_eq (sw_plan_write (front.plan, directory, report), SW_OK);
  ck_whole ();
}
END_TEST

START_TEST (not_its_parents)
{
  char *path = inside ("a/b");
  ck_assert_int_eq (sw_plan_write (front.plan, path, report), SW_IO);
  free (path);
  ck_fault ("a/b", "the directory cannot be made: ");
  ck_assert_uint_eq (fixture_names (directory), 0);
}
END_TEST

START_TEST (not_a_directory)
{
  put ("file", "mine");
  char *path = inside ("file");
  ck_assert_int_eq (sw_plan_write (front.plan, path, report), SW_USAGE);
  free (path);
  ck_fault ("file", "is a file, where a directory to write to was expected");
  ck_holds ("file", "mine");
}
END_TEST

START_TEST (replaces_older_files)
{
  put ("order.csv", "old and much longer than nothing");
  put ("unrelated.csv", "mine");
  ck_assert_int_eq (sw_plan_write (front.plan, directory, report), SW_OK);
  ck_whole ();
  ck_holds ("unrelated.csv", "mine");
  ck_assert_uint_eq (fixture_names (directory), NAMES + 1);
}
END_TEST

/* A link with the final name is replaced, and what it points to is not touched. */
START_TEST (never_follows_a_link)
{
  put ("victim", "mine");
  char *link = inside ("cuts.csv");
  ck_assert_int_eq (symlink ("victim", link), 0);
  ck_assert_int_eq (sw_plan_write (front.plan, directory, report), SW_OK);
  struct stat there;
  ck_assert_int_eq (lstat (link, &there), 0);
  ck_assert (S_ISREG (there.st_mode));
  ck_holds ("victim", "mine");
  ck_whole ();
  free (link);
}
END_TEST

/* Somebody laid a link where a temporary file would go.  It is passed by. */
START_TEST (temporary_name_taken)
{
  char name[64];
  put ("victim", "mine");
  snprintf (name, sizeof name, ".order.csv.%ld-0.tmp", (long)getpid ());
  char *link = inside (name);
  ck_assert_int_eq (symlink ("victim", link), 0);
  ck_assert_int_eq (sw_plan_write (front.plan, directory, report), SW_OK);
  ck_holds ("victim", "mine");
  ck_whole ();
  ck_assert_uint_eq (fixture_names (directory), NAMES + 2);
  free (link);
}
END_TEST

/* A directory has the name of the third file.  Nothing at all is changed. */
START_TEST (name_taken_by_a_directory)
{
  char *path = inside ("fit.csv");
  put ("order.csv", "old");
  ck_assert_int_eq (mkdir (path, 0777), 0);
  ck_assert_int_eq (sw_plan_write (front.plan, directory, report), SW_IO);
  ck_fault ("fit.csv", "cannot be replaced: ");
  ck_holds ("order.csv", "old");
  ck_assert_uint_eq (fixture_names (directory), 2);
  free (path);
}
END_TEST

/* The disk is full in the middle of the second file, for which a limit on the size of files stands
 * in.  Older files stay, and no other file is left behind. */
START_TEST (disk_full)
{
  struct rlimit before;
  put ("order.csv", "old");
  ck_assert_int_eq (getrlimit (RLIMIT_FSIZE, &before), 0);
  void (*handler) (int) = signal (SIGXFSZ, SIG_IGN);
  struct rlimit small = before;
  small.rlim_cur = 400;
  ck_assert_int_eq (setrlimit (RLIMIT_FSIZE, &small), 0);
  sw_status status = sw_plan_write (front.plan, directory, report);
  ck_assert_int_eq (setrlimit (RLIMIT_FSIZE, &before), 0);
  signal (SIGXFSZ, handler);
  ck_assert_int_eq (status, SW_IO);
  ck_fault ("cuts.csv", "cannot be written: ");
  ck_holds ("order.csv", "old");
  ck_assert_uint_eq (fixture_names (directory), 1);
}
END_TEST

/* The superuser may write anywhere, so that the test gives this right up for a moment. */
START_TEST (read_only_directory)
{
  const uid_t user = geteuid ();
  put ("order.csv", "old");
  ck_assert_int_eq (chmod (directory, 0555), 0);
  if (user == 0)
    ck_assert_int_eq (seteuid (65534), 0);
  sw_status status = sw_plan_write (front.plan, directory, report);
  if (user == 0)
    ck_assert_int_eq (seteuid (0), 0);
  ck_assert_int_eq (chmod (directory, 0755), 0);
  ck_assert_int_eq (status, SW_IO);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 1);
  ck_holds ("order.csv", "old");
  ck_assert_uint_eq (fixture_names (directory), 1);
}
END_TEST

/* A directory that was made in vain is removed. */
START_TEST (no_empty_directory_left)
{
  char *path = inside ("new");
  front.job->sections.items[0].spare = INT64_MAX / 1000; /* the order's sums overflow */
  ck_assert_int_eq (sw_plan_write (front.plan, path, report), SW_FAILED);
  ck_assert_uint_eq (fixture_names (directory), 0);
  free (path);
}
END_TEST

/* An input is not overwritten by the plan that was made of it. */
START_TEST (input_in_the_way)
{
  put ("cuts.csv", "label,section,length\n");
  free (front.job->files[SW_FILE_EXTRAS]);
  front.job->files[SW_FILE_EXTRAS] = inside ("cuts.csv");
  ck_assert_int_eq (sw_plan_write (front.plan, directory, report), SW_USAGE);
  ck_fault ("cuts.csv", "is an input and would be overwritten");
  ck_holds ("cuts.csv", "label,section,length\n");
  ck_assert_uint_eq (fixture_names (directory), 1);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("plan_write");
  TCase *tcase = tcase_create ("plan_write");
  tcase_add_checked_fixture (tcase, setup, teardown);
  tcase_add_test (tcase, five_files);
  tcase_add_test (tcase, verifies);
  tcase_add_test (tcase, makes_the_directory);
  tcase_add_test (tcase, not_its_parents);
  tcase_add_test (tcase, not_a_directory);
  tcase_add_test (tcase, replaces_older_files);
  tcase_add_test (tcase, never_follows_a_link);
  tcase_add_test (tcase, temporary_name_taken);
  tcase_add_test (tcase, name_taken_by_a_directory);
  tcase_add_test (tcase, disk_full);
  tcase_add_test (tcase, read_only_directory);
  tcase_add_test (tcase, no_empty_directory_left);
  tcase_add_test (tcase, input_in_the_way);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
