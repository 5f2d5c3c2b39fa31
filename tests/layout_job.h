/* layout_job.h - jobs built by hand, for the tests of the layout
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef LAYOUT_JOB_H
#define LAYOUT_JOB_H

#include "layout/layout.h"

/* A job without runs, levels or stock, with a bow of 5 mm and no trim.  Its files are called
 * spans.csv, levels.csv, stock.csv, sections.csv and extras.csv.  The rows of a file are on lines
 * 2, 3 ... */
sw_job *job_make (void);
void job_drop (sw_job *job);

/* Begin a run with a post that is WIDTH wide. */
void job_run (sw_job *job, const char *name, sw_length width);
/* Add a bay and the post at its far end, which is WIDTH wide.  Timber runs on at both sides.  The
 * pointer is valid until the next bay is added. */
sw_bay *job_bay (sw_job *job, sw_length span, sw_length width);
sw_post *job_last_post (sw_job *job);
/* End the last run.  Its outer ends become flush unless they are set.  Ends beside openings and
 * other ends are filled in as spanwright-csv(5) says. */
void job_close (sw_job *job);
/* Add a whole run of COUNT equal bays of SPAN on posts of WIDTH. */
void job_even_run (sw_job *job, const char *name, size_t count, sw_length span, sw_length width);

sw_level *job_level (sw_job *job, const char *name, const char *section, bool through);
sw_stock *job_stock (sw_job *job, const char *section, sw_length length);
sw_extra *job_extra (sw_job *job, const char *label, const char *section, sw_length length);

/* The pieces that through level T may have in STRETCH, as "1-3 4850, 3-5 4800": posts from 1,
 * lengths in mm to a tenth.  The string is valid until the next call. */
const char *job_arcs (const sw_layout *layout, size_t stretch, size_t t);

#endif
