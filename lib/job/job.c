/* job.c - a job as a whole: its end, its variants, and whether length is its cost
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/job.h"

#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

void
sw_job_free (sw_job *job)
{
  if (job == NULL)
    return;
  sw_fence_clear (&job->fence);
  sw_levels_clear (&job->levels);
  sw_sections_clear (&job->sections);
  sw_stocks_clear (&job->stocks);
  sw_extras_clear (&job->extras);
  sw_settings_free (job->settings);
  sw_report_free (job->warnings);
  for (int i = 0; i < SW_FILES; i++)
    {
      free (job->files[i]);
      free (job->read[i].data);
    }
  free (job);
}

bool
sw_job_by_length (const sw_job *job)
{
  return !job->priced || job->all_free;
}

sw_status
sw_job_variant (sw_job *out, const sw_job *job)
{
  *out = *job;
  out->stocks = (sw_stocks){ .capacity = job->stocks.count, .count = job->stocks.count };
  out->stocks.items = sw_alloc (job->stocks.count, sizeof *out->stocks.items);
  out->settings = sw_settings_copy (job->settings);
  if (out->stocks.items == NULL || out->settings == NULL)
    return SW_NO_MEMORY;
  if (job->stocks.count > 0)
    memcpy (out->stocks.items, job->stocks.items, job->stocks.count * sizeof *out->stocks.items);
  return SW_OK;
}

void
sw_job_variant_clear (sw_job *variant)
{
  sw_stocks_clear (&variant->stocks);
  sw_settings_free (variant->settings);
  *variant = (sw_job){ .settings = NULL };
}
