/* check_purchase_cuts.c - what every order has to bring, against all orders of small jobs
 *
 * A run of a few bays, from post centre to post centre, and some extras.  All
 * layouts and all ways to cut them are tried for each number of boards.  No
 * cut may leave out numbers from which the job can be cut, and no bound may be
 * over the cheapest of them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "lp/master.h"
#include "plan/plan_once.h"
#include "plan/purchase_cuts.h"

#include "base/text.h"
#include "chance.h"
#include "plan_fixture.h"
#include "suite.h"

#include <inttypes.h>
#include <stdlib.h>

#define CELLS 2
#define BAYS 4
#define EXTRAS 2
#define PIECES (BAYS + EXTRAS)
#define NOT_AT_ALL 1000

typedef struct timber
{
  int64_t bays[BAYS]; /* mm */
  int64_t extras[EXTRAS];
  int64_t boards[CELLS];
  int64_t price[CELLS];
  int64_t pack[CELLS];
  int64_t join;
  /* For so many boards of each length: the fewest joins of a layout that can be cut from them. */
  int joins[PIECES + 1][PIECES + 1];
} timber;

/* Can the pieces from number AT on be cut from boards of which LEFT is over and from MORE whole ones of each length? */
static bool
can_cut (const timber *t, const int64_t *pieces, int count, int64_t *left, int boards, const int64_t *more)
{
  if (count == 0)
    return true;
  const int64_t piece = pieces[0];
  for (int b = 0; b < boards; b++)
    if (left[b] >= piece)
      {
        left[b] -= piece;
        const bool can = can_cut (t, pieces + 1, count - 1, left, boards, more);
        left[b] += piece;
        if (can)
          return true;
      }
  for (int c = 0; c < CELLS; c++)
    if (more[c] > 0 && t->boards[c] >= piece)
      {
        int64_t fewer[CELLS] = { more[0], more[1] };
        fewer[c]--;
        left[boards] = t->boards[c] - piece;
        if (can_cut (t, pieces + 1, count - 1, left, boards + 1, fewer))
          return true;
      }
  return false;
}

static int
brute_joins (const timber *t, const int64_t *boards)
{
  int best = NOT_AT_ALL;
  for (int joined = 0; joined < 1 << (BAYS - 1); joined++)
    {
      int64_t pieces[PIECES] = { t->bays[0] };
      int64_t left[PIECES];
      int count = 0;
      for (int b = 1; b < BAYS; b++)
        if (joined >> (b - 1) & 1)
          pieces[++count] = t->bays[b];
        else
          pieces[count] += t->bays[b];
      const int joins = count++;
      for (int e = 0; e < EXTRAS; e++)
        pieces[count++] = t->extras[e];
      if (joins < best && can_cut (t, pieces, count, left, 0, boards))
        best = joins;
    }
  return best;
}

static sw_job *
make_job (uint64_t *state, timber *t)
{
  sw_text spans = { 0 };
  sw_text extras = { 0 };
  sw_text stock = { 0 };
  sw_text settings = { 0 };
  sw_text_add (&spans, "run,span,start,finish\n");
  for (int b = 0; b < BAYS; b++)
    {
      t->bays[b] = chance (state, 90, 240) * 10;
      sw_text_printf (&spans, "a,%" PRId64 ",%s,%s\n", t->bays[b], b == 0 ? "centre" : "",
                      b == BAYS - 1 ? "centre" : "");
    }
  sw_text_add (&extras, "label,section,length,quantity\n");
  for (int e = 0; e < EXTRAS; e++)
    {
      t->extras[e] = chance (state, 60, 240) * 10;
      sw_text_printf (&extras, "x%d,rail,%" PRId64 ",1\n", e, t->extras[e]);
    }
  sw_text_add (&stock, "section,length,price,pack\n");
  for (int c = 0; c < CELLS; c++)
    {
      t->boards[c] = c == 0 ? chance (state, 25, 36) * 100 : chance (state, 37, 54) * 100;
      t->price[c] = chance (state, 3, 9) * t->boards[c] / 100;
      t->pack[c] = chance (state, 1, 4);
      sw_text_printf (&stock, "rail,%" PRId64 ".%" PRId64 ",%" PRId64 ",%" PRId64 "\n", t->boards[c] / 1000,
                      t->boards[c] % 1000 / 100, t->price[c], t->pack[c]);
    }
  t->join = one_in (state, 2) ? chance (state, 1, 60) : 0;
  sw_text_printf (&settings, "rails=1\nkerf=0\njoin-cost=%" PRId64, t->join);
  for (int64_t i = 0; i <= PIECES; i++)
    for (int64_t j = 0; j <= PIECES; j++)
      t->joins[i][j] = brute_joins (t, (int64_t[]){ i, j });
  const fixture_texts texts
      = { .spans = spans.data, .extras = extras.data, .stock = stock.data, .settings = settings.data };
  sw_job *job = fixture_job (&texts);
  sw_text_drop (&spans);
  sw_text_drop (&extras);
  sw_text_drop (&stock);
  sw_text_drop (&settings);
  return job;
}

/* ---- Cuts and bounds ------------------------------------------------------------------------ */

typedef struct learner
{
  sw_cuts cuts;
  const sw_offer_lines *lines;
} learner;

static sw_status
learn (const sw_model *model, const sw_solved *solved, void *data)
{
  learner *l = data;
  return sw_cuts_learn (&l->cuts, l->lines, model, solved);
}

static void
make_lines (uint64_t *state, sw_buying *buying, sw_offer_lines *lines, int64_t *numbers)
{
  for (int c = 0; c < CELLS; c++)
    {
      numbers[c] = one_in (state, 2) ? 0 : chance (state, 0, 2);
      numbers[CELLS + c] = one_in (state, 2) ? PIECES : numbers[c] + chance (state, 0, 3);
    }
  const sw_offer_node node = { .least = numbers, .most = numbers + CELLS };
  ck_assert_int_eq (sw_offer_lines_make (lines, buying, &node), SW_OK);
}

/* No cut leaves out numbers that will do.  Returns how many of the others are left out by some cut. */
static int
ck_cuts (const timber *t, const sw_cuts *cuts)
{
  int out = 0;
  for (int64_t i = 0; i <= PIECES; i++)
    for (int64_t j = 0; j <= PIECES; j++)
      {
        bool cut_off = false;
        for (size_t k = 0; k < cuts->count; k++)
          {
            const sw_purchase_cut *cut = &cuts->items[k];
            if ((cut->worth[0] == SW_CUT_NOT_KNOWN && i > 0) || (cut->worth[1] == SW_CUT_NOT_KNOWN && j > 0))
              continue;
            const int64_t left = cut->least - (i > 0 ? i * cut->worth[0] : 0) - (j > 0 ? j * cut->worth[1] : 0);
            if (t->joins[i][j] < NOT_AT_ALL)
              ck_assert_int_le (left, t->joins[i][j] * t->join * SW_MONEY_UNIT * SW_CUT_SCALE);
            else
              cut_off = cut_off || left > (BAYS - 1) * t->join * SW_MONEY_UNIT * SW_CUT_SCALE;
          }
        out += cut_off ? 1 : 0;
      }
  return out;
}

/* The least cost within NUMBERS; INT64_MAX: nothing will do. */
static int64_t
brute_cost (const timber *t, const int64_t *numbers)
{
  int64_t best = INT64_MAX;
  for (int64_t i = numbers[0]; i <= numbers[CELLS] && i <= PIECES; i++)
    for (int64_t j = numbers[1]; j <= numbers[CELLS + 1] && j <= PIECES; j++)
      if (t->joins[i][j] < NOT_AT_ALL)
        {
          const int64_t cost = (i + t->pack[0] - 1) / t->pack[0] * t->pack[0] * t->price[0]
                               + (j + t->pack[1] - 1) / t->pack[1] * t->pack[1] * t->price[1]
                               + t->joins[i][j] * t->join;
          best = cost * SW_MONEY_UNIT < best ? cost * SW_MONEY_UNIT : best;
        }
  return best;
}

START_TEST (all_orders)
{
  uint64_t state = 88172645463325252ULL + (unsigned)_i;
  int cut_off = 0, met = 0;
  const int rounds = suite_rounds (40);
  for (int round = 0; round < rounds; round++)
    {
      timber t;
      sw_buying buying;
      learner l = { .cuts = { .count = 0 } };
      sw_job *job = make_job (&state, &t);
      ck_assert_int_eq (sw_buying_begin (&buying, job), SW_OK);
      ck_assert_uint_eq (buying.cell_count, CELLS);
      const bool entered = sw_master_enter ();
      for (int node = 0; node < 6; node++)
        {
          sw_offer_lines lines;
          sw_plan *plan = NULL;
          int64_t numbers[2 * CELLS];
          int64_t bound;
          double count[CELLS];
          bool bounded;
          make_lines (&state, &buying, &lines, numbers);
          ck_assert_int_eq (sw_offer_lines_job (&lines), SW_OK);
          l.lines = &lines;
          sw_once once = { .brief = node % 2 == 0, .cost_only = true, .learn = learn, .learner = &l };
          const sw_status status = sw_plan_once (&plan, &lines.job, NULL, &once, NULL);
          ck_assert (status == SW_OK || status == SW_NO_PLAN);
          sw_plan_free (plan);
          sw_watch watch;
          sw_watch_begin (&watch, -1, NULL);
          ck_assert_int_eq (sw_cuts_bound (&l.cuts, &lines, 500 * SW_MONEY_UNIT, &watch, &bounded, &bound, count),
                            SW_OK);
          const int64_t best = brute_cost (&t, numbers);
          if (bounded)
            ck_assert_msg (bound <= best, "job %d.%d: the bound is %" PRId64 ", an order costs %" PRId64, _i, round,
                           bound, best);
          met += bounded && best < INT64_MAX && bound > best * 9 / 10 ? 1 : 0;
          sw_offer_lines_clear (&lines);
        }
      cut_off += ck_cuts (&t, &l.cuts);
      sw_cuts_clear (&l.cuts);
      sw_master_leave (entered);
      sw_buying_clear (&buying);
      sw_job_free (job);
    }
  /* Cuts that leave nothing out and bounds far off would pass the rest. */
  ck_assert_int_gt (cut_off, 4 * rounds);
  ck_assert_int_gt (met, rounds);
}
END_TEST

/* ---- What is told on the way ------------------------------------------------------------------ */

typedef struct heard
{
  double optimum, bound;
  int count;
} heard;

static bool
hear (const sw_progress *now, void *data)
{
  heard *h = data;
  ck_assert_msg (now->bound <= h->optimum * (1 + 1e-9), "a bound of %f was told, an order costs %f", now->bound,
                 h->optimum);
  ck_assert_msg (now->bound >= h->bound, "the bound fell from %f to %f", h->bound, now->bound);
  h->bound = now->bound;
  h->count++;
  return true;
}

/* No bound that is told, whatever is being looked at, is over the cheapest order, and none falls. */
START_TEST (bounds_that_are_told)
{
  uint64_t state = 77001;
  int count = 0;
  const int rounds = suite_rounds (60);
  for (int round = 0; round < rounds; round++)
    {
      timber t;
      sw_job *job = make_job (&state, &t);
      sw_plan *plan;
      const int64_t least = brute_cost (&t, (int64_t[]){ 0, 0, PIECES, PIECES });
      heard h = { .optimum = (double)least / SW_MONEY_UNIT };
      const sw_limits limits = { .progress = hear, .data = &h };
      const sw_status status = sw_plan_make (&plan, job, &limits, NULL);
      ck_assert_int_eq (status, least == INT64_MAX ? SW_NO_PLAN : SW_OK);
      if (status == SW_OK)
        {
          sw_summary sum;
          sw_plan_summary (plan, &sum);
          ck_assert_int_eq (sum.cost, least);
          sw_plan_free (plan);
        }
      count += h.count;
      sw_job_free (job);
    }
  ck_assert_int_gt (count, rounds);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("purchase_cuts");
  TCase *tcase = tcase_create ("cuts");
  tcase_set_timeout (tcase, 120);
  tcase_add_loop_test (tcase, all_orders, 0, 4);
  tcase_add_test (tcase, bounds_that_are_told);
  suite_add_tcase (suite, tcase);
  return suite_run (suite);
}
