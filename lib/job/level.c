/* level.c - reads levels.csv: levels of timber, bottom to top
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/level.h"
#include "csv/field.h"
#include "base/memory.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HIGHEST (100 * SW_METRE)
#define DEEPEST SW_METRE
#define MOST_BLOCKS 1000
/* A shorter piece probably lacks its unit. */
#define SHORT_PIECE (10 * SW_MM)

enum
{
  LEVEL,
  SECTION,
  RUNS,
  GAP,
  HEIGHT,
  BLOCKS,
  BLOCK_LENGTH,
  BLOCK_SECTION,
  SEAT,
  ONLY,
  COLUMNS
};

typedef struct reading
{
  sw_levels *out;
  sw_sections *sections;
  sw_fields fields;
  sw_name_index names;
} reading;

static bool
read_runs (sw_fields *fields, sw_level *level)
{
  static const char *const choices[] = { "through", "between" };
  size_t choice = 0;
  if (!sw_field_choice (fields, RUNS, choices, 2, &choice))
    return false;
  level->through = choice == 0;
  if (!level->through || *sw_field (fields, GAP) == '\0')
    return sw_field_length (fields, GAP, SW_BARE_MM, 0, SW_METRE, &level->gap);
  char shown[SW_SHOWN];
  sw_show_text (sw_field (fields, GAP), shown);
  sw_field_fault (fields, GAP,
                  "expected a blank cell, since a gap is for levels that run \"between\" posts, found \"%s\"", shown);
  return false;
}

static bool
read_blocks (sw_fields *fields, sw_level *level, const char **block_section)
{
  bool good = sw_field_whole (fields, BLOCKS, 0, MOST_BLOCKS, &level->blocks);
  good &= sw_field_length (fields, BLOCK_LENGTH, SW_BARE_MM, SW_LENGTH_OVER_0, SW_LENGTH_MAX, &level->block_length);
  if (*sw_field (fields, BLOCK_SECTION) != '\0')
    good &= sw_field_name (fields, BLOCK_SECTION, "a section's name", block_section);
  if (!good)
    return false;
  if (level->blocks > 0)
    {
      if (!sw_field_needed (fields, BLOCK_LENGTH, "the length of the blocks"))
        return false;
      if (level->block_length < SHORT_PIECE)
        sw_field_warn (fields, BLOCK_LENGTH, "a block of %s is very short: a bare number is millimetres",
                       sw_field (fields, BLOCK_LENGTH));
      return true;
    }
  level->block_length = 0;
  for (size_t column = BLOCK_LENGTH; column <= BLOCK_SECTION; column++)
    if (*sw_field (fields, column) != '\0')
      sw_field_warn (fields, column, "has no effect, since the level has no blocks");
  return true;
}

/* Read "let in", "let in 30", "face" or "top". */
static bool
read_seat (sw_fields *fields, sw_level *level)
{
  static const char let_in[] = "let in";
  const size_t length = sizeof let_in - 1;
  const char *text = sw_field (fields, SEAT);
  char start[sizeof let_in] = "";
  char expected[SW_PHRASE] = "let in, let in DEPTH, face or top";
  if (*text == '\0')
    return true;
  if (!level->through)
    {
      sw_field_expected (fields, SEAT, "a blank cell, since a level that runs \"between\" posts has no seat on them");
      return false;
    }
  if (strlen (text) >= length)
    memcpy (start, text, length);
  bool good = true;
  if (sw_same_word (text, "face"))
    level->seat = SW_SEAT_FACE;
  else if (sw_same_word (text, "top"))
    level->seat = SW_SEAT_TOP;
  else if (sw_same_word (start, let_in) && text[length] == ' ')
    good = sw_value_length (text + length + strspn (text + length, " "), SW_BARE_MM, fields->comma, SW_LENGTH_OVER_0,
                            DEEPEST, &level->let_in, expected);
  else
    good = sw_same_word (text, let_in);
  if (!good)
    sw_field_expected (fields, SEAT, expected);
  return good;
}

/* Take the level's name.  No other level may have it. */
static sw_status
take_name (reading *reading, const char *name, bool *good)
{
  size_t line;
  if (sw_name_index_find (&reading->names, name, &line))
    {
      char shown[SW_SHOWN];
      sw_show_text (name, shown);
      sw_field_fault (&reading->fields, LEVEL, "level \"%s\" stands twice; it is on line %zu already", shown, line);
      *good = false;
      return SW_OK;
    }
  return sw_name_index_add (&reading->names, name, sw_field_line (&reading->fields));
}

static sw_status
read_row (reading *reading)
{
  sw_fields *fields = &reading->fields;
  const char *name = NULL;
  const char *section = NULL;
  const char *block_section = NULL;
  sw_level level = { .line = sw_field_line (fields) };
  sw_status status = SW_OK;
  bool good = sw_field_name (fields, LEVEL, "a level's name", &name);
  if (good)
    status = take_name (reading, name, &good);
  if (status != SW_OK)
    return status;
  good &= sw_field_name (fields, SECTION, "a section's name", &section);
  good &= read_runs (fields, &level);
  level.has_height = *sw_field (fields, HEIGHT) != '\0';
  good &= sw_field_length (fields, HEIGHT, SW_BARE_MM, -HIGHEST, HIGHEST, &level.height);
  good &= read_blocks (fields, &level, &block_section);
  good &= read_seat (fields, &level);
  if (!good)
    return SW_OK;
  status = sw_sections_intern (reading->sections, section, &level.section);
  level.block_section = level.section;
  if (status == SW_OK && level.blocks > 0 && block_section != NULL)
    status = sw_sections_intern (reading->sections, block_section, &level.block_section);
  if (status != SW_OK)
    return status;
  level.name = sw_copy_text (name);
  if (*sw_field (fields, ONLY) != '\0')
    level.only = sw_copy_text (sw_field (fields, ONLY));
  if (level.name == NULL || (level.only == NULL && *sw_field (fields, ONLY) != '\0'))
    {
      free (level.name);
      free (level.only);
      return SW_NO_MEMORY;
    }
  reading->out->items[reading->out->count++] = level;
  return SW_OK;
}

/* Warn once if a level stands lower than the one before it. */
static void
check_heights (const sw_levels *levels, const sw_table *table, const sw_settings *settings, sw_report *report)
{
  const sw_level *below = NULL;
  for (size_t i = 0; i < levels->count; i++)
    {
      const sw_level *level = &levels->items[i];
      if (!level->has_height)
        continue;
      if (below != NULL && level->height <= below->height)
        {
          char name[SW_SHOWN];
          char other[SW_SHOWN];
          char height[SW_SHOWN];
          char other_height[SW_SHOWN];
          sw_show_text (level->name, name);
          sw_show_text (below->name, other);
          sw_show_lengths (level->height, below->height, settings->inches, height, other_height);
          sw_report_add (report, SW_WARNING, sw_table_file (table), level->line, "height",
                         "levels go from bottom to top, but \"%s\" at %s stands above \"%s\" at %s", name, height,
                         other, other_height);
          return;
        }
      below = level;
    }
}

static sw_status
read_rows (reading *reading)
{
  const sw_table *table = reading->fields.table;
  size_t rows = sw_table_rows (table);
  if (rows > SW_LEVELS_MAX)
    {
      reading->fields.row = SW_LEVELS_MAX;
      sw_field_fault (&reading->fields, LEVEL, "expected at most %d levels, found %zu", SW_LEVELS_MAX, rows);
      return SW_REJECTED;
    }
  reading->out->items = sw_alloc (rows, sizeof (sw_level));
  if (reading->out->items == NULL)
    return SW_NO_MEMORY;
  for (; reading->fields.row < rows; reading->fields.row++)
    {
      sw_status status = read_row (reading);
      if (status != SW_OK)
        return status;
    }
  return reading->fields.faults == 0 ? SW_OK : SW_REJECTED;
}

sw_status
sw_levels_read (sw_levels *out, sw_sections *sections, const sw_table *table, const sw_settings *settings,
                sw_report *report)
{
  static const char *const names[COLUMNS]
      = { "level", "section", "runs", "gap", "height", "blocks", "block_length", "block_section",
          "seat",  "only" };
  reading reading = { .out = out, .sections = sections };
  if (!sw_fields_begin (&reading.fields, table, names, COLUMNS, 2, report))
    return SW_REJECTED;
  if (sw_table_rows (table) == 0)
    {
      sw_report_add (report, SW_FAULT, sw_table_file (table), 0, NULL, "expected at least one level, found none");
      return SW_REJECTED;
    }
  sw_status status = read_rows (&reading);
  sw_name_index_clear (&reading.names);
  if (status == SW_OK)
    check_heights (out, table, settings, report);
  return status;
}

sw_status
sw_levels_default (sw_levels *out, sw_sections *sections, const sw_settings *settings)
{
  size_t section;
  sw_status status = sw_sections_intern (sections, "rail", &section);
  if (status != SW_OK)
    return status;
  out->items = sw_alloc ((size_t)settings->rails, sizeof (sw_level));
  if (out->items == NULL)
    return SW_NO_MEMORY;
  for (int i = 0; i < settings->rails; i++)
    {
      char name[32];
      snprintf (name, sizeof name, "rail %d", i + 1);
      sw_level *level = &out->items[out->count];
      *level = (sw_level){ .section = section, .through = true, .block_section = section };
      level->name = sw_copy_text (name);
      if (level->name == NULL)
        return SW_NO_MEMORY;
      out->count++;
    }
  return SW_OK;
}

bool
sw_level_is_on (const sw_level *level, size_t run)
{
  return level->runs == NULL || level->runs[run];
}

void
sw_levels_clear (sw_levels *levels)
{
  for (size_t i = 0; i < levels->count; i++)
    {
      free (levels->items[i].name);
      free (levels->items[i].only);
      free (levels->items[i].runs);
    }
  free (levels->items);
  memset (levels, 0, sizeof *levels);
}
