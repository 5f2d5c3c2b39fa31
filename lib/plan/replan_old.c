/* replan_old.c - a plan's tables read back, to go on from
 *
 * Lengths in tables are rounded to a tenth of a millimetre.  The length that
 * the job works out for a place is exact, so that length is taken where the
 * two agree.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/replan.h"

#include "base/decimal.h"
#include "base/memory.h"
#include "base/name_index.h"
#include "base/text.h"
#include "csv/table.h"
#include "csv/value.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

typedef struct reading
{
  sw_old_plan *plan;
  sw_table *table;
  sw_report *report;
  size_t row;
  bool good;
  bool starved; /* memory ran out */
} reading;

/* ---- Cells --------------------------------------------------------------- */

static const char *
cell (const reading *r, const char *column)
{
  const int at = sw_table_find (r->table, column);
  return at >= 0 ? sw_table_cell (r->table, r->row, (size_t)at) : "";
}

static void
wrong (reading *r, const char *column, const char *expected)
{
  char shown[SW_SHOWN];
  sw_show_text (cell (r, column), shown);
  sw_report_add (r->report, SW_FAULT, sw_table_file (r->table), sw_table_line (r->table, r->row), column,
                 "expected %s, found \"%s\"", expected, shown);
  r->good = false;
}

static int64_t
count_of (reading *r, const char *column)
{
  int64_t count = 0;
  char expected[SW_PHRASE];
  if (!sw_value_whole (cell (r, column), 0, INT32_MAX, &count, expected))
    wrong (r, column, expected);
  return count;
}

/* The length in column MM, or else in column IN. */
static sw_length
length_of (reading *r, const char *mm, const char *in)
{
  const bool inches = sw_table_find (r->table, mm) < 0;
  const char *column = inches ? in : mm;
  char expected[SW_PHRASE];
  sw_length length = 0;
  sw_text text = { 0 };
  sw_text_printf (&text, "%s%s", cell (r, column), inches ? "in" : "");
  char *written = sw_text_take (&text);
  r->starved = r->starved || written == NULL;
  if (written != NULL
      && !sw_value_length (written, SW_BARE_MM, sw_table_decimal_comma (r->table), 0, SW_LENGTH_MAX, &length, expected))
    wrong (r, column, expected);
  free (written);
  return length;
}

static size_t
section_of (reading *r)
{
  const int found = sw_sections_find (&r->plan->job->sections, cell (r, "section"));
  if (found < 0)
    wrong (r, "section", "a section of the job");
  return found < 0 ? 0 : (size_t)found;
}

/* The stock of SECTION and LENGTH: that of TIMBER where that is known, else one of whole boards. */
static size_t
stock_of (reading *r, size_t section, sw_length length, size_t timber)
{
  const sw_job *job = r->plan->job;
  if (timber != SW_NONE)
    return job->on_hand.items[timber].stock;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const sw_stock *row = &job->stocks.items[s];
      if (row->section == section && !row->sawn && sw_old_nearest (length, row->length) == row->length)
        return s;
    }
  return SW_NONE;
}

/* ---- Boards -------------------------------------------------------------- */

static size_t
timber_of (reading *r)
{
  const sw_on_hand *list = &r->plan->job->on_hand;
  const char *name = cell (r, "timber");
  for (size_t t = 0; name[0] != '\0' && t < list->count; t++)
    if (list->items[t].name != NULL && strcmp (list->items[t].name, name) == 0)
      return t;
  if (name[0] != '\0')
    wrong (r, "timber", "timber that was on hand");
  return SW_NONE;
}

/* The board of this line, added when it is met first; SW_NONE: it is wrong, and has been reported. */
static size_t
board_of (reading *r)
{
  sw_old_plan *plan = r->plan;
  sw_old_board board = { .number = count_of (r, "board"),
                         .section = section_of (r),
                         .hand = sw_same_word (cell (r, "source"), "hand"),
                         .said = { .left = -1 } };
  board.length = length_of (r, "board_mm", "board_in");
  board.timber = timber_of (r);
  if (!r->good)
    return SW_NONE;
  for (size_t b = plan->board_count; b-- > 0;)
    if (plan->boards[b].number == board.number)
      return b;
  board.stock = stock_of (r, board.section, board.length, board.timber);
  if (board.stock == SW_NONE)
    {
      wrong (r, sw_table_find (r->table, "board_mm") >= 0 ? "board_mm" : "board_in", "a length that the stock has");
      return SW_NONE;
    }
  board.length = plan->job->stocks.items[board.stock].length;
  if (sw_grow ((void **)&plan->boards, &plan->board_room, plan->board_count + 1, sizeof board) != SW_OK)
    {
      r->good = false;
      r->starved = true;
      return SW_NONE;
    }
  plan->boards[plan->board_count] = board;
  return plan->board_count++;
}

/* ---- Pieces -------------------------------------------------------------- */

static size_t
run_named (const sw_job *job, const char *name)
{
  for (size_t i = 0; i < job->fence.run_count; i++)
    if (strcmp (job->fence.runs[i].name, name) == 0)
      return i;
  return SW_NONE;
}

static size_t
level_named (const sw_job *job, const char *name)
{
  for (size_t i = 0; i < job->levels.count; i++)
    if (strcmp (job->levels.items[i].name, name) == 0)
      return i;
  return SW_NONE;
}

/* The number at the end of LABEL; 0: it has none. */
static int64_t
last_number (const char *label)
{
  const char *at = label + strlen (label);
  while (at > label && at[-1] >= '0' && at[-1] <= '9')
    at--;
  int64_t number = 0;
  return at > label && at[-1] == ' ' && sw_decimal_parse (at, false, 0, &number) ? number : 0;
}

static void
measure_extra (reading *r, sw_old_piece *old)
{
  const sw_extras *extras = &r->plan->job->extras;
  old->number = last_number (old->label);
  for (old->extra = 0; old->extra < extras->count; old->extra++)
    {
      const sw_extra *extra = &extras->items[old->extra];
      const size_t length = strlen (extra->label);
      if (strncmp (old->label, extra->label, length) != 0)
        continue;
      if (old->label[length] == '\0')
        old->number = 0;
      else if (old->label[length] != ' ' || last_number (old->label + length) == 0)
        continue;
      old->cut = old->take = old->square = sw_old_nearest (old->cut, extra->length);
      return;
    }
  wrong (r, "piece", "the label of an extra");
}

/* Set where the piece of this line goes and how long it is. */
static sw_status
place_piece (reading *r, sw_old_piece *old)
{
  const sw_job *job = r->plan->job;
  old->cut = old->take = old->square = length_of (r, "cut_mm", "cut_in");
  if (sw_table_find (r->table, "take_mm") >= 0 || sw_table_find (r->table, "take_in") >= 0)
    old->take = length_of (r, "take_mm", "take_in");
  if (cell (r, "run")[0] == '\0')
    {
      old->kind = SW_PIECE_EXTRA;
      measure_extra (r, old);
      return SW_OK;
    }
  old->run = run_named (job, cell (r, "run"));
  old->level = level_named (job, cell (r, "level"));
  if (old->run == SW_NONE || old->level == SW_NONE)
    {
      wrong (r, old->run == SW_NONE ? "run" : "level", "one of the job");
      return SW_OK;
    }
  if (cell (r, "from_post")[0] == '\0')
    {
      old->kind = SW_PIECE_BLOCK;
      old->number = last_number (old->label);
      old->cut = old->take = old->square = sw_old_nearest (old->cut, job->levels.items[old->level].block_length);
      return SW_OK;
    }
  const int64_t from = count_of (r, "from_post"), to = count_of (r, "to_post");
  if (!r->good)
    return SW_OK;
  if (from < 1 || to <= from || to > (int64_t)job->fence.runs[old->run].bay_count + 1)
    {
      wrong (r, "to_post", "posts of the run, the first before the second");
      return SW_OK;
    }
  old->kind = job->levels.items[old->level].through ? SW_PIECE_THROUGH : SW_PIECE_BETWEEN;
  old->from = (size_t)from - 1;
  old->to = (size_t)to - 1;
  return sw_old_piece_measure (job, old);
}

static sw_old_piece
blank_piece (void)
{
  return (sw_old_piece){ .run = SW_NONE, .level = SW_NONE, .extra = SW_NONE, .board = SW_NONE, .said = { .left = -1 } };
}

static sw_status
keep_piece (sw_old_plan *plan, sw_old_piece *old)
{
  sw_status status = sw_grow ((void **)&plan->pieces, &plan->piece_room, plan->piece_count + 1, sizeof *old);
  if (status == SW_OK)
    plan->pieces[plan->piece_count++] = *old;
  else
    {
      free (old->label);
      free (old->ends);
    }
  return status;
}

static sw_status
read_row (reading *r)
{
  sw_old_piece old = blank_piece ();
  old.board = board_of (r);
  if (!r->good)
    return SW_OK;
  old.section = r->plan->boards[old.board].section;
  old.label = sw_copy_text (cell (r, "piece"));
  if (old.label == NULL)
    return SW_NO_MEMORY;
  sw_status status = place_piece (r, &old);
  if (status == SW_OK)
    return keep_piece (r->plan, &old);
  free (old.label);
  return status;
}

/* ---- The whole ----------------------------------------------------------- */

static sw_status
open_table (sw_old_plan *plan, const char *name, sw_table **out, sw_report *report)
{
  char *path = sw_text_path (plan->dir, name);
  if (path == NULL)
    return SW_NO_MEMORY;
  sw_status status = sw_table_read (out, path, report);
  free (path);
  return status;
}

/* Does the table have all of NAMES (NULL at the end)? */
static bool
has_columns (const sw_table *table, const char *const *names, sw_report *report)
{
  bool all = true;
  for (; *names != NULL; names++)
    if (sw_table_find (table, *names) < 0)
      {
        sw_report_add (report, SW_FAULT, sw_table_file (table), sw_table_header_line (table), *names,
                       "expected this column in a plan's table, found none of that name");
        all = false;
      }
  return all;
}

static sw_status
read_cuts (sw_old_plan *plan, sw_report *report)
{
  static const char *const names[]
      = { "board", "section", "source", "piece", "run", "level", "from_post", "to_post", NULL };
  reading r = { .plan = plan, .report = report, .good = true };
  bool all_good = true;
  sw_status status = open_table (plan, "cuts.csv", &r.table, report);
  if (status != SW_OK)
    return status;
  if (!has_columns (r.table, names, report))
    status = SW_REJECTED;
  for (; status == SW_OK && r.row < sw_table_rows (r.table); r.row++)
    {
      r.good = true;
      status = read_row (&r);
      if (r.starved)
        status = SW_NO_MEMORY;
      all_good = all_good && r.good;
    }
  sw_table_free (r.table);
  return status == SW_OK && !all_good ? SW_REJECTED : status;
}

/* The stock that a line of the order buys: the one at its yard, where it names one. */
static size_t
row_bought (reading *r, size_t section, sw_length length)
{
  const sw_job *job = r->plan->job;
  size_t yard = SW_NO_YARD;
  const char *name = cell (r, "yard");
  if (name[0] != '\0' && !sw_name_index_find (&job->yards.names, name, &yard))
    {
      wrong (r, "yard", "a yard of the job");
      return SW_NONE;
    }
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const sw_stock *row = &job->stocks.items[s];
      if (row->section == section && !row->sawn && row->yard == yard && sw_old_nearest (length, row->length) == row->length)
        return s;
    }
  return stock_of (r, section, length, SW_NONE);
}

/* Read what a line of the order buys. */
static sw_status
read_line (reading *r)
{
  sw_old_plan *plan = r->plan;
  const int64_t count = count_of (r, "count") + (cell (r, "spare")[0] != '\0' ? count_of (r, "spare") : 0);
  if (sw_same_word (cell (r, "kind"), "fitting"))
    {
      sw_status status = sw_grow ((void **)&plan->had, &plan->had_room, plan->had_count + 1, sizeof *plan->had);
      if (status == SW_OK)
        plan->had[plan->had_count++] = (sw_had){ .item = (char *)cell (r, "description"), .count = count };
      return status;
    }
  if (cell (r, "section")[0] == '\0')
    return SW_OK; /* a delivery */
  const sw_length length = length_of (r, "length_mm", "length_in");
  const size_t section = section_of (r);
  const size_t stock = r->good ? row_bought (r, section, length) : SW_NONE;
  if (stock != SW_NONE)
    plan->ordered[stock] += count;
  return SW_OK;
}

/* Read what was bought: timber, with spare lengths and those that packs bring, and fittings. */
static sw_status
read_order (sw_old_plan *plan, sw_report *report)
{
  static const char *const names[] = { "section", "count", "spare", NULL };
  reading r = { .plan = plan, .report = report, .good = true };
  sw_status status = open_table (plan, "order.csv", &plan->order, report);
  if (status != SW_OK)
    return status;
  r.table = plan->order;
  if (!has_columns (r.table, names, report))
    status = SW_REJECTED;
  for (; status == SW_OK && r.row < sw_table_rows (r.table); r.row++)
    {
      status = read_line (&r);
      if (r.starved)
        status = SW_NO_MEMORY;
    }
  return status == SW_OK && !r.good ? SW_REJECTED : status;
}

/* What was in its place before still is, unless something else is said. */
static sw_status
add_placed (sw_old_plan *plan)
{
  const sw_job *job = plan->job;
  sw_status status = SW_OK;
  for (size_t i = 0; i < job->in_place.count && status == SW_OK; i++)
    {
      const sw_placed *p = &job->in_place.items[i];
      sw_old_piece old = blank_piece ();
      old.cut = old.take = old.square = p->cut;
      old.number = p->number;
      old.label = sw_copy_text (p->label);
      if (old.label == NULL)
        return SW_NO_MEMORY;
      if (p->kind == SW_PLACED_EXTRA)
        {
          old.kind = SW_PIECE_EXTRA;
          old.extra = p->extra;
          old.section = job->extras.items[p->extra].section;
        }
      else
        {
          const sw_level *level = &job->levels.items[p->level];
          old.run = p->run;
          old.level = p->level;
          old.from = p->from;
          old.to = p->to;
          old.kind = p->kind == SW_PLACED_BLOCK ? SW_PIECE_BLOCK : level->through ? SW_PIECE_THROUGH : SW_PIECE_BETWEEN;
          old.section = p->kind == SW_PLACED_BLOCK ? level->block_section : level->section;
          if (p->kind == SW_PLACED_TIMBER)
            status = sw_old_piece_measure (job, &old);
        }
      if (status == SW_OK)
        status = keep_piece (plan, &old);
      else
        free (old.label);
    }
  return status;
}

sw_status
sw_old_plan_read (sw_old_plan *out, const sw_job *job, const char *dir, sw_report *report)
{
  *out = (sw_old_plan){ .job = job, .dir = sw_copy_text (dir) };
  out->ordered = sw_alloc (job->stocks.count, sizeof *out->ordered);
  if (out->dir == NULL || out->ordered == NULL)
    return SW_NO_MEMORY;
  sw_status status = read_cuts (out, report);
  if (status == SW_OK)
    status = read_order (out, report);
  return status == SW_OK ? add_placed (out) : status;
}

void
sw_old_plan_clear (sw_old_plan *plan)
{
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      free (plan->pieces[p].label);
      free (plan->pieces[p].ends);
    }
  free (plan->pieces);
  free (plan->boards);
  free (plan->ordered);
  free (plan->had);
  sw_table_free (plan->order);
  free (plan->dir);
  *plan = (sw_old_plan){ .job = NULL };
}
