/* line_job.h - the part of a job that is one unbroken line, divided; also the part that no division changes
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_LINE_JOB_H
#define SW_LINE_JOB_H

#include "plan/alternatives.h"

/* Make a job of the run that GROUP is in.  Only GROUP's bays carry timber in it, and GROUP's divisions are divided in
 * WAYS, one way each; all else is borrowed from JOB.  Every post is as far along the run as it will be.  Clear it even
 * after a failure. */
sw_status sw_line_job (sw_job *out, const sw_alternatives *all, const sw_group *group, const sw_way *ways);
/* Make a job of all runs, in which the bays of GROUPS carry no timber, and of the extras. */
sw_status sw_rest_job (sw_job *out, const sw_job *job, const sw_group *groups, size_t count);
void sw_line_job_clear (sw_job *job);

#endif
