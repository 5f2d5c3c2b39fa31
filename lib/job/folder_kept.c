/* folder_kept.c - reads the job that a plan's folder keeps, and the list of its files
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/folder.h"

#include "base/checksum.h"
#include "csv/field.h"
#include "base/text.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* ---- The list ------------------------------------------------------------ */

enum
{
  FILE_NAME,
  BYTES,
  CHECKSUM,
  COLUMNS
};
static const char *const columns[COLUMNS] = { "file", "bytes", "cksum" };

static void
read_rows (sw_kept *kept, sw_fields *fields)
{
  const char *names[SW_FILES];
  for (int f = 0; f < SW_FILES; f++)
    names[f] = sw_folder_name ((sw_job_file)f);
  for (size_t rows = sw_table_rows (fields->table); fields->row < rows; fields->row++)
    {
      size_t which = 0;
      sw_kept_file file = { .listed = true };
      bool good = sw_field_needed (fields, FILE_NAME, "a file's name") && sw_field_needed (fields, BYTES, "a number")
                  && sw_field_needed (fields, CHECKSUM, "a number");
      good = good && sw_field_choice (fields, FILE_NAME, names, SW_FILES, &which)
             && sw_field_whole (fields, BYTES, 0, INT64_MAX, &file.bytes)
             && sw_field_whole (fields, CHECKSUM, 0, UINT32_MAX, &file.checksum);
      if (good && kept->files[which].listed)
        sw_field_fault (fields, FILE_NAME, "\"%s\" stands twice", names[which]);
      else if (good)
        kept->files[which] = file;
    }
}

sw_status
sw_kept_read (sw_kept *out, const char *dir, sw_report *report)
{
  *out = (sw_kept){ .there = false };
  char *path = sw_text_path (dir, SW_KEPT_LIST);
  if (path == NULL)
    return SW_NO_MEMORY;
  out->there = access (path, F_OK) == 0;
  sw_table *table = NULL;
  sw_status status = out->there ? sw_table_read (&table, path, report) : SW_OK;
  sw_fields fields;
  if (table != NULL && !sw_fields_begin (&fields, table, columns, COLUMNS, COLUMNS, report))
    status = SW_REJECTED;
  else if (table != NULL)
    {
      read_rows (out, &fields);
      status = fields.faults == 0 ? SW_OK : SW_REJECTED;
    }
  sw_table_free (table);
  free (path);
  return sw_report_broken (report) ? SW_NO_MEMORY : status;
}

void
sw_kept_set (sw_kept *kept, sw_job_file which, const char *bytes, size_t count)
{
  kept->files[which] = (sw_kept_file){ true, (int64_t)count, (int64_t)sw_checksum (bytes, count) };
}

bool
sw_kept_same (const sw_kept *kept, sw_job_file which, const char *bytes, size_t count)
{
  const sw_kept_file *file = &kept->files[which];
  return file->listed && file->bytes == (int64_t)count && file->checksum == (int64_t)sw_checksum (bytes, count);
}

static sw_status
add_row (sw_table *table, const char *name, const sw_kept_file *file)
{
  char figure[SW_SHOWN];
  sw_status status = sw_table_add_row (table);
  if (status == SW_OK)
    status = sw_table_set_text (table, FILE_NAME, name);
  snprintf (figure, sizeof figure, "%" PRId64, file->bytes);
  if (status == SW_OK)
    status = sw_table_set (table, BYTES, figure);
  snprintf (figure, sizeof figure, "%" PRId64, file->checksum);
  if (status == SW_OK)
    status = sw_table_set (table, CHECKSUM, figure);
  return status;
}

sw_status
sw_kept_table (const sw_kept *kept, const sw_settings *settings, sw_table **out)
{
  sw_table *table = NULL;
  *out = NULL;
  sw_status status = sw_table_new (&table, columns, COLUMNS);
  if (status == SW_OK && settings->csv_style == SW_CSV_SEMICOLON)
    sw_table_write_semicolons (table);
  for (int f = 0; f < SW_FILES && status == SW_OK; f++)
    if (kept->files[f].listed)
      status = add_row (table, sw_folder_name ((sw_job_file)f), &kept->files[f]);
  if (status == SW_OK)
    *out = table;
  else
    sw_table_free (table);
  return status;
}

/* ---- The job ------------------------------------------------------------- */

/* Warn of each file of FOLDER that has changed since the plan was made.  Files GIVEN by the caller
 * are not looked at. */
static sw_status
check_unchanged (const sw_folder *folder, const sw_kept *kept, const bool given[SW_FILES], sw_report *report)
{
  if (!kept->there)
    {
      sw_report_add (report, SW_NOTE, folder->dir, 0, NULL,
                     "there is no kept.csv, which tells whether these files are those that the plan was made from");
      return SW_OK;
    }
  for (int f = 0; f < SW_FILES; f++)
    {
      char *bytes = NULL;
      size_t count = 0;
      const char *name = sw_folder_name ((sw_job_file)f);
      if (given[f])
        continue;
      if (folder->paths[f] == NULL && kept->files[f].listed)
        sw_report_add (report, SW_WARNING, folder->dir, 0, NULL,
                       "the plan was made with a %s that was kept here and is gone", name);
      if (folder->paths[f] == NULL)
        continue;
      /* The reading of the job will report what cannot be read. */
      sw_status status = sw_table_load (&bytes, &count, folder->paths[f], NULL);
      if (status == SW_NO_MEMORY)
        return status;
      if (status == SW_OK && !kept->files[f].listed)
        sw_report_add (report, SW_WARNING, folder->paths[f], 0, NULL,
                       "was put here after the plan was made: it is read, and the plan was made without it");
      else if (status == SW_OK && !sw_kept_same (kept, (sw_job_file)f, bytes, count))
        sw_report_add (report, SW_WARNING, folder->paths[f], 0, NULL,
                       "was edited after the plan was made from it: what is wrong with the plan may come of that");
      free (bytes);
    }
  return SW_OK;
}

/* Note which files of the job come from FOLDER.  *TAKEN: some do. */
static sw_status
say_taken (const sw_folder *folder, const bool given[SW_FILES], bool *taken, sw_report *report)
{
  sw_text names = { 0 };
  bool whole = true;
  for (int f = 0; f < SW_FILES; f++)
    {
      /* How far the job had come is no part of it that somebody names. */
      whole = whole && (!given[f] || f == SW_FILE_ON_HAND || f == SW_FILE_IN_PLACE);
      if (!given[f] && folder->paths[f] != NULL)
        sw_text_printf (&names, "%s%s", names.length > 0 ? ", " : "", sw_folder_name ((sw_job_file)f));
    }
  *taken = names.length > 0;
  char *text = sw_text_take (&names);
  if (text == NULL)
    return SW_NO_MEMORY;
  if (*taken)
    sw_report_add (report, SW_NOTE, folder->dir, 0, NULL, "%s is read from here: %s",
                   whole ? "the job" : "the rest of the job", text);
  free (text);
  return SW_OK;
}

static sw_status
read_kept (sw_job **out, const sw_folder *folder, const bool named[SW_FILES], const sw_sources *given,
           const sw_settings *settings, size_t first, sw_report *report)
{
  sw_kept kept;
  bool taken;
  sw_status status = say_taken (folder, named, &taken, report);
  if (status == SW_OK && taken)
    status = sw_kept_read (&kept, folder->dir, report);
  if (status == SW_OK && taken)
    status = check_unchanged (folder, &kept, named, report);
  if (status == SW_OK)
    status = sw_folder_read (out, folder, given, settings, first, report);
  return status;
}

/* DIR keeps no job: read the one that the caller names.  Without it there is nothing to read. */
static sw_status
read_given (sw_job **out, const char *dir, const sw_sources *given, const sw_settings *settings, sw_report *report)
{
  if (given != NULL && (given->spans != NULL || given->extras != NULL))
    return sw_job_read (out, given, settings, report);
  sw_report_add (report, SW_FAULT, dir, 0, NULL,
                 "no job is kept here, so what the plan was made from must be named: a file of spans or of extras, or"
                 " the job's folder");
  return sw_report_broken (report) ? SW_NO_MEMORY : SW_USAGE;
}

static sw_status
read_plan (sw_job **out, const char *dir, const sw_sources *given, const sw_settings *settings, sw_report *report)
{
  const size_t first = sw_report_count (report);
  bool named[SW_FILES];
  sw_folder folder = { .dir = NULL };
  char *path = sw_text_path (dir, SW_KEPT_FOLDER);
  if (path == NULL)
    return SW_NO_MEMORY;
  sw_folder_given (given, settings, named);
  sw_status status = SW_OK;
  if (sw_folder_is (path))
    status = sw_folder_look (&folder, path, named, report);
  if (status == SW_OK && folder.count > 0)
    status = read_kept (out, &folder, named, given, settings, first, report);
  else if (status == SW_OK)
    status = read_given (out, path, given, settings, report);
  sw_folder_clear (&folder);
  free (path);
  return status;
}

sw_status
sw_job_read_kept (sw_job **out, const char *dir, const sw_sources *given, const sw_settings *settings,
                  sw_report *report)
{
  return sw_folder_with_report (read_plan, out, dir, given, settings, report);
}
