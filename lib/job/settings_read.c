/* settings_read.c - reads a file of settings, and remembers where each value came from
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/field.h"
#include "base/memory.h"
#include "job/settings.h"
#include "job/settings_parts.h"

#include <stdlib.h>
#include <string.h>

size_t
sw_settings_line (const sw_settings *settings, const char *key)
{
  size_t index = sw_settings_find (key);
  return index < SW_SETTINGS_KEYS ? settings->lines[index] : 0;
}

bool
sw_settings_is_set (const sw_settings *settings, const char *key)
{
  size_t index = sw_settings_find (key);
  return index < SW_SETTINGS_KEYS && (settings->lines[index] > 0 || (settings->given >> index & 1) != 0);
}

enum
{
  KEY,
  VALUE,
  COLUMNS
};

/* Apply the rows of FIELDS to SETTINGS.  A value that the caller has given stays. */
static sw_status
apply_rows (sw_settings *settings, sw_fields *fields)
{
  size_t lines[SW_SETTINGS_KEYS] = { 0 };
  for (size_t rows = sw_table_rows (fields->table); fields->row < rows; fields->row++)
    {
      if (!sw_field_needed (fields, KEY, "a setting's name"))
        continue;
      size_t index = sw_settings_find (sw_field (fields, KEY));
      if (index == SW_SETTINGS_KEYS)
        {
          sw_field_expected (fields, KEY, "the name of a setting, such as kerf or stock-length");
          continue;
        }
      if (lines[index] != 0)
        {
          sw_field_fault (fields, KEY, "%s is set twice; it stands on line %zu already", sw_settings_key (index),
                          lines[index]);
          continue;
        }
      lines[index] = sw_field_line (fields);
      /* A value that will not be used is checked nevertheless. */
      sw_settings *scratch = sw_settings_copy (settings);
      if (scratch == NULL)
        return SW_NO_MEMORY;
      bool given = (settings->given >> index & 1) != 0;
      char expected[SW_PHRASE] = "";
      sw_status status
          = sw_settings_apply (given ? scratch : settings, index, sw_field (fields, VALUE), fields->comma, expected);
      sw_settings_free (scratch);
      if (status == SW_REJECTED)
        sw_field_expected (fields, VALUE, expected);
      else if (status != SW_OK)
        return status;
      settings->lines[index] = given ? 0 : lines[index];
    }
  return fields->faults == 0 ? SW_OK : SW_REJECTED;
}

static sw_status
read_file (sw_settings *settings, const char *file, sw_report *report)
{
  static const char *const names[COLUMNS] = { "key", "value" };
  size_t before = sw_report_count (report);
  sw_table *table = NULL;
  sw_status status = sw_table_read (&table, file, report);
  if (status != SW_OK)
    return status;
  sw_fields fields;
  sw_settings *changed = NULL;
  if (!sw_fields_begin (&fields, table, names, COLUMNS, COLUMNS, report))
    status = SW_REJECTED;
  else if ((changed = sw_settings_copy (settings)) == NULL)
    status = SW_NO_MEMORY;
  else
    {
      /* Forget the lines of a file that was read before. */
      memset (changed->lines, 0, sizeof changed->lines);
      status = apply_rows (changed, &fields);
    }
  if (status == SW_OK)
    {
      free (changed->file);
      changed->file = sw_copy_text (file);
      if (changed->file == NULL)
        status = SW_NO_MEMORY;
    }
  if (status == SW_OK)
    status = sw_settings_keep_warnings (changed, report, before);
  if (status == SW_OK)
    {
      /* Either all rows are applied or none.  The old settings are freed with CHANGED. */
      sw_settings old = *settings;
      *settings = *changed;
      *changed = old;
    }
  sw_settings_free (changed);
  sw_table_free (table);
  return status;
}

sw_status
sw_settings_read (sw_settings *settings, const char *file, sw_report *report)
{
  /* The settings keep their warnings even if the caller does not want them. */
  sw_report *own = report == NULL ? sw_report_new () : NULL;
  if (report == NULL && own == NULL)
    return SW_NO_MEMORY;
  sw_status status = read_file (settings, file, report != NULL ? report : own);
  sw_report_free (own);
  return status;
}
