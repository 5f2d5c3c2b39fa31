/* report.h - collects what is wrong with an input, and where
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_REPORT_H
#define SW_REPORT_H

#include "spanwright.h"

/* The number of faults of one file that are kept.  More are only counted, and one note of the file,
 * "and 3 more faults", says how many there are. */
#define SW_REPORT_FILE_FAULTS 20

/* Add a remark.  REPORT may be NULL: nothing happens.  FILE, COLUMN: NULL for none; LINE: 0 for
 * none.  What sw_text_add_shown escapes is escaped in message, file and column, and an over-long
 * text loses its middle, so that user text can go in with %s.  When memory runs out, the report
 * remembers it, and sw_report_broken says so. */
void sw_report_add (sw_report *report, sw_severity severity, const char *file, size_t line, const char *column,
                    const char *format, ...) SW_PRINTF (6, 7);

/* Did memory run out while a remark was added? */
bool sw_report_broken (const sw_report *report);

/* The number of faults that were added for FILE, with those that were not kept.  It is 0 without a
 * report: a reader that must work without one counts for itself. */
size_t sw_report_faults_of (const sw_report *report, const char *file);

/* Add to REPORT copies of FROM's remarks of SEVERITY, beginning with remark number FIRST.  FROM may be NULL. */
sw_status sw_report_copy (sw_report *report, const sw_report *from, size_t first, sw_severity severity);

/* Does REMARK, which REPORT holds, concern FILE?  NULL: no file at all. */
bool sw_report_is_of (const sw_report *report, const sw_remark *remark, const char *file);

#endif
