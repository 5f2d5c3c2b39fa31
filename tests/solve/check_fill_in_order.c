/* check_fill_in_order.c - a plan when there is no time at all
 *
 * Fixed pieces out of boards of one length are cut first fit decreasing, of
 * which is known how bad it can be: at most 11/9 of the least number of boards
 * and 6/9 of one (G. Dosa, "The tight bound of first fit decreasing bin-packing
 * algorithm", ESCAPE 2007; the constants from memory).
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "chance.h"
#include "plan_fixture.h"
#include "suite.h"
#include "base/text.h"
#include "verify/verify.h"

#include <inttypes.h>
#include <stdlib.h>

static sw_report *report;

static void
setup (void)
{
  report = sw_report_new ();
  ck_assert_ptr_nonnull (report);
}

static void
teardown (void)
{
  sw_report_free (report);
}

static bool
stop_at_once (const sw_progress *progress, void *data)
{
  size_t *calls = data;
  ++*calls;
  return progress == NULL;
}

/* The plan of a caller who stops at once, which verify must accept. */
static sw_plan *
hasty_plan (const sw_job *job)
{
  size_t calls = 0;
  const sw_limits limits = { .progress = stop_at_once, .data = &calls };
  sw_plan *plan = NULL;
  sw_verdict verdict;
  sw_status status = sw_plan_make (&plan, job, &limits, report);
  ck_assert_uint_gt (calls, 0);
  if (status != SW_OK)
    {
      ck_assert_int_eq (status, SW_STOPPED);
      return NULL;
    }
  char *folder = fixture_directory ();
  ck_assert_int_eq (sw_plan_write (plan, folder, report), SW_OK);
  ck_assert_int_eq (sw_verify (job, folder, &verdict, report), SW_OK);
  ck_assert_int_eq (verdict.cost, plan->summary.cost);
  fixture_remove (folder);
  return plan;
}

static sw_job *
pieces (uint64_t *state, int64_t count, const char *stock)
{
  sw_text extras = { 0 };
  sw_text_add (&extras, "label,section,length,quantity\n");
  for (int64_t i = 0; i < count; i++)
    sw_text_printf (&extras, "x%" PRId64 ",a,%" PRId64 ",%" PRId64 "\n", i, chance (state, 300, 4800),
                    chance (state, 1, 4));
  const fixture_texts texts = { .extras = extras.data, .stock = stock };
  sw_job *job = fixture_job (&texts);
  sw_text_drop (&extras);
  return job;
}

START_TEST (one_length_is_within_the_known_bound)
{
  uint64_t state = 71 + (uint64_t)_i;
  int worse = 0;
  for (int round = 0; round < 20; round++)
    {
      sw_job *job = pieces (&state, chance (&state, 1, 40), "section,length\na,5.4\n");
      sw_plan *hasty = hasty_plan (job), *best = NULL;
      ck_assert_ptr_nonnull (hasty);
      ck_assert_int_eq (sw_plan_make (&best, job, NULL, report), SW_OK);
      ck_assert_int_eq (best->summary.outcome, SW_PROVED);
      ck_assert_int_ge (hasty->summary.boards, best->summary.boards);
      ck_assert_int_le (9 * hasty->summary.boards, 11 * best->summary.boards + 6);
      ck_assert_int_le (hasty->summary.bound, best->summary.cost);
      worse += hasty->summary.boards > best->summary.boards;
      sw_plan_free (hasty);
      sw_plan_free (best);
      sw_job_free (job);
    }
  ck_assert_int_lt (worse, 20);
}
END_TEST

/* What is on hand is used, what is limited is not used beyond its limit (verify counts), and where one price a metre
 * is lower that one is bought. */
START_TEST (hand_limits_and_prices)
{
  uint64_t state = 5;
  for (int round = 0; round < 20; round++)
    {
      sw_job *job = pieces (&state, 30,
                            "section,length,price,per,hand,limit\na,4.8,5,metre,2,3\na,5.4,4,metre,1,\n"
                            "a,6,9,metre,,\na,3,1,metre,1,0\n");
      sw_plan *plan = hasty_plan (job);
      ck_assert_ptr_nonnull (plan);
      int64_t hand = 0, dear = 0;
      for (size_t b = 0; b < plan->board_count; b++)
        {
          hand += plan->boards[b].hand;
          dear += !plan->boards[b].hand && job->stocks.items[plan->boards[b].stock].length == 6 * SW_METRE;
        }
      ck_assert_int_ge (hand, 3);
      ck_assert_int_eq (dear, 0);
      sw_plan_free (plan);
      sw_job_free (job);
    }
}
END_TEST

/* Boards that only just do: three pieces fill each without a rest (after Falkenauer's triplets, J. Heuristics 2, 1996),
 * which first fit does not find.  Said so, and not that there is no plan. */
START_TEST (boards_that_run_out)
{
  uint64_t state = 6;
  sw_text extras = { 0 };
  sw_text_add (&extras, "label,section,length\n");
  for (int board = 0; board < 30; board++)
    {
      int64_t longest = chance (&state, 380, 490), middle = chance (&state, 255, (1000 - longest) / 2);
      sw_text_printf (&extras, "x%d,a,%" PRId64 "\ny%d,a,%" PRId64 "\nz%d,a,%" PRId64 "\n", board, longest, board,
                      middle, board, 1000 - longest - middle);
    }
  const fixture_texts texts
      = { .extras = extras.data, .stock = "section,length,limit\na,1000mm,30\n", .settings = "kerf=0" };
  sw_job *job = fixture_job (&texts);
  sw_text_drop (&extras);
  sw_plan *plan = hasty_plan (job);
  ck_assert_ptr_null (plan);
  sw_job_free (job);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("quick");
  TCase *quick = tcase_create ("quick");
  tcase_add_checked_fixture (quick, setup, teardown);
  tcase_add_loop_test (quick, one_length_is_within_the_known_bound, 0, 3);
  tcase_add_test (quick, hand_limits_and_prices);
  tcase_add_test (quick, boards_that_run_out);
  suite_add_tcase (suite, quick);
  return suite_run (suite);
}
