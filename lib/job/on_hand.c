/* on_hand.c - timber that is there already
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/on_hand.h"

#include "base/decimal.h"
#include "base/memory.h"
#include "csv/field.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MOST_BOARDS 1000000000

enum
{
  TIMBER,
  KIND,
  SECTION,
  LENGTH,
  COUNT,
  BOUGHT,
  YARD,
  ENDS,
  CUT,
  TAKE,
  COLUMNS
};
static const char *const columns[COLUMNS]
    = { "timber", "kind", "section", "length", "count", "bought", "yard", "ends", "cut", "take" };
static const char *const kinds[] = { "board", "offcut", "piece", "fitting" };
#define FITTING 3

/* ---- The list ------------------------------------------------------------ */

static bool
copy_if_any (char **out, const char *text)
{
  *out = text != NULL && text[0] != '\0' ? sw_copy_text (text) : NULL;
  return *out != NULL || text == NULL || text[0] == '\0';
}

sw_status
sw_on_hand_add (sw_on_hand *list, const sw_timber *timber)
{
  sw_status status = sw_grow ((void **)&list->items, &list->capacity, list->count + 1, sizeof *list->items);
  if (status != SW_OK)
    return status;
  sw_timber *own = &list->items[list->count];
  *own = *timber;
  own->ends = NULL;
  if (!copy_if_any (&own->name, timber->name) || !copy_if_any (&own->ends, timber->ends))
    {
      free (own->name);
      return SW_NO_MEMORY;
    }
  list->count++;
  return SW_OK;
}

sw_status
sw_on_hand_have (sw_on_hand *list, const char *item, int64_t count)
{
  for (size_t i = 0; i < list->had_count; i++)
    if (strcmp (list->had[i].item, item) == 0)
      {
        list->had[i].count += count;
        return SW_OK;
      }
  sw_status status = sw_grow ((void **)&list->had, &list->had_capacity, list->had_count + 1, sizeof *list->had);
  if (status != SW_OK)
    return status;
  list->had[list->had_count] = (sw_had){ .item = sw_copy_text (item), .count = count };
  return list->had[list->had_count].item != NULL ? (list->had_count++, SW_OK) : SW_NO_MEMORY;
}

int64_t
sw_on_hand_had (const sw_on_hand *list, const char *item)
{
  for (size_t i = 0; i < list->had_count; i++)
    if (strcmp (list->had[i].item, item) == 0)
      return list->had[i].count;
  return 0;
}

void
sw_on_hand_clear (sw_on_hand *list)
{
  for (size_t i = 0; i < list->had_count; i++)
    free (list->had[i].item);
  free (list->had);
  for (size_t i = 0; i < list->count; i++)
    {
      free (list->items[i].name);
      free (list->items[i].ends);
    }
  free (list->items);
  *list = (sw_on_hand){ .given = false };
}

/* ---- Reading ------------------------------------------------------------- */

/* Read the yard of the row; false: the job has no yard of that name, which has been reported. */
static bool
read_yard (size_t *yard, const sw_yards *yards, sw_fields *fields)
{
  const char *name = sw_field (fields, YARD);
  *yard = SW_NO_YARD;
  if (name[0] == '\0' || sw_name_index_find (&yards->names, name, yard))
    return true;
  char shown[SW_SHOWN];
  sw_show_text (name, shown);
  sw_field_fault (fields, YARD, "no yard of this job is called \"%s\"", shown);
  return false;
}

static bool
read_row (sw_timber *timber, const sw_sections *sections, const sw_yards *yards, sw_fields *fields)
{
  const char *section = NULL;
  size_t kind = SW_TIMBER_BOARD;
  bool good = sw_field_name (fields, SECTION, "a section's name", &section);
  good &= sw_field_needed (fields, LENGTH, "a length")
          && sw_field_length (fields, LENGTH, SW_BARE_MM, SW_LENGTH_OVER_0, SW_LENGTH_MAX, &timber->length);
  good &= sw_field_choice (fields, KIND, kinds, FITTING, &kind);
  good &= sw_field_whole (fields, COUNT, 0, MOST_BOARDS, &timber->count);
  good &= sw_field_whole (fields, BOUGHT, 0, MOST_BOARDS, &timber->bought);
  good &= sw_field_length (fields, CUT, SW_BARE_MM, SW_LENGTH_OVER_0, SW_LENGTH_MAX, &timber->cut);
  good &= sw_field_length (fields, TAKE, SW_BARE_MM, SW_LENGTH_OVER_0, SW_LENGTH_MAX, &timber->take);
  good &= read_yard (&timber->yard, yards, fields);
  timber->kind = (sw_timber_kind)kind;
  int found = good ? sw_sections_find (sections, section) : -1;
  if (good && found < 0)
    {
      char shown[SW_SHOWN];
      sw_show_text (section, shown);
      sw_field_fault (fields, SECTION, "no section of this job is called \"%s\"", shown);
      return false;
    }
  timber->section = (size_t)found;
  /* Only whole boards are alike enough to be counted. */
  if (timber->kind != SW_TIMBER_BOARD)
    timber->count = 1;
  return good;
}

sw_status
sw_on_hand_read (sw_on_hand *out, const sw_sections *sections, const sw_yards *yards, const sw_table *table,
                 sw_report *report)
{
  sw_fields fields;
  if (!sw_fields_begin (&fields, table, columns, COLUMNS, LENGTH + 1, report))
    return SW_REJECTED;
  out->given = true;
  for (size_t rows = sw_table_rows (table); fields.row < rows; fields.row++)
    {
      sw_timber timber = { .count = 1, .line = sw_field_line (&fields) };
      if (sw_same_word (sw_field (&fields, KIND), kinds[FITTING]))
        {
          sw_status status = sw_field_whole (&fields, COUNT, 0, MOST_BOARDS, &timber.count)
                                 ? sw_on_hand_have (out, sw_field (&fields, TIMBER), timber.count)
                                 : SW_OK;
          if (status != SW_OK)
            return status;
          continue;
        }
      if (!read_row (&timber, sections, yards, &fields))
        continue;
      /* The texts only go to sw_on_hand_add, which copies them. */
      timber.name = (char *)sw_field (&fields, TIMBER);
      timber.ends = (char *)sw_field (&fields, ENDS);
      sw_status status = sw_on_hand_add (out, &timber);
      if (status != SW_OK)
        return status;
    }
  return fields.faults == 0 ? SW_OK : SW_REJECTED;
}

/* ---- Writing ------------------------------------------------------------- */

static sw_status
set_length (sw_table *table, size_t column, sw_length length, const sw_settings *settings)
{
  char text[SW_DECIMAL_TEXT];
  if (length == 0)
    return SW_OK;
  sw_settings_format_length (settings, length, text);
  return sw_table_set (table, column, text);
}

static sw_status
set_count (sw_table *table, size_t column, int64_t count)
{
  char text[SW_SHOWN];
  snprintf (text, sizeof text, "%" PRId64, count);
  return sw_table_set (table, column, text);
}

static sw_status
add_row (sw_table *table, const sw_timber *timber, const sw_sections *sections, const sw_yards *yards,
         const sw_settings *settings)
{
  sw_status status = sw_table_add_row (table);
  if (status == SW_OK && timber->name != NULL)
    status = sw_table_set_text (table, TIMBER, timber->name);
  if (status == SW_OK)
    status = sw_table_set (table, KIND, kinds[timber->kind]);
  if (status == SW_OK)
    status = sw_table_set_text (table, SECTION, sections->items[timber->section].name);
  if (status == SW_OK)
    status = set_length (table, LENGTH, timber->length, settings);
  if (status == SW_OK)
    status = set_count (table, COUNT, timber->count);
  if (status == SW_OK && timber->kind == SW_TIMBER_BOARD)
    status = set_count (table, BOUGHT, timber->bought);
  if (status == SW_OK && timber->kind == SW_TIMBER_BOARD && timber->yard != SW_NO_YARD)
    status = sw_table_set_text (table, YARD, yards->items[timber->yard].name);
  if (status == SW_OK && timber->ends != NULL)
    status = sw_table_set_text (table, ENDS, timber->ends);
  if (status == SW_OK)
    status = set_length (table, CUT, timber->cut, settings);
  return status == SW_OK ? set_length (table, TAKE, timber->take, settings) : status;
}

static sw_status
add_had (sw_table *table, const sw_had *had)
{
  sw_status status = sw_table_add_row (table);
  if (status == SW_OK)
    status = sw_table_set_text (table, TIMBER, had->item);
  if (status == SW_OK)
    status = sw_table_set (table, KIND, kinds[FITTING]);
  return status == SW_OK ? set_count (table, COUNT, had->count) : status;
}

sw_status
sw_on_hand_table (const sw_on_hand *list, const sw_sections *sections, const sw_yards *yards,
                  const sw_settings *settings, sw_table **out)
{
  *out = NULL;
  sw_table *table = NULL;
  sw_status status = sw_table_new (&table, columns, COLUMNS);
  if (status == SW_OK && settings->csv_style == SW_CSV_SEMICOLON)
    sw_table_write_semicolons (table);
  for (size_t i = 0; i < list->count && status == SW_OK; i++)
    status = add_row (table, &list->items[i], sections, yards, settings);
  for (size_t i = 0; i < list->had_count && status == SW_OK; i++)
    status = add_had (table, &list->had[i]);
  if (status == SW_OK)
    *out = table;
  else
    sw_table_free (table);
  return status;
}

/* ---- What it makes of the stock ------------------------------------------ */

static size_t
find_row (const sw_stocks *stocks, size_t count, const sw_timber *timber)
{
  const bool sawn = timber->kind != SW_TIMBER_BOARD;
  const size_t yard = sawn ? SW_NO_YARD : timber->yard;
  for (size_t i = 0; i < count; i++)
    {
      const sw_stock *row = &stocks->items[i];
      if (row->section == timber->section && row->length == timber->length && row->sawn == sawn && row->yard == yard
          && (row->ends == NULL ? timber->ends == NULL
                                : timber->ends != NULL && strcmp (row->ends, timber->ends) == 0
                                      && row->cut == timber->cut && row->take == timber->take))
        return i;
    }
  return SIZE_MAX;
}

/* Count TIMBER with the row of STOCKS that it belongs to, or add a row for it. */
static sw_status
take_timber (const sw_timber *timber, sw_stocks *stocks, bool priced)
{
  size_t at = find_row (stocks, stocks->count, timber);
  if (at == SIZE_MAX)
    {
      sw_status status = sw_grow ((void **)&stocks->items, &stocks->capacity, stocks->count + 1, sizeof *stocks->items);
      if (status != SW_OK)
        return status;
      at = stocks->count++;
      /* Where the yard no longer sells it, the row has nothing to buy. */
      stocks->items[at] = (sw_stock){ .section = timber->section,
                                      .length = timber->length,
                                      .priced = priced,
                                      .yard = timber->kind == SW_TIMBER_BOARD ? timber->yard : SW_NO_YARD,
                                      .from = 1,
                                      .pack = 1,
                                      .sawn = timber->kind != SW_TIMBER_BOARD,
                                      .ends = timber->ends,
                                      .cut = timber->cut,
                                      .take = timber->take };
    }
  sw_stock *row = &stocks->items[at];
  row->hand += timber->count;
  if (row->limit > 0)
    row->limit = row->limit > timber->bought ? row->limit - timber->bought : 0;
  return SW_OK;
}

sw_status
sw_on_hand_apply (sw_on_hand *list, sw_stocks *stocks, bool priced)
{
  if (!list->given)
    return SW_OK;
  for (size_t i = 0; i < stocks->count; i++)
    stocks->items[i].hand = 0;
  sw_status status = SW_OK;
  for (size_t i = 0; i < list->count && status == SW_OK; i++)
    status = take_timber (&list->items[i], stocks, priced);
  if (status != SW_OK)
    return status;
  sw_stocks_sort (stocks);
  for (size_t i = 0; i < list->count; i++)
    list->items[i].stock = find_row (stocks, stocks->count, &list->items[i]);
  return SW_OK;
}
