/* job_names.c - warns of names that differ in letter case or spaces only, because one name may be meant
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/job_check.h"
#include "base/memory.h"
#include "base/text.h"
#include "csv/value.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- Where a name stands ---- */

/* The file, line and column where a name stands first.  Line 0: it stands in no file. */
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

/* The files are searched in the order in which they are read. */
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
  /* The names of default rails stand in no file, so that the remark goes to the place of the other name. */
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
  sw_name_index seen = { 0 };
  sw_status status = SW_OK;
  char **folded = sw_alloc (list->count, sizeof *folded);
  if (folded == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < list->count && status == SW_OK; i++)
    {
      size_t first;
      folded[i] = sw_name_fold (list->name (job, i));
      if (folded[i] == NULL)
        status = SW_NO_MEMORY;
      else if (sw_name_index_find (&seen, folded[i], &first))
        warn (job, list, first, i, report);
      else
        status = sw_name_index_add (&seen, folded[i], i);
    }
  sw_name_index_clear (&seen);
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
