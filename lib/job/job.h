/* job.h - a job: the whole input, read and checked together
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_JOB_H
#define SW_JOB_H

#include "job/extra.h"
#include "job/fence.h"
#include "job/level.h"
#include "job/settings.h"
#include "job/stock.h"

/* The most pieces of a job, with extras and blocks. */
#define SW_JOB_MAX_PIECES 2000000

/* The place of a file in sw_job.files. */
typedef enum sw_job_file
{
  SW_FILE_SPANS,
  SW_FILE_LEVELS,
  SW_FILE_STOCK,
  SW_FILE_SECTIONS,
  SW_FILE_EXTRAS,
  SW_FILE_SETTINGS,
  SW_FILES
} sw_job_file;

/* A file as it was read. */
typedef struct sw_bytes
{
  char *data; /* NULL: there is none */
  size_t count;
} sw_bytes;

struct sw_job
{
  sw_settings *settings;   /* its own copy */
  sw_fence fence;          /* without runs the job is extras alone */
  sw_levels levels;        /* empty when there are no runs */
  sw_sections sections;
  sw_stocks stocks;
  sw_extras extras;
  bool priced;             /* every section in use has prices; else no section has */
  bool all_free;           /* the job is priced, and every one of its prices is 0 */
  sw_report *warnings;     /* of the job and of its settings (job_warning.h); may be NULL: none */
  char *files[SW_FILES];   /* names of spans, levels, stock, sections, extras, settings, or NULL */
  sw_bytes read[SW_FILES]; /* the bytes of these files, but for the settings */
};

/* Is the bought length the cost?  It is when there are no prices, or when all prices are 0 and no
 * plan is cheaper than another. */
bool sw_job_by_length (const sw_job *job);

/* Read JOB once more out of the bytes that it keeps, but for its spans, which
 * are the COUNT bytes at SPANS, a file called spans.csv.  REPORT: as sw_job_read; not NULL. */
sw_status sw_job_read_again (sw_job **out, const sw_job *job, const char *spans, size_t count, sw_report *report);

/* JOB with stock rows and settings of its own, which may be changed; all else
 * is borrowed from JOB, which must outlive it.  Clear it with
 * sw_job_variant_clear, never with sw_job_free; after a failure too. */
sw_status sw_job_variant (sw_job *out, const sw_job *job);
void sw_job_variant_clear (sw_job *variant);

#endif
