/* fence_doubt.c - warns of spans that were perhaps not meant as they are read
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/fence_doubt.h"

#include <string.h>

/* Spans below this that have decimals are probably not millimetres: a tape read in millimetres
 * gives no decimals, and no fence has posts so near each other throughout.  Judgement. */
#define SHORT_WITH_DECIMALS SW_METRE
#define SHORT_THROUGHOUT (600 * SW_MM)

/* ---- Units ---- */

/* Give one warning, at the first span in doubt. */
static void
doubt_units (const sw_fence *fence, sw_fields *fields, size_t column, bool inches)
{
  bool all_short = true;
  size_t row = 0;
  for (size_t r = 0; r < fence->run_count; r++)
    for (size_t b = 0; b < fence->runs[r].bay_count; b++, row++)
      {
        sw_length measured = fence->runs[r].bays[b].measured;
        fields->row = row;
        const char *text = sw_field (fields, column);
        bool bare = sw_field_is_bare (fields, column);
        if (bare && strpbrk (text, ".,") != NULL && measured < SHORT_WITH_DECIMALS)
          {
            sw_field_warn_unit (fields, column, measured, inches, "");
            return;
          }
        all_short = all_short && bare && measured < SHORT_THROUGHOUT;
      }
  if (!all_short)
    return;
  fields->row = 0;
  sw_field_warn_unit (fields, column, fence->runs[0].bays[0].measured, inches,
                      row > 1 ? ", and no span is 600 mm long" : "");
}

/* ---- Totals ---- */

/* Does TEXT end in a word that spreadsheets use for a sum? */
static bool
names_total (const char *text)
{
  static const char *const words[] = { "total", "totals", "subtotal", "subtotals", "sum" };
  const char *word = text;
  for (const char *p = text; *p != '\0'; p++)
    if (strchr (" -_/", *p) != NULL)
      word = p + 1;
  /* "Total:" */
  char plain[16];
  size_t length = strcspn (word, ":");
  if (length >= sizeof plain || (word[length] == ':' && word[length + 1] != '\0'))
    return false;
  memcpy (plain, word, length);
  plain[length] = '\0';
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
    if (sw_same_word (plain, words[i]))
      return true;
  return false;
}

/* The sum of all measured spans, and their number.  0: the sum does not fit. */
static sw_length
sum_of_spans (const sw_fence *fence, size_t *count)
{
  sw_length sum = 0;
  *count = 0;
  for (size_t r = 0; r < fence->run_count; r++)
    for (size_t b = 0; b < fence->runs[r].bay_count; b++, ++*count)
      if (!sw_length_add (sum, fence->runs[r].bays[b].measured, &sum))
        return 0;
  return sum;
}

static void
doubt_totals (const sw_fence *fence, sw_fields *fields, sw_span_columns columns, bool inches)
{
  size_t bays;
  sw_length sum = sum_of_spans (fence, &bays);
  size_t row = 0;
  for (size_t r = 0; r < fence->run_count; r++)
    for (size_t b = 0; b < fence->runs[r].bay_count; b++, row++)
      {
        const sw_run *run = &fence->runs[r];
        sw_length measured = run->bays[b].measured;
        if (run->bays[b].divide != SW_DIVIDE_NOT)
          continue;
        bool alone = run->bay_count == 1;
        /* Where there are two bays, one as long as the other is not a sum. */
        bool is_sum = alone && bays > 2 && measured == sum - measured;
        bool by_label = !(alone && names_total (run->name)) && names_total (run->bays[b].label);
        if (!is_sum && !by_label && !(alone && names_total (run->name)))
          continue;
        char taken[SW_SHOWN];
        sw_show_length (measured, inches, taken);
        fields->row = row;
        sw_field_warn (fields, by_label ? columns.bay : columns.run,
                       "is taken for a %s of %s%s; if the row is a spreadsheet's total, leave it out",
                       by_label ? "bay" : "run of one bay", taken,
                       is_sum ? ", which is what all others add up to" : "");
      }
}

void
sw_fence_doubt (const sw_fence *fence, sw_fields *fields, sw_span_columns columns, const sw_settings *settings)
{
  size_t row = fields->row;
  doubt_units (fence, fields, columns.span, settings->inches);
  doubt_totals (fence, fields, columns, settings->inches);
  fields->row = row;
}
