/* output.h - files that are written whole or not at all
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_OUTPUT_H
#define SW_OUTPUT_H

#include "base/report.h"

/* Some files of one directory, first written under temporary names, then
 * renamed together. */
typedef struct sw_output sw_output;

/* Open DIR, making it (not its parents) when it does not exist.  SW_IO and a
 * fault: another output, of this program or another, has it open. */
sw_status sw_output_open (sw_output **out, const char *dir, sw_report *report);
/* Some more files of FOLDER's directory, which is freed after this; BEFORE
 * (NULL: none), too: what that has removed is replaced with the mode it had. */
sw_status sw_output_open_again (sw_output **out, const sw_output *folder, const sw_output *before, sw_report *report);
/* The same for the folder NAME in PARENT, which is freed after it.  A symbolic link is refused. */
sw_status sw_output_open_in (sw_output **out, const sw_output *parent, const char *name, sw_report *report);
/* The path of the folder. */
const char *sw_output_dir (const sw_output *output);
/* Is NAME in the folder the file that FILE, a path, names?  NULL: no. */
bool sw_output_is (const sw_output *output, const char *name, const char *file);
/* No file of the output may replace FILE, an input; NULL: nothing to guard.
 * SW_USAGE and a fault for NAME when it would. */
sw_status sw_output_guard (sw_output *output, const char *name, const char *file, sw_report *report);
/* Is NAME in the folder, and no directory? */
bool sw_output_has (const sw_output *output, const char *name);
/* Write NAME's bytes to a temporary file beside it and to the disk.  A regular file that it replaces leaves it its mode. */
sw_status sw_output_add (sw_output *output, const char *name, const void *bytes, size_t count, sw_report *report);
/* When it is committed, remove the file NAME where there is one. */
sw_status sw_output_remove (sw_output *output, const char *name);
/* When it is committed, replace no file: SW_REJECTED and a fault for one that is there. */
void sw_output_only_new (sw_output *output);
/* Look whether the files can go to their names, before the first of several outputs is committed. */
sw_status sw_output_ready (const sw_output *output, sw_report *report);
/* Rename every file to its name.  What has that name is replaced; a symbolic
 * link is replaced itself, not what it points to. */
sw_status sw_output_commit (sw_output *output, sw_report *report);
/* Give the file NAME the date of LIKE, another one of the folder, where that can be done. */
void sw_output_date_like (const sw_output *output, const char *name, const char *like);
/* Without a commit: temporary files, and a directory that was made, are removed. */
void sw_output_free (sw_output *output);

#endif
