/* check_solve.c - the solver against published optima and against all solutions there are
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "brute.h"
#include "chance.h"
#include "model_job.h"
#include "solve/solve.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

static sw_watch clock_now;

static void
setup (void)
{
  model_setup ();
  sw_watch_begin (&clock_now, -1, NULL);
}

/* ---- Published examples ------------------------------------------------------------ */

/* Lengths in tenths of a millimetre.  A price of 0: what counts is the length bought. */
typedef struct example
{
  const char *source;
  int64_t optimum; /* granules: boards where there is one length, else money or lengths */
  struct
  {
    int64_t length, price, limit;
  } stock[3];
  struct
  {
    int64_t length, quantity;
  } pieces[16];
} example;

/* Optima: each found again by full enumeration in another solver (HiGHS through scipy 1.10). */
static const example examples[] = {
  { "V. Chvatal, Linear Programming, Freeman 1983, chapter 13 (linear optimum 452.25)",
    453,
    { { 1000, 0, -1 } },
    { { 450, 97 }, { 360, 610 }, { 310, 395 }, { 140, 211 } } },
  { "Cutting stock problem, English Wikipedia (paper machine)",
    73,
    { { 56000, 0, -1 } },
    { { 13800, 22 },
      { 15200, 25 },
      { 15600, 12 },
      { 17100, 14 },
      { 18200, 18 },
      { 18800, 18 },
      { 19300, 20 },
      { 20000, 10 },
      { 20500, 12 },
      { 21000, 14 },
      { 21400, 16 },
      { 21500, 18 },
      { 22000, 20 } } },
  { "R. Fourer, D. M. Gay, B. W. Kernighan, AMPL, 2nd edition 2003, chapter 15, entry.dat (statement from memory; "
    "linear optimum 46.25)",
    47,
    { { 1100, 0, -1 } },
    { { 200, 48 }, { 450, 35 }, { 500, 24 }, { 550, 10 }, { 750, 8 } } },
  { "W. L. Winston, Operations Research, section on column generation (statement from memory; the data also in MIE 376 "
    "lecture notes, University of Toronto)",
    19,
    { { 170, 0, -1 } },
    { { 30, 25 }, { 50, 20 }, { 90, 15 } } },
  { "P. C. Gilmore, R. E. Gomory, Operations Research 9 (1961), example (statement from memory)",
    170,
    { { 50, 6, -1 }, { 60, 7, -1 }, { 90, 10, -1 } },
    { { 20, 20 }, { 30, 10 }, { 40, 20 } } },
  { "JuMP documentation, tutorial Column generation (its 334 is said to be perhaps not the least)",
    334,
    { { 1000, 0, -1 } },
    { { 750, 189 },
      { 538, 33 },
      { 530, 36 },
      { 510, 41 },
      { 502, 35 },
      { 322, 37 },
      { 308, 44 },
      { 298, 49 },
      { 201, 37 },
      { 162, 36 },
      { 145, 42 },
      { 110, 33 },
      { 86, 47 },
      { 82, 35 },
      { 66, 49 },
      { 51, 42 } } },
  { "M. Fieldhouse, The duality gap in trim problems, SICUP Bulletin 5, 1990 (reference from memory; more than the "
    "linear optimum of 4.97 rounded up)",
    6,
    { { 300, 0, -1 } },
    { { 150, 3 }, { 100, 5 }, { 60, 9 } } },
  { "T. Gau, G. Waescher (reference from memory; linear optimum 2.2)",
    3,
    { { 100000, 0, -1 } },
    { { 50000, 1 }, { 37500, 1 }, { 32500, 1 }, { 30010, 1 }, { 20000, 2 } } },
  /* Granules of 5: 60 used is 12 of them. */
  { "J. C. Kantor, CBE40455, notebook 05.07, Stock Cutting",
    12,
    { { 100, 0, 3 }, { 150, 0, 3 } },
    { { 70, 3 }, { 60, 2 }, { 40, 6 }, { 30, 1 } } },
};

#define TENTH (SW_MM / 10)

/* Solve the only model, the easy way or the hard way; what comes back is checked. */
static sw_solved
solve (sw_model *model, bool hard_way)
{
  sw_solved solved;
  ck_assert_int_eq (sw_solve_model (&solved, model, &clock_now, hard_way), SW_OK);
  ck_assert (!solved.solution.valid || !solved.impossible);
  if (!solved.solution.valid)
    return solved;
  int64_t value[SW_AIM_COUNT];
  memcpy (value, solved.solution.value, sizeof value);
  ck_assert (sw_solution_check (&solved.solution, model, &solved.pool));
  ck_assert_mem_eq (value, solved.solution.value, sizeof value);
  ck_assert_int_ge (solved.aligned, solved.aligned_bound);
  ck_assert_int_eq (solved.aligned, sw_solution_aligned (&solved.solution, model));
  for (int aim = 0; aim < SW_AIM_COUNT; aim++)
    {
      ck_assert_int_le (solved.bound[aim], value[aim]);
      ck_assert (!solved.proved[aim] || solved.bound[aim] == value[aim]);
    }
  return solved;
}

/* Even rounds the easy way, odd ones the hard way. */
START_TEST (published_examples)
{
  const example *e = &examples[_i / 2];
  for (int s = 0; s < 3 && e->stock[s].length > 0; s++)
    {
      sw_stock *stock = job_stock (job, "a", e->stock[s].length * TENTH);
      stock->price = e->stock[s].price * SW_MONEY_UNIT;
      stock->limit = e->stock[s].limit;
    }
  job->priced = e->stock[0].price > 0;
  for (int p = 0; p < 16 && e->pieces[p].length > 0; p++)
    job_extra (job, "x", "a", e->pieces[p].length * TENTH)->quantity = e->pieces[p].quantity;
  ck_assert_int_eq (sw_layout_new (&layout, job, NULL), SW_OK);
  ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
  ck_assert_uint_eq (count, 1);
  sw_solved solved = solve (&models[0], _i % 2 == 1);
  ck_assert_msg (solved.solution.valid, "%s", e->source);
  ck_assert_msg (solved.solution.value[SW_AIM_COST] == e->optimum, "%s: %lld", e->source,
                 (long long)solved.solution.value[SW_AIM_COST]);
  ck_assert_msg (solved.proved[SW_AIM_COST], "%s: bound %lld", e->source, (long long)solved.bound[SW_AIM_COST]);
  sw_solved_clear (&solved);
}
END_TEST

/* ---- Small fences against all solutions -------------------------------------------- */

static const char *const names[] = { "1", "2", "3", "4" };

/* One or two runs of one to four rails; hand stock, limits, extras, blocks, a second section, a gate. */
static void
make_fence (uint64_t *state)
{
  int64_t rows = chance (state, 1, 4), runs = rows < 3 && one_in (state, 4) ? 2 : 1;
  job->settings->kerf = chance (state, 0, 3) * SW_MM;
  job->settings->stagger = one_in (state, 5)   ? SW_STAGGER_OFF
                           : one_in (state, 4) ? SW_STAGGER_REQUIRE
                                               : SW_STAGGER_PREFER;
  /* Of timber: the model does not ask what it adds up. */
  job->settings->join_cost = one_in (state, 2) ? 0 : chance (state, 1, 9) * 100 * SW_MM;
  job->settings->end_trim = one_in (state, 4) ? 5 * SW_MM : 0;
  bool two_sections = one_in (state, 4), blocks = one_in (state, 6);
  for (int64_t l = 0; l < rows; l++)
    {
      sw_level *level = job_level (job, names[l], two_sections && l == 1 ? "b" : "a", true);
      level->blocks = blocks && l == 0 ? 1 : 0;
      level->block_length = 300 * SW_MM;
    }
  for (size_t s = 0; s < job->sections.count; s++)
    {
      static const int64_t lengths[] = { 2400, 3000, 3600, 4200, 4800, 5400, 6000 };
      int64_t fewest = chance (state, 2, 5);
      for (int i = 0; i < 7; i++)
        if (i == fewest || one_in (state, 3))
          {
            sw_stock *stock = job_stock (job, job->sections.items[s].name, lengths[i] * SW_MM);
            stock->limit = one_in (state, 4) ? chance (state, 0, 4) : -1;
            stock->hand = one_in (state, 5) ? chance (state, 1, 3) : 0;
          }
    }
  for (int64_t r = 0; r < runs; r++)
    {
      int64_t bays = chance (state, 1, rows > 2 ? 5 : 6), usual = chance (state, 10, 26) * 100;
      job_run (job, names[r], 100 * SW_MM);
      for (int64_t b = 0; b < bays; b++)
        {
          job_bay (job, (usual - (one_in (state, 4) ? 310 : 0)) * SW_MM, 100 * SW_MM)->opening
              = bays > 3 && one_in (state, 9);
          job_last_post (job)->join = one_in (state, 9)   ? SW_JOIN_ALWAYS
                                      : one_in (state, 9) ? SW_JOIN_NEVER
                                                          : SW_JOIN_MAY;
        }
      job_last_post (job)->join = SW_JOIN_MAY;
      job_close (job);
    }
  if (one_in (state, 3))
    job_extra (job, "x", "a", chance (state, 5, 20) * 100 * SW_MM)->quantity = chance (state, 1, 3);
}

static bool
lay_out (void)
{
  if (sw_layout_new (&layout, job, NULL) != SW_OK)
    return false;
  ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
  return true;
}

static void
expect_best (const sw_solved *solved, const brute *best, int round, bool hard_way)
{
  ck_assert_msg (solved->solution.valid == best->possible, "round %d", round);
  ck_assert_msg (solved->impossible == !best->possible, "round %d", round);
  if (!best->possible)
    return;
  const int64_t *value = solved->solution.value;
  ck_assert_msg (solved->aligned == best->aligned && value[SW_AIM_COST] == best->cost
                     && value[SW_AIM_JOINS] == best->joins && value[SW_AIM_BOARDS] == best->boards,
                 "round %d, hard way %d: %lld %lld %lld %lld, not %lld %lld %lld %lld", round, hard_way,
                 (long long)solved->aligned, (long long)value[SW_AIM_COST], (long long)value[SW_AIM_JOINS],
                 (long long)value[SW_AIM_BOARDS], (long long)best->aligned, (long long)best->cost,
                 (long long)best->joins, (long long)best->boards);
  ck_assert_int_eq (solved->aligned_bound, best->aligned);
  for (int aim = 0; aim < SW_AIM_COUNT; aim++)
    ck_assert_msg (solved->proved[aim], "round %d, aim %d", round, aim);
}

/* The stagger rule as brute.c counts it: required, no pair may line up. */
static int64_t
most_aligned (void)
{
  return job->settings->stagger == SW_STAGGER_REQUIRE ? 0 : -1;
}

/* Streams of random fences, each another seventy.  In 0, 3 and 12 are fences whose
 * linear optimum is far below the best plan (few boards, some on hand); in 5, 8
 * and 9 such that limits make more joins line up than the layout alone would. */
static const uint64_t streams[] = { 0, 2, 3, 5, 8, 9, 11, 12 };

START_TEST (random_fences_are_planned_best)
{
  uint64_t state = 20260000 + streams[_i];
  int solved = 0;
  for (int round = 0; round < 70; round++)
    {
      make_fence (&state);
      job->settings->turn = round % 4 == 3 ? SW_TURN_OFF : SW_TURN_KEEP;
      bool laid_out = lay_out ();
      for (size_t m = 0; laid_out && m < count; m++)
        {
          brute best;
          if (!brute_solve (&models[m], most_aligned (), &best))
            continue;
          for (int hard_way = 0; hard_way < 2; hard_way++)
            {
              sw_solved one = solve (&models[m], hard_way);
              expect_best (&one, &best, round, hard_way);
              sw_solved_clear (&one);
            }
          solved += best.possible;
        }
      model_teardown ();
      setup ();
    }
  ck_assert_int_gt (solved, 40);
}
END_TEST

/* Streams of 0 to 13 that do not take GLPK long: 0, 4, 6, 11 and 13 need two thirds of the time of all. */
static const int fine_streams[] = { 1, 2, 3, 5, 7, 8, 9, 10, 12 };

/* Prices so fine that a board costs millions of granules are more than a programme in floating point tells apart: what
 * is claimed to be proved must hold all the same.  Against all solutions. */
START_TEST (fine_prices_claim_nothing_false)
{
  static const int64_t parts[] = { 1000, 100 };
  uint64_t state = 20260000 + (uint64_t)fine_streams[_i];
  int solved = 0;
  for (int round = 0; round < 70; round++)
    {
      make_fence (&state);
      job->priced = true;
      job->settings->join_cost = 0;
      for (size_t s = 0; s < job->stocks.count; s++)
        job->stocks.items[s].price = job->stocks.items[s].length / parts[fine_streams[_i] % 2] + chance (&state, 0, 3);
      bool laid_out = lay_out ();
      for (size_t m = 0; laid_out && m < count; m++)
        {
          brute best;
          if (!brute_solve (&models[m], most_aligned (), &best))
            continue;
          /* GLPK may give up on such numbers: an error claims nothing. */
          sw_solved one;
          sw_status status = sw_solve_model (&one, &models[m], &clock_now, false);
          ck_assert (status == SW_OK || status == SW_FAILED);
          if (status != SW_OK)
            {
              sw_solved_clear (&one);
              continue;
            }
          ck_assert_msg (!one.impossible || !best.possible, "stream %d, round %d", _i, round);
          const int64_t least[SW_AIM_COUNT] = { best.cost, best.joins, best.boards };
          for (int a = 0; one.solution.valid && a < SW_AIM_COUNT; a++)
            if (one.proved[a])
              ck_assert_msg (one.solution.value[a] == least[a], "stream %d, round %d, aim %d", _i, round, a);
          if (one.solution.valid)
            ck_assert (sw_solution_check (&one.solution, &models[m], &one.pool));
          if (one.solution.valid)
            ck_assert_msg (one.bound[SW_AIM_COST] <= best.cost, "stream %d, round %d", _i, round);
          solved += one.solution.valid;
          sw_solved_clear (&one);
        }
      model_teardown ();
      setup ();
    }
  ck_assert_int_gt (solved, 40);
}
END_TEST

/* Two pieces of 3 m and two of 2 m, out of so many boards of 5 m and 4 m. */
START_TEST (what_cannot_be_done_is_proved)
{
  static const int64_t limits[][2] = { { 1, 2 }, { 0, 2 }, { 2, 0 }, { 0, 3 }, { 1, 0 } };
  static const bool possible[] = { true, false, true, true, false };
  for (size_t i = 0; i < 5; i++)
    for (int hard_way = 0; hard_way < 2; hard_way++)
      {
        job_extra (job, "x", "a", 3000 * SW_MM)->quantity = 2;
        job_extra (job, "y", "a", 2000 * SW_MM)->quantity = 2;
        job_stock (job, "a", 4000 * SW_MM)->limit = limits[i][1];
        job_stock (job, "a", 5000 * SW_MM)->limit = limits[i][0];
        ck_assert (lay_out ());
        sw_solved solved = solve (&models[0], hard_way);
        ck_assert_msg (solved.solution.valid == possible[i], "case %zu", i);
        ck_assert_msg (solved.impossible == !possible[i], "case %zu", i);
        sw_solved_clear (&solved);
        model_teardown ();
        setup ();
      }
}
END_TEST

/* Fences too large to try all plans of: the hard way comes to the same values, and so does a second run. */
START_TEST (the_hard_way_comes_to_the_same)
{
  uint64_t state = 555 + (uint64_t)_i;
  for (int round = 0; round < 25; round++)
    {
      int64_t rows = chance (&state, 1, 3), bays = chance (&state, 5, 9);
      job->settings->kerf = 3 * SW_MM;
      for (int64_t l = 0; l < rows; l++)
        job_level (job, names[l], "a", true);
      job_stock (job, "a", 4800 * SW_MM);
      job_stock (job, "a", 5400 * SW_MM);
      if (one_in (&state, 2))
        job_stock (job, "a", 3600 * SW_MM);
      job_run (job, "road", 100 * SW_MM);
      int64_t usual = chance (&state, 1500, 2400);
      for (int64_t b = 0; b < bays; b++)
        job_bay (job, (usual + (one_in (&state, 2) ? 0 : chance (&state, -40, 40))) * SW_MM, 100 * SW_MM);
      job_close (job);
      ck_assert (lay_out ());
      sw_solved easy = solve (&models[0], false), hard = solve (&models[0], true), again = solve (&models[0], false);
      ck_assert (easy.solution.valid && hard.solution.valid && again.solution.valid);
      ck_assert_int_eq (easy.aligned, hard.aligned);
      for (int aim = 0; aim < SW_AIM_COUNT; aim++)
        {
          ck_assert_msg (easy.proved[aim] && hard.proved[aim], "round %d, aim %d", round, aim);
          ck_assert_msg (easy.solution.value[aim] == hard.solution.value[aim], "round %d, aim %d", round, aim);
        }
      ck_assert_mem_eq (easy.solution.used, again.solution.used, models[0].option_count);
      ck_assert_uint_eq (easy.solution.count, again.solution.count);
      ck_assert_mem_eq (easy.solution.boards, again.solution.boards, easy.solution.count * sizeof *easy.solution.boards);
      ck_assert_mem_eq (easy.bound, again.bound, sizeof easy.bound);
      sw_solved_clear (&easy);
      sw_solved_clear (&hard);
      sw_solved_clear (&again);
      model_teardown ();
      setup ();
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("solve");
  TCase *published = tcase_create ("published");
  tcase_add_checked_fixture (published, setup, model_teardown);
  tcase_set_timeout (published, 120);
  tcase_add_loop_test (published, published_examples, 0, 2 * sizeof examples / sizeof *examples);
  suite_add_tcase (suite, published);
  TCase *fences = tcase_create ("fences");
  tcase_add_checked_fixture (fences, setup, model_teardown);
  tcase_set_timeout (fences, 240);
  tcase_add_loop_test (fences, random_fences_are_planned_best, 0, suite_rounds (sizeof streams / sizeof *streams));
  tcase_add_loop_test (fences, fine_prices_claim_nothing_false, 0, suite_rounds (sizeof fine_streams / sizeof *fine_streams));
  tcase_add_test (fences, what_cannot_be_done_is_proved);
  tcase_add_loop_test (fences, the_hard_way_comes_to_the_same, 0, suite_rounds (4));
  suite_add_tcase (suite, fences);
  return suite_run (suite);
}
