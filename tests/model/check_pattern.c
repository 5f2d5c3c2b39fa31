/* check_pattern.c - the pool of patterns, each kept once
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "chance.h"
#include "model/pattern.h"
#include "suite.h"

#include <string.h>

static sw_patterns pool;

static void
setup (void)
{
  pool = (sw_patterns){ 0 };
}

static void
teardown (void)
{
  sw_patterns_clear (&pool);
}

static size_t
put (uint32_t stock, const sw_entry *entries, uint32_t count, bool expect_new)
{
  size_t index = SIZE_MAX;
  bool new_one = !expect_new;
  ck_assert_int_eq (sw_patterns_add (&pool, stock, entries, count, &index, &new_one), SW_OK);
  ck_assert (new_one == expect_new && index < pool.count);
  const sw_pattern *p = &pool.items[index];
  ck_assert (p->stock == stock && p->count == count);
  ck_assert (count == 0 || memcmp (&pool.entries[p->first], entries, count * sizeof *entries) == 0);
  return index;
}

START_TEST (each_pattern_is_kept_once)
{
  const sw_entry two[] = { { 0, 2 }, { 3, 1 } };
  const sw_entry other_copies[] = { { 0, 2 }, { 3, 2 } };
  const sw_entry other_need[] = { { 0, 2 }, { 4, 1 } };
  ck_assert_uint_eq (put (0, two, 2, true), 0);
  ck_assert_uint_eq (put (0, two, 2, false), 0);
  ck_assert_uint_eq (put (1, two, 2, true), 1);
  ck_assert_uint_eq (put (0, other_copies, 2, true), 2);
  ck_assert_uint_eq (put (0, other_need, 2, true), 3);
  ck_assert_uint_eq (put (0, two, 1, true), 4);
  ck_assert_uint_eq (put (0, two + 1, 1, true), 5);
  ck_assert_uint_eq (put (1, two, 2, false), 1);
  ck_assert_uint_eq (pool.count, 6);
  /* What comes back may be of no interest. */
  ck_assert_int_eq (sw_patterns_add (&pool, 0, two, 2, NULL, NULL), SW_OK);
  ck_assert_uint_eq (pool.count, 6);
}
END_TEST

START_TEST (a_pattern_may_be_empty)
{
  ck_assert_uint_eq (put (0, NULL, 0, true), 0);
  ck_assert_uint_eq (put (0, NULL, 0, false), 0);
  ck_assert_uint_eq (put (1, NULL, 0, true), 1);
}
END_TEST

/* Supply and copies of needs 0 to 4, as one number. */
static uint32_t
code_of (uint32_t stock, const uint32_t *copies)
{
  uint32_t code = stock;
  for (int n = 0; n < 5; n++)
    code = code * 6 + copies[n];
  return code;
}

/* Against a table of all patterns there can be; the pool grows many times. */
START_TEST (thousands_are_told_apart)
{
  enum
  {
    CODES = 2 * 6 * 6 * 6 * 6 * 6
  };
  static size_t index_of[CODES];
  uint64_t state = 3;
  size_t seen = 0;
  memset (index_of, 0xff, sizeof index_of);
  for (int round = 0; round < 40000; round++)
    {
      uint32_t stock = (uint32_t)chance (&state, 0, 1), copies[5], count = 0;
      sw_entry entries[5];
      for (uint32_t n = 0; n < 5; n++)
        {
          copies[n] = (uint32_t)chance (&state, 0, 5);
          if (copies[n] > 0)
            entries[count++] = (sw_entry){ .need = n, .copies = copies[n] };
        }
      size_t *expected = &index_of[code_of (stock, copies)];
      size_t index = put (stock, entries, count, *expected == SIZE_MAX);
      if (*expected == SIZE_MAX)
        *expected = seen++;
      ck_assert_uint_eq (index, *expected);
    }
  ck_assert_uint_eq (pool.count, seen);
  ck_assert_uint_gt (seen, 10000);
}
END_TEST

START_TEST (cleared_pools_begin_anew)
{
  const sw_entry one[] = { { 7, 1 } };
  put (0, one, 1, true);
  sw_patterns_clear (&pool);
  ck_assert_uint_eq (pool.count, 0);
  ck_assert_uint_eq (put (0, one, 1, true), 0);
}
END_TEST

/* ---- The pieces of a board ---- */

START_TEST (pieces_are_counted)
{
  const sw_entry entries[] = { { 0, 2 }, { 2, 3 } };
  const size_t one = put (0, entries, 2, true), none = put (0, NULL, 0, true);
  sw_need needs[3] = { { .size = 100 }, { .size = 20 }, { .size = 7 } };
  const sw_model model = { .need_count = 3, .needs = needs };
  ck_assert_int_eq (sw_pattern_size (&model, &pool, one), 2 * 100 + 3 * 7);
  ck_assert_int_eq (sw_pattern_size (&model, &pool, none), 0);
  int64_t count[3] = { 1, 1, 1 };
  sw_pattern_count (&pool, one, 4, count);
  ck_assert (count[0] == 9 && count[1] == 1 && count[2] == 13);
  sw_pattern_count (&pool, one, -5, count);
  ck_assert (count[0] == -1 && count[1] == 1 && count[2] == -2);
  sw_pattern_count (&pool, none, 5, count);
  ck_assert (count[0] == -1 && count[1] == 1 && count[2] == -2);
}
END_TEST

START_TEST (boards_yield_no_more_than_is_left)
{
  const sw_entry entries[] = { { 0, 2 }, { 2, 3 } };
  const size_t one = put (0, entries, 2, true), none = put (0, NULL, 0, true);
  static const struct
  {
    int64_t left[3], most, times;
  } rows[] = { { { 9, 0, 13 }, 100, 4 }, { { 9, 0, 11 }, 100, 3 },  { { 9, 0, 13 }, 2, 2 },
               { { 1, 9, 99 }, 100, 0 }, { { -8, 0, 99 }, 100, 0 }, { { 9, 0, 13 }, -1, 0 } };
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
    ck_assert_int_eq (sw_pattern_times (&pool, one, rows[i].left, rows[i].most), rows[i].times);
  ck_assert_int_eq (sw_pattern_times (&pool, none, rows[0].left, 7), 7);
}
END_TEST

START_TEST (entries_stand_in_the_order_of_needs)
{
  const int64_t count[5] = { 0, 3, 0, -1, 1 };
  sw_entry entries[5];
  ck_assert_uint_eq (sw_entries_of (entries, count, 5), 2);
  ck_assert (entries[0].need == 1 && entries[0].copies == 3 && entries[1].need == 4 && entries[1].copies == 1);
  ck_assert_uint_eq (sw_entries_with (entries, 2, 4), 2);
  ck_assert_uint_eq (entries[1].copies, 2);
  ck_assert_uint_eq (sw_entries_with (entries, 2, 2), 3);
  ck_assert (entries[1].need == 2 && entries[1].copies == 1 && entries[2].need == 4 && entries[2].copies == 2);
  ck_assert_uint_eq (sw_entries_of (entries, count, 1), 0);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("pattern");
  TCase *kept = tcase_create ("pool");
  tcase_add_checked_fixture (kept, setup, teardown);
  tcase_set_timeout (kept, 60);
  tcase_add_test (kept, each_pattern_is_kept_once);
  tcase_add_test (kept, a_pattern_may_be_empty);
  tcase_add_test (kept, thousands_are_told_apart);
  tcase_add_test (kept, cleared_pools_begin_anew);
  suite_add_tcase (suite, kept);
  TCase *pieces = tcase_create ("pieces");
  tcase_add_checked_fixture (pieces, setup, teardown);
  tcase_add_test (pieces, pieces_are_counted);
  tcase_add_test (pieces, boards_yield_no_more_than_is_left);
  tcase_add_test (pieces, entries_stand_in_the_order_of_needs);
  suite_add_tcase (suite, pieces);
  return suite_run (suite);
}
