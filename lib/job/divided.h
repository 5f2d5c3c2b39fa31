/* divided.h - a job whose stretches have been divided into bays
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_DIVIDED_H
#define SW_DIVIDED_H

#include "job/way.h"

/* Write the finished spans.csv: that of JOB without the column `divide`, and with each of the COUNT DIVISIONS (of
 * sw_divisions_new) divided in the way WAYS[division].  What else a row of a division says goes to the bay that it
 * holds for; all other rows stay as they are.  A rise is shared out in proportion, to the nanometre.  *BYTES, a string,
 * is the caller's.  O(cells). */
sw_status sw_divided_spans (char **bytes, const sw_job *job, const sw_division *divisions, size_t count,
                            const sw_way *ways);

/* Make the job with those spans, which is checked as if it were read from files. */
sw_status sw_divided_job (sw_job **out, const sw_job *job, const sw_division *divisions, size_t count,
                          const sw_way *ways, sw_report *report);

/* Does JOB have rows that are not bays yet?  Then SW_REJECTED, and REPORT says, row by row, what is to be done first.
 * Only `posts` takes such rows. */
sw_status sw_divided_check (const sw_job *job, sw_report *report);

/* The rise of bay BAY of the way; bays count from 0. */
sw_length sw_way_rise (const sw_division *division, const sw_way *way, sw_length rise, uint32_t bay);

#endif
