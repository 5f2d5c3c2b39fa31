/* report.h - collecting what is wrong with an input, and where
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_REPORT_H
#define SW_REPORT_H

#include "spanwright.h"

/* More faults of one file than this are counted, not kept; one note of that
 * file, "and 3 more faults", says how many they are. */
#define SW_REPORT_FILE_FAULTS 20

/* Add a remark.  REPORT may be NULL (nothing happens).  FILE, COLUMN: NULL
 * for none; LINE: 0 for none.  What sw_text_add_shown escapes
 * is escaped in message, file and column, and of an over-long text the middle
 * is left out, so that user text can go in with %s.  When memory runs out the
 * report remembers it and sw_report_broken says so. */
void sw_report_add (sw_report *report, sw_severity severity, const char *file, size_t line, const char *column,
                    const char *format, ...) SW_PRINTF (6, 7);

/* Memory ran out while adding. */
bool sw_report_broken (const sw_report *report);

/* Faults that were added for FILE, those not kept included.  Without a report
 * 0: a reader that must work without one counts for itself. */
size_t sw_report_faults_of (const sw_report *report, const char *file);

/* Add to REPORT copies of the remarks of SEVERITY that FROM holds from number
 * FIRST on.  FROM may be NULL. */
sw_status sw_report_copy (sw_report *report, const sw_report *from, size_t first, sw_severity severity);

/* Is REMARK, which REPORT holds, one of FILE?  NULL: of no file. */
bool sw_report_is_of (const sw_report *report, const sw_remark *remark, const char *file);

#endif
