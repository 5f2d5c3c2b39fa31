/* verify_read.c - reads the files of a plan's folder as numbers
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "verify/verify.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* The largest count and the largest length of a cell. */
#define MOST INT64_C (1000000000000)
#define LONGEST (10000 * SW_LENGTH_MAX)

static const sw_listing_field fit_fields[SW_FIT_COLUMNS] = {
  [SW_FIT_RUN] = { SW_CELL_TEXT, false }, [SW_FIT_LEVEL] = { SW_CELL_TEXT, false },
  [SW_FIT_SECTION] = { SW_CELL_TEXT, false }, [SW_FIT_FROM] = { SW_CELL_COUNT, false },
  [SW_FIT_TO] = { SW_CELL_COUNT, false }, [SW_FIT_BAYS] = { SW_CELL_COUNT, false },
  [SW_FIT_PIECE] = { SW_CELL_TEXT, false }, [SW_FIT_BOARD] = { SW_CELL_COUNT, true },
  [SW_FIT_CUT] = { SW_CELL_LENGTH, false }, [SW_FIT_START_CUT] = { SW_CELL_SAW, false },
  [SW_FIT_FINISH_CUT] = { SW_CELL_SAW, false }, [SW_FIT_START_JOIN] = { SW_CELL_TEXT, false },
  [SW_FIT_FINISH_JOIN] = { SW_CELL_TEXT, false }, [SW_FIT_PLUMB] = { SW_CELL_PLUMB, true },
  [SW_FIT_LONG_POINT] = { SW_CELL_TEXT, true }, [SW_FIT_TAKE] = { SW_CELL_LENGTH, false },
};

static const sw_listing_field cuts_fields[SW_CUTS_COLUMNS] = {
  [SW_CUTS_BOARD] = { SW_CELL_COUNT, false }, [SW_CUTS_SECTION] = { SW_CELL_TEXT, false },
  [SW_CUTS_SOURCE] = { SW_CELL_TEXT, false }, [SW_CUTS_LENGTH] = { SW_CELL_LENGTH, false },
  [SW_CUTS_NUMBER] = { SW_CELL_COUNT, false }, [SW_CUTS_PIECE] = { SW_CELL_TEXT, false },
  [SW_CUTS_RUN] = { SW_CELL_TEXT, true }, [SW_CUTS_LEVEL] = { SW_CELL_TEXT, true },
  [SW_CUTS_FROM] = { SW_CELL_COUNT, true }, [SW_CUTS_TO] = { SW_CELL_COUNT, true },
  [SW_CUTS_CUT] = { SW_CELL_LENGTH, false }, [SW_CUTS_START_CUT] = { SW_CELL_SAW, false },
  [SW_CUTS_FINISH_CUT] = { SW_CELL_SAW, false }, [SW_CUTS_LEFT] = { SW_CELL_LENGTH, false },
  [SW_CUTS_PLUMB] = { SW_CELL_PLUMB, true }, [SW_CUTS_LONG_POINT] = { SW_CELL_TEXT, true },
  [SW_CUTS_TAKE] = { SW_CELL_LENGTH, false }, [SW_CUTS_TIMBER] = { SW_CELL_ASIDE, true },
};

static const sw_listing_field order_fields[SW_ORDER_COLUMNS] = {
  [SW_ORDER_SECTION] = { SW_CELL_TEXT, true }, [SW_ORDER_DESCRIPTION] = { SW_CELL_ASIDE, true },
  [SW_ORDER_LENGTH] = { SW_CELL_LENGTH, true }, [SW_ORDER_COUNT] = { SW_CELL_COUNT, false },
  [SW_ORDER_SPARE] = { SW_CELL_COUNT, true }, [SW_ORDER_METRES] = { SW_CELL_METRES, true },
  [SW_ORDER_UNIT_PRICE] = { SW_CELL_MONEY, true }, [SW_ORDER_PRICE] = { SW_CELL_MONEY, true },
  [SW_ORDER_YARD] = { SW_CELL_ASIDE, true }, [SW_ORDER_KIND] = { SW_CELL_ASIDE, true },
};

static const sw_listing_field setout_fields[SW_SETOUT_COLUMNS] = {
  [SW_SETOUT_RUN] = { SW_CELL_TEXT, false }, [SW_SETOUT_POST] = { SW_CELL_COUNT, false },
  [SW_SETOUT_DISTANCE] = { SW_CELL_LENGTH, false }, [SW_SETOUT_WIDTH] = { SW_CELL_LENGTH, false },
  [SW_SETOUT_LEVEL] = { SW_CELL_TEXT, false }, [SW_SETOUT_MARK] = { SW_CELL_LENGTH, true },
  [SW_SETOUT_TOP] = { SW_CELL_LENGTH, true }, [SW_SETOUT_HOUSING] = { SW_CELL_TEXT, true },
  [SW_SETOUT_DEPTH] = { SW_CELL_LENGTH, true }, [SW_SETOUT_JOIN] = { SW_CELL_TEXT, true },
};

size_t
sw_listing_line (const sw_listing *listing, size_t row)
{
  return row == SW_UNKNOWN || listing->table == NULL ? 0 : sw_table_line (listing->table, row);
}

const char *
sw_listing_column (const sw_listing *listing, int field)
{
  if (field < 0 || listing->table == NULL || listing->columns[field] < 0)
    return NULL;
  return sw_table_header (listing->table, (size_t)listing->columns[field]);
}

bool
sw_listing_inches (const sw_listing *listing, int field)
{
  const char *column = sw_listing_column (listing, field);
  size_t length = column != NULL ? strlen (column) : 0;
  return length > 3 && sw_same_word (column + length - 3, "_in");
}

const char *
sw_listing_text (const sw_listing *listing, size_t row, int field)
{
  return sw_table_cell (listing->table, row, (size_t)listing->columns[field]);
}

int64_t
sw_listing_number (const sw_listing *listing, size_t row, int field)
{
  return listing->numbers[row * listing->field_count + (size_t)field];
}

void
sw_listing_clear (sw_listing *listing)
{
  sw_table_free (listing->table);
  free (listing->file);
  free (listing->numbers);
  *listing = (sw_listing){ 0 };
}

static bool
is_there (const char *file)
{
  FILE *stream = fopen (file, "rb");
  if (stream != NULL)
    fclose (stream);
  return stream != NULL || errno != ENOENT;
}

static char *
join_path (const char *dir, const char *name)
{
  sw_text text = { 0 };
  size_t length = strlen (dir);
  sw_text_add (&text, dir);
  if (length > 0 && dir[length - 1] != '/')
    sw_text_add (&text, "/");
  sw_text_add (&text, name);
  return sw_text_take (&text);
}

/* The number of bytes of NAME in NAME_mm. */
static int
stem (const char *name)
{
  return (int)(strlen (name) - strlen ("_mm"));
}

/* The column NAME, which ends in _mm, or the same column ending in _in.  -1: there is neither.
 * *BOTH: there are both. */
static int
find_length (const sw_table *table, const char *name, bool *both)
{
  char in[SW_LENGTH_TEXT];
  snprintf (in, sizeof in, "%.*s_in", stem (name), name);
  int a = sw_table_find (table, name);
  int b = sw_table_find (table, in);
  *both = a >= 0 && b >= 0;
  return a >= 0 ? a : b;
}

static void
find_columns (sw_verifier *verifier, sw_listing *listing)
{
  for (size_t f = 0; f < listing->field_count; f++)
    {
      const sw_listing_field *field = &listing->fields[f];
      const char *name = listing->names[f];
      bool is_length = field->kind == SW_CELL_LENGTH;
      bool both = false;
      listing->columns[f]
          = is_length ? find_length (listing->table, name, &both) : sw_table_find (listing->table, name);
      if (!both && (listing->columns[f] >= 0 || field->kind == SW_CELL_ASIDE))
        continue;
      verifier->verdict->faults++;
      if (is_length)
        sw_report_add (verifier->report, SW_FAULT, listing->file, 1, NULL,
                       "expected a column \"%s\" or \"%.*s_in\" in the header line, found %s", name,
                       stem (name), name, both ? "both" : "none");
      else
        sw_report_add (verifier->report, SW_FAULT, listing->file, 1, name,
                       "expected a column \"%s\" in the header line, found none", name);
    }
}

static void
note_ignored (sw_verifier *verifier, const sw_listing *listing)
{
  sw_text names = { 0 };
  for (size_t c = 0; c < sw_table_columns (listing->table); c++)
    {
      bool used = false;
      for (size_t f = 0; f < listing->field_count; f++)
        used = used || listing->columns[f] == (int)c;
      if (!used)
        sw_text_printf (&names, "%s%s", names.length > 0 ? ", " : "", sw_table_header (listing->table, c));
    }
  if (names.length > 0)
    sw_report_add (verifier->report, SW_NOTE, listing->file, 0, NULL, "columns that are not known are ignored: %s",
                   names.data);
  sw_text_drop (&names);
}

/* Read a length.  A bare number is in UNIT ("": millimetres). */
static bool
parse_length (const char *text, const char *unit, bool comma, int64_t *out, char expected[SW_PHRASE])
{
  char buffer[128];
  size_t length = strlen (text);
  bool bare = length > 0 && ((text[length - 1] >= '0' && text[length - 1] <= '9') || text[length - 1] == '.');
  /* Longer text is too long for a length, with or without a unit: it stays as it is and is refused. */
  if (bare && length < sizeof buffer - 8)
    {
      snprintf (buffer, sizeof buffer, "%s%s", text, unit);
      text = buffer;
    }
  return sw_value_length (text, SW_BARE_MM, comma, -LONGEST, LONGEST, out, expected);
}

static bool
parse_saw (const char *text, bool comma, int64_t *out, char expected[SW_PHRASE])
{
  *out = 0;
  if (sw_same_word (text, "square") || sw_value_decimal (text, comma, 3, 0, 90, out, expected))
    return true;
  snprintf (expected, SW_PHRASE, "\"square\" or a saw setting in degrees from 0 to 90");
  return false;
}

static bool
parse_cell (const sw_listing *listing, int field, const char *text, int64_t *out, char expected[SW_PHRASE])
{
  bool comma = sw_table_decimal_comma (listing->table);
  switch (listing->fields[field].kind)
    {
    case SW_CELL_COUNT:
      return sw_value_whole (text, 0, MOST, out, expected);
    case SW_CELL_LENGTH:
      return parse_length (text, sw_listing_inches (listing, field) ? "in" : "", comma, out, expected);
    case SW_CELL_METRES:
      return parse_length (text, "m", comma, out, expected);
    case SW_CELL_MONEY:
      return sw_value_money (text, comma, out, expected);
    case SW_CELL_SAW:
      return parse_saw (text, comma, out, expected);
    case SW_CELL_PLUMB:
      return sw_value_decimal (text, comma, 3, 0, 90, out, expected);
    case SW_CELL_TEXT:
    case SW_CELL_ASIDE:
      break;
    }
  *out = 0;
  return true;
}

static void
read_cell (sw_verifier *verifier, sw_listing *listing, size_t row, int field)
{
  int64_t *out = &listing->numbers[row * listing->field_count + (size_t)field];
  *out = SW_BLANK;
  if (listing->columns[field] < 0)
    return;
  const char *text = sw_listing_text (listing, row, field);
  char expected[SW_PHRASE];
  if (*text == '\0')
    {
      if (!listing->fields[field].may_be_blank)
        SW_VERIFY_FAULT (verifier, listing, row, field, "the cell is blank");
    }
  else if (!parse_cell (listing, field, text, out, expected))
    {
      *out = SW_BLANK;
      SW_VERIFY_FAULT (verifier, listing, row, field, "expected %s, found \"%s\"", expected, text);
    }
}

static sw_status
open_listing (sw_verifier *verifier, sw_listing *listing, const char *const *names, const sw_listing_field *fields,
              size_t count)
{
  size_t before = sw_report_faults_of (verifier->report, listing->file);
  listing->names = names;
  listing->fields = fields;
  listing->field_count = count;
  sw_status status = sw_table_read (&listing->table, listing->file, verifier->report);
  if (status == SW_NO_MEMORY)
    return status;
  if (status != SW_OK)
    {
      size_t added = sw_report_faults_of (verifier->report, listing->file) - before;
      verifier->verdict->faults += added > 0 ? (int64_t)added : 1;
      return SW_OK;
    }
  int64_t faults = verifier->verdict->faults;
  find_columns (verifier, listing);
  if (verifier->verdict->faults > faults)
    return SW_OK;
  note_ignored (verifier, listing);
  listing->rows = sw_table_rows (listing->table);
  if (listing->rows > SIZE_MAX / SW_LISTING_MAX_FIELDS)
    return SW_NO_MEMORY;
  listing->numbers = sw_alloc (listing->rows * count, sizeof *listing->numbers);
  if (listing->numbers == NULL)
    return SW_NO_MEMORY;
  for (size_t row = 0; row < listing->rows; row++)
    for (size_t f = 0; f < count; f++)
      read_cell (verifier, listing, row, (int)f);
  return SW_OK;
}

/* When FILE in DIR was written; *FOUND false: it is not there. */
static sw_status
written_at (const char *dir, const char *file, struct timespec *out, bool *found)
{
  struct stat there;
  char *path = join_path (dir, file);
  if (path == NULL)
    return SW_NO_MEMORY;
  *found = stat (path, &there) == 0;
  if (*found)
    *out = there.st_mtim;
  free (path);
  return SW_OK;
}

static bool
is_later (const struct timespec *a, const struct timespec *b)
{
  return a->tv_sec != b->tv_sec ? a->tv_sec > b->tv_sec : a->tv_nsec > b->tv_nsec;
}

/* Was the workbook saved after the tables, which come with the same date?
 * What was changed in it does not count, and is told how it would. */
static sw_status
look_for_saved_book (const sw_verifier *verifier, const char *dir)
{
  static const char *const names[] = { "order.csv", "cuts.csv", "fit.csv", "setout.csv" };
  struct timespec book;
  struct timespec table;
  bool found;
  sw_status status = written_at (dir, "plan.xlsx", &book, &found);
  if (status != SW_OK || !found)
    return status;
  for (size_t i = 0; i < sizeof names / sizeof *names; i++)
    {
      status = written_at (dir, names[i], &table, &found);
      if (status != SW_OK || (found && !is_later (&book, &table)))
        return status;
    }
  char *path = join_path (dir, "plan.xlsx");
  if (path == NULL)
    return SW_NO_MEMORY;
  sw_report_add (verifier->report, SW_WARNING, path, 0, NULL,
                 "what was changed in this workbook is not read: save its sheets order, cuts, fit and setout as CSV, over "
                 "order.csv, cuts.csv, fit.csv and setout.csv");
  free (path);
  return SW_OK;
}

sw_status
sw_listings_read (sw_verifier *verifier, const char *dir)
{
  static const struct
  {
    const char *name;
    const char *const *names;
    const sw_listing_field *fields;
    size_t count;
  } files[4] = { { "order.csv", sw_order_columns, order_fields, SW_ORDER_COLUMNS },
                 { "cuts.csv", sw_cuts_columns, cuts_fields, SW_CUTS_COLUMNS },
                 { "fit.csv", sw_fit_columns, fit_fields, SW_FIT_COLUMNS },
                 { "setout.csv", sw_setout_columns, setout_fields, SW_SETOUT_COLUMNS } };
  sw_listing *listings[4] = { &verifier->order, &verifier->cuts, &verifier->fit, &verifier->setout };
  bool there[4];
  if (look_for_saved_book (verifier, dir) != SW_OK)
    return SW_NO_MEMORY;
  for (int i = 0; i < 4; i++)
    {
      listings[i]->file = join_path (dir, files[i].name);
      if (listings[i]->file == NULL)
        return SW_NO_MEMORY;
      there[i] = is_there (listings[i]->file);
    }
  if (!there[0] && !there[1] && !there[2])
    {
      verifier->verdict->faults++;
      sw_report_add (verifier->report, SW_FAULT, dir, 0, NULL,
                     "expected order.csv, cuts.csv and fit.csv of a plan in this folder, found none of them");
      return SW_OK;
    }
  for (int i = 0; i < 4; i++)
    {
      sw_status status = SW_OK;
      if (there[i])
        status = open_listing (verifier, listings[i], files[i].names, files[i].fields, files[i].count);
      else if (i < 3)
        SW_VERIFY_FAULT (verifier, listings[i], SW_UNKNOWN, -1, "expected this file of the plan, found none");
      else
        sw_report_add (verifier->report, SW_NOTE, listings[i]->file, 0, NULL,
                       "there is no such file: setting out was not checked");
      if (status != SW_OK)
        return status;
    }
  return SW_OK;
}
