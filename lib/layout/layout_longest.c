/* layout_longest.c - the longest piece that can be sawn out of a section
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout/layout.h"

sw_length
sw_layout_longest (const sw_job *job, size_t section)
{
  sw_length longest = 0;
  for (size_t i = 0; i < job->stocks.count; i++)
    {
      const sw_stock *stock = &job->stocks.items[i];
      if (stock->section == section && sw_stock_can_be_had (stock) && sw_job_usable (job, stock) > longest)
        longest = sw_job_usable (job, stock);
    }
  return longest;
}
