/* layout_longest.c - the longest piece that can be sawn out of a section
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout/layout.h"

sw_length
sw_layout_longest (const sw_job *job, size_t section)
{
  const sw_length usable = sw_stocks_longest (&job->stocks, section) - 2 * job->settings->end_trim;
  return usable > 0 ? usable : 0;
}
