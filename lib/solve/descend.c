/* descend.c - a layout out of the linear programme's mixture: fix what it nearly decides, and solve on
 *
 * This is a dive over whole layouts (the general scheme: Sadykov, Vanderbeck,
 * Pessoa, Tahiri & Uchoa, INFORMS Journal on Computing 31, 2019).  To fix a
 * piece is to bar all others that would lie beside it, which the dynamic
 * programme of a strip keeps to as it keeps to prices.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/steps.h"

#include <stdlib.h>

#include "base/memory.h"
#include "model/tuning.h"

/* Bar all other options that would lie on the bays of OPTION. */
static void
fix_option (const sw_model *model, size_t option, uint8_t *barred)
{
  const sw_option *fixed = &model->options[option];
  const sw_strip_level *level = &model->strips[fixed->strip].levels[fixed->level];
  size_t o = option;
  while (o > level->option_first && model->options[o - 1].from + level->reach > fixed->from)
    o--;
  for (; o < level->option_first + level->option_count && model->options[o].from < fixed->to; o++)
    if (o != option && model->options[o].to > fixed->from)
      barred[o] = 1;
}

/* Fix the options of which the mixture has more than ENOUGH, a half at least, so that no two of them exclude each
 * other. Where there are none, fix the one that most of it has.  False: the mixture is one layout. */
static bool
fix_options (const sw_model *model, const double *share, double enough, uint8_t *barred)
{
  size_t most = SIZE_MAX;
  for (size_t o = 0; o < model->option_count; o++)
    {
      if (share[o] < SW_WHOLE || share[o] > 1 - SW_WHOLE)
        continue;
      if (most == SIZE_MAX || share[o] > share[most])
        most = o;
      if (share[o] > enough)
        fix_option (model, o, barred);
    }
  if (most != SIZE_MAX && share[most] <= enough)
    fix_option (model, most, barred);
  return most != SIZE_MAX;
}

/* Open the layouts without BARRED options (NULL: all), and shut the others. */
static void
open_layouts (const sw_programme *p, const uint8_t *barred)
{
  for (size_t i = 0; i < p->layouts.count; i++)
    {
      const sw_kept_layout *l = &p->layouts.items[i];
      bool open = true;
      for (size_t k = 0; barred != NULL && k < l->count && open; k++)
        open = !barred[p->layouts.options[l->first + k]];
      sw_master_allow (p->master, l->column, open);
    }
}

static sw_status
go_down (sw_programme *p, double enough, uint8_t *barred, uint8_t *used, bool *whole)
{
  const sw_model *model = p->search->model;
  sw_status status = SW_OK;
  sw_lp outcome = SW_LP_OPTIMAL;
  while (status == SW_OK && outcome == SW_LP_OPTIMAL && !sw_programme_hopeless (p) && !sw_watch_stop (p->search->watch))
    {
      double *share;
      bool done;
      status = sw_mixture (p, &share);
      *whole = status == SW_OK && !fix_options (model, share, enough, barred);
      for (size_t o = 0; *whole && o < model->option_count; o++)
        used[o] = share[o] > 0.5;
      free (share);
      if (status != SW_OK || *whole)
        return status;
      open_layouts (p, barred);
      status = sw_programme_columns (p, SW_ROUNDS, false, SW_THOROUGH, &outcome, &done);
    }
  return status;
}

sw_status
sw_descend (sw_programme *p, double enough, uint8_t *used, bool *whole)
{
  uint8_t *barred = sw_alloc (p->search->model->option_count, 1);
  *whole = false;
  sw_status status = barred != NULL ? sw_master_keep_basis (p->master) : SW_NO_MEMORY;
  p->barred = barred;
  if (status == SW_OK)
    status = go_down (p, enough, barred, used, whole);
  p->barred = NULL;
  open_layouts (p, NULL);
  /* From the last basis of a dive the simplex would take a long way back. */
  sw_master_back_to_basis (p->master);
  free (barred);
  return status;
}
