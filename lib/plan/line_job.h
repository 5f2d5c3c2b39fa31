/* line_job.h - the part of a job that is one unbroken line, divided; and what no division changes
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_LINE_JOB_H
#define SW_LINE_JOB_H

#include "plan/alternatives.h"

/* JOB's run of GROUP, in which only GROUP's bays carry timber, its divisions
 * divided in WAYS, one each; all else is borrowed from JOB.  Every post stands
 * as far along the run as it will.  Clear it after a failure, too. */
sw_status sw_line_job (sw_job *out, const sw_alternatives *all, const sw_group *group, const sw_way *ways);
/* All runs, in which the bays of GROUPS carry no timber, and the extras. */
sw_status sw_rest_job (sw_job *out, const sw_job *job, const sw_group *groups, size_t count);
void sw_line_job_clear (sw_job *job);

#endif
