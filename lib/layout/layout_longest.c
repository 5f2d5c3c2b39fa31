/* layout_longest.c - the longest piece that can be sawn out of a section
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout/layout.h"

sw_length
sw_layout_longest (const sw_job *job, size_t section)
{
  sw_length longest = 0;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const sw_stock *stock = &job->stocks.items[s];
      const sw_length usable = sw_stock_usable (stock, job->settings);
      if (stock->section == section && sw_stock_can_be_had (stock) && usable > longest)
        longest = usable;
    }
  return longest;
}
