/* job_read.c - reads the files of a job and checks them together
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/job.h"
#include "job/job_bare.h"
#include "job/job_check.h"
#include "base/memory.h"
#include "csv/table.h"

#include <stdlib.h>
#include <string.h>

typedef struct reading
{
  sw_job *job;
  sw_report *report;
  bool rejected;   /* some file has faults; the others are read nevertheless */
  bool unreadable; /* some file could not be read at all */
  bool bare_told;  /* the note has been given that bare numbers are not inches */
} reading;

typedef sw_status (*part_reader) (reading *reading, const sw_table *table);

static sw_status
read_spans (reading *reading, const sw_table *table)
{
  return sw_fence_read (&reading->job->fence, table, reading->job->settings, reading->report);
}

static sw_status
read_sections (reading *reading, const sw_table *table)
{
  return sw_sections_read (&reading->job->sections, table, reading->job->settings, reading->report);
}

static sw_status
read_levels (reading *reading, const sw_table *table)
{
  sw_job *job = reading->job;
  return sw_levels_read (&job->levels, &job->sections, table, job->settings, reading->report);
}

static sw_status
read_extras (reading *reading, const sw_table *table)
{
  sw_job *job = reading->job;
  if (job->files[SW_FILE_SPANS] == NULL && sw_table_rows (table) == 0)
    {
      sw_report_add (reading->report, SW_FAULT, sw_table_file (table), 0, NULL,
                     "expected at least one piece, since there are no spans, found none");
      return SW_REJECTED;
    }
  return sw_extras_read (&job->extras, &job->sections, table, job->settings, reading->report);
}

static sw_status
read_on_hand (reading *reading, const sw_table *table)
{
  return sw_on_hand_read (&reading->job->on_hand, &reading->job->sections, &reading->job->yards, table,
                          reading->report);
}

static sw_status
read_in_place (reading *reading, const sw_table *table)
{
  return sw_in_place_read (&reading->job->in_place, table, reading->report);
}

static sw_status
read_stock (reading *reading, const sw_table *table)
{
  sw_job *job = reading->job;
  return sw_stocks_read (&job->stocks, &job->sections, &job->yards, table, job->settings, reading->report);
}

static sw_status
read_yards (reading *reading, const sw_table *table)
{
  return sw_yards_read (&reading->job->yards, table, reading->report);
}

static sw_status
read_fittings (reading *reading, const sw_table *table)
{
  return sw_fittings_read (&reading->job->fittings, table, reading->report);
}

/* Read one file, if the job has it.  Faults are remembered, not returned. */
static sw_status
read_part (reading *reading, sw_job_file which, part_reader reader)
{
  const char *file = reading->job->files[which];
  if (file == NULL)
    return SW_OK;
  sw_table *table = NULL;
  sw_bytes *bytes = &reading->job->read[which];
  sw_status status = bytes->data != NULL ? SW_OK : sw_table_load (&bytes->data, &bytes->count, file, reading->report);
  if (status == SW_OK)
    status = sw_table_read_bytes (&table, bytes->data, bytes->count, file, reading->report);
  if (status == SW_OK)
    status = reader (reading, table);
  if (!reading->bare_told)
    reading->bare_told = sw_job_note_bare (table, which == SW_FILE_STOCK, reading->report);
  sw_table_free (table);
  if (status == SW_REJECTED)
    reading->rejected = true;
  else if (status == SW_IO)
    reading->unreadable = true;
  else
    return status;
  return SW_OK;
}

/* Read all files.  The order of these calls shows in everything that is printed, because sections
 * are numbered as the files name them. */
static sw_status
read_all (reading *reading)
{
  sw_job *job = reading->job;
  bool has_spans = job->files[SW_FILE_SPANS] != NULL;
  sw_status status = read_part (reading, SW_FILE_SPANS, read_spans);
  if (status == SW_OK)
    status = read_part (reading, SW_FILE_SECTIONS, read_sections);
  if (status == SW_OK && has_spans && job->files[SW_FILE_LEVELS] == NULL)
    status = sw_levels_default (&job->levels, &job->sections, job->settings);
  else if (status == SW_OK && has_spans)
    status = read_part (reading, SW_FILE_LEVELS, read_levels);
  if (status == SW_OK)
    status = read_part (reading, SW_FILE_EXTRAS, read_extras);
  if (status == SW_OK)
    status = read_part (reading, SW_FILE_YARDS, read_yards);
  if (status == SW_OK)
    status = read_part (reading, SW_FILE_STOCK, read_stock);
  if (status == SW_OK)
    status = read_part (reading, SW_FILE_FITTINGS, read_fittings);
  if (status == SW_OK && job->files[SW_FILE_STOCK] == NULL)
    status = sw_stocks_default (&job->stocks, &job->sections, &job->yards, job->settings);
  if (status == SW_OK)
    status = read_part (reading, SW_FILE_ON_HAND, read_on_hand);
  return status == SW_OK ? read_part (reading, SW_FILE_IN_PLACE, read_in_place) : status;
}

/* Check what needs all files, once each is sound by itself. */
static sw_status
cross_check (reading *reading)
{
  sw_job *job = reading->job;
  sw_status heights = SW_OK;
  if (job->settings->picket > 0)
    heights = sw_levels_fill_heights (&job->levels, &job->sections, job->settings, job->files[SW_FILE_LEVELS],
                                      reading->report);
  if (heights != SW_OK && heights != SW_REJECTED)
    return heights;
  sw_status status = sw_job_check (job, reading->report);
  /* The check needs the runs that each level is on, which are known only now. */
  if (heights == SW_OK && (status == SW_OK || status == SW_REJECTED))
    sw_levels_check (&job->levels, &job->sections, job->fence.run_count, job->settings, job->files[SW_FILE_LEVELS],
                     reading->report);
  if (status == SW_OK && (heights != SW_OK || reading->rejected))
    status = SW_REJECTED;
  return status;
}

/* Refuse sources and settings that contradict each other. */
static sw_status
check_usage (const sw_sources *sources, const sw_settings *settings, sw_report *report)
{
  sw_status status = SW_OK;
  if (sources->spans == NULL && sources->extras == NULL)
    {
      sw_report_add (report, SW_FAULT, NULL, 0, NULL, "nothing to plan: expected a file of spans or one of extras");
      status = SW_USAGE;
    }
  if (sources->spans != NULL && sources->levels != NULL && settings->rails_given)
    {
      sw_report_add (report, SW_FAULT, sources->levels, 0, NULL,
                     "levels come either from this file or from the setting rails, not from both");
      status = SW_USAGE;
    }
  if (sources->stock != NULL && settings->stock_lengths_given)
    {
      sw_report_add (report, SW_FAULT, sources->stock, 0, NULL,
                     "stock lengths come either from this file or from the setting stock-length, not from both");
      status = SW_USAGE;
    }
  if (sources->spans == NULL && sources->levels != NULL)
    sw_report_add (report, SW_NOTE, sources->levels, 0, NULL, "not used, since there are no spans");
  return status;
}

static sw_status
copy_sources (sw_job *job, const sw_sources *sources, const sw_settings *settings)
{
  const char *const names[SW_FILES] = {
    [SW_FILE_SPANS] = sources->spans,       [SW_FILE_LEVELS] = sources->levels, [SW_FILE_STOCK] = sources->stock,
    [SW_FILE_SECTIONS] = sources->sections, [SW_FILE_EXTRAS] = sources->extras, [SW_FILE_YARDS] = sources->yards,
    [SW_FILE_FITTINGS] = sources->fittings, [SW_FILE_SETTINGS] = settings->file,
    [SW_FILE_ON_HAND] = sources->on_hand,   [SW_FILE_IN_PLACE] = sources->in_place
  };
  job->settings = sw_settings_copy (settings);
  if (job->settings == NULL)
    return SW_NO_MEMORY;
  for (int i = 0; i < SW_FILES; i++)
    /* An empty name: not even the file that a folder has. */
    if (names[i] != NULL && names[i][0] != '\0')
      {
        job->files[i] = sw_copy_text (names[i]);
        if (job->files[i] == NULL)
          return SW_NO_MEMORY;
      }
  return SW_OK;
}

static sw_status
copy_bytes (sw_job *job, const sw_bytes *read)
{
  for (int i = 0; i < SW_FILES; i++)
    {
      if (read[i].data == NULL || job->files[i] == NULL)
        continue;
      job->read[i].data = sw_alloc (read[i].count + 1, 1);
      if (job->read[i].data == NULL)
        return SW_NO_MEMORY;
      memcpy (job->read[i].data, read[i].data, read[i].count);
      job->read[i].count = read[i].count;
    }
  return SW_OK;
}

/* Keep copies of the warnings of the settings, and of those of REPORT from number FIRST on. */
static sw_status
keep_warnings (sw_job *job, const sw_report *report, size_t first)
{
  job->warnings = sw_report_new ();
  if (job->warnings == NULL)
    return SW_NO_MEMORY;
  sw_status status = sw_report_copy (job->warnings, job->settings->warnings, 0, SW_WARNING);
  return status == SW_OK ? sw_report_copy (job->warnings, report, first, SW_WARNING) : status;
}

/* READ: bytes that take the place of the files, or NULL. */
static sw_status
read_job (sw_job **out, const sw_sources *sources, const sw_settings *settings, const sw_bytes *read, sw_report *report)
{
  size_t before = sw_report_count (report);
  *out = NULL;
  sw_status status = check_usage (sources, settings, report);
  if (status != SW_OK)
    return sw_report_broken (report) ? SW_NO_MEMORY : status;
  reading reading = { .job = sw_alloc (1, sizeof (sw_job)), .report = report };
  if (reading.job == NULL)
    return SW_NO_MEMORY;
  status = copy_sources (reading.job, sources, settings);
  if (status == SW_OK && read != NULL)
    status = copy_bytes (reading.job, read);
  if (status == SW_OK)
    {
      reading.rejected = sw_settings_check (reading.job->settings, report) != SW_OK;
      reading.bare_told = !settings->inches || sw_settings_note_bare (settings, report);
      status = read_all (&reading);
    }
  if (status == SW_OK && reading.unreadable)
    status = SW_IO;
  else if (status == SW_OK && reading.rejected)
    status = SW_REJECTED;
  if (status == SW_OK)
    status = cross_check (&reading);
  if (status == SW_OK)
    status = sw_job_take_state (reading.job, report);
  /* A lost remark must not make the input look better than it is. */
  if (sw_report_broken (report))
    status = SW_NO_MEMORY;
  if (status == SW_OK)
    status = keep_warnings (reading.job, report, before);
  if (status == SW_OK)
    *out = reading.job;
  else
    sw_job_free (reading.job);
  return status;
}

sw_status
sw_job_read (sw_job **out, const sw_sources *sources, const sw_settings *settings, sw_report *report)
{
  /* The job keeps its warnings even if the caller does not want them. */
  sw_report *own = report == NULL ? sw_report_new () : NULL;
  *out = NULL;
  if (report == NULL && own == NULL)
    return SW_NO_MEMORY;
  sw_status status = read_job (out, sources, settings, NULL, report != NULL ? report : own);
  sw_report_free (own);
  return status;
}

/* JOB's files, as they were named. */
static sw_sources
sources_of (const sw_job *job)
{
  return (sw_sources){ .spans = job->files[SW_FILE_SPANS],       .levels = job->files[SW_FILE_LEVELS],
                       .stock = job->files[SW_FILE_STOCK],       .sections = job->files[SW_FILE_SECTIONS],
                       .extras = job->files[SW_FILE_EXTRAS],     .yards = job->files[SW_FILE_YARDS],
                       .fittings = job->files[SW_FILE_FITTINGS] };
}

sw_status
sw_job_read_again (sw_job **out, const sw_job *job, const char *spans, size_t count, sw_report *report)
{
  sw_bytes read[SW_FILES];
  sw_sources sources = sources_of (job);
  sources.spans = "spans.csv";
  memcpy (read, job->read, sizeof read);
  read[SW_FILE_SPANS] = (sw_bytes){ .data = (char *)(uintptr_t)spans, .count = count };
  return read_job (out, &sources, job->settings, read, report);
}

sw_status
sw_job_read_with (sw_job **out, const sw_job *job, const sw_settings *settings, sw_report *report)
{
  const sw_sources sources = sources_of (job);
  return read_job (out, &sources, settings, job->read, report);
}
