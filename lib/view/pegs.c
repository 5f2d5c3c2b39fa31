/* pegs.c - where posts go, as a table
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/pegs.h"

#include "csv/table.h"
#include "job/divided.h"
#include "view/figures.h"

sw_length
sw_peg_distance (const sw_job *job, const sw_run *run, size_t post)
{
  const sw_length step = job->settings->inches ? SW_INCH / 16 : SW_MM;
  return (sw_run_distance (run, post) + step / 2) / step * step;
}

sw_status
sw_posts_table (const sw_posts *posts, sw_table **out)
{
  static const char *const header[] = { "run", "post", "distance_mm" };
  const sw_job *job = posts->chosen.best.job;
  sw_table *table = NULL;
  sw_status status = sw_view_table (&table, job, header, sizeof header / sizeof *header);
  *out = NULL;
  for (size_t r = 0; r < job->fence.run_count && status == SW_OK; r++)
    for (size_t post = 0; post <= job->fence.runs[r].bay_count && status == SW_OK; post++)
      {
        status = sw_table_add_row (table);
        sw_view_set_text (&status, table, 0, job->fence.runs[r].name);
        sw_view_set_count (&status, table, 1, (int64_t)post + 1);
        sw_view_set_length (&status, table, 2, job, sw_peg_distance (job, &job->fence.runs[r], post));
      }
  if (status == SW_OK)
    *out = table;
  else
    sw_table_free (table);
  return status;
}

sw_status
sw_posts_spans (const sw_posts *posts, char **out)
{
  return sw_divided_spans (out, posts->job, posts->divisions, posts->count, posts->chosen.best.ways);
}
