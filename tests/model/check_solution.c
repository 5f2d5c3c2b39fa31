/* check_solution.c - a solution is taken only when it keeps every rule
 *
 * A sound solution is put together by hand; then each rule is broken, one at
 * a time, and the solution must be refused.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "layout_job.h"
#include "lp/master.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

enum
{
  LEVELS = 4,
  BAYS = 4
};

static sw_job *job;
static sw_layout *layout;
static sw_model *models, *model;
static size_t count;
static sw_patterns pool;
static sw_solution solution;

/* Four rails of four bays of 2000; one or two bays a piece out of 4.8 (up to
 * forty of them), up to four out of 9.0; two extras of 700 of the same section, one of another. */
static void
setup (void)
{
  static const char *const names[LEVELS] = { "1", "2", "3", "4" };
  job = job_make ();
  job->priced = true;
  job->settings->join_cost = 3 * SW_MONEY_UNIT;
  for (int l = 0; l < LEVELS; l++)
    job_level (job, names[l], "rail", true);
  sw_stock *stock = job_stock (job, "rail", 4800 * SW_MM);
  stock->price = 20 * SW_MONEY_UNIT;
  stock->limit = 40;
  stock->hand = 1;
  job_stock (job, "rail", 9000 * SW_MM)->price = 41 * SW_MONEY_UNIT;
  job_level (job, "cap", "cap", true);
  job_stock (job, "cap", 9000 * SW_MM)->price = 5 * SW_MONEY_UNIT;
  job_extra (job, "x", "rail", 700 * SW_MM)->quantity = 2;
  job_even_run (job, "road", BAYS, 2000 * SW_MM, 100 * SW_MM);
  ck_assert_int_eq (sw_layout_new (&layout, job, NULL), SW_OK);
  ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
  ck_assert_uint_eq (count, 1);
  model = &models[0];
  ck_assert_int_eq (model->granule, SW_MONEY_UNIT);
  pool = (sw_patterns){ 0 };
  ck_assert_int_eq (sw_solution_init (&solution, model), SW_OK);
}

static void
teardown (void)
{
  sw_solution_clear (&solution);
  sw_patterns_clear (&pool);
  sw_models_free (models, count);
  sw_layout_free (layout);
  job_drop (job);
}

/* Row ROW has a piece from post FROM to TO, or not. */
static void
use (uint32_t row, uint32_t from, uint32_t to, bool used)
{
  const sw_strip_level *r = &model->strips[0].levels[row];
  ck_assert_uint_le (to - from, r->reach);
  int32_t option = r->at[to * r->reach + to - from - 1];
  ck_assert_int_ge (option, 0);
  solution.used[option] = used;
}

/* A row in pieces that end at the posts of ENDS, the last of which is 4. */
static void
use_row (uint32_t row, const char *ends)
{
  const sw_strip_level *r = &model->strips[0].levels[row];
  memset (&solution.used[r->option_first], 0, r->option_count);
  uint32_t from = 0;
  for (; *ends != '\0'; ends++)
    {
      use (row, from, (uint32_t)(*ends - '0'), true);
      from = (uint32_t)(*ends - '0');
    }
}

static uint32_t
stock_of (size_t stock, bool hand)
{
  for (size_t s = 0; s < model->stock_count; s++)
    if (model->stocks[s].of_job == stock && model->stocks[s].hand == hand)
      return (uint32_t)s;
  ck_abort_msg ("no such stock");
  return 0;
}

static size_t
pattern (uint32_t stock, size_t need, uint32_t copies)
{
  sw_entry entry = { .need = (uint32_t)need, .copies = copies };
  size_t index;
  ck_assert_int_eq (sw_patterns_add (&pool, stock, &entry, 1, &index, NULL), SW_OK);
  return index;
}

/* The longest board that is bought of NEED's section. */
static uint32_t
long_stock (size_t need)
{
  return stock_of (model->sections[model->needs[need].section].of_job == 0 ? 1 : 2, false);
}

/* Every piece on a long board of its own. */
static void
cover (void)
{
  solution.count = 0;
  for (size_t o = 0; o < model->option_count; o++)
    if (solution.used[o])
      {
        size_t need = model->options[o].need;
        ck_assert_int_eq (sw_solution_add (&solution, pattern (long_stock (need), need, 1), 1), SW_OK);
      }
  for (size_t n = 0; n < model->need_count; n++)
    if (model->needs[n].demand > 0)
      ck_assert_int_eq (sw_solution_add (&solution, pattern (long_stock (n), n, 1), model->needs[n].demand), SW_OK);
}

/* Joins 2 / 1 3 / 2 / 1 3, the fifth row one piece: nothing lines up. */
static void
make_sound (void)
{
  use_row (0, "24");
  use_row (1, "134");
  use_row (2, "24");
  use_row (3, "134");
  use_row (4, "4");
  cover ();
}

static bool
holds (void)
{
  bool sound = sw_solution_check (&solution, model, &pool);
  ck_assert_int_eq (solution.valid, sound);
  return sound;
}

static size_t
need_of_cut (int64_t mm)
{
  for (size_t n = 0; n < model->need_count; n++)
    if (layout->items[model->needs[n].item].take == mm * SW_MM)
      return n;
  ck_abort_msg ("no such length");
  return 0;
}

START_TEST (sound_solution_is_taken_and_valued)
{
  make_sound ();
  ck_assert (holds ());
  /* 2 + 3 + 2 + 3 rails and 2 extras on boards at 41, a cap at 5, 1 + 2 + 1 + 2 joins at 3. */
  ck_assert_int_eq (solution.value[SW_AIM_COST], 12 * 41 + 5 + 6 * 3);
  ck_assert_int_eq (solution.value[SW_AIM_JOINS], 6);
  ck_assert_int_eq (solution.value[SW_AIM_BOARDS], 13);
  /* The hand board costs nothing. */
  solution.boards[solution.count - 1].copies--;
  ck_assert_int_eq (sw_solution_add (&solution, pattern (stock_of (0, true), need_of_cut (700), 1), 1), SW_OK);
  ck_assert (holds ());
  ck_assert_int_eq (solution.value[SW_AIM_COST], 11 * 41 + 5 + 6 * 3);
  ck_assert_int_eq (solution.value[SW_AIM_BOARDS], 13);
}
END_TEST

/* ---- Pieces end to end ---- */

START_TEST (rows_have_no_gap_and_no_overlap)
{
  /* a row without its last piece, its first, one between, all, one too many, one twice over */
  for (int what = 0; what < 6; what++)
    {
      make_sound ();
      if (what == 0)
        use (0, 2, 4, false);
      else if (what == 1)
        use (0, 0, 2, false);
      else if (what == 2)
        use (1, 1, 3, false);
      else if (what == 3)
        use (4, 0, 4, false);
      else if (what == 4)
        use (0, 1, 2, true);
      else
        use (0, 0, 1, true), use (0, 1, 2, true);
      cover ();
      ck_assert_msg (!holds (), "%d", what);
    }
  make_sound ();
  ck_assert (holds ());
}
END_TEST

/* ---- Joins that line up ---- */

START_TEST (aligned_pairs_are_capped)
{
  make_sound ();
  use_row (0, "34");
  use_row (1, "134");
  cover ();
  ck_assert (!holds ());
  model->aligned_cap = 1;
  ck_assert (holds ());
  model->aligned_cap = 0;
  model->strips[0].aligned_floor = 1;
  ck_assert (holds ());
  /* Two pairs are too many. */
  use_row (0, "134");
  cover ();
  ck_assert (!holds ());
  model->aligned_cap = 1;
  ck_assert (holds ());
}
END_TEST

START_TEST (aligned_pairs_do_not_count_where_joins_are_forced)
{
  make_sound ();
  use_row (0, "34");
  cover ();
  for (size_t p = 0; p <= BAYS; p++)
    model->strips[0].counted[p] = 1;
  ck_assert (!holds ());
  model->strips[0].counted[3] = 0;
  ck_assert (holds ());
}
END_TEST

START_TEST (aligned_pairs_do_not_count_without_stagger)
{
  make_sound ();
  use_row (0, "34");
  cover ();
  model->stagger = false;
  ck_assert (holds ());
}
END_TEST

/* ---- Long and short in turn ---- */

START_TEST (first_pieces_go_long_and_short)
{
  static const struct
  {
    const char *rows[LEVELS];
    bool sound;
  } cases[] = {
    { { "24", "34", "24", "34" }, true },  /* 2 3 2 3 */
    { { "34", "24", "34", "24" }, true },  /* 3 2 3 2 */
    { { "14", "24", "34", "24" }, false }, /* 1 2 3 2 */
    { { "34", "24", "14", "34" }, false }, /* 3 2 1 3 */
    { { "24", "34", "24", "14" }, false }, /* 2 3 2 1 */
    { { "24", "4", "24", "14" }, true },   /* the second row is one piece: only 2 1 is left */
    { { "14", "24", "4", "34" }, true },   /* only 1 2 is left */
    { { "14", "24", "34", "4" }, false },  /* 1 2 3 is left */
    { { "4", "14", "24", "34" }, false },  /* 1 2 3 is left */
    { { "4", "14", "4", "24" }, true },    /* all free */
    { { "14", "34", "34", "34" }, true },  /* equal ones go both ways: 1 <= 3 >= 3 <= 3 */
    { { "14", "34", "34", "14" }, false }, /* but rows keep their turn: 3 <= 1 does not hold */
    { { "14", "14", "24", "24" }, true },  /* 1 >= 1 <= 2 >= 2 */
    { { "14", "14", "24", "34" }, false }, /* rises twice */
  };
  model->aligned_cap = 20;
  for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
    {
      for (uint32_t r = 0; r < LEVELS; r++)
        use_row (r, cases[i].rows[r]);
      use_row (4, "4");
      cover ();
      ck_assert_msg (holds () == cases[i].sound, "case %zu", i);
      model->turn = false;
      ck_assert (holds ());
      model->turn = true;
    }
}
END_TEST

/* ---- Boards ---- */

START_TEST (every_piece_is_covered)
{
  for (size_t i = 0;; i++)
    {
      make_sound ();
      if (i >= solution.count)
        break;
      solution.boards[i].copies--;
      ck_assert_msg (!holds (), "board %zu", i);
      /* More than is needed does no harm. */
      solution.boards[i].copies += 2;
      ck_assert_msg (holds (), "board %zu", i);
    }
}
END_TEST

START_TEST (boards_are_long_enough)
{
  make_sound ();
  size_t extra = need_of_cut (700);
  /* 6 x 700 = 4200 come out of 4.8 m, 7 do not (no kerf). */
  solution.boards[solution.count - 1].copies = 0;
  ck_assert (!holds ());
  ck_assert_int_eq (sw_solution_add (&solution, pattern (stock_of (0, false), extra, 6), 1), SW_OK);
  ck_assert (holds ());
  solution.count--;
  ck_assert_int_eq (sw_solution_add (&solution, pattern (stock_of (0, false), extra, 7), 1), SW_OK);
  ck_assert (!holds ());
}
END_TEST

START_TEST (boards_are_to_be_had)
{
  make_sound ();
  size_t extra = need_of_cut (700);
  size_t yard = pattern (stock_of (0, false), extra, 1), hand = pattern (stock_of (0, true), extra, 1);
  ck_assert_int_eq (sw_solution_add (&solution, yard, 40), SW_OK);
  ck_assert (holds ());
  ck_assert_int_eq (sw_solution_add (&solution, yard, 1), SW_OK);
  ck_assert (!holds ());
  solution.boards[solution.count - 1].copies = 40;
  ck_assert (holds ());
  /* Two patterns of one stock share its limit. */
  ck_assert_int_eq (sw_solution_add (&solution, pattern (stock_of (0, false), extra, 2), 1), SW_OK);
  ck_assert (!holds ());
  solution.count--;
  ck_assert_int_eq (sw_solution_add (&solution, hand, 1), SW_OK);
  ck_assert (holds ());
  ck_assert_int_eq (sw_solution_add (&solution, hand, 1), SW_OK);
  ck_assert (!holds ());
}
END_TEST

START_TEST (boards_are_of_the_section)
{
  make_sound ();
  /* A rail out of a capping board is no rail. */
  ck_assert_int_eq (sw_solution_add (&solution, pattern (stock_of (2, false), need_of_cut (700), 1), 1), SW_OK);
  ck_assert (!holds ());
}
END_TEST

START_TEST (copies_are_not_negative)
{
  make_sound ();
  ck_assert_int_eq (sw_solution_add (&solution, pattern (stock_of (1, false), need_of_cut (700), 2), 1), SW_OK);
  ck_assert (holds ());
  ck_assert_int_eq (sw_solution_add (&solution, pattern (stock_of (1, false), need_of_cut (700), 1), -2), SW_OK);
  size_t last = solution.count - 1;
  ck_assert_int_eq (solution.boards[last - 1].copies, 0);
  solution.boards[last - 1].copies = -1;
  solution.boards[last].copies = 3;
  ck_assert (!holds ());
}
END_TEST

/* ---- Keeping ---- */

START_TEST (copies_are_their_own)
{
  sw_solution copy;
  make_sound ();
  ck_assert (holds ());
  ck_assert_int_eq (sw_solution_init (&copy, model), SW_OK);
  ck_assert (!copy.valid);
  ck_assert_int_eq (sw_solution_copy (&copy, &solution, model), SW_OK);
  ck_assert (copy.valid);
  ck_assert_uint_eq (copy.count, solution.count);
  ck_assert_mem_eq (copy.boards, solution.boards, copy.count * sizeof *copy.boards);
  ck_assert_mem_eq (copy.used, solution.used, model->option_count);
  ck_assert_mem_eq (copy.value, solution.value, sizeof copy.value);
  solution.count = 0;
  ck_assert (!holds ());
  ck_assert (sw_solution_check (&copy, model, &pool));
  sw_solution_clear (&copy);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("choice");
  TCase *rules = tcase_create ("rules");
  tcase_add_checked_fixture (rules, setup, teardown);
  tcase_add_test (rules, sound_solution_is_taken_and_valued);
  tcase_add_test (rules, rows_have_no_gap_and_no_overlap);
  tcase_add_test (rules, aligned_pairs_are_capped);
  tcase_add_test (rules, aligned_pairs_do_not_count_where_joins_are_forced);
  tcase_add_test (rules, aligned_pairs_do_not_count_without_stagger);
  tcase_add_test (rules, first_pieces_go_long_and_short);
  tcase_add_test (rules, every_piece_is_covered);
  tcase_add_test (rules, boards_are_long_enough);
  tcase_add_test (rules, boards_are_to_be_had);
  tcase_add_test (rules, boards_are_of_the_section);
  tcase_add_test (rules, copies_are_not_negative);
  tcase_add_test (rules, copies_are_their_own);
  suite_add_tcase (suite, rules);
  return suite_run (suite);
}
