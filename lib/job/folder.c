/* folder.c - finds and reads the files of a job in a folder
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/folder.h"

#include "base/memory.h"
#include "job/settings_parts.h"
#include "base/text.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

const char *
sw_folder_name (sw_job_file which)
{
  static const char *const names[SW_FILES]
      = { [SW_FILE_SPANS] = "spans.csv",       [SW_FILE_LEVELS] = "levels.csv", [SW_FILE_STOCK] = "stock.csv",
          [SW_FILE_SECTIONS] = "sections.csv", [SW_FILE_EXTRAS] = "extras.csv", [SW_FILE_YARDS] = "yards.csv",
          [SW_FILE_FITTINGS] = "fittings.csv", [SW_FILE_SETTINGS] = "settings.csv",
          [SW_FILE_ON_HAND] = "on-hand.csv",   [SW_FILE_IN_PLACE] = "in-place.csv" };
  return names[which];
}

bool
sw_folder_is (const char *path)
{
  struct stat status;
  return stat (path, &status) == 0 && S_ISDIR (status.st_mode);
}

void
sw_folder_clear (sw_folder *folder)
{
  free (folder->dir);
  for (int f = 0; f < SW_FILES; f++)
    free (folder->paths[f]);
  *folder = (sw_folder){ .dir = NULL };
}

/* ---- What is there ------------------------------------------------------- */

/* Is NAME another spelling or another format of FILE ("levels.csv"), such as Levels.CSV or
 * levels.xlsx?  FILE itself is not. */
static bool
is_meant (const char *name, const char *file)
{
  static const char *const endings[] = { ".csv", ".csv.txt", ".tsv", ".xlsx", ".xls", ".ods", ".numbers" };
  char stem[SW_SHOWN];
  size_t length = strlen (file) - strlen (".csv");
  if (strlen (name) <= length || strcmp (name, file) == 0)
    return false;
  snprintf (stem, sizeof stem, "%.*s.csv", (int)length, name);
  bool known = false;
  for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++)
    known = known || sw_same_word (name + length, endings[i]);
  return known && sw_same_word (stem, file);
}

/* Does FILE end like a spreadsheet's own file? */
static bool
is_workbook (const char *file)
{
  static const char *const endings[] = { ".xlsx", ".xls", ".ods", ".numbers" };
  const char *point = strrchr (file, '.');
  for (size_t i = 0; point != NULL && i < sizeof endings / sizeof endings[0]; i++)
    if (sw_same_word (point, endings[i]))
      return true;
  return false;
}

/* Names in a folder that are none of a job's file names but may be meant for one. */
typedef struct misnamed
{
  char *names[SW_FILES]; /* of several the first by the alphabet, not by the folder's order; NULL: none */
} misnamed;

static void
forget (misnamed *found)
{
  for (int f = 0; f < SW_FILES; f++)
    free (found->names[f]);
}

static sw_status
take_name (sw_folder *folder, misnamed *found, const char *name)
{
  for (int f = 0; f < SW_FILES; f++)
    {
      const char *file = sw_folder_name ((sw_job_file)f);
      if (strcmp (name, file) == 0)
        {
          folder->paths[f] = sw_text_path (folder->dir, name);
          folder->count++;
          if (folder->paths[f] == NULL)
            return SW_NO_MEMORY;
        }
      else if (is_meant (name, file) && (found->names[f] == NULL || strcmp (name, found->names[f]) < 0))
        {
          free (found->names[f]);
          found->names[f] = sw_copy_text (name);
          if (found->names[f] == NULL)
            return SW_NO_MEMORY;
        }
    }
  return SW_OK;
}

static sw_status
add_remark (const sw_folder *folder, const char *name, sw_severity severity, sw_report *report, const char *message)
{
  char *path = sw_text_path (folder->dir, name);
  if (path == NULL)
    return SW_NO_MEMORY;
  sw_report_add (report, severity, path, 0, NULL, "%s", message);
  free (path);
  return SW_OK;
}

static sw_status
refuse_misnamed (const sw_folder *folder, const misnamed *found, const bool given[SW_FILES], sw_report *report)
{
  sw_status status = SW_OK;
  bool refused = false;
  for (int f = 0; f < SW_FILES && status == SW_OK; f++)
    if (found->names[f] != NULL && folder->paths[f] == NULL && !given[f])
      {
        sw_text message = { 0 };
        bool workbook = is_workbook (found->names[f]);
        sw_text_printf (&message, "is %s: expected %s, a CSV file with this very name%s",
                        workbook ? "a workbook, not CSV" : "not read under this name", sw_folder_name ((sw_job_file)f),
                        workbook ? " (in the spreadsheet: Save as, \"CSV UTF-8\")" : "");
        char *text = sw_text_take (&message);
        status = text != NULL ? add_remark (folder, found->names[f], SW_FAULT, report, text) : SW_NO_MEMORY;
        free (text);
        refused = true;
      }
  return status == SW_OK && refused ? SW_REJECTED : status;
}

static sw_status
list_names (sw_folder *folder, misnamed *found, sw_report *report)
{
  DIR *names = opendir (folder->dir);
  if (names == NULL)
    {
      char reason[SW_TEXT_ERROR];
      sw_report_add (report, SW_FAULT, folder->dir, 0, NULL, "cannot be read: %s", sw_text_error (errno, reason));
      return sw_report_broken (report) ? SW_NO_MEMORY : SW_IO;
    }
  sw_status status = SW_OK;
  while (status == SW_OK)
    {
      /* NOLINTNEXTLINE(concurrency-mt-unsafe): no other thread has the stream. */
      const struct dirent *entry = readdir (names);
      if (entry == NULL)
        break;
      status = take_name (folder, found, entry->d_name);
    }
  closedir (names);
  return status;
}

sw_status
sw_folder_look (sw_folder *out, const char *dir, const bool given[SW_FILES], sw_report *report)
{
  misnamed found = { { NULL } };
  *out = (sw_folder){ .dir = sw_copy_text (dir) };
  if (out->dir == NULL)
    return SW_NO_MEMORY;
  sw_status status = list_names (out, &found, report);
  if (status == SW_OK)
    status = refuse_misnamed (out, &found, given, report);
  forget (&found);
  return sw_report_broken (report) ? SW_NO_MEMORY : status;
}

/* ---- Reading ------------------------------------------------------------- */

void
sw_folder_given (const sw_sources *sources, const sw_settings *settings, bool given[SW_FILES])
{
  const sw_sources none = { .spans = NULL };
  sources = sources != NULL ? sources : &none;
  given[SW_FILE_SPANS] = sources->spans != NULL;
  given[SW_FILE_LEVELS] = sources->levels != NULL;
  given[SW_FILE_STOCK] = sources->stock != NULL;
  given[SW_FILE_SECTIONS] = sources->sections != NULL;
  given[SW_FILE_EXTRAS] = sources->extras != NULL;
  given[SW_FILE_YARDS] = sources->yards != NULL;
  given[SW_FILE_FITTINGS] = sources->fittings != NULL;
  given[SW_FILE_ON_HAND] = sources->on_hand != NULL;
  given[SW_FILE_IN_PLACE] = sources->in_place != NULL;
  given[SW_FILE_SETTINGS] = settings->file != NULL;
}

/* The files that the caller has GIVEN, and those of FOLDER for the rest. */
static sw_sources
merge (const sw_folder *folder, const sw_sources *given)
{
  const sw_sources none = { .spans = NULL };
  given = given != NULL ? given : &none;
  char *const *paths = folder->paths;
  return (sw_sources){ .spans = given->spans != NULL ? given->spans : paths[SW_FILE_SPANS],
                       .levels = given->levels != NULL ? given->levels : paths[SW_FILE_LEVELS],
                       .stock = given->stock != NULL ? given->stock : paths[SW_FILE_STOCK],
                       .sections = given->sections != NULL ? given->sections : paths[SW_FILE_SECTIONS],
                       .extras = given->extras != NULL ? given->extras : paths[SW_FILE_EXTRAS],
                       .yards = given->yards != NULL ? given->yards : paths[SW_FILE_YARDS],
                       .fittings = given->fittings != NULL ? given->fittings : paths[SW_FILE_FITTINGS],
                       .on_hand = given->on_hand != NULL ? given->on_hand : paths[SW_FILE_ON_HAND],
                       .in_place = given->in_place != NULL ? given->in_place : paths[SW_FILE_IN_PLACE] };
}

/* A file that the caller names takes precedence: settings of the folder's file that say the same
 * thing otherwise are dropped. */
static void
let_files_win (sw_settings *now, const sw_settings *before, const sw_sources *given)
{
  if (given != NULL && given->levels != NULL && !before->rails_given)
    {
      now->rails = before->rails;
      now->rails_given = false;
    }
  if (given != NULL && given->stock != NULL && !before->stock_lengths_given)
    {
      memcpy (now->stock_lengths, before->stock_lengths, sizeof now->stock_lengths);
      now->stock_length_count = before->stock_length_count;
      now->stock_lengths_given = false;
      now->stock_meant[0] = '\0';
    }
}

sw_status
sw_folder_read (sw_job **out, const sw_folder *folder, const sw_sources *given, const sw_settings *settings,
                size_t first, sw_report *report)
{
  *out = NULL;
  const sw_sources sources = merge (folder, given);
  if (sources.spans == NULL && sources.extras == NULL)
    {
      sw_report_add (report, SW_FAULT, folder->dir, 0, NULL,
                     "nothing to plan: expected spans.csv or extras.csv in this folder, found neither");
      return sw_report_broken (report) ? SW_NO_MEMORY : SW_REJECTED;
    }
  sw_settings *now = sw_settings_copy (settings);
  if (now == NULL)
    return SW_NO_MEMORY;
  sw_status status = sw_settings_keep_warnings (now, report, first);
  if (status == SW_OK && folder->paths[SW_FILE_SETTINGS] != NULL && settings->file == NULL)
    {
      status = sw_settings_read (now, folder->paths[SW_FILE_SETTINGS], report);
      let_files_win (now, settings, given);
    }
  if (status == SW_OK)
    status = sw_job_read (out, &sources, now, report);
  sw_settings_free (now);
  return status != SW_OK && sw_report_broken (report) ? SW_NO_MEMORY : status;
}

/* Report that DIR has none of a job's files. */
static sw_status
refuse_empty (const char *dir, sw_report *report)
{
  char *kept = sw_text_path (dir, SW_KEPT_FOLDER);
  if (kept == NULL)
    return SW_NO_MEMORY;
  if (sw_folder_is (kept))
    sw_report_add (report, SW_FAULT, dir, 0, NULL,
                   "expected a job's files in this folder (spans.csv, levels.csv, stock.csv ...), found none of them;"
                   " the job of a plan is in the folder job in it: name %s",
                   kept);
  else
    sw_report_add (report, SW_FAULT, dir, 0, NULL,
                   "expected a job's files in this folder (spans.csv, levels.csv, stock.csv ...), found none of them");
  free (kept);
  return sw_report_broken (report) ? SW_NO_MEMORY : SW_REJECTED;
}

sw_status
sw_folder_with_report (sw_folder_reader *reader, sw_job **out, const char *dir, const sw_sources *given,
                       const sw_settings *settings, sw_report *report)
{
  sw_report *own = report == NULL ? sw_report_new () : NULL;
  *out = NULL;
  if (report == NULL && own == NULL)
    return SW_NO_MEMORY;
  sw_status status = reader (out, dir, given, settings, report != NULL ? report : own);
  sw_report_free (own);
  return status;
}

static sw_status
read_dir (sw_job **out, const char *dir, const sw_sources *given, const sw_settings *settings, sw_report *report)
{
  const size_t first = sw_report_count (report);
  bool named[SW_FILES];
  sw_folder folder;
  sw_folder_given (given, settings, named);
  sw_status status = sw_folder_look (&folder, dir, named, report);
  if (status == SW_OK && folder.count == 0)
    status = refuse_empty (dir, report);
  if (status == SW_OK)
    status = sw_folder_read (out, &folder, given, settings, first, report);
  sw_folder_clear (&folder);
  return status;
}

sw_status
sw_job_read_folder (sw_job **out, const char *dir, const sw_sources *given, const sw_settings *settings,
                    sw_report *report)
{
  return sw_folder_with_report (read_dir, out, dir, given, settings, report);
}
