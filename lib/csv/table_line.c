/* table_line.c - what a line of a CSV file tells before its cells are known
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/table_parts.h"

bool
sw_table_is_blank (const char *text, size_t count)
{
  for (size_t i = 0; i < count; i++)
    if (text[i] != ' ' && text[i] != '\t' && text[i] != '\r' && text[i] != '\n')
      return false;
  return true;
}

char
sw_table_separator (const char *bytes, size_t count)
{
  bool quoted = false;
  bool seen = false;
  char separator = '\0';
  for (size_t i = 0; i < count; i++)
    {
      char c = bytes[i];
      if (c == '"')
        quoted = !quoted;
      if (!quoted && (c == '\n' || c == '\r'))
        {
          if (seen)
            break;
          /* Tabs of a blank line separate nothing, so that they do not count as a separator. */
          separator = '\0';
        }
      if (!quoted && (c == ',' || c == ';' || c == '\t') && c != separator)
        {
          if (separator != '\0')
            return '\0';
          separator = c;
        }
      seen = seen || (c != ' ' && c != '\t' && c != '\n' && c != '\r');
    }
  return separator != '\0' ? separator : ',';
}

size_t
sw_table_first_line (const char *bytes, size_t count)
{
  size_t line = 1;
  for (size_t i = 0; i < count && sw_table_is_blank (bytes + i, 1); i++)
    line += bytes[i] == '\n';
  return line;
}

static bool
is_digit (char c)
{
  return c >= '0' && c <= '9';
}

bool
sw_table_first_has_decimals (const char *bytes, size_t count)
{
  size_t i = 0;
  while (i < count && sw_table_is_blank (bytes + i, 1))
    i++;
  for (i++; i + 1 < count && bytes[i] != '\n' && bytes[i] != '\r'; i++)
    if ((bytes[i] == ',' || bytes[i] == '.') && is_digit (bytes[i - 1]) && is_digit (bytes[i + 1]))
      return true;
  return false;
}

sw_status
sw_table_refuse_size (const char *file, sw_report *report)
{
  sw_report_add (report, SW_FAULT, file, 0, NULL, "a file of more than %zu MiB; expected a CSV file of at most that",
                 SW_TABLE_MAX_BYTES >> 20);
  return sw_report_broken (report) ? SW_NO_MEMORY : SW_REJECTED;
}
