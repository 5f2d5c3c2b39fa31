/* verify_case.h - a copy of a good plan that is edited and then verified
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef VERIFY_CASE_H
#define VERIFY_CASE_H

#include "spanwright.h"
#include "verify_plan.h"

/* A way in which a plan can be wrong, with the fault that must be found. */
typedef struct plan_break
{
  plan_edit edits[6];    /* the last one has no row */
  const char *key;       /* a setting of the job to change; NULL: none */
  const char *value;
  int file;              /* the file that the fault must be in */
  const char *row;       /* its row: SAME: that of the first edit; NULL: it has no line; else as in plan_edit */
  const char *column;    /* its column; NULL: any or none */
  const char *message;   /* a part of its message */
  int64_t faults;        /* number of faults; ANY: the mistake shows in many places */
} plan_break;

#define SAME "the edited row"
#define ANY 0

#define EDIT(file, row, column, value) { { PLAN_##file, row, column, value } }
#define DELETE(file, row) { { PLAN_##file, row, NULL, NULL } }
#define COPY(file, row) { { PLAN_##file, row, NULL, "copy" } }

/* The style in which the program writes. */
extern const plan_style verify_plain;

/* These are shared by the tests of one case. */
extern char dir[32];
extern plan_sheet sheets[PLAN_FILES];
extern sw_settings *settings;
extern sw_report *report;
extern sw_verdict verdict;

/* Load PLAN, a folder of tests/data.  The second function drops it. */
void verify_setup (const char *plan);
void verify_teardown (void);
const char *verify_path (int file);
/* Save the plan's own files in STYLE and those of the job in the program's style. */
void verify_save (const plan_style *style);
sw_status verify_run (void);
/* All remarks of the report, for the message of a failing test. */
const char *verify_remarks (void);
const sw_remark *verify_find (sw_severity severity, const char *message);
/* Edit the plan as BROKEN says, and fail unless the fault is found.  BROKEN has the given NUMBER in its table. */
void verify_expect_break (const plan_break *broken, int number);

#endif
