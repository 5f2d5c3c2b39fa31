/* table.c - a table in memory, and writing it as CSV
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/table_parts.h"

#include "base/memory.h"
#include "base/text.h"

#include <stdlib.h>
#include <string.h>

sw_table *
sw_table_begin (const char *file)
{
  sw_table *table = sw_alloc (1, sizeof *table);
  if (table == NULL)
    return NULL;
  table->separator = ',';
  table->file = sw_copy_text (file);
  void *bytes = NULL;
  if (table->file == NULL || sw_grow (&bytes, &table->byte_capacity, 1, 1) != SW_OK)
    {
      sw_table_free (table);
      return NULL;
    }
  table->bytes = bytes;
  table->bytes[table->byte_count++] = '\0';
  return table;
}

void
sw_table_free (sw_table *table)
{
  if (table == NULL)
    return;
  free (table->file);
  free (table->cells);
  free (table->bytes);
  free (table->lines);
  free (table);
}

bool
sw_table_store (sw_table *table, const char *text, size_t count, bool is_text, sw_cell *out)
{
  *out = is_text;
  if (count == 0)
    return true;
  void *bytes = table->bytes;
  sw_status status = sw_grow (&bytes, &table->byte_capacity, table->byte_count + count + 1, 1);
  table->bytes = bytes;
  if (status != SW_OK)
    return false;
  *out = table->byte_count * 2 + is_text;
  memcpy (table->bytes + table->byte_count, text, count);
  table->byte_count += count;
  table->bytes[table->byte_count++] = '\0';
  return true;
}

bool
sw_table_push (sw_table *table, sw_cell cell)
{
  void *cells = table->cells;
  sw_status status = sw_grow (&cells, &table->cell_capacity, table->cell_count + 1, sizeof (sw_cell));
  table->cells = cells;
  if (status != SW_OK)
    return false;
  table->cells[table->cell_count++] = cell;
  return true;
}

bool
sw_table_end_row (sw_table *table, size_t line)
{
  void *lines = table->lines;
  sw_status status = sw_grow (&lines, &table->line_capacity, table->rows + 1, sizeof (size_t));
  table->lines = lines;
  if (status != SW_OK)
    return false;
  table->lines[table->rows++] = line;
  return true;
}

bool
sw_table_is_formula (const char *text, size_t count)
{
  size_t first = 0;
  /* Text that begins with apostrophes gets one more.  Otherwise reading it would take off an
   * apostrophe that belongs to it. */
  while (first < count && text[first] == '\'')
    first++;
  return first < count && text[first] != '\0' && strchr ("=+-@\t\r", text[first]) != NULL;
}

/* ---- Looking ------------------------------------------------------------- */

static const char *
cell_text (const sw_table *table, size_t index)
{
  return table->bytes + table->cells[index] / 2;
}

size_t
sw_table_columns (const sw_table *table)
{
  return table != NULL ? table->columns : 0;
}

size_t
sw_table_rows (const sw_table *table)
{
  return table != NULL ? table->rows : 0;
}

const char *
sw_table_header (const sw_table *table, size_t column)
{
  return table != NULL && column < table->columns ? cell_text (table, column) : NULL;
}

bool
sw_table_is_text (const sw_table *table, size_t row, size_t column)
{
  return (table->cells[(row + 1) * table->columns + column] & 1) != 0;
}

const char *
sw_table_cell (const sw_table *table, size_t row, size_t column)
{
  if (table == NULL || row >= table->rows || column >= table->columns)
    return NULL;
  return cell_text (table, (row + 1) * table->columns + column);
}

static char
lower (char character)
{
  return character >= 'A' && character <= 'Z' ? (char)(character - 'A' + 'a') : character;
}

int
sw_table_find (const sw_table *table, const char *name)
{
  for (size_t column = 0; column < sw_table_columns (table); column++)
    {
      const char *header = cell_text (table, column);
      size_t i = 0;
      while (header[i] != '\0' && lower (header[i]) == lower (name[i]))
        i++;
      if (header[i] == '\0' && name[i] == '\0')
        return (int)column;
    }
  return -1;
}

size_t
sw_table_line (const sw_table *table, size_t row)
{
  return table != NULL && table->lines != NULL && row < table->rows ? table->lines[row] : 0;
}

size_t
sw_table_header_line (const sw_table *table)
{
  return table->header_line;
}

bool
sw_table_decimal_comma (const sw_table *table)
{
  return table != NULL && table->separator == ';';
}

const char *
sw_table_file (const sw_table *table)
{
  return table != NULL ? table->file : "";
}

/* ---- Building ------------------------------------------------------------ */

sw_status
sw_table_new (sw_table **out, const char *const *header, size_t count)
{
  *out = NULL;
  if (count == 0 || count > SW_TABLE_MAX_COLUMNS)
    return SW_USAGE;
  sw_table *table = sw_table_begin ("");
  if (table == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < count; i++)
    {
      sw_cell cell;
      if (!sw_table_store (table, header[i], strlen (header[i]), true, &cell) || !sw_table_push (table, cell))
        {
          sw_table_free (table);
          return SW_NO_MEMORY;
        }
    }
  table->columns = count;
  *out = table;
  return SW_OK;
}

sw_status
sw_table_add_row (sw_table *table)
{
  void *cells = table->cells;
  size_t need = table->cell_count + table->columns;
  sw_status status = sw_grow (&cells, &table->cell_capacity, need, sizeof (sw_cell));
  table->cells = cells;
  if (status != SW_OK)
    return status;
  for (size_t i = 0; i < table->columns; i++)
    table->cells[table->cell_count++] = 0;
  table->rows++;
  return SW_OK;
}

static sw_status
set_cell (sw_table *table, size_t column, const char *text, bool is_text)
{
  if (table->rows == 0 || column >= table->columns)
    return SW_USAGE;
  sw_cell cell;
  if (!sw_table_store (table, text, strlen (text), is_text, &cell))
    return SW_NO_MEMORY;
  table->cells[table->cell_count - table->columns + column] = cell;
  return SW_OK;
}

sw_status
sw_table_set (sw_table *table, size_t column, const char *text)
{
  return set_cell (table, column, text, false);
}

sw_status
sw_table_set_text (sw_table *table, size_t column, const char *text)
{
  return set_cell (table, column, text, true);
}

/* ---- Writing ------------------------------------------------------------- */

void
sw_table_write_semicolons (sw_table *table)
{
  table->semicolons = true;
}

/* Is TEXT made of digits, perhaps with a minus in front and a point between them? */
static bool
is_number (const char *text)
{
  static const char digits[] = "0123456789";
  text += *text == '-';
  size_t whole = strspn (text, digits);
  text += whole;
  if (whole == 0 || *text == '\0')
    return whole > 0;
  size_t decimals = strspn (text + 1, digits);
  return *text == '.' && decimals > 0 && text[1 + decimals] == '\0';
}

/* A number with a decimal comma needs no quotes beside ';'.  In quotes some programs would take it for text. */
static void
write_number (sw_text *out, const char *text)
{
  size_t whole = strcspn (text, ".");
  sw_text_add_bytes (out, text, whole);
  if (text[whole] == '.')
    {
      sw_text_add_bytes (out, ",", 1);
      sw_text_add (out, text + whole + 1);
    }
}

static bool
begins_blank_row (const sw_table *table, size_t cell)
{
  if (cell % table->columns != 0)
    return false;
  for (size_t i = 0; i < table->columns; i++)
    if (cell_text (table, cell + i)[0] != '\0')
      return false;
  return true;
}

static void
write_cell (sw_text *out, const sw_table *table, size_t index)
{
  const char *text = cell_text (table, index);
  size_t count = strlen (text);
  bool is_text = table->cells[index] % 2 == 1;
  if (table->semicolons && !is_text && is_number (text))
    {
      write_number (out, text);
      return;
    }
  bool defuse = is_text && sw_table_is_formula (text, count);
  /* RFC 4180 asks for quotes at a comma, a quote or a line break only.  Other separators are quoted
   * for programs that guess the separator, outer spaces for programs that cut them off, and a byte
   * order mark lest it be taken for the file's own.  The first cell of a blank row is quoted
   * because a blank line would be skipped. */
  bool quote = text[strcspn (text, ",;\t\"\r\n")] != '\0' || strncmp (text, SW_BYTE_ORDER_MARK, 3) == 0;
  if (count == 0)
    quote = begins_blank_row (table, index);
  else
    quote = quote || text[0] == ' ' || text[count - 1] == ' ';
  if (quote)
    sw_text_add_bytes (out, "\"", 1);
  if (defuse)
    sw_text_add_bytes (out, "'", 1);
  while (quote)
    {
      const char *next = strchr (text, '"');
      if (next == NULL)
        break;
      sw_text_add_bytes (out, text, (size_t)(next - text) + 1);
      sw_text_add_bytes (out, "\"", 1);
      text = next + 1;
    }
  sw_text_add (out, text);
  if (quote)
    sw_text_add_bytes (out, "\"", 1);
}

sw_status
sw_table_csv (const sw_table *table, char **out)
{
  sw_text text = { 0 };
  if (table->semicolons)
    sw_text_add (&text, SW_BYTE_ORDER_MARK);
  size_t column = 0;
  for (size_t i = 0; i < table->cell_count; i++)
    {
      write_cell (&text, table, i);
      bool last = ++column == table->columns;
      sw_text_add (&text, last ? "\r\n" : table->semicolons ? ";" : ",");
      column = last ? 0 : column;
    }
  *out = sw_text_take (&text);
  return *out != NULL ? SW_OK : SW_NO_MEMORY;
}
