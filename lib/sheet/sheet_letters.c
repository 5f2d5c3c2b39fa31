/* sheet_letters.c - names for which no font here has the letters
 *
 * A missing letter is drawn as a box with its number, so whoever prints the
 * sheet is told before it is carried to the site.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "sheet/sheet.h"

/* What has been found. */
typedef struct missing
{
  sw_sheet *sheet;
  size_t count;
  sw_text first; /* "run X": the first name with missing letters */
} missing;

static void
look_at (missing *m, const char *what, const char *name)
{
  if (name == NULL || sw_sheet_has_letters (m->sheet, name))
    return;
  m->count++;
  if (m->count > 1)
    return;
  sw_text_printf (&m->first, "%s ", what);
  sw_view_name (&m->first, name);
}

void
sw_sheet_check_letters (sw_sheet *sheet)
{
  const sw_job *job = sheet->job;
  missing m = { .sheet = sheet };
  look_at (&m, "job", job->settings->job);
  for (size_t r = 0; r < job->fence.run_count; r++)
    look_at (&m, "run", job->fence.runs[r].name);
  for (size_t l = 0; l < job->levels.count; l++)
    look_at (&m, "level", job->levels.items[l].name);
  for (size_t s = 0; s < job->sections.count; s++)
    {
      look_at (&m, "section", job->sections.items[s].name);
      look_at (&m, "section", job->sections.items[s].description);
    }
  for (size_t e = 0; e < job->extras.count; e++)
    look_at (&m, "extra", job->extras.items[e].label);
  if (m.first.failed)
    sw_sheet_fail (sheet, SW_NO_MEMORY);
  else if (m.count == 1)
    sw_report_add (sheet->report, SW_WARNING, NULL, 0, NULL,
                   "the sheet shows boxes for letters of %s: no font that is installed has them (Debian: fonts-noto)",
                   m.first.data);
  else if (m.count > 1)
    sw_report_add (
        sheet->report, SW_WARNING, NULL, 0, NULL,
        "the sheet shows boxes for letters of %s and of %zu other name%s: no font that is installed has them "
        "(Debian: fonts-noto)",
        m.first.data, m.count - 1, m.count > 2 ? "s" : "");
  sw_text_drop (&m.first);
}
