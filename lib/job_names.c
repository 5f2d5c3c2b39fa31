/* job_names.c - names that differ in letter case or spaces only: one name may be meant
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job_check.h"
#include "memory.h"
#include "text.h"
#include "value.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- Without case and spaces ---- */

/* The small letter of CODE, where it is a capital of Latin (to 17F), Greek or
 * Cyrillic: what one changes by mistake is a letter of an alphabet that one types. */
static uint32_t
small_letter (uint32_t code)
{
  if ((code >= 'A' && code <= 'Z') || (code >= 0xC0 && code <= 0xDE && code != 0xD7) || (code >= 0x391 && code <= 0x3A9)
      || (code >= 0x410 && code <= 0x42F))
    return code + 0x20;
  if (code >= 0x400 && code <= 0x40F)
    return code + 0x50;
  /* In these pairs the capital is the even one, in those the odd one. */
  bool even = (code >= 0x100 && code <= 0x137) || (code >= 0x14A && code <= 0x177);
  bool odd = (code >= 0x139 && code <= 0x148) || (code >= 0x179 && code <= 0x17E);
  return (even && code % 2 == 0) || (odd && code % 2 == 1) ? code + 1 : code;
}

static bool
is_blank (uint32_t code)
{
  return code == ' ' || code == '\t' || code == 0xA0 || code == 0x202F;
}

/* NAME in small letters and without spaces; NULL when memory runs out. */
static char *
fold (const char *name)
{
  sw_text text = { 0 };
  for (size_t left = strlen (name), bytes; left > 0; name += bytes, left -= bytes)
    {
      uint32_t code = 0;
      bytes = sw_text_decode (name, left, &code);
      uint32_t small = bytes > 0 ? small_letter (code) : 0;
      if (bytes > 0 && is_blank (code))
        continue;
      if (bytes == 0 || small == code)
        sw_text_add_bytes (&text, name, bytes > 0 ? bytes : 1);
      else if (small < 0x80)
        sw_text_add_bytes (&text, (const char[]){ (char)small }, 1);
      else
        sw_text_add_bytes (&text, (const char[]){ (char)(0xC0 | small >> 6), (char)(0x80 | (small & 0x3F)) }, 2);
      bytes = bytes > 0 ? bytes : 1;
    }
  return sw_text_take (&text);
}

/* ---- Where a name stands ---- */

/* The file, line and column that name a thing first; line 0: none does. */
typedef struct place
{
  const char *file;
  size_t line;
  const char *column;
} place;

static place
place_of_run (const sw_job *job, size_t index)
{
  return (place){ job->files[SW_FILE_SPANS], job->fence.runs[index].bays[0].line, "run" };
}

static place
place_of_level (const sw_job *job, size_t index)
{
  return (place){ job->files[SW_FILE_LEVELS], job->levels.items[index].line, "level" };
}

/* Files are read in this order. */
static place
place_of_section (const sw_job *job, size_t index)
{
  if (job->sections.items[index].line > 0)
    return (place){ job->files[SW_FILE_SECTIONS], job->sections.items[index].line, "section" };
  for (size_t i = 0; i < job->levels.count; i++)
    {
      const sw_level *level = &job->levels.items[i];
      if (level->section == index)
        return (place){ job->files[SW_FILE_LEVELS], level->line, "section" };
      if (level->blocks > 0 && level->block_section == index)
        return (place){ job->files[SW_FILE_LEVELS], level->line, "block_section" };
    }
  for (size_t i = 0; i < job->extras.count; i++)
    if (job->extras.items[i].section == index)
      return (place){ job->files[SW_FILE_EXTRAS], job->extras.items[i].line, "section" };
  for (size_t i = 0; i < job->stocks.count; i++)
    if (job->stocks.items[i].section == index)
      return (place){ job->files[SW_FILE_STOCK], job->stocks.items[i].line, "section" };
  return (place){ NULL, 0, "section" };
}

/* ---- Names that are alike ---- */

/* A list of names of one kind. */
typedef struct list
{
  const char *what;
  size_t count;
  const char *(*name) (const sw_job *job, size_t index);
  place (*place) (const sw_job *job, size_t index);
} list;

static const char *
name_of_run (const sw_job *job, size_t index)
{
  return job->fence.runs[index].name;
}

static const char *
name_of_level (const sw_job *job, size_t index)
{
  return job->levels.items[index].name;
}

static const char *
name_of_section (const sw_job *job, size_t index)
{
  return job->sections.items[index].name;
}

static void
warn (const sw_job *job, const list *list, size_t first, size_t second, sw_report *report)
{
  char name[SW_SHOWN];
  char other[SW_SHOWN];
  char where[64] = "";
  place here = list->place (job, second);
  place there = list->place (job, first);
  sw_show_text (list->name (job, second), name);
  sw_show_text (list->name (job, first), other);
  /* Rails by default stand in no file: then the remark goes where the other name stands. */
  if (here.line == 0)
    here = there;
  else if (there.line > 0 && there.file == here.file)
    snprintf (where, sizeof where, " on line %zu", there.line);
  sw_report_add (report, SW_WARNING, here.file, here.line, here.column,
                 "\"%s\" is taken for another %s than \"%s\"%s, though only letter case or spaces differ; if one is "
                 "meant, write it the same way",
                 name, list->what, other, where);
}

static sw_status
check_list (const sw_job *job, const list *list, sw_report *report)
{
  sw_names seen = { 0 };
  sw_status status = SW_OK;
  char **folded = sw_alloc (list->count, sizeof *folded);
  if (folded == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < list->count && status == SW_OK; i++)
    {
      size_t first;
      folded[i] = fold (list->name (job, i));
      if (folded[i] == NULL)
        status = SW_NO_MEMORY;
      else if (sw_names_find (&seen, folded[i], &first))
        warn (job, list, first, i, report);
      else
        status = sw_names_add (&seen, folded[i], i);
    }
  sw_names_clear (&seen);
  for (size_t i = 0; i < list->count; i++)
    free (folded[i]);
  free (folded);
  return status;
}

sw_status
sw_job_check_names (const sw_job *job, sw_report *report)
{
  const list lists[] = {
    { "run", job->fence.run_count, name_of_run, place_of_run },
    { "level", job->levels.count, name_of_level, place_of_level },
    { "section", job->sections.count, name_of_section, place_of_section },
  };
  sw_status status = SW_OK;
  for (size_t i = 0; i < sizeof lists / sizeof lists[0] && status == SW_OK; i++)
    status = check_list (job, &lists[i], report);
  return status;
}
