/* job_bare.h - bare numbers in a job that is printed in inches
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_JOB_BARE_H
#define SW_JOB_BARE_H

#include "csv/table.h"

/* Note the first length of TABLE that has no unit.  STOCK: the table is stock.csv.  False: every length has one. */
bool sw_job_note_bare (const sw_table *table, bool stock, sw_report *report);

#endif
