/* papers.h - a folder while the files of plans are written to it
 *
 * The folder stays locked from the first table to the sheet, so that no other
 * run writes between them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PAPERS_H
#define SW_PAPERS_H

#include "csv/output.h"
#include "plan/plan.h"

/* The page for a telephone. */
#define SW_PAPERS_PAGE "page.html"

struct sw_papers
{
  sw_output *folder; /* has the lock; no file is written through it */
  sw_output *tables; /* of the plan that was written last, and what it removed; NULL: none yet */
  bool older_sheet;  /* there was one, and the tables have taken it away */
  bool older_page;   /* the same */
};

#endif
