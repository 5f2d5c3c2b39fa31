/* check_limit.c - no limit is passed by much, whatever the job
 *
 * Jobs with very many lengths, boards on hand, pieces, levels, runs or ways.
 * The clock counts steps in place of time (steps.h), so that a run is the same
 * on every machine.  What is held is a promise of the manual and stated here:
 * the clock is looked at often enough, and soon after it says that the time is
 * up there is an answer.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "chance.h"
#include "plan/posts.h"
#include "plan_fixture.h"
#include "steps.h"
#include "suite.h"
#include "base/text.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct kind
{
  const char *name;
  /* The most work between two looks at the clock, and after the limit, in what a millisecond does.  The least that can
     be asked for is the work on one board or one strip, and the naming of the pieces. */
  int between, past;
  int bays, a_run, shortest, longest; /* spans, in mm */
  bool divide;                        /* posts are to be found */
  int levels, sections;
  int extras, copies;    /* rows, and copies of each at most */
  int lengths, from, to; /* of each section, in tenths of a mm */
  bool priced, hand;     /* all of it is on hand, a board a row */
  int yards;
  const char *settings;
} kind;

#define FENCE .shortest = 1200, .longest = 3000
#define LENGTHS .from = 24000, .to = 60000

static const kind kinds[] = {
  { "many lengths", 20, 20, FENCE, LENGTHS, .sections = 1, .bays = 60, .a_run = 25, .levels = 2, .lengths = 500 },
  { "many prices", 20, 20, FENCE, LENGTHS, .sections = 1, .bays = 60, .a_run = 25, .levels = 2, .lengths = 500,
    .priced = true },
  { "boards on hand", 20, 20, FENCE, LENGTHS, .sections = 1, .bays = 30, .a_run = 25, .levels = 2, .lengths = 400,
    .hand = true },
  { "many levels", 300, 400, FENCE, LENGTHS, .sections = 1, .bays = 50, .a_run = 25, .levels = 64, .lengths = 100 },
  { "many runs of many levels", 300, 400, FENCE, LENGTHS, .sections = 1, .bays = 320, .a_run = 8, .levels = 64,
    .lengths = 20 },
  { "one long run", 50, 50, FENCE, LENGTHS, .sections = 1, .bays = 400, .a_run = 400, .levels = 3, .lengths = 50 },
  { "a bay a run", 150, 150, FENCE, LENGTHS, .sections = 1, .bays = 2000, .a_run = 1, .levels = 10, .lengths = 50 },
  { "short bays", 1000, 1000, .sections = 1, .shortest = 150, .longest = 200, .a_run = 300, .bays = 300, .levels = 2,
    .lengths = 20, .from = 60000, .to = 120000 },
  { "many sections", 100, 100, FENCE, LENGTHS, .bays = 25, .a_run = 25, .levels = 20, .sections = 20, .lengths = 100,
    .priced = true },
  { "joins that cost", 50, 50, FENCE, LENGTHS, .sections = 1, .bays = 100, .a_run = 25, .levels = 3, .lengths = 200,
    .priced = true, .settings = "join-cost=3\n" },
  { "pieces alone", 200, 200, LENGTHS, .sections = 1, .extras = 1500, .copies = 3, .lengths = 200 },
  { "pieces out of boards on hand", 600, 600, LENGTHS, .sections = 1, .extras = 100, .copies = 2, .lengths = 400,
    .hand = true },
  { "many short pieces", 200, 200, .sections = 1, .extras = 300, .copies = 1000, .lengths = 50, .from = 60000,
    .to = 190000 },
  { "yards", 50, 50, FENCE, LENGTHS, .sections = 1, .bays = 50, .a_run = 25, .levels = 2, .lengths = 40, .priced = true,
    .yards = 3 },
  { "posts", 500, 500, LENGTHS, .sections = 1, .shortest = 10000, .longest = 40000, .a_run = 1, .bays = 5,
    .divide = true, .levels = 2, .lengths = 60, .priced = true },
};

/* ---- A job of a kind ---- */

static char *
spans_of (const kind *k, uint64_t *state)
{
  sw_text text = { 0 };
  sw_text_add (&text, k->divide ? "run,span,divide\n" : "run,span\n");
  for (int b = 0; b < k->bays; b++)
    sw_text_printf (&text, "r%d,%" PRId64 "%s\n", b / k->a_run, chance (state, k->shortest, k->longest),
                    k->divide ? ",best" : "");
  return sw_text_take (&text);
}

static char *
levels_of (const kind *k)
{
  sw_text text = { 0 };
  sw_text_add (&text, "level,section\n");
  for (int l = 0; l < k->levels; l++)
    sw_text_printf (&text, "l%d,s%d\n", l, l % k->sections);
  return sw_text_take (&text);
}

static char *
stock_of (const kind *k, uint64_t *state)
{
  sw_text text = { 0 };
  sw_text_add (&text, k->yards > 0 ? "section,length,limit,hand,price,yard\n" : "section,length,limit,hand,price\n");
  for (int s = 0; s < k->sections; s++)
    for (int y = 0; y < (k->yards > 0 ? k->yards : 1); y++)
      for (int i = 0; i < k->lengths; i++)
        {
          const int step = (k->to - k->from) / k->lengths;
          const int64_t length = k->from + i * step + chance (state, 0, step - 1);
          sw_text_printf (&text, "s%d,%" PRId64 ".%" PRId64 "mm,%s,", s, length / 10, length % 10,
                          k->hand ? "0,1" : ",");
          if (k->priced)
            sw_text_printf (&text, "%" PRId64, length * chance (state, 90, 125) / 20000);
          sw_text_add (&text, k->yards > 0 ? (const char *[]){ ",a\n", ",b\n", ",c\n" }[y] : "\n");
        }
  return sw_text_take (&text);
}

/* Lengths in even hundredths do not fill a board of an odd one, so that the search for the best board goes on.  The one
 * odd piece, which fits on the longest boards alone, keeps all from being counted in units of two hundredths. */
static char *
extras_of (const kind *k, uint64_t *state)
{
  sw_text text = { 0 };
  sw_text_printf (&text, "label,section,length,quantity\nodd,s0,%d.99mm,1\n",
                  k->to / 10 - (k->to - k->from) / k->lengths / 10 - 1);
  for (int e = 0; e < k->extras; e++)
    sw_text_printf (&text, "e%d,s0,%" PRId64 ".%02" PRId64 "mm,%" PRId64 "\n", e, chance (state, 300, 2300),
                    2 * chance (state, 0, 49), chance (state, 1, k->copies));
  return sw_text_take (&text);
}

static sw_job *
job_of (const kind *k, int limit)
{
  uint64_t state = 20231;
  char settings[100];
  snprintf (settings, sizeof settings, "%spost-width=20\ntime-limit=%d.%03d", k->settings != NULL ? k->settings : "",
            limit / 1000, limit % 1000);
  char *spans = k->bays > 0 ? spans_of (k, &state) : NULL, *levels = k->bays > 0 ? levels_of (k) : NULL;
  char *stock = stock_of (k, &state), *extras = k->extras > 0 ? extras_of (k, &state) : NULL;
  sw_job *job = fixture_job (&(fixture_texts){ .spans = spans,
                                               .levels = levels,
                                               .stock = stock,
                                               .extras = extras,
                                               .yards = k->yards > 0 ? "yard,delivery\na,40\nb,60\nc,30\n" : NULL,
                                               .settings = settings });
  free (spans);
  free (levels);
  free (stock);
  free (extras);
  return job;
}

/* ---- Limits ---- */

static void
run (const kind *k, int limit)
{
  sw_job *job = job_of (k, limit);
  sw_report *report = sw_report_new ();
  sw_plan *plan = NULL;
  sw_posts *posts = NULL;
  ck_assert_ptr_nonnull (report);
  steps_begin ();
  const sw_status status
      = k->divide ? sw_posts_make (&posts, job, NULL, report) : sw_plan_make (&plan, job, NULL, report);
  const steps_seen seen = steps_end ();
  const uint64_t time = (uint64_t)limit * STEPS_A_MS;
  if (getenv ("SW_SHOW") != NULL)
    printf ("%-30s %5d ms: status %d, %" PRIu64 " ms, widest %.1f ms, past %.1f ms, %" PRIu64 " looks\n", k->name,
            limit, status, seen.all / STEPS_A_MS, (double)seen.widest / STEPS_A_MS,
            seen.all > time ? (double)(seen.all - time) / STEPS_A_MS : 0, seen.looks);
  ck_assert_msg (status == SW_OK || status == SW_STOPPED, "%s: %s", k->name, sw_status_text (status));
  ck_assert_msg (seen.widest <= (uint64_t)k->between * STEPS_A_MS, "%s: %" PRIu64 " steps without a look at the clock",
                 k->name, seen.widest);
  ck_assert_msg (seen.all <= time + (uint64_t)k->past * STEPS_A_MS, "%s: %" PRIu64 " steps after the limit", k->name,
                 seen.all - time);
  sw_plan_free (plan);
  sw_posts_free (posts);
  sw_report_free (report);
  sw_job_free (job);
}

START_TEST (no_limit_is_passed)
{
  static const int limits[] = { 0, 20, 80 };
  for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++)
    run (&kinds[_i], limits[i]);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("limit");
  TCase *tc = tcase_create ("limit");
  tcase_set_timeout (tc, 120);
  tcase_add_loop_test (tc, no_limit_is_passed, 0, (int)(sizeof kinds / sizeof kinds[0]));
  suite_add_tcase (suite, tc);
  return suite_run (suite);
}
