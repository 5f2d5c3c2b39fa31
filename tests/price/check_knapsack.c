/* check_knapsack.c - pricing against brute force and a plain table
 *
 * Both references are written here and share nothing with the library: one
 * tries every number of copies of every piece, the other is the textbook
 * recursion over the length (Martello & Toth, Knapsack Problems, 1990,
 * section 3.2).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "chance.h"
#include "price/knapsack.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

enum
{
  MOST_NEEDS = 64,
  MOST_SETS = 20000,
  PLAIN_ROOM = 4000,
  LONG_NEEDS = 24
};

/* One board's problem: needs of section 1 of a model, after those of a section that is not asked for. */
typedef struct problem
{
  sw_model model;
  sw_model_section sections[2];
  sw_need needs[MOST_NEEDS];
  int64_t value[MOST_NEEDS];
  size_t first, count;
} problem;

static sw_knapsack *knapsack;
static sw_entry entries[MOST_NEEDS];

static void
setup (void)
{
  knapsack = sw_knapsack_new ();
  ck_assert_ptr_nonnull (knapsack);
}

static void
teardown (void)
{
  sw_knapsack_free (knapsack);
}

/* Two needs of another section stand first, so cheap that they would be taken if they were looked at. */
static void
begin (problem *p)
{
  memset (p, 0, sizeof *p);
  p->first = 2;
  for (size_t n = 0; n < p->first; n++)
    {
      p->needs[n] = (sw_need){ .size = 1, .most = 1000 };
      p->value[n] = 1000000;
    }
}

static void
add (problem *p, int64_t size, int64_t value, int64_t most)
{
  size_t n = p->first + p->count++;
  ck_assert_uint_lt (n, MOST_NEEDS);
  p->needs[n] = (sw_need){ .section = 1, .size = size, .most = most };
  p->value[n] = value;
}

static void
finish (problem *p)
{
  p->sections[0] = (sw_model_section){ .need_count = p->first };
  p->sections[1] = (sw_model_section){ .need_first = p->first, .need_count = p->count };
  p->model = (sw_model){
    .section_count = 2, .sections = p->sections, .need_count = p->first + p->count, .needs = p->needs
  };
}

/* A random problem of a few needs, some worthless, some not needed; MANY: with needs longer than any board. */
static void
make_random (problem *p, uint64_t *state, bool many, int64_t room)
{
  begin (p);
  int64_t needs = chance (state, 1, 6), size_most = one_in (state, 3) ? 6 : 20;
  for (int64_t n = 0; n < needs; n++)
    add (p, chance (state, 1, size_most), chance (state, -2, 30), chance (state, 0, 4));
  for (int n = 0; many && n < LONG_NEEDS; n++)
    add (p, room + 1 + chance (state, 0, 5), chance (state, 1, 50), 3);
  finish (p);
}

/* Values of all magnitudes, up to sums of nearly 2^62: a floating-point number keeps 53 bits of them. */
static void
make_great (problem *p, uint64_t *state)
{
  begin (p);
  int64_t needs = chance (state, 2, 5);
  for (int64_t n = 0; n < needs; n++)
    {
      int64_t size = chance (state, 1, 12);
      int64_t unit = (int64_t)1 << (one_in (state, 2) ? chance (state, 45, 55) : chance (state, 0, 8));
      add (p, size, size * unit + chance (state, 0, 3), chance (state, 1, 4));
    }
  finish (p);
}

/* ---- References ---- */

/* Best value of needs from N on in ROOM, by trying every number of copies. */
static int64_t
brute (const problem *p, const int64_t *most, size_t n, int64_t room)
{
  if (n == p->first + p->count)
    return 0;
  int64_t best = brute (p, most, n + 1, room);
  for (int64_t copies = 1; copies <= most[n] && copies * p->needs[n].size <= room; copies++)
    {
      int64_t value = copies * p->value[n] + brute (p, most, n + 1, room - copies * p->needs[n].size);
      if (value > best)
        best = value;
    }
  return best;
}

/* plain[r]: best value in room r, one copy after another. */
static int64_t plain[PLAIN_ROOM + 1];

static void
fill_plain (const problem *p, const int64_t *most, int64_t room)
{
  memset (plain, 0, sizeof plain);
  for (size_t n = p->first; n < p->first + p->count; n++)
    for (int64_t copy = 0; p->value[n] > 0 && copy < most[n] && copy * p->needs[n].size <= room; copy++)
      for (int64_t r = room; r >= p->needs[n].size; r--)
        if (plain[r - p->needs[n].size] + p->value[n] > plain[r])
          plain[r] = plain[r - p->needs[n].size] + p->value[n];
}

static const int64_t *
model_most (const problem *p)
{
  static int64_t most[MOST_NEEDS];
  for (size_t n = 0; n < p->first + p->count; n++)
    most[n] = p->needs[n].most;
  return most;
}

/* ---- The best board ---- */

/* Cuts that fit, of needs that are asked for, in order, and worth VALUE. */
static void
expect_cuts (const problem *p, const int64_t *most, int64_t room, const sw_entry *of, uint32_t count, int64_t value)
{
  int64_t size = 0, sum = 0;
  bool sound = true; /* one assertion in all: each is a call of the system */
  for (uint32_t c = 0; c < count && sound; c++)
    {
      uint32_t need = of[c].need;
      sound = (c == 0 || of[c - 1].need < need) && need >= p->first && need < p->first + p->count && of[c].copies >= 1
              && of[c].copies <= most[need];
      if (!sound)
        break;
      size += of[c].copies * p->needs[need].size;
      sum += of[c].copies * (p->value[need] > 0 ? p->value[need] : 0);
    }
  ck_assert (sound && (count == 0 || size <= room) && sum == value);
}

static void
load (const problem *p, const int64_t *most)
{
  ck_assert_int_eq (sw_knapsack_load (knapsack, &p->model, 1, p->value, most), SW_OK);
}

/* The library's best for ROOM is EXPECTED, and what it cuts is worth that. */
static void
expect_best (const problem *p, const int64_t *most, int64_t room, int64_t expected)
{
  int64_t best;
  uint32_t count;
  sw_status status = sw_knapsack_best (knapsack, room, &best, entries, &count);
  ck_assert_msg (status == SW_OK && best == expected && (count == 0) == (best == 0), "%s: %lld, not %lld",
                 sw_status_text (status), (long long)best, (long long)expected);
  expect_cuts (p, most, room, entries, count, best);
  ck_assert_int_eq (sw_knapsack_at_most (knapsack), expected);
}

/* _i 0: branch and bound, as far as it is worth while; 1: the table. */
START_TEST (random_boards_are_cut_best)
{
  uint64_t state = 20260727 + (uint64_t)_i;
  for (int round = 0; round < 2500; round++)
    {
      problem p;
      int64_t room = chance (&state, 0, 60);
      make_random (&p, &state, _i == 1, room);
      const int64_t *most = model_most (&p);
      fill_plain (&p, most, room);
      ck_assert_int_eq (plain[room], brute (&p, most, p.first, room));
      load (&p, NULL);
      if (_i == 1)
        ck_assert_int_eq (sw_knapsack_tabulate (knapsack, room), SW_OK);
      expect_best (&p, most, room, plain[room]);
      ck_assert (_i == 0 || room == 0 || sw_knapsack_has_table (knapsack));
    }
}
END_TEST

/* What is still needed may be less than the model's most, or nothing. */
START_TEST (fewer_pieces_may_be_asked_for)
{
  uint64_t state = 77 + (uint64_t)_i;
  for (int round = 0; round < 2000; round++)
    {
      problem p;
      int64_t room = chance (&state, 1, 60), most[MOST_NEEDS];
      make_random (&p, &state, _i == 1, room);
      for (size_t n = 0; n < p.first + p.count; n++)
        most[n] = n < p.first + 6 ? chance (&state, 0, 3) : p.needs[n].most;
      load (&p, most);
      expect_best (&p, most, room, brute (&p, most, p.first, room));
    }
}
END_TEST

/* Longest board first: one table then serves the shorter ones, without another load. */
START_TEST (one_table_serves_shorter_boards)
{
  uint64_t state = 5;
  for (int round = 0; round < 300; round++)
    {
      problem p;
      make_random (&p, &state, true, 60);
      const int64_t *most = model_most (&p);
      fill_plain (&p, most, 60);
      load (&p, NULL);
      ck_assert_int_eq (sw_knapsack_tabulate (knapsack, 60 - round % 9), SW_OK);
      for (int64_t room = 60; room >= 0; room -= chance (&state, 1, 9))
        expect_best (&p, most, room, plain[room]);
      /* A longer one again needs a new table. */
      expect_best (&p, most, 60, plain[60]);
    }
}
END_TEST

/* All sizes even and the room odd: no bound on the value a unit of length ever
 * closes the search, and the library turns to its table. */
START_TEST (search_without_end_turns_to_the_table)
{
  uint64_t state = 11;
  problem p;
  begin (&p);
  for (int n = 0; n < 22; n++)
    {
      int64_t size = 2 * chance (&state, 40, 90);
      add (&p, size, size, 1);
    }
  finish (&p);
  const int64_t *most = model_most (&p);
  int64_t room = 1501;
  fill_plain (&p, most, room);
  ck_assert_int_eq (plain[room], room - 1);
  load (&p, NULL);
  expect_best (&p, most, room, room - 1);
  ck_assert (sw_knapsack_has_table (knapsack));
}
END_TEST

/* Sizes in nanometres, as slopes give them: far too long for a table. */
START_TEST (long_boards_are_cut_best_without_table)
{
  uint64_t state = 31;
  for (int round = 0; round < 2000; round++)
    {
      problem p;
      begin (&p);
      int64_t needs = chance (&state, 1, 5);
      for (int64_t n = 0; n < needs; n++)
        add (&p, chance (&state, 300 * SW_MM, 5000 * SW_MM), chance (&state, 1, 1000000000000), chance (&state, 1, 4));
      finish (&p);
      int64_t room = chance (&state, 1000 * SW_MM, 7000 * SW_MM);
      load (&p, NULL);
      expect_best (&p, model_most (&p), room, brute (&p, model_most (&p), p.first, room));
      ck_assert (!sw_knapsack_has_table (knapsack));
    }
}
END_TEST

typedef struct heap
{
  const problem *p;
  const int64_t *most;
  int64_t room, floor;
  size_t count, stop_at;
  int64_t values[MOST_NEEDS];
} heap;

static bool
put_on_heap (const sw_entry *of, uint32_t count, int64_t value, void *data)
{
  heap *h = data;
  expect_cuts (h->p, h->most, h->room, of, count, value);
  ck_assert (value > h->floor && (h->count == 0 || value <= h->values[h->count - 1]) && h->count < MOST_NEEDS);
  h->values[h->count++] = value;
  return h->count != h->stop_at;
}

/* Many short pieces in nanometres, lengths whole millimetres: the reference works in those, the library
 * in nanometres.  Nearly equal value a unit of length: nothing closes the search.  Its steps are counted, what it
 * finds fits, and no board is worth more than it says. */
START_TEST (search_without_end_on_a_long_board_is_bounded)
{
  uint64_t state = 13;
  int inexact = 0, exact = 0;
  for (int round = 0; round < 40; round++)
    {
      problem p, small;
      int64_t needs = chance (&state, 18, 40), room = 2 * chance (&state, 600, 1950) + 1;
      begin (&p);
      begin (&small);
      for (int64_t n = 0; n < needs; n++)
        {
          int64_t size = 2 * chance (&state, round < 20 ? 40 : 3, round < 20 ? 150 : 20);
          int64_t most = chance (&state, 1, round < 20 ? 3 : 30);
          int64_t value = round % 2 == 0 ? size : size + chance (&state, 0, 2);
          add (&p, size * SW_MM, value, most);
          add (&small, size, value, most);
        }
      finish (&p);
      finish (&small);
      fill_plain (&small, model_most (&small), room);
      load (&p, NULL);
      for (int again = 0; again < 2; again++)
        {
          int64_t best, most;
          uint32_t count;
          uint64_t before = sw_knapsack_work (knapsack);
          ck_assert_int_eq (sw_knapsack_best (knapsack, room * SW_MM, &best, entries, &count), SW_OK);
          most = sw_knapsack_at_most (knapsack);
          ck_assert_uint_lt (sw_knapsack_work (knapsack) - before, 3000000);
          expect_cuts (&p, model_most (&p), room * SW_MM, entries, count, best);
          ck_assert_msg (best <= plain[room] && plain[room] <= most, "round %d: %lld, %lld, %lld", round,
                         (long long)best, (long long)plain[room], (long long)most);
          /* Near enough to be of use. */
          ck_assert (best * 100 >= plain[room] * 99 && most * 99 <= plain[room] * 100);
          inexact += most > best;
          exact += most == best;
        }
    }
  ck_assert_int_gt (inexact, 10);
  ck_assert_int_gt (exact, 0);
}
END_TEST

/* More boards out of the table fit too; a shorter board is served, and one load later all is as new. */
START_TEST (table_hands_out_what_fits)
{
  uint64_t state = 17;
  problem p;
  begin (&p);
  for (int n = 0; n < 30; n++)
    {
      int64_t size = 2 * chance (&state, 40, 90);
      add (&p, size, size, 2);
    }
  finish (&p);
  heap h = { .p = &p, .most = model_most (&p), .floor = 1000 };
  load (&p, NULL);
  for (h.room = 1501; h.room > 1300; h.room -= 100)
    {
      int64_t best, most;
      uint32_t count;
      ck_assert_int_eq (sw_knapsack_best (knapsack, h.room, &best, entries, &count), SW_OK);
      expect_cuts (&p, h.most, h.room, entries, count, best);
      most = sw_knapsack_at_most (knapsack);
      ck_assert (best <= h.room && h.room - 1 <= most);
      ck_assert (sw_knapsack_has_table (knapsack));
      h.count = 0;
      ck_assert_int_eq (sw_knapsack_more (knapsack, h.room, h.floor, 30, entries, put_on_heap, &h), SW_OK);
      ck_assert_uint_gt (h.count, 5);
    }
  /* One piece of each need: the search ends by itself, and what it finds is all there is. */
  int64_t one[MOST_NEEDS] = { 0 }, best, most;
  uint32_t count;
  one[p.first] = one[p.first + 1] = 1;
  load (&p, one);
  ck_assert_int_eq (sw_knapsack_best (knapsack, 1501, &best, entries, &count), SW_OK);
  most = sw_knapsack_at_most (knapsack);
  ck_assert_int_eq (best, p.value[p.first] + p.value[p.first + 1]);
  ck_assert_int_eq (most, best);
}
END_TEST

/* A bound in floating point must not hide a board that is better by one. */
START_TEST (great_values_are_told_apart)
{
  uint64_t state = 41;
  for (int round = 0; round < 2500; round++)
    {
      problem p;
      int64_t room = chance (&state, 10, 40);
      make_great (&p, &state);
      load (&p, NULL);
      expect_best (&p, model_most (&p), room, brute (&p, model_most (&p), p.first, room));
    }
}
END_TEST

START_TEST (nothing_fits_or_is_wanted)
{
  problem p;
  begin (&p);
  add (&p, 10, 5, 2);
  add (&p, 4, 0, 2);
  add (&p, 3, -7, 2);
  add (&p, 2, 9, 0);
  finish (&p);
  load (&p, NULL);
  expect_best (&p, model_most (&p), 9, 0);
  expect_best (&p, model_most (&p), 0, 0);
  expect_best (&p, model_most (&p), -5, 0);
  expect_best (&p, model_most (&p), 10, 5);
  expect_best (&p, model_most (&p), 30, 10);
}
END_TEST

/* ---- More than one board out of the table ---- */

static int
greatest_first (const void *a, const void *b)
{
  int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;
  return x > y ? -1 : x < y;
}

/* As many copies as a board takes: then each need has a best board with a piece of it in the table. */
static void
free_copies (problem *p, int64_t room)
{
  for (size_t n = p->first; n < p->first + p->count; n++)
    if (p->needs[n].most > 0)
      p->needs[n].most = room / p->needs[n].size + 1;
}

START_TEST (more_boards_are_the_best_of_each_need)
{
  uint64_t state = 51;
  for (int round = 0; round < 1500; round++)
    {
      problem p;
      heap h = { .p = &p, .room = chance (&state, 1, 60), .floor = chance (&state, 0, 100) };
      make_random (&p, &state, true, h.room);
      free_copies (&p, h.room);
      h.most = model_most (&p);
      fill_plain (&p, h.most, h.room);
      load (&p, NULL);
      ck_assert_int_eq (sw_knapsack_tabulate (knapsack, h.room), SW_OK);
      expect_best (&p, h.most, h.room, plain[h.room]);
      ck_assert (sw_knapsack_has_table (knapsack));
      int64_t expected[MOST_NEEDS];
      size_t count = 0, most = (size_t)chance (&state, 0, 8);
      for (size_t n = p.first; n < p.first + p.count; n++)
        if (p.value[n] > 0 && p.needs[n].most > 0 && p.needs[n].size <= h.room
            && p.value[n] + plain[h.room - p.needs[n].size] > h.floor)
          expected[count++] = p.value[n] + plain[h.room - p.needs[n].size];
      qsort (expected, count, sizeof *expected, greatest_first);
      if (count > most)
        count = most;
      ck_assert_int_eq (sw_knapsack_more (knapsack, h.room, h.floor, most, entries, put_on_heap, &h), SW_OK);
      ck_assert_uint_eq (h.count, count);
      ck_assert (count == 0 || memcmp (h.values, expected, count * sizeof *expected) == 0);
    }
}
END_TEST

/* Where copies are few the table may have used them all: what comes is still true. */
START_TEST (more_boards_keep_to_the_copies)
{
  uint64_t state = 61;
  size_t handed = 0;
  for (int round = 0; round < 1500; round++)
    {
      problem p;
      heap h = { .p = &p, .room = chance (&state, 1, 60), .floor = chance (&state, 0, 60) };
      make_random (&p, &state, true, h.room);
      h.most = model_most (&p);
      load (&p, NULL);
      ck_assert_int_eq (sw_knapsack_tabulate (knapsack, h.room), SW_OK);
      expect_best (&p, h.most, h.room, brute (&p, h.most, p.first, h.room));
      ck_assert_int_eq (sw_knapsack_more (knapsack, h.room, h.floor, 30, entries, put_on_heap, &h), SW_OK);
      handed += h.count;
      size_t all = h.count;
      h.count = 0;
      h.stop_at = all > 1 ? all - 1 : 0;
      ck_assert_int_eq (sw_knapsack_more (knapsack, h.room, h.floor, 30, entries, put_on_heap, &h), SW_OK);
      ck_assert_uint_eq (h.count, all > 1 ? all - 1 : all);
    }
  ck_assert_uint_gt (handed, 1000);
}
END_TEST

/* ---- Every board ---- */

/* Copies of each need, a byte each, so that sets can be sorted and compared. */
typedef struct set
{
  unsigned char copies[MOST_NEEDS];
} set;

typedef struct sets
{
  const problem *p;
  int64_t room, floor;
  size_t count, stop_at;
  set *all;
} sets;

static int
by_bytes (const void *a, const void *b)
{
  return memcmp (a, b, sizeof (set));
}

/* Add to OUT all maximal sets that go on from NOW at need N. */
static void
list_brute (sets *out, set *now, size_t n, int64_t left, int64_t value)
{
  const problem *p = out->p;
  if (n < p->first + p->count)
    {
      for (int64_t copies = 0; copies <= p->needs[n].most && copies * p->needs[n].size <= left; copies++)
        {
          now->copies[n] = (unsigned char)copies;
          list_brute (out, now, n + 1, left - copies * p->needs[n].size,
                      value + copies * (p->value[n] > 0 ? p->value[n] : 0));
        }
      now->copies[n] = 0;
      return;
    }
  bool empty = true;
  for (size_t i = p->first; i < n; i++)
    {
      if (now->copies[i] < p->needs[i].most && p->needs[i].size <= left)
        return;
      empty = empty && now->copies[i] == 0;
    }
  if (empty || value < out->floor || out->count == MOST_SETS)
    return;
  out->all[out->count++] = *now;
}

static bool
put_in_sets (const sw_entry *of, uint32_t count, int64_t value, void *data)
{
  sets *s = data;
  expect_cuts (s->p, model_most (s->p), s->room, of, count, value);
  if (s->count == MOST_SETS)
    return false;
  set *now = &s->all[s->count++];
  memset (now, 0, sizeof *now);
  for (uint32_t c = 0; c < count; c++)
    now->copies[of[c].need] = (unsigned char)of[c].copies;
  return s->count != s->stop_at;
}

static set library_sets[MOST_SETS], brute_sets[MOST_SETS];

START_TEST (every_maximal_board_is_listed_once)
{
  uint64_t state = 71;
  size_t listed = 0;
  for (int round = 0; round < 1500; round++)
    {
      problem p;
      int64_t room = chance (&state, 0, 60);
      make_random (&p, &state, false, room);
      int64_t floor = one_in (&state, 4) ? -1000000000000 : chance (&state, 0, 120);
      sets expected = { .p = &p, .room = room, .floor = floor, .all = brute_sets }, found = expected;
      found.all = library_sets;
      set now = { { 0 } };
      list_brute (&expected, &now, p.first, room, 0);
      uint64_t steps = 1000000;
      ck_assert_int_eq (sw_knapsack_each (&p.model, 1, p.value, room, floor, &steps, NULL, put_in_sets, &found), SW_OK);
      ck_assert_uint_eq (found.count, expected.count);
      qsort (expected.all, expected.count, sizeof (set), by_bytes);
      qsort (found.all, found.count, sizeof (set), by_bytes);
      ck_assert (found.count < MOST_SETS && memcmp (found.all, expected.all, found.count * sizeof (set)) == 0);
      listed += found.count;
      if (found.count == 0)
        continue;
      /* FN stops it; and so do too few steps, which are counted down. */
      found.stop_at = (size_t)chance (&state, 1, (int64_t)found.count);
      found.count = 0;
      ck_assert_int_eq (sw_knapsack_each (&p.model, 1, p.value, room, floor, &steps, NULL, put_in_sets, &found),
                        SW_STOPPED);
      ck_assert_uint_eq (found.count, found.stop_at);
      if (expected.count < 2)
        continue;
      found.stop_at = 0;
      found.count = 0;
      steps = 0;
      ck_assert_int_eq (sw_knapsack_each (&p.model, 1, p.value, room, floor, &steps, NULL, put_in_sets, &found),
                        SW_STOPPED);
      ck_assert_uint_lt (found.count, expected.count);
    }
  ck_assert_uint_gt (listed, 1500);
}
END_TEST

/* A floor of great value cuts off nothing that reaches it. */
START_TEST (every_board_of_great_value_is_listed)
{
  uint64_t state = 81;
  for (int round = 0; round < 1500; round++)
    {
      problem p;
      int64_t room = chance (&state, 10, 40);
      make_great (&p, &state);
      int64_t floor = brute (&p, model_most (&p), p.first, room) - chance (&state, 0, 1);
      sets expected = { .p = &p, .room = room, .floor = floor, .all = brute_sets }, found = expected;
      found.all = library_sets;
      set now = { { 0 } };
      list_brute (&expected, &now, p.first, room, 0);
      uint64_t steps = 1000000;
      ck_assert_int_eq (sw_knapsack_each (&p.model, 1, p.value, room, floor, &steps, NULL, put_in_sets, &found), SW_OK);
      ck_assert_uint_eq (found.count, expected.count);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("knapsack");
  TCase *best = tcase_create ("best board");
  tcase_add_checked_fixture (best, setup, teardown);
  tcase_set_timeout (best, 60);
  tcase_add_loop_test (best, random_boards_are_cut_best, 0, 2);
  tcase_add_loop_test (best, fewer_pieces_may_be_asked_for, 0, 2);
  tcase_add_test (best, one_table_serves_shorter_boards);
  tcase_add_test (best, search_without_end_turns_to_the_table);
  tcase_add_test (best, search_without_end_on_a_long_board_is_bounded);
  tcase_add_test (best, table_hands_out_what_fits);
  tcase_add_test (best, long_boards_are_cut_best_without_table);
  tcase_add_test (best, great_values_are_told_apart);
  tcase_add_test (best, nothing_fits_or_is_wanted);
  suite_add_tcase (suite, best);
  TCase *many = tcase_create ("many boards");
  tcase_add_checked_fixture (many, setup, teardown);
  tcase_set_timeout (many, 60);
  tcase_add_test (many, more_boards_are_the_best_of_each_need);
  tcase_add_test (many, more_boards_keep_to_the_copies);
  tcase_add_test (many, every_maximal_board_is_listed_once);
  tcase_add_test (many, every_board_of_great_value_is_listed);
  suite_add_tcase (suite, many);
  return suite_run (suite);
}
