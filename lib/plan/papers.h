/* papers.h - a folder while a plan's files are written to it
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PAPERS_H
#define SW_PAPERS_H

#include "csv/output.h"
#include "plan/plan.h"

struct sw_papers
{
  sw_output *folder; /* has the lock; no file is written through it */
  sw_output *tables; /* of the plan that was written last, and what it removed; NULL: none yet */
  bool older_sheet;  /* there was one, and the tables have taken it away */
  bool older_book;   /* the same of the workbook */
};

#endif
