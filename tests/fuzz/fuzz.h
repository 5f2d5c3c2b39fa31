/* fuzz.h - shared by the fuzz targets
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FUZZ_H
#define SW_FUZZ_H

#include "spanwright.h"

/* libFuzzer calls this function of the target. */
int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

/* End the process with a message unless GOOD, which a fuzzer takes for a find.  NDEBUG would take an assert away. */
#define FUZZ_HOLDS(good) ((good) ? (void)0 : fuzz_fail (__FILE__, __LINE__, #good))
_Noreturn void fuzz_fail (const char *file, int line, const char *what);

/* Check that TEXT is UTF-8 and cannot steer a terminal.  This is written apart from the library's code for it. */
void fuzz_check_shown (const char *text, bool lines);
void fuzz_check_report (const sw_report *report);

/* A copy of DATA that ends at the first NUL. */
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
  const char *settings_file; /* NULL: there is none */
  const char *plan;          /* the folder of the plan's files */
} fuzz_job;

/* Write the files of one input.  Their names belong to this module. */
void fuzz_job_write (fuzz_job *job, const uint8_t *data, size_t size);
/* Read the files that were written, with a small time limit.  NULL: they were refused.  Any status
 * that is no refusal is a find. */
sw_job *fuzz_job_read (const fuzz_job *files, sw_report *report);
/* About how many pieces the job has. */
int64_t fuzz_job_pieces (const sw_job *job);
/* Is the job small?  One of many pieces shows nothing that one of few does not, but takes longer. */
bool fuzz_job_is_small (const sw_job *job);
/* Write and read the job of one input.  If it is small, call USE, which does what the target is
 * for.  REPORT has the remarks of the reading. */
typedef void fuzz_use (const fuzz_job *files, const sw_job *job, size_t size, sw_report *report);
void fuzz_small_job (const uint8_t *data, size_t size, fuzz_use *use);
/* A callback of the solver.  *DATA is a size_t that counts the calls, and after some of them the solver is stopped. */
bool fuzz_go_on (const sw_progress *progress, void *data);
/* Plan with a small limit of work.  NULL: there is no plan.  REPORT gets the remarks on this plan only. */
sw_plan *fuzz_plan_make (const sw_job *job, bool hard_way, sw_report *report);
/* A folder that is emptied when the process ends. */
const char *fuzz_folder (void);

#endif
