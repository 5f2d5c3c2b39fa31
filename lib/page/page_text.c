/* page_text.c - a user's texts in markup and in a script's data; figures of the drawings
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "page/page.h"

#include "base/memory.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void
sw_page_text (sw_text *out, const char *text)
{
  sw_text shown = { 0 };
  sw_text_add_shown (&shown, text, strlen (text));
  char *line = sw_text_take (&shown);
  if (line == NULL)
    {
      out->failed = true;
      return;
    }
  for (const char *at = line; *at != '\0'; at++)
    switch (*at)
      {
      case '&':
        sw_text_add (out, "&amp;");
        break;
      case '<':
        sw_text_add (out, "&lt;");
        break;
      case '>':
        sw_text_add (out, "&gt;");
        break;
      case '"':
        sw_text_add (out, "&quot;");
        break;
      case '\'':
        sw_text_add (out, "&#39;");
        break;
      default:
        sw_text_add_bytes (out, at, 1);
      }
  sw_text_free (line);
}

void
sw_page_name (sw_text *out, const char *text)
{
  sw_text_add (out, "<bdi>");
  sw_page_text (out, text);
  sw_text_add (out, "</bdi>");
}

/* A longer last part is a name, which may be broken. */
#define UNBROKEN 14

void
sw_page_label (sw_text *out, const char *label)
{
  const char *slash = strrchr (label, '/');
  const char *last = slash != NULL && strlen (slash + 1) <= UNBROKEN ? slash + 1 : label + strlen (label);
  char *first = sw_copy_text (label);
  if (first == NULL)
    {
      out->failed = true;
      return;
    }
  first[last - label] = '\0';
  sw_text_add (out, "<bdi>");
  sw_page_text (out, first);
  if (*last != '\0')
    {
      sw_text_add (out, "<span class=\"nb\">");
      sw_page_text (out, last);
      sw_text_add (out, "</span>");
    }
  sw_text_add (out, "</bdi>");
  free (first);
}

/* Write all that is not printable ASCII, and all that could end a script or a string, as \uNNNN, so that a browser has
 * nothing to guess. */
void
sw_page_string (sw_text *out, const char *text)
{
  sw_text_add (out, "\"");
  for (size_t left = strlen (text); left > 0;)
    {
      uint32_t code = 0;
      size_t bytes = sw_text_decode (text, left, &code);
      if (bytes == 0)
        {
          /* No job has such a text; if one had, the replacement character would be shown. */
          code = 0xFFFD;
          bytes = 1;
        }
      if (code > 0xFFFF)
        sw_text_printf (out, "\\u%04" PRIx32 "\\u%04" PRIx32, 0xD800 + ((code - 0x10000) >> 10),
                        0xDC00 + ((code - 0x10000) & 0x3FF));
      else if (code < ' ' || code > '~' || strchr ("<>&'\"\\", (int)code) != NULL)
        sw_text_printf (out, "\\u%04" PRIx32, code);
      else
        sw_text_add_bytes (out, text, 1);
      text += bytes;
      left -= bytes;
    }
  sw_text_add (out, "\"");
}

void
sw_page_percent (sw_text *out, sw_length part, sw_length whole)
{
  /* Micrometres will do, and keep the product in range. */
  const int64_t of = whole / 1000 > 0 ? whole / 1000 : 1;
  const int64_t thousandths = (part / 1000 * 100000 + of / 2) / of;
  sw_text_printf (out, "%" PRId64, thousandths / 1000);
  if (thousandths % 1000 != 0)
    {
      char decimals[8];
      snprintf (decimals, sizeof decimals, ".%03d", (int)(thousandths % 1000));
      for (size_t last = 3; decimals[last] == '0'; last--)
        decimals[last] = '\0';
      sw_text_add (out, decimals);
    }
  sw_text_add (out, "%");
}
