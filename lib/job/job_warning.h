/* job_warning.h - what reading a job warned of, for the papers that come later
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_JOB_WARNING_H
#define SW_JOB_WARNING_H

#include "job/job.h"
#include "base/text.h"

/* The job's warnings, in the order in which they came. */
size_t sw_job_warning_count (const sw_job *job);
/* Warning INDEX (from 0), which belongs to the job; NULL past the end. */
const sw_remark *sw_job_warning (const sw_job *job, size_t index);

/* Does a warning bear on the order?  It does when it is of the stock, the
 * sections or the extras, of a file that is not read yet, or of a column or
 * setting that says how much timber there is to be, and not when it is of
 * where and how timber sits. */
bool sw_job_warning_is_of_order (const sw_job *job, const sw_remark *warning);

/* "spans.csv:3: span: is taken for ...", "--kerf: is taken for ...": the file
 * without its folder, since papers go where folders do not. */
void sw_job_warning_add (sw_text *out, const sw_remark *warning);

#endif
