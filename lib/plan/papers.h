/* papers.h - a folder while the files of plans are written to it
 *
 * The folder stays locked from the first table to the sheet, so that no other
 * run writes between them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PAPERS_H
#define SW_PAPERS_H

#include "csv/output.h"
#include "plan/plan.h"

/* The workbook. */
#define SW_PAPERS_BOOK "plan.xlsx"
/* The page for a telephone. */
#define SW_PAPERS_PAGE "page.html"

struct sw_papers
{
  sw_output *folder; /* holds the lock; no file is written through it */
  sw_output *tables; /* the last plan's tables, and the files that they removed; NULL: none yet */
  bool older_sheet;  /* there was a sheet of another plan, and the tables have removed it */
  bool older_book;   /* there was a workbook of another plan, and the tables have removed it */
  bool older_page;   /* there was a page of another plan, and the tables have removed it */
};

#endif
