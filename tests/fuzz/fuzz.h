/* fuzz.h - what the fuzz targets share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FUZZ_H
#define SW_FUZZ_H

#include "spanwright.h"

/* The entry that libFuzzer calls; the rest of the program is a target's own. */
int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

/* End the process with a message unless GOOD: what a fuzzer takes for a find.
 * Not assert, which NDEBUG would take away. */
#define FUZZ_HOLDS(good) ((good) ? (void)0 : fuzz_fail (__FILE__, __LINE__, #good))
_Noreturn void fuzz_fail (const char *file, int line, const char *what);

/* Nothing in TEXT may steer a terminal or be other than UTF-8; written apart
 * from the library's own code for that. */
void fuzz_check_shown (const char *text, bool lines);
void fuzz_check_report (const sw_report *report);

/* A copy of DATA with a NUL behind it, cut off at the first NUL. */
char *fuzz_text (const uint8_t *data, size_t size);

/* ---- A job in one piece ----
 *
 * The input is split at each byte 0x1E; the letter behind it says which file
 * the part is, up to the next one:
 *     s spans  l levels  t stock  c sections  x extras  e settings
 *     o order  u cuts  f fit  a setout  (of a plan)
 * What stands before the first is no file.  A letter twice: the last counts. */
#define FUZZ_FILES 10
#define FUZZ_SPLIT 0x1E

typedef struct fuzz_job
{
  sw_sources sources;
  const char *settings_file; /* NULL: none */
  const char *plan;          /* folder of the plan's files */
} fuzz_job;

/* Write the files of one input; the names belong to this module. */
void fuzz_job_write (fuzz_job *job, const uint8_t *data, size_t size);
/* Read what was written, with a small limit of time; NULL: it was refused.
 * Every status but those of a refusal is a find. */
sw_job *fuzz_job_read (const fuzz_job *files, sw_report *report);
/* What the job may come to in pieces, about. */
int64_t fuzz_job_pieces (const sw_job *job);
/* A job of many pieces tells no more than one of few, only later. */
bool fuzz_job_is_small (const sw_job *job);
/* Write and read the job of one input, and when it is small, have USE do what the target is for; REPORT has what was
 * said of reading. */
typedef void fuzz_use (const fuzz_job *files, const sw_job *job, size_t size, sw_report *report);
void fuzz_small_job (const uint8_t *data, size_t size, fuzz_use *use);
/* Callback of the solver: *DATA, a size_t, counts, and some are enough. */
bool fuzz_go_on (const sw_progress *progress, void *data);
/* Plan with a small limit of work; NULL: no plan.  REPORT is told of this plan alone. */
sw_plan *fuzz_plan_make (const sw_job *job, bool hard_way, sw_report *report);
/* A folder that is emptied when the process ends. */
const char *fuzz_folder (void);

#endif
