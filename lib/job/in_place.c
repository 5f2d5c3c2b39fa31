/* in_place.c - pieces that are fixed in their places, and stay
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/in_place.h"

#include "base/memory.h"
#include "csv/field.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MOST_NUMBER 1000000000

enum
{
  PIECE,
  CUT,
  RUN,
  LEVEL,
  FROM,
  TO,
  EXTRA,
  NUMBER,
  COLUMNS
};
static const char *const columns[COLUMNS]
    = { "piece", "cut", "run", "level", "from_post", "to_post", "extra", "number" };

/* ---- The list ------------------------------------------------------------ */

static bool
copy_if_any (char **out, const char *text)
{
  *out = text != NULL && text[0] != '\0' ? sw_copy_text (text) : NULL;
  return *out != NULL || text == NULL || text[0] == '\0';
}

static void
drop (sw_placed *placed)
{
  free (placed->label);
  free (placed->run_name);
  free (placed->level_name);
  free (placed->extra_name);
}

sw_status
sw_in_place_add (sw_in_place *list, const sw_placed *placed)
{
  sw_status status = sw_grow ((void **)&list->items, &list->capacity, list->count + 1, sizeof *list->items);
  if (status != SW_OK)
    return status;
  sw_placed *own = &list->items[list->count];
  *own = *placed;
  own->run_name = own->level_name = own->extra_name = NULL;
  own->kind = placed->run_name == NULL || placed->run_name[0] == '\0' ? SW_PLACED_EXTRA
              : placed->to > placed->from                             ? SW_PLACED_TIMBER
                                                                      : SW_PLACED_BLOCK;
  if (copy_if_any (&own->label, placed->label) && copy_if_any (&own->run_name, placed->run_name)
      && copy_if_any (&own->level_name, placed->level_name) && copy_if_any (&own->extra_name, placed->extra_name))
    {
      list->count++;
      return SW_OK;
    }
  drop (own);
  return SW_NO_MEMORY;
}

void
sw_in_place_clear (sw_in_place *list)
{
  for (size_t i = 0; i < list->count; i++)
    drop (&list->items[i]);
  free (list->items);
  *list = (sw_in_place){ .count = 0 };
}

/* ---- Reading and writing ------------------------------------------------- */

sw_status
sw_in_place_read (sw_in_place *out, const sw_table *table, sw_report *report)
{
  sw_fields fields;
  if (!sw_fields_begin (&fields, table, columns, COLUMNS, CUT + 1, report))
    return SW_REJECTED;
  for (size_t rows = sw_table_rows (table); fields.row < rows; fields.row++)
    {
      const char *label = NULL;
      int64_t from = 1, to = 1;
      sw_placed placed = { .line = sw_field_line (&fields) };
      bool good = sw_field_name (&fields, PIECE, "a piece's label", &label);
      good &= sw_field_needed (&fields, CUT, "a length")
              && sw_field_length (&fields, CUT, SW_BARE_MM, SW_LENGTH_OVER_0, SW_LENGTH_MAX, &placed.cut);
      good &= sw_field_whole (&fields, FROM, 1, MOST_NUMBER, &from);
      good &= sw_field_whole (&fields, TO, from, MOST_NUMBER, &to);
      good &= sw_field_whole (&fields, NUMBER, 0, MOST_NUMBER, &placed.number);
      if (!good)
        continue;
      placed.from = (size_t)from - 1;
      placed.to = (size_t)to - 1;
      /* The texts only go to sw_in_place_add, which copies them. */
      placed.label = (char *)label;
      placed.run_name = (char *)sw_field (&fields, RUN);
      placed.level_name = (char *)sw_field (&fields, LEVEL);
      placed.extra_name = (char *)sw_field (&fields, EXTRA);
      sw_status status = sw_in_place_add (out, &placed);
      if (status != SW_OK)
        return status;
    }
  return fields.faults == 0 ? SW_OK : SW_REJECTED;
}

static sw_status
set_text (sw_table *table, size_t column, const char *text)
{
  return text != NULL ? sw_table_set_text (table, column, text) : SW_OK;
}

static sw_status
set_number (sw_table *table, size_t column, uint64_t number)
{
  char text[SW_SHOWN];
  snprintf (text, sizeof text, "%" PRIu64, number);
  return sw_table_set (table, column, text);
}

static sw_status
add_row (sw_table *table, const sw_placed *placed, const sw_settings *settings)
{
  char cut[SW_DECIMAL_TEXT];
  sw_settings_format_length (settings, placed->cut, cut);
  sw_status status = sw_table_add_row (table);
  if (status == SW_OK)
    status = set_text (table, PIECE, placed->label);
  if (status == SW_OK)
    status = sw_table_set (table, CUT, cut);
  if (status == SW_OK)
    status = set_text (table, RUN, placed->run_name);
  if (status == SW_OK)
    status = set_text (table, LEVEL, placed->level_name);
  if (status == SW_OK && placed->kind == SW_PLACED_TIMBER)
    status = set_number (table, FROM, placed->from + 1);
  if (status == SW_OK && placed->kind == SW_PLACED_TIMBER)
    status = set_number (table, TO, placed->to + 1);
  if (status == SW_OK)
    status = set_text (table, EXTRA, placed->extra_name);
  if (status == SW_OK && placed->number > 0)
    status = set_number (table, NUMBER, (uint64_t)placed->number);
  return status;
}

sw_status
sw_in_place_table (const sw_in_place *list, const sw_settings *settings, sw_table **out)
{
  *out = NULL;
  sw_table *table = NULL;
  sw_status status = sw_table_new (&table, columns, COLUMNS);
  if (status == SW_OK && settings->csv_style == SW_CSV_SEMICOLON)
    sw_table_write_semicolons (table);
  for (size_t i = 0; i < list->count && status == SW_OK; i++)
    status = add_row (table, &list->items[i], settings);
  if (status == SW_OK)
    *out = table;
  else
    sw_table_free (table);
  return status;
}

/* ---- Places -------------------------------------------------------------- */

typedef struct resolving
{
  const sw_fence *fence;
  const sw_levels *levels;
  const sw_extras *extras;
  const char *file;
  sw_report *report;
  bool rejected;
} resolving;

static void
no_place (resolving *r, const sw_placed *placed, const char *format, const char *what)
{
  char shown[SW_SHOWN];
  sw_show_text (placed->label, shown);
  char message[2 * SW_SHOWN];
  snprintf (message, sizeof message, format, what); /* NOLINT: a literal of this file */
  sw_report_add (r->report, SW_FAULT, r->file, placed->line, "piece",
                 "\"%s\" is fixed and has no place in the spans as they are now: %s", shown, message);
  r->rejected = true;
}

static bool
find_run (const sw_fence *fence, const char *name, size_t *run)
{
  for (*run = 0; *run < fence->run_count; ++*run)
    if (strcmp (fence->runs[*run].name, name) == 0)
      return true;
  return false;
}

static bool
find_level (const sw_levels *levels, const char *name, size_t *level)
{
  for (*level = 0; name != NULL && *level < levels->count; ++*level)
    if (strcmp (levels->items[*level].name, name) == 0)
      return true;
  return false;
}

/* Check that timber goes from post to post of a level that the run has, over bays that carry timber. */
static void
check_posts (resolving *r, const sw_placed *placed)
{
  const sw_run *run = &r->fence->runs[placed->run];
  char post[SW_SHOWN];
  if (placed->to > run->bay_count)
    {
      snprintf (post, sizeof post, "%zu", run->bay_count + 1);
      no_place (r, placed, "its run ends at post %s", post);
      return;
    }
  if (!r->levels->items[placed->level].through && placed->to != placed->from + 1)
    {
      no_place (r, placed, "its level now has a piece a bay%s", "");
      return;
    }
  for (size_t b = placed->from; b < placed->to; b++)
    if (run->bays[b].opening)
      {
        no_place (r, placed, "bay %s is an opening", run->bays[b].label);
        return;
      }
  for (size_t p = placed->from + 1; p < placed->to; p++)
    if (sw_run_breaks (run, p))
      {
        snprintf (post, sizeof post, "%zu", p + 1);
        no_place (r, placed, "timber ends at post %s, which it runs past", post);
        return;
      }
}

static void
resolve_extra (resolving *r, sw_placed *placed)
{
  for (size_t e = 0; placed->extra_name != NULL && e < r->extras->count; e++)
    if (strcmp (r->extras->items[e].label, placed->extra_name) == 0)
      {
        placed->extra = e;
        if (placed->number > r->extras->items[e].quantity)
          no_place (r, placed, "there are fewer extras of that label%s", "");
        return;
      }
  no_place (r, placed, "no extra has its label%s", "");
}

static void
resolve (resolving *r, sw_placed *placed)
{
  if (placed->kind == SW_PLACED_EXTRA)
    {
      resolve_extra (r, placed);
      return;
    }
  char shown[SW_SHOWN];
  sw_show_text (placed->run_name, shown);
  if (!find_run (r->fence, placed->run_name, &placed->run))
    no_place (r, placed, "there is no run \"%s\"", shown);
  else if (!find_level (r->levels, placed->level_name, &placed->level))
    {
      sw_show_text (placed->level_name != NULL ? placed->level_name : "", shown);
      no_place (r, placed, "there is no level \"%s\"", shown);
    }
  else if (!sw_level_is_on (&r->levels->items[placed->level], placed->run))
    no_place (r, placed, "run \"%s\" does not have its level", shown);
  else if (placed->kind == SW_PLACED_TIMBER)
    check_posts (r, placed);
}

static int
by_place (const void *a, const void *b)
{
  const sw_placed *x = a, *y = b;
  if (x->kind != y->kind)
    return x->kind < y->kind ? -1 : 1;
  const size_t left[] = { x->run, x->level, x->extra, x->from, (size_t)x->number };
  const size_t right[] = { y->run, y->level, y->extra, y->from, (size_t)y->number };
  for (size_t i = 0; i < sizeof left / sizeof left[0]; i++)
    if (left[i] != right[i])
      return left[i] < right[i] ? -1 : 1;
  return 0;
}

/* Check that no two pieces are in one place.  LIST is sorted. */
static void
check_apart (resolving *r, const sw_in_place *list)
{
  for (size_t i = 1; i < list->count; i++)
    {
      const sw_placed *a = &list->items[i - 1], *b = &list->items[i];
      char shown[SW_SHOWN];
      sw_show_text (a->label, shown);
      if (a->kind != b->kind || a->run != b->run || a->level != b->level || a->extra != b->extra)
        continue;
      if (a->kind == SW_PLACED_TIMBER ? b->from < a->to : a->number == b->number)
        no_place (r, b, "\"%s\" is there", shown);
    }
}

sw_status
sw_in_place_resolve (sw_in_place *list, const sw_fence *fence, const sw_levels *levels, const sw_extras *extras,
                     const char *file, sw_report *report)
{
  resolving r = { .fence = fence, .levels = levels, .extras = extras, .file = file, .report = report };
  for (size_t i = 0; i < list->count; i++)
    resolve (&r, &list->items[i]);
  if (list->count > 1)
    qsort (list->items, list->count, sizeof *list->items, by_place);
  if (!r.rejected)
    check_apart (&r, list);
  return r.rejected ? SW_REJECTED : SW_OK;
}

const sw_placed *
sw_in_place_of (const sw_in_place *list, size_t run, size_t level, size_t *count)
{
  size_t low = 0, high = list->count;
  while (low < high)
    {
      const size_t middle = low + (high - low) / 2;
      const sw_placed *p = &list->items[middle];
      if (p->kind == SW_PLACED_TIMBER && (p->run < run || (p->run == run && p->level < level)))
        low = middle + 1;
      else
        high = middle;
    }
  *count = 0;
  for (size_t i = low; i < list->count; i++)
    {
      const sw_placed *p = &list->items[i];
      if (p->kind != SW_PLACED_TIMBER || p->run != run || p->level != level)
        break;
      ++*count;
    }
  return *count > 0 ? &list->items[low] : NULL;
}

int64_t
sw_in_place_blocks (const sw_in_place *list, size_t run, size_t level)
{
  int64_t count = 0;
  for (size_t i = 0; i < list->count; i++)
    if (list->items[i].kind == SW_PLACED_BLOCK && list->items[i].run == run && list->items[i].level == level)
      count++;
  return count;
}

int64_t
sw_in_place_extras (const sw_in_place *list, size_t extra)
{
  int64_t count = 0;
  for (size_t i = 0; i < list->count; i++)
    if (list->items[i].kind == SW_PLACED_EXTRA && list->items[i].extra == extra)
      count++;
  return count;
}
