/* verify_case.c - a copy of a good plan that is edited and then verified
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "verify_case.h"

#include <check.h>
#include <inttypes.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

const plan_style verify_plain = { .separator = ',' };

char dir[32];
plan_sheet sheets[PLAN_FILES];
sw_settings *settings;
sw_report *report;
sw_verdict verdict;

const char *
verify_path (int file)
{
  static char paths[PLAN_FILES][64];
  snprintf (paths[file], sizeof paths[file], "%s/%s", dir, plan_names[file]);
  return paths[file];
}

void
verify_setup (const char *plan)
{
  char good[512];
  const char *source = getenv ("srcdir");
  snprintf (good, sizeof good, "%s/tests/data/%s", source != NULL ? source : ".", plan);
  strcpy (dir, "verify-XXXXXX");
  ck_assert_ptr_nonnull (mkdtemp (dir));
  for (int file = 0; file < PLAN_FILES; file++)
    plan_load (&sheets[file], good, file);
  settings = sw_settings_new ();
  report = sw_report_new ();
}

void
verify_teardown (void)
{
  for (int file = 0; file < PLAN_FILES; file++)
    {
      plan_drop (&sheets[file]);
      unlink (verify_path (file));
    }
  rmdir (dir);
  sw_settings_free (settings);
  sw_report_free (report);
}

void
verify_save (const plan_style *style)
{
  for (int file = 0; file < PLAN_FILES; file++)
    plan_save (&sheets[file], dir, file, file < PLAN_SPANS ? style : &verify_plain);
}

sw_status
verify_run (void)
{
  sw_sources sources = { .spans = verify_path (PLAN_SPANS),
                         .levels = verify_path (PLAN_LEVELS),
                         .stock = verify_path (PLAN_STOCK),
                         .sections = verify_path (PLAN_SECTIONS),
                         .extras = verify_path (PLAN_EXTRAS) };
  sw_job *job = NULL;
  sw_status status = sw_job_read (&job, &sources, settings, report);
  const sw_remark *first = sw_report_get (report, 0);
  ck_assert_msg (status == SW_OK, "the job: %s", first != NULL ? first->message : sw_status_text (status));
  sw_report_clear (report);
  status = sw_verify (job, dir, &verdict, report);
  sw_job_free (job);
  return status;
}

/* All remarks of the report, for the message of a failing test. */
const char *
verify_remarks (void)
{
  static char all[8192];
  size_t used = 0;
  all[0] = '\0';
  for (size_t i = 0; i < sw_report_count (report) && used < sizeof all; i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      used += (size_t)snprintf (all + used, sizeof all - used, "\n  %s:%zu: %s: %s",
                                remark->file != NULL ? remark->file : "", remark->line,
                                remark->column != NULL ? remark->column : "", remark->message);
    }
  return all;
}

const sw_remark *
verify_find (sw_severity severity, const char *message)
{
  for (size_t i = 0; i < sw_report_count (report); i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      if (remark->severity == severity && strstr (remark->message, message) != NULL)
        return remark;
    }
  return NULL;
}

/* The line in FILE of the row that ROW names.  "copy" at the end of ROW means the last row. */
static size_t
line_of (const plan_break *broken)
{
  const plan_sheet *sheet = &sheets[broken->file];
  if (broken->row == NULL)
    return 0;
  if (*broken->row == '\0')
    return 1;
  size_t length = strlen (broken->row);
  if (length > 5 && strcmp (broken->row + length - 5, "|copy") == 0)
    return sheet->rows;
  return plan_find (sheet, broken->row) + 1;
}

void
verify_expect_break (const plan_break *broken, int number)
{
  size_t line = 0;
  bool same = broken->row != NULL && strcmp (broken->row, SAME) == 0;
  if (same)
    line = *broken->edits[0].row == '\0' ? 1 : plan_find (&sheets[broken->file], broken->edits[0].row) + 1;
  for (const plan_edit *edit = broken->edits; edit < broken->edits + 6 && edit->row != NULL; edit++)
    plan_apply (&sheets[edit->file], edit);
  if (!same)
    line = line_of (broken);
  verify_save (&verify_plain);
  if (broken->key != NULL)
    ck_assert_int_eq (sw_settings_set (settings, broken->key, broken->value, report), SW_OK);

  sw_status status = verify_run ();
  ck_assert_msg (status == SW_REJECTED, "%d: %s not found", number, broken->message);
  bool found = false;
  for (size_t i = 0; i < sw_report_count (report) && !found; i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      found = remark->severity == SW_FAULT && strcmp (remark->file, verify_path (broken->file)) == 0
              && remark->line == line && strstr (remark->message, broken->message) != NULL
              && (broken->column == NULL || (remark->column != NULL && strcmp (remark->column, broken->column) == 0));
    }
  ck_assert_msg (found, "%d: expected %s:%zu: %s: %s; found%s", number, verify_path (broken->file), line,
                 broken->column != NULL ? broken->column : "", broken->message, verify_remarks ());
  if (broken->faults != ANY)
    ck_assert_msg (verdict.faults == broken->faults, "%d: %" PRId64 " faults, expected %" PRId64 ":%s", number,
                   verdict.faults, broken->faults, verify_remarks ());
}
