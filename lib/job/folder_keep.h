/* folder_keep.h - puts a copy of its job into a plan's folder
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FOLDER_KEEP_H
#define SW_FOLDER_KEEP_H

#include "job/folder.h"
#include "csv/output.h"

/* Prepare in *OUT a copy of JOB for the folder "job" of the folder PLAN.  Commit *OUT, and free it
 * before PLAN, after a failure, too.  SW_USAGE and a fault: a file is in the way that no plan put
 * there or that was edited since.  A file that is an input of JOB is never replaced; it stays when
 * it means the same as the copy, and is a fault otherwise. */
sw_status sw_folder_keep (sw_output **out, const sw_output *plan, const sw_job *job, sw_report *report);

#endif
