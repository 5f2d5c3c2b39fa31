/* check_compare.c - choices of stock lengths side by side
 *
 * Tipping prices are compared with all solutions (brute.c), with which the
 * search for them shares nothing.  Figures are compared with plans of jobs that
 * have no other stock.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "brute.h"
#include "chance.h"
#include "compare/compare.h"
#include "layout_job.h"
#include "base/memory.h"
#include "plan_fixture.h"
#include "remarks.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

#define CENT (SW_MONEY_UNIT / 100)

static sw_report *report;
static sw_comparison *comparison;

static void
setup (void)
{
  report = sw_report_new ();
  ck_assert_ptr_nonnull (report);
  comparison = NULL;
}

static void
teardown (void)
{
  sw_comparison_free (comparison);
  sw_report_free (report);
}

/* Six bays of two rails, a capping and a plinth between posts.  Prices are by the metre and by the
 * length; two boards are on hand. */
static const fixture_texts fence = {
  .spans = "run,span\nroad,2350\nroad,2360\nroad,2340\nroad,2355\nroad,2345\nroad,2350\n",
  .levels = "level,section,runs\nplinth,150x25,between\nlow,90x45,\nhigh,90x45,\ncap,100x25,\n",
  .stock = "section,length,price,per,hand\n"
           "90x45,4.8,5.10,metre,\n90x45,5.4,5.45,metre,\n90x45,3.6,5.10,metre,1\n"
           "100x25,4.8,18.50,length,\n100x25,5.4,21.50,length,1\n"
           "150x25,2.4,3.60,metre,\n150x25,4.8,3.40,metre,\n",
};

static sw_status
compare (const sw_job *job, const char *const *choices, size_t count)
{
  sw_comparison_free (comparison);
  comparison = NULL;
  return sw_compare (&comparison, job, choices, count, NULL, report);
}

static sw_compared
got (size_t index)
{
  sw_compared out;
  ck_assert (sw_comparison_get (comparison, index, &out));
  return out;
}

/* ---- Figures -------------------------------------------------------------------------- */

/* FENCE with only 4.8 m, and what is on hand and is for the plinth. */
static const char cut_down[] = "section,length,price,per,hand,limit\n"
                               "90x45,4.8,5.10,metre,,\n90x45,3.6,5.10,metre,1,0\n"
                               "100x25,4.8,18.50,length,,\n100x25,5.4,21.50,length,1,0\n"
                               "150x25,2.4,3.60,metre,,\n150x25,4.8,3.40,metre,,\n";

START_TEST (figures_are_those_of_a_job_without_other_stock)
{
  static const char *const choices[] = { "4.8", "4.8,5.4", "4.8;100x25=5.4" };
  fixture_texts texts = fence;
  sw_job *job = fixture_job (&fence);
  ck_assert_int_eq (compare (job, choices, 3), SW_OK);
  texts.stock = cut_down;
  sw_job *small = fixture_job (&texts);
  sw_plan *plan = NULL;
  ck_assert_int_eq (sw_plan_make (&plan, small, NULL, report), SW_OK);
  sw_summary alone, beside;
  sw_plan_summary (plan, &alone);
  ck_assert_str_eq (got (0).choice, "4.8");
  sw_plan_summary (got (0).plan, &beside);
  ck_assert_int_eq (alone.outcome, SW_PROVED);
  ck_assert_mem_eq (&alone, &beside, sizeof alone);
  ck_assert_int_gt (alone.from_hand, 0);
  sw_plan_free (plan);
  /* The section that the third choice names is bought in 5.4 m only. */
  const sw_plan *third = got (2).plan;
  int caps = 0;
  for (size_t b = 0; b < third->board_count; b++)
    {
      const sw_stock *row = &third->job->stocks.items[third->boards[b].stock];
      const char *section = third->job->sections.items[row->section].name;
      if (third->boards[b].hand || strcmp (section, "150x25") == 0)
        continue;
      caps += strcmp (section, "100x25") == 0;
      ck_assert_int_eq (row->length, (strcmp (section, "100x25") == 0 ? 5400 : 4800) * SW_MM);
    }
  ck_assert_int_gt (caps, 0);
  sw_job_free (small);
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

START_TEST (by_default_each_length_and_all)
{
  sw_job *job = fixture_job (&fence);
  ck_assert_int_eq (compare (job, NULL, 0), SW_OK);
  ck_assert_uint_eq (sw_comparison_count (comparison), 4);
  ck_assert_str_eq (got (0).choice, "3.6");
  ck_assert_str_eq (got (1).choice, "4.8");
  ck_assert_str_eq (got (2).choice, "5.4");
  ck_assert_str_eq (got (3).choice, "3.6,4.8,5.4");
  /* The capping does not come in 3.6 m. */
  ck_assert_int_eq (got (0).status, SW_NO_PLAN);
  ck_assert_ptr_null (got (0).plan);
  ck_contains (got (0).why, "100x25");
  /* More stock makes a plan cheaper, unless fewer joins line up in it.  The best choice is the cheapest. */
  size_t best = 0;
  for (size_t i = 1; i < 4; i++)
    {
      sw_summary sum;
      sw_plan_summary (got (i).plan, &sum);
      ck_assert_int_eq (sum.outcome, SW_PROVED);
      ck_assert_int_ge (got (i).over_best, 0);
      ck_assert (!got (i).best || got (i).over_best == 0);
      best += got (i).best;
    }
  ck_assert_uint_eq (best, 1);
  sw_compared past;
  ck_assert (!sw_comparison_get (comparison, 4, &past));
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

/* A comparison's names of its choices can be given as choices: lengths that are not round, in both
 * units, and long ones. */
START_TEST (names_of_choices_read_back)
{
  const fixture_texts texts = { .extras = "label,section,length,quantity\na,rail,50,1\n",
                                .stock = "section,length\nrail,54.2534mm\nrail,56.253401mm\nrail,7 7/16in\nrail,30m\n"
                                         "rail,30.0100001m\nrail,35m\nrail,99ft\n",
                                .settings = _i == 0 ? "kerf=3\n" : "inches=yes\n" };
  sw_job *job = fixture_job (&texts);
  char *names[8];
  const char *choices[8];
  ck_assert_int_eq (compare (job, NULL, 0), SW_OK);
  ck_assert_uint_eq (sw_comparison_count (comparison), 8);
  for (size_t i = 0; i < 8; i++)
    choices[i] = names[i] = sw_copy_text (got (i).choice);
  sw_comparison_free (comparison);
  comparison = NULL;
  ck_assert_int_eq (compare (job, choices, 8), SW_OK);
  for (size_t i = 0; i < 8; i++)
    {
      ck_assert_int_eq (got (i).status, SW_OK);
      sw_summary sum;
      sw_plan_summary (got (i).plan, &sum);
      ck_assert_int_eq (sum.bought, i < 7 ? job->stocks.items[i].length : job->stocks.items[0].length);
      free (names[i]);
    }
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

/* Without through levels a choice is about every section. */
START_TEST (extras_alone)
{
  static const char *const choices[] = { "4.8", "6.0" };
  const fixture_texts texts = { .extras = "label,section,length,quantity\na,rail,2350,6\n",
                                .stock = "section,length,price\nrail,4.8,20\nrail,6.0,27\n" };
  sw_job *job = fixture_job (&texts);
  ck_assert_int_eq (compare (job, choices, 2), SW_OK);
  /* Two of 2350 and a kerf come out of either: three boards. */
  sw_summary sum;
  sw_plan_summary (got (0).plan, &sum);
  ck_assert_int_eq (sum.cost, 60 * SW_MONEY_UNIT);
  sw_plan_summary (got (1).plan, &sum);
  ck_assert_int_eq (sum.cost, 81 * SW_MONEY_UNIT);
  ck_assert_int_eq (got (1).over_best, 21 * SW_MONEY_UNIT);
  /* 6.0 m would have to cost what 4.8 m does. */
  sw_tipping tipping;
  ck_assert_uint_eq (sw_comparison_tippings (comparison), 1);
  ck_assert (sw_comparison_tipping (comparison, 0, &tipping));
  ck_assert_int_eq (tipping.tip, SW_TIP_AT);
  ck_assert (tipping.exact);
  ck_assert_uint_eq (tipping.first, 1);
  ck_assert_uint_eq (tipping.second, 0);
  ck_assert_int_eq (tipping.length, 6000 * SW_MM);
  ck_assert_int_eq (tipping.from, -7 * SW_MONEY_UNIT);
  ck_assert_int_eq (tipping.to, -7 * SW_MONEY_UNIT);
  ck_assert (!sw_comparison_tipping (comparison, 1, &tipping));
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

/* ---- Wrong choices -------------------------------------------------------------------- */

static const struct
{
  const char *choice;
  const char *said; /* NULL: it is accepted */
} choices[] = {
  { "4.8", NULL },
  { " 4.8 , 5.4 ", NULL },
  { "5400", NULL },
  { "90x45=5.4", NULL },
  { "90x45 = 4.8 ; 100x25 = 5.4", NULL },
  { "5.4;90x45=4.8", NULL },
  { "150x25=2.4", NULL },
  { "a=b;c=4.8", NULL },
  { "6.0", "expected lengths that the stock offers (3.6, 4.8, 5.4), found 6.0" },
  { "4.8,6.0", "found 6.0" },
  { "100x25=3.6", "expected lengths that the stock offers of 100x25 (4.8, 5.4), found 3.6" },
  { "2.4", "found 2.4" },
  { "", "found \"\"" },
  { "4.8;", "two lists without a section's name" },
  { "=4.8", "no section of this job stands before the \"=\"" },
  { "70x35=4.8", "in \"70x35=4.8\"" },
  { "long", "found \"long\"" },
  { "90x45=", "found \"\"" },
  { "90x45=4.8;90x45=5.4", "a section is named twice" },
  { "4.8;5.4", "two lists without a section's name" },
  { "4.8,4.8", "each stock length once" },
  { "90x45=4.8;100x25=4.8;a=b;c=4.8;5.4", "no section is left that 5.4 could be meant for" },
  { "-4.8", "found \"-4.8\"" },
};

START_TEST (choices_are_read_or_refused)
{
  fixture_texts texts = fence;
  texts.levels = "level,section,runs\nplinth,150x25,between\nlow,90x45,\nhigh,90x45,\ncap,100x25,\ntop,a=b;c,\n";
  texts.stock = "section,length\n90x45,4.8\n90x45,5.4\n90x45,3.6\n100x25,4.8\n100x25,5.4\n150x25,2.4\n"
                "150x25,4.8\na=b;c,4.8\n";
  sw_job *job = fixture_job (&texts);
  sw_comparison read = { .job = job };
  sw_status status = sw_choices_read (&read, &choices[_i].choice, 1, report);
  ck_assert_int_eq (status, choices[_i].said == NULL ? SW_OK : SW_USAGE);
  ck_assert_uint_eq (sw_report_count (report), choices[_i].said == NULL ? 0 : 1);
  if (choices[_i].said != NULL)
    remarks_say (report, choices[_i].said);
  for (size_t i = 0; i < read.count; i++)
    {
      free (read.choices[i].name);
      free (read.choices[i].buys);
    }
  free (read.choices);
  sw_job_free (job);
}
END_TEST

START_TEST (all_that_is_wrong_is_told)
{
  static const char *const wrong[] = { "4.8", "6.0", "4800", "x=4.8" };
  static const char *const twice[] = { "4.8", "5.4,4.8", "4.8m", "4.8,5.4" };
  sw_job *job = fixture_job (&fence);
  ck_assert_int_eq (compare (job, wrong, 4), SW_USAGE);
  ck_assert_ptr_null (comparison);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 2);
  sw_report_clear (report);
  ck_assert_int_eq (compare (job, twice, 4), SW_USAGE);
  ck_assert_uint_eq (sw_report_count_of (report, SW_FAULT), 2);
  remarks_say (report, "choice \"4.8m\" is the same as \"4.8\"");
  remarks_say (report, "choice \"4.8,5.4\" is the same as \"5.4,4.8\"");
  sw_job_free (job);
}
END_TEST

START_TEST (none_can_be_built)
{
  fixture_texts texts = fence;
  texts.settings = "max-piece=2300\n";
  texts.levels = "level,section\nlow,90x45\n";
  sw_job *job = fixture_job (&texts);
  ck_assert_int_eq (compare (job, NULL, 0), SW_NO_PLAN);
  remarks_say (report, "none of these choices can be built");
  char *text = NULL;
  ck_assert_int_eq (sw_comparison_text (comparison, 80, &text), SW_OK);
  ck_contains (text, "cannot be built: run road, level low: bay 1 (posts 1 to 2) needs\n");
  ck_lacks (text, "ORDERS");
  sw_text_free (text);
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

/* ---- The tipping price against all solutions -------------------------------------------- */

/* The least cost of CHOICE when each length that the two choices differ by costs X more.  False:
 * the model is too large to try. */
static bool
least_cost (const sw_tipping *tipping, size_t choice, sw_money x, int64_t *cost)
{
  sw_job job;
  sw_layout *layout = NULL;
  sw_model *models = NULL;
  size_t count = 0;
  bool tried = true;
  ck_assert_int_eq (sw_job_variant (&job, &comparison->choices[choice].job), SW_OK);
  for (size_t s = 0; s < job.stocks.count && choice == tipping->first; s++)
    if (job.stocks.items[s].length == tipping->length
        && sw_tipping_row (comparison, tipping, job.stocks.items[s].section) != NULL)
      job.stocks.items[s].price += x;
  ck_assert_int_eq (sw_layout_new (&layout, &job, NULL), SW_OK);
  ck_assert_int_eq (sw_models_new (&models, &count, layout), SW_OK);
  *cost = 0;
  for (size_t m = 0; m < count && tried; m++)
    {
      brute best;
      tried = brute_solve (&models[m], job.settings->stagger == SW_STAGGER_REQUIRE ? 0 : -1, &best);
      ck_assert (!tried || best.possible);
      *cost += tried ? best.cost * models[m].granule : 0;
    }
  sw_models_free (models, count);
  sw_layout_free (layout);
  sw_job_variant_clear (&job);
  return tried;
}

typedef struct tally
{
  int at;
  int always;
  int never;
  int between;  /* number of tipping prices that are no whole millionth */
  int sections; /* number of times that the prices of several sections vary */
} tally;

/* The lowest price of the length that varies, by which it can fall at most. */
static sw_money
lowest_price (const sw_tipping *tipping, tally *tally)
{
  sw_money lowest = INT64_MAX;
  int sections = 0;
  for (size_t s = 0; s < comparison->job->sections.count; s++)
    {
      const sw_stock *row = sw_tipping_row (comparison, tipping, s);
      sections += row != NULL;
      if (row != NULL && row->price < lowest)
        lowest = row->price;
    }
  ck_assert_int_ge (sections, 1);
  tally->sections += sections > 1;
  return lowest;
}

/* Compare with all solutions at prices below, at and above it.  ROUND is for the message. */
static void
expect_tipping (const sw_tipping *tipping, int round, uint64_t *state, tally *tally)
{
  const sw_money lowest = lowest_price (tipping, tally);
  int64_t other, cost;
  if (!least_cost (tipping, tipping->second, 0, &other) || !least_cost (tipping, tipping->first, 0, &cost))
    return;
  switch (tipping->tip)
    {
    case SW_TIP_AT:
      ck_assert_msg (tipping->exact, "round %d", round);
      ck_assert_msg (tipping->from == tipping->to || tipping->from + 1 == tipping->to, "round %d", round);
      ck_assert_msg (tipping->from >= -lowest, "round %d", round);
      least_cost (tipping, tipping->first, tipping->to, &cost);
      ck_assert_msg (tipping->from == tipping->to ? cost == other : cost >= other, "round %d", round);
      least_cost (tipping, tipping->first, tipping->to + chance (state, 1, 900) * CENT, &cost);
      ck_assert_msg (cost >= other, "round %d", round);
      tally->at++;
      tally->between += tipping->from < tipping->to;
      if (tipping->from <= -lowest)
        return;
      /* A millionth below. */
      least_cost (tipping, tipping->first, tipping->to - 1, &cost);
      ck_assert_msg (cost < other, "round %d", round);
      least_cost (tipping, tipping->first, chance (state, -lowest, tipping->to - 1), &cost);
      ck_assert_msg (cost < other, "round %d", round);
      return;
    case SW_TIP_ALWAYS:
      least_cost (tipping, tipping->first, 1000 * SW_MONEY_UNIT, &cost);
      ck_assert_msg (cost < other, "round %d", round);
      tally->always++;
      return;
    case SW_TIP_NEVER:
      least_cost (tipping, tipping->first, -lowest, &cost);
      ck_assert_msg (cost >= other, "round %d", round);
      tally->never++;
      return;
    case SW_TIP_UNKNOWN:
      ck_abort_msg ("round %d: not found", round);
    }
}

static const char *const names[] = { "1", "2", "3" };

/* One or two runs of few bays, one or two sections, and two or three lengths whose prices are in
 * cents.  There may be limits, hand stock and joins that cost. */
static sw_job *
make_fence (uint64_t *state)
{
  static const int64_t lengths[] = { 3600, 4800, 5400, 6000 };
  sw_job *job = job_make ();
  const int64_t rows = chance (state, 1, 3);
  const bool two_sections = rows > 1 && one_in (state, 3);
  const int64_t left_out = chance (state, 0, 4);
  job->priced = true;
  job->settings->time_limit = -1;
  job->settings->tax = -1;
  job->settings->kerf = 3 * SW_MM;
  job->settings->stagger = one_in (state, 4) ? SW_STAGGER_OFF : SW_STAGGER_PREFER;
  job->settings->join_cost = one_in (state, 2) ? 0 : chance (state, 1, 900) * CENT;
  for (int64_t l = 0; l < rows; l++)
    job_level (job, names[l], two_sections && l == 1 ? "b" : "a", true);
  for (size_t s = 0; s < job->sections.count; s++)
    for (int i = 0; i < 4; i++)
      if (i == 1 || (i != left_out && !one_in (state, 3)))
        {
          sw_stock *stock = job_stock (job, job->sections.items[s].name, lengths[i] * SW_MM);
          stock->priced = true;
          stock->price = lengths[i] * chance (state, 400, 600) / 1000 * CENT;
          stock->hand = one_in (state, 6) ? 1 : 0;
          stock->limit = one_in (state, 6) ? chance (state, 3, 6) : -1;
        }
  job_run (job, "road", 100 * SW_MM);
  for (int64_t bays = chance (state, 2, rows > 2 ? 5 : 6), usual = chance (state, 15, 25) * 100; bays > 0; bays--)
    job_bay (job, (usual + chance (state, -2, 2) * 10) * SW_MM, 100 * SW_MM);
  job_close (job);
  if (one_in (state, 4))
    job_extra (job, "x", "a", chance (state, 5, 20) * 100 * SW_MM)->quantity = 2;
  return job;
}

START_TEST (tipping_prices_against_all_solutions)
{
  uint64_t state = 4711 + (uint64_t)_i;
  tally tally = { .at = 0 };
  for (int round = 0; round < 60; round++)
    {
      sw_job *job = make_fence (&state);
      sw_status status = compare (job, NULL, 0);
      ck_assert (status == SW_OK || status == SW_NO_PLAN);
      sw_tipping tipping;
      for (size_t t = 0; sw_comparison_tipping (comparison, t, &tipping); t++)
        expect_tipping (&tipping, round, &state, &tally);
      sw_comparison_free (comparison);
      comparison = NULL;
      job_drop (job);
    }
  ck_assert_int_gt (tally.at, 20);
  ck_assert_int_gt (tally.between, 0);
  ck_assert_int_gt (tally.sections, 0);
  ck_assert_int_gt (tally.never + tally.always, 0);
}
END_TEST

/* ---- Time and interruption --------------------------------------------------------------- */

typedef struct watch
{
  int calls;
  int until;
  double last;
  bool backwards;
} watch;

static bool
look (const sw_progress *now, void *data)
{
  watch *w = data;
  w->backwards = w->backwards || now->seconds < w->last;
  w->last = now->seconds;
  return ++w->calls < w->until;
}

START_TEST (stopped_at_once)
{
  sw_job *job = fixture_job (&fence);
  watch w = { .until = 1 };
  const sw_limits limits = { .progress = look, .data = &w };
  sw_status status = sw_compare (&comparison, job, NULL, 0, &limits, report);
  ck_assert (status == SW_OK || status == SW_STOPPED);
  /* The plan that was being made may have been found, but no other was begun. */
  ck_assert_int_eq (w.calls, 1);
  ck_assert_int_eq (got (2).status, SW_STOPPED);
  ck_assert_str_eq (got (2).why, "stopped before its turn came");
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

START_TEST (time_is_told_for_all_plans_together)
{
  sw_job *job = fixture_job (&fence);
  watch w = { .until = INT32_MAX };
  const sw_limits limits = { .progress = look, .data = &w };
  ck_assert_int_eq (sw_compare (&comparison, job, NULL, 0, &limits, report), SW_OK);
  ck_assert_int_gt (w.calls, 3);
  ck_assert (!w.backwards);
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

START_TEST (no_time_at_all)
{
  fixture_texts texts = fence;
  texts.settings = "time-limit=0\n";
  sw_job *job = fixture_job (&texts);
  ck_assert_int_eq (compare (job, NULL, 0), SW_OK);
  char *text = NULL;
  ck_assert_int_eq (sw_comparison_text (comparison, 80, &text), SW_OK);
  ck_contains (text, "the time was up first");
  ck_contains (text, "the price at which they tip was not found");
  ck_lacks (text, "PROOF");
  sw_text_free (text);
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

/* ---- Text and table ------------------------------------------------------------------------ */

static char *
csv (void)
{
  sw_table *table = NULL;
  char *text = NULL;
  ck_assert_int_eq (sw_comparison_table (comparison, &table), SW_OK);
  ck_assert_int_eq (sw_table_csv (table, &text), SW_OK);
  sw_table_free (table);
  return text;
}

/* Two bays of 2350 between posts of 100: one rail of 4800, or two pieces. */
static const fixture_texts small = {
  .spans = "run,span\nroad,2350\nroad,2350\n",
  .levels = "level,section\nlow,rail\n",
  .stock = "section,length,price\nrail,2.4,9\nrail,4.8,20\n",
};

START_TEST (table_by_hand)
{
  sw_job *job = fixture_job (&small);
  ck_assert_int_eq (compare (job, NULL, 0), SW_OK);
  char *text = csv ();
  ck_assert_str_eq (
      text, "choice,possible,metres,waste_pct,joins,aligned,boards,price,bound,over_best,over_best_pct,note\r\n"
            "2.4,yes,4.8,0.00,1,0,2,18.00,18.00,0.00,0.00,\r\n"
            "4.8,yes,4.8,0.00,0,0,1,20.00,20.00,2.00,11.11,"
            "\"4.8 would be cheaper than 2.4 if 4.8 m cost less than 3.75 a metre, 18.00 a length (now 4.1667, 20.00)\""
            "\r\n"
            "\"2.4,4.8\",yes,4.8,0.00,1,0,2,18.00,18.00,0.00,0.00,"
            "\"2.4,4.8 would be cheaper than 2.4 if 4.8 m cost less than 3.75 a metre, 18.00 a length "
            "(now 4.1667, 20.00)\"\r\n");
  sw_text_free (text);
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

START_TEST (text_by_hand)
{
  sw_job *job = fixture_job (&small);
  char *text = NULL;
  ck_assert_int_eq (compare (job, NULL, 0), SW_OK);
  ck_assert_int_eq (sw_comparison_text (comparison, 0, &text), SW_OK);
  ck_assert_str_eq (text, "COMPARISON\n"
                          "  Stock    Metres  Waste  Joins  Lined up  Boards  Price  Over best\n"
                          "> 2.4         4.8  0.0 %      1         0       2  18.00       best\n"
                          "  4.8         4.8  0.0 %      0         0       1  20.00      +2.00  11.1 %\n"
                          "  2.4,4.8     4.8  0.0 %      1         0       2  18.00    as much\n"
                          "\n"
                          "ORDERS\n"
                          "  2.4      rail: 2/2.4\n"
                          "  4.8      rail: 1/4.8\n"
                          "  2.4,4.8  rail: 2/2.4\n"
                          "\n"
                          "TIPPING PRICE\n"
                          "  2.4,4.8 would be cheaper than 2.4 if 4.8 m cost less than 3.75 a metre, 18.00\n"
                          "    a length (now 4.1667, 20.00).\n"
                          "  4.8 would be cheaper than 2.4 if 4.8 m cost less than 3.75 a metre, 18.00 a\n"
                          "    length (now 4.1667, 20.00).\n"
                          "\n"
                          "PROOF\n"
                          "  No plan of any of these choices can be cheaper.\n");
  sw_text_free (text);
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

/* If each price is 0, the best choice is the one that buys the least, and no price tips. */
START_TEST (all_is_free)
{
  const fixture_texts texts = { .spans = "run,span\nroad,2350\nroad,2350\n",
                                .levels = "level,section\nrail,rail\n",
                                .stock = "section,length,price\nrail,5.4,0\nrail,2.4,0\n",
                                .settings = "kerf=0" };
  sw_job *job = fixture_job (&texts);
  char *text = NULL;
  ck_assert_int_eq (compare (job, NULL, 0), SW_OK);
  ck_assert_uint_eq (sw_comparison_tippings (comparison), 0);
  ck_assert (got (0).best && !got (1).best);
  ck_assert_int_eq (got (1).over_best, 0);
  ck_assert_int_eq (sw_comparison_text (comparison, 80, &text), SW_OK);
  /* One piece of 4800 out of 5.4 has no join; two of 2400 waste nothing. */
  ck_contains (text, "> 2.4         4.8   0.0 %      1         0       2   0.00       best\n");
  ck_contains (text, "  5.4         5.4  11.1 %      0         0       1   0.00    as much\n");
  ck_lacks (text, "TIPPING");
  sw_text_free (text);
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

/* It is then not proved how little can be bought. */
START_TEST (all_is_free_and_not_proved)
{
  fixture_texts texts = fence;
  texts.stock = "section,length,price\n90x45,4.8,0\n90x45,5.4,0\n100x25,5.4,0\n150x25,2.4,0\n";
  texts.settings = "time-limit=0";
  sw_job *job = fixture_job (&texts);
  static const char *const both[] = { "4.8,5.4" };
  ck_assert_int_eq (compare (job, both, 1), SW_OK);
  sw_plan *plan = comparison->choices[0].plan;
  sw_text note = { 0 };
  plan->summary.outcome = SW_TIMED_OUT;
  plan->summary.aligned_bound = plan->summary.aligned;
  plan->least = 40 * SW_METRE;
  sw_compare_note (&note, comparison, 0);
  ck_contains (note.data, "proved only that it cannot be done under 40.0 m");
  sw_text_drop (&note);
  plan->least = 0;
  sw_compare_note (&note, comparison, 0);
  ck_contains (note.data, "nothing is proved of how much it buys");
  sw_text_drop (&note);
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

/* Names are wide and terminals narrow, and no line is wider than the terminal. */
START_TEST (text_fits)
{
  static const char *const wide[] = { "4.8;100x25=5.4", "90x45=4.8,5.4;100x25=4.8,5.4;150x25=4.8", "3.6;100x25=4.8" };
  static const unsigned widths[] = { 0, 160, 80, 72, 64, 60, 48, 40 };
  sw_job *job = fixture_job (&fence);
  ck_assert_int_eq (compare (job, wide, 3), SW_OK);
  for (size_t i = 0; i < sizeof widths / sizeof *widths; i++)
    {
      char *text = NULL;
      ck_assert_int_eq (sw_comparison_text (comparison, widths[i], &text), SW_OK);
      for (const char *line = text; *line != '\0'; line += strcspn (line, "\n") + 1)
        ck_assert_msg (strcspn (line, "\n") <= (widths[i] == 0 ? 80 : widths[i]), "width %u: %.*s", widths[i],
                       (int)strcspn (line, "\n"), line);
      ck_contains (text, "best");
      sw_text_free (text);
    }
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

/* Two rails over two bays of 2350: from 4.8 m each is one piece; from 2.4 m both are joined on the middle post. */
START_TEST (the_best_may_line_up_more_joins)
{
  fixture_texts texts = small;
  texts.levels = "level,section\nlow,rail\nhigh,rail\n";
  texts.sections = "section,spare\nrail,2\n";
  texts.settings = "job=Hill Road\ntax=10\njoin-cost=0.50\n";
  static const char *const two[] = { "2.4", "4.8" };
  sw_job *job = fixture_job (&texts);
  char *text = NULL;
  ck_assert_int_eq (compare (job, two, 2), SW_OK);
  ck_assert_int_eq (sw_comparison_text (comparison, 80, &text), SW_OK);
  ck_contains (text, "COMPARISON for Hill Road\n");
  /* The cost is 4 x 9 and two joins.  No figure contains the spare length. */
  ck_contains (text, "> 2.4       9.6  0.0 %      2         1       4  37.00       best\n");
  ck_contains (text, "  rail: 4/2.4\n");
  ck_contains (text, "Without spare lengths. The price is the timber and 0.50 a join. Prices are\n  without tax.\n");
  ck_contains (text, "Note on 2.4: more joins line up than with 4.8: 1 pair, there 0.\n");
  sw_text_free (text);
  text = csv ();
  ck_contains (text, "\r\n2.4,yes,9.6,0.00,2,1,4,37.00,37.00,0.00,0.00,\"more joins line up than with 4.8: 1 pair, "
                     "there 0\"\r\n");
  ck_contains (text, "if 4.8 m cost less than 3.8542 a metre, 18.50 a length");
  sw_text_free (text);
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

START_TEST (without_prices_and_without_staggering)
{
  fixture_texts texts = small;
  texts.stock = "section,length\nrail,2.4\nrail,5.4\n";
  texts.settings = "stagger=off\n";
  sw_job *job = fixture_job (&texts);
  ck_assert_int_eq (compare (job, NULL, 0), SW_OK);
  ck_assert_uint_eq (sw_comparison_tippings (comparison), 0);
  char *text = csv ();
  ck_contains (text, "\r\n2.4,yes,4.8,0.00,1,,2,,4.8,0,0.00,\r\n5.4,yes,5.4,11.11,0,,1,,5.4,0.6,12.50,\r\n");
  sw_text_free (text);
  ck_assert_int_eq (sw_comparison_text (comparison, 80, &text), SW_OK);
  ck_contains (text, "With prices in the");
  ck_contains (text, "     -  ");
  ck_lacks (text, "Price ");
  ck_contains (text, "No plan of any of these choices can be cheaper.\n");
  sw_text_free (text);
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

START_TEST (in_inches)
{
  const fixture_texts texts = { .spans = "run,span\nroad,7ft\nroad,7ft\n",
                                .levels = "level,section\nlow,rail\n",
                                .stock = "section,length,price\nrail,8ft,9\nrail,190in,20\n",
                                .settings = "inches=yes\n" };
  sw_job *job = fixture_job (&texts);
  char *text = NULL;
  ck_assert_int_eq (compare (job, NULL, 0), SW_OK);
  ck_assert_str_eq (got (0).choice, "8ft");
  ck_assert_str_eq (got (1).choice, "190in");
  ck_assert_str_eq (got (2).choice, "8ft,190in");
  ck_assert_int_eq (sw_comparison_text (comparison, 80, &text), SW_OK);
  ck_contains (text, "  Stock      Feet");
  ck_contains (text, "> 8ft        16.0");
  /* 18 for 190 in are 1.13684 a foot. */
  ck_contains (text, "if 190 in cost less than 1.1368 a foot,");
  sw_text_free (text);
  sw_comparison_free (comparison);
  comparison = NULL;
  sw_job_free (job);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("compare");
  TCase *figures = tcase_create ("figures");
  tcase_add_checked_fixture (figures, setup, teardown);
  tcase_set_timeout (figures, 120);
  tcase_add_test (figures, figures_are_those_of_a_job_without_other_stock);
  tcase_add_test (figures, by_default_each_length_and_all);
  tcase_add_loop_test (figures, names_of_choices_read_back, 0, 2);
  tcase_add_test (figures, extras_alone);
  tcase_add_loop_test (figures, choices_are_read_or_refused, 0, sizeof choices / sizeof *choices);
  tcase_add_test (figures, all_that_is_wrong_is_told);
  tcase_add_test (figures, none_can_be_built);
  suite_add_tcase (suite, figures);
  TCase *tipping = tcase_create ("tipping");
  tcase_add_checked_fixture (tipping, setup, teardown);
  tcase_set_timeout (tipping, 300);
  tcase_add_loop_test (tipping, tipping_prices_against_all_solutions, 0, suite_rounds (4));
  suite_add_tcase (suite, tipping);
  TCase *time = tcase_create ("time");
  tcase_add_checked_fixture (time, setup, teardown);
  tcase_set_timeout (time, 120);
  tcase_add_test (time, stopped_at_once);
  tcase_add_test (time, time_is_told_for_all_plans_together);
  tcase_add_test (time, no_time_at_all);
  suite_add_tcase (suite, time);
  TCase *text = tcase_create ("text");
  tcase_add_checked_fixture (text, setup, teardown);
  tcase_set_timeout (text, 120);
  tcase_add_test (text, table_by_hand);
  tcase_add_test (text, text_by_hand);
  tcase_add_test (text, all_is_free);
  tcase_add_test (text, all_is_free_and_not_proved);
  tcase_add_test (text, text_fits);
  tcase_add_test (text, the_best_may_line_up_more_joins);
  tcase_add_test (text, without_prices_and_without_staggering);
  tcase_add_test (text, in_inches);
  suite_add_tcase (suite, text);
  return suite_run (suite);
}
