/* purchase_split.c - a number of one length, divided among the yards that may be used
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "plan/purchase_parts.h"

#include <stdlib.h>
#include <string.h>

/* Find how many of ROW turn BEFORE, the costs without it, into the cost AFTER of exactly ALL. */
static int64_t
find_amount (const sw_job *job, const sw_stock *row, const int64_t *before, const int64_t *after, int64_t all)
{
  if (before[all] == after[all])
    return 0;
  for (int64_t a = (row->from + row->pack - 1) / row->pack * row->pack; a <= all; a += row->pack)
    if ((row->limit < 0 || a <= row->limit) && before[all - a] < SW_NOT_TO_BE_HAD
        && before[all - a] + a * sw_job_cost_of (job, row, a) == after[all])
      return a;
  return 0;
}

/* Leave what is bought over NEEDED out of the count of the rows that bring it: those with packs and falling prices, or
 * else the last. */
static void
count_needed (const sw_job *job, const sw_purchase_cell *cell, int64_t over, sw_purchase *purchases)
{
  for (int round = 0; round < 2; round++)
    for (size_t s = cell->end; s-- > cell->first && over > 0;)
      {
        const sw_stock *row = &job->stocks.items[s];
        const int64_t off = over < purchases[s].count ? over : purchases[s].count;
        if (round == 0 && row->pack == 1 && row->price_count < 2 && row->from == 1)
          continue;
        purchases[s].count -= off;
        over -= off;
      }
}

sw_status
sw_buying_split (const sw_buying *b, size_t c, sw_yard_set yards, int64_t needed, sw_purchase *purchases)
{
  const sw_purchase_cell *cell = &b->cells[c];
  const size_t rows = cell->end - cell->first;
  const size_t room = (size_t)sw_cell_room (cell);
  if (room > SIZE_MAX / (rows + 2))
    return SW_NO_MEMORY;
  int64_t *layers = sw_alloc ((rows + 2) * room, sizeof *layers);
  if (layers == NULL)
    return SW_NO_MEMORY;
  int64_t *queue = layers + (rows + 1) * room;
  for (size_t n = 1; n < room; n++)
    layers[n] = SW_NOT_TO_BE_HAD;
  for (size_t r = 0; r < rows; r++)
    {
      const sw_stock *row = &b->job->stocks.items[cell->first + r];
      if (yards & sw_yard_bit (row))
        sw_cell_add_row (b->job, row, layers + r * room, layers + (r + 1) * room, (int64_t)room, queue);
      else
        memcpy (layers + (r + 1) * room, layers + r * room, room * sizeof *layers);
    }
  const int64_t *last = layers + rows * room;
  int64_t all = needed;
  for (int64_t n = needed + 1; n < (int64_t)room; n++)
    if (last[n] < last[all])
      all = n;
  int64_t left = all;
  for (size_t r = rows; r-- > 0;)
    {
      const int64_t amount = find_amount (b->job, &b->job->stocks.items[cell->first + r], layers + r * room,
                                          layers + (r + 1) * room, left);
      purchases[cell->first + r].bought += amount;
      purchases[cell->first + r].count += amount;
      left -= amount;
    }
  free (layers);
  count_needed (b->job, cell, all - needed, purchases);
  return left == 0 ? SW_OK : SW_FAILED;
}
