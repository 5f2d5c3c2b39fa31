/* verify_plan.c - a good job and its plan, for copying and breaking
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "verify_plan.h"

#include <check.h>
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *const plan_names[PLAN_FILES] = { "order.csv",  "cuts.csv",  "fit.csv",      "setout.csv", "spans.csv",
                                             "levels.csv", "stock.csv", "sections.csv", "extras.csv" };

static FILE *
open_file (const char *dir, int file, const char *mode)
{
  char path[512];
  snprintf (path, sizeof path, "%s/%s", dir, plan_names[file]);
  FILE *stream = fopen (path, mode);
  ck_assert_msg (stream != NULL, "cannot open %s", path);
  return stream;
}

void
plan_load (plan_sheet *sheet, const char *dir, int file)
{
  char line[1024];
  FILE *stream = open_file (dir, file, "rb");
  *sheet = (plan_sheet){ 0 };
  while (fgets (line, sizeof line, stream) != NULL)
    {
      size_t column = 0;
      line[strcspn (line, "\r\n")] = '\0';
      ck_assert_ptr_null (strchr (line, '"'));
      ck_assert_uint_lt (sheet->rows, PLAN_MAX_ROWS);
      for (char *cell = line, *end; cell != NULL; cell = end)
        {
          end = strchr (cell, ',');
          if (end != NULL)
            *end++ = '\0';
          ck_assert_uint_lt (column, PLAN_MAX_COLUMNS);
          sheet->cells[sheet->rows][column++] = strdup (cell);
        }
      sheet->columns = column;
      sheet->rows++;
    }
  fclose (stream);
  ck_assert_uint_gt (sheet->rows, 1);
}

void
plan_drop (plan_sheet *sheet)
{
  for (size_t r = 0; r < sheet->rows; r++)
    for (size_t c = 0; c < sheet->columns; c++)
      free (sheet->cells[r][c]);
  *sheet = (plan_sheet){ 0 };
}

/* Does the row have each of the texts of WANTED, which stand between bars, in some cell? */
static bool
row_has (const plan_sheet *sheet, size_t row, const char *wanted)
{
  while (*wanted != '\0')
    {
      size_t length = strcspn (wanted, "|");
      bool found = false;
      for (size_t c = 0; c < sheet->columns; c++)
        found
            = found || (strlen (sheet->cells[row][c]) == length && strncmp (sheet->cells[row][c], wanted, length) == 0);
      if (!found)
        return false;
      wanted += length + (wanted[length] == '|');
    }
  return true;
}

size_t
plan_find (const plan_sheet *sheet, const char *row)
{
  for (size_t r = 1; r < sheet->rows; r++)
    if (row_has (sheet, r, row))
      return r;
  ck_abort_msg ("no row has '%s'", row);
}

static size_t
find_column (const plan_sheet *sheet, const char *column)
{
  for (size_t c = 0; c < sheet->columns; c++)
    if (strcmp (sheet->cells[0][c], column) == 0)
      return c;
  ck_abort_msg ("no column '%s'", column);
}

void
plan_apply (plan_sheet *sheet, const plan_edit *edit)
{
  size_t row = *edit->row == '\0' ? 0 : plan_find (sheet, edit->row);
  if (edit->column != NULL)
    {
      char **cell = &sheet->cells[row][find_column (sheet, edit->column)];
      ck_assert_str_ne (*cell, edit->value);
      free (*cell);
      *cell = strdup (edit->value);
    }
  else if (edit->value != NULL)
    {
      ck_assert_str_eq (edit->value, "copy");
      ck_assert_uint_lt (sheet->rows, PLAN_MAX_ROWS);
      for (size_t c = 0; c < sheet->columns; c++)
        sheet->cells[sheet->rows][c] = strdup (sheet->cells[row][c]);
      sheet->rows++;
    }
  else
    {
      for (size_t c = 0; c < sheet->columns; c++)
        free (sheet->cells[row][c]);
      sheet->rows--;
      memmove (sheet->cells[row], sheet->cells[row + 1], (sheet->rows - row) * sizeof sheet->cells[row]);
    }
}

void
plan_reverse (plan_sheet *sheet)
{
  for (size_t low = 1, high = sheet->rows - 1; low < high; low++, high--)
    for (size_t c = 0; c < sheet->columns; c++)
      {
        char *cell = sheet->cells[low][c];
        sheet->cells[low][c] = sheet->cells[high][c];
        sheet->cells[high][c] = cell;
      }
}

void
plan_blank (plan_sheet *sheet, const char *column)
{
  size_t c = find_column (sheet, column);
  for (size_t r = 1; r < sheet->rows; r++)
    *sheet->cells[r][c] = '\0';
}

void
plan_remove (plan_sheet *sheet, const char *column)
{
  size_t c = find_column (sheet, column);
  sheet->columns--;
  for (size_t r = 0; r < sheet->rows; r++)
    {
      free (sheet->cells[r][c]);
      memmove (&sheet->cells[r][c], &sheet->cells[r][c + 1], (sheet->columns - c) * sizeof sheet->cells[r][c]);
    }
}

static bool
is_figure (const char *text)
{
  return strspn (text, "0123456789.") == strlen (text);
}

static bool
ends_mm (const char *name)
{
  size_t length = strlen (name);
  return length > 3 && strcmp (name + length - 3, "_mm") == 0;
}

/* Write one cell in STYLE. */
static void
write_cell (const plan_sheet *sheet, size_t row, size_t column, const plan_style *style, FILE *stream)
{
  char text[256];
  const char *cell = sheet->cells[row][column];
  bool length = style->inches && ends_mm (sheet->cells[0][column]);
  if (length && row == 0)
    snprintf (text, sizeof text, "%.*s_in", (int)strlen (cell) - 3, cell);
  else if (length && *cell != '\0')
    snprintf (text, sizeof text, "%.6f", atof (cell) / 25.4);
  else
    snprintf (text, sizeof text, "%s", cell);
  if (style->comma && is_figure (text))
    for (char *point = text; *point != '\0'; point++)
      if (*point == '.')
        *point = ',';
  fputs (text, stream);
}

void
plan_save (const plan_sheet *sheet, const char *dir, int file, const plan_style *style)
{
  FILE *stream = open_file (dir, file, "wb");
  if (style->mark)
    fputs ("\xEF\xBB\xBF", stream);
  for (size_t r = 0; r < sheet->rows; r++)
    {
      for (size_t c = 0; c < sheet->columns; c++)
        {
          if (c > 0)
            fputc (style->separator, stream);
          write_cell (sheet, r, style->reverse ? sheet->columns - 1 - c : c, style, stream);
        }
      fputs (style->mark ? "\r\n" : "\n", stream);
    }
  ck_assert_int_eq (fclose (stream), 0);
}
