/* folder_keep.h - a plan's folder keeps its job
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FOLDER_KEEP_H
#define SW_FOLDER_KEEP_H

#include "job/folder.h"
#include "csv/output.h"

/* Make ready in *OUT, to be committed and then freed before PLAN, what the
 * folder PLAN keeps of JOB in its folder job.  A file there that a plan did
 * not put there, or that was edited since, is not replaced: SW_USAGE and a
 * fault.  One that is itself an input of JOB stays where it says what would be
 * written, and else is not replaced either.  Free *OUT after a failure too. */
sw_status sw_folder_keep (sw_output **out, const sw_output *plan, const sw_job *job, sw_report *report);

#endif
