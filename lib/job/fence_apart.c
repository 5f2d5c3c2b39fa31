/* fence_apart.c - finds the misspelt run name where the rows of one run do not stand together
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/fence_apart.h"

#include "base/name_index.h"

#include <stdlib.h>
#include <string.h>

/* At most this many runs are compared, so that a file made of such runs takes time in proportion to its length. */
#define MOST_RUNS 64

/* The first of the runs that stand before the last one and have its name but for letter case and spaces. */
static sw_status
find_first (const sw_fence *fence, size_t *first)
{
  size_t last = fence->run_count - 1;
  char *folded = sw_name_fold (fence->runs[last].name);
  bool same = folded != NULL;
  sw_status status = same ? SW_OK : SW_NO_MEMORY;
  *first = last;
  while (same && *first > 0 && last - *first < MOST_RUNS)
    {
      char *other = sw_name_fold (fence->runs[*first - 1].name);
      if (other == NULL)
        status = SW_NO_MEMORY;
      same = other != NULL && strcmp (other, folded) == 0;
      *first -= same ? 1 : 0;
      free (other);
    }
  free (folded);
  return status;
}

/* The spelling that most rows of the runs from FIRST on have.  Of several such spellings it is the first. */
static const char *
usual_spelling (const sw_fence *fence, size_t first)
{
  const char *usual = NULL;
  size_t most = 0;
  for (size_t run = first; run < fence->run_count; run++)
    {
      size_t rows = 0;
      for (size_t other = first; other < fence->run_count; other++)
        if (strcmp (fence->runs[other].name, fence->runs[run].name) == 0)
          rows += fence->runs[other].bay_count;
      if (rows > most)
        {
          most = rows;
          usual = fence->runs[run].name;
        }
    }
  return usual;
}

static void
blame (const sw_run *run, const char *usual, sw_fields *fields, size_t column)
{
  char name[SW_SHOWN];
  char other[SW_SHOWN];
  sw_show_text (run->name, name);
  sw_show_text (usual, other);
  sw_field_fault (fields, column,
                  "expected \"%s\", as the rows around it have it, found \"%s\": the rows of one run must stand "
                  "together, and letter case and spaces make another name",
                  other, name);
}

sw_status
sw_fence_blame_apart (const sw_fence *fence, sw_fields *fields, size_t column, size_t *blamed, bool *told)
{
  size_t last = fence->run_count - 1;
  size_t first;
  size_t earlier = last;
  *told = false;
  sw_status status = find_first (fence, &first);
  if (status != SW_OK)
    return status;
  while (earlier > first && !*told)
    *told = strcmp (fence->runs[--earlier].name, fence->runs[last].name) == 0;
  if (!*told)
    return SW_OK;
  const char *usual = usual_spelling (fence, first);
  size_t here = fields->row;
  for (size_t run = earlier; run < last; run++)
    fields->row -= fence->runs[run].bay_count;
  for (size_t run = earlier; run <= last; run++)
    {
      if (strcmp (fence->runs[run].name, usual) != 0 && sw_field_line (fields) > *blamed)
        {
          blame (&fence->runs[run], usual, fields, column);
          *blamed = sw_field_line (fields);
        }
      fields->row += fence->runs[run].bay_count;
    }
  fields->row = here;
  return SW_OK;
}
