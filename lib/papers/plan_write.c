/* plan_write.c - writes a plan's files
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/plan.h"

#include "job/folder_keep.h"
#include "job/folder_keep.h"
#include "plan/papers.h"
#include "plan/posts.h"
#include "csv/table.h"
#include "csv/table.h"

#include <stdio.h>
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

/* Refuse to replace a file that JOB was read from. */
static sw_status
guard (sw_output *output, const char *name, const sw_job *job, sw_report *report)
{
  sw_status status = SW_OK;
  for (size_t i = 0; i < SW_FILES && status == SW_OK; i++)
    status = sw_output_guard (output, name, job->files[i], report);
  return status;
}

static sw_status
add_file (sw_output *output, const sw_plan *plan, const sw_job *job, const plan_file *file, sw_report *report)
{
  char *bytes = NULL;
  sw_status status = guard (output, file->name, job, report);
  if (status == SW_OK)
    status = make_bytes (plan, file, &bytes);
  if (status == SW_OK)
    status = sw_output_add (output, file->name, bytes, strlen (bytes), report);
  sw_text_free (bytes);
  return status;
}

/* Add the finished spans.csv, and where to peg each post. */
static sw_status
add_posts (sw_output *output, const sw_posts *posts, sw_report *report)
{
  char *bytes = NULL;
  sw_table *table = NULL;
  sw_status status = guard (output, "spans.csv", posts->job, report);
  if (status == SW_OK)
    status = sw_posts_spans (posts, &bytes);
  if (status == SW_OK)
    status = sw_output_add (output, "spans.csv", bytes, strlen (bytes), report);
  sw_text_free (bytes);
  bytes = NULL;
  if (status == SW_OK)
    status = guard (output, "pegs.csv", posts->job, report);
  if (status == SW_OK)
    status = sw_posts_table (posts, &table);
  if (status == SW_OK)
    status = sw_table_csv (table, &bytes);
  if (status == SW_OK)
    status = sw_output_add (output, "pegs.csv", bytes, strlen (bytes), report);
  sw_text_free (bytes);
  sw_table_free (table);
  return status;
}

static sw_status
remove_file (const sw_papers *papers, const sw_job *job, const char *name, bool *older, sw_report *report)
{
  sw_status status = guard (papers->tables, name, job, report);
  bool there = sw_output_has (papers->tables, name);
  if (status == SW_OK && there)
    status = sw_output_remove (papers->tables, name);
  *older = *older || there;
  return status;
}

/* Remove an older workbook, sheet and page with the first new table.  If the new ones are never made, for
 * whatever reason, the tables do not lie beside those of another plan. */
static sw_status
remove_older (sw_papers *papers, const sw_job *job, sw_report *report)
{
  char name[64] = "sheet.pdf";
  sw_status status = remove_file (papers, job, SW_PAPERS_PAGE, &papers->older_page, report);
  if (status == SW_OK)
    status = remove_file (papers, job, SW_PAPERS_BOOK, &papers->older_book, report);
  for (size_t page = 0; status == SW_OK && (page <= 1 || sw_output_has (papers->tables, name)); page++)
    {
      status = remove_file (papers, job, name, &papers->older_sheet, report);
      snprintf (name, sizeof name, "sheet-%zu.svg", page + 1);
    }
  return status;
}

/* Write PLAN's files, and those of POSTS (NULL: none), which were made out of JOB's. */
static sw_status
write_all (sw_papers *papers, const sw_plan *plan, const sw_posts *posts, const sw_job *job, sw_report *report)
{
  sw_output *kept = NULL;
  sw_output_free (papers->tables);
  papers->tables = NULL;
  sw_status status = sw_output_open_again (&papers->tables, papers->folder, NULL, report);
  if (status == SW_OK)
    status = remove_older (papers, job, report);
  for (size_t f = 0; f < sizeof plan_files / sizeof *plan_files && status == SW_OK; f++)
    status = add_file (papers->tables, plan, job, &plan_files[f], report);
  if (status == SW_OK && posts != NULL)
    status = add_posts (papers->tables, posts, report);
  if (status == SW_OK)
    status = sw_folder_keep (&kept, papers->tables, plan->job, report);
  /* Change neither folder before both can be changed. */
  if (status == SW_OK)
    status = sw_output_ready (papers->tables, report);
  if (status == SW_OK)
    status = sw_output_commit (kept, report);
  if (status == SW_OK)
    status = sw_output_commit (papers->tables, report);
  sw_output_free (kept);
  return status;
}

sw_status
sw_papers_plan (sw_papers *papers, const sw_plan *plan, sw_report *report)
{
  return write_all (papers, plan, NULL, plan->job, report);
}

sw_status
sw_papers_posts (sw_papers *papers, const sw_posts *posts, sw_report *report)
{
  return write_all (papers, posts->chosen.best.plan, posts, posts->job, report);
}

sw_status
sw_plan_write (const sw_plan *plan, const char *dir, sw_report *report)
{
  sw_papers *papers;
  sw_status status = sw_papers_open (&papers, dir, report);
  if (status == SW_OK)
    status = sw_papers_plan (papers, plan, report);
  sw_papers_free (papers);
  return status;
}

sw_status
sw_sheet_write (const sw_plan *plan, const char *dir, bool svg, sw_report *report)
{
  sw_papers *papers;
  sw_status status = sw_papers_open (&papers, dir, report);
  if (status == SW_OK)
    status = sw_papers_sheet (papers, plan, svg, NULL, NULL, report);
  sw_papers_free (papers);
  return status;
}
