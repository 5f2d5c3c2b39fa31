/* field.c - the cells of a table's row as checked values
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/field.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* A message made of a few shown texts is shorter. */
#define MESSAGE 700

static void
report_unknown (const sw_fields *fields, size_t count)
{
  const char *file = sw_table_file (fields->table);
  size_t line = sw_table_header_line (fields->table);
  for (size_t column = 0; column < sw_table_columns (fields->table); column++)
    {
      const char *header = sw_table_header (fields->table, column);
      bool known = false;
      for (size_t i = 0; i < count && !known; i++)
        known = fields->where[i] >= 0 && (size_t)fields->where[i] == column;
      if (known)
        continue;
      char shown[SW_SHOWN];
      sw_show_text (header, shown);
      const char *meant = sw_field_meant (fields, header, count);
      if (meant != NULL)
        sw_report_add (fields->report, SW_WARNING, file, line, shown,
                       "a column of this name is not known and is ignored; did you mean \"%s\"?", meant);
      else
        sw_report_add (fields->report, SW_WARNING, file, line, shown,
                       "a column of this name is not known and is ignored");
    }
}

bool
sw_fields_begin (sw_fields *fields, const sw_table *table, const char *const *names, size_t count, size_t needed,
                 sw_report *report)
{
  memset (fields, 0, sizeof *fields);
  fields->table = table;
  fields->report = report;
  fields->names = names;
  fields->comma = sw_table_decimal_comma (table);
  for (size_t i = 0; i < count; i++)
    fields->where[i] = sw_table_find (table, names[i]);
  if (sw_field_header_is_data (fields, count, needed))
    return false;
  for (size_t i = 0; i < needed; i++)
    {
      if (fields->where[i] >= 0)
        continue;
      sw_report_add (report, SW_FAULT, sw_table_file (table), sw_table_header_line (table), names[i],
                     "expected a column \"%s\" in the header line, found none", names[i]);
      fields->faults++;
    }
  report_unknown (fields, count);
  return fields->faults == 0;
}

const char *
sw_field (const sw_fields *fields, size_t column)
{
  if (fields->where[column] < 0)
    return "";
  const char *text = sw_table_cell (fields->table, fields->row, (size_t)fields->where[column]);
  return text != NULL ? text : "";
}

bool
sw_field_is_bare (const sw_fields *fields, size_t column)
{
  const char *text = sw_field (fields, column);
  return *text != '\0' && text[strspn (text, "0123456789.,")] == '\0';
}

size_t
sw_field_line (const sw_fields *fields)
{
  return sw_table_line (fields->table, fields->row);
}

static void
add_remark (sw_fields *fields, sw_severity severity, size_t column, const char *format, va_list values)
{
  char message[MESSAGE];
  vsnprintf (message, sizeof message, format, values);
  sw_report_add (fields->report, severity, sw_table_file (fields->table), sw_field_line (fields), fields->names[column],
                 "%s", message);
}

void
sw_field_fault (sw_fields *fields, size_t column, const char *format, ...)
{
  va_list values;
  va_start (values, format);
  add_remark (fields, SW_FAULT, column, format, values);
  va_end (values);
  fields->faults++;
}

void
sw_field_warn (sw_fields *fields, size_t column, const char *format, ...)
{
  va_list values;
  va_start (values, format);
  add_remark (fields, SW_WARNING, column, format, values);
  va_end (values);
}

void
sw_field_warn_unit (sw_fields *fields, size_t column, sw_length length, bool inches, const char *more)
{
  char written[SW_SHOWN];
  char taken[SW_SHOWN];
  char meant[SW_SHOWN];
  sw_show_text (sw_field (fields, column), written);
  sw_show_length (length, false, taken);
  sw_show_length (10 * length, false, meant);
  if (inches)
    sw_field_warn (fields, column,
                   "is taken for %s, since a bare number is millimetres%s; if inches are meant, write %sin", taken,
                   more, written);
  else
    sw_field_warn (fields, column,
                   "is taken for %s, since a bare number is millimetres%s; if centimetres are meant, write %scm (%s)",
                   taken, more, written, meant);
}

void
sw_field_expected (sw_fields *fields, size_t column, const char *expected)
{
  const char *text = sw_field (fields, column);
  char shown[SW_SHOWN];
  sw_show_text (text, shown);
  if (*text == '\0')
    sw_field_fault (fields, column, "expected %s, found a blank cell", expected);
  else
    sw_field_fault (fields, column, "expected %s, found \"%s\"", expected, shown);
}

bool
sw_field_needed (sw_fields *fields, size_t column, const char *what)
{
  if (*sw_field (fields, column) != '\0')
    return true;
  sw_field_expected (fields, column, what);
  return false;
}

bool
sw_field_name (sw_fields *fields, size_t column, const char *what, const char **out)
{
  if (!sw_field_needed (fields, column, what))
    return false;
  const char *text = sw_field (fields, column);
  if (strlen (text) > SW_NAME_BYTES)
    {
      char expected[SW_PHRASE];
      snprintf (expected, sizeof expected, "%s of at most %d bytes", what, SW_NAME_BYTES);
      sw_field_expected (fields, column, expected);
      return false;
    }
  *out = text;
  return true;
}

static bool
is_blank (const sw_fields *fields, size_t column)
{
  return *sw_field (fields, column) == '\0';
}

/* Report that EXPECTED was expected, unless the value is GOOD.  Returns GOOD. */
static bool
settle (sw_fields *fields, size_t column, bool good, const char *expected)
{
  if (!good)
    sw_field_expected (fields, column, expected);
  return good;
}

bool
sw_field_length (sw_fields *fields, size_t column, sw_bare bare, sw_length min, sw_length max, sw_length *out)
{
  char expected[SW_PHRASE];
  return is_blank (fields, column)
         || settle (fields, column,
                    sw_value_length (sw_field (fields, column), bare, fields->comma, min, max, out, expected),
                    expected);
}

bool
sw_field_money (sw_fields *fields, size_t column, sw_money *out)
{
  char expected[SW_PHRASE];
  return is_blank (fields, column)
         || settle (fields, column, sw_value_money (sw_field (fields, column), fields->comma, out, expected), expected);
}

bool
sw_field_whole (sw_fields *fields, size_t column, int64_t min, int64_t max, int64_t *out)
{
  char expected[SW_PHRASE];
  return is_blank (fields, column)
         || settle (fields, column, sw_value_whole (sw_field (fields, column), min, max, out, expected), expected);
}

bool
sw_field_decimal (sw_fields *fields, size_t column, int places, int64_t min, int64_t max, int64_t *out)
{
  char expected[SW_PHRASE];
  return is_blank (fields, column)
         || settle (fields, column,
                    sw_value_decimal (sw_field (fields, column), fields->comma, places, min, max, out, expected),
                    expected);
}

bool
sw_field_choice_too (sw_fields *fields, size_t column, const char *const *choices, size_t count,
                     const sw_other_word *others, size_t *out)
{
  for (; others->word != NULL; others++)
    if (sw_same_word (sw_field (fields, column), others->word))
      {
        *out = others->index;
        return true;
      }
  return sw_field_choice (fields, column, choices, count, out);
}

bool
sw_field_choice (sw_fields *fields, size_t column, const char *const *choices, size_t count, size_t *out)
{
  char expected[SW_PHRASE];
  return is_blank (fields, column)
         || settle (fields, column, sw_value_choice (sw_field (fields, column), choices, count, out, expected),
                    expected);
}
