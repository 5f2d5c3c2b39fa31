/* purchase_bill.c - the cheapest way to buy given numbers of lengths
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "plan/purchase_least.h"
#include "plan/purchase_parts.h"

#include <stdlib.h>
#include <string.h>

/* All sets are tried where there are so many yards or fewer. */
#define FEW_YARDS 8

typedef struct billing
{
  sw_buying *buying;
  const int64_t *needed;
  sw_bill *best;
  sw_purchase *trial; /* a row each */
} billing;

static sw_status
cost_of (const billing *g, sw_yard_set yards, int64_t *cost)
{
  sw_costs costs;
  sw_status status = sw_buying_costs (g->buying, yards, &costs);
  *cost = sw_buying_delivery (g->buying, yards);
  for (size_t c = 0; c < g->buying->cell_count && status == SW_OK; c++)
    {
      const int64_t part = costs.of[c][g->needed[c]];
      *cost = part >= SW_NOT_TO_BE_HAD || *cost >= SW_NOT_TO_BE_HAD ? SW_NOT_TO_BE_HAD : *cost + part;
    }
  return status;
}

static void
take (billing *g, int64_t cost, sw_yard_set used)
{
  g->best->cost = cost;
  g->best->yards = used;
  if (g->buying->job->stocks.count > 0)
    memcpy (g->best->purchases, g->trial, g->buying->job->stocks.count * sizeof *g->trial);
}

/* Take the way with YARDS where it is cheaper than the best so far and reaches every least order. */
static sw_status
try_yards (billing *g, sw_yard_set yards)
{
  sw_buying *b = g->buying;
  int64_t cost;
  sw_status status = cost_of (g, yards, &cost);
  if (status != SW_OK || cost >= g->best->cost)
    return status;
  memset (g->trial, 0, b->job->stocks.count * sizeof *g->trial);
  for (size_t c = 0; c < b->cell_count && status == SW_OK; c++)
    status = sw_buying_split (b, c, yards, g->needed[c], g->trial);
  if (status != SW_OK)
    return status;
  sw_yard_set used;
  const sw_yard_set lacking = sw_buying_lacking (b, g->trial, &used);
  /* Some of them are not used; a smaller set costs less or the same. */
  if (lacking == 0)
    {
      take (g, cost - sw_buying_delivery (b, yards & ~used), used);
      return SW_OK;
    }
  bool exact = true;
  status = sw_buying_reach_least (b, yards, lacking, g->needed, g->best->cost, g->trial, &cost, &exact);
  g->best->exact = g->best->exact && exact;
  if (status == SW_OK && cost < g->best->cost && sw_buying_lacking (b, g->trial, &used) == 0)
    take (g, cost, used);
  return status;
}

/* Begin with each yard alone and with all, and add or leave out one yard at a time while that helps. */
static sw_status
search_sets (billing *g, sw_yard_set always, sw_yard_set paid)
{
  sw_status status = try_yards (g, always | paid);
  for (sw_yard_set one = paid; one != 0 && status == SW_OK; one &= one - 1)
    status = try_yards (g, always | (one & -one));
  for (bool better = true; better && status == SW_OK;)
    {
      const int64_t before = g->best->cost;
      const sw_yard_set now = g->best->yards & paid;
      for (sw_yard_set one = paid; one != 0 && status == SW_OK; one &= one - 1)
        status = try_yards (g, always | (now ^ (one & -one)));
      better = g->best->cost < before;
    }
  g->best->exact = false;
  return status;
}

sw_status
sw_buying_bill (sw_buying *b, sw_yard_set yards, const int64_t *needed, sw_bill *bill)
{
  const sw_yard_set paid = yards & b->paid;
  const sw_yard_set always = yards & b->all & ~b->paid;
  billing g = { .buying = b, .needed = needed, .best = bill };
  size_t count = 0;
  for (sw_yard_set left = paid; left != 0; left &= left - 1)
    count++;
  bill->cost = SW_NOT_TO_BE_HAD;
  bill->yards = 0;
  bill->exact = true;
  g.trial = sw_alloc (b->job->stocks.count, sizeof *g.trial);
  if (g.trial == NULL)
    return SW_NO_MEMORY;
  sw_status status = SW_OK;
  if (count > FEW_YARDS)
    status = search_sets (&g, always, paid);
  else
    /* Go through all subsets of PAID, the empty one last. */
    for (sw_yard_set set = paid;; set = (set - 1) & paid)
      {
        status = try_yards (&g, always | set);
        if (set == 0 || status != SW_OK)
          break;
      }
  free (g.trial);
  return status;
}
