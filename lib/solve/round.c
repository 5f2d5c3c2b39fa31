/* round.c - layouts out of the linear programme's mixture
 *
 * The mixture, rounded strip by strip, shows where joins should go.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/steps.h"

#include <stdlib.h>

#include "base/memory.h"
#include "model/tuning.h"

sw_status
sw_mixture (const sw_programme *p, double **out)
{
  double *share = *out = sw_alloc (p->search->model->option_count, sizeof *share);
  if (share == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < p->layouts.count; i++)
    {
      const sw_kept_layout *l = &p->layouts.items[i];
      const double value = sw_master_share (p->master, l->column);
      for (size_t k = 0; value > 0 && k < l->count; k++)
        share[p->layouts.options[l->first + k]] += value;
    }
  return SW_OK;
}

sw_status
sw_round_layout (sw_search *s, const double *shares, uint8_t *used)
{
  const sw_model *model = s->model;
  const double unit = (double)sw_goal_largest (&s->goal, s->goal.aim) * (double)s->root.scale;
  const sw_wide weight = model->stagger ? SW_ALIGNED_FIRST : 0;
  int64_t *price = sw_alloc (model->option_count, sizeof *price);
  sw_status status = price != NULL ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    sw_prices_options (&s->root, price);
  for (size_t o = 0; o < model->option_count && status == SW_OK; o++)
    {
      const sw_option *option = &model->options[o];
      price[o] -= (int64_t)(unit * shares[o] * (option->to - option->from));
    }
  for (size_t i = 0; i < model->strip_count && status == SW_OK && !sw_watch_stop (s->watch); i++)
    status = sw_search_lay_out (s, i, price, weight, used);
  free (price);
  return status;
}
