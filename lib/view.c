/* view.c - how figures are shown in tables and text
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view.h"

#include "decimal.h"
#include "memory.h"
#include "table.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SW_FOOT (12 * SW_INCH)

sw_status
sw_view_table (sw_table **out, const sw_job *job, const char *const *header, size_t count)
{
  char **names = sw_alloc (count, sizeof *names);
  if (names == NULL)
    return SW_NO_MEMORY;
  sw_status status = SW_OK;
  for (size_t c = 0; c < count && status == SW_OK; c++)
    {
      names[c] = sw_copy_text (header[c]);
      if (names[c] == NULL)
        {
          status = SW_NO_MEMORY;
          break;
        }
      size_t bytes = strlen (names[c]);
      if (job->settings->inches && bytes > 3 && strcmp (names[c] + bytes - 3, "_mm") == 0)
        memcpy (names[c] + bytes - 3, "_in", 3);
    }
  if (status == SW_OK)
    status = sw_table_new (out, (const char *const *)names, count);
  if (status == SW_OK && job->settings->csv_style == SW_CSV_SEMICOLON)
    sw_table_write_semicolons (*out);
  for (size_t c = 0; c < count; c++)
    free (names[c]);
  free (names);
  return status;
}

void
sw_view_set (sw_status *status, sw_table *table, size_t column, const char *text)
{
  if (*status == SW_OK)
    *status = sw_table_set (table, column, text);
}

void
sw_view_set_text (sw_status *status, sw_table *table, size_t column, const char *text)
{
  if (*status == SW_OK)
    *status = sw_table_set_text (table, column, text);
}

void
sw_view_set_length (sw_status *status, sw_table *table, size_t column, const sw_job *job, sw_length length)
{
  char text[SW_LENGTH_TEXT];
  if (job->settings->inches)
    sw_length_format_inches_exact (length, text);
  else
    sw_length_format_mm (length, text);
  sw_view_set (status, table, column, text);
}

void
sw_view_set_count (sw_status *status, sw_table *table, size_t column, int64_t count)
{
  char text[SW_LENGTH_TEXT];
  snprintf (text, sizeof text, "%" PRId64, count);
  sw_view_set (status, table, column, text);
}

void
sw_view_thousandths (int64_t number, char out[SW_VIEW_THOUSANDTHS])
{
  sw_decimal_format (number, 3, 0, out);
}

void
sw_view_saw_cell (int32_t saw, char out[SW_VIEW_THOUSANDTHS])
{
  if (saw == 0)
    snprintf (out, SW_VIEW_THOUSANDTHS, "square");
  else
    sw_view_thousandths (saw, out);
}

void
sw_view_length (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT])
{
  if (job->settings->inches)
    sw_length_format_inches (length, out);
  else
    sw_length_format_mm (length, out);
}

void
sw_view_stock (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT])
{
  char number[SW_LENGTH_TEXT];
  if (!job->settings->inches)
    {
      sw_length_format_m (length, true, number);
      snprintf (out, SW_LENGTH_TEXT, "%.44s m", number);
    }
  else if (length % SW_FOOT == 0)
    snprintf (out, SW_LENGTH_TEXT, "%" PRId64 " ft", length / SW_FOOT);
  else
    {
      sw_length_format_inches (length, number);
      snprintf (out, SW_LENGTH_TEXT, "%.44s in", number);
    }
}

void
sw_view_lineal (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT])
{
  char number[SW_LENGTH_TEXT];
  if (!job->settings->inches)
    {
      sw_length_format_m (length, true, number);
      snprintf (out, SW_LENGTH_TEXT, "%.44s lm", number);
      return;
    }
  sw_decimal_format (sw_decimal_round (length, SW_FOOT / 10), 1, 1, number);
  snprintf (out, SW_LENGTH_TEXT, "%.44s ft", number);
}

void
sw_view_tally (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT])
{
  const bool inches = job->settings->inches;
  const int places = inches ? 2 : 3;
  char number[SW_DECIMAL_TEXT];
  sw_decimal_format (sw_decimal_round (length, inches ? SW_FOOT / 100 : SW_MM), places, places, number);
  snprintf (out, SW_LENGTH_TEXT, "%.44s %s", number, inches ? "ft" : "m");
}

void
sw_view_cost (const sw_plan *plan, int64_t cost, char out[SW_LENGTH_TEXT])
{
  char number[SW_LENGTH_TEXT];
  if (plan->summary.priced)
    sw_money_format (cost, out);
  else if (plan->job->settings->inches)
    sw_view_lineal (plan->job, cost, out);
  else
    {
      sw_length_format_m (cost, true, number);
      snprintf (out, SW_LENGTH_TEXT, "%.44s m", number);
    }
}

void
sw_view_percent (int64_t part, int64_t whole, int decimals, char out[SW_VIEW_PERCENT])
{
  int64_t unit = 1;
  for (int d = 0; d < decimals; d++)
    unit *= 10;
  if (whole <= 0)
    {
      snprintf (out, SW_VIEW_PERCENT, "-");
      return;
    }
  /* Digits that cannot show are dropped before the product could overflow. */
  while (part > INT64_MAX / (100 * unit) || whole > INT64_MAX / (100 * unit))
    {
      part /= 10;
      whole /= 10;
    }
  sw_decimal_format (sw_decimal_round (100 * unit * part, whole), decimals, decimals, out);
}

void
sw_view_ranges (sw_text *out, const size_t *numbers, size_t count, size_t add)
{
  for (size_t first = 0, last; first < count; first = last + 1)
    {
      last = first;
      while (last + 1 < count && numbers[last + 1] <= numbers[last] + 1)
        last++;
      sw_text_printf (out, "%s%zu", first > 0 ? ", " : "", numbers[first] + add);
      if (numbers[last] > numbers[first])
        sw_text_printf (out, "%s%zu", numbers[last] == numbers[first] + 1 ? ", " : "-", numbers[last] + add);
    }
}
