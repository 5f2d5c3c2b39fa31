/* level_check.c - compares levels with each other, once their heights and sections are known
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/level.h"
#include "csv/value.h"

#include <stdio.h>

sw_length
sw_level_tall (const sw_level *level, const sw_sections *sections)
{
  const sw_section *section = &sections->items[level->section];
  return level->through && level->seat == SW_SEAT_TOP ? section->thickness : section->width;
}

/* Does any run have both levels? */
static bool
meet (const sw_level *a, const sw_level *b, size_t runs)
{
  for (size_t r = 0; r < runs; r++)
    if (sw_level_is_on (a, r) && sw_level_is_on (b, r))
      return true;
  return false;
}

/* Does the timber of LOW reach above the underside of HIGH, which comes later?  Levels in the wrong
 * order are reported elsewhere. */
static bool
overlap (const sw_level *low, const sw_level *high, const sw_sections *sections)
{
  return low->has_height && high->has_height && low->height < high->height
         && low->height + sw_level_tall (low, sections) > high->height;
}

static void
warn (const sw_level *low, const sw_level *high, size_t more, const sw_sections *sections, const sw_settings *settings,
      const char *file, sw_report *report)
{
  char name[SW_SHOWN];
  char below[SW_SHOWN];
  char height[SW_SHOWN];
  char bottom[SW_SHOWN];
  char top[SW_SHOWN];
  char others[64] = "";
  sw_show_text (high->name, name);
  sw_show_text (low->name, below);
  sw_show_length (low->height, settings->inches, bottom);
  sw_show_lengths (high->height, low->height + sw_level_tall (low, sections), settings->inches, height, top);
  if (more > 0)
    snprintf (others, sizeof others, "; %zu more %s", more, more == 1 ? "pair overlaps" : "pairs overlap");
  sw_report_add (report, SW_WARNING, file, high->line, file != NULL ? "height" : "picket",
                 "\"%s\", whose underside is taken to be at %s, stands in the timber of \"%s\", which goes from %s up "
                 "to %s%s",
                 name, height, below, bottom, top, others);
}

void
sw_levels_check (const sw_levels *levels, const sw_sections *sections, size_t runs, const sw_settings *settings,
                 const char *file, sw_report *report)
{
  const sw_level *low = NULL;
  const sw_level *high = NULL;
  size_t count = 0;
  for (size_t h = 1; h < levels->count; h++)
    for (size_t l = 0; l < h; l++)
      if (overlap (&levels->items[l], &levels->items[h], sections) && meet (&levels->items[l], &levels->items[h], runs)
          && count++ == 0)
        {
          low = &levels->items[l];
          high = &levels->items[h];
        }
  if (count > 0)
    warn (low, high, count - 1, sections, settings, file, report);
}
