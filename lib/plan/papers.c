/* papers.c - a folder while the files of plans are written to it
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/papers.h"

#include "base/memory.h"

#include <stdlib.h>

sw_status
sw_papers_open (sw_papers **out, const char *dir, sw_report *report)
{
  sw_papers *papers = sw_alloc (1, sizeof *papers);
  *out = NULL;
  if (papers == NULL)
    return SW_NO_MEMORY;
  sw_status status = sw_output_open (&papers->folder, dir, report);
  if (status == SW_OK)
    *out = papers;
  else
    sw_papers_free (papers);
  return status;
}

void
sw_papers_free (sw_papers *papers)
{
  if (papers == NULL)
    return;
  sw_output_free (papers->tables);
  /* FOLDER is freed last, because it holds the lock and removes the folder if it was made here and stayed empty. */
  sw_output_free (papers->folder);
  free (papers);
}
