/* extra.c - reads extras.csv: other pieces out of the same stock
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/extra.h"
#include "csv/field.h"
#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

/* A shorter piece probably lacks its unit. */
#define SHORT_PIECE (10 * SW_MM)
#define MOST_PIECES 1000000000 /* of one row; the whole job has a bound of its own */

enum
{
  LABEL,
  SECTION,
  LENGTH,
  QUANTITY,
  COLUMNS
};

/* Take a label.  It is pencilled on the piece, so that no two pieces may have it. */
static sw_status
take_label (sw_name_index *names, sw_fields *fields, const char *label, bool *good)
{
  size_t line;
  if (!sw_name_index_find (names, label, &line))
    return sw_name_index_add (names, label, sw_field_line (fields));
  char shown[SW_SHOWN];
  sw_show_text (label, shown);
  sw_field_fault (fields, LABEL, "label \"%s\" stands twice; it is on line %zu already", shown, line);
  *good = false;
  return SW_OK;
}

static sw_status
read_row (sw_extras *out, sw_sections *sections, sw_fields *fields, sw_name_index *names)
{
  const char *label = NULL;
  const char *section = NULL;
  sw_extra extra = { .quantity = 1, .line = sw_field_line (fields) };
  sw_status status = SW_OK;
  bool good = sw_field_name (fields, LABEL, "a label", &label);
  if (good)
    status = take_label (names, fields, label, &good);
  if (status != SW_OK)
    return status;
  good &= sw_field_name (fields, SECTION, "a section's name", &section);
  good &= sw_field_needed (fields, LENGTH, "a length")
          && sw_field_length (fields, LENGTH, SW_BARE_MM, SW_LENGTH_OVER_0, SW_LENGTH_MAX, &extra.length);
  good &= sw_field_whole (fields, QUANTITY, 1, MOST_PIECES, &extra.quantity);
  if (!good)
    return SW_OK;
  if (extra.length < SHORT_PIECE)
    sw_field_warn (fields, LENGTH, "a piece of %s is very short: a bare number is millimetres",
                   sw_field (fields, LENGTH));
  status = sw_sections_intern (sections, section, &extra.section);
  if (status != SW_OK)
    return status;
  extra.label = sw_copy_text (label);
  if (extra.label == NULL)
    return SW_NO_MEMORY;
  out->items[out->count++] = extra;
  return SW_OK;
}

static sw_status
read_rows (sw_extras *out, sw_sections *sections, sw_fields *fields, sw_name_index *names)
{
  size_t rows = sw_table_rows (fields->table);
  out->items = sw_alloc (rows, sizeof (sw_extra));
  if (out->items == NULL)
    return SW_NO_MEMORY;
  for (; fields->row < rows; fields->row++)
    {
      sw_status status = read_row (out, sections, fields, names);
      if (status != SW_OK)
        return status;
    }
  return fields->faults == 0 ? SW_OK : SW_REJECTED;
}

sw_status
sw_extras_read (sw_extras *out, sw_sections *sections, const sw_table *table, const sw_settings *settings,
                sw_report *report)
{
  static const char *const columns[COLUMNS] = { "label", "section", "length", "quantity" };
  (void)settings;
  sw_fields fields;
  sw_name_index names = { 0 };
  if (!sw_fields_begin (&fields, table, columns, COLUMNS, 3, report))
    return SW_REJECTED;
  sw_status status = read_rows (out, sections, &fields, &names);
  sw_name_index_clear (&names);
  return status;
}

void
sw_extras_clear (sw_extras *extras)
{
  for (size_t i = 0; i < extras->count; i++)
    free (extras->items[i].label);
  free (extras->items);
  memset (extras, 0, sizeof *extras);
}
