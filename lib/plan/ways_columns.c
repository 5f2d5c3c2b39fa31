/* ways_columns.c - patterns and layouts as columns of the programme over ways
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/ways_lp_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* An uncovered piece costs so many boards, so that a piece is left uncovered only where it must be. */
#define PENALTY_BOARDS 100

/* ---- The programme, from what is known ---- */

/* Add a board that yields only this length, for each stock that takes it.  Then let the length serve for the next
 * shorter one, and the next longer one for it. */
static sw_status
add_plain (sw_ways_lp *lp, size_t row)
{
  const sw_job *job = lp->all->job;
  const sw_way_row *r = &lp->rows[row];
  sw_status status = SW_OK;
  for (size_t s = 0; s < job->stocks.count && status == SW_OK; s++)
    {
      const sw_stock *stock = &job->stocks.items[s];
      const sw_length usable = sw_job_usable (job, stock), room = usable > 0 ? usable + job->settings->kerf : 0;
      const sw_way_entry entry
          = { .row = row, .value = (double)(room > 0 ? room / (r->take + job->settings->kerf) : 0) };
      if (stock->section != r->section || entry.value < 1)
        continue;
      const int64_t cost = (sw_job_by_length (job) ? stock->length : stock->price) / lp->granule;
      sw_way_column column = { .alternative = SIZE_MAX, .board = 2 * s, .cost = cost };
      if (stock->limit != 0)
        status = sw_ways_add_column (lp, &column, &entry, 1);
      column = (sw_way_column){ .alternative = SIZE_MAX, .board = 2 * s + 1 };
      if (status == SW_OK && stock->hand > 0)
        status = sw_ways_add_column (lp, &column, &entry, 1);
    }
  return status;
}

static sw_status
add_exchange (sw_ways_lp *lp, size_t shorter, size_t longer)
{
  const sw_way_column column = { .alternative = SIZE_MAX, .board = SIZE_MAX };
  const sw_way_entry entries[] = { { .row = shorter, .value = 1 }, { .row = longer, .value = -1 } };
  return sw_ways_add_column (lp, &column, entries, 2);
}

static sw_status
add_exchanges (sw_ways_lp *lp, size_t row)
{
  const size_t section = lp->rows[row].section;
  size_t at = lp->section_first[section];
  sw_status status = SW_OK;
  while (lp->order[at] != row)
    at++;
  if (at > lp->section_first[section])
    status = add_exchange (lp, lp->order[at - 1], row);
  if (status == SW_OK && at + 1 < lp->section_first[section + 1])
    status = add_exchange (lp, row, lp->order[at + 1]);
  return status;
}

static sw_status
begin_programme (sw_ways_lp *lp)
{
  const sw_job *job = lp->all->job;
  sw_status status = sw_master_new (&lp->programme);
  for (size_t g = 0; g < lp->all->group_count && status == SW_OK; g++)
    status = sw_master_row (lp->programme, 1, 1, &lp->group_row[g]);
  for (size_t b = 0; b < 2 * job->stocks.count && status == SW_OK; b++)
    {
      const sw_stock *stock = &job->stocks.items[b / 2];
      const int64_t limit = b % 2 == 1 ? stock->hand : stock->limit;
      lp->limit_row[b] = 0;
      if (limit >= 0)
        status = sw_master_row (lp->programme, -INFINITY, (double)limit, &lp->limit_row[b]);
    }
  for (size_t r = 0; r < lp->row_count; r++)
    lp->rows[r].row = 0;
  for (size_t c = 0; c < lp->column_count; c++)
    lp->columns[c].column = 0;
  return status;
}

static sw_status
bring_column (sw_ways_lp *lp, sw_way_column *column)
{
  const bool layout = column->alternative != SIZE_MAX;
  for (size_t e = column->first; e < column->first + column->count; e++)
    sw_master_put (lp->programme, lp->rows[lp->entries[e].row].row,
                   layout ? -lp->entries[e].value : lp->entries[e].value);
  const int more = layout                      ? lp->group_row[lp->all->items[column->alternative].group]
                   : column->board != SIZE_MAX ? lp->limit_row[column->board]
                                               : 0;
  if (more != 0)
    sw_master_put (lp->programme, more, 1);
  return sw_master_column (lp->programme, (double)column->cost, &column->column);
}

static sw_status
bring_row (sw_ways_lp *lp, sw_way_row *row)
{
  sw_status status = sw_master_row (lp->programme, 0, INFINITY, &row->row);
  if (status != SW_OK)
    return status;
  /* Add a column for the pieces that no board covers. */
  sw_master_put (lp->programme, row->row, 1);
  return sw_master_column (lp->programme, PENALTY_BOARDS * (double)lp->dearest, NULL);
}

sw_status
sw_ways_bring_in (sw_ways_lp *lp)
{
  sw_status status = sw_ways_order (lp);
  /* Rows that are new have no columns of their own yet. */
  for (size_t r = 0; r < lp->row_count && status == SW_OK; r++)
    if (lp->rows[r].row == -1)
      {
        lp->rows[r].row = 0;
        status = add_plain (lp, r);
        if (status == SW_OK)
          status = add_exchanges (lp, r);
      }
  if (status == SW_OK && lp->programme == NULL)
    status = begin_programme (lp);
  for (size_t r = 0; r < lp->row_count && status == SW_OK; r++)
    if (lp->rows[r].row == 0)
      status = bring_row (lp, &lp->rows[r]);
  for (size_t c = 0; c < lp->column_count && status == SW_OK; c++)
    {
      sw_way_column *column = &lp->columns[c];
      /* Layouts of alternatives that are not allowed now can wait. */
      if (column->column == 0 && (column->alternative == SIZE_MAX || lp->allowed[column->alternative]))
        status = bring_column (lp, column);
    }
  return status;
}

/* ---- Layouts ---- */

static sw_status
make_room (sw_ways_lp *lp, const sw_model *model)
{
  if (lp->scratch >= model->option_count && lp->used != NULL)
    return SW_OK;
  free (lp->option_price);
  free (lp->used);
  lp->scratch = model->option_count + 64;
  lp->option_price = sw_alloc (lp->scratch, sizeof *lp->option_price);
  lp->used = sw_alloc (lp->scratch, 1);
  return lp->option_price != NULL && lp->used != NULL ? SW_OK : SW_NO_MEMORY;
}

/* Count COUNT more pieces of a length in the column that is being made. */
static sw_status
count_pieces (sw_ways_lp *lp, size_t section, sw_length take, double count)
{
  size_t row;
  const size_t before = lp->row_count;
  sw_status status = sw_ways_row (lp, section, take, &row);
  if (status == SW_OK && lp->row_count > before)
    lp->rows[row].row = -1;
  const size_t old = lp->pieces_capacity;
  if (status == SW_OK)
    status = sw_grow ((void **)&lp->pieces, &lp->pieces_capacity, row + 1, sizeof *lp->pieces);
  if (status != SW_OK)
    return status;
  if (lp->pieces_capacity > old)
    memset (lp->pieces + old, 0, (lp->pieces_capacity - old) * sizeof *lp->pieces);
  lp->pieces[row] += count;
  return SW_OK;
}

/* The cost of a join, in granules. */
static int64_t
join_cost (const sw_ways_lp *lp)
{
  return lp->all->job->settings->join_cost / lp->granule;
}

static sw_status
value_model (sw_ways_lp *lp, const sw_model *model, bool layout, sw_wide *value, int64_t *joins)
{
  sw_status status = make_room (lp, model);
  const sw_item *items = model->layout->items;
  const int64_t join = join_cost (lp) * lp->scale;
  size_t known = SIZE_MAX;
  int64_t worth = 0;
  for (size_t o = 0; o < model->option_count && status == SW_OK; o++)
    {
      const sw_option *option = &model->options[o];
      const sw_need *need = &model->needs[option->need];
      if (option->need != known)
        worth = sw_ways_worth (lp, items[need->item].section, items[need->item].take);
      known = option->need;
      lp->option_price[o] = worth + (option->to != model->strips[option->strip].bays ? join : 0);
    }
  for (size_t s = 0; s < model->strip_count && status == SW_OK; s++)
    {
      const sw_strip *strip = &model->strips[s];
      sw_wide sum = 0;
      /* Where the fewest pairs are not certain, the bound leaves pairs out. */
      const sw_wide weight = strip->exact && model->stagger ? SW_ALIGNED_FIRST : 0;
      status = sw_strip_best (model, strip, lp->option_price, weight, lp->strips, &sum, NULL,
                              layout && strip->exact ? lp->used : NULL, NULL);
      if (status == SW_OK && layout && !strip->exact)
        status
            = sw_strip_best (model, strip, lp->option_price, SW_ALIGNED_FIRST, lp->strips, NULL, NULL, lp->used, NULL);
      *value += sum - weight * strip->aligned_floor;
    }
  for (size_t o = 0; o < model->option_count && status == SW_OK && layout; o++)
    if (lp->used[o])
      {
        const sw_option *option = &model->options[o];
        const sw_item *item = &items[model->needs[option->need].item];
        *joins += option->to != model->strips[option->strip].bays ? 1 : 0;
        status = count_pieces (lp, item->section, item->take, 1);
      }
  return status;
}

sw_status
sw_ways_material (sw_ways_lp *lp, size_t i, sw_wide *sum)
{
  const sw_alternative *a = &lp->all->items[i];
  const sw_length kerf = lp->all->job->settings->kerf;
  sw_status status = SW_OK;
  *sum = 0;
  for (size_t m = 0; m < a->model_count && status == SW_OK; m++)
    {
      const sw_model *model = &a->models[m];
      status = make_room (lp, model);
      for (size_t o = 0; o < model->option_count && status == SW_OK; o++)
        lp->option_price[o] = a->layout->items[model->needs[model->options[o].need].item].take + kerf;
      for (size_t s = 0; s < model->strip_count && status == SW_OK; s++)
        {
          sw_wide least;
          status = sw_strip_best (model, &model->strips[s], lp->option_price, 0, lp->strips, &least, NULL, NULL, NULL);
          *sum += least;
        }
    }
  for (size_t n = 0; n < a->layout->item_count && status == SW_OK; n++)
    *sum += (sw_wide)(a->layout->items[n].take + kerf) * a->layout->items[n].demand;
  return status;
}

/* Make the pieces that have been counted a column of alternative I. */
static sw_status
close_layout (sw_ways_lp *lp, size_t i, int64_t joins)
{
  const sw_alternative *a = &lp->all->items[i];
  const sw_job *job = lp->all->job;
  sw_way_entry *entries = sw_alloc (lp->row_count, sizeof *entries);
  size_t count = 0;
  if (entries == NULL)
    return SW_NO_MEMORY;
  for (size_t r = 0; r < lp->row_count && r < lp->pieces_capacity; r++)
    if (lp->pieces[r] > 0)
      {
        entries[count++] = (sw_way_entry){ .row = r, .value = lp->pieces[r] };
        lp->pieces[r] = 0;
      }
  const sw_way_column column
      = { .alternative = i, .cost = joins * join_cost (lp) + a->posts * (job->settings->post_cost / lp->granule) };
  sw_status status = sw_ways_add_column (lp, &column, entries, count);
  free (entries);
  return status;
}

sw_status
sw_ways_value (sw_ways_lp *lp, size_t i, bool layout, sw_wide *value)
{
  const sw_alternative *a = &lp->all->items[i];
  sw_status status = SW_OK;
  int64_t joins = 0;
  *value = (sw_wide)a->posts * (lp->all->job->settings->post_cost / lp->granule) * lp->scale;
  for (size_t m = 0; m < a->model_count && status == SW_OK; m++)
    status = value_model (lp, &a->models[m], layout, value, &joins);
  for (size_t n = 0; n < a->layout->item_count && status == SW_OK; n++)
    {
      const sw_item *item = &a->layout->items[n];
      if (item->demand == 0)
        continue;
      *value += (sw_wide)sw_ways_worth (lp, item->section, item->take) * item->demand;
      if (layout)
        status = count_pieces (lp, item->section, item->take, (double)item->demand);
    }
  return status == SW_OK && layout ? close_layout (lp, i, joins) : status;
}
