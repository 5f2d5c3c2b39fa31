/* folder_keep.c - puts a copy of its job into a plan's folder
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/folder_keep.h"

#include "csv/table.h"
#include "base/text.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

typedef struct keeper
{
  sw_output *output;
  const sw_job *job;
  sw_report *report;
  sw_kept old; /* the list of an older plan */
  sw_kept kept;
  sw_bytes settings; /* settings.csv as it would be written; NULL: all settings are at their defaults */
  bool source;       /* at least a part of the job was read from this very folder */
} keeper;

/* ---- One file ------------------------------------------------------------ */

/* Load the file NAME of the folder.  DATA is NULL when there is none. */
static sw_status
load_there (const keeper *k, const char *name, sw_bytes *out)
{
  *out = (sw_bytes){ .data = NULL };
  char *path = sw_text_path (sw_output_dir (k->output), name);
  if (path == NULL)
    return SW_NO_MEMORY;
  struct stat there;
  sw_status status = SW_OK;
  if (lstat (path, &there) == 0)
    status = sw_table_load (&out->data, &out->count, path, k->report);
  free (path);
  return status;
}

static bool
is_input (const keeper *k, const char *name)
{
  bool found = false;
  for (int f = 0; f < SW_FILES; f++)
    found = found || sw_output_is (k->output, name, k->job->files[f]);
  return found;
}

/* Does the folder's settings.csv hold the settings of the job? */
static sw_status
says_the_same (const keeper *k, bool *same)
{
  char *path = sw_text_path (sw_output_dir (k->output), sw_folder_name (SW_FILE_SETTINGS));
  sw_settings *settings = sw_settings_new ();
  sw_status status = path != NULL && settings != NULL ? sw_settings_read (settings, path, NULL) : SW_NO_MEMORY;
  *same = status == SW_OK && sw_settings_same (settings, k->job->settings);
  sw_settings_free (settings);
  free (path);
  return status == SW_NO_MEMORY ? status : SW_OK;
}

static sw_status
refuse (const keeper *k, const char *name, const char *why)
{
  char *path = sw_text_path (sw_output_dir (k->output), name);
  if (path == NULL)
    return SW_NO_MEMORY;
  sw_report_add (k->report, SW_FAULT, path, 0, NULL, "%s: write to another directory", why);
  free (path);
  return sw_report_broken (k->report) ? SW_NO_MEMORY : SW_USAGE;
}

static bool
same_bytes (const sw_bytes *a, const sw_bytes *b)
{
  return a->data != NULL && b->data != NULL && a->count == b->count && memcmp (a->data, b->data, a->count) == 0;
}

/* May WANTED (no data: no file) replace THERE?  *STAYS: THERE means the same and is left alone. */
static sw_status
look_at (const keeper *k, sw_job_file which, const sw_bytes *there, const sw_bytes *wanted, bool *stays)
{
  const char *name = sw_folder_name (which);
  sw_status status = SW_OK;
  *stays = same_bytes (there, wanted);
  if (!*stays && k->source && which == SW_FILE_SETTINGS)
    status = says_the_same (k, stays);
  if (status != SW_OK || *stays)
    return status;
  if (is_input (k, name))
    return refuse (k, name, "is an input and would be overwritten by what the plan keeps of its job");
  /* Someone who works from the plan's folder may have no other copy. */
  if (k->source)
    return refuse (k, name, "would be overwritten or removed, and inputs of this job are beside it");
  if (sw_kept_same (&k->old, which, there->data, there->count))
    return SW_OK;
  if (k->old.files[which].listed)
    return refuse (k, name, "was edited after the plan in this folder was made, and would be overwritten");
  return refuse (k, name, "was not put here by a plan, and would be overwritten or taken for a part of its job");
}

static sw_status
keep_file (keeper *k, sw_job_file which)
{
  const char *name = sw_folder_name (which);
  const sw_bytes *wanted = which == SW_FILE_SETTINGS ? &k->settings : &k->job->read[which];
  sw_bytes there;
  bool stays = false;
  sw_status status = load_there (k, name, &there);
  if (status == SW_OK && there.data != NULL)
    status = look_at (k, which, &there, wanted, &stays);
  if (status == SW_OK && stays)
    sw_kept_set (&k->kept, which, there.data, there.count);
  else if (status == SW_OK && wanted->data != NULL)
    {
      sw_kept_set (&k->kept, which, wanted->data, wanted->count);
      status = sw_output_add (k->output, name, wanted->data, wanted->count, k->report);
    }
  else if (status == SW_OK && there.data != NULL)
    status = sw_output_remove (k->output, name);
  free (there.data);
  return status;
}

/* ---- The folder ---------------------------------------------------------- */

/* Turn TABLE into the bytes of a file, and free it. */
static sw_status
to_bytes (sw_table *table, sw_bytes *out)
{
  sw_status status = sw_table_csv (table, &out->data);
  if (status == SW_OK)
    out->count = strlen (out->data);
  sw_table_free (table);
  return status;
}

static sw_status
make_settings (keeper *k)
{
  sw_table *table = NULL;
  sw_status status = sw_settings_table (k->job->settings, &table);
  if (status == SW_OK && sw_table_rows (table) > 0)
    return to_bytes (table, &k->settings);
  sw_table_free (table);
  return status;
}

static sw_status
keep_list (keeper *k)
{
  sw_table *table = NULL;
  sw_bytes bytes = { .data = NULL };
  sw_status status = SW_OK;
  for (int f = 0; f < SW_FILES && status == SW_OK; f++)
    status = sw_output_guard (k->output, SW_KEPT_LIST, k->job->files[f], k->report);
  if (status == SW_OK)
    status = sw_kept_table (&k->kept, k->job->settings, &table);
  if (status == SW_OK)
    status = to_bytes (table, &bytes);
  if (status == SW_OK)
    status = sw_output_add (k->output, SW_KEPT_LIST, bytes.data, bytes.count, k->report);
  free (bytes.data);
  return status;
}

sw_status
sw_folder_keep (sw_output **out, const sw_output *plan, const sw_job *job, sw_report *report)
{
  *out = NULL;
  sw_status status = sw_output_open_in (out, plan, SW_KEPT_FOLDER, report);
  if (status != SW_OK)
    return status;
  keeper k = { .output = *out, .job = job, .report = report };
  for (int f = 0; f < SW_FILES; f++)
    k.source = k.source || is_input (&k, sw_folder_name ((sw_job_file)f));
  status = sw_kept_read (&k.old, sw_output_dir (*out), report);
  if (status == SW_OK)
    status = make_settings (&k);
  for (int f = 0; f < SW_FILES && status == SW_OK; f++)
    status = keep_file (&k, (sw_job_file)f);
  if (status == SW_OK)
    status = keep_list (&k);
  free (k.settings.data);
  return status;
}
