/* job_warning.h - the warnings that came while a job was read, for the papers that come later
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_JOB_WARNING_H
#define SW_JOB_WARNING_H

#include "job/job.h"
#include "base/text.h"

/* The number of the job's warnings. */
size_t sw_job_warning_count (const sw_job *job);
/* Warning INDEX, from 0 in the order in which they came.  It belongs to the job.  NULL past the end. */
const sw_remark *sw_job_warning (const sw_job *job, size_t index);

/* Does WARNING concern the order?  It does if it is about the stock, the sections or the extras,
 * about a file that is not read yet, or about a column or setting that decides how much timber
 * there is to be.  It does not if it is about where and how timber sits. */
bool sw_job_warning_is_of_order (const sw_job *job, const sw_remark *warning);

/* Add "spans.csv:3: span: is taken for ..." or "--kerf: is taken for ...".  The file stands without
 * its folder, because papers travel without folders. */
void sw_job_warning_add (sw_text *out, const sw_remark *warning);

#endif
