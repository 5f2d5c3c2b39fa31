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
  sw_yards_clear (&job->yards);
  sw_fittings_clear (&job->fittings);
  sw_on_hand_clear (&job->on_hand);
  sw_in_place_clear (&job->in_place);
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

sw_length
sw_job_trim (const sw_job *job, size_t section)
{
  const sw_section *of = &job->sections.items[section];
  return of->own_trim ? of->end_trim : job->settings->end_trim;
}

sw_length
sw_job_board_trim (const sw_job *job, const sw_stock *stock)
{
  return stock->sawn ? 0 : sw_job_trim (job, stock->section);
}

sw_length
sw_job_usable (const sw_job *job, const sw_stock *stock)
{
  const sw_length usable = stock->length - 2 * sw_job_board_trim (job, stock);
  return usable > 0 ? usable : 0;
}

int64_t
sw_job_cost_of (const sw_job *job, const sw_stock *stock, int64_t count)
{
  return sw_job_by_length (job) ? stock->length : sw_stock_price (&job->stocks, stock, count);
}

bool
sw_job_buy (const sw_job *job, const sw_stock *stock, int64_t least, bool limited, int64_t *count, int64_t *cost)
{
  bool found = least == 0;
  *count = 0;
  *cost = 0;
  for (size_t i = 0; least > 0 && (i == 0 || i < stock->price_count); i++)
    {
      int64_t all = i == 0 ? stock->from : job->stocks.prices[stock->price_first + i].from;
      int64_t sum;
      all = all > least ? all : least;
      if (!sw_length_add (all, stock->pack - 1, &all))
        continue;
      all -= all % stock->pack;
      if ((limited && stock->limit >= 0 && all > stock->limit)
          || !sw_length_mul (sw_job_cost_of (job, stock, all), all, &sum))
        continue;
      if (!found || sum < *cost || (sum == *cost && all < *count))
        {
          *count = all;
          *cost = sum;
        }
      found = true;
    }
  return found;
}

sw_status
sw_job_variant (sw_job *out, const sw_job *job)
{
  *out = *job;
  sw_status status = sw_stocks_copy (&out->stocks, &job->stocks);
  out->settings = sw_settings_copy (job->settings);
  return out->settings == NULL ? SW_NO_MEMORY : status;
}

void
sw_job_variant_clear (sw_job *variant)
{
  sw_stocks_clear (&variant->stocks);
  sw_settings_free (variant->settings);
  *variant = (sw_job){ .settings = NULL };
}

sw_status
sw_job_take_state (sw_job *job, sw_report *report)
{
  sw_status status = sw_on_hand_apply (&job->on_hand, &job->stocks, job->priced);
  if (status == SW_OK)
    status = sw_in_place_resolve (&job->in_place, &job->fence, &job->levels, &job->extras,
                                  job->files[SW_FILE_IN_PLACE], report);
  return status;
}
