/* ways_rows.c - lengths that have a price, and the boards that are cut into them
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/ways_lp_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* Patterns of a stock that are taken out of one table in a round. */
#define COLUMNS_OF_TABLE 20
/* A board of so many units is short enough for a table to be quick. */
#define TABLE_ROOM 20000

/* ---- Rows ---- */

sw_status
sw_ways_row (sw_ways_lp *lp, size_t section, sw_length take, size_t *row)
{
  size_t low = lp->section_first[section], high = lp->section_first[section + 1];
  while (low < high)
    {
      const size_t middle = low + (high - low) / 2;
      if (lp->rows[lp->order[middle]].take < take)
        low = middle + 1;
      else
        high = middle;
    }
  *row = lp->order_capacity > 0 && low < lp->section_first[section + 1] ? lp->order[low] : SIZE_MAX;
  if (*row != SIZE_MAX && lp->rows[*row].take == take)
    return SW_OK;
  /* Look among the rows that were added after the last sorting. */
  for (size_t r = lp->section_first[lp->all->job->sections.count]; r < lp->row_count; r++)
    if (lp->rows[r].section == section && lp->rows[r].take == take)
      {
        *row = r;
        return SW_OK;
      }
  sw_status status = sw_grow ((void **)&lp->rows, &lp->row_capacity, lp->row_count + 1, sizeof *lp->rows);
  if (status != SW_OK)
    return status;
  *row = lp->row_count++;
  lp->rows[*row] = (sw_way_row){ .section = section, .take = take };
  /* Until the programme has the row, it is worth what its length would do for. */
  lp->rows[*row].price = 0;
  lp->rows_new = true;
  return SW_OK;
}

/* Sort ORDER by section and length, as a heap of indices. */
static bool
is_before (const sw_ways_lp *lp, size_t a, size_t b)
{
  const sw_way_row *x = &lp->rows[a], *y = &lp->rows[b];
  return x->section != y->section ? x->section < y->section : x->take < y->take;
}

static void
insert_all (sw_ways_lp *lp, size_t sorted)
{
  for (size_t i = sorted; i < lp->row_count; i++)
    {
      size_t at = i;
      for (; at > 0 && is_before (lp, i, lp->order[at - 1]); at--)
        lp->order[at] = lp->order[at - 1];
      lp->order[at] = i;
    }
}

static sw_status
make_boards (sw_ways_lp *lp)
{
  sw_models_free (lp->boards, lp->board_models);
  free (lp->items);
  lp->boards = NULL;
  lp->board_models = 0;
  lp->items = sw_alloc (lp->row_count, sizeof *lp->items);
  if (lp->items == NULL)
    return SW_NO_MEMORY;
  lp->boards_layout = (sw_layout){ .job = lp->all->job, .items = lp->items };
  for (size_t g = 0; g < lp->all->job->sections.count; g++)
    for (size_t i = lp->section_first[g + 1]; i-- > lp->section_first[g];)
      lp->items[lp->boards_layout.item_count++] = (sw_item){ .section = g, .take = lp->rows[lp->order[i]].take };
  return sw_models_new (&lp->boards, &lp->board_models, &lp->boards_layout);
}

sw_status
sw_ways_order (sw_ways_lp *lp)
{
  const size_t sections = lp->all->job->sections.count, sorted = lp->section_first[sections];
  if (lp->rows_new)
    {
      sw_status status = sw_grow ((void **)&lp->order, &lp->order_capacity, lp->row_count, sizeof *lp->order);
      if (status != SW_OK)
        return status;
      free (lp->worth);
      lp->worth = sw_alloc (lp->row_count, sizeof *lp->worth);
      if (lp->worth == NULL)
        return SW_NO_MEMORY;
      insert_all (lp, sorted);
      size_t at = 0;
      for (size_t g = 0; g <= sections; g++)
        {
          while (at < lp->row_count && lp->rows[lp->order[at]].section < g)
            at++;
          lp->section_first[g] = at;
        }
      lp->section_first[sections] = lp->row_count;
      status = make_boards (lp);
      if (status != SW_OK)
        return status;
      lp->rows_new = false;
    }
  for (size_t g = 0; g < sections; g++)
    {
      int64_t most = 0;
      for (size_t i = lp->section_first[g]; i < lp->section_first[g + 1]; i++)
        {
          if (lp->rows[lp->order[i]].price > most)
            most = lp->rows[lp->order[i]].price;
          lp->worth[i] = most;
        }
    }
  return SW_OK;
}

int64_t
sw_ways_worth (const sw_ways_lp *lp, size_t section, sw_length take)
{
  size_t low = lp->section_first[section], high = lp->section_first[section + 1];
  const size_t first = low;
  while (low < high)
    {
      const size_t middle = low + (high - low) / 2;
      if (lp->rows[lp->order[middle]].take <= take)
        low = middle + 1;
      else
        high = middle;
    }
  return low > first ? lp->worth[low - 1] : 0;
}

/* ---- Columns ---- */

sw_status
sw_ways_add_column (sw_ways_lp *lp, const sw_way_column *column, const sw_way_entry *entries, size_t count)
{
  sw_status status = sw_grow ((void **)&lp->columns, &lp->column_capacity, lp->column_count + 1, sizeof *lp->columns);
  if (status == SW_OK)
    status = sw_grow ((void **)&lp->entries, &lp->entry_capacity, lp->entry_count + count, sizeof *lp->entries);
  if (status != SW_OK)
    return status;
  lp->columns[lp->column_count] = *column;
  lp->columns[lp->column_count].first = lp->entry_count;
  lp->columns[lp->column_count].count = count;
  lp->columns[lp->column_count].column = 0;
  lp->column_count++;
  memcpy (lp->entries + lp->entry_count, entries, count * sizeof *entries);
  lp->entry_count += count;
  return SW_OK;
}

/* ---- Boards ---- */

typedef struct pricing
{
  sw_ways_lp *lp;
  const sw_model *model;
  size_t stock;
  size_t added;
  sw_status status;
} pricing;

/* The row of need N of a board's model. */
static size_t
row_of (const sw_ways_lp *lp, const sw_model *model, size_t n)
{
  /* Items are numbered as the rows of a section, longest first. */
  const size_t item = model->needs[n].item, section = lp->items[item].section;
  return lp->order[lp->section_first[section] + lp->section_first[section + 1] - 1 - item];
}

static size_t
board_of (const sw_model *model, size_t stock)
{
  return 2 * model->stocks[stock].of_job + (model->stocks[stock].hand ? 1 : 0);
}

static bool
take_pattern (const sw_entry *entries, uint32_t count, int64_t value, void *data)
{
  pricing *p = data;
  sw_way_entry made[256];
  (void)value;
  if (count > sizeof made / sizeof *made)
    return true;
  for (uint32_t c = 0; c < count; c++)
    made[c] = (sw_way_entry){ .row = row_of (p->lp, p->model, entries[c].need), .value = entries[c].copies };
  const sw_way_column column = { .alternative = SIZE_MAX,
                                 .board = board_of (p->model, p->stock),
                                 .cost = p->model->stocks[p->stock].cost * p->model->granule / p->lp->granule };
  p->status = sw_ways_add_column (p->lp, &column, made, count);
  p->added++;
  return p->status == SW_OK;
}

/* The cost of a board at the prices. */
static int64_t
weight_of (const sw_ways_lp *lp, const sw_model *model, size_t stock)
{
  return model->stocks[stock].cost * model->granule / lp->granule * lp->scale
         + lp->limit_price[board_of (model, stock)];
}

static sw_status
price_stock (pricing *p, sw_entry *entries, double *factor)
{
  sw_ways_lp *lp = p->lp;
  const sw_model_stock *stock = &p->model->stocks[p->stock];
  const int64_t weight = weight_of (lp, p->model, p->stock);
  int64_t best;
  uint32_t count;
  sw_status status = sw_knapsack_best (lp->knapsack, stock->room, &best, entries, &count);
  const int64_t most = sw_knapsack_at_most (lp->knapsack);
  if (status != SW_OK)
    return status;
  if (best > weight + weight / SW_GAIN_PART + lp->scale / SW_GAIN_PART + 1)
    {
      if (!take_pattern (entries, count, best, p))
        return p->status;
      if (sw_knapsack_has_table (lp->knapsack))
        status = sw_knapsack_more (lp->knapsack, stock->room, weight, COLUMNS_OF_TABLE, entries, take_pattern, p);
      if (status == SW_OK)
        status = p->status;
    }
  if (most <= weight)
    return status;
  if (stock->limit >= 0)
    lp->limit_price[board_of (p->model, p->stock)] += most - weight;
  else if ((double)weight / (double)most < *factor)
    *factor = (double)weight / (double)most;
  return status;
}

static sw_status
price_section (sw_ways_lp *lp, const sw_model *model, pricing *p)
{
  const sw_model_section *section = &model->sections[0];
  int64_t *value = sw_alloc (model->need_count, sizeof *value);
  int64_t *most = sw_alloc (model->need_count, sizeof *most);
  sw_entry *entries = sw_alloc (model->need_count, sizeof *entries);
  sw_status status = value != NULL && most != NULL && entries != NULL ? SW_OK : SW_NO_MEMORY;
  const int64_t room = model->stock_count > 0 ? model->stocks[model->stock_count - 1].room : 0;
  double factor = 1;
  for (size_t n = 0; n < model->need_count && status == SW_OK; n++)
    {
      value[n] = lp->rows[row_of (lp, model, n)].price;
      most[n] = 1;
      for (size_t s = 0; s < model->stock_count; s++)
        if (model->stocks[s].room / model->needs[n].size > most[n])
          most[n] = model->stocks[s].room / model->needs[n].size;
    }
  if (status == SW_OK)
    status = sw_knapsack_load (lp->knapsack, model, 0, value, most);
  if (status == SW_OK && room > 0 && room <= TABLE_ROOM)
    status = sw_knapsack_tabulate (lp->knapsack, room);
  for (size_t s = section->stock_count; s-- > 0 && status == SW_OK;)
    {
      p->model = model;
      p->stock = section->stock_first + s;
      status = price_stock (p, entries, &factor);
    }
  /* A hair less, so that rounding up cannot undo it; rounding each value down keeps the sum of a pattern below its
   * board. */
  if (factor < 1)
    for (size_t n = 0; n < model->need_count && status == SW_OK; n++)
      {
        sw_way_row *row = &lp->rows[row_of (lp, model, n)];
        row->price = (int64_t)floor ((double)row->price * factor * (1 - 2e-15));
      }
  free (value);
  free (most);
  free (entries);
  return status;
}

sw_status
sw_ways_price_boards (sw_ways_lp *lp, size_t *added)
{
  pricing p = { .lp = lp };
  sw_status status = sw_ways_order (lp);
  for (size_t m = 0; m < lp->board_models && status == SW_OK && !sw_watch_stop (lp->watch); m++)
    status = price_section (lp, &lp->boards[m], &p);
  *added = p.added;
  return status == SW_OK ? sw_ways_order (lp) : status;
}
