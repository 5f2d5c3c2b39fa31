/* settings_check.c - remarks on settings at the place where they were written, and warnings of values that were
 * perhaps not meant
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/settings.h"

#include "base/decimal.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* A message made of a few shown texts is shorter. */
#define MESSAGE 700

void
sw_settings_remark (const sw_settings *settings, sw_report *report, sw_severity severity, const char *key,
                    const char *format, ...)
{
  char message[MESSAGE];
  size_t line = sw_settings_line (settings, key);
  va_list values;
  va_start (values, format);
  vsnprintf (message, sizeof message, format, values);
  va_end (values);
  sw_report_add (report, severity, line > 0 ? settings->file : NULL, line, key, "%s", message);
}

/* ---- Lengths that lack their unit ---- */

/* A bare number is millimetres.  Below LEAST it was probably meant as metres or inches: no blade is
 * thinner, and nothing so short is docked, kept or borne upon. */
static const struct
{
  const char *key;
  size_t offset; /* of the length in sw_settings */
  sw_length least;
} short_lengths[] = {
  { "kerf", offsetof (sw_settings, kerf), 3 * SW_MM / 10 },
  { "end-trim", offsetof (sw_settings, end_trim), SW_MM },
  { "post-width", offsetof (sw_settings, post_width), 10 * SW_MM },
  { "keep", offsetof (sw_settings, keep), 10 * SW_MM },
  { "min-bearing", offsetof (sw_settings, min_bearing), SW_MM },
  { "bow", offsetof (sw_settings, bow), SW_MM / 10 },
};

static void
check_short (const sw_settings *settings, sw_report *report, const char *key, sw_length length)
{
  char figure[SW_DECIMAL_TEXT];
  char metres[SW_LENGTH_TEXT];
  /* A length is in nanometres, which are millionths of a millimetre. */
  sw_decimal_format (length, 6, 0, figure);
  sw_length_format_mm (1000 * length, metres);
  if (settings->inches)
    sw_settings_remark (settings, report, SW_WARNING, key,
                        "is taken for %s mm, since a bare number is millimetres; if inches are meant, write %sin",
                        figure, figure);
  else
    sw_settings_remark (
        settings, report, SW_WARNING, key,
        "is taken for %s mm, since a bare number is millimetres; if metres are meant, write %sm (%s mm)", figure,
        figure, metres);
}

/* ---- Stock lengths with decimal commas ---- */

static void
show_stock (sw_length length, char out[SW_SHOWN])
{
  char figure[SW_LENGTH_TEXT];
  if (length >= SW_METRE)
    sw_length_format_m (length, false, figure);
  else
    sw_length_format_mm (length, figure);
  snprintf (out, SW_SHOWN, "%s %s", figure, length >= SW_METRE ? "m" : "mm");
}

static void
check_stock (const sw_settings *settings, sw_report *report)
{
  char shortest[SW_SHOWN];
  char longest[SW_SHOWN];
  char meant[SW_SHOWN];
  size_t count = settings->stock_length_count;
  if (settings->stock_meant[0] == '\0')
    return;
  /* There are at least two lengths, because each decimal comma has made two numbers of one. */
  show_stock (settings->stock_lengths[0], shortest);
  show_stock (settings->stock_lengths[count - 1], longest);
  sw_show_text (settings->stock_meant, meant);
  sw_settings_remark (settings, report, SW_WARNING, "stock-length",
                      "is taken for %zu lengths, %s %s %s; if %s is meant, write it with a decimal point", count,
                      shortest, count > 2 ? "to" : "and", longest, meant);
}

/* Compare the stock lengths as inches show them.  Whether inches are asked for is known only after
 * all settings have been read. */
static sw_status
check_stock_in_inches (const sw_settings *settings, sw_report *report)
{
  for (size_t i = 1; i < settings->stock_length_count; i++)
    if (sw_length_looks_like (settings->stock_lengths[i], settings->stock_lengths[i - 1], settings->inches))
      {
        char one[SW_LENGTH_TEXT];
        char other[SW_LENGTH_TEXT];
        sw_length_format_m (settings->stock_lengths[i - 1], true, one);
        sw_length_format_m (settings->stock_lengths[i], true, other);
        sw_settings_remark (settings, report, SW_FAULT, "stock-length",
                            "expected lengths that can be told apart where they are printed, found %s m and %s m, the "
                            "same to 1/16 in",
                            one, other);
        return SW_REJECTED;
      }
  return SW_OK;
}

bool
sw_settings_note_bare (const sw_settings *settings, sw_report *report)
{
  for (size_t i = 0; i < SW_SETTINGS_KEYS; i++)
    if ((settings->bare >> i & 1) != 0)
      {
        sw_settings_remark (settings, report, SW_NOTE, sw_settings_key (i), "%s", SW_SETTINGS_BARE);
        return true;
      }
  return false;
}

sw_status
sw_settings_check (const sw_settings *settings, sw_report *report)
{
  for (size_t i = 0; i < sizeof short_lengths / sizeof short_lengths[0]; i++)
    {
      sw_length length = *(const sw_length *)(const void *)((const char *)settings + short_lengths[i].offset);
      if (length > 0 && length < short_lengths[i].least)
        check_short (settings, report, short_lengths[i].key, length);
    }
  check_stock (settings, report);
  return check_stock_in_inches (settings, report);
}
