/* round.c - plans out of the linear programme's mixture of layouts
 *
 * Rounded strip by strip, the mixture shows where the joins go; boards are then
 * cut for that layout.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/safe_prices.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* Roundings at the end, and how far chance moves the shares in all but the first. */
#define ROUNDINGS 6
#define NOISE 0.3

/* How much of each option the mixture has. */
static sw_status
read_shares (sw_search *s, double **out)
{
  double *share = *out = sw_alloc (s->model->option_count, sizeof *share);
  if (share == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < s->layouts.count; i++)
    {
      const sw_kept_layout *l = &s->layouts.items[i];
      double value = sw_master_layout_value (s->master, &s->layouts, i);
      for (size_t k = 0; value > 0 && k < l->count; k++)
        share[s->layouts.options[l->first + k]] += value;
    }
  return SW_OK;
}

/* Lay each strip out as near as can be to the mixture, bay by bay; CHANCE 0: none.  Not all of them when the watch
 * says stop. */
static sw_status
lay_out (sw_search *s, const double *shares, uint64_t *chance)
{
  sw_search_price_options (s, &s->root);
  const double unit = (double)sw_search_largest_coefficient (s, s->aim) * (double)s->root.scale;
  const sw_wide weight = s->model->stagger ? SW_ALIGNED_FIRST : 0;
  for (size_t o = 0; o < s->model->option_count; o++)
    {
      const sw_option *option = &s->model->options[o];
      double share = shares[o];
      if (*chance != 0 && share > 0)
        share += NOISE * sw_search_chance (chance);
      s->price[o] -= (int64_t)(unit * share * (option->to - option->from));
    }
  sw_status status = SW_OK;
  for (size_t i = 0; i < s->model->strip_count && status == SW_OK && !sw_watch_stop (s->watch); i++)
    status = sw_search_lay_out (s, i, weight);
  return status;
}

sw_status
sw_search_round_quickly (sw_search *s)
{
  double *shares;
  uint64_t chance = 0;
  sw_status status = read_shares (s, &shares);
  if (status == SW_OK)
    status = lay_out (s, shares, &chance);
  free (shares);
  if (status != SW_OK || s->watch->stop != SW_GO_ON)
    return status;
  sw_search_value_pieces (s, &s->root);
  return sw_search_fill_long (s, &s->root);
}

/* All strips but a PART of them, which chance draws, stay as the best plan has them. */
static void
keep_strips (sw_search *s, double part, uint64_t *chance)
{
  for (size_t i = 0; i < s->model->strip_count; i++)
    {
      const sw_strip *strip = &s->model->strips[i];
      if (sw_search_chance (chance) < part)
        continue;
      for (uint32_t r = 0; r < strip->level_count; r++)
        memcpy (&s->used[strip->levels[r].option_first], &s->best.used[strip->levels[r].option_first],
                strip->levels[r].option_count);
    }
}

/* Fewer joins at no more cost: the mixture's layout for as large a part of the strips as can be cut at that. */
static sw_status
round_joins (sw_search *s, const double *shares)
{
  sw_status status = SW_OK;
  uint64_t none = 0, chance = SW_CHANCE_SEED;
  double low = 0, high = 2;
  for (int i = 0; i < ROUNDINGS && status == SW_OK && !sw_search_done (s) && !sw_watch_stop (s->watch); i++)
    {
      const int64_t before = sw_search_best (s);
      const double part = (low + high) / 2;
      status = lay_out (s, shares, &none);
      if (s->best.valid)
        keep_strips (s, part, &chance);
      if (status == SW_OK && s->watch->stop == SW_GO_ON)
        status = sw_search_cut (s, &s->root);
      if (sw_search_best (s) < before)
        low = part;
      else
        high = part;
    }
  return status;
}

static sw_status
round_cost (sw_search *s, const double *shares)
{
  sw_status status = SW_OK;
  for (uint64_t i = 0; i < ROUNDINGS && status == SW_OK && !sw_search_done (s) && !sw_watch_stop (s->watch); i++)
    {
      uint64_t chance = i > 0 ? SW_CHANCE_SEED + i : 0;
      status = lay_out (s, shares, &chance);
      if (status == SW_OK && s->watch->stop == SW_GO_ON)
        status = sw_search_cut (s, &s->root);
    }
  return status;
}

sw_status
sw_search_round (sw_search *s)
{
  double *shares;
  sw_status status = read_shares (s, &shares);
  if (status == SW_OK)
    status = s->aim == SW_AIM_JOINS ? round_joins (s, shares) : round_cost (s, shares);
  free (shares);
  return status;
}
