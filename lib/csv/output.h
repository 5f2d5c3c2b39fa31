/* output.h - files that are written whole or not at all
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_OUTPUT_H
#define SW_OUTPUT_H

#include "base/report.h"

/* Some files of one directory.  They are written under temporary names first and then renamed together. */
typedef struct sw_output sw_output;

/* Open DIR.  The directory is made when it does not exist; its parents are not.  SW_IO and a fault:
 * another output, of this program or another, has it open. */
sw_status sw_output_open (sw_output **out, const char *dir, sw_report *report);
/* Open FOLDER's directory once more, for further files.  FOLDER holds the lock and must be freed
 * after the new output; so must BEFORE (NULL: none).  A file that BEFORE has removed and the new
 * output writes again gets the mode it had. */
sw_status sw_output_open_again (sw_output **out, const sw_output *folder, const sw_output *before, sw_report *report);
/* Open the folder NAME in PARENT, which must be freed after the new output.  A symbolic link is refused. */
sw_status sw_output_open_in (sw_output **out, const sw_output *parent, const char *name, sw_report *report);
/* The path of the folder, borrowed. */
const char *sw_output_dir (const sw_output *output);
/* Is NAME in the folder the very file that the path FILE names?  NULL: no. */
bool sw_output_is (const sw_output *output, const char *name, const char *file);
/* Refuse to write NAME when that would replace FILE, an input: SW_USAGE and a fault.  NULL: there is no such input. */
sw_status sw_output_guard (sw_output *output, const char *name, const char *file, sw_report *report);
/* Does the folder hold NAME, other than as a directory? */
bool sw_output_has (const sw_output *output, const char *name);
/* Write COUNT BYTES to a temporary file beside NAME, and wait until they are on the disk.  The file
 * gets the mode of the regular file that it will replace. */
sw_status sw_output_add (sw_output *output, const char *name, const void *bytes, size_t count, sw_report *report);
/* Let sw_output_commit remove the file NAME, if there is one. */
sw_status sw_output_remove (sw_output *output, const char *name);
/* Let sw_output_commit replace no file: it ends with SW_REJECTED and a fault if one is there. */
void sw_output_only_new (sw_output *output);
/* Check that every file can get its name.  With several outputs, check all of them before the first is committed. */
sw_status sw_output_ready (const sw_output *output, sw_report *report);
/* Rename every file to its name, and replace what has that name.  A symbolic link is replaced, not
 * what it points to. */
sw_status sw_output_commit (sw_output *output, sw_report *report);
/* Give the file NAME the date of LIKE, another file of the folder, if that can be done. */
void sw_output_date_like (const sw_output *output, const char *name, const char *like);
/* Free OUTPUT.  If it was not committed, its temporary files and a directory that it made are removed. */
void sw_output_free (sw_output *output);

#endif
