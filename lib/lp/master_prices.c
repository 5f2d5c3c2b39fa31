/* master_prices.c - the duals of the last linear programme as prices in whole numbers
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "lp/master.h"

void
sw_master_prices (const sw_master *m, double penalty, sw_prices *p)
{
  const sw_goal *goal = p->goal;
  const sw_model *model = goal->model;
  p->scale = sw_goal_scale (goal, penalty);
  for (size_t n = 0; n < model->need_count; n++)
    p->need[n] = sw_scaled (sw_master_need_dual (m, n), p->scale, false);
  for (size_t i = 0; i < model->stock_count; i++)
    {
      const double dual = sw_master_stock_dual (m, i);
      p->stock[i] = model->stocks[i].limit < 0 ? 0 : sw_scaled (-dual, p->scale, true);
      if (p->owed != NULL)
        p->owed[i] = sw_scaled (dual, p->scale, false);
    }
  p->aligned = model->priced_pairs ? sw_scaled (-sw_master_aligned_dual (m), p->scale, true) : 0;
  for (int a = 0; a < SW_AIM_COUNT; a++)
    {
      const int64_t most = sw_goal_most_cap (goal, (sw_aim)a);
      p->cap[a] = goal->caps[a] < 0 ? 0 : sw_scaled (-sw_master_cap_dual (m, (sw_aim)a), p->scale, true);
      if (p->cap[a] > most)
        p->cap[a] = most;
    }
}
