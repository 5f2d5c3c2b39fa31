/* job_bare.c - bare numbers in a job that is printed in inches
 *
 * Whoever prints inches may take a bare number for inches, but it is
 * millimetres.  One note says so.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/job_bare.h"

#include "job/settings.h"
#include "csv/value.h"

#include <string.h>

/* In any file these columns hold lengths, or ends and seats that contain a length. */
static const char *const length_columns[]
    = { "span", "post_width", "near_post_width", "start", "finish", "rise",  "overall",  "step",
        "gap",  "height",     "block_length",    "seat",  "length", "width", "thickness" };

static bool
is_length_column (const char *name)
{
  for (size_t i = 0; i < sizeof length_columns / sizeof length_columns[0]; i++)
    if (sw_same_word (name, length_columns[i]))
      return true;
  return false;
}

/* The bare length in TEXT: all of it, or the part behind a word ("reach 40").  NULL: there is none,
 * or it is 0 and needs no unit. */
static const char *
bare_length (const char *text)
{
  static const char mitre[] = "mit"; /* what follows "mitre" or "miter" is an angle */
  const char *space = strrchr (text, ' ');
  bool is_word = (*text >= 'a' && *text <= 'z') || (*text >= 'A' && *text <= 'Z');
  if (is_word && (space == NULL || strncmp (text, mitre, sizeof mitre - 1) == 0))
    return NULL;
  const char *figure = is_word ? space + 1 : text;
  const char *digits = figure + (*figure == '-' || *figure == '+');
  size_t count = strspn (digits, "0123456789.,");
  return count > 0 && digits[count] == '\0' && strspn (digits, "0.,") < count ? figure : NULL;
}

bool
sw_job_note_bare (const sw_table *table, bool stock, sw_report *report)
{
  for (size_t row = 0; row < sw_table_rows (table); row++)
    for (size_t column = 0; column < sw_table_columns (table); column++)
      {
        if (!is_length_column (sw_table_header (table, column)))
          continue;
        const char *figure = bare_length (sw_table_cell (table, row, column));
        sw_length length;
        char shown[SW_SHOWN];
        char taken[SW_SHOWN];
        if (figure == NULL
            || !sw_length_parse (figure, stock ? SW_BARE_STOCK : SW_BARE_MM, sw_table_decimal_comma (table), &length,
                                 NULL))
          continue;
        sw_show_text (figure, shown);
        sw_show_length (length, false, taken);
        sw_report_add (report, SW_NOTE, sw_table_file (table), sw_table_line (table, row),
                       sw_table_header (table, column), "\"%s\" is taken for %s: " SW_SETTINGS_BARE, shown, taken);
        return true;
      }
  return false;
}
