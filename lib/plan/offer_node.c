/* offer_node.c - one set of decisions on what is bought where, as a job in which each length has its price
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/offer_node.h"

#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

__extension__ typedef __int128 wide;

/* Places to cut that are looked at, at most. */
#define MOST_CUTS 64

/* ---- Convex lines -------------------------------------------------------------------- */

/* Is the line from A to B at least as steep as the line from A to C, which is farther on? */
static bool
is_above (const int64_t *cost, int64_t a, int64_t b, int64_t c)
{
  return (wide)(cost[b] - cost[a]) * (c - a) >= (wide)(cost[c] - cost[a]) * (b - a);
}

/* Write the corners of the highest convex line below COST from FIRST to LAST, FIRST excepted, into CORNERS; returns
 * their number. */
static size_t
find_corners (const int64_t *cost, int64_t first, int64_t last, int64_t *corners)
{
  size_t count = 0;
  for (int64_t n = first + 1; n <= last; n++)
    {
      while (count > 0 && is_above (cost, count > 1 ? corners[count - 2] : first, corners[count - 1], n))
        count--;
      corners[count++] = n;
    }
  return count;
}

/* The PRICE of a length between two corners.  It is a whole number of the costs' units, because a plan's granule would
 * else be a fraction of one. */
static int64_t
price_between (const sw_offer_lines *lines, const int64_t *cost, int64_t from, int64_t to)
{
  const int64_t rise = cost[to] - cost[from];
  return rise / (to - from) / lines->buying->unit * lines->buying->unit;
}

static sw_status
add_step (sw_offer_lines *lines, int64_t end, int64_t price)
{
  sw_status status
      = sw_grow ((void **)&lines->steps, &lines->step_capacity, lines->step_count + 1, sizeof *lines->steps);
  if (status == SW_OK)
    lines->steps[lines->step_count++] = (sw_offer_step){ end, price };
  return status;
}

static sw_status
add_cell (sw_offer_lines *lines, size_t c, const sw_offer_node *node, int64_t *corners)
{
  const sw_purchase_cell *cell = &lines->buying->cells[c];
  const int64_t *cost = lines->costs.of[c];
  int64_t most = node->most[c] < cell->most ? node->most[c] : cell->most;
  int64_t paid = node->least[c];
  sw_status status = SW_OK;
  while (most > paid && cost[most] >= SW_NOT_TO_BE_HAD)
    most--;
  while (paid < most && cost[paid + 1] == cost[paid])
    paid++;
  lines->paid[c] = paid;
  lines->last[c] = most;
  lines->base += cost[paid];
  lines->step_first[c] = lines->step_count;
  const size_t count = find_corners (cost, paid, most, corners);
  for (size_t i = 0; i < count && status == SW_OK; i++)
    {
      const int64_t from = i > 0 ? corners[i - 1] : paid;
      const int64_t price = price_between (lines, cost, from, corners[i]);
      if (i > 0 && lines->steps[lines->step_count - 1].price == price)
        lines->steps[lines->step_count - 1].end = corners[i];
      else
        status = add_step (lines, corners[i], price);
    }
  return status;
}

int64_t
sw_offer_lines_at (const sw_offer_lines *lines, size_t c, int64_t count)
{
  int64_t sum = lines->costs.of[c][lines->paid[c]];
  int64_t at = lines->paid[c];
  for (size_t s = lines->step_first[c]; s < lines->step_first[c + 1] && at < count; s++)
    {
      const int64_t end = lines->steps[s].end < count ? lines->steps[s].end : count;
      sum += (end - at) * lines->steps[s].price;
      at = end;
    }
  return sum;
}

double
sw_offer_lines_gap (const sw_offer_lines *lines, size_t c, double count)
{
  const int64_t *cost = lines->costs.of[c];
  const int64_t below = (int64_t)count;
  const double part = count - (double)below;
  const double truth = (double)cost[below] + (part > 0 ? (double)(cost[below + 1] - cost[below]) * part : 0);
  int64_t from = lines->paid[c];
  for (size_t s = lines->step_first[c]; s < lines->step_first[c + 1]; s++)
    {
      const int64_t end = lines->steps[s].end;
      if (count <= (double)end)
        return truth - (double)cost[from]
               - (double)(cost[end] - cost[from]) * (count - (double)from) / (double)(end - from);
      from = end;
    }
  return 0;
}

bool
sw_offer_lines_exact (const sw_offer_lines *lines)
{
  for (size_t c = 0; c < lines->buying->cell_count; c++)
    {
      const int64_t *cost = lines->costs.of[c];
      int64_t sum = cost[lines->paid[c]];
      int64_t at = lines->paid[c];
      for (size_t s = lines->step_first[c]; s < lines->step_first[c + 1]; s++)
        while (at < lines->steps[s].end)
          {
            sum += lines->steps[s].price;
            if (cost[++at] != sum)
              return false;
          }
    }
  return true;
}

/* ---- The job ------------------------------------------------------------------------- */

/* Add stock for one cell: a row for what is paid and on hand, then a row for each step. */
static void
add_rows (sw_offer_lines *lines, size_t c)
{
  const sw_purchase_cell *cell = &lines->buying->cells[c];
  sw_stocks *stocks = &lines->job.stocks;
  const sw_stock *of = &lines->buying->job->stocks.items[cell->first];
  sw_stock row = *of;
  row.priced = true;
  row.price = 0;
  row.limit = 0;
  row.hand = cell->hand + lines->paid[c];
  row.yard = SW_NO_YARD;
  row.from = row.pack = 1;
  row.price_first = row.price_count = 0;
  int64_t at = lines->paid[c];
  size_t s = lines->step_first[c];
  do
    {
      if (s < lines->step_first[c + 1])
        {
          row.price = lines->steps[s].price;
          /* No plan needs more than the cell has at most, so where nothing else is in the way there is no limit. */
          row.limit = lines->steps[s].end == cell->most ? -1 : lines->steps[s].end - at;
          at = lines->steps[s].end;
        }
      lines->cell_of[stocks->count] = c;
      stocks->items[stocks->count++] = row;
      row.hand = 0;
    }
  while (++s < lines->step_first[c + 1]);
}

sw_status
sw_offer_lines_job (sw_offer_lines *lines)
{
  const size_t rows = lines->step_count + lines->buying->cell_count;
  sw_status status = sw_job_variant (&lines->job, lines->buying->job);
  sw_stocks_clear (&lines->job.stocks);
  if (status != SW_OK)
    return status;
  lines->job.stocks.items = sw_alloc (rows, sizeof *lines->job.stocks.items);
  lines->cell_of = sw_alloc (rows, sizeof *lines->cell_of);
  if (lines->job.stocks.items == NULL || lines->cell_of == NULL)
    return SW_NO_MEMORY;
  lines->job.stocks.capacity = rows;
  /* Where the job counts lengths, each length has itself for its price. */
  lines->job.priced = true;
  lines->job.all_free = false;
  for (size_t c = 0; c < lines->buying->cell_count; c++)
    add_rows (lines, c);
  return SW_OK;
}

sw_status
sw_offer_lines_make (sw_offer_lines *out, sw_buying *b, const sw_offer_node *node)
{
  *out = (sw_offer_lines){ .buying = b, .in = node->in, .base = sw_buying_delivery (b, node->in) };
  int64_t most = 0;
  for (size_t c = 0; c < b->cell_count; c++)
    most = b->cells[c].most > most ? b->cells[c].most : most;
  int64_t *corners = sw_alloc ((size_t)most + 1, sizeof *corners);
  out->paid = sw_alloc (b->cell_count, sizeof *out->paid);
  out->last = sw_alloc (b->cell_count, sizeof *out->last);
  out->step_first = sw_alloc (b->cell_count + 1, sizeof *out->step_first);
  sw_status status = corners && out->paid && out->last && out->step_first ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    status = sw_buying_costs (b, b->all & ~node->out, &out->costs);
  for (size_t c = 0; c < b->cell_count && status == SW_OK; c++)
    {
      status = add_cell (out, c, node, corners);
      out->step_first[c + 1] = out->step_count;
    }
  free (corners);
  return status;
}

void
sw_offer_lines_clear (sw_offer_lines *lines)
{
  if (lines->job.settings != NULL || lines->job.stocks.items != NULL)
    sw_job_variant_clear (&lines->job);
  free (lines->paid);
  free (lines->last);
  free (lines->step_first);
  free (lines->steps);
  free (lines->cell_of);
  *lines = (sw_offer_lines){ .buying = NULL };
}

/* ---- Where to cut --------------------------------------------------------------------- */

/* The value at COUNT, between FIRST and LAST, of the highest convex line below COST from FIRST to LAST. */
static int64_t
line_at (const sw_offer_lines *lines, const int64_t *cost, int64_t first, int64_t last, int64_t count)
{
  int64_t from = first;
  int64_t sum = cost[first];
  while (from < count)
    {
      /* Take the flattest step; of several, the one that goes farthest. */
      int64_t to = from + 1;
      for (int64_t n = from + 2; n <= last; n++)
        if (is_above (cost, from, to, n))
          to = n;
      sum += price_between (lines, cost, from, to) * ((to < count ? to : count) - from);
      from = to;
    }
  return sum;
}

/* Does the cost change its slope at N? */
static bool
turns (const int64_t *cost, int64_t n)
{
  return n == 0 || cost[n + 1] - cost[n] != cost[n] - cost[n - 1];
}

bool
sw_offer_lines_cut (const sw_offer_lines *lines, size_t c, int64_t count, int64_t *cut)
{
  const int64_t *cost = lines->costs.of[c];
  const int64_t now = sw_offer_lines_at (lines, c, count);
  int64_t best = -1;
  int looked = 0;
  /* Try the cuts near COUNT first, on both sides. */
  for (int64_t away = 0; looked < MOST_CUTS && away <= lines->last[c] - lines->paid[c]; away++)
    for (int side = 0; side < 2; side++)
      {
        const int64_t n = side == 0 ? count + 1 + away : count - away;
        if (n <= lines->paid[c] || n > lines->last[c] || !turns (cost, n - 1))
          continue;
        looked++;
        /* Work out what COUNT costs on its side of the cut.  That the other side cannot have COUNT is worth something
         * too. */
        int64_t paid = n;
        while (paid < lines->last[c] && cost[paid + 1] == cost[paid])
          paid++;
        const int64_t here = count < n       ? line_at (lines, cost, lines->paid[c], n - 1, count)
                             : count <= paid ? cost[paid]
                                             : line_at (lines, cost, paid, lines->last[c], count);
        const int64_t there = count < n ? cost[paid] - now : cost[count] - cost[n - 1];
        const int64_t gain = here - now < there / 4 ? here - now : there / 4;
        if (gain > best)
          {
            best = gain;
            *cut = n;
          }
      }
  return best > 0;
}
