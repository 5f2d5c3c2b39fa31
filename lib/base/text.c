/* text.c - builds strings, and shows text from a user safely
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/text.h"

#include "base/memory.h"
#include "base/width.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Make room for COUNT more bytes and the NUL after them. */
static bool
make_room (sw_text *text, size_t count)
{
  if (text->failed)
    return false;
  void *data = text->data;
  if (count > SIZE_MAX - 1 - text->length || sw_grow (&data, &text->capacity, text->length + count + 1, 1) != SW_OK)
    {
      text->failed = true;
      return false;
    }
  text->data = data;
  return true;
}

void
sw_text_add_bytes (sw_text *text, const char *bytes, size_t count)
{
  if (!make_room (text, count))
    return;
  if (count > 0)
    memcpy (text->data + text->length, bytes, count);
  text->length += count;
  text->data[text->length] = '\0';
}

void
sw_text_add (sw_text *text, const char *string)
{
  sw_text_add_bytes (text, string, strlen (string));
}

void
sw_text_repeat (sw_text *text, char character, size_t count)
{
  if (!make_room (text, count))
    return;
  memset (text->data + text->length, character, count);
  text->length += count;
  text->data[text->length] = '\0';
}

void
sw_text_vprintf (sw_text *text, const char *format, va_list arguments)
{
  if (text->failed)
    return;
  va_list again;
  va_copy (again, arguments);
  int bytes = vsnprintf (NULL, 0, format, arguments);
  if (bytes < 0)
    text->failed = true;
  else if (make_room (text, (size_t)bytes))
    {
      vsnprintf (text->data + text->length, (size_t)bytes + 1, format, again);
      text->length += (size_t)bytes;
    }
  va_end (again);
}

void
sw_text_printf (sw_text *text, const char *format, ...)
{
  va_list arguments;
  va_start (arguments, format);
  sw_text_vprintf (text, format, arguments);
  va_end (arguments);
}

char *
sw_text_take (sw_text *text)
{
  if (text->data == NULL)
    sw_text_add_bytes (text, NULL, 0);
  char *data = text->data;
  if (text->failed)
    {
      free (data);
      data = NULL;
    }
  *text = (sw_text){ 0 };
  return data;
}

char *
sw_text_path (const char *dir, const char *name)
{
  sw_text path = { 0 };
  size_t length = strlen (dir);
  sw_text_add (&path, dir);
  if (length > 0 && dir[length - 1] != '/')
    sw_text_add (&path, "/");
  sw_text_add (&path, name);
  return sw_text_take (&path);
}

void
sw_text_drop (sw_text *text)
{
  free (text->data);
  *text = (sw_text){ 0 };
}

void
sw_text_free (char *text)
{
  free (text);
}

/* ---- UTF-8 --------------------------------------------------------------- */

size_t
sw_text_decode (const char *bytes, size_t count, uint32_t *code)
{
  /* The least code that needs so many bytes. */
  static const uint32_t least[] = { 0, 0, 0x80, 0x800, 0x10000 };
  unsigned char first = (unsigned char)bytes[0];
  size_t size = first < 0x80 ? 1 : first < 0xC0 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : first < 0xF8 ? 4 : 0;
  if (size == 0 || size > count)
    return 0;
  uint32_t value = size == 1 ? first : first & (0x7Fu >> size);
  for (size_t i = 1; i < size; i++)
    {
      unsigned char next = (unsigned char)bytes[i];
      if ((next & 0xC0) != 0x80)
        return 0;
      value = value << 6 | (next & 0x3Fu);
    }
  if (value < least[size] || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF))
    return 0;
  *code = value;
  return size;
}

bool
sw_text_is_noncharacter (uint32_t code)
{
  return (code & 0xFFFE) == 0xFFFE || (code >= 0xFDD0 && code <= 0xFDEF);
}

/* Would a terminal do anything else with CODE than show it in its place? */
static bool
is_active (uint32_t code)
{
  return code < 0x20 || (code >= 0x7F && code < 0xA0)          /* C0, DEL, C1 */
         || code == 0x061C || code == 0x200E || code == 0x200F /* direction marks */
         || (code >= 0x2028 && code <= 0x202E)                 /* separators, embeddings, overrides */
         || (code >= 0x2066 && code <= 0x2069)                 /* isolates */
         || code == 0xFEFF || sw_text_is_noncharacter (code);
}

void
sw_text_add_shown (sw_text *text, const char *bytes, size_t count)
{
  size_t from = 0;
  size_t at = 0;
  while (at < count)
    {
      uint32_t code = 0;
      size_t size = sw_text_decode (bytes + at, count - at, &code);
      if (size > 0 && !is_active (code))
        {
          at += size;
          continue;
        }
      sw_text_add_bytes (text, bytes + from, at - from);
      if (size <= 1)
        sw_text_printf (text, "\\x%02X", (unsigned)(unsigned char)bytes[at]);
      else
        sw_text_printf (text, "\\u{%04X}", (unsigned)code);
      at += size > 0 ? size : 1;
      from = at;
    }
  sw_text_add_bytes (text, bytes + from, at - from);
}

size_t
sw_text_width (const char *utf8)
{
  size_t count = strlen (utf8);
  size_t width = 0;
  while (count > 0)
    {
      uint32_t code = 0;
      size_t size = sw_text_decode (utf8, count, &code);
      /* A stray byte appears as one replacement character. */
      width += size > 0 ? sw_width_of (code) : 1;
      utf8 += size > 0 ? size : 1;
      count -= size > 0 ? size : 1;
    }
  return width;
}

const char *
sw_text_error (int error, char buffer[SW_TEXT_ERROR])
{
#ifdef STRERROR_R_CHAR_P
  return strerror_r (error, buffer, SW_TEXT_ERROR);
#else
  if (strerror_r (error, buffer, SW_TEXT_ERROR) != 0)
    snprintf (buffer, SW_TEXT_ERROR, "system error %d", error);
  return buffer;
#endif
}

size_t
sw_text_distance (const char *a, const char *b, size_t *row)
{
  const size_t length = strlen (b);
  for (size_t j = 0; j <= length; j++)
    row[j] = j;
  for (size_t i = 0; a[i] != '\0'; i++)
    {
      size_t diagonal = row[0];
      row[0] = i + 1;
      for (size_t j = 0; j < length; j++)
        {
          size_t best = diagonal + (a[i] == b[j] ? 0 : 1);
          diagonal = row[j + 1];
          best = row[j] + 1 < best ? row[j] + 1 : best;
          row[j + 1] = diagonal + 1 < best ? diagonal + 1 : best;
        }
    }
  return row[length];
}
