/* book_cell.c - cells of a workbook, and what a sheet looks like
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "book/book.h"

#include "base/text.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

/* A double has all numbers of so many figures. */
#define MOST_FIGURES 15
/* Narrower columns hide their header's arrow, wider ones push the next off the screen. */
#define LEAST_WIDTH 7
#define MOST_WIDTH 48
/* Paper sizes as ECMA-376 numbers them (18.3.1.63). */
#define PAPER_LETTER 1
#define PAPER_A4 9
/* The most bytes of XML that a cell takes besides its text, and the longest that one character of the text becomes:
 * "_x001B_". */
#define CELL_BYTES 96
#define LONGEST_ESCAPE 7
/* Bytes of a description, the longest text that has a meaning. */
#define LONGEST_NAME 1000
/* Bytes of a sheet besides its cells, and of a column's width. */
#define SHEET_BYTES 2048

bool
sw_book_goes_on (const sw_book *book)
{
  return book->status == SW_OK;
}

static void
note (sw_book *book, lxw_error error)
{
  if (book->status == SW_OK && error != LXW_NO_ERROR)
    book->status = error == LXW_ERROR_MEMORY_MALLOC_FAILED ? SW_NO_MEMORY : SW_FAILED;
}

bool
sw_book_is_number (const char *text, bool comma, double *number)
{
  const char *at = text + (*text == '-' ? 1 : 0);
  const char *first = at;
  int64_t digits = 0;
  double scale = 1;
  int figures = 0;
  bool point = false;
  for (; *at != '\0'; at++)
    {
      if (!point && (*at == '.' || (comma && *at == ',')) && at > first && at[1] != '\0')
        point = true;
      else if (*at < '0' || *at > '9' || ++figures > MOST_FIGURES)
        return false;
      else
        {
          digits = 10 * digits + (*at - '0');
          scale *= point ? 10 : 1;
        }
    }
  if (figures == 0 || (*first == '0' && first[1] != '\0' && first[1] != '.' && first[1] != ','))
    return false;
  /* Both numbers are whole and small enough for a double, so their quotient is the nearest one. */
  *number = (*text == '-' ? -1 : 1) * ((double)digits / scale);
  return true;
}

/* Does TEXT begin with a code for a character in a workbook, such as "_x0041_" for "A"? */
static bool
is_escape (const char *text)
{
  return strncmp (text, "_x", 2) == 0 && strspn (text + 2, "0123456789ABCDEFabcdef") >= 4 && text[6] == '_';
}

static bool
has_escape (const char *text)
{
  for (const char *at = strchr (text, '_'); at != NULL; at = strchr (at + 1, '_'))
    if (is_escape (at))
      return true;
  return false;
}

/* The bytes of TEXT that a spreadsheet takes; the rest is cut off. */
static size_t
fits (const char *text)
{
  size_t characters = 0;
  size_t at = 0;
  for (; text[at] != '\0' && characters < SW_BOOK_MOST_CHARACTERS; characters++)
    for (at++; ((unsigned char)text[at] & 0xC0) == 0x80;)
      at++;
  return at;
}

static uint64_t
bytes_of (const char *text)
{
  uint64_t bytes = 0;
  for (; *text != '\0'; text++)
    bytes += (unsigned char)*text < ' ' || strchr ("&<>\"_", *text) != NULL ? LONGEST_ESCAPE : 1;
  return bytes;
}

/* Does the sheet's file have room for so many bytes?  The library would not notice that it has none. */
static bool
has_room (sw_book *book, uint64_t bytes)
{
  if (book->status != SW_OK || book->file_left == UINT64_MAX)
    return book->status == SW_OK;
  if (bytes > book->file_left)
    {
      errno = EFBIG;
      book->status = SW_IO;
      return false;
    }
  book->file_left -= bytes;
  return true;
}

static bool
begin_cell (sw_book *book, const char *text)
{
  if (!has_room (book, CELL_BYTES + bytes_of (text)))
    return false;
  book->cells++;
  return true;
}

void
sw_book_text (sw_book *book, lxw_worksheet *sheet, size_t row, size_t column, const char *text, sw_book_style style)
{
  const size_t bytes = strlen (text);
  if (bytes == 0 || sheet == NULL || !begin_cell (book, text))
    return;
  const size_t keep = bytes <= SW_BOOK_MOST_CHARACTERS ? bytes : fits (text);
  /* No name is longer, and a longer text must not grow past what a cell takes. */
  const bool escape = bytes <= LONGEST_NAME && has_escape (text);
  if (keep == bytes && !escape)
    {
      note (book, worksheet_write_string (sheet, (lxw_row_t)row, (lxw_col_t)column, text, book->styles[style]));
      return;
    }
  sw_text made = { 0 };
  for (size_t i = 0; i < keep; i++)
    {
      /* Write its first character as a code; the library does so only for control characters. */
      if (escape && is_escape (text + i))
        sw_text_add (&made, "_x005F");
      sw_text_add_bytes (&made, text + i, 1);
    }
  char *shown = sw_text_take (&made);
  book->cut_short = book->cut_short || keep < bytes;
  if (shown == NULL)
    book->status = SW_NO_MEMORY;
  else
    note (book, worksheet_write_string (sheet, (lxw_row_t)row, (lxw_col_t)column, shown, book->styles[style]));
  free (shown);
}

void
sw_book_number (sw_book *book, lxw_worksheet *sheet, size_t row, size_t column, double number, sw_book_style style)
{
  if (sheet != NULL && begin_cell (book, ""))
    note (book, worksheet_write_number (sheet, (lxw_row_t)row, (lxw_col_t)column, number, book->styles[style]));
}

void
sw_book_formula (sw_book *book, lxw_worksheet *sheet, size_t row, size_t column, const char *formula, double value,
                 sw_book_style style)
{
  if (sheet != NULL && begin_cell (book, formula))
    note (book, worksheet_write_formula_num (sheet, (lxw_row_t)row, (lxw_col_t)column, formula, book->styles[style],
                                             value));
}

lxw_worksheet *
sw_book_add_sheet (sw_book *book, const char *name)
{
  book->file_left = book->file_most;
  if (!has_room (book, SHEET_BYTES))
    return NULL;
  errno = 0;
  lxw_worksheet *sheet = workbook_add_worksheet (book->workbook, name);
  if (sheet == NULL)
    {
      /* It failed for want of memory, or of a temporary file. */
      book->status = errno == 0 || errno == ENOMEM ? SW_NO_MEMORY : SW_IO;
      return NULL;
    }
  worksheet_set_landscape (sheet);
  worksheet_set_paper (sheet, book->plan->job->settings->paper == SW_PAPER_LETTER ? PAPER_LETTER : PAPER_A4);
  /* As wide as the paper, and as long as it takes. */
  worksheet_fit_to_pages (sheet, 1, 0);
  return sheet;
}

void
sw_book_width (sw_book *book, lxw_worksheet *sheet, size_t column, size_t wide)
{
  const size_t shown = wide < LEAST_WIDTH ? LEAST_WIDTH : wide > MOST_WIDTH ? MOST_WIDTH : wide;
  if (sheet != NULL && has_room (book, CELL_BYTES))
    note (book, worksheet_set_column (sheet, (lxw_col_t)column, (lxw_col_t)column, (double)shown, NULL));
}
