/* check_strip_wide.c - strips too wide for the exact method, against an exact method of another kind
 *
 * Only neighbouring levels look at each other.  The reference lists every path
 * of every level, and goes from level to level over the paths (a shortest path over
 * levels, where the library goes over posts): exact for any number of levels, as
 * long as the bays are few.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "chance.h"
#include "price/strip_parts.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

enum
{
  MOST_ROWS = 40,
  MOST_BAYS = 7,
  MOST_OPTIONS = MOST_ROWS * MOST_BAYS * (MOST_BAYS + 1) / 2,
  MOST_PATHS = 1 << (MOST_BAYS - 1)
};

typedef struct path
{
  uint32_t joins; /* bit of each inner post with a join */
  uint32_t first; /* bays of the first piece */
  sw_wide cost;
} path;

typedef struct fixture
{
  sw_model model;
  sw_strip strip;
  sw_strip_level levels[MOST_ROWS];
  sw_option options[MOST_OPTIONS];
  int32_t at[MOST_ROWS][(MOST_BAYS + 1) * MOST_BAYS];
  uint8_t counted[MOST_BAYS + 1];
  int64_t price[MOST_OPTIONS];
  path paths[MOST_ROWS][MOST_PATHS];
  size_t count[MOST_ROWS];
} fixture;

static sw_strip_work *work;
static fixture f;

static void
setup (void)
{
  work = sw_strip_work_new ();
  ck_assert_ptr_nonnull (work);
}

static void
teardown (void)
{
  sw_strip_work_free (work);
}

/* Pieces of up to REACH bays, each left out once in SPARSE times (0: never). */
static void
make (uint64_t *state, uint32_t levels, uint32_t bays, uint32_t reach, int64_t sparse)
{
  memset (&f, 0, sizeof f);
  memset (f.at, 0xff, sizeof f.at);
  for (uint32_t p = 0; p <= bays; p++)
    f.counted[p] = !one_in (state, 8);
  f.strip = (sw_strip){ .bays = bays, .level_count = levels, .levels = f.levels, .counted = f.counted };
  f.model = (sw_model){ .strip_count = 1, .strips = &f.strip, .options = f.options, .stagger = true, .turn = true };
  int64_t most = one_in (state, 2) ? 5 : 1000000;
  for (uint32_t r = 0; r < levels; r++)
    {
      sw_strip_level *level = &f.levels[r];
      *level = (sw_strip_level){ .option_first = f.model.option_count, .reach = reach, .at = f.at[r] };
      for (uint32_t from = 0; from < bays; from++)
        for (uint32_t to = from + 1; to <= bays && to <= from + reach; to++)
          {
            if (to > from + 1 && sparse > 0 && one_in (state, sparse))
              continue;
            level->at[to * reach + to - from - 1] = (int32_t)f.model.option_count;
            f.price[f.model.option_count] = chance (state, 0, most);
            f.options[f.model.option_count++] = (sw_option){ .level = r, .from = from, .to = to };
          }
      level->option_count = f.model.option_count - level->option_first;
    }
}

/* ---- The reference ---- */

static void
list_paths (uint32_t level, uint32_t post, path so_far)
{
  if (post == f.strip.bays)
    {
      f.paths[level][f.count[level]++] = so_far;
      return;
    }
  for (size_t o = f.levels[level].option_first; o < f.levels[level].option_first + f.levels[level].option_count; o++)
    if (f.options[o].from == post)
      {
        path longer = so_far;
        longer.cost += f.price[o];
        if (post == 0)
          longer.first = f.options[o].to;
        if (f.options[o].to < f.strip.bays)
          longer.joins |= (uint32_t)1 << f.options[o].to;
        list_paths (level, f.options[o].to, longer);
      }
}

static int64_t
pairs_of (const path *a, const path *b)
{
  int64_t pairs = 0;
  for (uint32_t p = 1; p < f.strip.bays; p++)
    pairs += f.counted[p] && (a->joins & b->joins) >> p & 1;
  return pairs;
}

/* May LOWER stand under UPPER, its first piece the longer one or the shorter one? */
static bool
in_turn (const path *lower, const path *upper, bool lower_longer)
{
  if (lower->joins == 0 || upper->joins == 0)
    return true;
  return lower_longer ? lower->first >= upper->first : lower->first <= upper->first;
}

/* Least sum over all layouts; with FIXED_ROW only those whose path there uses the piece FROM, TO. */
static sw_wide
exact (sw_wide weight, uint32_t fixed_level, uint32_t from, uint32_t to)
{
  sw_wide best = SW_STRIP_NONE;
  for (unsigned turn = 0; turn < 2; turn++)
    {
      sw_wide sum[2][MOST_PATHS];
      for (uint32_t r = 0; r < f.strip.level_count; r++)
        for (size_t i = 0; i < f.count[r]; i++)
          {
            const path *p = &f.paths[r][i];
            sw_wide least = r == 0 ? 0 : SW_STRIP_NONE;
            for (size_t j = 0; r > 0 && j < f.count[r - 1]; j++)
              {
                const path *below = &f.paths[r - 1][j];
                if (!in_turn (below, p, (r - 1 + turn) % 2 == 0))
                  continue;
                sw_wide with = sum[(r - 1) % 2][j] + pairs_of (below, p) * weight;
                least = with < least ? with : least;
              }
            uint32_t ends = p->joins | 1U | (uint32_t)1 << f.strip.bays;
            uint32_t inside = (((uint32_t)1 << to) - 1) & ~(((uint32_t)2 << from) - 1);
            if (r == fixed_level && (!(ends >> from & 1) || !(ends >> to & 1) || (ends & inside) != 0))
              least = SW_STRIP_NONE;
            sum[r % 2][i] = least < SW_STRIP_NONE ? least + p->cost : SW_STRIP_NONE;
          }
      for (size_t i = 0; i < f.count[f.strip.level_count - 1]; i++)
        if (sum[(f.strip.level_count - 1) % 2][i] < best)
          best = sum[(f.strip.level_count - 1) % 2][i];
    }
  return best;
}

/* ---- Checks ---- */

/* USED is a layout that keeps every rule; its sum. */
static sw_wide
sum_of_layout (const uint8_t *used, sw_wide weight)
{
  path level[MOST_ROWS];
  sw_wide sum = 0;
  for (uint32_t r = 0; r < f.strip.level_count; r++)
    {
      uint32_t post = 0;
      level[r] = (path){ 0 };
      for (size_t o = f.levels[r].option_first; o < f.levels[r].option_first + f.levels[r].option_count; o++)
        if (used[o])
          {
            ck_assert_uint_eq (f.options[o].from, post);
            level[r].first = post == 0 ? f.options[o].to : level[r].first;
            post = f.options[o].to;
            level[r].joins |= post < f.strip.bays ? (uint32_t)1 << post : 0;
            sum += f.price[o];
          }
      ck_assert_uint_eq (post, f.strip.bays);
    }
  bool may[2] = { true, true };
  for (uint32_t r = 0; r + 1 < f.strip.level_count; r++)
    {
      sum += pairs_of (&level[r], &level[r + 1]) * weight;
      for (unsigned turn = 0; turn < 2; turn++)
        may[turn] = may[turn] && in_turn (&level[r], &level[r + 1], (r + turn) % 2 == 0);
    }
  ck_assert (may[0] || may[1]);
  return sum;
}

static void
expect_bounds (sw_wide weight, bool every_option, sw_wide least)
{
  static sw_wide through[MOST_OPTIONS];
  sw_wide value, alone, levels = 0;
  int64_t aligned;
  ck_assert_int_eq (sw_strip_best (&f.model, &f.strip, f.price, weight, work, &value, &aligned, NULL, through), SW_OK);
  ck_assert (value <= least);
  /* No less than each level's own best. */
  for (uint32_t r = 0; r < f.strip.level_count; r++)
    {
      alone = SW_STRIP_NONE;
      for (size_t i = 0; i < f.count[r]; i++)
        alone = f.paths[r][i].cost < alone ? f.paths[r][i].cost : alone;
      levels += alone;
    }
  ck_assert (value >= levels);
  if (weight == SW_ALIGNED_FIRST)
    ck_assert_int_le (aligned, (int64_t)(least / SW_ALIGNED_FIRST));
  bool true_bounds = true, reached = false;
  for (size_t o = 0; o < f.model.option_count; o += every_option ? 5 : 53)
    {
      const sw_option *option = &f.options[o];
      true_bounds
          = true_bounds && through[o] >= value && through[o] <= exact (weight, option->level, option->from, option->to);
    }
  for (size_t o = 0; o < f.model.option_count; o++)
    reached = reached || through[o] == value;
  ck_assert (true_bounds && reached);
}

/* The fewest pairs lie between the two that are told, and there is a layout with the larger; true where they meet. */
static bool
expect_fewest (int64_t fewest)
{
  static int64_t nothing[MOST_OPTIONS];
  uint8_t used[MOST_OPTIONS] = { 0 };
  int64_t low, high;
  sw_status status = sw_strip_fewest (&f.model, &f.strip, nothing, work, &low, &high, used);
  if (status == SW_NO_PLAN)
    return false;
  ck_assert_int_eq (status, SW_OK);
  ck_assert_int_le (low, fewest);
  ck_assert_int_ge (high, fewest);
  ck_assert_int_eq ((int64_t)(sum_of_layout (used, SW_ALIGNED_FIRST) / SW_ALIGNED_FIRST), high);
  ck_assert_int_eq (sw_strip_pairs (&f.model, &f.strip, used), high);
  return low == high;
}

/* _i: weight of an aligned pair: before all, none, as much as a price. */
START_TEST (wide_strips_have_true_bounds_and_a_layout)
{
  static const sw_wide weights[] = { SW_ALIGNED_FIRST, 0, 3 };
  uint64_t state = 900 + (uint64_t)_i;
  int met = 0, fewest = 0, laid = 0, proved = 0;
  for (int round = 0; round < 30; round++)
    {
      uint32_t levels = round % 2 == 0 ? 12 : 40, bays = (uint32_t)chance (&state, 5, MOST_BAYS);
      make (&state, levels, bays, (uint32_t)chance (&state, 2, 3), round % 3 == 0 ? 0 : chance (&state, 3, 9));
      for (uint32_t r = 0; r < levels; r++)
        list_paths (r, 0, (path){ 0 });
      ck_assert (!sw_strip_is_exact (&f.model, &f.strip));
      sw_wide least = exact (weights[_i], UINT32_MAX, 0, 1);
      ck_assert (least < SW_STRIP_NONE);
      expect_bounds (weights[_i], round < 2, least);
      if (weights[_i] == SW_ALIGNED_FIRST)
        proved += expect_fewest ((int64_t)(least / SW_ALIGNED_FIRST));
      uint8_t used[MOST_OPTIONS] = { 0 };
      sw_status status = sw_strip_best (&f.model, &f.strip, f.price, weights[_i], work, NULL, NULL, used, NULL);
      ck_assert (status == SW_OK || status == SW_NO_PLAN);
      if (status != SW_OK)
        continue;
      laid++;
      sw_wide sum = sum_of_layout (used, weights[_i]);
      ck_assert (sum >= least);
      met += sum == least;
      fewest += sum / SW_ALIGNED_FIRST == least / SW_ALIGNED_FIRST;
    }
  /* Not always the best, but nearly. */
  ck_assert_int_ge (laid, 25);
  ck_assert_int_ge (fewest, 25);
  ck_assert_int_ge (met, 15);
  if (weights[_i] == SW_ALIGNED_FIRST)
    ck_assert_int_ge (proved, 15);
}
END_TEST

/* Narrow ones are solved exactly, whatever is asked for. */
START_TEST (narrow_strips_are_exact)
{
  uint64_t state = 77;
  for (int round = 0; round < 50; round++)
    {
      uint8_t used[MOST_OPTIONS] = { 0 };
      sw_wide value, same;
      make (&state, (uint32_t)chance (&state, 1, 5), (uint32_t)chance (&state, 1, MOST_BAYS), 3, 5);
      for (uint32_t r = 0; r < f.strip.level_count; r++)
        list_paths (r, 0, (path){ 0 });
      sw_wide least = exact (SW_ALIGNED_FIRST, UINT32_MAX, 0, 1);
      sw_status status = sw_strip_best (&f.model, &f.strip, f.price, SW_ALIGNED_FIRST, work, &value, NULL, NULL, NULL);
      ck_assert_int_eq (status, SW_OK);
      ck_assert (value == least);
      ck_assert_int_eq (sw_strip_best (&f.model, &f.strip, f.price, SW_ALIGNED_FIRST, work, &same, NULL, NULL, NULL),
                        SW_OK);
      ck_assert (same == least);
      ck_assert_int_eq (sw_strip_best (&f.model, &f.strip, f.price, SW_ALIGNED_FIRST, work, NULL, NULL, used, NULL),
                        SW_OK);
      ck_assert (sum_of_layout (used, SW_ALIGNED_FIRST) == least);
    }
}
END_TEST

/* A level whose pieces reach further than states can be kept for: a sweep over it is a path over its posts. */
START_TEST (a_long_level_of_long_reach_has_a_bound)
{
  enum
  {
    BAYS = 3000
  };
  int32_t *at = malloc ((size_t)(BAYS + 1) * BAYS * sizeof *at);
  ck_assert_ptr_nonnull (at);
  memset (at, 0xff, (size_t)(BAYS + 1) * BAYS * sizeof *at);
  memset (&f, 0, sizeof f);
  sw_option options[2] = { { .from = 0, .to = BAYS - 1 }, { .from = BAYS - 1, .to = BAYS } };
  int64_t price[2] = { 5, 8 };
  sw_wide value, through[2];
  at[(size_t)(BAYS - 1) * BAYS + BAYS - 2] = 0;
  at[(size_t)BAYS * BAYS] = 1;
  f.levels[0] = (sw_strip_level){ .option_count = 2, .reach = BAYS, .at = at };
  f.strip = (sw_strip){ .bays = BAYS, .level_count = 1, .levels = f.levels, .counted = NULL };
  f.model = (sw_model){ .strip_count = 1, .strips = &f.strip, .options = options, .option_count = 2 };
  ck_assert_int_eq (sw_strip_best (&f.model, &f.strip, price, 0, work, &value, NULL, NULL, through), SW_OK);
  ck_assert (value == 13 && through[0] == 13 && through[1] == 13);
  at[(size_t)BAYS * BAYS] = -1;
  ck_assert_int_eq (sw_strip_best (&f.model, &f.strip, price, 0, work, &value, NULL, NULL, NULL), SW_NO_PLAN);
  free (at);
}
END_TEST

/* Each level on top of the one below: a layout that keeps every rule, and is worth no less than the best. */
START_TEST (level_on_level_is_a_layout)
{
  uint64_t state = 4100 + (uint64_t)_i;
  int laid = 0, met = 0;
  for (int round = 0; round < 60; round++)
    {
      make (&state, (uint32_t)chance (&state, 1, 9), (uint32_t)chance (&state, 1, MOST_BAYS), 4, chance (&state, 0, 7));
      for (uint32_t r = 0; r < f.strip.level_count; r++)
        list_paths (r, 0, (path){ 0 });
      const sw_wide least = exact (SW_ALIGNED_FIRST, UINT32_MAX, 0, 1);
      uint8_t used[MOST_OPTIONS];
      memset (used, 1, sizeof used);
      sw_status status = sw_strip_quickly (&f.model, &f.strip, f.price, work, NULL, used);
      ck_assert (status == SW_OK || status == SW_NO_PLAN);
      if (status != SW_OK)
        continue;
      laid++;
      const sw_wide value = sum_of_layout (used, SW_ALIGNED_FIRST);
      ck_assert (value >= least);
      met += value == least;
    }
  ck_assert_int_ge (laid, 40);
  ck_assert_int_ge (met, 20);
  ck_assert_int_lt (met, laid);
}
END_TEST

/* What one strip may take is less where there are many: then it is as with a wide one. */
START_TEST (one_of_very_many_strips)
{
  uint64_t state = 31;
  for (int round = 0; round < 10; round++)
    {
      uint8_t used[MOST_OPTIONS] = { 0 };
      make (&state, 5, MOST_BAYS, 4, 0);
      for (uint32_t r = 0; r < f.strip.level_count; r++)
        list_paths (r, 0, (path){ 0 });
      const sw_wide least = exact (SW_ALIGNED_FIRST, UINT32_MAX, 0, 1);
      f.model.strip_count = 4;
      ck_assert_int_eq (sw_strip_best (&f.model, &f.strip, f.price, SW_ALIGNED_FIRST, work, NULL, NULL, NULL, NULL),
                        SW_OK);
      f.model.strip_count = 1000000;
      ck_assert (!sw_strip_is_exact (&f.model, &f.strip));
      expect_bounds (SW_ALIGNED_FIRST, false, least);
      ck_assert_int_eq (sw_strip_best (&f.model, &f.strip, f.price, SW_ALIGNED_FIRST, work, NULL, NULL, used, NULL),
                        SW_OK);
      ck_assert (sum_of_layout (used, SW_ALIGNED_FIRST) >= least);
    }
}
END_TEST

/* Two levels of so many bays and such a reach that states for both would not fit: still a layout without an aligned
 * pair, of pieces as long as can be. */
START_TEST (two_long_rows_of_long_reach_have_a_layout)
{
  enum
  {
    BAYS = 3000,
    REACH = 60,
    ALL = BAYS * REACH
  };
  int32_t *at = malloc (2 * (size_t)(BAYS + 1) * REACH * sizeof *at);
  sw_option *options = malloc (2 * (size_t)ALL * sizeof *options);
  int64_t *price = malloc (2 * (size_t)ALL * sizeof *price);
  uint8_t *used = malloc (2 * (size_t)ALL), *counted = malloc (BAYS + 1);
  ck_assert (at != NULL && options != NULL && price != NULL && used != NULL && counted != NULL);
  memset (at, 0xff, 2 * (size_t)(BAYS + 1) * REACH * sizeof *at);
  memset (counted, 1, BAYS + 1);
  memset (&f, 0, sizeof f);
  f.model = (sw_model){ .strip_count = 1, .strips = &f.strip, .options = options, .stagger = true, .turn = true };
  f.strip = (sw_strip){ .bays = BAYS, .level_count = 2, .levels = f.levels, .counted = counted };
  for (uint32_t r = 0; r < 2; r++)
    {
      sw_strip_level *level = &f.levels[r];
      *level = (sw_strip_level){ .option_first = f.model.option_count, .reach = REACH };
      level->at = at + r * (size_t)(BAYS + 1) * REACH;
      for (uint32_t from = 0; from < BAYS; from++)
        for (uint32_t to = from + 1; to <= BAYS && to <= from + REACH; to++)
          {
            level->at[(size_t)to * REACH + to - from - 1] = (int32_t)f.model.option_count;
            price[f.model.option_count] = 1;
            options[f.model.option_count++] = (sw_option){ .level = r, .from = from, .to = to };
          }
      level->option_count = f.model.option_count - level->option_first;
    }
  ck_assert (!sw_strip_is_exact (&f.model, &f.strip));
  ck_assert_int_eq (sw_strip_best (&f.model, &f.strip, price, SW_ALIGNED_FIRST, work, NULL, NULL, used, NULL), SW_OK);
  uint8_t joins[BAYS + 1] = { 0 };
  uint32_t post[2] = { 0, 0 }, pieces = 0;
  for (size_t o = 0; o < f.model.option_count; o++)
    if (used[o])
      {
        ck_assert_uint_eq (options[o].from, post[options[o].level]);
        post[options[o].level] = options[o].to;
        joins[options[o].to]++;
        pieces++;
      }
  ck_assert (post[0] == BAYS && post[1] == BAYS);
  for (uint32_t p = 1; p < BAYS; p++)
    ck_assert_uint_le (joins[p], 1);
  /* 3000 bays in pieces of 60: 50 in the lower level, one more in the upper one. */
  ck_assert_uint_eq (pieces, 101);
  free (at);
  free (options);
  free (price);
  free (used);
  free (counted);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("strip_wide");
  TCase *wide = tcase_create ("wide strips");
  tcase_add_checked_fixture (wide, setup, teardown);
  tcase_set_timeout (wide, 120);
  tcase_add_loop_test (wide, wide_strips_have_true_bounds_and_a_layout, 0, suite_rounds (3));
  tcase_add_test (wide, narrow_strips_are_exact);
  tcase_add_test (wide, a_long_level_of_long_reach_has_a_bound);
  tcase_add_loop_test (wide, level_on_level_is_a_layout, 0, suite_rounds (3));
  tcase_add_test (wide, one_of_very_many_strips);
  tcase_add_test (wide, two_long_rows_of_long_reach_have_a_layout);
  suite_add_tcase (suite, wide);
  return suite_run (suite);
}
