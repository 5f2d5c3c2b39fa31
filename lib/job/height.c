/* height.c - heights of rails by the picket they carry
 *
 * The rule for levels without a written height (common practice, as in
 * picket contractors' guides): the outer rails stand 150 mm in from the ends
 * of the picket and the others are spread evenly between them, so that a
 * third is halfway.  The datum is the picket's bottom end.
 *
 * What this file decides beyond that:
 * - Only through levels are rails of the picket, and of them only those
 *   whose written height, if there is one, lies on the picket: a capping on
 *   top of it is none, nor is one that lies on top of the posts.
 * - A written height is never changed; levels between two heights are
 *   spread between those two, their centre lines evenly apart.
 * - One rail alone stands halfway up the picket.
 * - A section whose width is not known counts as 0 wide, with a note.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/level.h"
#include "base/memory.h"
#include "csv/value.h"

#include <stdlib.h>

#define SET_IN (150 * SW_MM)
#define APART (1000 * SW_MM) /* two outer rails further apart need a third */

/* The rails of the picket, bottom to top. */
typedef struct rails
{
  size_t count;
  sw_level **items;
  const sw_sections *sections;
} rails;

static sw_length
width_of (const rails *rails, size_t rail)
{
  return rails->sections->items[rails->items[rail]->section].width;
}

static sw_length
centre_of (const rails *rails, size_t rail)
{
  return rails->items[rail]->height + width_of (rails, rail) / 2;
}

static void
set_height (const rails *rails, size_t rail, sw_length height)
{
  rails->items[rail]->has_height = true;
  rails->items[rail]->height = height;
}

/* Give heights to the rails between LOW and HIGH, which have theirs. */
static void
spread (const rails *rails, size_t low, size_t high)
{
  sw_length bottom = centre_of (rails, low);
  sw_length space = centre_of (rails, high) - bottom;
  sw_length parts = (sw_length)(high - low);
  for (size_t rail = low + 1; rail < high; rail++)
    set_height (rails, rail, bottom + space * (sw_length)(rail - low) / parts - width_of (rails, rail) / 2);
}

static void
place (const rails *rails, sw_length picket)
{
  size_t last = rails->count - 1;
  if (!rails->items[0]->has_height)
    set_height (rails, 0, last == 0 ? (picket - width_of (rails, 0)) / 2 : SET_IN);
  if (!rails->items[last]->has_height)
    set_height (rails, last, picket - SET_IN - width_of (rails, last));
  size_t low = 0;
  for (size_t rail = 1; rail <= last; rail++)
    if (rails->items[rail]->has_height)
      {
        spread (rails, low, rail);
        low = rail;
      }
}

/* Give one note for all rails whose width is not known. */
static void
note_widths (const rails *rails, const char *file, sw_report *report)
{
  for (size_t rail = 0; rail < rails->count; rail++)
    if (!rails->items[rail]->has_height && width_of (rails, rail) == 0)
      {
        char name[SW_SHOWN];
        sw_show_text (rails->sections->items[rails->items[rail]->section].name, name);
        sw_report_add (
            report, SW_NOTE, file, rails->items[rail]->line, file != NULL ? "height" : "picket",
            "the width of section \"%s\" is not known, so its rails' heights are worked out as if it were 0; "
            "write the width in the sections file",
            name);
        return;
      }
}

static void
advise_third (const rails *rails, const sw_settings *settings, const char *file, sw_report *report)
{
  if (rails->count != 2 || centre_of (rails, 1) - centre_of (rails, 0) <= APART)
    return;
  char apart[SW_SHOWN];
  char limit[SW_SHOWN];
  sw_show_lengths (centre_of (rails, 1) - centre_of (rails, 0), APART, settings->inches, apart, limit);
  sw_report_add (report, SW_NOTE, file, 0, file != NULL ? "height" : "picket",
                 "the two rails are %s apart, centre to centre; over %s a third rail halfway is advised", apart, limit);
}

/* Check that each rail stands above the one below, without touching it. */
static bool
check_order (const rails *rails, const sw_settings *settings, const char *file, sw_report *report)
{
  for (size_t rail = 1; rail < rails->count; rail++)
    if (rails->items[rail]->height < rails->items[rail - 1]->height + width_of (rails, rail - 1)
        || rails->items[rail]->height == rails->items[rail - 1]->height)
      {
        char picket[SW_SHOWN];
        char below[SW_SHOWN];
        char name[SW_SHOWN];
        sw_show_length (settings->picket, settings->inches, picket);
        sw_show_text (rails->items[rail - 1]->name, below);
        sw_show_text (rails->items[rail]->name, name);
        sw_report_add (
            report, SW_FAULT, file, rails->items[rail]->line, file != NULL ? "height" : "picket",
            "a picket of %s is too short: the rule for heights puts \"%s\" on or under \"%s\"; write heights", picket,
            name, below);
        return false;
      }
  return true;
}

sw_status
sw_levels_fill_heights (sw_levels *levels, const sw_sections *sections, const sw_settings *settings, const char *file,
                        sw_report *report)
{
  rails rails = { .sections = sections, .items = sw_alloc (levels->count, sizeof (sw_level *)) };
  if (rails.items == NULL)
    return SW_NO_MEMORY;
  bool wanted = false;
  for (size_t i = 0; i < levels->count; i++)
    {
      sw_level *level = &levels->items[i];
      if (!level->through || level->seat == SW_SEAT_TOP || (level->has_height && (level->height < 0 || level->height >= settings->picket)))
        continue;
      rails.items[rails.count++] = level;
      wanted |= !level->has_height;
    }
  sw_status status = SW_OK;
  if (wanted)
    {
      note_widths (&rails, file, report);
      place (&rails, settings->picket);
      if (check_order (&rails, settings, file, report))
        advise_third (&rails, settings, file, report);
      else
        status = SW_REJECTED;
    }
  free (rails.items);
  return status;
}
