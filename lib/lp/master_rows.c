/* master_rows.c - the integer programme over patterns and single options: its rows, which are the rules of the strips
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "lp/master_glpk.h"

#include <math.h>

#include "base/memory.h"

static void
add_options (sw_master *m, const uint8_t *keep)
{
  for (size_t o = 0; o < m->goal.model->option_count; o++)
    if (keep == NULL || keep[o])
      {
        /* The flow already keeps it to one at most. */
        const double cost = sw_master_put_option (m, o);
        m->option_columns = m->option_column[o] = sw_master_put_column (m, cost);
      }
}

/* ---- Rows over the options of a level that were taken in -------------------------------- */

static void
put_option (sw_master *m, int32_t option, double value)
{
  if (option >= 0 && m->option_column[option] != 0)
    sw_master_put (m, m->option_column[option], value);
}

/* Put the options of level ROW that end at POST. */
static void
put_ends (sw_master *m, const sw_strip_level *row, uint32_t post, double value)
{
  for (uint32_t d = 1; d <= row->reach && d <= post; d++)
    put_option (m, row->at[(size_t)post * row->reach + d - 1], value);
}

/* Put the options of level ROW that begin at POST and have at least BAYS bays; without WHOLE_ROW, leave out the option
 * that is the whole level. */
static void
put_begins (sw_master *m, const sw_strip *strip, const sw_strip_level *row, uint32_t post, uint32_t bays,
            bool whole_row, double value)
{
  for (uint32_t d = bays; d <= row->reach && post + d <= strip->bays; d++)
    if (whole_row || d < strip->bays)
      put_option (m, row->at[(size_t)(post + d) * row->reach + d - 1], value);
}

static void
add_flow (sw_master *m, const sw_strip *strip, const sw_strip_level *row)
{
  put_begins (m, strip, row, 0, 1, true, 1);
  sw_master_put_row (m, 1, 1);
  for (uint32_t p = 1; p < strip->bays; p++)
    {
      put_ends (m, row, p, 1);
      put_begins (m, strip, row, p, 1, true, -1);
      if (m->entries > 0)
        sw_master_put_row (m, 0, 0);
    }
}

/* Neighbouring levels must not join on one post, or else the pair counts in the rows STRIP_SUM and ALL_SUM. */
static void
add_stagger (sw_master *m, const sw_strip *strip, bool may_align, int strip_sum, int all_sum)
{
  for (uint32_t p = 1; p < strip->bays; p++)
    for (uint32_t r = 0; strip->counted[p] && r + 1 < strip->level_count; r++)
      {
        if (!sw_strip_counts (strip, p, r))
          continue;
        put_ends (m, &strip->levels[r], p, 1);
        const int lower = m->entries;
        put_ends (m, &strip->levels[r + 1], p, 1);
        if (lower == 0 || m->entries == lower)
          {
            sw_master_forget (m);
            continue;
          }
        const int row = sw_master_put_row (m, -INFINITY, 1);
        if (!may_align)
          continue;
        sw_master_put (m, row, -1);
        sw_master_put (m, strip_sum, 1);
        sw_master_put (m, all_sum, 1);
        sw_master_bound_column (m, sw_master_put_column (m, 0), 0, 1);
      }
}

/* First pieces are long and short in turn: with u = 0 the lowest level is a long one.  In each pair of levels, S is the
 * shorter and L the longer.  For every k, the first piece of S has k bays or more only if that of L has. */
static void
add_turns (sw_master *m, const sw_strip *strip)
{
  const int u = sw_master_put_column (m, 0);
  glp_set_col_kind (m->lp, u, GLP_BV);
  for (uint32_t r = 0; r + 1 < strip->level_count; r++)
    for (unsigned turn = 0; turn < 2 && sw_strip_turns (strip, r); turn++)
      {
        const sw_strip_level *row[2] = { &strip->levels[r], &strip->levels[r + 1] };
        const sw_strip_level *longer = row[(r + turn) % 2], *shorter = row[1 - (r + turn) % 2];
        for (uint32_t k = 2; k <= shorter->reach && k < strip->bays; k++)
          {
            put_begins (m, strip, shorter, 0, k, false, 1);
            if (m->entries == 0)
              continue;
            put_begins (m, strip, longer, 0, k, true, -1);
            sw_master_put (m, u, turn == 0 ? -1 : 1);
            sw_master_put_row (m, -INFINITY, turn);
          }
      }
}

static void
add_strips (sw_master *m)
{
  const sw_model *model = m->goal.model;
  int64_t floors = 0;
  for (size_t s = 0; s < model->strip_count; s++)
    floors += model->strips[s].aligned_floor;
  const int all_sum = sw_master_put_row (m, -INFINITY, (double)(floors + model->aligned_cap));
  for (size_t s = 0; s < model->strip_count; s++)
    {
      const sw_strip *strip = &model->strips[s];
      for (uint32_t r = 0; r < strip->level_count; r++)
        add_flow (m, strip, &strip->levels[r]);
      if (!model->stagger || strip->level_count < 2)
        continue;
      const int64_t most = strip->aligned_floor + model->aligned_cap;
      const int strip_sum = sw_master_put_row (m, -INFINITY, (double)most);
      add_stagger (m, strip, most > 0, strip_sum, all_sum);
      if (model->turn)
        add_turns (m, strip);
    }
}

static sw_status
build (sw_master *m, void *data)
{
  m->option_column = sw_alloc (m->goal.model->option_count, sizeof *m->option_column);
  if (m->option_column == NULL)
    return SW_NO_MEMORY;
  m->lp = glp_create_prob ();
  sw_master_add_base_rows (m);
  add_options (m, *(const uint8_t *const *)data);
  add_strips (m);
  m->pattern_column = glp_get_num_cols (m->lp) + 1;
  return SW_OK;
}

sw_status
sw_master_new_mip (sw_master **out, const sw_goal *goal, const sw_patterns *pool, const uint8_t *keep,
                   sw_master *beside)
{
  const sw_master first = { .goal = *goal, .pool = pool, .fresh = true, .beside = beside };
  return sw_master_make (out, &first, build, &keep);
}
