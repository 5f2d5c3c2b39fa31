/* yard.c - the yards that timber is bought from
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/yard.h"

#include "base/memory.h"
#include "csv/field.h"

#include <stdlib.h>
#include <string.h>

#define DESCRIPTION_BYTES 1000

enum
{
  YARD,
  DELIVERY,
  MINIMUM,
  DESCRIPTION,
  COLUMNS
};

static sw_status
add (sw_yards *yards, const char *name, size_t *index)
{
  void *items = yards->items;
  sw_status status = sw_grow (&items, &yards->capacity, yards->count + 1, sizeof (sw_yard));
  yards->items = items;
  char *copy = status == SW_OK ? sw_copy_text (name) : NULL;
  if (copy == NULL)
    return SW_NO_MEMORY;
  status = sw_name_index_add (&yards->names, copy, yards->count);
  if (status != SW_OK)
    {
      free (copy);
      return status;
    }
  yards->items[yards->count] = (sw_yard){ .name = copy };
  *index = yards->count++;
  return SW_OK;
}

sw_status
sw_yards_intern (sw_yards *yards, const char *name, size_t *index)
{
  if (sw_name_index_find (&yards->names, name, index))
    return SW_OK;
  return yards->listed ? SW_REJECTED : add (yards, name, index);
}

static sw_status
read_row (sw_yards *out, sw_fields *fields)
{
  const char *name = NULL;
  sw_yard row = { .line = sw_field_line (fields) };
  bool good = sw_field_name (fields, YARD, "a yard's name", &name);
  good &= sw_field_money (fields, DELIVERY, &row.delivery);
  good &= sw_field_money (fields, MINIMUM, &row.minimum);
  const char *description = sw_field (fields, DESCRIPTION);
  if (strlen (description) > DESCRIPTION_BYTES)
    {
      sw_field_fault (fields, DESCRIPTION, "expected a description of at most %d bytes, found %zu", DESCRIPTION_BYTES,
                      strlen (description));
      good = false;
    }
  size_t index;
  if (good && sw_name_index_find (&out->names, name, &index))
    {
      char shown[SW_SHOWN];
      sw_show_text (name, shown);
      sw_field_fault (fields, YARD, "yard \"%s\" stands twice; it is on line %zu already", shown,
                      out->items[index].line);
      return SW_OK;
    }
  if (!good)
    return SW_OK;
  if (*description != '\0' && (row.description = sw_copy_text (description)) == NULL)
    return SW_NO_MEMORY;
  sw_status status = add (out, name, &index);
  if (status != SW_OK)
    {
      free (row.description);
      return status;
    }
  row.name = out->items[index].name;
  out->items[index] = row;
  return SW_OK;
}

sw_status
sw_yards_read (sw_yards *out, const sw_table *table, sw_report *report)
{
  static const char *const names[COLUMNS] = { "yard", "delivery", "minimum", "description" };
  sw_fields fields;
  if (!sw_fields_begin (&fields, table, names, COLUMNS, 1, report))
    return SW_REJECTED;
  size_t rows = sw_table_rows (table);
  if (rows == 0 || rows > SW_YARDS_MAX)
    {
      sw_report_add (report, SW_FAULT, sw_table_file (table), 0, NULL, "expected 1 to %d yards, found %zu",
                     SW_YARDS_MAX, rows);
      return SW_REJECTED;
    }
  out->listed = true;
  for (; fields.row < rows; fields.row++)
    {
      sw_status status = read_row (out, &fields);
      if (status != SW_OK)
        return status;
    }
  return fields.faults == 0 ? SW_OK : SW_REJECTED;
}

void
sw_yards_clear (sw_yards *yards)
{
  for (size_t i = 0; i < yards->count; i++)
    {
      free (yards->items[i].name);
      free (yards->items[i].description);
    }
  free (yards->items);
  sw_name_index_clear (&yards->names);
  memset (yards, 0, sizeof *yards);
}
