/* page_write.c - writes the page for a telephone into a plan's folder
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "page/page.h"
#include "plan/papers.h"

/* Say that the page of an older plan was removed with the older tables. */
static void
note_removed (const sw_papers *papers, sw_report *report)
{
  char *path = papers->older_page ? sw_text_path (sw_output_dir (papers->folder), SW_PAPERS_PAGE) : NULL;
  if (path != NULL)
    sw_report_add (report, SW_NOTE, path, 0, NULL, "the older page is removed: it was not of this plan's tables");
  sw_text_free (path);
}

static sw_status
write_page (sw_papers *papers, const sw_plan *plan, sw_report *report)
{
  sw_output *output = NULL;
  sw_text page = { 0 };
  sw_status status = sw_page (plan, &page);
  if (status == SW_OK)
    status = sw_output_open_again (&output, papers->folder, papers->tables, report);
  for (size_t i = 0; i < SW_FILES && status == SW_OK; i++)
    status = sw_output_guard (output, SW_PAPERS_PAGE, plan->job->files[i], report);
  if (status == SW_OK)
    status = sw_output_add (output, SW_PAPERS_PAGE, page.data, page.length, report);
  if (status == SW_OK)
    status = sw_output_commit (output, report);
  sw_output_free (output);
  sw_text_drop (&page);
  return status;
}

sw_status
sw_papers_page (sw_papers *papers, const sw_plan *plan, sw_report *report)
{
  sw_status status = SW_OK;
  const bool fits = plan->piece_count <= SW_PAGE_PIECES;
  if (fits)
    status = write_page (papers, plan, report);
  else
    sw_report_add (report, SW_WARNING, SW_PAPERS_PAGE, 0, NULL,
                   "is not written: a telephone could not show %zu pieces, at most %d; all of them are in the tables",
                   plan->piece_count, SW_PAGE_PIECES);
  if (!fits || status != SW_OK)
    note_removed (papers, report);
  return status;
}
