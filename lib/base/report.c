/* report.c - collects what is wrong with an input, and where
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/report.h"

#include "base/memory.h"
#include "base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A quoted cell may be 64 KiB long.  A text longer than this is shown by its head and its tail,
 * because what was expected stands at the end. */
#define SHOWN_BYTES 480
#define SHOWN_HEAD 260
#define SHOWN_TAIL 200

#define MORE_BYTES 64

typedef struct file_entry
{
  char *name;    /* as given; NULL: no file */
  char *shown;   /* escaped */
  size_t faults; /* kept or not */
  char *more;    /* message of the remark "and N more", which owns it; NULL: there is none */
} file_entry;

struct sw_report
{
  size_t count;
  size_t capacity;
  sw_remark *remarks;
  size_t file_count;
  size_t file_capacity;
  file_entry *files;
  size_t of_severity[SW_FAULT + 1];
  size_t lost; /* faults of files for which memory ran out */
  bool broken;
};

sw_report *
sw_report_new (void)
{
  return sw_alloc (1, sizeof (sw_report));
}

void
sw_report_clear (sw_report *report)
{
  if (report == NULL)
    return;
  for (size_t i = 0; i < report->count; i++)
    {
      free ((void *)report->remarks[i].column);
      free ((void *)report->remarks[i].message);
    }
  for (size_t i = 0; i < report->file_count; i++)
    {
      free (report->files[i].name);
      free (report->files[i].shown);
    }
  free (report->remarks);
  free (report->files);
  memset (report, 0, sizeof *report);
}

void
sw_report_free (sw_report *report)
{
  sw_report_clear (report);
  free (report);
}

size_t
sw_report_count (const sw_report *report)
{
  return report != NULL ? report->count : 0;
}

size_t
sw_report_count_of (const sw_report *report, sw_severity severity)
{
  return report != NULL && severity >= SW_NOTE && severity <= SW_FAULT ? report->of_severity[severity] : 0;
}

const sw_remark *
sw_report_get (const sw_report *report, size_t index)
{
  return report != NULL && index < report->count ? &report->remarks[index] : NULL;
}

bool
sw_report_broken (const sw_report *report)
{
  return report != NULL && report->broken;
}

static file_entry *
find_file (const sw_report *report, const char *file)
{
  /* A job has only a handful of files. */
  for (size_t i = 0; i < report->file_count; i++)
    {
      const char *name = report->files[i].name;
      if (name == file || (name != NULL && file != NULL && strcmp (name, file) == 0))
        return &report->files[i];
    }
  return NULL;
}

size_t
sw_report_faults_of (const sw_report *report, const char *file)
{
  if (report == NULL)
    return 0;
  const file_entry *entry = find_file (report, file);
  return report->lost + (entry != NULL ? entry->faults : 0);
}

/* STRING escaped and, where it is over-long, without its middle.  NULL when memory runs out. */
static char *
shown_text (const char *string)
{
  size_t bytes = strlen (string);
  sw_text text = { 0 };
  if (bytes <= SHOWN_BYTES)
    sw_text_add_shown (&text, string, bytes);
  else
    {
      size_t head = SHOWN_HEAD;
      size_t tail = bytes - SHOWN_TAIL;
      /* No UTF-8 character may be cut in its middle. */
      while (head > SHOWN_HEAD - 4 && ((unsigned char)string[head] & 0xC0) == 0x80)
        head--;
      while (tail < bytes - SHOWN_TAIL + 4 && ((unsigned char)string[tail] & 0xC0) == 0x80)
        tail++;
      sw_text_add_shown (&text, string, head);
      sw_text_add (&text, " [...] ");
      sw_text_add_shown (&text, string + tail, bytes - tail);
    }
  return sw_text_take (&text);
}

/* The entry of FILE, which is made where there is none.  NULL when memory runs out. */
static file_entry *
intern_file (sw_report *report, const char *file)
{
  file_entry *entry = find_file (report, file);
  if (entry != NULL)
    return entry;
  void *files = report->files;
  sw_status status = sw_grow (&files, &report->file_capacity, report->file_count + 1, sizeof (file_entry));
  report->files = files;
  if (status != SW_OK)
    return NULL;
  entry = &report->files[report->file_count];
  *entry = (file_entry){ 0 };
  if (file != NULL)
    {
      entry->name = sw_copy_text (file);
      sw_text shown = { 0 };
      sw_text_add_shown (&shown, file, strlen (file));
      entry->shown = sw_text_take (&shown);
      if (entry->name == NULL || entry->shown == NULL)
        {
          free (entry->name);
          free (entry->shown);
          return NULL;
        }
    }
  report->file_count++;
  return entry;
}

/* Keep REMARK.  Its column and message belong to the report from now on, even on failure. */
static bool
keep (sw_report *report, const sw_remark *remark)
{
  void *remarks = report->remarks;
  sw_status status = sw_grow (&remarks, &report->capacity, report->count + 1, sizeof (sw_remark));
  report->remarks = remarks;
  if (status != SW_OK)
    {
      free ((void *)remark->column);
      free ((void *)remark->message);
      report->broken = true;
      return false;
    }
  report->remarks[report->count++] = *remark;
  report->of_severity[remark->severity]++;
  return true;
}

/* A single remark of each file says how many faults were not kept. */
static void
count_more (sw_report *report, file_entry *entry)
{
  if (entry->more == NULL)
    {
      char *more = sw_alloc (MORE_BYTES, 1);
      if (more == NULL)
        {
          report->broken = true;
          return;
        }
      sw_remark remark = { SW_NOTE, entry->shown, 0, NULL, more };
      if (!keep (report, &remark))
        return;
      entry->more = more;
    }
  size_t more = entry->faults - SW_REPORT_FILE_FAULTS;
  snprintf (entry->more, MORE_BYTES, "and %zu more %s", more, more == 1 ? "fault" : "faults");
}

void
sw_report_add (sw_report *report, sw_severity severity, const char *file, size_t line, const char *column,
               const char *format, ...)
{
  if (report == NULL)
    return;
  file_entry *entry = intern_file (report, file);
  if (entry == NULL)
    {
      report->broken = true;
      report->lost += severity == SW_FAULT ? 1 : 0;
      return;
    }
  if (severity == SW_FAULT && ++entry->faults > SW_REPORT_FILE_FAULTS)
    {
      count_more (report, entry);
      return;
    }
  sw_text raw = { 0 };
  va_list arguments;
  va_start (arguments, format);
  sw_text_vprintf (&raw, format, arguments);
  va_end (arguments);
  char *message = sw_text_take (&raw);
  sw_remark remark = { severity, entry->shown, line, NULL, NULL };
  if (message != NULL)
    remark.message = shown_text (message);
  free (message);
  if (column != NULL)
    remark.column = shown_text (column);
  if (remark.message == NULL || (column != NULL && remark.column == NULL))
    {
      free ((void *)remark.message);
      free ((void *)remark.column);
      report->broken = true;
      return;
    }
  keep (report, &remark);
}

/* Copy REMARK as it is: the text of a report is escaped and shortened already. */
static sw_status
copy_remark (sw_report *report, const sw_report *from, const sw_remark *remark)
{
  const char *name = NULL;
  for (size_t i = 0; i < from->file_count; i++)
    if (sw_report_is_of (from, remark, from->files[i].name))
      name = from->files[i].name;
  file_entry *entry = intern_file (report, name);
  if (entry == NULL)
    return SW_NO_MEMORY;
  sw_remark copy = { remark->severity, entry->shown, remark->line, NULL, sw_copy_text (remark->message) };
  if (remark->column != NULL)
    copy.column = sw_copy_text (remark->column);
  if (copy.message == NULL || (remark->column != NULL && copy.column == NULL))
    {
      free ((void *)copy.message);
      free ((void *)copy.column);
      return SW_NO_MEMORY;
    }
  return keep (report, &copy) ? SW_OK : SW_NO_MEMORY;
}

sw_status
sw_report_copy (sw_report *report, const sw_report *from, size_t first, sw_severity severity)
{
  sw_status status = SW_OK;
  for (size_t i = first; i < sw_report_count (from) && status == SW_OK; i++)
    if (from->remarks[i].severity == severity)
      status = copy_remark (report, from, &from->remarks[i]);
  return status;
}

bool
sw_report_is_of (const sw_report *report, const sw_remark *remark, const char *file)
{
  if (file == NULL || remark->file == NULL)
    return file == NULL && remark->file == NULL;
  const file_entry *entry = find_file (report, file);
  return entry != NULL && entry->shown == remark->file;
}
