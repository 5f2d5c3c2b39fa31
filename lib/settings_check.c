/* settings_check.c - remarks on settings, laid to where they were written
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "settings.h"

#include <stdarg.h>
#include <stdio.h>

/* Longer than any message made of a few shown texts. */
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
