/* check_metres.c - the bound by the metres alone
 *
 * Where there is no layout to choose it is the optimum of a continuous
 * knapsack: the cheapest metres first until all pieces are covered (Dantzig,
 * "Discrete-variable extremum problems", Operations Research 5, 1957; from
 * memory).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "chance.h"
#include "model_job.h"
#include "solve/steps.h"
#include "suite.h"

#include <math.h>
#include <stdlib.h>

static sw_watch clock_now;

static void
setup (void)
{
  model_setup ();
  sw_watch_begin (&clock_now, -1, NULL);
}

/* Pieces, and prices of stock that are all different or often the same; the last has no limit. */
static const sw_model *
make_cuts (uint64_t *state)
{
  const int64_t stocks = chance (state, 1, 12), dear = one_in (state, 2) ? 2000 : 2;
  job->settings->kerf = 0;
  job->priced = true;
  for (int64_t s = 0; s < stocks; s++)
    {
      sw_stock *stock = job_stock (job, "a", (3000 + 100 * s) * SW_MM);
      stock->priced = true;
      stock->price = chance (state, 1, dear) * SW_MONEY_UNIT / 100;
      stock->limit = s + 1 < stocks && !one_in (state, 6) ? chance (state, 0, 4) : -1;
      stock->hand = one_in (state, 8) ? chance (state, 1, 3) : 0;
    }
  for (int64_t p = chance (state, 1, 20); p > 0; p--)
    job_extra (job, "x", "a", chance (state, 300, 3000) * SW_MM)->quantity = chance (state, 1, 9);
  ck_assert_int_eq (sw_layout_new (&layout, job, NULL), SW_OK);
  ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
  ck_assert_uint_eq (count, 1);
  return models;
}

static int
by_metre (const void *a, const void *b)
{
  const sw_model_stock *x = a, *y = b;
  const double left = (double)x->cost / (double)x->room, right = (double)y->cost / (double)y->room;
  return (left > right) - (left < right);
}

static double
continuous_cost (const sw_model *model)
{
  sw_model_stock stocks[40];
  double left = 0, cost = 0;
  ck_assert_uint_le (model->stock_count, 40);
  for (size_t i = 0; i < model->stock_count; i++)
    stocks[i] = model->stocks[i];
  qsort (stocks, model->stock_count, sizeof *stocks, by_metre);
  for (size_t n = 0; n < model->need_count; n++)
    left += (double)model->needs[n].size * (double)model->needs[n].demand;
  for (size_t i = 0; i < model->stock_count && left > 0; i++)
    {
      double boards = left / (double)stocks[i].room;
      if (stocks[i].limit >= 0 && (double)stocks[i].limit < boards)
        boards = (double)stocks[i].limit;
      cost += boards * (double)stocks[i].cost;
      left -= boards * (double)stocks[i].room;
    }
  return cost;
}

START_TEST (it_is_the_continuous_knapsack)
{
  uint64_t state = 43001 + (uint64_t)_i;
  int limits_count = 0;
  for (int round = 0; round < 100; round++)
    {
      const sw_model *model = make_cuts (&state);
      sw_search s;
      int64_t bound;
      ck_assert_int_eq (sw_search_begin (&s, model, &clock_now, false), SW_OK);
      ck_assert_int_eq (sw_bound_by_metres (&s, false, &bound), SW_OK);
      const double cost = continuous_cost (model);
      /* Prices are rounded down to parts of a granule. */
      ck_assert_msg ((double)bound >= ceil (cost - 1e-4) && (double)bound <= ceil (cost + 1e-4),
                     "round %d: %lld, not %f", round, (long long)bound, cost);
      limits_count += model->stock_count > 1 && cost > 0;
      sw_search_end (&s);
      model_teardown ();
      setup ();
    }
  ck_assert_int_gt (limits_count, 50);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("material");
  TCase *cases = tcase_create ("cases");
  tcase_add_checked_fixture (cases, setup, model_teardown);
  tcase_add_loop_test (cases, it_is_the_continuous_knapsack, 0, 10);
  suite_add_tcase (suite, cases);
  return suite_run (suite);
}
