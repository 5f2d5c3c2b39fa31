/* check_model.c - a layout as integer programmes
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "chance.h"
#include "model_job.h"
#include "model/model.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

static void
model_it (void)
{
  ck_assert_int_eq (sw_layout_new (&layout, job, NULL), SW_OK);
  ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
}

static const sw_need *
need_of (const sw_model *model, size_t i)
{
  ck_assert_uint_lt (i, model->need_count);
  return &model->needs[i];
}

static void
expect_stock (const sw_model *model, size_t i, size_t stock, bool hand, int64_t room, int64_t cost, int64_t limit)
{
  ck_assert_uint_lt (i, model->stock_count);
  const sw_model_stock *s = &model->stocks[i];
  ck_assert_uint_eq (s->of_job, stock);
  ck_assert_int_eq (s->hand, hand);
  ck_assert_int_eq (s->room, room);
  ck_assert_int_eq (s->cost, cost);
  ck_assert_int_eq (s->limit, limit);
}

/* ---- What belongs together ---- */

/* Plinth, two rails and a capping, of three sections, and an extra of a fourth. */
static void
make_garden (void)
{
  job_level (job, "plinth", "board", false);
  job_level (job, "low", "rail", true);
  job_level (job, "high", "rail", true);
  job_level (job, "cap", "cap", true);
  job_extra (job, "stake", "post", 1200 * SW_MM);
  job_stock (job, "board", 4800 * SW_MM);
  job_stock (job, "rail", 4800 * SW_MM);
  job_stock (job, "cap", 5400 * SW_MM);
  job_stock (job, "post", 4800 * SW_MM);
  job_even_run (job, "road", 4, 2350 * SW_MM, 100 * SW_MM);
  job_even_run (job, "side", 3, 2000 * SW_MM, 100 * SW_MM);
}

START_TEST (levels_that_stagger_are_one_model)
{
  make_garden ();
  model_it ();
  /* board; rail with cap; post */
  ck_assert_uint_eq (count, 3);
  ck_assert_uint_eq (models[0].section_count, 1);
  ck_assert_uint_eq (models[0].strip_count, 0);
  ck_assert_uint_eq (models[1].section_count, 2);
  ck_assert_uint_eq (models[1].strip_count, 2);
  for (size_t s = 0; s < 2; s++)
    {
      const sw_strip *strip = &models[1].strips[s];
      ck_assert_uint_eq (strip->stretch, s);
      ck_assert_uint_eq (strip->bays, s == 0 ? 4 : 3);
      ck_assert_uint_eq (strip->level_count, 3);
      for (size_t r = 0; r < 3; r++)
        ck_assert_uint_eq (strip->levels[r].of_job, 1 + r);
    }
  ck_assert_uint_eq (models[2].section_count, 1);
  ck_assert_uint_eq (models[2].strip_count, 0);
  ck_assert_uint_eq (models[2].need_count, 1);
  ck_assert (!models[0].layout->job->priced && models[1].stagger);
}
END_TEST

START_TEST (without_stagger_sections_are_apart)
{
  job->settings->stagger = SW_STAGGER_OFF;
  make_garden ();
  model_it ();
  ck_assert_uint_eq (count, 4);
  /* In the order of their sections: board, rail, cap, post. */
  static const size_t strips[] = { 0, 4, 2, 0 };
  for (size_t m = 0; m < 4; m++)
    {
      ck_assert_uint_eq (models[m].section_count, 1);
      ck_assert_uint_eq (models[m].sections[0].of_job, m);
      ck_assert_uint_eq (models[m].strip_count, strips[m]);
      ck_assert (!models[m].stagger);
      for (size_t s = 0; s < models[m].strip_count; s++)
        ck_assert_uint_eq (models[m].strips[s].level_count, 1);
    }
}
END_TEST

/* Two sections meet through a third even when they are not neighbours. */
START_TEST (sections_are_chained)
{
  job_level (job, "1", "a", true);
  job_level (job, "2", "b", true);
  job_level (job, "3", "c", true);
  job_stock (job, "a", 4800 * SW_MM);
  job_stock (job, "b", 4800 * SW_MM);
  job_stock (job, "c", 4800 * SW_MM);
  job_stock (job, "spare", 4800 * SW_MM);
  job_even_run (job, "road", 2, 2000 * SW_MM, 100 * SW_MM);
  model_it ();
  ck_assert_uint_eq (count, 1);
  ck_assert_uint_eq (models[0].section_count, 3);
}
END_TEST

START_TEST (extras_alone_make_models)
{
  job_extra (job, "x", "a", 1000 * SW_MM)->quantity = 7;
  job_extra (job, "y", "b", 500 * SW_MM);
  job_extra (job, "z", "a", 1000 * SW_MM);
  job_stock (job, "a", 4800 * SW_MM);
  job_stock (job, "b", 4800 * SW_MM);
  model_it ();
  ck_assert_uint_eq (count, 2);
  ck_assert_uint_eq (models[0].option_count, 0);
  ck_assert_int_eq (need_of (&models[0], 0)->demand, 8);
  ck_assert_int_eq (need_of (&models[0], 0)->most, 8);
  ck_assert_int_eq (need_of (&models[1], 0)->demand, 1);
}
END_TEST

/* ---- Lengths ---- */

/* 2400 and 1497 with a kerf of 3: 2403 and 1500, whose common measure is 3. */
START_TEST (unit_is_the_common_measure_with_kerf)
{
  job->settings->kerf = 3 * SW_MM;
  job->settings->end_trim = 5 * SW_MM;
  job_extra (job, "long", "a", 2400 * SW_MM);
  job_extra (job, "short", "a", 1497 * SW_MM);
  job_stock (job, "a", 4800 * SW_MM);
  model_it ();
  ck_assert_int_eq (models[0].sections[0].unit, 3 * SW_MM);
  ck_assert_int_eq (need_of (&models[0], 0)->size, 801);
  ck_assert_int_eq (need_of (&models[0], 1)->size, 500);
  /* 4800 - 2 * 5 + 3 = 4793, rounded down to 1597 threes. */
  expect_stock (&models[0], 0, 0, false, 1597, 1, -1);
}
END_TEST

/* Two of 2400 come out of 4800 without a kerf; with 3 mm two of 2398 do (1 mm is left), two of 2400 do not. */
START_TEST (two_pieces_and_a_kerf)
{
  static const int64_t cut[] = { 2400, 2400, 2398, 2399 };
  static const int64_t kerf[] = { 0, 3, 3, 3 };
  static const bool both[] = { true, false, true, false };
  for (size_t i = 0; i < 4; i++)
    {
      sw_job *small = job_make ();
      sw_layout *laid = NULL;
      small->settings->kerf = kerf[i] * SW_MM;
      job_extra (small, "x", "a", cut[i] * SW_MM)->quantity = 2;
      job_stock (small, "a", 4800 * SW_MM);
      ck_assert_int_eq (sw_layout_new (&laid, small, NULL), SW_OK);
      sw_model *model = NULL;
      size_t one = 0;
      ck_assert_int_eq (sw_models_new (&model, &one, laid), SW_OK);
      ck_assert_uint_eq (one, 1);
      ck_assert_msg ((2 * model->needs[0].size <= model->stocks[0].room) == both[i], "%zu", i);
      sw_models_free (model, one);
      sw_layout_free (laid);
      job_drop (small);
    }
}
END_TEST

/* ---- Supplies and costs ---- */

START_TEST (supplies_are_yard_and_hand)
{
  job_extra (job, "x", "a", 2000 * SW_MM);
  job_stock (job, "a", 1800 * SW_MM); /* takes nothing */
  job_stock (job, "a", 2400 * SW_MM)->hand = 3;
  sw_stock *only_hand = job_stock (job, "a", 3000 * SW_MM);
  only_hand->limit = 0;
  only_hand->hand = 2;
  job_stock (job, "a", 3600 * SW_MM)->limit = 4;
  job_stock (job, "a", 4800 * SW_MM)->limit = 0; /* none */
  model_it ();
  const sw_model *m = &models[0];
  ck_assert_uint_eq (m->stock_count, 4);
  /* A unit is 2000 mm; a granule 1200 mm. */
  expect_stock (m, 0, 1, false, 1, 2, -1);
  expect_stock (m, 1, 1, true, 1, 0, 3);
  expect_stock (m, 2, 2, true, 1, 0, 2);
  expect_stock (m, 3, 3, false, 1, 3, 4);
  ck_assert_int_eq (m->granule, 1200 * SW_MM);
  ck_assert_uint_eq (m->sections[0].stock_first, 0);
  ck_assert_uint_eq (m->sections[0].stock_count, 4);
}
END_TEST

START_TEST (limits_are_seen)
{
  job_extra (job, "x", "a", 2000 * SW_MM);
  job_extra (job, "y", "a", 1000 * SW_MM);
  job_stock (job, "a", 1200 * SW_MM);
  sw_stock *longer = job_stock (job, "a", 2400 * SW_MM);
  longer->limit = 1;
  model_it ();
  ck_assert_uint_eq (models[0].stock_count, 2);
  expect_stock (&models[0], 0, 0, false, 1, 1, -1);
  expect_stock (&models[0], 1, 1, false, 2, 2, 1);
}
END_TEST

/* A length is left out where another is as long, costs no more, and can be had without limit; not for one that is
 * shorter, dearer or limited, and never out of what is on hand. */
START_TEST (lengths_that_another_stands_in_for_are_left_out)
{
  static const struct
  {
    int length, price, limit, hand;
  } rows[] = { { 2400, 6, -1, 0 }, { 3000, 9, -1, 2 }, { 3600, 8, -1, 0 },
               { 4200, 8, 5, 0 },  { 4800, 12, 3, 0 }, { 5400, 12, -1, 0 } };
  job->priced = true;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
    {
      sw_stock *stock = job_stock (job, "rail", rows[i].length * SW_MM);
      stock->price = rows[i].price * SW_MONEY_UNIT;
      stock->limit = rows[i].limit;
      stock->hand = rows[i].hand;
    }
  job_extra (job, "post", "rail", 2000 * SW_MM);
  model_it ();
  ck_assert_uint_eq (models[0].stock_count, 5);
  static const size_t left[] = { 0, 1, 2, 3, 5 };
  static const int64_t cost[] = { 3, 0, 4, 4, 6 };
  for (size_t i = 0; i < 5; i++)
    {
      ck_assert_uint_eq (models[0].stocks[i].of_job, left[i]);
      ck_assert_int_eq (models[0].stocks[i].hand, left[i] == 1);
      ck_assert_int_eq (models[0].stocks[i].cost, cost[i]);
    }
}
END_TEST

/* Without prices a length costs its metres, so that none is dearer than a longer one. */
START_TEST (without_prices_all_lengths_stay)
{
  for (int i = 0; i < 20; i++)
    job_stock (job, "rail", (2400 + i * 37) * SW_MM);
  job_extra (job, "post", "rail", 2000 * SW_MM);
  model_it ();
  ck_assert_uint_eq (models[0].stock_count, 20);
}
END_TEST

START_TEST (granule_of_prices_and_joins)
{
  job->priced = true;
  job->settings->join_cost = 2500000; /* 2.50 */
  job_level (job, "low", "rail", true);
  job_extra (job, "x", "other", 1000 * SW_MM);
  job_stock (job, "rail", 4800 * SW_MM)->price = 20 * SW_MONEY_UNIT;
  job_stock (job, "rail", 5400 * SW_MM)->price = 24 * SW_MONEY_UNIT;
  job_stock (job, "other", 4800 * SW_MM)->price = 12 * SW_MONEY_UNIT;
  job_even_run (job, "road", 2, 2000 * SW_MM, 100 * SW_MM);
  model_it ();
  ck_assert_uint_eq (count, 2);
  ck_assert_int_eq (models[0].granule, 500000);
  ck_assert_int_eq (models[0].join_cost, 5);
  /* Pieces of 2050 and 4100 mm. */
  expect_stock (&models[0], 0, 0, false, 2, 40, -1);
  expect_stock (&models[0], 1, 1, false, 2, 48, -1);
  /* No joins there: whole twelves. */
  ck_assert_int_eq (models[1].granule, 12 * SW_MONEY_UNIT);
  expect_stock (&models[1], 0, 2, false, 4, 1, -1);
}
END_TEST

START_TEST (free_stock_has_a_granule)
{
  job->priced = true;
  job_extra (job, "x", "a", 1000 * SW_MM);
  job_stock (job, "a", 4800 * SW_MM)->price = 0;
  model_it ();
  ck_assert_int_eq (models[0].granule, 1);
  ck_assert_int_eq (models[0].stocks[0].cost, 0);
}
END_TEST

/* ---- Strips ---- */

START_TEST (forced_joins_are_not_counted)
{
  job_level (job, "low", "rail", true);
  job_level (job, "high", "rail", true);
  job_stock (job, "rail", 4800 * SW_MM);
  job_run (job, "road", 100 * SW_MM);
  for (int b = 0; b < 6; b++)
    {
      sw_bay *bay = job_bay (job, 1500 * SW_MM, 100 * SW_MM);
      bay->opening = b == 2;
      job_last_post (job)->join = b == 0 || b == 4 ? SW_JOIN_ALWAYS : SW_JOIN_MAY;
    }
  job_close (job);
  model_it ();
  /* The gate leaves two strips: bays 1 and 2, and 4 to 6; joins are forced on posts 2 and 6. */
  ck_assert_uint_eq (count, 1);
  ck_assert_uint_eq (models[0].strip_count, 2);
  const sw_strip *left = &models[0].strips[0], *right = &models[0].strips[1];
  ck_assert_uint_eq (left->bays, 2);
  ck_assert_uint_eq (right->bays, 3);
  ck_assert (!left->counted[1]);
  ck_assert (right->counted[1]);
  ck_assert (!right->counted[2]);
}
END_TEST

/* ---- What holds for every model ---- */

static void
make_random (uint64_t *state)
{
  static const char *const sections[] = { "a", "b", "c" };
  static const char *const names[] = { "l1", "l2", "l3", "l4" };
  int64_t levels = chance (state, 0, 4), runs = levels > 0 ? chance (state, 1, 3) : 0;
  job->settings->kerf = chance (state, 0, 4) * SW_MM;
  job->settings->end_trim = chance (state, 0, 10) * SW_MM;
  job->settings->stagger = (sw_stagger)chance (state, 0, 2);
  for (int64_t l = 0; l < levels; l++)
    {
      sw_level *level = job_level (job, names[l], sections[chance (state, 0, 2)], !one_in (state, 4));
      level->blocks = chance (state, 0, 2);
      level->block_length = 150 * SW_MM;
    }
  for (int64_t r = 0; r < runs; r++)
    {
      job_run (job, names[r], 100 * SW_MM);
      int64_t bays = chance (state, 1, 7);
      for (int64_t b = 0; b < bays; b++)
        {
          job_bay (job, chance (state, 90, 240) * 10 * SW_MM, 100 * SW_MM)->opening = one_in (state, 6);
          job_last_post (job)->join = one_in (state, 6) ? SW_JOIN_ALWAYS : SW_JOIN_MAY;
        }
      job_close (job);
    }
  for (int64_t e = levels > 0 ? chance (state, 0, 2) : 2; e > 0; e--)
    job_extra (job, "x", sections[chance (state, 0, 2)], chance (state, 300, 3000) * SW_MM)->quantity
        = chance (state, 1, 9);
  for (size_t s = 0; s < job->sections.count; s++)
    for (int64_t length = chance (state, 5000, 6000); length > 1000; length -= chance (state, 600, 3000))
      {
        sw_stock *stock = job_stock (job, job->sections.items[s].name, length * SW_MM);
        stock->hand = chance (state, 0, 2);
      }
}

/* Largest first, sizes in whole units, and the unit the largest that does. */
static void
expect_section (const sw_model *m, const sw_model_section *g, int *item_seen)
{
  sw_length common = 0;
  ck_assert_uint_ge (g->need_count, 1);
  for (size_t n = g->need_first; n < g->need_first + g->need_count; n++)
    {
      const sw_need *need = &m->needs[n];
      const sw_item *item = &layout->items[need->item];
      ck_assert_uint_eq (m->sections[need->section].need_first, g->need_first);
      ck_assert_uint_eq (item->section, g->of_job);
      ck_assert_int_eq (need->size * g->unit, item->take + job->settings->kerf);
      ck_assert_int_eq (need->demand, item->demand);
      ck_assert (n == g->need_first || need->size < m->needs[n - 1].size);
      item_seen[need->item]++;
      sw_length a = need->size, b = common;
      while (b != 0)
        {
          sw_length rest = a % b;
          a = b;
          b = rest;
        }
      common = a;
    }
  ck_assert_int_eq (common, 1);
  for (size_t s = g->stock_first; s < g->stock_first + g->stock_count; s++)
    {
      const sw_model_stock *stock = &m->stocks[s];
      const sw_stock *bought = &job->stocks.items[stock->of_job];
      ck_assert_uint_eq (bought->section, g->of_job);
      ck_assert_int_eq (stock->room, (bought->length - 2 * job->settings->end_trim + job->settings->kerf) / g->unit);
      ck_assert_int_eq (stock->cost * m->granule, stock->hand ? 0 : bought->length);
    }
}

static void
expect_strip (const sw_model *m, size_t s, int *arc_seen, int64_t *uses)
{
  const sw_strip *strip = &m->strips[s];
  const sw_stretch *stretch = &layout->stretches[strip->stretch];
  ck_assert_int_eq (strip->aligned_floor, 0);
  ck_assert_uint_eq (sw_strip_end (strip), s + 1 < m->strip_count ? sw_strip_first (strip + 1) : m->option_count);
  for (uint32_t r = 0; r < strip->level_count; r++)
    {
      const sw_strip_level *row = &strip->levels[r];
      ck_assert_uint_eq (row->option_first, r > 0 ? row[-1].option_first + row[-1].option_count : sw_strip_first (strip));
      for (size_t i = 0; i < row->option_count; i++)
        {
          size_t o = row->option_first + i;
          const sw_option *option = &m->options[o];
          const sw_arc *arc = &layout->arcs[option->arc];
          ck_assert_uint_eq (option->strip, s);
          ck_assert_uint_eq (option->level, r);
          ck_assert_uint_eq (arc->level, row->of_job);
          ck_assert_uint_eq (arc->from, stretch->first + option->from);
          ck_assert_uint_eq (arc->to, stretch->first + option->to);
          ck_assert_uint_eq (m->needs[option->need].item, arc->item);
          ck_assert_uint_le (option->to - option->from, row->reach);
          ck_assert_int_eq (row->at[option->to * row->reach + option->to - option->from - 1], (int32_t)o);
          ck_assert (i == 0 || option->from > option[-1].from
                     || (option->from == option[-1].from && option->to > option[-1].to));
          arc_seen[option->arc]++;
          uses[option->need]++;
        }
      size_t filled = 0;
      for (size_t cell = 0; cell < (strip->bays + 1) * (size_t)row->reach; cell++)
        filled += row->at[cell] >= 0;
      ck_assert_uint_eq (filled, row->option_count);
    }
}

START_TEST (random_jobs_are_modelled_whole)
{
  uint64_t state = 9;
  int modelled = 0;
  for (int round = 0; round < 400; round++)
    {
      make_random (&state);
      /* Some fences cannot be laid out: not this suite's business. */
      if (sw_layout_new (&layout, job, NULL) == SW_OK)
        {
          modelled++;
          ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
          int *item_seen = calloc (layout->item_count + 1, sizeof *item_seen);
          int *arc_seen = calloc (layout->arc_count + 1, sizeof *arc_seen);
          ck_assert (item_seen != NULL && arc_seen != NULL);
          for (size_t m = 0; m < count; m++)
            {
              int64_t *uses = calloc (models[m].need_count, sizeof *uses);
              ck_assert_ptr_nonnull (uses);
              for (size_t g = 0; g < models[m].section_count; g++)
                expect_section (&models[m], &models[m].sections[g], item_seen);
              for (size_t s = 0; s < models[m].strip_count; s++)
                expect_strip (&models[m], s, arc_seen, uses);
              for (size_t n = 0; n < models[m].need_count; n++)
                ck_assert_int_eq (models[m].needs[n].most, models[m].needs[n].demand + uses[n]);
              free (uses);
            }
          for (size_t i = 0; i < layout->item_count; i++)
            ck_assert_int_eq (item_seen[i], 1);
          for (size_t a = 0; a < layout->arc_count; a++)
            ck_assert_int_eq (arc_seen[a], 1);
          free (item_seen);
          free (arc_seen);
        }
      model_teardown ();
      model_setup ();
    }
  ck_assert_int_gt (modelled, 100);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("model");
  TCase *parts = tcase_create ("models");
  tcase_add_checked_fixture (parts, model_setup, model_teardown);
  tcase_set_timeout (parts, 60);
  tcase_add_test (parts, levels_that_stagger_are_one_model);
  tcase_add_test (parts, without_stagger_sections_are_apart);
  tcase_add_test (parts, sections_are_chained);
  tcase_add_test (parts, extras_alone_make_models);
  tcase_add_test (parts, unit_is_the_common_measure_with_kerf);
  tcase_add_test (parts, two_pieces_and_a_kerf);
  tcase_add_test (parts, supplies_are_yard_and_hand);
  tcase_add_test (parts, limits_are_seen);
  tcase_add_test (parts, lengths_that_another_stands_in_for_are_left_out);
  tcase_add_test (parts, without_prices_all_lengths_stay);
  tcase_add_test (parts, granule_of_prices_and_joins);
  tcase_add_test (parts, free_stock_has_a_granule);
  tcase_add_test (parts, forced_joins_are_not_counted);
  tcase_add_test (parts, random_jobs_are_modelled_whole);
  suite_add_tcase (suite, parts);
  return suite_run (suite);
}
