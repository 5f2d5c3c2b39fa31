/* output.h - files that are written whole or not at all (layer 1)
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_OUTPUT_H
#define SW_OUTPUT_H

#include "report.h"

/* Some files of one directory, first written under temporary names, then
 * renamed together. */
typedef struct sw_output sw_output;

/* Open DIR, making it (not its parents) when it does not exist. */
sw_status sw_output_open (sw_output **out, const char *dir, sw_report *report);
/* No file of the output may replace FILE, an input; NULL: nothing to guard.
 * SW_USAGE and a fault for NAME when it would. */
sw_status sw_output_guard (sw_output *output, const char *name, const char *file, sw_report *report);
/* Write NAME's bytes to a temporary file beside it and to the disk. */
sw_status sw_output_add (sw_output *output, const char *name, const void *bytes, size_t count, sw_report *report);
/* Rename every file to its name.  What has that name is replaced; a symbolic
 * link is replaced itself, not what it points to. */
sw_status sw_output_commit (sw_output *output, sw_report *report);
/* Without a commit: temporary files, and a directory that was made, are removed. */
void sw_output_free (sw_output *output);

#endif
