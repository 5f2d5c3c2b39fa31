/* check_branch.c - branch and price against all boards and all solutions there are
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "price/pair_pricer.h"
#include "solve/steps.h"
#include "brute.h"
#include "chance.h"
#include "model_job.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

enum
{
  KINDS = 12
};

/* ---- Boards where some pairs exclude each other --------------------------------- */

typedef struct board
{
  sw_need kinds[KINDS];
  sw_model model;
  int64_t value[KINDS];
  uint8_t apart[KINDS * KINDS / 8 + 1];
  int64_t told; /* of the last board handed out */
  int tellings;
} board;

static void
set_apart (board *b, size_t i, size_t j)
{
  b->apart[(i * KINDS + j) / 8] |= (uint8_t)(1U << (i * KINDS + j) % 8);
  b->apart[(j * KINDS + i) / 8] |= (uint8_t)(1U << (j * KINDS + i) % 8);
}

static void
make_board (board *b, uint64_t *state, int64_t scale)
{
  memset (b, 0, sizeof *b);
  b->model = (sw_model){ .need_count = KINDS, .needs = b->kinds };
  for (size_t k = 0; k < KINDS; k++)
    {
      b->kinds[k] = (sw_need){ .size = chance (state, 3, 40) * scale + chance (state, 0, scale - 1) };
      b->value[k] = chance (state, 0, 50);
      b->kinds[k].demand = chance (state, 0, 3);
    }
  for (size_t i = 0; i < KINDS; i++)
    for (size_t j = i; j < KINDS; j++)
      if (one_in (state, 3))
        set_apart (b, i, j);
}

static int64_t room, waste;

/* The best of kinds from K on, TAKEN being on the board: every number of copies is tried.  -1: each leaves more than
 * the waste. */
static int64_t
best_from (const board *b, size_t k, int64_t left, int *taken)
{
  if (k == KINDS)
    return left <= waste ? 0 : -1;
  int64_t best = -1;
  for (int copies = 0; copies <= b->kinds[k].demand && copies * b->kinds[k].size <= left; copies++)
    {
      bool may = copies < 2 || !sw_apart (b->apart, KINDS, k, k);
      for (size_t j = 0; j < k && copies > 0; j++)
        may = may && (taken[j] == 0 || !sw_apart (b->apart, KINDS, j, k));
      if (!may)
        break;
      taken[k] = copies;
      const int64_t rest = best_from (b, k + 1, left - copies * b->kinds[k].size, taken);
      if (rest >= 0 && copies * b->value[k] + rest > best)
        best = copies * b->value[k] + rest;
    }
  taken[k] = 0;
  return best;
}

/* What is handed out is a board that may be. */
static bool
look_at (const sw_entry *entries, uint32_t count, int64_t value, void *data)
{
  board *b = data;
  int64_t size = 0, sum = 0;
  for (uint32_t c = 0; c < count; c++)
    {
      ck_assert (c == 0 || entries[c - 1].need < entries[c].need);
      ck_assert_int_le (entries[c].copies, b->kinds[entries[c].need].demand);
      ck_assert (entries[c].copies < 2 || !sw_apart (b->apart, KINDS, entries[c].need, entries[c].need));
      for (uint32_t d = 0; d < c; d++)
        ck_assert (!sw_apart (b->apart, KINDS, entries[c].need, entries[d].need));
      size += entries[c].copies * b->kinds[entries[c].need].size;
      sum += entries[c].copies * b->value[entries[c].need];
    }
  ck_assert_int_le (size, room);
  ck_assert_int_ge (size, room - waste);
  ck_assert_int_eq (sum, value);
  if (value > b->told)
    b->told = value;
  b->tellings++;
  return true;
}

/* Even streams: short boards, which have a table; in every other round they must be filled but for a little.  Odd ones:
 * so long that there is none. */
START_TEST (best_board_is_the_best_of_all)
{
  static board b;
  sw_pair_pricer *pricer = sw_pair_pricer_new (KINDS);
  uint64_t state = 4711 + (uint64_t)_i;
  int full = 0, vain = 0;
  ck_assert_ptr_nonnull (pricer);
  for (int round = 0; round < 150; round++)
    {
      int64_t scale = _i % 2 == 0 ? 1 : 1000000, best;
      int taken[KINDS] = { 0 };
      uint64_t steps = 1000000;
      make_board (&b, &state, scale);
      room = chance (&state, 10, 120) * scale;
      waste = scale == 1 && round % 2 == 1 ? chance (&state, 0, 2) : INT64_MAX;
      const int64_t expected = best_from (&b, 0, room, taken);
      full += expected > 20 && waste <= 2;
      vain += expected < 0;
      ck_assert_int_eq (sw_pair_pricer_load (pricer, &b.model, b.apart, b.value, 120 * scale, waste), SW_OK);
      ck_assert_int_eq (sw_pair_pricer_best (pricer, room, 20, 5, &steps, &best, look_at, &b), SW_OK);
      ck_assert_msg (best == (expected > 0 ? expected : 0), "stream %d, round %d: %lld, not %lld", _i, round,
                     (long long)best, (long long)expected);
      ck_assert_int_eq (b.told, expected > 20 ? expected : 0);
    }
  ck_assert (_i % 2 == 1 || (full > 20 && vain > 0));
  sw_pair_pricer_free (pricer);
}
END_TEST

START_TEST (steps_run_out)
{
  static board b;
  sw_pair_pricer *pricer = sw_pair_pricer_new (KINDS);
  uint64_t state = 99, steps = 0;
  int64_t best;
  ck_assert_ptr_nonnull (pricer);
  make_board (&b, &state, 1);
  room = 60;
  ck_assert_int_eq (sw_pair_pricer_load (pricer, &b.model, b.apart, b.value, room, INT64_MAX), SW_OK);
  ck_assert_int_eq (sw_pair_pricer_best (pricer, room, 1000, 5, &steps, &best, look_at, &b), SW_STOPPED);
  sw_pair_pricer_free (pricer);
}
END_TEST

/* ---- The tree ------------------------------------------------------------------------- */

/* One to three lengths of stock, some with a limit or on hand; about three pieces a board. */
static bool
make_cuts (uint64_t *state)
{
  int64_t lengths = chance (state, 1, 3), pieces = chance (state, 3, 6);
  job->settings->kerf = 0;
  for (int64_t s = 0; s < lengths; s++)
    {
      sw_stock *stock = job_stock (job, "a", (60 + 10 * s) * SW_MM);
      stock->limit = s > 0 && one_in (state, 3) ? chance (state, 1, 3) : -1;
      stock->hand = one_in (state, 8) ? 1 : 0;
    }
  for (int64_t p = 0; p < pieces; p++)
    job_extra (job, "x", "a", chance (state, 11, 34) * SW_MM)->quantity = chance (state, 1, 3);
  if (sw_layout_new (&layout, job, NULL) != SW_OK)
    return false;
  ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
  return count == 1;
}

/* As aim.c begins: a plan by simple means, a programme, its bound. */
static void
begin (sw_search *s, sw_programme *programme, sw_watch *watch)
{
  sw_lp outcome;
  bool done;
  sw_watch_begin (watch, -1, NULL);
  ck_assert_int_eq (sw_search_begin (s, &models[0], watch, true), SW_OK);
  ck_assert_int_eq (sw_first_plan (s), SW_OK);
  ck_assert_int_eq (sw_programme_init (programme, s), SW_OK);
  ck_assert_int_eq (sw_programme_begin (programme, SIZE_MAX), SW_OK);
  ck_assert_int_eq (sw_programme_columns (programme, SW_ALL_ROUNDS, true, SW_THOROUGH, &outcome, &done), SW_OK);
}

/* The bound is forgotten, so that the tree grows.  Every other round goes the hard way: solutions as good as the best
 * are looked for.  In the others they are better ones. */
START_TEST (tree_finds_and_proves_the_best)
{
  uint64_t state = 815 + (uint64_t)_i;
  int proved = 0, found = 0;
  for (int round = 0; round < 40; round++)
    {
      brute best;
      sw_search s;
      sw_programme programme;
      sw_watch watch;
      if (make_cuts (&state) && brute_solve (&models[0], -1, &best) && best.possible)
        {
          begin (&s, &programme, &watch);
          int64_t before = sw_search_best (&s);
          ck_assert (s.root.valid);
          ck_assert_int_le (s.bound, best.cost);
          s.bound = 0;
          s.hard_way = round % 2 == 0;
          ck_assert_int_eq (sw_branch (&programme, UINT64_MAX), SW_OK);
          if (s.best.valid && s.bound > 0)
            {
              ck_assert_msg (sw_search_best (&s) == best.cost && s.bound == best.cost,
                             "stream %d, round %d: %lld and bound %lld, not %lld", _i, round,
                             (long long)sw_search_best (&s), (long long)s.bound, (long long)best.cost);
              proved++;
              found += before > best.cost;
            }
          sw_programme_clear (&programme);
          sw_search_end (&s);
        }
      model_teardown ();
      model_setup ();
    }
  ck_assert_int_gt (proved, 20);
  ck_assert_int_gt (found, 0);
}
END_TEST

/* Boards are cut into pieces without waste, then pieces of two of them change their lengths by as much, so that there
 * may be a way without waste or none. */
static void
make_full (uint64_t *state, int boards)
{
  enum
  {
    PIECES = 3
  };
  int64_t length[8 * PIECES];
  job->settings->kerf = 0;
  job_stock (job, "a", 100 * SW_MM);
  for (int i = 0; i < boards; i++)
    {
      int64_t *piece = &length[i * PIECES];
      piece[0] = chance (state, 36, 55);
      piece[1] = chance (state, 15, 30);
      piece[2] = 100 - piece[0] - piece[1];
    }
  for (int i = 0; i < 3; i++)
    {
      const int64_t from = chance (state, 0, boards * PIECES - 1), to = chance (state, 0, boards * PIECES - 1);
      length[from]--;
      length[to]++;
    }
  for (int i = 0; i < boards * PIECES; i++)
    job_extra (job, "x", "a", length[i] * SW_MM);
  ck_assert_int_eq (sw_layout_new (&layout, job, NULL), SW_OK);
  ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
}

/* Nothing but the metres is known of the bound, which every board without waste, and no other, may reach. */
START_TEST (boards_without_waste_are_found_or_not)
{
  uint64_t state = 2308 + (uint64_t)_i;
  int with = 0, without = 0;
  for (int round = 0; round < 25; round++)
    {
      brute best;
      sw_search s;
      sw_programme programme;
      sw_watch watch;
      const int boards = (int)chance (&state, 4, 6);
      make_full (&state, boards);
      if (brute_solve (&models[0], -1, &best) && best.possible)
        {
          begin (&s, &programme, &watch);
          s.hard_way = false;
          s.bound = boards;
          ck_assert (sw_is_tight (&s));
          for (int i = 0; i < 2 && !sw_search_done (&s); i++)
            ck_assert_int_eq (sw_branch (&programme, UINT64_MAX), SW_OK);
          ck_assert_msg (sw_search_best (&s) == best.cost && s.bound == best.cost,
                         "stream %d, round %d: %lld and bound %lld, not %lld", _i, round,
                         (long long)sw_search_best (&s), (long long)s.bound, (long long)best.cost);
          with += best.cost == boards;
          without += best.cost > boards;
          sw_programme_clear (&programme);
          sw_search_end (&s);
        }
      model_teardown ();
      model_setup ();
    }
  ck_assert_int_gt (with, 3);
  ck_assert_int_gt (without, 3);
}
END_TEST

/* After Falkenauer's triplets (J. Heuristics 2, 1996): three pieces fill each of
 * fifteen boards without a rest.  The tree must find that where the first plan does not; in the last round of
 * sixty boards, where more new kinds come up than there are rows for at first. */
START_TEST (pieces_without_waste_are_found)
{
  uint64_t state = 1996;
  int missed = 0;
  for (int round = 0; round < 6; round++)
    {
      sw_search s;
      sw_programme programme;
      sw_watch watch;
      const int boards = round < 5 ? 15 : 60;
      job->settings->kerf = 0;
      job_stock (job, "a", 1000 * SW_MM);
      for (int i = 0; i < boards; i++)
        {
          int64_t longest = chance (&state, 380, 490), middle = chance (&state, 255, (1000 - longest) / 2);
          job_extra (job, "x", "a", longest * SW_MM);
          job_extra (job, "x", "a", middle * SW_MM);
          job_extra (job, "x", "a", (1000 - longest - middle) * SW_MM);
        }
      ck_assert_int_eq (sw_layout_new (&layout, job, NULL), SW_OK);
      ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
      begin (&s, &programme, &watch);
      s.hard_way = false;
      missed += sw_search_best (&s) > boards;
      ck_assert_int_eq (sw_branch (&programme, UINT64_MAX), SW_OK);
      ck_assert_int_eq (sw_search_best (&s), boards);
      ck_assert_int_eq (s.bound, boards);
      sw_programme_clear (&programme);
      sw_search_end (&s);
      model_teardown ();
      model_setup ();
    }
  ck_assert_int_gt (missed, 0);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("branch");
  TCase *boards = tcase_create ("boards");
  tcase_add_loop_test (boards, best_board_is_the_best_of_all, 0, 4);
  tcase_add_test (boards, steps_run_out);
  suite_add_tcase (suite, boards);
  TCase *tree = tcase_create ("tree");
  tcase_add_checked_fixture (tree, model_setup, model_teardown);
  tcase_set_timeout (tree, 120);
  tcase_add_loop_test (tree, tree_finds_and_proves_the_best, 0, 6);
  tcase_add_loop_test (tree, boards_without_waste_are_found_or_not, 0, 4);
  tcase_add_test (tree, pieces_without_waste_are_found);
  suite_add_tcase (suite, tree);
  return suite_run (suite);
}
