/* check_strip.c - the best layout of a strip against all layouts there are
 *
 * The enumeration lists every path of every level, puts all of them together
 * in every way, and applies the rules as they are written: pieces end to end,
 * a pair of neighbouring levels that joins on one post counted, first pieces
 * long and short in turn.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "chance.h"
#include "price/strip.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

enum
{
  MOST_ROWS = 4,
  MOST_BAYS = 7,
  MOST_OPTIONS = MOST_ROWS * MOST_BAYS * (MOST_BAYS + 1) / 2,
  MOST_PATHS = 1 << (MOST_BAYS - 1),
  /* Options of a strip that stands before the one in question. */
  BEFORE = 3,
  ALL_OPTIONS = BEFORE + MOST_OPTIONS,
  /* No more layouts than this are listed: larger strips are drawn anew. */
  MOST_LAYOUTS = 40000
};

typedef struct fixture
{
  sw_model model;
  sw_strip strips[2];
  sw_strip_level levels[MOST_ROWS];
  sw_option options[ALL_OPTIONS];
  int32_t at[MOST_ROWS][(MOST_BAYS + 1) * MOST_BAYS];
  uint8_t counted[MOST_BAYS + 1];
  int64_t price[ALL_OPTIONS];
} fixture;

static sw_strip_work *work;

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

static void
begin (fixture *f, uint32_t levels, uint32_t bays, bool stagger)
{
  memset (f, 0, sizeof *f);
  memset (f->at, 0xff, sizeof f->at);
  memset (f->counted, 1, sizeof f->counted);
  f->strips[1] = (sw_strip){ .bays = bays, .level_count = levels, .levels = f->levels, .counted = f->counted };
  f->model = (sw_model){ .strip_count = 2,
                         .strips = f->strips,
                         .option_count = BEFORE,
                         .options = f->options,
                         .stagger = stagger,
                         .turn = stagger };
}

/* ALLOWED: bit FROM * 8 + TO of each piece that the level may have. */
static void
add_level (fixture *f, uint32_t level, uint64_t allowed)
{
  sw_strip_level *r = &f->levels[level];
  uint32_t bays = f->strips[1].bays;
  r->option_first = f->model.option_count;
  r->at = f->at[level];
  for (uint32_t from = 0; from < bays; from++)
    for (uint32_t to = from + 1; to <= bays; to++)
      if (allowed >> (from * 8 + to) & 1)
        {
          f->options[f->model.option_count++] = (sw_option){ .strip = 1, .level = level, .from = from, .to = to };
          if (to - from > r->reach)
            r->reach = to - from;
        }
  r->option_count = f->model.option_count - r->option_first;
  for (size_t o = r->option_first; o < f->model.option_count; o++)
    r->at[f->options[o].to * r->reach + f->options[o].to - f->options[o].from - 1] = (int32_t)o;
}

static uint64_t
piece (uint32_t from, uint32_t to)
{
  return (uint64_t)1 << (from * 8 + to);
}

/* ---- All layouts ---- */

typedef struct path
{
  uint64_t joins; /* bit of each inner post with a join */
  uint32_t first; /* bays of the first piece */
  sw_wide cost;
} path;

typedef struct listing
{
  const fixture *f;
  sw_wide weight;
  bool clause; /* a pair with a level of one piece is free */
  path paths[MOST_ROWS][MOST_PATHS];
  size_t count[MOST_ROWS];
  /* what came of it */
  sw_wide best;
  sw_wide through[ALL_OPTIONS];
  size_t layouts;
} listing;

static void
list_paths (listing *l, uint32_t level, uint32_t post, path so_far)
{
  const fixture *f = l->f;
  uint32_t bays = f->strips[1].bays;
  if (post == bays)
    {

      l->paths[level][l->count[level]++] = so_far;
      return;
    }
  for (size_t o = f->levels[level].option_first; o < f->levels[level].option_first + f->levels[level].option_count; o++)
    if (f->options[o].from == post)
      {
        path longer = so_far;
        longer.cost += f->price[o];
        if (post == 0)
          longer.first = f->options[o].to;
        if (f->options[o].to < bays)
          longer.joins |= (uint64_t)1 << f->options[o].to;
        list_paths (l, level, f->options[o].to, longer);
      }
}

/* b1 >= b2 <= b3 ... or b1 <= b2 >= b3 ... */
static bool
is_in_turn (const listing *l, const path *const *chosen)
{
  uint32_t levels = l->f->strips[1].level_count;
  bool down_up = true, up_down = true;
  for (uint32_t r = 0; r + 1 < levels; r++)
    {
      if (l->clause && (chosen[r]->joins == 0 || chosen[r + 1]->joins == 0))
        continue;
      bool rises = chosen[r]->first<chosen[r + 1]->first, falls = chosen[r]->first> chosen[r + 1]->first;
      if (r % 2 == 0 ? rises : falls)
        down_up = false;
      if (r % 2 == 0 ? falls : rises)
        up_down = false;
    }
  return down_up || up_down;
}

static int64_t
aligned_of (const fixture *f, const path *const *chosen)
{
  int64_t pairs = 0;
  for (uint32_t r = 0; r + 1 < f->strips[1].level_count; r++)
    for (uint32_t p = 1; p < f->strips[1].bays; p++)
      if (f->counted[p] && (chosen[r]->joins & chosen[r + 1]->joins) >> p & 1)
        pairs++;
  return f->model.stagger ? pairs : 0;
}

/* Options of a path: the pieces between its joins. */
static void
lower_through (listing *l, uint32_t level, const path *p, sw_wide sum)
{
  const fixture *f = l->f;
  uint32_t from = 0;
  for (uint32_t to = 1; to <= f->strips[1].bays; to++)
    if (to == f->strips[1].bays || (p->joins >> to & 1))
      {
        for (size_t o = f->levels[level].option_first;
             o < f->levels[level].option_first + f->levels[level].option_count; o++)
          if (f->options[o].from == from && f->options[o].to == to && sum < l->through[o])
            l->through[o] = sum;
        from = to;
      }
}

static void
combine (listing *l, uint32_t level, const path **chosen)
{
  const fixture *f = l->f;
  if (level < f->strips[1].level_count)
    {
      for (size_t i = 0; i < l->count[level]; i++)
        {
          chosen[level] = &l->paths[level][i];
          combine (l, level + 1, chosen);
        }
      return;
    }
  if (f->model.turn && !is_in_turn (l, chosen))
    return;
  sw_wide sum = aligned_of (f, chosen) * l->weight;
  for (uint32_t r = 0; r < level; r++)
    sum += chosen[r]->cost;
  l->layouts++;
  if (sum < l->best)
    l->best = sum;
  for (uint32_t r = 0; r < level; r++)
    lower_through (l, r, chosen[r], sum);
}

/* False: too many layouts to list. */
static bool
list_all (listing *l, const fixture *f, sw_wide weight, bool clause)
{
  *l = (listing){ .f = f, .weight = weight, .clause = clause, .best = SW_STRIP_NONE };
  size_t product = 1;
  for (size_t o = 0; o < ALL_OPTIONS; o++)
    l->through[o] = SW_STRIP_NONE;
  for (uint32_t r = 0; r < f->strips[1].level_count; r++)
    {
      list_paths (l, r, 0, (path){ 0 });
      product *= l->count[r];
    }
  if (product > MOST_LAYOUTS)
    return false;
  const path *chosen[MOST_ROWS];
  combine (l, 0, chosen);
  return true;
}

/* ---- What the library says ---- */

typedef struct answer
{
  sw_status status;
  sw_wide value;
  int64_t aligned;
  uint8_t used[ALL_OPTIONS];
  sw_wide through[ALL_OPTIONS];
} answer;

static void
ask (const fixture *f, sw_wide weight, answer *a)
{
  memset (a, 0, sizeof *a);
  memset (a->used, 9, sizeof a->used);
  for (size_t o = 0; o < ALL_OPTIONS; o++)
    a->through[o] = -123;
  a->status
      = sw_strip_best (&f->model, &f->strips[1], f->price, weight, work, &a->value, &a->aligned, a->used, a->through);
}

/* The layout in USED is one of those listed and is worth what was said. */
static void
expect_layout (const fixture *f, sw_wide weight, const answer *a)
{
  path levels[MOST_ROWS];
  const path *chosen[MOST_ROWS];
  sw_wide sum = 0;
  for (uint32_t r = 0; r < f->strips[1].level_count; r++)
    {
      uint32_t post = 0;
      levels[r] = (path){ 0 };
      for (size_t o = f->levels[r].option_first; o < f->levels[r].option_first + f->levels[r].option_count; o++)
        {
          if (!a->used[o])
            continue;
          ck_assert (a->used[o] == 1 && f->options[o].from == post);
          if (post == 0)
            levels[r].first = f->options[o].to;
          post = f->options[o].to;
          if (post < f->strips[1].bays)
            levels[r].joins |= (uint64_t)1 << post;
          sum += f->price[o];
        }
      ck_assert_uint_eq (post, f->strips[1].bays);
      chosen[r] = &levels[r];
    }
  listing l = { .f = f, .clause = true };
  ck_assert (!f->model.turn || is_in_turn (&l, chosen));
  ck_assert_int_eq (a->aligned, aligned_of (f, chosen));
  ck_assert (sum + a->aligned * weight == a->value);
}

static void
expect_answer (const fixture *f, sw_wide weight, const listing *l)
{
  answer a, again;
  ask (f, weight, &a);
  ck_assert_int_eq (a.status, l->best < SW_STRIP_NONE ? SW_OK : SW_NO_PLAN);
  bool untouched = true;
  for (size_t o = 0; o < ALL_OPTIONS; o++)
    if (o < BEFORE || o >= f->model.option_count)
      untouched = untouched && a.used[o] == 9 && a.through[o] == -123;
  ck_assert (untouched);
  if (a.status != SW_OK)
    return;
  ck_assert (a.value == l->best);
  expect_layout (f, weight, &a);
  bool same = true;
  for (size_t o = BEFORE; o < f->model.option_count; o++)
    same = same && a.through[o] == l->through[o];
  ck_assert (same);
  /* The same again, and without what is not asked for. */
  ask (f, weight, &again);
  ck_assert_mem_eq (a.used, again.used, sizeof a.used);
  ck_assert_int_eq (sw_strip_best (&f->model, &f->strips[1], f->price, weight, work, NULL, NULL, again.used, NULL),
                    SW_OK);
  ck_assert_mem_eq (a.used, again.used, sizeof a.used);
  ck_assert_int_eq (sw_strip_best (&f->model, &f->strips[1], f->price, weight, work, NULL, NULL, NULL, NULL), SW_OK);
}

/* ---- Random strips ---- */

static void
make_random (fixture *f, uint64_t *state, bool stagger)
{
  uint32_t bays = (uint32_t)chance (state, 1, MOST_BAYS), levels = (uint32_t)chance (state, 1, MOST_ROWS);
  begin (f, levels, bays, stagger);
  int64_t longest = chance (state, 1, bays), density = chance (state, 4, 10);
  for (uint32_t r = 0; r < levels; r++)
    {
      uint64_t allowed = piece (0, 1);
      for (uint32_t from = 0; from < bays; from++)
        for (uint32_t to = from + 1; to <= bays; to++)
          if ((to - from <= longest || one_in (state, 12)) && chance (state, 1, 10) <= density)
            allowed |= piece (from, to);
      add_level (f, r, allowed);
    }
  for (uint32_t p = 1; p < bays; p++)
    f->counted[p] = !one_in (state, 6);
  /* Small prices make many ties; some are negative, some near the limit. */
  int64_t most = one_in (state, 4) ? ((int64_t)1 << 62) - 1 : one_in (state, 2) ? 3 : 1000;
  for (size_t o = BEFORE; o < f->model.option_count; o++)
    f->price[o] = chance (state, one_in (state, 8) ? -most : 0, most);
}

/* _i 0: no stagger; 1: aligned pairs before all; 2: not weighed; 3: weighed with the prices; 4: not kept in turn. */
START_TEST (random_strips_are_laid_out_best)
{
  static const sw_wide weights[] = { 0, SW_ALIGNED_FIRST, 0, 7, SW_ALIGNED_FIRST };
  static listing l, plain;
  uint64_t state = 1000 + (uint64_t)_i;
  const bool turn = _i > 0 && _i < 4;
  int listed = 0, impossible = 0, clause_mattered = 0, turn_mattered = 0;
  for (int round = 0; round < 400; round++)
    {
      fixture f;
      make_random (&f, &state, _i > 0);
      f.model.turn = turn;
      if (!list_all (&l, &f, weights[_i], true))
        continue;
      listed++;
      impossible += l.best >= SW_STRIP_NONE;
      list_all (&plain, &f, weights[_i], false);
      clause_mattered += plain.best != l.best;
      expect_answer (&f, weights[_i], &l);
      f.model.turn = true;
      list_all (&plain, &f, weights[_i], true);
      turn_mattered += plain.best != l.best;
    }
  ck_assert_int_gt (listed, 300);
  ck_assert_int_gt (impossible, 5);
  ck_assert_int_lt (impossible, listed / 2);
  if (turn)
    ck_assert_int_gt (clause_mattered, 3);
  else if (_i > 0)
    ck_assert_int_gt (turn_mattered, 3);
}
END_TEST

/* ---- The rules by hand ---- */

static uint64_t
all_pieces (uint32_t bays, uint32_t longest)
{
  uint64_t allowed = 0;
  for (uint32_t from = 0; from < bays; from++)
    for (uint32_t to = from + 1; to <= bays && to <= from + longest; to++)
      allowed |= piece (from, to);
  return allowed;
}

/* Six bays of three rails, two bays a piece at most, a price a piece: A-B-A with eight doubles and two singles. */
START_TEST (six_bays_of_three_rails)
{
  fixture f;
  answer a;
  begin (&f, 3, 6, true);
  for (uint32_t r = 0; r < 3; r++)
    add_level (&f, r, all_pieces (6, 2));
  for (size_t o = BEFORE; o < f.model.option_count; o++)
    f.price[o] = 1;
  ask (&f, SW_ALIGNED_FIRST, &a);
  ck_assert_int_eq (a.status, SW_OK);
  ck_assert_int_eq (a.aligned, 0);
  ck_assert_int_eq ((int64_t)a.value, 10);
  int doubles = 0;
  for (size_t o = BEFORE; o < f.model.option_count; o++)
    doubles += a.used[o] && f.options[o].to - f.options[o].from == 2;
  ck_assert_int_eq (doubles, 8);
}
END_TEST

/* Where no piece spans two bays all joins line up: two pairs a post of three rails. */
START_TEST (single_bays_line_up_everywhere)
{
  fixture f;
  answer a;
  begin (&f, 3, 4, true);
  for (uint32_t r = 0; r < 3; r++)
    add_level (&f, r, all_pieces (4, 1));
  ask (&f, SW_ALIGNED_FIRST, &a);
  ck_assert_int_eq (a.status, SW_OK);
  ck_assert_int_eq (a.aligned, 6);
  /* A post at which joins are always made is not counted. */
  f.counted[2] = 0;
  ask (&f, SW_ALIGNED_FIRST, &a);
  ck_assert_int_eq (a.aligned, 4);
  ck_assert (a.value == 4 * SW_ALIGNED_FIRST);
}
END_TEST

/* First pieces 2, 3, 2, 1 rise, fall, fall: not in turn, unless the second level, being one piece, is not looked at. */
START_TEST (a_level_of_one_piece_frees_its_pairs)
{
  for (int whole = 0; whole < 2; whole++)
    {
      fixture f;
      answer a;
      uint32_t bays = whole ? 3 : 4;
      begin (&f, 4, bays, true);
      add_level (&f, 0, piece (0, 2) | piece (2, bays));
      add_level (&f, 1, whole ? piece (0, 3) : piece (0, 3) | piece (3, 4));
      add_level (&f, 2, piece (0, 2) | piece (2, bays));
      add_level (&f, 3, piece (0, 1) | piece (1, bays));
      ask (&f, SW_ALIGNED_FIRST, &a);
      ck_assert_int_eq (a.status, whole ? SW_OK : SW_NO_PLAN);
    }
}
END_TEST

/* A dear layout without an aligned pair comes before a cheap one with a pair. */
START_TEST (aligned_pairs_come_before_prices)
{
  fixture f;
  answer a;
  begin (&f, 2, 2, true);
  add_level (&f, 0, all_pieces (2, 1));
  add_level (&f, 1, all_pieces (2, 2));
  int64_t most = ((int64_t)1 << 62) - 1;
  for (size_t o = BEFORE; o < f.model.option_count; o++)
    f.price[o] = f.options[o].to - f.options[o].from == 2 ? most : -most;
  ask (&f, SW_ALIGNED_FIRST, &a);
  ck_assert_int_eq (a.aligned, 0);
  ck_assert (a.value == -(sw_wide)most);
  ask (&f, 0, &a);
  ck_assert_int_eq (a.aligned, 1);
  ck_assert (a.value == -4 * (sw_wide)most);
}
END_TEST

/* ---- Too wide ---- */

START_TEST (states_are_bounded)
{
  sw_strip_level levels[20] = { { 0 } };
  sw_strip strip = { .bays = 9, .level_count = 1, .levels = levels };
  for (int r = 0; r < 20; r++)
    levels[r].reach = 5;
  ck_assert_uint_eq (sw_strip_states (&strip), 5);
  strip.level_count = 3;
  ck_assert_uint_eq (sw_strip_states (&strip), 125);
  strip.level_count = 10;
  ck_assert_uint_eq (sw_strip_states (&strip), SW_STATES + 1);
  for (int r = 0; r < 20; r++)
    levels[r].reach = 1;
  strip.level_count = 17;
  ck_assert_uint_eq (sw_strip_states (&strip), SW_STATES + 1);
  levels[0].reach = SW_STATES + 1;
  strip.level_count = 1;
  ck_assert_uint_eq (sw_strip_states (&strip), SW_STATES + 1);
  levels[0].reach = SW_STATES;
  ck_assert_uint_eq (sw_strip_states (&strip), SW_STATES);
}
END_TEST

START_TEST (too_wide_a_strip_is_refused)
{
  sw_strip_level levels[17] = { { 0 } };
  for (int r = 0; r < 17; r++)
    levels[r].reach = 1;
  uint8_t counted[2] = { 1, 1 };
  sw_strip strip = { .bays = 1, .level_count = 17, .levels = levels, .counted = counted };
  sw_model model = { .strip_count = 1, .strips = &strip, .stagger = true, .turn = true };
  ck_assert (!sw_strip_is_exact (&model, &strip));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("strip");
  TCase *random = tcase_create ("random strips");
  tcase_add_checked_fixture (random, setup, teardown);
  tcase_set_timeout (random, 120);
  tcase_add_loop_test (random, random_strips_are_laid_out_best, 0, 5);
  suite_add_tcase (suite, random);
  TCase *rules = tcase_create ("rules");
  tcase_add_checked_fixture (rules, setup, teardown);
  tcase_add_test (rules, six_bays_of_three_rails);
  tcase_add_test (rules, single_bays_line_up_everywhere);
  tcase_add_test (rules, a_level_of_one_piece_frees_its_pairs);
  tcase_add_test (rules, aligned_pairs_come_before_prices);
  tcase_add_test (rules, states_are_bounded);
  tcase_add_test (rules, too_wide_a_strip_is_refused);
  suite_add_tcase (suite, rules);
  return suite_run (suite);
}
