/* first.c - a first plan, so that there is one
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "solve/fill.h"
#include "solve/steps.h"

#include <stdlib.h>

#include "base/memory.h"

/* A piece is worth its length, in units of which the longest piece has so many. */
#define LONGEST_WORTH ((int64_t)1 << 20)

/* Lay all strips out by the VALUE of their pieces, then fill the boards. */
static sw_status
lay_out_and_fill (sw_search *s, const int64_t *value, int64_t *price, sw_solution *solution)
{
  const sw_model *model = s->model;
  for (size_t o = 0; o < model->option_count; o++)
    price[o] = value[model->options[o].need] + 1;
  for (size_t i = 0; i < model->strip_count; i++)
    {
      sw_status status = sw_search_lay_out (s, i, price, model->stagger ? SW_ALIGNED_FIRST : 0, solution->used);
      if (status == SW_NO_PLAN)
        return SW_OK; /* there is no simple plan, but the programme may find one */
      if (status != SW_OK)
        return status;
    }
  return sw_fill (s, solution, value);
}

sw_status
sw_first_plan (sw_search *s)
{
  const sw_model *model = s->model;
  int64_t *value = sw_alloc (model->need_count, sizeof *value);
  int64_t *price = sw_alloc (model->option_count, sizeof *price);
  sw_solution solution;
  sw_status status = sw_solution_init (&solution, model);
  if (value == NULL || price == NULL)
    status = SW_NO_MEMORY;
  int64_t largest = 1;
  for (size_t n = 0; n < model->need_count; n++)
    if (model->needs[n].size > largest)
      largest = model->needs[n].size;
  for (size_t n = 0; n < model->need_count && status == SW_OK; n++)
    value[n] = model->needs[n].size * (LONGEST_WORTH / largest + 1);
  if (status == SW_OK)
    status = lay_out_and_fill (s, value, price, &solution);
  sw_solution_clear (&solution);
  free (value);
  free (price);
  return status;
}
