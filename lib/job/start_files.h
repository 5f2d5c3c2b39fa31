/* start_files.h - the text of the small job that start.c writes
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_START_FILES_H
#define SW_START_FILES_H

#include "job/job.h"

/* The content of file WHICH, as CSV text with commas, in inches or metric.  NULL: the job has no such file. */
const char *sw_start_csv (sw_job_file which, bool inches);
/* The text of README.txt, which explains every column in a line. */
const char *sw_start_readme (void);

#endif
