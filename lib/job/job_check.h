/* job_check.h - checks what needs all inputs of a job together
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_JOB_CHECK_H
#define SW_JOB_CHECK_H

#include "job/job.h"

/* Check sections, prices, labels and sizes across the files of JOB, each of which is sound by
 * itself.  Sets job->priced.  SW_REJECTED: the report says why. */
sw_status sw_job_check (sw_job *job, sw_report *report);

/* Does every sum over a plan of JOB stay within int64_t when a board or a join costs at most COST?
 * sw_job_check makes sure of it for the job's own prices. */
bool sw_job_adds_up (const sw_job *job, int64_t cost);

/* Find the runs that each level is on.  SW_REJECTED: a level's section lacks a size that its
 * lengths depend on, or a name is wrong.  Warn of checks that are deeper than a third of their
 * post. */
sw_status sw_job_check_levels (sw_job *job, sw_report *report);

/* Warn of posts on which two butted pieces would bear too little, with one remark for each run. */
sw_status sw_job_check_bearing (const sw_job *job, sw_report *report);

/* Warn of runs, levels and sections whose names differ in letter case or
 * spaces only.  O(length of the names). */
sw_status sw_job_check_names (const sw_job *job, sw_report *report);

/* Check that the labels of all pieces differ: "run/level/from-to", "run/level/block n", and an
 * extra's label (with " n" behind it where it has several pieces).  SW_REJECTED: some are the same. */
sw_status sw_job_check_labels (const sw_job *job, sw_report *report);

#endif
