/* job_warning.c - the warnings that came while a job was read, for the papers that come later
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/job_warning.h"

#include "base/report.h"

#include <string.h>

size_t
sw_job_warning_count (const sw_job *job)
{
  return sw_report_count (job->warnings);
}

const sw_remark *
sw_job_warning (const sw_job *job, size_t index)
{
  return sw_report_get (job->warnings, index);
}

/* The columns and settings that decide how much timber there is to be. */
static const char *const spans_columns[] = { "run", "bay", "span", "overall", "rise" };
static const char *const levels_columns[] = { "level", "section", "gap", "blocks", "block_length", "block_section" };
static const char *const setting_keys[] = { "kerf", "end-trim", "stock-length", "max-piece", "rails" };

static bool
is_one_of (const char *name, const char *const *names, size_t count)
{
  for (size_t i = 0; i < count; i++)
    if (name != NULL && strcmp (name, names[i]) == 0)
      return true;
  return false;
}

#define IS_ONE_OF(name, names) is_one_of (name, names, sizeof (names) / sizeof (names)[0])

static bool
is_of (const sw_job *job, const sw_remark *warning, sw_job_file file)
{
  return job->files[file] != NULL && sw_report_is_of (job->warnings, warning, job->files[file]);
}

bool
sw_job_warning_is_of_order (const sw_job *job, const sw_remark *warning)
{
  static const sw_job_file whole[] = { SW_FILE_STOCK, SW_FILE_SECTIONS, SW_FILE_EXTRAS, SW_FILE_YARDS, SW_FILE_FITTINGS };
  for (size_t i = 0; i < sizeof whole / sizeof whole[0]; i++)
    if (is_of (job, warning, whole[i]))
      return true;
  if (is_of (job, warning, SW_FILE_SPANS))
    return IS_ONE_OF (warning->column, spans_columns);
  if (is_of (job, warning, SW_FILE_LEVELS))
    return IS_ONE_OF (warning->column, levels_columns);
  /* The other warnings concern settings, in whatever file these stand. */
  return IS_ONE_OF (warning->column, setting_keys);
}

void
sw_job_warning_add (sw_text *out, const sw_remark *warning)
{
  if (warning->file != NULL)
    {
      const char *slash = strrchr (warning->file, '/');
      sw_text_add (out, slash != NULL ? slash + 1 : warning->file);
      if (warning->line > 0)
        sw_text_printf (out, ":%zu", warning->line);
      sw_text_add (out, ": ");
    }
  if (warning->column != NULL)
    sw_text_printf (out, "%s%s: ", warning->file == NULL ? "--" : "", warning->column);
  sw_text_add (out, warning->message);
}
