/* divided.h - a job whose stretches have been divided into bays
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_DIVIDED_H
#define SW_DIVIDED_H

#include "job/way.h"

/* The finished spans.csv: JOB's, with DIVISIONS, COUNT of them, as sw_divisions_new has
 * them, each divided in the way WAYS[division], and without the column `divide`.
 * What else a row says goes to the bay that it holds for; all other rows are
 * as they were.  A rise is shared out in proportion, to the nanometre.
 * *BYTES, a string, is the caller's.  O(cells). */
sw_status sw_divided_spans (char **bytes, const sw_job *job, const sw_division *divisions, size_t count,
                            const sw_way *ways);

/* The job with those spans, checked like one that was read from files. */
sw_status sw_divided_job (sw_job **out, const sw_job *job, const sw_division *divisions, size_t count,
                          const sw_way *ways, sw_report *report);

/* Is there a row of JOB that is not a bay yet?  Then SW_REJECTED, and REPORT
 * says, row by row, what is to be done first.  Only `posts` takes such rows. */
sw_status sw_divided_check (const sw_job *job, sw_report *report);

/* The rise of bay BAY of the way, from 0. */
sw_length sw_way_rise (const sw_division *division, const sw_way *way, sw_length rise, uint32_t bay);

#endif
