/* start.c - writes a small job to begin with into a folder
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/folder.h"
#include "csv/output.h"
#include "job/start_files.h"
#include "csv/table.h"
#include "base/text.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define README "README.txt"

/* Let the settings in TABLE ask for semicolons, too, so that what is made of the job has the same style. */
static sw_status
add_style (sw_table *table)
{
  sw_status status = sw_table_add_row (table);
  if (status == SW_OK)
    status = sw_table_set (table, 0, "csv-style");
  if (status == SW_OK)
    status = sw_table_set (table, 1, "semicolon");
  return status;
}

static sw_status
add_csv (sw_output *output, sw_job_file which, const char *text, bool semicolons, sw_report *report)
{
  const char *name = sw_folder_name (which);
  sw_table *table = NULL;
  char *bytes = NULL;
  sw_status status = sw_table_read_bytes (&table, text, strlen (text), name, NULL);
  if (status == SW_OK && semicolons)
    {
      sw_table_write_semicolons (table);
      status = which == SW_FILE_SETTINGS ? add_style (table) : SW_OK;
    }
  if (status == SW_OK)
    status = sw_table_csv (table, &bytes);
  if (status == SW_OK)
    status = sw_output_add (output, name, bytes, strlen (bytes), report);
  sw_text_free (bytes);
  sw_table_free (table);
  return status;
}

static sw_status
refuse_if_there (const char *dir, const char *name, sw_report *report)
{
  struct stat there;
  char *path = sw_text_path (dir, name);
  if (path == NULL)
    return SW_NO_MEMORY;
  sw_status status = SW_OK;
  if (lstat (path, &there) == 0)
    {
      sw_report_add (report, SW_FAULT, path, 0, NULL, "is there already: nothing was written");
      status = SW_REJECTED;
    }
  free (path);
  return status;
}

/* Refuse a folder that has a file of a job, and report every such file.  A file that this job does
 * not have would become a part of it all the same. */
static sw_status
refuse_taken_names (const char *dir, sw_report *report)
{
  bool taken = false;
  sw_status status = SW_OK;
  for (int f = 0; f <= SW_FILES && status != SW_NO_MEMORY; f++)
    {
      status = refuse_if_there (dir, f < SW_FILES ? sw_folder_name ((sw_job_file)f) : README, report);
      taken = taken || status == SW_REJECTED;
    }
  if (status == SW_NO_MEMORY)
    return status;
  return taken ? SW_REJECTED : SW_OK;
}

static sw_status
write_files (const char *dir, const sw_settings *settings, sw_report *report)
{
  sw_output *output = NULL;
  const char *text = sw_start_readme ();
  sw_status status = sw_output_open (&output, dir, report);
  if (status != SW_OK)
    return status;
  sw_output_only_new (output);
  for (int f = 0; f < SW_FILES && status == SW_OK; f++)
    {
      const char *csv = sw_start_csv ((sw_job_file)f, settings->inches);
      if (csv != NULL)
        status = add_csv (output, (sw_job_file)f, csv, settings->csv_style == SW_CSV_SEMICOLON, report);
    }
  if (status == SW_OK)
    status = sw_output_add (output, README, text, strlen (text), report);
  if (status == SW_OK)
    status = sw_output_commit (output, report);
  sw_output_free (output);
  return status;
}

sw_status
sw_start_write (const char *dir, const sw_settings *settings, sw_report *report)
{
  sw_settings *usual = settings == NULL ? sw_settings_new () : NULL;
  if (settings == NULL && usual == NULL)
    return SW_NO_MEMORY;
  settings = settings != NULL ? settings : usual;
  sw_status status = refuse_taken_names (dir, report);
  if (status == SW_OK)
    status = write_files (dir, settings, report);
  sw_settings_free (usual);
  return sw_report_broken (report) ? SW_NO_MEMORY : status;
}
