/* check_offcut.c - what is left of the boards is left in long pieces
 *
 * Small sets of pieces are also packed by dynamic programming over all their
 * subsets, which gives the best plan in the order cost, boards, squares of the
 * offcuts; nothing of the library's search is used there.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "chance.h"
#include "layout_job.h"
#include "solve/solve.h"
#include "suite.h"

#include <stdlib.h>
#include <string.h>

enum
{
  PIECES = 9,
  SETS = 1 << PIECES,
  STOCKS = 2,
  KERF = 3
};

typedef struct cutting
{
  int64_t cost, boards, worth;
} cutting;

static bool
is_better (const cutting *a, const cutting *b)
{
  if (a->cost != b->cost)
    return a->cost < b->cost;
  if (a->boards != b->boards)
    return a->boards < b->boards;
  return a->worth > b->worth;
}

/* Pieces and stock in mm; the cost of a board is its length. */
static cutting
best_of_all (const int64_t *pieces, int count, const int64_t *lengths, int stock_count)
{
  static cutting best[SETS];
  static int64_t length[SETS];
  best[0] = (cutting){ 0 };
  length[0] = 0;
  for (int set = 1; set < 1 << count; set++)
    {
      int low = 0;
      while ((set >> low & 1) == 0)
        low++;
      length[set] = length[set & (set - 1)] + pieces[low] + KERF;
      best[set] = (cutting){ .cost = INT64_MAX };
      /* The board that the lowest piece is on holds PART. */
      for (int part = set; part > 0; part = (part - 1) & set)
        for (int s = 0; s < stock_count && (part >> low & 1) != 0; s++)
          {
            int64_t left = lengths[s] + KERF - length[part];
            if (left < 0)
              continue;
            left = left > KERF ? left - KERF : 0;
            cutting c = best[set ^ part];
            c = (cutting){ c.cost + lengths[s], c.boards + 1, c.worth + left * left };
            if (is_better (&c, &best[set]))
              best[set] = c;
          }
    }
  return best[(1 << count) - 1];
}

static cutting
solved_cutting (const sw_model *model, const sw_solved *solved)
{
  cutting c = { .cost = solved->solution.value[SW_AIM_COST] * model->granule / SW_MM,
                .boards = solved->solution.value[SW_AIM_BOARDS] };
  for (size_t i = 0; i < solved->solution.count; i++)
    {
      const sw_pattern *p = &solved->pool.items[solved->solution.boards[i].pattern];
      sw_length left = model->layout->job->stocks.items[model->stocks[p->stock].of_job].length / SW_MM;
      for (uint32_t k = 0; k < p->count; k++)
        {
          const sw_entry *entry = &solved->pool.entries[p->first + k];
          left -= entry->copies * (model->layout->items[model->needs[entry->need].item].take / SW_MM + KERF);
        }
      c.worth += left > 0 ? solved->solution.boards[i].copies * left * left : 0;
    }
  return c;
}

static sw_solved
solve (sw_job *job, sw_layout **layout, sw_model **models)
{
  size_t count;
  ck_assert_int_eq (sw_layout_new (layout, job, NULL), SW_OK);
  ck_assert_int_eq (sw_models_new (models, &count, *layout), SW_OK);
  ck_assert_uint_eq (count, 1);
  sw_watch watch;
  sw_watch_begin (&watch, -1, NULL);
  sw_solved solved;
  ck_assert_int_eq (sw_solve_model (&solved, &(*models)[0], &watch, false), SW_OK);
  ck_assert (solved.solution.valid && solved.proved[SW_AIM_BOARDS]);
  return solved;
}

static void
compare (const cutting *found, const cutting *best, int round)
{
  ck_assert_msg (found->cost == best->cost, "round %d", round);
  ck_assert_msg (found->boards == best->boards, "round %d", round);
  ck_assert_msg (found->worth == best->worth, "round %d: %lld, not %lld", round, (long long)found->worth,
                 (long long)best->worth);
}

static void
drop (sw_job *job, sw_layout *layout, sw_model *models, sw_solved *solved)
{
  sw_solved_clear (solved);
  sw_models_free (models, 1);
  sw_layout_free (layout);
  job_drop (job);
}

static const int64_t stocks[STOCKS] = { 4800, 5400 };

static sw_job *
begin_job (int stock_count)
{
  sw_job *job = job_make ();
  job->settings->kerf = KERF * SW_MM;
  for (int s = 0; s < stock_count; s++)
    job_stock (job, "rail", stocks[s] * SW_MM);
  return job;
}

START_TEST (pieces_alone)
{
  uint64_t state = 4711 + (uint64_t)_i;
  for (int round = 0; round < 50; round++)
    {
      int64_t pieces[PIECES];
      int count = (int)chance (&state, 2, PIECES), stock_count = (int)chance (&state, 1, STOCKS);
      sw_job *job = begin_job (stock_count);
      for (int p = 0; p < count; p++)
        {
          char label[2] = { (char)('a' + p), '\0' };
          pieces[p] = one_in (&state, 3) && p > 0 ? pieces[p - 1] : chance (&state, 200, 2900);
          job_extra (job, label, "rail", pieces[p] * SW_MM)->quantity = 1;
        }
      sw_layout *layout;
      sw_model *models;
      sw_solved solved = solve (job, &layout, &models);
      cutting best = best_of_all (pieces, count, stocks, stock_count), found = solved_cutting (&models[0], &solved);
      compare (&found, &best, round);
      drop (job, layout, models, &solved);
    }
}
END_TEST

/* Whatever layout is chosen, its pieces are packed the best way there is. */
START_TEST (pieces_of_a_fence)
{
  uint64_t state = 1147 + (uint64_t)_i;
  int looked_at = 0;
  for (int round = 0; round < 50; round++)
    {
      int64_t pieces[PIECES];
      int count = 0, stock_count = (int)chance (&state, 1, STOCKS);
      sw_job *job = begin_job (stock_count);
      job_level (job, "low", "rail", true);
      job_level (job, "top", "rail", true);
      job_run (job, "road", 100 * SW_MM);
      for (int64_t bays = chance (&state, 2, 5); bays > 0; bays--)
        job_bay (job, chance (&state, 900, 2300) * SW_MM, 100 * SW_MM);
      job_close (job);
      sw_layout *layout;
      sw_model *models;
      sw_solved solved = solve (job, &layout, &models);
      for (size_t o = 0; o < models[0].option_count && count <= PIECES; o++)
        if (solved.solution.used[o] && count++ < PIECES)
          pieces[count - 1] = layout->items[models[0].needs[models[0].options[o].need].item].take / SW_MM;
      if (count <= PIECES)
        {
          cutting best = best_of_all (pieces, count, stocks, stock_count), found = solved_cutting (&models[0], &solved);
          compare (&found, &best, round);
          looked_at++;
        }
      drop (job, layout, models, &solved);
    }
  ck_assert_int_gt (looked_at, 25);
}
END_TEST

/* Offcuts are worth nothing against what comes before them: 1000 and 1000 out of one 4.8 leave less in one
 * piece than out of two, and one board it is.  With end trim, which is no offcut. */
START_TEST (other_aims_come_first)
{
  sw_job *job = begin_job (1);
  job->settings->end_trim = 50 * SW_MM;
  job_extra (job, "x", "rail", 1000 * SW_MM)->quantity = 2;
  sw_layout *layout;
  sw_model *models;
  sw_solved solved = solve (job, &layout, &models);
  ck_assert_int_eq (solved.solution.value[SW_AIM_BOARDS], 1);
  int64_t left = 4700 - 2 * (1000 + KERF);
  ck_assert_int_eq (solved.solution.value[SW_AIM_OFFCUTS], 4800 * 4800 - left * left);
  drop (job, layout, models, &solved);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("offcut");
  TCase *cases = tcase_create ("cases");
  tcase_set_timeout (cases, 240);
  tcase_add_loop_test (cases, pieces_alone, 0, 4);
  tcase_add_loop_test (cases, pieces_of_a_fence, 0, 4);
  tcase_add_test (cases, other_aims_come_first);
  suite_add_tcase (suite, cases);
  return suite_run (suite);
}
