/* spread.c - the mean of several optimal prices
 *
 * The optimal duals of a degenerate programme are a whole face.  A column has
 * reduced cost 0 at every point of it only where some optimal solution uses
 * that column; at a corner of the face many others have it too.  The mean of
 * several corners, met by asking for a little less of each piece, tells them
 * apart.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "search.h"

#include <stdlib.h>

#include "memory.h"

/* Corners looked for, and how much less of a piece is asked for at most. */
#define CORNERS 20
#define LESS 1e-3

/* Sums of prices, in units of the scale they all have. */
typedef struct sums
{
  double *need, *supply, cap[SW_AIM_COUNT], aligned;
  int64_t scale;
  int count;
} sums;

static void
ask_for_less (sw_search *s, uint64_t *state, double less)
{
  for (size_t n = 0; n < s->model->need_count; n++)
    sw_master_demand (s->master, n, (double)s->model->needs[n].demand - less * sw_search_chance (state));
}

static void
add_up (const sw_search *s, sums *sum)
{
  const sw_prices *p = &s->duals;
  if (sum->count > 0 && p->scale != sum->scale)
    return;
  sum->scale = p->scale;
  sum->count++;
  for (size_t n = 0; n < s->model->need_count; n++)
    sum->need[n] += (double)p->need[n];
  for (size_t i = 0; i < s->model->supply_count; i++)
    sum->supply[i] += (double)p->supply[i];
  for (int a = 0; a < SW_AIM_COUNT; a++)
    sum->cap[a] += (double)p->cap[a];
  sum->aligned += (double)p->aligned;
}

static void
take_mean (sw_search *s, const sums *sum)
{
  sw_prices *p = &s->now;
  p->scale = sum->scale;
  for (size_t n = 0; n < s->model->need_count; n++)
    p->need[n] = (int64_t)(sum->need[n] / sum->count);
  for (size_t i = 0; i < s->model->supply_count; i++)
    p->supply[i] = s->model->supplies[i].limit < 0 ? 0 : (int64_t)(sum->supply[i] / sum->count) + 1;
  for (int a = 0; a < SW_AIM_COUNT; a++)
    p->cap[a] = s->caps[a] < 0 ? 0 : (int64_t)(sum->cap[a] / sum->count) + 1;
  p->aligned = (int64_t)(sum->aligned / sum->count) + 1;
}

sw_status
sw_search_spread (sw_search *s, uint64_t work)
{
  if (!s->root.valid)
    return SW_OK;
  sums sum = { .need = sw_alloc (s->model->need_count, sizeof *sum.need),
               .supply = sw_alloc (s->model->supply_count, sizeof *sum.supply) };
  sw_status status = sum.need != NULL && sum.supply != NULL ? SW_OK : SW_NO_MEMORY;
  uint64_t state = SW_CHANCE_SEED, began = sw_search_work (s);
  for (int i = 0; status == SW_OK && i < CORNERS && sw_search_work (s) - began <= work && !sw_clock_stop (s->clock);
       i++)
    {
      sw_lp outcome;
      ask_for_less (s, &state, LESS);
      status = sw_search_columns (s, SW_ALL_ROUNDS, false, true, &outcome);
      if (status != SW_OK || outcome != SW_LP_OPTIMAL)
        break;
      add_up (s, &sum);
    }
  ask_for_less (s, &state, 0);
  if (status == SW_OK && sum.count > 1)
    {
      take_mean (s, &sum);
      status = sw_search_take_prices (s);
    }
  free (sum.need);
  free (sum.supply);
  return status;
}
