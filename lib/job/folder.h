/* folder.h - a job's files by their names in a folder
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FOLDER_H
#define SW_FOLDER_H

#include "job/job.h"

/* In a plan's folder: the job that it was made from, and there what was kept. */
#define SW_KEPT_FOLDER "job"
#define SW_KEPT_LIST "kept.csv"

/* "spans.csv" and so on. */
const char *sw_folder_name (sw_job_file which);
/* Is PATH a folder (or a link to one)? */
bool sw_folder_is (const char *path);

/* Which of a job's files a folder has. */
typedef struct sw_folder
{
  char *dir;
  char *paths[SW_FILES]; /* NULL: not there */
  size_t count;          /* of those that are there */
} sw_folder;

/* Look in DIR.  Of a file that is not GIVEN by the caller and may be there
 * under another name (Levels.CSV, levels.xlsx): a fault, SW_REJECTED.  Clear
 * OUT after a failure too. */
sw_status sw_folder_look (sw_folder *out, const char *dir, const bool given[SW_FILES], sw_report *report);
void sw_folder_clear (sw_folder *folder);
/* Which of the files do SOURCES (NULL: none) and SETTINGS already name? */
void sw_folder_given (const sw_sources *sources, const sw_settings *settings, bool given[SW_FILES]);
/* Read the job of FOLDER; what the caller names takes the place of its files.
 * Warnings of REPORT from number FIRST on are the job's too. */
sw_status sw_folder_read (sw_job **out, const sw_folder *folder, const sw_sources *given, const sw_settings *settings,
                          size_t first, sw_report *report);

/* A reader of a job out of a folder, as they are in spanwright.h. */
typedef sw_status sw_folder_reader (sw_job **out, const char *dir, const sw_sources *given, const sw_settings *settings,
                                    sw_report *report);
/* Call READER with a report of its own where REPORT is NULL: the job keeps its
 * warnings, whether or not the caller wants to know them. */
sw_status sw_folder_with_report (sw_folder_reader *reader, sw_job **out, const char *dir, const sw_sources *given,
                                 const sw_settings *settings, sw_report *report);

/* folder_kept.c: kept.csv, which tells what a plan's job was when the plan was made. */
typedef struct sw_kept_file
{
  bool listed;
  int64_t bytes;
  int64_t checksum;
} sw_kept_file;

typedef struct sw_kept
{
  bool there; /* there is such a file */
  sw_kept_file files[SW_FILES];
} sw_kept;

/* Read the list in the folder DIR, where there is one. */
sw_status sw_kept_read (sw_kept *out, const char *dir, sw_report *report);
void sw_kept_set (sw_kept *kept, sw_job_file which, const char *bytes, size_t count);
/* Are these the bytes that the list says the file had? */
bool sw_kept_same (const sw_kept *kept, sw_job_file which, const char *bytes, size_t count);
/* The list as a table for a job with SETTINGS. */
sw_status sw_kept_table (const sw_kept *kept, const sw_settings *settings, sw_table **out);

#endif
