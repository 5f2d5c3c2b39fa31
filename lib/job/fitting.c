/* fitting.c - what is on the same order and is not cut
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/fitting.h"

#include "base/memory.h"
#include "csv/field.h"

#include <stdlib.h>
#include <string.h>

/* The most of one item for each unit that is counted; a plan has at most some millions of units. */
#define MOST_EACH 1000000
#define MOST_PACK 1000000

enum
{
  ITEM,
  PER,
  EACH,
  PACK,
  PRICE,
  ONLY,
  COLUMNS
};

static const char *const per_names[SW_PER_COUNT]
    = { "post", "end post", "bay", "opening", "metre", "piece", "join", "crossing", "board", "run", "job" };

static bool
read_per (sw_fields *fields, sw_per *per)
{
  static const sw_other_word others[]
      = { { "meter", SW_PER_METRE },       { "m", SW_PER_METRE },      { "end_post", SW_PER_END_POST },
          { "end-post", SW_PER_END_POST }, { "gate", SW_PER_OPENING }, { NULL, 0 } };
  size_t choice = 0;
  if (!sw_field_needed (fields, PER, "what it is counted by, such as post or metre")
      || !sw_field_choice_too (fields, PER, per_names, SW_PER_COUNT, others, &choice))
    return false;
  *per = (sw_per)choice;
  return true;
}

/* The whole job belongs to no run, and neither does a board, whose pieces may go to several. */
static bool
check_only (sw_fields *fields, const sw_fitting *row)
{
  if (*sw_field (fields, ONLY) == '\0' || (row->per != SW_PER_BOARD && row->per != SW_PER_JOB))
    return true;
  char shown[SW_SHOWN];
  sw_show_text (sw_field (fields, ONLY), shown);
  sw_field_fault (fields, ONLY, "expected a blank cell, since what is counted by the %s is of no run, found \"%s\"",
                  per_names[row->per], shown);
  return false;
}

/* Check a row whose item has a row before: pack and price are those of the first row, and no other row may differ. */
static bool
check_same (sw_fields *fields, const sw_fitting *row, bool has_pack, const sw_fitting *first)
{
  bool good = true;
  if (has_pack && row->pack != first->pack)
    {
      sw_field_fault (fields, PACK, "is \"%s\", but another for the same item on line %zu", sw_field (fields, PACK),
                      first->line);
      good = false;
    }
  if (row->priced && (!first->priced || row->price != first->price))
    {
      sw_field_fault (fields, PRICE, "is \"%s\", but another for the same item on line %zu", sw_field (fields, PRICE),
                      first->line);
      good = false;
    }
  return good;
}

static sw_status
read_row (sw_fittings *out, sw_fields *fields, sw_name_index *names)
{
  const char *item = NULL;
  sw_fitting row = { .each = SW_FITTING_UNIT, .pack = 1, .price = -1, .line = sw_field_line (fields) };
  bool good = sw_field_name (fields, ITEM, "what it is", &item);
  good &= read_per (fields, &row.per);
  good &= sw_field_decimal (fields, EACH, 6, 0, MOST_EACH, &row.each);
  good &= sw_field_whole (fields, PACK, 1, MOST_PACK, &row.pack);
  good &= sw_field_money (fields, PRICE, &row.price);
  row.priced = row.price >= 0;
  row.price = row.priced ? row.price : 0;
  good = good && check_only (fields, &row);
  if (!good)
    return SW_OK;
  row.first = out->count;
  if (sw_name_index_find (names, item, &row.first))
    {
      const sw_fitting *first = &out->items[row.first];
      if (!check_same (fields, &row, *sw_field (fields, PACK) != '\0', first))
        return SW_OK;
      row.pack = first->pack;
      row.priced = first->priced;
      row.price = first->price;
    }
  row.item = sw_copy_text (item);
  if (*sw_field (fields, ONLY) != '\0')
    row.only = sw_copy_text (sw_field (fields, ONLY));
  sw_status status = row.item != NULL && (row.only != NULL || *sw_field (fields, ONLY) == '\0') ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK && row.first == out->count)
    status = sw_name_index_add (names, row.item, row.first);
  if (status != SW_OK)
    {
      free (row.item);
      free (row.only);
      return status;
    }
  out->items[out->count++] = row;
  return SW_OK;
}

sw_status
sw_fittings_read (sw_fittings *out, const sw_table *table, sw_report *report)
{
  static const char *const names[COLUMNS] = { "item", "per", "each", "pack", "price", "only" };
  sw_fields fields;
  sw_name_index items = { 0 };
  if (!sw_fields_begin (&fields, table, names, COLUMNS, 2, report))
    return SW_REJECTED;
  size_t rows = sw_table_rows (table);
  out->items = sw_alloc (rows, sizeof (sw_fitting));
  sw_status status = out->items != NULL ? SW_OK : SW_NO_MEMORY;
  for (; fields.row < rows && status == SW_OK; fields.row++)
    status = read_row (out, &fields, &items);
  sw_name_index_clear (&items);
  if (status == SW_OK && fields.faults > 0)
    status = SW_REJECTED;
  return status;
}

bool
sw_fitting_is_on (const sw_fitting *fitting, size_t run)
{
  return fitting->runs == NULL || fitting->runs[run];
}

void
sw_fittings_clear (sw_fittings *fittings)
{
  for (size_t i = 0; i < fittings->count; i++)
    {
      free (fittings->items[i].item);
      free (fittings->items[i].only);
      free (fittings->items[i].runs);
    }
  free (fittings->items);
  memset (fittings, 0, sizeof *fittings);
}
