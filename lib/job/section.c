/* section.c - the sections of timber, and the reading of sections.csv
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/field.h"
#include "base/memory.h"
#include "job/stock.h"

#include <stdlib.h>
#include <string.h>

#define DESCRIPTION_BYTES 1000
#define WIDEST (2 * SW_METRE)
#define DENSEST 5000 /* kg/m3, four times as much as the heaviest timber */
#define MOST_SPARE 1000000
#define MOST_SPARE_PERCENT 100

int
sw_sections_find (const sw_sections *sections, const char *name)
{
  size_t index;
  return sw_name_index_find (&sections->names, name, &index) ? (int)index : -1;
}

sw_status
sw_sections_intern (sw_sections *sections, const char *name, size_t *index)
{
  if (sw_name_index_find (&sections->names, name, index))
    return SW_OK;
  void *items = sections->items;
  sw_status status = sw_grow (&items, &sections->capacity, sections->count + 1, sizeof (sw_section));
  sections->items = items;
  if (status != SW_OK)
    return status;
  char *copy = sw_copy_text (name);
  if (copy == NULL)
    return SW_NO_MEMORY;
  status = sw_name_index_add (&sections->names, copy, sections->count);
  if (status != SW_OK)
    {
      free (copy);
      return status;
    }
  sections->items[sections->count] = (sw_section){ .name = copy };
  *index = sections->count++;
  return SW_OK;
}

void
sw_sections_clear (sw_sections *sections)
{
  for (size_t i = 0; i < sections->count; i++)
    {
      free (sections->items[i].name);
      free (sections->items[i].description);
    }
  free (sections->items);
  sw_name_index_clear (&sections->names);
  memset (sections, 0, sizeof *sections);
}

enum
{
  SECTION,
  WIDTH,
  THICKNESS,
  DESCRIPTION,
  DENSITY,
  SPARE,
  END_TRIM,
  COLUMNS
};

/* Every rail, board or capping of a fence is wider and thicker.  Judgement. */
#define NARROWEST (15 * SW_MM)
#define THINNEST (10 * SW_MM)

/* Warn of sizes that can be read but were perhaps not meant. */
static void
doubt_sizes (sw_fields *fields, const sw_section *row, bool inches)
{
  bool narrow = row->width > 0 && row->width < NARROWEST;
  bool thin = row->thickness > 0 && row->thickness < THINNEST;
  char width[SW_SHOWN];
  char thickness[SW_SHOWN];
  sw_show_length (row->width, inches, width);
  sw_show_length (row->thickness, inches, thickness);
  if (row->width > 0 && row->thickness > row->width)
    sw_field_warn (fields, THICKNESS,
                   "the section is taken for %s wide and %s thick, though the width is the larger side of a timber; "
                   "exchange the two if they are swapped",
                   width, thickness);
  size_t column = narrow ? WIDTH : THICKNESS;
  /* Somebody who writes the unit means it. */
  if ((narrow || thin) && sw_field_is_bare (fields, column))
    sw_field_warn_unit (fields, column, narrow ? row->width : row->thickness, inches, "");
}

/* "2" lengths, or "5%" of them. */
static bool
read_spare (sw_fields *fields, sw_section *row)
{
  const char *text = sw_field (fields, SPARE);
  size_t length = strlen (text);
  char number[SW_SHOWN];
  char expected[SW_PHRASE];
  if (length == 0 || text[length - 1] != '%')
    return sw_field_whole (fields, SPARE, 0, MOST_SPARE, &row->spare);
  if (--length < sizeof number)
    {
      memcpy (number, text, length);
      while (length > 0 && number[length - 1] == ' ')
        length--;
      number[length] = '\0';
      /* Four decimals of a per cent are millionths. */
      if (sw_value_decimal (number, fields->comma, 4, 0, MOST_SPARE_PERCENT, &row->spare_rate, expected))
        return true;
    }
  sw_field_expected (fields, SPARE, "a whole number of lengths, or a rate such as 5% from 0 to 100%");
  return false;
}

static sw_status
read_row (sw_sections *out, sw_fields *fields, bool inches)
{
  const char *name = NULL;
  sw_section row = { .line = sw_field_line (fields) };
  bool good = sw_field_name (fields, SECTION, "a section's name", &name);
  good &= sw_field_length (fields, WIDTH, SW_BARE_MM, SW_LENGTH_OVER_0, WIDEST, &row.width);
  good &= sw_field_length (fields, THICKNESS, SW_BARE_MM, SW_LENGTH_OVER_0, WIDEST, &row.thickness);
  good &= sw_field_decimal (fields, DENSITY, 3, 0, DENSEST, &row.density);
  good &= read_spare (fields, &row);
  row.own_trim = *sw_field (fields, END_TRIM) != '\0';
  good &= sw_field_length (fields, END_TRIM, SW_BARE_MM, 0, SW_METRE, &row.end_trim);
  const char *description = sw_field (fields, DESCRIPTION);
  if (strlen (description) > DESCRIPTION_BYTES)
    {
      sw_field_fault (fields, DESCRIPTION, "expected a description of at most %d bytes, found %zu", DESCRIPTION_BYTES,
                      strlen (description));
      good = false;
    }
  if (!good)
    return SW_OK;
  doubt_sizes (fields, &row, inches);

  size_t index;
  sw_status status = sw_sections_intern (out, name, &index);
  if (status != SW_OK)
    return status;
  sw_section *section = &out->items[index];
  if (section->line != 0)
    {
      char shown[SW_SHOWN];
      sw_show_text (name, shown);
      sw_field_fault (fields, SECTION, "section \"%s\" stands twice; it is on line %zu already", shown, section->line);
      return SW_OK;
    }
  if (*description != '\0')
    {
      row.description = sw_copy_text (description);
      if (row.description == NULL)
        return SW_NO_MEMORY;
    }
  row.name = section->name;
  *section = row;
  return SW_OK;
}

sw_status
sw_sections_read (sw_sections *out, const sw_table *table, const sw_settings *settings, sw_report *report)
{
  static const char *const names[COLUMNS] = { "section", "width", "thickness", "description", "density", "spare",
                                              "end_trim" };
  sw_fields fields;
  if (!sw_fields_begin (&fields, table, names, COLUMNS, 1, report))
    return SW_REJECTED;
  for (size_t rows = sw_table_rows (table); fields.row < rows; fields.row++)
    {
      sw_status status = read_row (out, &fields, settings->inches);
      if (status != SW_OK)
        return status;
    }
  return fields.faults == 0 ? SW_OK : SW_REJECTED;
}
