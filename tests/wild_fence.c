/* wild_fence.c - fences in which hardly two spans are alike, for the tests of the search
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "wild_fence.h"

#include <check.h>

#include "chance.h"
#include "layout_job.h"
#include "solve/part_search.h"
#include "solve/solve.h"
#include "solve/steps.h"

static const char *const names[] = { "1", "2", "3", "4", "5", "6", "7", "8", "9", "10" };

sw_model *
wild_make (wild_fence *fence, uint64_t *state, size_t runs, size_t bays, size_t rows)
{
  sw_job *job = fence->job = job_make ();
  fence->layout = NULL;
  fence->models = NULL;
  fence->count = 0;
  sw_watch_begin (&fence->watch, -1, NULL);
  job->settings->kerf = 3 * SW_MM;
  job->settings->stagger = one_in (state, 3) ? SW_STAGGER_OFF : SW_STAGGER_PREFER;
  for (size_t l = 0; l < rows; l++)
    job_level (job, names[l], "a", true);
  job_stock (job, "a", 4800 * SW_MM)->limit = one_in (state, 3) ? chance (state, 1, 9) : -1;
  job_stock (job, "a", 5400 * SW_MM);
  for (size_t r = 0; r < runs; r++)
    {
      job_run (job, names[r], 100 * SW_MM);
      for (size_t b = 0; b < bays; b++)
        job_bay (job, chance (state, 1200, 2900) * SW_MM, 100 * SW_MM);
      job_close (job);
    }
  job_extra (job, "x", "a", 700 * SW_MM)->quantity = 5;
  ck_assert_int_eq (sw_layout_new (&fence->layout, job, NULL), SW_OK);
  ck_assert_int_eq (sw_models_new (&fence->models, &fence->count, fence->layout), SW_OK);
  ck_assert_uint_eq (fence->count, 1);
  /* This also sets the floors of aligned pairs. */
  ck_assert_int_eq (sw_solve_begin (fence->models, &fence->watch), SW_OK);
  return fence->models;
}

void
wild_drop (wild_fence *fence)
{
  sw_models_free (fence->models, fence->count);
  sw_layout_free (fence->layout);
  job_drop (fence->job);
}

void
wild_begin (wild_fence *fence, sw_search *search, sw_model *model)
{
  int64_t open;
  ck_assert_int_eq (sw_search_begin (search, model, &fence->watch, false), SW_OK);
  ck_assert_int_eq (sw_search_floors (search, model, &open), SW_OK);
  ck_assert_int_eq (open, 0);
  ck_assert_int_eq (sw_first_plan (search), SW_OK);
  ck_assert (search->best.valid);
}

sw_status
wild_programme (sw_search *search)
{
  sw_lp outcome = SW_LP_OPTIMAL;
  bool done;
  sw_programme programme;
  sw_status status = sw_programme_init (&programme, search);
  if (status == SW_OK)
    status = sw_programme_begin (&programme, 6000);
  if (status == SW_OK)
    status = sw_programme_columns (&programme, SW_ALL_ROUNDS, true, 1e-6, &outcome, &done);
  if (status == SW_OK)
    ck_assert_int_eq (outcome, SW_LP_OPTIMAL);
  if (status == SW_OK && !sw_search_done (search))
    status = sw_descend_and_cut (search, &programme);
  sw_programme_clear (&programme);
  return status;
}
