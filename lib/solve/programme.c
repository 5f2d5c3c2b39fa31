/* programme.c - the linear programme of a search: begun with what is known
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/programme.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/tuning.h"

sw_status
sw_programme_init (sw_programme *p, sw_search *search)
{
  const sw_model *model = search->model;
  *p = (sw_programme){ .search = search };
  p->most = sw_alloc (model->need_count, sizeof *p->most);
  p->cost = sw_alloc (model->option_count, sizeof *p->cost);
  p->used = sw_alloc (model->option_count, 1);
  p->covered = sw_alloc (model->need_count, 1);
  p->entries = sw_alloc (model->need_count, sizeof *p->entries);
  if (!p->most || !p->cost || !p->used || !p->covered || !p->entries)
    return SW_NO_MEMORY;
  sw_programme_reset_most (p);
  sw_status status = sw_prices_init (&p->duals, &search->goal, false);
  return status == SW_OK ? sw_prices_init (&p->now, &search->goal, false) : status;
}

void
sw_programme_clear (sw_programme *p)
{
  sw_programme_end (p);
  sw_layouts_clear (&p->layouts);
  sw_prices_clear (&p->duals);
  sw_prices_clear (&p->now);
  free (p->blocks);
  free (p->most);
  free (p->cost);
  free (p->used);
  free (p->covered);
  free (p->entries);
}

void
sw_programme_end (sw_programme *p)
{
  if (p->master != NULL)
    p->search->beside = p->outer;
  sw_master_free (p->master);
  p->master = NULL;
  sw_breakpoints_clear (&p->breakpoints);
}

void
sw_programme_reset_most (sw_programme *p)
{
  for (size_t n = 0; n < p->search->model->need_count; n++)
    p->most[n] = p->search->model->needs[n].most;
}

uint64_t
sw_programme_work (const sw_programme *p)
{
  return (p->master != NULL ? sw_master_work (p->master) : 0) + sw_knapsack_work (p->search->knapsack);
}

double
sw_programme_penalty (const sw_programme *p, int step)
{
  return (double)sw_goal_largest (&p->search->goal, p->search->goal.aim) * pow (SW_PENALTY, step + 1);
}

bool
sw_programme_hopeless (const sw_programme *p)
{
  const sw_search *s = p->search;
  return s->best.valid && ceil (sw_master_value (p->master) - SW_WHOLE) >= (double)sw_search_best (s);
}

/* ---- Columns to begin with ---------------------------------------------------------------- */

/* For each need, add boards that yield only that need, each cheaper a piece than the shorter ones, so that the first
 * programme has a plan. */
static sw_status
add_plain_patterns (sw_programme *p)
{
  const sw_model *model = p->search->model;
  for (size_t n = 0; n < model->need_count; n++)
    {
      const sw_model_section *section = &model->sections[model->needs[n].section];
      double least[2] = { INFINITY, INFINITY };
      for (size_t i = section->stock_first; i < section->stock_first + section->stock_count; i++)
        {
          const bool limited = model->stocks[i].limit >= 0;
          int64_t copies = model->stocks[i].room / model->needs[n].size;
          if (copies > model->needs[n].most)
            copies = model->needs[n].most;
          if (copies > UINT32_MAX)
            copies = UINT32_MAX;
          if (copies == 0 || (double)model->stocks[i].cost / (double)copies >= least[limited])
            continue;
          sw_entry entry = { .need = (uint32_t)n, .copies = (uint32_t)copies };
          sw_status status = sw_patterns_add (&p->search->pool, (uint32_t)i, &entry, 1, NULL, NULL);
          if (status != SW_OK)
            return status;
          least[limited] = (double)model->stocks[i].cost / (double)copies;
        }
    }
  for (size_t i = 0; i < model->stock_count; i++)
    if (model->stocks[i].whole != 0)
      {
        const sw_entry one = { .need = model->stocks[i].whole - 1, .copies = 1 };
        sw_status status = sw_patterns_add (&p->search->pool, (uint32_t)i, &one, 1, NULL, NULL);
        if (status != SW_OK)
          return status;
      }
  return SW_OK;
}

/* Divide all strips into blocks, once. */
static sw_status
make_blocks (sw_programme *p)
{
  size_t capacity = 0;
  if (p->blocks != NULL)
    return SW_OK;
  for (size_t i = 0; i < p->search->model->strip_count; i++)
    for (uint32_t first = 0; first < p->search->model->strips[i].level_count;)
      {
        sw_status status = sw_grow ((void **)&p->blocks, &capacity, p->block_count + 1, sizeof *p->blocks);
        if (status != SW_OK)
          return status;
        p->blocks[p->block_count] = sw_strip_block (p->search->model, i, first);
        first += p->blocks[p->block_count++].count;
      }
  return SW_OK;
}

/* Add layouts to begin with: those of the best plan, or, without a plan, those with the fewest pairs. */
static sw_status
add_first_layouts (sw_programme *p)
{
  sw_status status = SW_OK;
  for (size_t b = 0; b < p->block_count && status == SW_OK; b++)
    status = sw_layouts_add (&p->layouts, p->search->model, p->blocks, b,
                             p->search->best.valid ? p->search->best.used : p->search->fewest);
  return status;
}

/* Add the columns met so far that are not just listed, and those of the best plan. */
static sw_status
add_known (sw_programme *p)
{
  sw_status status = SW_OK;
  for (size_t i = 0; i < p->search->best.count; i++)
    p->search->pool.items[p->search->best.boards[i].pattern].listed = false;
  for (size_t i = 0; i < p->search->pool.count && status == SW_OK; i++)
    if (!p->search->pool.items[i].listed)
      status = sw_master_add (p->master, i, NULL);
  for (size_t i = 0; i < p->layouts.count && status == SW_OK; i++)
    status = sw_master_add_layout (p->master, &p->layouts, i);
  return status;
}

sw_status
sw_programme_begin (sw_programme *p, size_t breakpoints)
{
  sw_search *s = p->search;
  const bool marked = s->model->strip_count > 0 && s->model->need_count > breakpoints;
  sw_programme_end (p);
  sw_status status = marked ? sw_breakpoints_new (&p->breakpoints, s->model, breakpoints) : add_plain_patterns (p);
  if (status == SW_OK)
    status = make_blocks (p);
  if (status == SW_OK)
    status = add_first_layouts (p);
  if (status == SW_OK)
    status
        = sw_master_new_lp (&p->master, &s->goal, &s->pool, marked ? &p->breakpoints : NULL, p->block_count, s->beside);
  if (status == SW_OK)
    {
      p->outer = s->beside;
      s->beside = p->master;
      status = add_known (p);
    }
  p->penalty_step = 0;
  if (status == SW_OK)
    sw_master_penalty (p->master, sw_programme_penalty (p, 0));
  return status;
}
