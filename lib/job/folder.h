/* folder.h - a job in a folder: its files by their names, and the copy that a plan's folder keeps
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FOLDER_H
#define SW_FOLDER_H

#include "job/job.h"

/* A plan's folder keeps the job that it was made from in this folder, and in this file the list of what it kept. */
#define SW_KEPT_FOLDER "job"
#define SW_KEPT_LIST "kept.csv"

/* The file's name: "spans.csv" and so on. */
const char *sw_folder_name (sw_job_file which);
/* Is PATH a folder, or a link to one? */
bool sw_folder_is (const char *path);

/* The files of a job that a folder has. */
typedef struct sw_folder
{
  char *dir;
  char *paths[SW_FILES]; /* NULL: the folder does not have the file */
  size_t count;          /* of files that the folder has */
} sw_folder;

/* Look for a job's files in DIR.  SW_REJECTED and a fault: a file that is not GIVEN by the caller
 * seems to be there under another name (Levels.CSV, levels.xlsx).  Files that are not read yet get
 * a warning.  Clear OUT after a failure, too. */
sw_status sw_folder_look (sw_folder *out, const char *dir, const bool given[SW_FILES], sw_report *report);
void sw_folder_clear (sw_folder *folder);
/* Set GIVEN for each file that SOURCES (NULL: none) or SETTINGS name. */
void sw_folder_given (const sw_sources *sources, const sw_settings *settings, bool given[SW_FILES]);
/* Read the job of FOLDER.  A file that the caller names takes the place of the folder's.  The
 * warnings of REPORT from number FIRST on become the job's, too. */
sw_status sw_folder_read (sw_job **out, const sw_folder *folder, const sw_sources *given, const sw_settings *settings,
                          size_t first, sw_report *report);

/* A function that reads a job out of a folder, as spanwright.h declares them. */
typedef sw_status sw_folder_reader (sw_job **out, const char *dir, const sw_sources *given, const sw_settings *settings,
                                    sw_report *report);
/* Call READER, with a report of its own if REPORT is NULL: the job keeps its warnings even if the
 * caller does not want them. */
sw_status sw_folder_with_report (sw_folder_reader *reader, sw_job **out, const char *dir, const sw_sources *given,
                                 const sw_settings *settings, sw_report *report);

/* kept.csv (folder_kept.c): which files the job of a plan had when the plan was made, with their
 * sizes and checksums. */
typedef struct sw_kept_file
{
  bool listed;
  int64_t bytes;
  int64_t checksum;
} sw_kept_file;

typedef struct sw_kept
{
  bool there; /* the folder has such a list */
  sw_kept_file files[SW_FILES];
} sw_kept;

/* Read the list in the folder DIR, if there is one. */
sw_status sw_kept_read (sw_kept *out, const char *dir, sw_report *report);
void sw_kept_set (sw_kept *kept, sw_job_file which, const char *bytes, size_t count);
/* Does the list give the file these bytes? */
bool sw_kept_same (const sw_kept *kept, sw_job_file which, const char *bytes, size_t count);
/* Write the list as a table, in the style that SETTINGS ask for. */
sw_status sw_kept_table (const sw_kept *kept, const sw_settings *settings, sw_table **out);

#endif
