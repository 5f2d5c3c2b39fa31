/* purchase.c - what so many of a length cost, wherever they are bought
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/purchase.h"

#include "base/decimal.h"
#include "base/memory.h"
#include "plan/purchase_parts.h"

#include <stdlib.h>
#include <string.h>

/* ---- Cells ------------------------------------------------------------------------ */

/* The most pieces of SECTION that a plan has.  A plan buys no more boards, because each has a piece. */
static int64_t
most_pieces (const sw_job *job, size_t section)
{
  int64_t pieces = 0;
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      int64_t a_bay = 0;
      for (size_t l = 0; l < job->levels.count; l++)
        {
          const sw_level *level = &job->levels.items[l];
          if (!sw_level_is_on (level, r))
            continue;
          a_bay += level->section == section ? 1 : 0;
          a_bay += level->blocks > 0 && level->block_section == section ? level->blocks : 0;
        }
      for (size_t b = 0; b < job->fence.runs[r].bay_count; b++)
        pieces += job->fence.runs[r].bays[b].opening ? 0 : a_bay;
    }
  for (size_t e = 0; e < job->extras.count; e++)
    pieces += job->extras.items[e].section == section ? job->extras.items[e].quantity : 0;
  return pieces; /* this is at most SW_JOB_MAX_PIECES */
}

/* How many lengths more than needed one purchase of ROW may bring. */
static int64_t
at_once (const sw_job *job, const sw_stock *row)
{
  int64_t from = row->from;
  for (size_t i = 1; i < row->price_count; i++)
    from = job->stocks.prices[row->price_first + i].from;
  return from + row->pack;
}

sw_yard_set
sw_yard_bit (const sw_stock *row)
{
  return row->yard == SW_NO_YARD ? 1 : (sw_yard_set)1 << row->yard;
}

static void
add_row (sw_buying *b, sw_purchase_cell *cell, const sw_stock *row)
{
  cell->hand += row->hand;
  if (row->limit == 0)
    return;
  cell->at_once += at_once (b->job, row);
  b->all |= sw_yard_bit (row);
  b->unit = sw_decimal_gcd (b->unit, sw_job_cost_of (b->job, row, row->from));
  for (size_t i = 1; i < row->price_count; i++)
    b->unit = sw_decimal_gcd (b->unit, sw_job_cost_of (b->job, row, b->job->stocks.prices[row->price_first + i].from));
}

sw_status
sw_buying_begin (sw_buying *out, const sw_job *job)
{
  *out = (sw_buying){ .job = job, .unit = job->settings->join_cost };
  out->cells = sw_alloc (job->stocks.count, sizeof *out->cells);
  if (out->cells == NULL)
    return SW_NO_MEMORY;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      const sw_stock *row = &job->stocks.items[s];
      if (s == 0 || !sw_stock_same (row, row - 1))
        out->cells[out->cell_count++]
            = (sw_purchase_cell){ .section = row->section, .first = s, .most = most_pieces (job, row->section) };
      sw_purchase_cell *cell = &out->cells[out->cell_count - 1];
      cell->end = s + 1;
      /* A section without pieces is not bought. */
      if (cell->most > 0)
        add_row (out, cell, row);
    }
  for (size_t y = 0; y < job->yards.count; y++)
    {
      const sw_yard *yard = &job->yards.items[y];
      out->paid |= yard->delivery > 0 || yard->minimum > 0 ? (sw_yard_set)1 << y : 0;
      out->unit = sw_decimal_gcd (out->unit, yard->delivery);
    }
  out->paid &= out->all;
  if (out->unit == 0)
    out->unit = 1;
  return SW_OK;
}

void
sw_buying_clear (sw_buying *b)
{
  for (size_t i = 0; i < b->costs_count; i++)
    {
      for (size_t c = 0; b->costs[i].of != NULL && c < b->cell_count; c++)
        free (b->costs[i].of[c]);
      free (b->costs[i].of);
    }
  free (b->costs);
  free (b->cells);
  *b = (sw_buying){ 0 };
}

int64_t
sw_buying_delivery (const sw_buying *b, sw_yard_set yards)
{
  int64_t sum = 0;
  for (size_t y = 0; y < b->job->yards.count; y++)
    sum += yards >> y & 1 ? b->job->yards.items[y].delivery : 0;
  return sum;
}

/* ---- Tables ------------------------------------------------------------------------ */

/* Lower AFTER, the costs of exactly 0 ... COUNT - 1 lengths, to what they are when ROW is bought too, at PRICE, beside
 * what BEFORE has.  Among numbers that differ by whole packs, those from PRICE's least to the limit are a window that
 * slides.  QUEUE, with room for COUNT indices, has the candidates in it: each has the least cost, less PRICE a length,
 * of all that entered the window after it. */
static void
add_price (const sw_stock *row, int64_t from, int64_t price, const int64_t *before, int64_t *after, int64_t count,
           int64_t *queue)
{
  const int64_t pack = row->pack;
  const int64_t least = (from + pack - 1) / pack * pack;
  const int64_t most = row->limit < 0 ? INT64_MAX : row->limit / pack * pack;
  for (int64_t rest = 0; rest < pack && rest < count && least <= most; rest++)
    {
      int64_t head = 0;
      int64_t tail = 0;
      for (int64_t n = rest; n < count; n += pack)
        {
          const int64_t enters = n - least;
          if (enters >= 0 && before[enters] < SW_NOT_TO_BE_HAD)
            {
              while (tail > head && before[queue[tail - 1]] - queue[tail - 1] * price >= before[enters] - enters * price)
                tail--;
              queue[tail++] = enters;
            }
          while (tail > head && most < INT64_MAX && queue[head] < n - most)
            head++;
          if (tail > head && before[queue[head]] + (n - queue[head]) * price < after[n])
            after[n] = before[queue[head]] + (n - queue[head]) * price;
        }
    }
}

int64_t
sw_cell_room (const sw_purchase_cell *cell)
{
  return cell->most + cell->at_once + 1;
}

void
sw_cell_add_row (const sw_job *job, const sw_stock *row, const int64_t *before, int64_t *after, int64_t count,
                 int64_t *queue)
{
  memcpy (after, before, (size_t)count * sizeof *after);
  if (row->limit == 0)
    return;
  add_price (row, row->from, sw_job_cost_of (job, row, row->from), before, after, count, queue);
  for (size_t i = 1; i < row->price_count; i++)
    {
      const int64_t from = job->stocks.prices[row->price_first + i].from;
      add_price (row, from, sw_job_cost_of (job, row, from), before, after, count, queue);
    }
}

static sw_status
fill_cell (const sw_buying *b, const sw_purchase_cell *cell, sw_yard_set yards, int64_t **out)
{
  const size_t count = (size_t)sw_cell_room (cell);
  int64_t *now = sw_alloc (count, sizeof *now);
  int64_t *next = sw_alloc (count, sizeof *next);
  int64_t *queue = sw_alloc (count, sizeof *queue);
  if (now == NULL || next == NULL || queue == NULL)
    {
      free (now);
      free (next);
      free (queue);
      return SW_NO_MEMORY;
    }
  for (size_t n = 1; n < count; n++)
    now[n] = SW_NOT_TO_BE_HAD;
  for (size_t s = cell->first; s < cell->end; s++)
    {
      if (!(yards & sw_yard_bit (&b->job->stocks.items[s])))
        continue;
      sw_cell_add_row (b->job, &b->job->stocks.items[s], now, next, (int64_t)count, queue);
      int64_t *swap = now;
      now = next;
      next = swap;
    }
  /* A larger number may cost less. */
  for (size_t n = count - 1; n-- > 0;)
    if (now[n + 1] < now[n])
      now[n] = now[n + 1];
  free (next);
  free (queue);
  *out = now;
  return SW_OK;
}

sw_status
sw_buying_costs (sw_buying *b, sw_yard_set yards, sw_costs *out)
{
  for (size_t i = 0; i < b->costs_count; i++)
    if (b->costs[i].yards == yards)
      {
        *out = b->costs[i];
        return SW_OK;
      }
  void *items = b->costs;
  sw_status status = sw_grow (&items, &b->costs_capacity, b->costs_count + 1, sizeof *b->costs);
  b->costs = items;
  if (status != SW_OK)
    return status;
  sw_costs *made = &b->costs[b->costs_count];
  *made = (sw_costs){ .yards = yards, .of = sw_alloc (b->cell_count, sizeof *made->of) };
  if (made->of == NULL)
    return SW_NO_MEMORY;
  b->costs_count++;
  for (size_t c = 0; c < b->cell_count && status == SW_OK; c++)
    status = fill_cell (b, &b->cells[c], yards, &made->of[c]);
  *out = *made;
  return status;
}
