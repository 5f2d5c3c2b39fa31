/* table_foreign.c - says what a file is when it is not CSV in UTF-8
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/table_foreign.h"

#include "base/text.h"

#include <string.h>

/* The part of a faulty cell that is shown. */
#define SHOWN_BYTES 60

/* ---- Files of another kind ---- */

/* The first bytes of kinds of files that are taken for a table by mistake.  The owner of each format publishes them. */
static const struct
{
  const char *bytes;
  size_t count;
  const char *kind;
} beginnings[] = {
  { "\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1", 8, "an .xls workbook or another old office file" },
  { "%PDF-", 5, "a PDF" },
  { "{\\rtf", 5, "an .rtf document" },
  { "\xFF\xD8\xFF", 3, "a picture (JPEG)" },
  { "\x89PNG\r\n", 6, "a picture (PNG)" },
  { "\x1F\x8B", 2, "packed (gzip)" },
  { "\xFF\xFE\0\0", 4, "UTF-32" },
  { "\0\0\xFE\xFF", 4, "UTF-32" },
  { "\xFF\xFE", 2, "UTF-16 (\"Unicode text\" in spreadsheets)" },
  { "\xFE\xFF", 2, "UTF-16 (\"Unicode text\" in spreadsheets)" },
};

/* A ZIP archive holds the names of its files as plain text, and they tell what kind of document it is. */
static const struct
{
  const char *name;
  const char *kind;
} archives[] = {
  { "xl/workbook", "an .xlsx workbook" },
  { "application/vnd.oasis.opendocument.spreadsheet", "an .ods workbook" },
  { "Index/Tables/", "a .numbers workbook" },
  { "word/document", "a .docx document" },
  { "application/vnd.oasis.opendocument.text", "an .odt document" },
};

static bool
begins (const char *bytes, size_t count, const char *with, size_t length)
{
  return count >= length && memcmp (bytes, with, length) == 0;
}

/* Does the text at BYTES, which has no spaces in front, begin like a web page? */
static bool
is_page (const char *bytes, size_t count)
{
  static const char *const marks[] = { "<!doctype html", "<html", "<?xml" };
  for (size_t m = 0; m < sizeof marks / sizeof marks[0]; m++)
    {
      size_t i = 0;
      while (i < count && marks[m][i] != '\0'
             && (bytes[i] >= 'A' && bytes[i] <= 'Z' ? bytes[i] - 'A' + 'a' : bytes[i]) == marks[m][i])
        i++;
      if (marks[m][i] == '\0')
        return true;
    }
  return false;
}

/* Is it UTF-16 without a byte order mark?  Every other byte of its header is 0. */
static bool
is_bare_utf16 (const char *bytes, size_t count)
{
  size_t zeros[2] = { 0, 0 };
  size_t look = (count < 32 ? count : 32) / 2 * 2;
  for (size_t i = 0; i < look; i++)
    zeros[i % 2] += bytes[i] == '\0';
  return look >= 8 && ((zeros[0] == look / 2 && zeros[1] == 0) || (zeros[1] == look / 2 && zeros[0] == 0));
}

const char *
sw_table_foreign (const char *bytes, size_t count)
{
  for (size_t i = 0; i < sizeof beginnings / sizeof beginnings[0]; i++)
    if (begins (bytes, count, beginnings[i].bytes, beginnings[i].count))
      return beginnings[i].kind;
  if (begins (bytes, count, "PK\3\4", 4) || begins (bytes, count, "PK\5\6", 4))
    {
      for (size_t i = 0; i < sizeof archives / sizeof archives[0]; i++)
        if (memmem (bytes, count, archives[i].name, strlen (archives[i].name)) != NULL)
          return archives[i].kind;
      return "a ZIP archive (as .xlsx, .ods and .numbers workbooks are)";
    }
  if (is_bare_utf16 (bytes, count))
    return "UTF-16 (\"Unicode text\" in spreadsheets)";
  size_t mark = begins (bytes, count, "\xEF\xBB\xBF", 3) ? 3 : 0;
  while (mark < count && (bytes[mark] == ' ' || bytes[mark] == '\n' || bytes[mark] == '\r' || bytes[mark] == '\t'))
    mark++;
  return is_page (bytes + mark, count - mark) ? "a page of the web (HTML or XML)" : NULL;
}

/* ---- Text of another encoding ---- */

size_t
sw_table_unsound (const char *text, size_t count, size_t *size, uint32_t *code)
{
  size_t at = 0;
  for (; at < count; at += *size)
    {
      *size = sw_text_decode (text + at, count - at, code);
      if (*size > 0 && *code != 0 && !sw_text_is_noncharacter (*code))
        continue;
      if (*size == 0)
        *code = UINT32_MAX;
      *size = *size > 0 ? *size : 1;
      break;
    }
  return at;
}

bool
sw_table_has_utf8 (const char *text, size_t count)
{
  for (size_t at = 0; at < count; at++)
    {
      uint32_t code;
      if ((unsigned char)text[at] >= 0x80 && sw_text_decode (text + at, count - at, &code) > 1)
        return true;
    }
  return false;
}

size_t
sw_table_place (const char *from, const char *place, size_t *line)
{
  for (const char *p = from; p < place; p++)
    if (*p == '\n')
      {
        ++*line;
        from = p + 1;
      }
  size_t number = 1;
  while (from < place)
    {
      uint32_t code;
      size_t size = sw_text_decode (from, (size_t)(place - from), &code);
      from += size > 0 ? size : 1;
      number++;
    }
  return number;
}

/* Windows-1252 from 80 to 9F, after the Encoding Standard (WHATWG) and the mapping at unicode.org.
 * 0: no character.  From A0 on the codes are those of Unicode. */
static const uint16_t windows_1252[32]
    = { 0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
        0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
        0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178 };

/* The character of BYTE in Windows-1252, written in UTF-8.  "": there is none. */
static const char *
letter_of (unsigned char byte, char out[4])
{
  unsigned code = byte < 0x80 || byte >= 0xA0 ? byte : windows_1252[byte - 0x80];
  memset (out, 0, 4);
  if (code < 0x80)
    out[0] = (char)code;
  else if (code < 0x800)
    {
      out[0] = (char)(0xC0 | code >> 6);
      out[1] = (char)(0x80 | (code & 0x3F));
    }
  else
    {
      out[0] = (char)(0xE0 | code >> 12);
      out[1] = (char)(0x80 | (code >> 6 & 0x3F));
      out[2] = (char)(0x80 | (code & 0x3F));
    }
  return out;
}

int
sw_table_shown (const char *text, size_t count)
{
  if (count > SHOWN_BYTES)
    {
      count = SHOWN_BYTES;
      while (count > SHOWN_BYTES - 4 && ((unsigned char)text[count] & 0xC0) == 0x80)
        count--;
    }
  return (int)count;
}

char *
sw_table_explain (const char *text, size_t count, size_t at, uint32_t code, size_t place, bool guess)
{
  /* The sound text before the place is shown, so that the user can find it. */
  size_t from = at > SHOWN_BYTES / 2 ? at - SHOWN_BYTES / 2 : 0;
  while (from < at && ((unsigned char)text[from] & 0xC0) == 0x80)
    from++;
  int length = sw_table_shown (text + from, count - from);
  char letter[4];
  sw_text out = { 0 };
  if (code == 0)
    sw_text_printf (&out, "a NUL byte after \"%.*s\"; expected plain text", (int)(at - from), text + from);
  else if (code != UINT32_MAX)
    sw_text_printf (&out,
                    "character %zu of the line is U+%04X, which Unicode keeps for no character; expected text without "
                    "it, found \"%.*s\"",
                    place, (unsigned)code, length, text + from);
  else
    {
      sw_text_printf (&out, "\"%.*s\" is not UTF-8: character %zu of the line is the byte %02X", length, text + from,
                      place, (unsigned)(unsigned char)text[at]);
      if (guess && *letter_of ((unsigned char)text[at], letter) != '\0')
        sw_text_printf (&out, ", probably \"%s\" of Windows-1252", letter);
      sw_text_add (&out, "; expected the file saved as \"CSV UTF-8\"");
    }
  return sw_text_take (&out);
}
