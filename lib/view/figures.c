/* figures.c - how figures are shown in tables and text
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/figures.h"

#include "base/decimal.h"
#include "base/memory.h"
#include "csv/table.h"

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

/* The face of each mitre's long point, of timber laid flat the edge; the start's comes first.  It
 * is one word if both are on the same face. */
static const char *
long_point (const sw_piece *piece)
{
  static const char *const words[3][3]
      = { { "", "outer", "inner" }, { "outer", "outer", "outer inner" }, { "inner", "inner outer", "inner" } };
  return words[piece->start_long][piece->finish_long];
}

void
sw_view_set_sawn (sw_status *status, sw_table *table, size_t column, const sw_job *job, const sw_piece *piece)
{
  char plumb[SW_VIEW_THOUSANDTHS];
  sw_view_thousandths (piece->plumb, plumb);
  sw_view_set (status, table, column, piece->plumb != 0 ? plumb : "");
  sw_view_set (status, table, column + 1, long_point (piece));
  sw_view_set_length (status, table, column + 2, job, piece->take);
}

void
sw_view_length (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT])
{
  if (job->settings->inches)
    sw_length_format_inches (length, out);
  else if (length % (SW_MM / 10) != 0 && length % (SW_MM / 100) == 0)
    /* A tenth is not exact enough: four of 1197.75 come out of 4800 with three cuts of 3, but four
     * of 1197.8 would not. */
    sw_decimal_format (length / (SW_MM / 100), 2, 0, out);
  else
    sw_length_format_mm (length, out);
}

void
sw_view_mitre (sw_text *out, int32_t saw, sw_side side)
{
  static const char *const faces[] = { "", SW_VIEW_HARD "outer", SW_VIEW_HARD "inner" };
  char angle[SW_VIEW_THOUSANDTHS];
  sw_view_thousandths (saw, angle);
  sw_text_printf (out, "%s\xc2\xb0%s", angle, faces[side]);
}

void
sw_view_slope (sw_text *out, const sw_piece *piece)
{
  char angle[SW_DECIMAL_TEXT];
  const int64_t tenths = sw_decimal_round (piece->plumb, 100);
  if (tenths > 0)
    sw_decimal_format (tenths, 1, 0, angle);
  else
    sw_decimal_format (piece->plumb, 3, 0, angle);
  sw_text_printf (out, "%s" SW_VIEW_HARD "%s\xc2\xb0", piece->falls ? "falls" : "rises", angle);
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

sw_length
sw_view_tallied (const sw_job *job, sw_length length)
{
  const sw_length unit = job->settings->inches ? SW_FOOT / 100 : SW_MM;
  return sw_decimal_round (length, unit) * unit;
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
sw_view_bought (const sw_job *job, sw_length length, char out[SW_LENGTH_TEXT])
{
  char number[SW_LENGTH_TEXT];
  if (job->settings->inches)
    sw_view_lineal (job, length, out);
  else
    {
      sw_length_format_m (length, true, number);
      snprintf (out, SW_LENGTH_TEXT, "%.44s m", number);
    }
}

void
sw_view_cost (const sw_plan *plan, int64_t cost, char out[SW_LENGTH_TEXT])
{
  if (plan->summary.priced)
    sw_money_format (cost, out);
  else
    sw_view_bought (plan->job, cost, out);
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
  /* Drop digits that cannot show, lest the product overflow. */
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

void
sw_view_always (sw_text *out, int64_t pairs)
{
  sw_text_printf (out, "%" PRId64 " %s", pairs,
                  pairs == 1 ? "pair at a post that is always joined" : "pairs at posts that are always joined");
}

bool
sw_view_neighbours (const sw_job *job)
{
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      size_t through = 0;
      for (size_t l = 0; l < job->levels.count; l++)
        through += job->levels.items[l].through && sw_level_is_on (&job->levels.items[l], r) ? 1 : 0;
      if (through > 1)
        return true;
    }
  return false;
}

bool
sw_view_turned (const sw_job *job)
{
  return job->settings->stagger != SW_STAGGER_OFF && job->settings->turn == SW_TURN_KEEP && sw_view_neighbours (job);
}

void
sw_view_board (const sw_piece *piece, char out[SW_LENGTH_TEXT])
{
  if (piece->board == SW_NONE)
    snprintf (out, SW_LENGTH_TEXT, "fixed");
  else
    snprintf (out, SW_LENGTH_TEXT, "%zu", piece->board + 1);
}
