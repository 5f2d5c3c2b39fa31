/* field_near.c - guesses which column an unknown header was meant to name, and tells a header from data
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/field.h"

#include "base/text.h"

#include <stdio.h>
#include <string.h>

/* No column has a name so long that a longer word could be a misspelling of it. */
#define LONGEST_NAME 32
/* A word with more wrong letters is another word. */
#define MOST_WRONG 2

/* Other words that lists of the trade use for a column.  Where a word could mean several columns,
 * the first of them counts that the file does not have. */
static const struct
{
  const char *column;
  const char *words; /* with blanks between */
} other_words[] = {
  { "quantity", "qty quant count number pieces pcs amount how_many" },
  { "per", "unit units uom price_per" },
  { "price", "cost rate unit_price unit_cost" },
  { "length", "stock_length size len l" },
  { "limit", "max maximum available qty quantity" },
  { "hand", "on_hand in_stock stock have" },
  { "section", "timber profile material dimensions size" },
  { "span", "bay_length length distance spacing centres centers" },
  { "run", "line side fence stretch name" },
  { "bay", "number no label" },
  { "post_width", "post post_size width" },
  { "near_post_width", "first_post_width first_post" },
  { "start", "from begin" },
  { "finish", "to end" },
  { "rise", "fall slope" },
  { "opening", "gate" },
  { "overall", "total total_length" },
  { "join", "joint splice" },
  { "level", "rail name" },
  { "gap", "clearance" },
  { "height", "underside elevation" },
  { "blocks", "blocking" },
  { "width", "w breadth" },
  { "thickness", "t thick depth" },
  { "description", "desc text note notes" },
  { "density", "weight" },
  { "label", "name part item piece" },
  { "section", "name" },
  { "key", "setting name option" },
  { "value", "setting" },
};

/* May HEADER have meant the column INDEX?  Not if the file has that column already. */
static bool
is_open (const sw_fields *fields, size_t index)
{
  return fields->where[index] < 0;
}

/* Is WORD one of WORDS, which have blanks between? */
static bool
holds (const char *words, const char *word)
{
  size_t length = strlen (word);
  for (const char *at = words; length > 0 && *at != '\0'; at += strcspn (at, " "), at += strspn (at, " "))
    if (strcspn (at, " ") == length && strncmp (at, word, length) == 0)
      return true;
  return false;
}

static const char *
by_other_word (const sw_fields *fields, const char *name, size_t count)
{
  for (size_t w = 0; w < sizeof other_words / sizeof other_words[0]; w++)
    for (size_t i = 0; i < count && holds (other_words[w].words, name); i++)
      if (is_open (fields, i) && strcmp (fields->names[i], other_words[w].column) == 0)
        return fields->names[i];
  return NULL;
}

/* The missing column whose name is spelt most like NAME. */
static const char *
by_spelling (const sw_fields *fields, const char *name, size_t count)
{
  const char *best = NULL;
  size_t least = MOST_WRONG + 1;
  size_t length = strlen (name);
  for (size_t i = 0; i < count; i++)
    {
      const char *column = fields->names[i];
      if (!is_open (fields, i))
        continue;
      size_t row[LONGEST_NAME + 1];
      size_t wrong = sw_text_distance (name, column, row);
      /* At most a third of the letters may be wrong: a short word with two wrong letters is another word. */
      if (wrong < least && 3 * wrong <= length)
        {
          least = wrong;
          best = column;
        }
    }
  return best;
}

const char *
sw_field_meant (const sw_fields *fields, const char *header, size_t count)
{
  char plain[LONGEST_NAME + 1];
  size_t length = strlen (header);
  if (length > LONGEST_NAME)
    return NULL;
  for (size_t i = 0; i <= length; i++)
    plain[i] = (char)(header[i] == ' ' || header[i] == '-'   ? '_'
                      : header[i] >= 'A' && header[i] <= 'Z' ? header[i] - 'A' + 'a'
                                                             : header[i]);
  for (size_t i = 0; i < count; i++)
    if (is_open (fields, i) && strcmp (plain, fields->names[i]) == 0)
      return fields->names[i];
  const char *meant = by_other_word (fields, plain, count);
  return meant != NULL ? meant : by_spelling (fields, plain, count);
}

/* ---- A header that is none ---- */

/* No name of a column begins like a number. */
static bool
is_figure (const char *text)
{
  text += *text == '-' || *text == '+';
  return *text >= '0' && *text <= '9';
}

/* Is the row a header?  One cell that means a column does not make it one, because a word such as
 * "side" may also be the name of a run. */
static bool
names_columns (const sw_fields *fields, size_t count)
{
  size_t meant = 0;
  for (size_t i = 0; i < count; i++)
    if (fields->where[i] >= 0)
      return true;
  for (size_t column = 0; column < sw_table_columns (fields->table); column++)
    meant += sw_field_meant (fields, sw_table_header (fields->table, column), count) != NULL;
  return meant > 1;
}

bool
sw_field_header_is_data (sw_fields *fields, size_t count, size_t needed)
{
  size_t columns = sw_table_columns (fields->table);
  size_t figures = 0;
  for (size_t column = 0; column < columns; column++)
    figures += is_figure (sw_table_header (fields->table, column));
  if (figures == 0 || names_columns (fields, count))
    return false;
  char found[4 * SW_SHOWN] = "";
  char wanted[SW_PHRASE] = "";
  for (size_t column = 0; column < columns && column < 3; column++)
    {
      char shown[SW_SHOWN];
      size_t used = strlen (found);
      sw_show_text (sw_table_header (fields->table, column), shown);
      snprintf (found + used, sizeof found - used, "%s\"%s\"", column > 0 ? ", " : "", shown);
    }
  for (size_t i = 0, used = 0; i < needed; used = strlen (wanted), i++)
    snprintf (wanted + used, sizeof wanted - used, "%s%s", i > 0 ? "," : "", fields->names[i]);
  sw_report_add (fields->report, SW_FAULT, sw_table_file (fields->table), sw_table_header_line (fields->table), NULL,
                 "the first row looks like data and names no column; expected a header row above it, such as %s, "
                 "found %s",
                 wanted, found);
  fields->faults++;
  return true;
}
