/* table_read.c - reads a CSV file; the only user of libcsv
 *
 * libcsv finds the cells.  It counts no lines, hides blank ones, accepts rows
 * of any width, NUL bytes and any encoding, and its callbacks cannot stop it.
 * This file hands it one line at a time and makes these checks itself.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/table_foreign.h"
#include "csv/table_parts.h"

#include "base/memory.h"
#include "base/text.h"

#include <csv.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

/* libcsv gets at most this much at a time, so that an endless cell is noticed before it has been copied. */
#define PIECE_BYTES ((size_t)64 << 10)
#define MISSING_HEADER "; is this a row of data, and the header missing?"

typedef struct reader
{
  sw_table *table;
  sw_report *report;
  struct csv_parser parser;
  size_t line;           /* the line that is being parsed, from 1 */
  const char *line_text; /* where that line begins */
  const char *begin;     /* the first byte of the file */
  const char *end;
  const char *searched;  /* unsound places before this have been reported */
  bool in_row;           /* the row began on an earlier line */
  size_t row_line;       /* the line on which the row began */
  size_t row_width;      /* cells of the row so far */
  size_t cell_line;      /* the line on which the cell began */
  const char *cell_text; /* where CELL_LINE begins */
  size_t open_bytes;     /* bytes handed to libcsv since the last cell ended, about */
  size_t rows_ended;     /* rows that ended on this line */
  bool lone_return;      /* a lone carriage return has been reported */
  bool looked;           /* HAS_UTF8 is known */
  bool has_utf8;
  bool has_header;
  size_t header_width; /* with the nameless columns behind all others */
  size_t named;        /* cells of the header up to the last that is not blank */
  bool has_number;     /* a cell of the header is a number */
  size_t faults;
  bool no_memory;
  bool stop; /* what follows could not be trusted, or would not fit */
} reader;

/* ---- Faults -------------------------------------------------------------- */

static void fault (reader *r, size_t line, const char *column, const char *format, ...) SW_PRINTF (4, 5);

static void
fault (reader *r, size_t line, const char *column, const char *format, ...)
{
  r->faults++;
  /* Only the number of further faults will be shown, so that their messages need not be written out. */
  if (r->faults > SW_REPORT_FILE_FAULTS)
    {
      sw_report_add (r->report, SW_FAULT, r->table->file, line, NULL, "one more");
      return;
    }
  va_list arguments;
  va_start (arguments, format);
  sw_text message = { 0 };
  sw_text_vprintf (&message, format, arguments);
  va_end (arguments);
  char *text = sw_text_take (&message);
  if (text == NULL)
    r->no_memory = true;
  else
    sw_report_add (r->report, SW_FAULT, r->table->file, line, column, "%s", text);
  free (text);
  if (sw_report_broken (r->report))
    r->no_memory = true;
}

/* The name of the column that the next cell belongs to, or NULL. */
static const char *
column_name (const reader *r)
{
  return r->has_header ? sw_table_header (r->table, r->row_width) : NULL;
}

/* The number of bytes from TEXT to the end of its line. */
static size_t
rest_of_line (const reader *r, const char *text)
{
  const char *at = text;
  while (at < r->end && *at != '\n' && *at != '\r')
    at++;
  return (size_t)(at - text);
}

static void
fault_open_quote (reader *r)
{
  fault (r, r->cell_line, column_name (r), "a quote is opened here and never closed: %.*s",
         sw_table_shown (r->cell_text, rest_of_line (r, r->cell_text)), r->cell_text);
}

/* Report the byte at AT, which libcsv refused: it is a quote inside a cell that is not quoted, or
 * text after a closing quote. */
static void
fault_quote (reader *r, const char *at)
{
  const char *from = at;
  char separator = r->table->separator;
  while (from > r->line_text && from[-1] != separator)
    from--;
  size_t count = 0;
  while (from + count < r->end && from[count] != separator && from[count] != '\n' && from[count] != '\r')
    count++;
  if (!r->parser.quoted)
    fault (r, r->line, column_name (r),
           "a quote inside a cell that is not quoted: %.*s; expected the cell in quotes and the quote doubled"
           " (\"10 1/2\"\"\"), or for inches \"in\" instead",
           sw_table_shown (from, count), from);
  else
    fault (
        r, r->line, column_name (r),
        "text after a closing quote: %.*s; expected the next separator, or a quote doubled if it belongs to the text",
        sw_table_shown (from, count), from);
}

/* ---- Cells and rows, as libcsv finds them -------------------------------- */

/* The place of the next unsound character of the cells.  libcsv hands over all such characters, in
 * the order of the file, so that the search goes on from the last place. */
static const char *
find_unsound (reader *r)
{
  const char *from = r->searched > r->cell_text ? r->searched : r->cell_text;
  size_t size;
  uint32_t code;
  from += sw_table_unsound (from, (size_t)(r->end - from), &size, &code);
  r->searched = from < r->end ? from + size : from;
  return from;
}

/* Report the first unsound place of a cell and skip its other ones. */
static void
check_text (reader *r, const char *text, size_t count)
{
  bool told = false;
  size_t size;
  uint32_t code;
  for (size_t at = 0; (at += sw_table_unsound (text + at, count - at, &size, &code)) < count; at += size)
    {
      const char *where = find_unsound (r);
      size_t line = r->cell_line;
      if (told)
        continue;
      told = true;
      /* These faults will only be counted, so that their places need not be found. */
      if (r->faults >= SW_REPORT_FILE_FAULTS)
        {
          fault (r, line, NULL, "one more");
          continue;
        }
      size_t place = sw_table_place (r->cell_text, where, &line);
      /* If the file has other letters in UTF-8, it is damaged, and nobody can guess the byte. */
      r->has_utf8 = r->looked ? r->has_utf8 : sw_table_has_utf8 (r->begin, (size_t)(r->end - r->begin));
      r->looked = true;
      char *message = sw_table_explain (text, count, at, code, place, !r->has_utf8);
      if (message == NULL)
        r->no_memory = true;
      else
        fault (r, line, column_name (r), "%s", message);
      free (message);
    }
}

/* Is the text a number?  A number is no formula, whatever its sign, so that writing must not defuse it. */
static bool
is_number (const char *text, size_t count)
{
  size_t i = count > 0 && (text[0] == '-' || text[0] == '+') ? 1 : 0;
  bool digits = false;
  for (; i < count && ((text[i] >= '0' && text[i] <= '9') || text[i] == '.' || text[i] == ','); i++)
    digits = true;
  return digits && i == count;
}

/* A cell of the header: count the columns that have names.  A cell below: report text in a column without a name. */
static void
check_name (reader *r, const char *text, size_t count)
{
  if (count == 0)
    return;
  if (!r->has_header)
    {
      r->named = r->row_width + 1;
      r->has_number = r->has_number || is_number (text, count);
    }
  else if (r->row_width >= r->table->columns && r->row_width < r->header_width)
    fault (r, r->cell_line, NULL,
           "\"%.*s\" stands in column %zu, which has no name in the header; expected a name there or nothing below it",
           sw_table_shown (text, count), text, r->row_width + 1);
}

static void
on_cell (void *data, size_t count, void *user)
{
  reader *r = user;
  const char *text = data;
  if (r->stop || r->no_memory)
    return;
  while (count > 0 && (*text == ' ' || *text == '\t'))
    {
      text++;
      count--;
    }
  while (count > 0 && (text[count - 1] == ' ' || text[count - 1] == '\t'))
    count--;
  check_text (r, text, count);
  if (count > SW_TABLE_MAX_CELL)
    {
      fault (r, r->cell_line, column_name (r), "a cell of %zu bytes; expected at most %zu", count, SW_TABLE_MAX_CELL);
      count = 0;
    }
  check_name (r, text, count);
  /* A column's name is text, even if it looks like a number. */
  bool is_text = !r->has_header || !is_number (text, count);
  if (count > 0 && text[0] == '\'' && sw_table_is_formula (text, count))
    {
      text++;
      count--;
    }
  /* The rows of a refused file are not kept, nor are surplus cells. */
  bool keep = r->has_header ? r->faults == 0 && r->row_width < r->table->columns : r->row_width < SW_TABLE_MAX_COLUMNS;
  sw_cell cell;
  if (keep && (!sw_table_store (r->table, text, count, is_text, &cell) || !sw_table_push (r->table, cell)))
    r->no_memory = true;
  r->row_width++;
  r->cell_line = r->line;
  r->cell_text = r->line_text;
  r->open_bytes = 0;
}

static void
end_header (reader *r)
{
  sw_table *table = r->table;
  if (r->named > SW_TABLE_MAX_COLUMNS)
    {
      fault (r, r->row_line, NULL, "%zu columns; expected at most %d", r->named, SW_TABLE_MAX_COLUMNS);
      r->stop = true;
      return;
    }
  /* Spreadsheets leave nameless columns behind the others where columns were deleted.  A header
   * without any name is reported below. */
  table->columns = r->named > 0 ? r->named : 1;
  while (table->cell_count > table->columns)
    table->cell_count--;
  r->header_width = r->row_width;
  r->has_header = true;
  r->table->header_line = r->row_line;
  const char *data = r->has_number ? MISSING_HEADER : "";
  for (size_t i = 0; i < table->columns; i++)
    {
      const char *name = sw_table_header (table, i);
      if (*name == '\0')
        fault (r, r->row_line, NULL, "column %zu of the header has no name; expected a name for every column%s", i + 1,
               data);
      else if ((size_t)sw_table_find (table, name) < i)
        fault (r, r->row_line, name, "this name stands twice in the header; expected each name once%s", data);
    }
}

static void
end_body_row (reader *r)
{
  sw_table *table = r->table;
  if (r->row_width < table->columns || r->row_width > r->header_width)
    fault (r, r->row_line, NULL, "a row of %zu %s; expected %zu, as in the header%s", r->row_width,
           r->row_width == 1 ? "cell" : "cells", table->columns,
           r->row_width <= table->columns ? ""
           : table->separator == ',' ? " (a cell that holds a separator goes in quotes; a number is written with a "
                                       "decimal point, and without commas between thousands)"
                                     : " (a cell that holds a separator goes in quotes)");
  if (table->rows >= SW_TABLE_MAX_ROWS || table->cell_count > SW_TABLE_MAX_CELLS)
    {
      fault (r, r->row_line, NULL, "too many rows; expected at most %zu rows and %zu cells", SW_TABLE_MAX_ROWS,
             SW_TABLE_MAX_CELLS);
      r->stop = true;
    }
  else if (r->faults == 0 && !sw_table_end_row (table, r->row_line))
    r->no_memory = true;
}

static void
on_row (int terminator, void *user)
{
  (void)terminator;
  reader *r = user;
  if (r->stop || r->no_memory)
    return;
  r->rows_ended++;
  if (r->rows_ended > 1)
    {
      if (!r->lone_return)
        fault (r, r->line, NULL, "a carriage return inside the line; expected lines that end in LF or CRLF");
      r->lone_return = true;
    }
  else if (r->has_header)
    end_body_row (r);
  else
    end_header (r);
  r->in_row = false;
  r->row_width = 0;
}

/* ---- Lines --------------------------------------------------------------- */

/* Is the line a row of separators only?  Spreadsheets leave such rows where rows were deleted, and
 * they mean no more than a blank line.  One of the wrong width is not skipped, so that it is
 * reported. */
static bool
is_row_of_nothing (const reader *r, const char *text, size_t count)
{
  size_t separators = 0;
  for (size_t i = 0; i < count; i++)
    if (text[i] == r->table->separator)
      separators++;
    else if (!sw_table_is_blank (text + i, 1))
      return false;
  return separators > 0
         && (!r->has_header || (separators + 1 >= r->table->columns && separators + 1 <= r->header_width));
}

static bool
start_parser (reader *r)
{
  if (csv_init (&r->parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
    return false;
  csv_set_delim (&r->parser, (unsigned char)r->table->separator);
  csv_set_blk_size (&r->parser, 4096);
  return true;
}

/* libcsv stopped at AT.  If the row began on this line, give it up and go on with the next line.
 * If it began earlier, nobody knows which of its quotes is wrong, and reading ends. */
static void
recover (reader *r, const char *at)
{
  if (csv_error (&r->parser) != CSV_EPARSE)
    {
      r->no_memory = true;
      return;
    }
  fault_quote (r, at);
  csv_free (&r->parser);
  if (!start_parser (r))
    r->no_memory = true;
  r->stop = r->row_line != r->line || !r->has_header;
  r->in_row = false;
  r->row_width = 0;
}

static void
parse_line (reader *r, const char *text, size_t count)
{
  r->line_text = text;
  r->rows_ended = 0;
  if (!r->in_row)
    {
      /* In a file with tabs, a line of tabs is a row, as a line of commas is; with too few tabs it
       * has the wrong width. */
      if (sw_table_is_blank (text, count) && (r->table->separator != '\t' || memchr (text, '\t', count) == NULL))
        return;
      if (is_row_of_nothing (r, text, count))
        return;
      r->in_row = true;
      r->row_line = r->cell_line = r->line;
      r->cell_text = text;
      r->open_bytes = 0;
    }
  for (size_t at = 0, piece; at < count; at += piece)
    {
      piece = count - at < PIECE_BYTES ? count - at : PIECE_BYTES;
      r->open_bytes += piece;
      size_t used = csv_parse (&r->parser, text + at, piece, on_cell, on_row, r);
      if (r->stop || r->no_memory)
        return;
      if (used < piece)
        {
          recover (r, text + at + used);
          return;
        }
      /* The limit is doubled because every quote in the cell may be doubled. */
      if (r->open_bytes > 2 * (SW_TABLE_MAX_CELL + PIECE_BYTES))
        {
          fault (r, r->cell_line, column_name (r),
                 "a cell of more than %zu bytes; is a quote opened here and not closed?", SW_TABLE_MAX_CELL);
          r->stop = true;
          return;
        }
    }
}

static void
parse_lines (reader *r, const char *bytes, size_t count)
{
  r->begin = r->searched = bytes;
  r->end = bytes + count;
  for (size_t at = 0, size; at < count && !r->stop && !r->no_memory; at += size)
    {
      const char *newline = memchr (bytes + at, '\n', count - at);
      size = newline != NULL ? (size_t)(newline - (bytes + at)) + 1 : count - at;
      r->line++;
      parse_line (r, bytes + at, size);
    }
  /* After an error libcsv must not be asked to finish. */
  if (r->stop || r->no_memory)
    return;
  if (csv_fini (&r->parser, on_cell, on_row, r) != 0)
    {
      if (csv_error (&r->parser) == CSV_EPARSE)
        fault_open_quote (r);
      else
        r->no_memory = true;
    }
  else if (!r->has_header && !r->stop && r->faults == 0)
    fault (r, 0, NULL, "the file is empty; expected a header row");
}

static void
read_all (reader *r, const char *bytes, size_t count)
{
  const char *kind = sw_table_foreign (bytes, count);
  if (kind != NULL)
    {
      fault (r, 0, NULL,
             "the file is %s and no CSV; expected its table saved as CSV (in a spreadsheet: Save as, \"CSV UTF-8\")",
             kind);
      return;
    }
  /* After the mark libcsv would take an opening quote for one inside a cell. */
  if (count >= 3 && memcmp (bytes, SW_BYTE_ORDER_MARK, 3) == 0)
    {
      bytes += 3;
      count -= 3;
    }
  r->table->separator = sw_table_separator (bytes, count);
  if (r->table->separator == '\0')
    {
      fault (r, sw_table_first_line (bytes, count), NULL,
             "the header holds more than one of comma, semicolon and tab; expected one separator, or the name in "
             "quotes%s",
             sw_table_first_has_decimals (bytes, count) ? MISSING_HEADER : "");
      return;
    }
  if (start_parser (r))
    parse_lines (r, bytes, count);
  else
    r->no_memory = true;
  csv_free (&r->parser);
}

sw_status
sw_table_read_bytes (sw_table **out, const char *bytes, size_t count, const char *file, sw_report *report)
{
  *out = NULL;
  if (count > SW_TABLE_MAX_BYTES)
    return sw_table_refuse_size (file, report);
  reader r = { .report = report };
  r.table = sw_table_begin (file);
  if (r.table == NULL)
    return SW_NO_MEMORY;
  read_all (&r, bytes, count);
  if (!r.no_memory && r.faults == 0)
    {
      *out = r.table;
      return SW_OK;
    }
  sw_table_free (r.table);
  return r.no_memory ? SW_NO_MEMORY : SW_REJECTED;
}
