/* plan_write.c - a plan's files
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan.h"

#include "output.h"
#include "table.h"

#include <string.h>

typedef struct plan_file
{
  const char *name;
  bool table;
  sw_table_kind kind;
} plan_file;

static const plan_file plan_files[] = { { "order.csv", true, SW_TABLE_ORDER },
                                        { "cuts.csv", true, SW_TABLE_CUTS },
                                        { "fit.csv", true, SW_TABLE_FIT },
                                        { "setout.csv", true, SW_TABLE_SETOUT },
                                        { "order.txt", false, SW_TABLE_ORDER } };

static sw_status
make_bytes (const sw_plan *plan, const plan_file *file, char **bytes)
{
  sw_table *table = NULL;
  if (!file->table)
    return sw_plan_text (plan, SW_TEXT_MESSAGE, 0, bytes);
  sw_status status = sw_plan_table (plan, file->kind, &table);
  if (status == SW_OK)
    status = sw_table_csv (table, bytes);
  sw_table_free (table);
  return status;
}

sw_status
sw_plan_write (const sw_plan *plan, const char *dir, sw_report *report)
{
  const size_t files = sizeof plan_files / sizeof *plan_files;
  sw_output *output = NULL;
  sw_status status = sw_output_open (&output, dir, report);
  for (size_t f = 0; f < files && status == SW_OK; f++)
    {
      char *bytes = NULL;
      for (size_t i = 0; i < sizeof plan->job->files / sizeof *plan->job->files && status == SW_OK; i++)
        status = sw_output_guard (output, plan_files[f].name, plan->job->files[i], report);
      if (status == SW_OK)
        status = make_bytes (plan, &plan_files[f], &bytes);
      if (status == SW_OK)
        status = sw_output_add (output, plan_files[f].name, bytes, strlen (bytes), report);
      sw_text_free (bytes);
    }
  if (status == SW_OK)
    status = sw_output_commit (output, report);
  sw_output_free (output);
  return status;
}
