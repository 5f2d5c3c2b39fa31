/* mix.c - the linear programme over whole layouts
 *
 * Each strip mixes whole layouts of its own, found by its dynamic programme
 * (Dantzig & Wolfe 1960), in place of single pieces that have to meet at each
 * post: a row a strip instead of a row a post and level, and a bound that is
 * as good as the strips' own.  Rounded strip by strip, the mixture shows where
 * the joins go.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price.h"

#include <stdlib.h>
#include <string.h>

#include "memory.h"

/* Marks at most; where there are more needs than FEW, a first look with so many. */
#define MARKS 6000
#define FEW_MARKS 400
#define FEW_NEEDS 1500
/* Rounds of columns; programme and bound are brought so near to each other at a first look, and in the end. */
#define ROUNDS 300
#define NEAR_FIRST 5e-4
#define NEAR 1e-6
/* A plan is made in between at this round, and whenever there were twice as many. */
#define FIRST_PLAN 10
/* Roundings at the end, and how far chance moves the shares in all but the first. */
#define ROUNDINGS 6
#define NOISE 0.3

/* A column: a layout of a strip. */
typedef struct layout
{
  size_t strip;
  size_t first, count; /* of the options below */
  int column;
} layout;

typedef struct mix
{
  sw_search *search;
  sw_marks marks;
  layout *layouts;
  size_t layout_count, layout_capacity;
  uint32_t *options;
  size_t option_count, option_capacity;
  double *share; /* an option each */
} mix;

/* ---- Columns --------------------------------------------------------------------------- */

/* The layout of STRIP in search->used. */
static sw_status
add_layout (mix *m, size_t strip)
{
  const sw_strip *st = &m->search->model->strips[strip];
  layout l = { .strip = strip, .first = m->option_count };
  for (uint32_t r = 0; r < st->row_count; r++)
    for (size_t o = st->rows[r].option_first; o < st->rows[r].option_first + st->rows[r].option_count; o++)
      if (m->search->used[o])
        {
          sw_status status
              = sw_grow ((void **)&m->options, &m->option_capacity, m->option_count + 1, sizeof *m->options);
          if (status != SW_OK)
            return status;
          m->options[m->option_count++] = (uint32_t)o;
        }
  l.count = m->option_count - l.first;
  sw_status status = sw_grow ((void **)&m->layouts, &m->layout_capacity, m->layout_count + 1, sizeof *m->layouts);
  if (status == SW_OK)
    m->layouts[m->layout_count++] = l;
  return status;
}

static sw_status
put_layout (mix *m, size_t i)
{
  layout *l = &m->layouts[i];
  return sw_master_add_layout (m->search->master, l->strip, &m->options[l->first], l->count, &l->column);
}

/* What the layout of STRIP in search->used is worth at PRICES. */
static sw_wide
layout_value (const mix *m, size_t strip, const sw_prices *prices)
{
  const sw_search *s = m->search;
  const sw_strip *st = &s->model->strips[strip];
  sw_wide sum = 0;
  for (uint32_t r = 0; r < st->row_count; r++)
    for (size_t o = st->rows[r].option_first; o < st->rows[r].option_first + st->rows[r].option_count; o++)
      if (s->used[o])
        sum += prices->need[s->model->options[o].need] + sw_search_option_weight (s, prices, o);
  return sum;
}

/* Cheapest layouts at search->now, which become columns where they pay at the duals: *USEFUL more of them.
 * Cut short, and no bound comes of it, when the clock says stop. */
static sw_status
price_layouts (mix *m, size_t *useful)
{
  sw_search *s = m->search;
  sw_wide weight = sw_search_aligned_weight (s, &s->now);
  s->now.bound = sw_search_fixed_part (s, &s->now);
  sw_search_price_options (s, &s->now);
  for (size_t i = 0; i < s->model->strip_count; i++)
    {
      sw_wide value;
      if (sw_clock_stop (s->clock))
        return SW_OK;
      sw_status status = sw_strip_best (s->model, i, s->price, weight, s->strips, &value, NULL, s->used, NULL);
      if (status != SW_OK)
        return status;
      s->now.bound += value - s->model->strips[i].aligned_floor * weight;
      double gain
          = sw_master_strip_dual (s->master, i) * (double)s->duals.scale - (double)layout_value (m, i, &s->duals);
      if (gain < 1e-7 * (double)s->duals.scale)
        continue;
      ++*useful;
      status = add_layout (m, i);
      if (status == SW_OK)
        status = put_layout (m, m->layout_count - 1);
      if (status != SW_OK)
        return status;
    }
  s->now.valid = true;
  sw_search_note_bound (s);
  return SW_OK;
}

/* *DONE: there are none. */
static sw_status
find_columns (mix *m, bool *done)
{
  sw_search *s = m->search;
  *done = false;
  for (int eighths = SW_SMOOTH;; eighths /= 2)
    {
      size_t added, useful;
      sw_search_smooth (s, eighths);
      sw_status status = sw_search_price_patterns (s, s->stocked, &added, &useful);
      if (status != SW_OK || s->clock->stop != SW_GO_ON)
        return status;
      sw_search_make_safe (s, &s->now, s->stocked);
      status = price_layouts (m, &useful);
      if (status != SW_OK || useful > 0 || s->clock->stop != SW_GO_ON)
        return status;
      if (eighths == 0 || !s->root.valid || s->root.scale != s->duals.scale)
        {
          *done = true;
          return SW_OK;
        }
    }
}

/* ---- Plans -------------------------------------------------------------------------------- */

/* How much of each option the mixture has. */
static void
read_shares (mix *m)
{
  const sw_search *s = m->search;
  memset (m->share, 0, s->model->option_count * sizeof *m->share);
  for (size_t i = 0; i < m->layout_count; i++)
    {
      const layout *l = &m->layouts[i];
      double value = sw_master_layout_value (s->master, l->column);
      for (size_t k = 0; value > 0 && k < l->count; k++)
        m->share[m->options[l->first + k]] += value;
    }
}

/* Lay each strip out as near as can be to the mixture, bay by bay; CHANCE 0: none.  Not all of them when the clock
 * says stop. */
static sw_status
lay_out (mix *m, uint64_t *chance)
{
  sw_search *s = m->search;
  sw_search_price_options (s, &s->root);
  double unit = (double)sw_search_largest_coefficient (s, s->aim) * (double)s->root.scale;
  for (size_t o = 0; o < s->model->option_count; o++)
    {
      const sw_option *option = &s->model->options[o];
      double share = m->share[o];
      if (*chance != 0 && share > 0)
        share += NOISE * sw_search_chance (chance);
      s->price[o] -= (int64_t)(unit * share * (option->to - option->from));
    }
  for (size_t i = 0; i < s->model->strip_count && !sw_clock_stop (s->clock); i++)
    {
      sw_status status = sw_strip_best (s->model, i, s->price, s->model->stagger ? SW_ALIGNED_FIRST : 0, s->strips,
                                        NULL, NULL, s->used, NULL);
      if (status != SW_OK)
        return status;
    }
  return SW_OK;
}

/* A plan out of the mixture as it stands, at little cost. */
static sw_status
plan_between (mix *m)
{
  uint64_t chance = 0;
  sw_search *s = m->search;
  read_shares (m);
  sw_status status = lay_out (m, &chance);
  if (status != SW_OK || s->clock->stop != SW_GO_ON)
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
      for (uint32_t r = 0; r < strip->row_count; r++)
        memcpy (&s->used[strip->rows[r].option_first], &s->best.used[strip->rows[r].option_first],
                strip->rows[r].option_count);
    }
}

/* Fewer joins at no more cost: the mixture's layout for as large a part of the strips as can be cut at that. */
static sw_status
plan_joins (mix *m)
{
  sw_search *s = m->search;
  sw_status status = SW_OK;
  uint64_t none = 0, chance = SW_CHANCE_SEED;
  double low = 0, high = 2;
  read_shares (m);
  for (int i = 0; i < ROUNDINGS && status == SW_OK && !sw_search_done (s) && !sw_clock_stop (s->clock); i++)
    {
      const int64_t before = sw_search_best (s);
      const double part = (low + high) / 2;
      status = lay_out (m, &none);
      keep_strips (s, part, &chance);
      if (status == SW_OK && s->clock->stop == SW_GO_ON)
        status = sw_search_cut (s, &s->root);
      if (sw_search_best (s) < before)
        low = part;
      else
        high = part;
    }
  return status;
}

static sw_status
plan_at_end (mix *m)
{
  sw_search *s = m->search;
  sw_status status = SW_OK;
  if (s->aim == SW_AIM_JOINS)
    return plan_joins (m);
  read_shares (m);
  for (uint64_t i = 0; i < ROUNDINGS && status == SW_OK && !sw_search_done (s) && !sw_clock_stop (s->clock); i++)
    {
      uint64_t chance = i > 0 ? SW_CHANCE_SEED + i : 0;
      status = lay_out (m, &chance);
      if (status == SW_OK && s->clock->stop == SW_GO_ON)
        status = sw_search_cut (s, &s->root);
    }
  return status;
}

/* ---- The programme -------------------------------------------------------------------------- */

/* All columns met so far go into a new master. */
static sw_status
begin (mix *m)
{
  sw_search *s = m->search;
  sw_status status = sw_master_new_mix (&s->master, s->model, &s->pool, &m->marks, s->aim, s->beside);
  if (status != SW_OK)
    return status;
  for (int a = 0; a < SW_AIM_COUNT; a++)
    sw_master_cap (s->master, (sw_aim)a, s->caps[a]);
  for (size_t i = 0; i < s->pool.count && status == SW_OK; i++)
    status = sw_master_add (s->master, i, NULL);
  for (size_t i = 0; i < m->layout_count && status == SW_OK; i++)
    status = put_layout (m, i);
  return status;
}

static bool
near_enough (const sw_search *s, double near)
{
  const double bound = sw_search_bound_in_units (&s->root);
  return s->root.valid && sw_master_value (s->master) - bound <= near * bound;
}

/* With about MOST marks: columns until bound and programme are as NEAR as that. */
static sw_status
run (mix *m, size_t most, double near, bool last)
{
  sw_search *s = m->search;
  const double penalty = sw_search_penalty (s, 0);
  sw_lp outcome = SW_LP_OPTIMAL;
  bool done = false;
  sw_status status = sw_marks_new (&m->marks, s->model, most);
  if (status == SW_OK)
    status = begin (m);
  if (status == SW_OK)
    sw_master_penalty (s->master, penalty);
  for (int round = 0, plan = FIRST_PLAN; round < ROUNDS && status == SW_OK && !done; round++)
    {
      status = sw_master_lp (s->master, s->clock, &outcome);
      if (status != SW_OK || outcome != SW_LP_OPTIMAL)
        break;
      sw_search_take_duals (s, penalty);
      status = find_columns (m, &done);
      if (status != SW_OK || s->clock->stop != SW_GO_ON || sw_search_done (s) || near_enough (s, near))
        break;
      if (round < plan || s->aim != SW_AIM_COST)
        continue;
      plan *= 2;
      status = plan_between (m);
    }
  if (last && status == SW_OK && outcome == SW_LP_OPTIMAL && s->root.valid && s->aim != SW_AIM_BOARDS)
    status = plan_at_end (m);
  sw_master_free (s->master);
  s->master = NULL;
  sw_marks_clear (&m->marks);
  return status;
}

/* Every strip must have its exact method, and a best plan be there to begin with. */
static bool
is_fit (const sw_search *s)
{
  if (!s->best.valid || s->model->strip_count == 0 || s->model->aligned_cap > 0)
    return false;
  for (size_t i = 0; i < s->model->strip_count; i++)
    if (!sw_strip_is_exact (s->model, i))
      return false;
  return true;
}

sw_status
sw_search_mix (sw_search *s)
{
  mix m = { .search = s };
  if (!is_fit (s))
    return SW_OK;
  sw_master *outer = s->master, *beside = s->beside;
  s->beside = sw_search_beside (s);
  s->master = NULL;
  m.share = sw_alloc (s->model->option_count, sizeof *m.share);
  sw_status status = m.share != NULL ? SW_OK : SW_NO_MEMORY;
  memcpy (s->used, s->best.used, s->model->option_count);
  for (size_t i = 0; i < s->model->strip_count && status == SW_OK; i++)
    status = add_layout (&m, i);
  if (status == SW_OK && s->model->need_count > FEW_NEEDS)
    status = run (&m, FEW_MARKS, NEAR_FIRST, false);
  if (status == SW_OK && !sw_search_done (s) && !sw_clock_stop (s->clock))
    status = run (&m, MARKS, NEAR, true);
  s->master = outer;
  s->beside = beside;
  free (m.layouts);
  free (m.options);
  free (m.share);
  return status;
}
