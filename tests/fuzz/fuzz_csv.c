/* fuzz_csv.c - fuzz target: any bytes as a CSV file
 *
 * What is read must be the same after it has been written and read again.  A
 * refusal must say why and where.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "fuzz.h"
#include "csv/table.h"

#include <stdlib.h>
#include <string.h>

static void
check_same (const sw_table *a, const sw_table *b)
{
  size_t columns = sw_table_columns (a);
  FUZZ_HOLDS (columns == sw_table_columns (b));
  FUZZ_HOLDS (sw_table_rows (a) == sw_table_rows (b));
  for (size_t c = 0; c < columns; c++)
    FUZZ_HOLDS (strcmp (sw_table_header (a, c), sw_table_header (b, c)) == 0);
  for (size_t r = 0; r < sw_table_rows (a); r++)
    for (size_t c = 0; c < columns; c++)
      FUZZ_HOLDS (strcmp (sw_table_cell (a, r, c), sw_table_cell (b, r, c)) == 0);
}

/* A spreadsheet runs a cell that begins like a formula, unless it is a number. */
static void
check_defused (const char *csv)
{
  bool quoted = false;
  bool begins = true;
  for (const char *at = csv; *at != '\0'; at++)
    {
      if (begins && *at == '"' && !quoted)
        {
          quoted = true;
          continue;
        }
      if (begins && strchr ("=@", *at) != NULL)
        fuzz_fail (__FILE__, __LINE__, "a cell that a spreadsheet would run");
      if (begins && (*at == '+' || *at == '-'))
        FUZZ_HOLDS (at[strspn (at, "+-0123456789.,\"\r\n")] == '\0' || strchr ("0123456789.,", at[1]) != NULL);
      begins = false;
      if (*at == '"')
        quoted = !quoted;
      else if (!quoted && (*at == ',' || *at == '\n'))
        begins = true;
    }
}

/* With semicolons the cells are the same, but for a decimal comma in place of a point. */
static void
check_semicolons (sw_table *table, sw_report *report)
{
  char *csv = NULL;
  sw_table *again = NULL;
  /* A single column does not show its separator. */
  if (sw_table_columns (table) < 2)
    return;
  sw_table_write_semicolons (table);
  FUZZ_HOLDS (sw_table_csv (table, &csv) == SW_OK);
  FUZZ_HOLDS (sw_table_read_bytes (&again, csv, strlen (csv), "semicolons", report) == SW_OK);
  FUZZ_HOLDS (sw_table_decimal_comma (again));
  FUZZ_HOLDS (sw_table_rows (again) == sw_table_rows (table) && sw_table_columns (again) == sw_table_columns (table));
  for (size_t c = 0; c < sw_table_columns (table); c++)
    {
      FUZZ_HOLDS (strcmp (sw_table_header (table, c), sw_table_header (again, c)) == 0);
      for (size_t row = 0; row < sw_table_rows (table); row++)
        {
          const char *a = sw_table_cell (table, row, c);
          const char *b = sw_table_cell (again, row, c);
          FUZZ_HOLDS (strlen (a) == strlen (b));
          for (; *a != '\0'; a++, b++)
            FUZZ_HOLDS (*a == *b || (*a == '.' && *b == ','));
        }
    }
  sw_table_free (again);
  sw_text_free (csv);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  sw_report *report = sw_report_new ();
  FUZZ_HOLDS (report != NULL);
  sw_table *table = NULL;
  sw_status status = sw_table_read_bytes (&table, (const char *)data, size, "input", report);
  FUZZ_HOLDS (status == SW_OK || status == SW_REJECTED);
  FUZZ_HOLDS ((status == SW_OK) == (sw_report_count_of (report, SW_FAULT) == 0));
  FUZZ_HOLDS ((status == SW_OK) == (table != NULL));
  fuzz_check_report (report);
  if (table != NULL)
    {
      char *csv = NULL;
      sw_table *again = NULL;
      FUZZ_HOLDS (sw_table_csv (table, &csv) == SW_OK);
      check_defused (csv);
      FUZZ_HOLDS (sw_table_read_bytes (&again, csv, strlen (csv), "written", report) == SW_OK);
      check_same (table, again);
      char *twice = NULL;
      FUZZ_HOLDS (sw_table_csv (again, &twice) == SW_OK);
      FUZZ_HOLDS (strcmp (csv, twice) == 0);
      check_semicolons (again, report);
      sw_text_free (twice);
      sw_text_free (csv);
      sw_table_free (again);
    }
  sw_table_free (table);
  sw_report_free (report);
  return 0;
}
