/* check_plan_make.c - from a job to a plan
 *
 * What plans say is checked here piece by piece.  That random plans keep every
 * rule is left to the verifier, which shares nothing with the solver.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "chance.h"
#include "layout_job.h"
#include "plan/plan.h"
#include "plan_fixture.h"
#include "base/report.h"
#include "suite.h"
#include "base/text.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static sw_report *report;
static sw_plan *plan;

static void
setup (void)
{
  report = sw_report_new ();
  ck_assert_ptr_nonnull (report);
  plan = NULL;
}

static void
teardown (void)
{
  sw_plan_free (plan);
  sw_report_free (report);
}

static const char *
first_remark (void)
{
  const sw_remark *remark = sw_report_get (report, 0);
  return remark != NULL ? remark->message : "";
}

/* What PIECE takes of its board by job.md: its length, its width times the slope if it is cut
 * plumb, and what an angled finish takes in addition to an ordinary kerf.  Of two angles the
 * steeper counts. */
static double
takes (const sw_job *job, const sw_piece *piece)
{
  const double radian = acos (-1.0) / 180e3;
  double steepest = piece->finish_saw * radian, more = 0;
  if (piece->kind == SW_PIECE_THROUGH || piece->kind == SW_PIECE_BETWEEN)
    {
      const sw_run *run = &job->fence.runs[piece->run];
      const double rise = (double)(sw_run_height (run, piece->to) - sw_run_height (run, piece->from));
      const double span = (double)(sw_run_distance (run, piece->to) - sw_run_distance (run, piece->from));
      const double slope = atan2 (fabs (rise), span);
      steepest = slope > steepest ? slope : steepest;
      more = (double)job->sections.items[piece->section].width * tan (slope);
    }
  return (double)piece->cut + more + (double)job->settings->kerf * (1 / cos (steepest) - 1);
}

/* Check that every piece is on one board, at the place that it says, the longest first; that what
 * is left is what the pieces and kerfs leave; and that the sums are right. */
static void
expect_sound (const sw_job *job)
{
  size_t placed = 0;
  sw_summary sum = { .priced = job->priced };
  for (size_t b = 0; b < plan->board_count; b++)
    {
      const sw_board *board = &plan->boards[b];
      const sw_stock *stock = &job->stocks.items[board->stock];
      sw_length cut = 0, taken = 0, left = stock->length - 2 * job->settings->end_trim;
      ck_assert_uint_ge (board->piece_count, 1);
      for (size_t c = 0; c < board->piece_count; c++)
        {
          const sw_piece *piece = &plan->pieces[board->pieces[c]];
          ck_assert_uint_eq (piece->board, b);
          ck_assert_uint_eq (piece->cut_number, c);
          ck_assert_uint_eq (piece->section, stock->section);
          ck_assert (c == 0 || piece->cut <= plan->pieces[board->pieces[c - 1]].cut);
          ck_assert_msg (fabs ((double)piece->take - takes (job, piece)) < 3, "%s takes %lld, not %f", piece->label,
                         (long long)piece->take, takes (job, piece));
          cut += piece->cut;
          taken += piece->take;
          placed++;
        }
      /* The last cut needs no kerf if nothing is left. */
      left -= taken + (sw_length)(board->piece_count - 1) * job->settings->kerf;
      ck_assert_int_ge (left, 0);
      left = left > job->settings->kerf ? left - job->settings->kerf : 0;
      ck_assert_int_eq (board->left, left);
      sum.boards++;
      sum.used += cut;
      *(board->hand ? &sum.from_hand : &sum.bought) += stock->length;
      sum.cost += board->hand ? 0 : job->priced ? stock->price : stock->length;
      sum.kept += left > 0 && left >= job->settings->keep ? left : 0;
    }
  ck_assert_uint_eq (placed, plan->piece_count);
  for (size_t p = 0; p < plan->piece_count; p++)
    if (plan->pieces[p].kind == SW_PIECE_THROUGH)
      sum.joins += plan->pieces[p].finish_end == SW_END_ON;
  sum.cost += sum.joins * job->settings->join_cost;
  const sw_summary *said = &plan->summary;
  ck_assert_int_eq (said->priced, sum.priced);
  ck_assert_int_eq (said->boards, sum.boards);
  ck_assert_int_eq (said->used, sum.used);
  ck_assert_int_eq (said->bought, sum.bought);
  ck_assert_int_eq (said->from_hand, sum.from_hand);
  ck_assert_int_eq (said->kept, sum.kept);
  ck_assert_int_eq (said->joins, sum.joins);
  ck_assert_int_eq (said->cost, sum.cost);
  ck_assert_int_le (said->bound, said->cost);
  ck_assert_int_eq (said->aligned, (int64_t)plan->aligned_count);
  ck_assert (said->outcome != SW_PROVED || said->bound == said->cost);
}

static void
make (const sw_job *job)
{
  sw_plan_free (plan);
  sw_report_clear (report);
  sw_status status = sw_plan_make (&plan, job, NULL, report);
  ck_assert_msg (status == SW_OK, "%s: %s", sw_status_text (status), first_remark ());
  expect_sound (job);
}

static sw_job *
hand_made (void)
{
  sw_job *job = job_make ();
  job->settings->time_limit = -1;
  job->settings->keep = 600 * SW_MM;
  return job;
}

/* ---- Worked values of the trade ------------------------------------------------------ */

/* Six bays of three rails, with at most two bays a piece, are laid A-B-A in eight doubles and two singles.  Derived. */
START_TEST (six_bays_of_three_rails)
{
  const fixture_texts texts = { .spans = "run,span,start,finish\nroad,2400,centre,\nroad,2400,,\nroad,2400,,\n"
                                         "road,2400,,\nroad,2400,,\nroad,2400,,centre\n",
                                .settings = "kerf=0\nstock-length=4.8\nrails=3" };
  sw_job *job = fixture_job (&texts);
  make (job);
  size_t doubles = 0, pieces[3] = { 0 }, firsts[3] = { 0 };
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      const sw_piece *piece = &plan->pieces[p];
      doubles += piece->to - piece->from == 2;
      pieces[piece->level]++;
      if (piece->from == 0)
        firsts[piece->level] = piece->to;
    }
  ck_assert_uint_eq (plan->piece_count, 10);
  ck_assert_uint_eq (doubles, 8);
  ck_assert (pieces[0] == 3 && pieces[1] == 4 && pieces[2] == 3);
  ck_assert (firsts[0] == 2 && firsts[1] == 1 && firsts[2] == 2);
  ck_assert_int_eq (plan->summary.joins, 7);
  ck_assert_int_eq (plan->summary.aligned, 0);
  /* 43.2 m of rails come out of nine boards without a rest. */
  ck_assert_int_eq (plan->summary.cost, 43200 * SW_MM);
  ck_assert_int_eq (plan->summary.boards, 9);
  ck_assert_int_eq (plan->summary.outcome, SW_PROVED);
  ck_assert (plan->joins_proved && plan->boards_proved);
  sw_job_free (job);
}
END_TEST

/* Two of 2400 do not come out of 4800 with a kerf of 3.  Two of 2398 do and leave 1, which the last
 * kerf takes.  Two of 2395 leave 4800 - 2 x 2395 - 3 = 7, of which the saw takes 3 when the board
 * is cut a second time.  Derived. */
START_TEST (kerf_between_two_pieces)
{
  static const struct
  {
    int64_t cut, kerf;
    size_t boards;
    int64_t left;
  } cases[] = { { 2400, 3, 2, 2397 }, { 2400, 0, 1, 0 }, { 2398, 3, 1, 0 }, { 2399, 3, 2, 2398 }, { 2395, 3, 1, 4 } };
  for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
    {
      sw_job *job = hand_made ();
      job->settings->kerf = cases[i].kerf * SW_MM;
      job_stock (job, "rail", 4800 * SW_MM);
      job_extra (job, "x", "rail", cases[i].cut * SW_MM)->quantity = 2;
      make (job);
      ck_assert_uint_eq (plan->board_count, cases[i].boards);
      ck_assert_int_eq (plan->boards[0].left, cases[i].left * SW_MM);
      ck_assert_int_eq (plan->summary.outcome, SW_PROVED);
      job_drop (job);
    }
}
END_TEST

/* ---- Stock ------------------------------------------------------------------------------ */

START_TEST (hand_stock_goes_first)
{
  const fixture_texts texts = { .stock = "section,length,hand,limit,price\nrail,4.8,1,,20\nrail,3.0,2,0,\n",
                                .extras = "label,section,length,quantity\na,rail,2900,3\nb,rail,1800,1\n" };
  sw_job *job = fixture_job (&texts);
  make (job);
  /* Two come from the 3.0 m on hand and one, with the 1800, from the 4.8 m on hand.  Nothing is bought. */
  ck_assert_int_eq (plan->summary.cost, 0);
  ck_assert_int_eq (plan->summary.bought, 0);
  ck_assert_int_eq (plan->summary.from_hand, 10800 * SW_MM);
  ck_assert_int_eq (plan->summary.boards, 3);
  ck_assert_int_eq (plan->summary.outcome, SW_PROVED);
  sw_job_free (job);
}
END_TEST

START_TEST (limits_are_kept)
{
  const fixture_texts texts = { .stock = "section,length,limit,price\nrail,4.8,2,20\nrail,5.4,,30\n",
                                .extras = "label,section,length,quantity\na,rail,4700,5\n" };
  sw_job *job = fixture_job (&texts);
  make (job);
  ck_assert_int_eq (plan->summary.cost, (2 * 20 + 3 * 30) * SW_MONEY_UNIT);
  ck_assert_int_eq (plan->summary.outcome, SW_PROVED);
  sw_job_free (job);
}
END_TEST

/* ---- No plan ---------------------------------------------------------------------------- */

typedef struct no_plan
{
  fixture_texts texts;
  const char *says[3]; /* the faults, one each */
  size_t line;         /* line in stock.csv of the first fault, in the column limit; 0: it has none */
} no_plan;

#define EIGHT_BAYS "run,span\nroad,2300\nroad,2300\nroad,2300\nroad,2300\nroad,2300\nroad,2300\nroad,2300\nroad,2300\n"
#define TWO_SECTIONS "level,section\nlow,rail\nhigh,cap\n"

static const no_plan no_plans[] = {
  /* Two rails of 8 x 2300 and twice half a post need more than three lengths of 4.8. */
  { { .spans = EIGHT_BAYS, .stock = "section,length,limit\nrail,4.8,3\n" },
    { "section rail: its pieces are 37.0 m in all, and what can be had makes 14.4 m: 22.6 m short; raise a limit or "
      "add "
      "a length" },
    2 },
  { { .spans = EIGHT_BAYS, .settings = "stagger=require\nstock-length=3.0" },
    { "run road, posts 1 to 9: joins of neighbouring levels line up at least 7 times, whatever the timber; longer "
      "stock would let pieces span more bays, or use --stagger prefer" },
    0 },
  { { .spans = "run,span\nroad,5600\n" },
    { "run road, levels rail 1 and rail 2: bay 1 (posts 1 to 2) needs a piece of 5700 mm with its ends; the longest "
      "rail "
      "that can be had is 5.4 m: set a post, or get 5.7 m" },
    0 },
  /* There are enough metres, but a board makes only one such piece. */
  { { .stock = "section,length,limit,hand\nrail,3.6,0,\nrail,4.8,1,1\nbatten,2.4,,\n",
      .extras = "label,section,length,quantity\na,rail,3000,3\nb,batten,900,3\n" },
    { "section rail: at least 3 pieces of 3000 mm or more are needed, and what can be had makes 2: 1 short; raise a "
      "limit or add a length" },
    3 },
  /* Of the lengths that are short, the one is reported of which most pieces are missing.  A longer
   * board is unlimited. */
  { { .spans = "run,span\na,4500\na,4500\na,4500\n",
      .stock = "section,length,limit\nrail,4.5,\nrail,4.8,2\n",
      .settings = "rails=2" },
    { "section rail: at least 4 pieces of 4550 mm or more are needed, and what can be had makes 2: 2 short; raise a "
      "limit or add a length" },
    3 },
  /* Each section that is short is reported, and no other section of the same run. */
  { { .spans = EIGHT_BAYS,
      .levels = TWO_SECTIONS,
      .stock = "section,length,limit\nrail,4.8,\ncap,4.8,2\ncap,5.4,1\n",
      .settings = "end-trim=50" },
    { "section cap: its pieces are 18.5 m in all, and what can be had makes 14.7 m: 3.8 m short; raise a limit or add "
      "a "
      "length" },
    3 },
  { { .spans = EIGHT_BAYS, .levels = TWO_SECTIONS, .stock = "section,length,limit\nrail,4.8,3\ncap,4.8,2\n" },
    { "section rail: its pieces are 18.5 m in all, and what can be had makes 14.4 m: 4.1 m short; raise a limit or add "
      "a "
      "length",
      "section cap: its pieces are 18.5 m in all, and what can be had makes 9.6 m: 8.9 m short; raise a limit or add a "
      "length" },
    2 },
  { { .spans = EIGHT_BAYS, .stock = "section,length,limit\nrail,16ft,4\n", .settings = "inches=yes" },
    { "section rail: its pieces are 121.4 ft in all, and what can be had makes 64.0 ft: 57.4 ft short; raise a limit "
      "or "
      "add a length" },
    2 },
  /* There is enough of everything, but 2600 and 2400 do not come out of 5.0 m with a cut between them. */
  { { .stock = "section,length,limit\nbatten,2.4,\nrail,5.0,2\n",
      .extras = "label,section,length,quantity\na,rail,2400,3\nb,rail,2600,1\nc,batten,900,1\n" },
    { "section rail: what can be had (limit and hand) does not make all the pieces; raise a limit or add a length" },
    3 },
};

START_TEST (why_there_is_no_plan)
{
  const no_plan *n = &no_plans[_i];
  sw_job *job = fixture_job (&n->texts);
  size_t count = 0;
  ck_assert_int_eq (sw_plan_make (&plan, job, NULL, report), SW_NO_PLAN);
  ck_assert_ptr_null (plan);
  for (; count < 3 && n->says[count] != NULL; count++)
    {
      ck_assert_uint_lt (count, sw_report_count (report));
      ck_assert_str_eq (sw_report_get (report, count)->message, n->says[count]);
    }
  ck_assert_uint_eq (sw_report_count (report), count);
  const sw_remark *first = sw_report_get (report, 0);
  if (n->line > 0)
    {
      ck_assert_str_eq (first->file, job->files[SW_FILE_STOCK]);
      ck_assert_uint_eq (first->line, n->line);
      ck_assert_str_eq (first->column, "limit");
    }
  else
    ck_assert (first->file == NULL || strcmp (first->file, job->files[SW_FILE_SPANS]) == 0);
  sw_job_free (job);
}
END_TEST

/* ---- Labels, order ------------------------------------------------------------------------ */

static int
by_text (const void *a, const void *b)
{
  return strcmp (*(const char *const *)a, *(const char *const *)b);
}

static void
expect_unique_labels (void)
{
  const char **labels = calloc (plan->piece_count + 1, sizeof *labels);
  ck_assert_ptr_nonnull (labels);
  for (size_t p = 0; p < plan->piece_count; p++)
    labels[p] = plan->pieces[p].label;
  qsort (labels, plan->piece_count, sizeof *labels, by_text);
  for (size_t p = 1; p < plan->piece_count; p++)
    ck_assert_str_ne (labels[p - 1], labels[p]);
  free (labels);
}

/* Labels are numbered if names with slashes come to the same label, or if extras are called like other pieces. */
START_TEST (labels_are_unique)
{
  sw_job *job = hand_made ();
  job_level (job, "b/c", "rail", true);
  job_level (job, "c", "rail", true);
  job->levels.items[1].blocks = 1;
  job->levels.items[1].block_length = 100 * SW_MM;
  job_stock (job, "rail", 4800 * SW_MM);
  job_even_run (job, "a", 2, 2000 * SW_MM, 100 * SW_MM);
  job_even_run (job, "a/b", 2, 2000 * SW_MM, 100 * SW_MM);
  job_extra (job, "x", "rail", 500 * SW_MM)->quantity = 3;
  job_extra (job, "x 2", "rail", 500 * SW_MM);
  job_extra (job, "x 2 (2)", "rail", 500 * SW_MM);
  job_extra (job, "a/c/block 1", "rail", 500 * SW_MM);
  make (job);
  expect_unique_labels ();
  /* A label that was unique has not changed. */
  bool plain = false, doubled = false;
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      plain = plain || strcmp (plan->pieces[p].label, "x 1") == 0;
      doubled = doubled || strncmp (plan->pieces[p].label, "a/b/c/", 6) == 0;
    }
  ck_assert (plain && doubled);
  job_drop (job);
}
END_TEST

/* A whole fence with everything in it.  Its pieces stand by run, level and post, then come the
 * blocks, then the extras. */
static const fixture_texts garden = {
  .spans = "run,span,post_width,start,finish,rise,opening\n"
           "road,2350,125,mitre,,,\nroad,2350,,,,,\nroad,2410,,,,100,\nroad,2350,,,housed 30,,\nroad,900,,,,,yes\n"
           "road,2100,,,centre,,\n"
           "side,2300,,mitre,,,\nside,2300,,,,,\nside,1200,,,reach 20,,\n",
  .levels = "level,section,runs,gap,height,blocks,block_length\nplinth,board,between,4,0,2,150\n"
            "low,rail,through,,300,1,90\nhigh,rail,through,,900,,\ncap,cap,through,,1150,,\n",
  .stock = "section,length,price,per,limit,hand\nboard,4.8,,,0,1\nboard,3.0,8.5,metre,,\nrail,4.8,20.88,,,\nrail,5.4,"
           "24.5,,,2\nrail,3.6,15.2,,,\ncap,5.4,31,,,\ncap,6.0,36,,,\n",
  .sections = "section,width,thickness,density\nrail,90,45,600\nboard,150,25,\ncap,65,30,\n",
  .extras = "label,section,length,quantity\nstake,rail,700,3\nbrace,board,1100,1\n",
  .settings = "join-cost=1.5\nend-trim=5"
};

static size_t
place_of (const sw_piece *piece)
{
  return piece->kind == SW_PIECE_BLOCK ? 1 : piece->kind == SW_PIECE_EXTRA ? 2 : 0;
}

START_TEST (pieces_stand_in_order)
{
  sw_job *job = fixture_job (&garden);
  make (job);
  expect_unique_labels ();
  size_t kinds[4] = { 0 };
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      const sw_piece *b = &plan->pieces[p];
      kinds[b->kind]++;
      if (p == 0)
        continue;
      const sw_piece *a = b - 1;
      ck_assert_uint_le (place_of (a), place_of (b));
      if (place_of (a) != place_of (b) || place_of (a) == 2)
        continue;
      ck_assert_uint_le (a->run, b->run);
      if (a->run != b->run)
        continue;
      ck_assert_uint_le (a->level, b->level);
      if (a->level == b->level && place_of (a) == 0)
        ck_assert_uint_ge (b->from, a->to);
    }
  /* In each of 8 bays there are a plinth board and 2 + 1 blocks; 4 extras are added. */
  ck_assert_uint_eq (kinds[SW_PIECE_BETWEEN], 8);
  ck_assert_uint_eq (kinds[SW_PIECE_BLOCK], 24);
  ck_assert_uint_eq (kinds[SW_PIECE_EXTRA], 4);
  ck_assert_uint_ge (kinds[SW_PIECE_THROUGH], 9);
  sw_job_free (job);
}
END_TEST

START_TEST (ends_of_pieces_are_told)
{
  sw_job *job = fixture_job (&garden);
  make (job);
  for (size_t p = 0; p < plan->piece_count; p++)
    {
      const sw_piece *piece = &plan->pieces[p];
      if (piece->kind == SW_PIECE_BETWEEN)
        ck_assert (piece->start_end == SW_END_FACE && piece->finish_end == SW_END_FACE && piece->start_saw == 0);
      if (piece->kind != SW_PIECE_THROUGH)
        continue;
      const bool first = piece->from == 0, gate = piece->run == 0 && piece->to == 4, past = piece->from == 5;
      ck_assert_int_eq (piece->start_end, first ? SW_END_MITRE : past ? SW_END_FACE : SW_END_ON);
      /* A square corner: 45 degrees. */
      ck_assert_int_eq (piece->start_saw, first ? 45000 : 0);
      ck_assert_int_eq (piece->finish_saw, 0);
      ck_assert_int_eq (piece->finish_end, gate                                ? SW_END_HOUSED
                                           : piece->run == 0 && past           ? SW_END_CENTRE
                                           : piece->run == 1 && piece->to == 3 ? SW_END_REACH
                                                                               : SW_END_ON);
    }
  sw_job_free (job);
}
END_TEST

/* Boards stand by section, from hand last, longest first, with equal boards side by side. */
START_TEST (boards_stand_in_order)
{
  sw_job *job = fixture_job (&garden);
  make (job);
  bool hand = false;
  for (size_t b = 1; b < plan->board_count; b++)
    {
      const sw_board *x = &plan->boards[b - 1], *y = x + 1;
      const sw_stock *s = &job->stocks.items[x->stock], *t = &job->stocks.items[y->stock];
      hand = hand || y->hand;
      ck_assert_uint_le (s->section, t->section);
      if (s->section != t->section)
        continue;
      ck_assert (!x->hand || y->hand);
      if (x->hand == y->hand)
        ck_assert_int_ge (s->length, t->length);
    }
  ck_assert (hand);
  sw_job_free (job);
}
END_TEST

START_TEST (equal_boards_stand_together)
{
  sw_job *job = hand_made ();
  job_stock (job, "rail", 4800 * SW_MM);
  job_extra (job, "x", "rail", 2400 * SW_MM)->quantity = 9;
  job_extra (job, "y", "rail", 1600 * SW_MM)->quantity = 7;
  job_extra (job, "z", "rail", 4700 * SW_MM)->quantity = 3;
  make (job);
  size_t changes = 0;
  for (size_t b = 1; b < plan->board_count; b++)
    {
      const sw_board *x = &plan->boards[b - 1], *y = x + 1;
      bool same = x->piece_count == y->piece_count;
      for (size_t c = 0; same && c < x->piece_count; c++)
        same = plan->pieces[x->pieces[c]].cut == plan->pieces[y->pieces[c]].cut;
      changes += !same;
    }
  /* Threes of 4.7, pairs of 2.4, triples of 1.6; the rest, 1 of 2.4 and 1 of 1.6, is on one board or on two. */
  ck_assert_int_eq (plan->summary.boards, 3 + 4 + 2 + 1);
  ck_assert_uint_eq (changes, 3);
  job_drop (job);
}
END_TEST

START_TEST (aligned_joins_are_named)
{
  const fixture_texts texts
      = { .spans = "run,span\nroad,2400\nroad,2400\nroad,2400\n", .settings = "stock-length=3.0\nrails=3" };
  sw_job *job = fixture_job (&texts);
  make (job);
  ck_assert_int_eq (plan->summary.aligned, 4);
  ck_assert_int_eq (plan->summary.aligned_bound, 4);
  for (size_t a = 0; a < 4; a++)
    {
      const sw_aligned *pair = &plan->aligned[a];
      ck_assert_uint_eq (pair->run, 0);
      ck_assert_uint_eq (pair->post, 1 + a / 2);
      ck_assert_uint_eq (pair->lower, a % 2);
      ck_assert_uint_eq (pair->upper, a % 2 + 1);
    }
  sw_job_free (job);
}
END_TEST

/* ---- The same again ------------------------------------------------------------------------ */

static char *
csv_of (const sw_plan *of, sw_table_kind kind)
{
  sw_table *table = NULL;
  char *csv = NULL;
  ck_assert_int_eq (sw_plan_table (of, kind, &table), SW_OK);
  ck_assert_int_eq (sw_table_csv (table, &csv), SW_OK);
  sw_table_free (table);
  return csv;
}

START_TEST (same_job_same_bytes)
{
  char *first[4];
  for (int run = 0; run < 2; run++)
    {
      sw_job *job = fixture_job (&garden);
      make (job);
      for (int kind = SW_TABLE_ORDER; kind <= SW_TABLE_SETOUT; kind++)
        {
          char *csv = csv_of (plan, (sw_table_kind)kind);
          if (run == 0)
            first[kind] = csv;
          else
            {
              ck_assert_str_eq (csv, first[kind]);
              sw_text_free (csv);
              sw_text_free (first[kind]);
            }
        }
      sw_plan_free (plan);
      plan = NULL;
      sw_job_free (job);
    }
}
END_TEST

/* ---- Limits of the search ------------------------------------------------------------------- */

/* A job of so many bays, no two of them alike, that it cannot be planned in a moment. */
static sw_job *
make_big (size_t bays)
{
  uint64_t state = 4711;
  sw_job *job = hand_made ();
  static const char *const names[] = { "1", "2", "3" };
  job->settings->kerf = 3 * SW_MM;
  for (int l = 0; l < 3; l++)
    job_level (job, names[l], "rail", true);
  for (int64_t length = 3000; length <= 6000; length += 600)
    job_stock (job, "rail", length * SW_MM);
  job_run (job, "road", 100 * SW_MM);
  for (size_t b = 0; b < bays; b++)
    job_bay (job, chance (&state, 1700, 2500) * SW_MM, 100 * SW_MM);
  job_close (job);
  return job;
}

START_TEST (a_moment_is_not_enough)
{
  sw_job *job = make_big (400);
  for (int64_t limit = 0; limit <= 100; limit = 10 * limit + 1)
    {
      job->settings->time_limit = limit;
      sw_plan_free (plan);
      sw_report_clear (report);
      sw_status status = sw_plan_make (&plan, job, NULL, report);
      ck_assert_msg (status == SW_OK || status == SW_STOPPED, "%s", sw_status_text (status));
      ck_assert ((status == SW_OK) == (plan != NULL));
      if (status == SW_STOPPED)
        {
          ck_contains (first_remark (), "the time limit came before any plan was found");
          continue;
        }
      expect_sound (job);
      ck_assert_int_eq (plan->summary.outcome, SW_TIMED_OUT);
    }
  job_drop (job);
}
END_TEST

typedef struct watcher
{
  int calls, stop_at;
  double seconds;
} watcher;

static bool
watch (const sw_progress *progress, void *data)
{
  watcher *w = data;
  w->calls++;
  ck_assert (progress->seconds >= w->seconds);
  ck_assert (progress->seconds_left < 0);
  ck_assert (!progress->has_plan || progress->bound <= progress->cost);
  w->seconds = progress->seconds;
  return w->calls != w->stop_at;
}

START_TEST (the_callback_stops_it)
{
  sw_job *job = make_big (60);
  for (int stop_at = 1; stop_at < 40; stop_at += 1 + stop_at / 2)
    {
      watcher w = { .stop_at = stop_at };
      const sw_limits limits = { .progress = watch, .data = &w };
      sw_plan_free (plan);
      sw_report_clear (report);
      sw_status status = sw_plan_make (&plan, job, &limits, report);
      ck_assert_msg (status == SW_OK || status == SW_STOPPED, "%s", sw_status_text (status));
      /* Once it has been told to stop, it does not ask again. */
      ck_assert_int_eq (w.calls, stop_at);
      if (status == SW_STOPPED)
        {
          ck_contains (first_remark (), "interrupted before any plan was found");
          continue;
        }
      expect_sound (job);
      ck_assert_int_eq (plan->summary.outcome, SW_INTERRUPTED);
    }
  job_drop (job);
}
END_TEST

START_TEST (the_callback_may_only_watch)
{
  sw_job *job = fixture_job (&garden);
  watcher w = { 0 };
  const sw_limits limits = { .progress = watch, .data = &w };
  ck_assert_int_eq (sw_plan_make (&plan, job, &limits, report), SW_OK);
  ck_assert_int_gt (w.calls, 0);
  expect_sound (job);
  ck_assert_int_eq (plan->summary.outcome, SW_PROVED);
  int64_t cost = plan->summary.cost;
  make (job);
  ck_assert_int_eq (plan->summary.cost, cost);
  sw_job_free (job);
}
END_TEST

/* ---- Prices of 0 ------------------------------------------------------------------------------- */

/* As much is bought without prices as with prices of 0, although 6.0 m would give fewer joins and
 * boards for more timber. */
START_TEST (free_timber_is_not_squandered)
{
  static const char *const prices[] = { "section,length,price\nrail,3.0,%s\nrail,4.8,%s\nrail,6.0,%s\n",
                                        "section,length,price,limit\nrail,3.0,%s,4\nrail,4.8,%s,\nrail,6.0,%s,\n" };
  for (size_t i = 0; i < 2; i++)
    {
      sw_summary said[2];
      for (int free_of_cost = 0; free_of_cost < 2; free_of_cost++)
        {
          const char *price = free_of_cost ? "0" : "";
          sw_text stock = { 0 };
          sw_text_printf (&stock, prices[i], price, price, price);
          const fixture_texts texts = { .spans = "run,span\nroad,2350\nroad,2350\nroad,2350\nroad,2350\n",
                                        .stock = stock.data,
                                        .extras = "label,section,length,quantity\nx,rail,700,3\n" };
          sw_job *job = fixture_job (&texts);
          ck_assert (job->priced == free_of_cost && job->all_free == free_of_cost);
          make (job);
          said[free_of_cost] = plan->summary;
          ck_assert_int_eq (plan->least, free_of_cost ? plan->summary.bought : 0);
          sw_plan_free (plan);
          plan = NULL;
          sw_text_drop (&stock);
          sw_job_free (job);
        }
      ck_assert_int_eq (said[0].cost, said[0].bought);
      ck_assert_int_eq (said[1].cost, 0);
      ck_assert_int_eq (said[1].bound, 0);
      ck_assert_int_eq (said[1].outcome, SW_PROVED);
      ck_assert_int_eq (said[1].bought, said[0].bought);
      ck_assert_int_eq (said[1].joins, said[0].joins);
      ck_assert_int_eq (said[1].boards, said[0].boards);
    }
}
END_TEST

/* ---- Random jobs, verified by other code ----------------------------------------------------- */

static const char *
one_of (uint64_t *state, const char *const *words, int64_t count)
{
  return words[chance (state, 0, count - 1)];
}

#define ONE_OF(state, ...)                                                                                             \
  one_of (state, (const char *const[]){ __VA_ARGS__ }, sizeof ((const char *const[]){ __VA_ARGS__ }) / sizeof (char *))

static void
write_spans (sw_text *out, uint64_t *state)
{
  int64_t runs = chance (state, 1, 3);
  sw_text_add (out, "run,span,post_width,start,finish,join,rise,opening,step\n");
  for (int64_t r = 1; r <= runs; r++)
    {
      int64_t bays = chance (state, 1, 6), usual = chance (state, 900, 2450);
      bool hilly = one_in (state, 4);
      for (int64_t b = 1; b <= bays; b++)
        sw_text_printf (out, "run %" PRId64 ",%" PRId64 ",%s,%s,%s,%s,%" PRId64 ",%s,%s\n", r,
                        usual + chance (state, 0, 3) * 25, ONE_OF (state, "", "", "125", "90"),
                        b == 1 ? ONE_OF (state, "", "centre", "mitre", "face", "housed 20", "mitre 120", "mitre 60",
                                         "mitre 270", "reach 60")
                               : "",
                        b == bays ? ONE_OF (state, "", "centre", "mitre", "face", "housed", "mitre 225", "mitre 45")
                                  : "",
                        b == bays ? "" : ONE_OF (state, "", "", "", "", "", "always", "never"),
                        hilly ? chance (state, -200, 200) : 0, b > 1 && b < bays && one_in (state, 8) ? "yes" : "",
                        b < bays && one_in (state, 8) ? ONE_OF (state, "200", "-150") : "");
    }
}

static void
write_levels (sw_text *out, uint64_t *state)
{
  int64_t rails = chance (state, 1, 3);
  sw_text_add (out, "level,section,runs,gap,height,blocks,block_length,block_section,seat,only\n");
  if (one_in (state, 2))
    sw_text_printf (out, "plinth,%s,between,%s,0,%s,150,%s,,\n", ONE_OF (state, "board", "rail"),
                    ONE_OF (state, "", "5"), ONE_OF (state, "", "2"), ONE_OF (state, "", "rail"));
  for (int64_t l = 1; l <= rails; l++)
    sw_text_printf (out, "rail %" PRId64 ",rail,,,%" PRId64 ",%s,%s,,%s,%s\n", l, 300 * l, l == 1 ? "1" : "",
                    l == 1 ? "200" : "", ONE_OF (state, "", "let in 25", "face"),
                    l > 1 && one_in (state, 5) ? "run 1" : "");
  if (one_in (state, 4))
    sw_text_add (out, "cap,board,,,1300,,,,top,\n");
}

/* Write a stock file.  Returns whether it has prices. */
static bool
write_stock (sw_text *out, uint64_t *state)
{
  bool priced = one_in (state, 2);
  sw_text_add (out, "section,length,price,per,hand,limit\n");
  for (int s = 0; s < 2; s++)
    for (int64_t length = 30; length <= 60; length += chance (state, 6, 18))
      sw_text_printf (out, "%s,%" PRId64 ".%" PRId64 ",%s,%s,%s,%s\n", s == 0 ? "rail" : "board", length / 10,
                      length % 10, priced ? ONE_OF (state, "4.5", "5", "4.83") : "", priced ? "metre" : "",
                      one_in (state, 9) ? "1" : "", one_in (state, 15) ? "40" : "");
  return priced;
}

/* _i is the number of the stream of jobs. */
START_TEST (random_plans_are_verified)
{
  uint64_t state = 8000 + (uint64_t)_i;
  int planned = 0;
  for (int round = 0; round < 12; round++)
    {
      sw_text spans = { 0 }, levels = { 0 }, stock = { 0 }, settings = { 0 };
      write_spans (&spans, &state);
      write_levels (&levels, &state);
      bool priced = write_stock (&stock, &state);
      sw_text_printf (&settings,
                      "kerf=%s\nend-trim=%s\nstagger=%s\njoin-cost=%s\nmeasured=%s\nround=%s\nturn=%s\n"
                      "post-depth=%s\ntime-limit=0.2",
                      ONE_OF (&state, "3", "0", "2.5"), ONE_OF (&state, "0", "5"),
                      ONE_OF (&state, "prefer", "prefer", "off", "require"), priced ? ONE_OF (&state, "0", "0", "2") : "0",
                      ONE_OF (&state, "centres", "clear"), ONE_OF (&state, "1", "1", "0", "5"),
                      ONE_OF (&state, "keep", "keep", "off"), ONE_OF (&state, "100", "75", "125"));
      const fixture_texts texts
          = { .spans = spans.data,
              .levels = levels.data,
              .stock = stock.data,
              .sections = "section,width,thickness\nrail,75,38\nboard,150,25\n",
              .extras = one_in (&state, 2) ? "label,section,length,quantity\nx,rail,640,3\n" : NULL,
              .settings = settings.data };
      sw_job *job = fixture_job (&texts);
      sw_report_clear (report);
      sw_status status = sw_plan_make (&plan, job, NULL, report);
      ck_assert_msg (status == SW_OK || status == SW_NO_PLAN, "%s: %s", sw_status_text (status), first_remark ());
      if (status == SW_OK)
        {
          planned++;
          expect_sound (job);
          expect_unique_labels ();
          char *directory = fixture_directory ();
          sw_verdict verdict;
          ck_assert_int_eq (sw_plan_write (plan, directory, report), SW_OK);
          sw_report_clear (report);
          status = sw_verify (job, directory, &verdict, report);
          ck_assert_msg (status == SW_OK, "%s: %s\n%s%s%s%s", sw_status_text (status), first_remark (), spans.data,
                         levels.data, stock.data, settings.data);
          ck_assert_int_eq (verdict.faults, 0);
          ck_assert_int_eq (verdict.pieces, (int64_t)plan->piece_count);
          ck_assert_int_eq (verdict.boards, plan->summary.boards);
          ck_assert_int_eq (verdict.joins, plan->summary.joins);
          ck_assert_int_eq (verdict.aligned, plan->summary.aligned);
          ck_assert (verdict.cost_known);
          ck_assert_int_eq (verdict.cost, plan->summary.cost);
          fixture_remove (directory);
        }
      sw_plan_free (plan);
      plan = NULL;
      sw_job_free (job);
      sw_text_drop (&spans);
      sw_text_drop (&levels);
      sw_text_drop (&stock);
      sw_text_drop (&settings);
    }
  ck_assert_int_gt (planned, 3);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("plan_make");
  TCase *worked = tcase_create ("worked values");
  tcase_add_checked_fixture (worked, setup, teardown);
  tcase_set_timeout (worked, 60);
  tcase_add_test (worked, six_bays_of_three_rails);
  tcase_add_test (worked, kerf_between_two_pieces);
  tcase_add_test (worked, hand_stock_goes_first);
  tcase_add_test (worked, limits_are_kept);
  tcase_add_loop_test (worked, why_there_is_no_plan, 0, sizeof no_plans / sizeof *no_plans);
  suite_add_tcase (suite, worked);
  TCase *prices = tcase_create ("prices");
  tcase_add_checked_fixture (prices, setup, teardown);
  tcase_set_timeout (prices, 60);
  tcase_add_test (prices, free_timber_is_not_squandered);
  suite_add_tcase (suite, prices);
  TCase *order = tcase_create ("labels and order");
  tcase_add_checked_fixture (order, setup, teardown);
  tcase_set_timeout (order, 60);
  tcase_add_test (order, labels_are_unique);
  tcase_add_test (order, pieces_stand_in_order);
  tcase_add_test (order, ends_of_pieces_are_told);
  tcase_add_test (order, boards_stand_in_order);
  tcase_add_test (order, equal_boards_stand_together);
  tcase_add_test (order, aligned_joins_are_named);
  tcase_add_test (order, same_job_same_bytes);
  suite_add_tcase (suite, order);
  TCase *limits = tcase_create ("limits");
  tcase_add_checked_fixture (limits, setup, teardown);
  tcase_set_timeout (limits, 120);
  tcase_add_test (limits, a_moment_is_not_enough);
  tcase_add_test (limits, the_callback_stops_it);
  tcase_add_test (limits, the_callback_may_only_watch);
  suite_add_tcase (suite, limits);
  TCase *random = tcase_create ("random");
  tcase_add_checked_fixture (random, setup, teardown);
  tcase_set_timeout (random, 240);
  tcase_add_loop_test (random, random_plans_are_verified, 0, suite_rounds (4));
  suite_add_tcase (suite, random);
  return suite_run (suite);
}
