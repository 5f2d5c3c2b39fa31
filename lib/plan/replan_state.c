/* replan_state.c - what is on hand and what is in its place, after what happened on site
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/replan.h"

#include "base/memory.h"
#include "base/text.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

typedef struct state
{
  const sw_old_plan *plan;
  sw_job *job; /* the job that is planned now */
  bool *touched; /* for each board: it was cut into, or it is bad */
} state;

/* ---- Names --------------------------------------------------------------- */

/* Make a name of STEM and WHAT of the plan before, with the number of that plan's revision, if it was one. */
static char *
name_of (const state *s, const char *stem, const char *what)
{
  sw_text text = { 0 };
  const int64_t revision = s->plan->job->settings->revision;
  sw_text_add (&text, stem);
  sw_text_add (&text, what);
  if (revision > 0)
    sw_text_printf (&text, " of revision %" PRId64, revision);
  return sw_text_take (&text);
}

/* Find the section of the present job that has the name of SECTION of the job before. */
static bool
section_now (state *s, size_t section, size_t *now)
{
  const char *name = s->plan->job->sections.items[section].name;
  const int found = sw_sections_find (&s->job->sections, name);
  *now = found >= 0 ? (size_t)found : 0;
  return found >= 0;
}

static sw_status
add_timber (state *s, sw_timber *timber, char *name)
{
  sw_status status = name != NULL ? SW_OK : SW_NO_MEMORY;
  timber->name = name;
  timber->count = 1;
  /* Timber that the job has no use for any more is left out. */
  if (status == SW_OK && timber->length > 0 && section_now (s, timber->section, &timber->section))
    status = sw_on_hand_add (&s->job->on_hand, timber);
  free (name);
  return status;
}

/* ---- Boards -------------------------------------------------------------- */

static void
find_touched (state *s)
{
  const sw_old_plan *plan = s->plan;
  for (size_t b = 0; b < plan->board_count; b++)
    s->touched[b] = plan->boards[b].said.state != SW_SITE_NOTHING;
  for (size_t p = 0; p < plan->piece_count; p++)
    if (plan->pieces[p].board != SW_NONE && plan->pieces[p].said.state != SW_SITE_NOTHING)
      s->touched[plan->pieces[p].board] = true;
}

/* Count the boards of STOCK that are there whole, at whatever yard they were bought; they count with the first stock of
 * their length. */
static int64_t
count_boards (const state *s, size_t stock)
{
  const sw_old_plan *plan = s->plan;
  const sw_stock *row = &plan->job->stocks.items[stock];
  int64_t count = 0;
  for (size_t i = 0; i < plan->job->stocks.count; i++)
    {
      const sw_stock *other = &plan->job->stocks.items[i];
      if (other->section != row->section || other->length != row->length || other->sawn)
        continue;
      if (i < stock)
        return 0;
      count += other->hand + plan->ordered[i];
      for (size_t b = 0; b < plan->board_count; b++)
        count -= plan->boards[b].stock == i && s->touched[b] ? 1 : 0;
    }
  return count > 0 ? count : 0;
}

/* Add the whole boards of one stock: how many are there, and how many were bought in all. */
static sw_status
add_boards (state *s, size_t stock)
{
  const sw_old_plan *plan = s->plan;
  const sw_job *before = plan->job;
  const sw_stock *row = &before->stocks.items[stock];
  sw_timber timber = { .kind = SW_TIMBER_BOARD,
                       .section = row->section,
                       .length = row->length,
                       .count = count_boards (s, stock),
                       .bought = plan->ordered[stock],
                       .yard = SW_NO_YARD };
  for (size_t i = 0; i < before->on_hand.count; i++)
    if (before->on_hand.items[i].kind == SW_TIMBER_BOARD && before->on_hand.items[i].stock == stock)
      timber.bought += before->on_hand.items[i].bought;
  if ((timber.count == 0 && timber.bought == 0) || !section_now (s, timber.section, &timber.section))
    return SW_OK;
  /* A yard that the present job does not name sells nothing to it. */
  if (row->yard != SW_NO_YARD)
    sw_name_index_find (&s->job->yards.names, before->yards.items[row->yard].name, &timber.yard);
  return sw_on_hand_add (&s->job->on_hand, &timber);
}

/* Add the fittings that were ordered, now and before. */
static sw_status
add_fittings (state *s)
{
  const sw_old_plan *plan = s->plan;
  const sw_on_hand *before = &plan->job->on_hand;
  sw_status status = SW_OK;
  for (size_t i = 0; i < before->had_count && status == SW_OK; i++)
    status = sw_on_hand_have (&s->job->on_hand, before->had[i].item, before->had[i].count);
  for (size_t i = 0; i < plan->had_count && status == SW_OK; i++)
    status = sw_on_hand_have (&s->job->on_hand, plan->had[i].item, plan->had[i].count);
  return status;
}

/* Add the timber on hand that the plan before did not use, or that nobody has touched. */
static sw_status
add_older (state *s)
{
  const sw_old_plan *plan = s->plan;
  sw_status status = SW_OK;
  for (size_t t = 0; t < plan->job->on_hand.count && status == SW_OK; t++)
    {
      sw_timber timber = plan->job->on_hand.items[t];
      bool there = timber.kind != SW_TIMBER_BOARD;
      for (size_t b = 0; b < plan->board_count; b++)
        there = there && (plan->boards[b].timber != t || !s->touched[b]);
      if (there && section_now (s, timber.section, &timber.section))
        status = sw_on_hand_add (&s->job->on_hand, &timber);
    }
  return status;
}

/* What is left of board B, which was cut into or is bad. */
static sw_length
remainder_of (const state *s, size_t b)
{
  const sw_old_plan *plan = s->plan;
  const sw_old_board *board = &plan->boards[b];
  const sw_settings *settings = plan->job->settings;
  if (board->said.left >= 0)
    return board->said.left;
  if (board->said.state == SW_SITE_BAD)
    return 0;
  sw_length left = sw_job_usable (plan->job, &plan->job->stocks.items[board->stock]);
  for (size_t p = 0; p < plan->piece_count; p++)
    if (plan->pieces[p].board == b
        && (plan->pieces[p].said.state != SW_SITE_NOTHING || board->said.state == SW_SITE_CUT_UP))
      left -= plan->pieces[p].take + settings->kerf;
  return left > 0 ? left : 0;
}

static sw_status
add_remainder (state *s, size_t b)
{
  const sw_old_board *board = &s->plan->boards[b];
  sw_timber timber = { .kind = SW_TIMBER_OFFCUT, .section = board->section, .length = remainder_of (s, b) };
  sw_text text = { 0 };
  sw_text_printf (&text, "%" PRId64, board->number);
  char *figure = sw_text_take (&text);
  if (figure == NULL)
    return SW_NO_MEMORY;
  sw_status status = add_timber (s, &timber, name_of (s, "offcut of board ", figure));
  free (figure);
  return status;
}

/* ---- Pieces -------------------------------------------------------------- */

static bool
is_named (const sw_on_hand *list, const char *name)
{
  for (size_t t = 0; t < list->count; t++)
    if (list->items[t].name != NULL && strcmp (list->items[t].name, name) == 0)
      return true;
  return false;
}

static sw_status
add_cut (state *s, const sw_old_piece *old)
{
  sw_timber timber = { .kind = SW_TIMBER_PIECE, .section = old->section, .length = old->square, .ends = old->ends };
  if (old->ends != NULL)
    {
      timber.cut = old->cut;
      timber.take = old->take;
      timber.length = old->square > 0 ? old->square : 1;
    }
  /* Two pieces may have had the same label, one after the other. */
  return add_timber (s, &timber, is_named (&s->job->on_hand, old->label) ? name_of (s, "", old->label)
                                                                         : sw_copy_text (old->label));
}

static sw_status
add_spoiled (state *s, const sw_old_piece *old)
{
  sw_timber timber = { .kind = SW_TIMBER_OFFCUT, .section = old->section, .length = old->said.left };
  return old->said.left > 0 ? add_timber (s, &timber, name_of (s, "rest of ", old->label)) : SW_OK;
}

static sw_status
add_fixed (state *s, const sw_old_piece *old)
{
  const sw_job *before = s->plan->job;
  sw_placed placed = { .label = old->label,
                       .from = old->from,
                       .to = old->to,
                       .number = old->number,
                       .cut = old->cut,
                       .line = old->said.line };
  if (old->run != SW_NONE)
    {
      placed.run_name = before->fence.runs[old->run].name;
      placed.level_name = before->levels.items[old->level].name;
    }
  else
    placed.extra_name = before->extras.items[old->extra].label;
  return sw_in_place_add (&s->job->in_place, &placed);
}

static sw_status
take_piece (state *s, const sw_old_piece *old)
{
  const sw_old_board *board = old->board != SW_NONE ? &s->plan->boards[old->board] : NULL;
  sw_site_state said = old->said.state;
  if (said == SW_SITE_NOTHING && board == NULL)
    said = SW_SITE_FIXED;
  else if (said == SW_SITE_NOTHING && board->said.state == SW_SITE_CUT_UP)
    said = SW_SITE_CUT;
  switch (said)
    {
    case SW_SITE_FIXED:
      return add_fixed (s, old);
    case SW_SITE_CUT:
      return add_cut (s, old);
    case SW_SITE_SPOILED:
      return add_spoiled (s, old);
    case SW_SITE_NOTHING:
    case SW_SITE_BAD:
    case SW_SITE_CUT_UP:
      break;
    }
  return SW_OK;
}

/* ---- The whole ----------------------------------------------------------- */

/* The list as bytes, to be kept with the plan. */
static sw_status
keep_bytes (sw_job *job, sw_job_file which, sw_table *table)
{
  sw_bytes *bytes = &job->read[which];
  sw_status status = sw_table_csv (table, &bytes->data);
  if (status == SW_OK)
    bytes->count = strlen (bytes->data);
  sw_table_free (table);
  return status;
}

static sw_status
keep_lists (sw_job *job)
{
  sw_table *table = NULL;
  sw_status status = sw_on_hand_table (&job->on_hand, &job->sections, &job->yards, job->settings, &table);
  if (status == SW_OK)
    status = keep_bytes (job, SW_FILE_ON_HAND, table);
  if (status == SW_OK && job->in_place.count > 0)
    {
      status = sw_in_place_table (&job->in_place, job->settings, &table);
      if (status == SW_OK)
        status = keep_bytes (job, SW_FILE_IN_PLACE, table);
    }
  return status;
}

sw_status
sw_old_plan_state (const sw_old_plan *plan, sw_job *job, const char *site, sw_report *report)
{
  state s = { .plan = plan, .job = job };
  s.touched = sw_alloc (plan->board_count, sizeof *s.touched);
  sw_status status = s.touched != NULL ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    find_touched (&s);
  job->on_hand.given = true;
  for (size_t i = 0; i < plan->job->stocks.count && status == SW_OK; i++)
    if (!plan->job->stocks.items[i].sawn)
      status = add_boards (&s, i);
  if (status == SW_OK)
    status = add_fittings (&s);
  if (status == SW_OK)
    status = add_older (&s);
  for (size_t b = 0; b < plan->board_count && status == SW_OK; b++)
    if (s.touched[b])
      status = add_remainder (&s, b);
  for (size_t p = 0; p < plan->piece_count && status == SW_OK; p++)
    status = take_piece (&s, &plan->pieces[p]);
  free (s.touched);
  if (status == SW_OK)
    status = sw_on_hand_apply (&job->on_hand, &job->stocks, job->priced);
  if (status == SW_OK)
    status = sw_in_place_resolve (&job->in_place, &job->fence, &job->levels, &job->extras, site, report);
  return status == SW_OK ? keep_lists (job) : status;
}
