/* verify_case.h - a good plan in a folder of its own, edited, then verified
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef VERIFY_CASE_H
#define VERIFY_CASE_H

#include "spanwright.h"
#include "verify_plan.h"

/* A way in which a plan can be wrong, with what must be found. */
typedef struct plan_break
{
  plan_edit edits[6];    /* up to one whose row is NULL */
  const char *key;       /* a setting of the job that is changed; NULL: none */
  const char *value;
  int file;              /* where the fault must be found */
  const char *row;       /* SAME: the first edit's; NULL: the fault has no line; else as in plan_edit */
  const char *column;    /* NULL: none */
  const char *message;   /* stands in the fault */
  int64_t faults;        /* how many there must be; ANY: one slip that is felt in many places */
} plan_break;

#define SAME "the edited row"
#define ANY 0

#define EDIT(file, row, column, value) { { PLAN_##file, row, column, value } }
#define DELETE(file, row) { { PLAN_##file, row, NULL, NULL } }
#define COPY(file, row) { { PLAN_##file, row, NULL, "copy" } }

/* As the program writes. */
extern const plan_style verify_plain;

/* What the tests of one case share. */
extern char dir[32];
extern plan_sheet sheets[PLAN_FILES];
extern sw_settings *settings;
extern sw_report *report;
extern sw_verdict verdict;

/* Load PLAN, a folder of tests/data; drop it. */
void verify_setup (const char *plan);
void verify_teardown (void);
const char *verify_path (int file);
/* The plan's own files in STYLE, the job's plain. */
void verify_save (const plan_style *style);
sw_status verify_run (void);
/* All that the report holds, to be shown when a test fails. */
const char *verify_remarks (void);
const sw_remark *verify_find (sw_severity severity, const char *message);
/* BROKEN, the NUMBERth of its table, must be found. */
void verify_expect_break (const plan_break *broken, int number);

#endif
