/* timber.c - what is bought, used and wasted, and how the joins stand
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/order.h"

#include "layout/layout.h"
#include "base/memory.h"
#include "view/figures.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

/* The columns of a label and of the figure after it, and the column where remarks begin. */
#define LABEL_WIDTH 22
#define FIGURE_WIDTH 12
#define REMARK_COLUMN (LABEL_WIDTH + FIGURE_WIDTH + 2)
/* If remarks would have fewer columns, all columns move to the left. */
#define REMARK_LEAST 24
#define LABEL_NARROW 17
/* The most lines about joins that line up. */
#define PAIRS_MOST 20

/* Add one row.  REMARK may be empty, and is empty afterwards. */
static void
add_row (sw_text *out, const char *label, const char *figure, sw_text *remark, size_t width)
{
  bool narrow = width < REMARK_COLUMN + REMARK_LEAST;
  sw_text_add (out, "  ");
  sw_view_cell (out, label, (narrow ? LABEL_NARROW : LABEL_WIDTH) - 2, false);
  sw_view_cell (out, figure, FIGURE_WIDTH, true);
  if (remark->length > 0)
    sw_text_add (out, narrow ? "\n    " : "  ");
  sw_view_rest (out, remark, narrow ? 4 : REMARK_COLUMN, narrow ? 4 : REMARK_COLUMN, width);
}

static void
add_lineal (sw_text *out, const sw_job *job, const char *label, sw_length lineal, sw_text *remark, size_t width)
{
  char figure[SW_LENGTH_TEXT];
  sw_view_tally (job, lineal, figure);
  add_row (out, label, figure, remark, width);
}

static void
add_count (sw_text *out, int64_t count, const char *one, const char *many)
{
  sw_text_printf (out, "%" PRId64 " %s", count, count == 1 ? one : many);
}

static int
longest_first (const void *a, const void *b)
{
  sw_length x = *(const sw_length *)a;
  sw_length y = *(const sw_length *)b;
  return x < y ? 1 : x > y ? -1 : 0;
}

/* Add the offcuts that are kept: "2 x 1190, 1 x 604". */
static sw_status
add_kept (sw_text *out, const sw_plan *plan)
{
  sw_length *kept = sw_alloc (plan->board_count, sizeof *kept);
  size_t count = 0;
  if (kept == NULL)
    return SW_NO_MEMORY;
  for (size_t b = 0; b < plan->board_count; b++)
    if (sw_board_is_kept (plan, &plan->boards[b]))
      kept[count++] = plan->boards[b].left;
  qsort (kept, count, sizeof *kept, longest_first);
  for (size_t first = 0, end = 0; first < count; first = end)
    {
      char length[SW_LENGTH_TEXT];
      while (end < count && kept[end] == kept[first])
        end++;
      sw_view_length (plan->job, kept[first], length);
      sw_text_printf (out, "%s%zu" SW_VIEW_HARD "x" SW_VIEW_HARD "%s", first > 0 ? ", " : "", end - first, length);
    }
  free (kept);
  return SW_OK;
}

static sw_status
add_waste (sw_text *out, const sw_plan *plan, size_t width)
{
  const sw_summary *sum = &plan->summary;
  const sw_job *job = plan->job;
  const sw_length all = sum->bought + sum->from_hand;
  /* The waste is computed from the printed figures, so that used and wasted timber add up to what is bought. */
  const sw_length used = sw_view_tallied (job, sum->used);
  const sw_length waste = sw_view_tallied (job, sum->bought) + sw_view_tallied (job, sum->from_hand) - used;
  char percent[SW_VIEW_PERCENT];
  int64_t hand = 0;
  sw_text remark = { 0 };
  for (size_t b = 0; b < plan->board_count; b++)
    hand += plan->boards[b].hand ? 1 : 0;
  add_count (&remark, sum->boards - hand, "length", "lengths");
  add_lineal (out, job, "Bought", sum->bought, &remark, width);
  if (hand > 0)
    {
      add_count (&remark, hand, "length", "lengths");
      add_lineal (out, job, "From hand", sum->from_hand, &remark, width);
    }
  add_count (&remark, (int64_t)plan->piece_count, "piece", "pieces");
  add_lineal (out, job, "Used", used, &remark, width);
  sw_view_percent (all - sum->used, all, 1, percent);
  sw_text_printf (&remark, "%s %% of what is %s", percent, hand > 0 ? "cut up" : "bought");
  add_lineal (out, job, "Waste", waste, &remark, width);
  if (sum->kept <= 0)
    return SW_OK;
  sw_status status = add_kept (&remark, plan);
  const sw_length kept = sw_view_tallied (job, sum->kept);
  add_lineal (out, job, "  worth keeping", kept, &remark, width);
  sw_text_add (&remark, "sawdust, and ends too short to keep");
  add_lineal (out, job, "  scrap", waste - kept, &remark, width);
  return status;
}

/* ---- Joins that line up ---- */

typedef enum why
{
  WHY_LONG,   /* no stock that can be had spans the two bays */
  WHY_SLOPE,  /* the slope changes at the post */
  WHY_NEEDED, /* the solver has proved that so many are needed */
  WHY_OPEN    /* the solver has given up before a proof */
} why;

/* Can a piece of LEVEL run past POST? */
static bool
passes (const sw_job *job, size_t run, size_t post, size_t level, why *why)
{
  const sw_run *line = &job->fence.runs[run];
  const sw_settings *settings = job->settings;
  /* The stretch that is looked at is as short as possible: it matters whether it ends at a
   * neighbour of POST, not where it ends beyond. */
  const bool first = post == 1 || line->bays[post - 1].start.kind != SW_END_ON;
  const bool last = post + 1 == line->bay_count || line->bays[post].finish.kind != SW_END_ON;
  const sw_stretch stretch = { .run = run, .first = post - (first ? 1 : 2), .last = post + (last ? 1 : 2) };
  if (!sw_run_is_straight (line, post - 1, post + 1, settings->bow))
    {
      *why = WHY_SLOPE;
      return false;
    }
  *why = WHY_LONG;
  const sw_level *timber = &job->levels.items[level];
  const sw_length cut = sw_layout_cut (job, timber, &stretch, post - 1, post + 1);
  return sw_layout_take (job, timber, &stretch, post - 1, post + 1, cut) <= sw_layout_longest (job, timber->section)
         && (settings->max_piece == 0 || cut <= settings->max_piece);
}

typedef struct pair
{
  const sw_aligned *at;
  why why;
} pair;

static int
by_place (const void *a, const void *b)
{
  const pair *x = a;
  const pair *y = b;
  const size_t left[] = { x->at->run, x->at->lower, x->at->upper, x->why, x->at->post };
  const size_t right[] = { y->at->run, y->at->lower, y->at->upper, y->why, y->at->post };
  for (size_t i = 0; i < sizeof left / sizeof *left; i++)
    if (left[i] != right[i])
      return left[i] < right[i] ? -1 : 1;
  return 0;
}

/* Add one line for the COUNT PAIRS, which differ only in their posts. */
static sw_status
add_pairs (sw_text *out, const sw_plan *plan, const pair *pairs, size_t count, size_t width)
{
  const sw_job *job = plan->job;
  const char *const reason[]
      = { "nothing that can be had spans the two bays beside it", "the slope changes there",
          sw_view_turned (job) ? "no plan has fewer with first pieces in turn" : "no plan has fewer",
          "not proved to be needed" };
  size_t *posts = sw_alloc (count, sizeof *posts);
  sw_text line = { 0 };
  if (posts == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < count; i++)
    posts[i] = pairs[i].at->post;
  sw_text_add (&line, "run ");
  sw_view_name (&line, job->fence.runs[pairs->at->run].name);
  sw_text_add (&line, count == 1 ? ", post " : ", posts ");
  sw_view_ranges (&line, posts, count, 1);
  sw_text_add (&line, ": ");
  sw_view_name (&line, job->levels.items[pairs->at->lower].name);
  sw_text_add (&line, " and ");
  sw_view_name (&line, job->levels.items[pairs->at->upper].name);
  sw_text_printf (&line, " (%s)", reason[pairs->why]);
  free (posts);
  sw_view_paragraph (out, &line, 4, 6, width);
  return SW_OK;
}

static sw_status
add_aligned (sw_text *out, const sw_plan *plan, size_t width)
{
  pair *pairs = sw_alloc (plan->aligned_count, sizeof *pairs);
  sw_status status = SW_OK;
  if (pairs == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < plan->aligned_count; i++)
    {
      const sw_aligned *at = &plan->aligned[i];
      why lower = WHY_LONG;
      why upper = WHY_LONG;
      bool forced = !passes (plan->job, at->run, at->post, at->lower, &lower)
                    && !passes (plan->job, at->run, at->post, at->upper, &upper);
      pairs[i] = (pair){ at, forced                                                 ? lower
                             : plan->summary.aligned == plan->summary.aligned_bound ? WHY_NEEDED
                                                                                    : WHY_OPEN };
    }
  qsort (pairs, plan->aligned_count, sizeof *pairs, by_place);
  size_t told = 0;
  for (size_t first = 0, end = 0; first < plan->aligned_count && status == SW_OK; first = end)
    {
      const sw_aligned *at = pairs[first].at;
      if (told++ == PAIRS_MOST)
        {
          sw_text rest = { 0 };
          sw_text_printf (&rest, "and %zu more; the column join of setout.csv has them all (-o DIR, or --csv setout)",
                          plan->aligned_count - first);
          sw_view_paragraph (out, &rest, 4, 6, width);
          break;
        }
      while (end < plan->aligned_count && pairs[end].at->run == at->run && pairs[end].at->lower == at->lower
             && pairs[end].at->upper == at->upper && pairs[end].why == pairs[first].why)
        end++;
      status = add_pairs (out, plan, pairs + first, end - first, width);
    }
  free (pairs);
  return status;
}

static sw_status
add_joins (sw_text *out, const sw_plan *plan, size_t width)
{
  const sw_summary *sum = &plan->summary;
  char joins[SW_LENGTH_TEXT];
  sw_text remark = { 0 };
  snprintf (joins, sizeof joins, "%" PRId64, sum->joins);
  if (sum->joins == 0)
    sw_text_add (&remark, "every piece is in one length from end to end");
  else if (plan->job->settings->stagger == SW_STAGGER_OFF)
    sw_text_add (&remark, "staggering is switched off");
  else if (sum->aligned == 0)
    sw_text_add (&remark, "none lines up with a join on the next level");
  else
    {
      add_count (&remark, sum->aligned, "pair lines", "pairs line");
      sw_text_add (&remark, " up on neighbouring levels");
    }
  if (sum->always > 0)
    {
      sw_text_add (&remark, sum->aligned == 0 ? " but " : ", plus ");
      sw_view_always (&remark, sum->always);
    }
  if (sum->aligned > 0 && plan->job->settings->stagger != SW_STAGGER_OFF)
    sw_text_add (&remark, ":");
  add_row (out, "Joins", joins, &remark, width);
  return plan->job->settings->stagger == SW_STAGGER_OFF ? SW_OK : add_aligned (out, plan, width);
}

sw_status
sw_waste_text (const sw_plan *plan, size_t width, sw_text *out)
{
  sw_text_add (out, "\nTIMBER\n");
  sw_status status = add_waste (out, plan, width);
  if (status == SW_OK && plan->job->fence.run_count > 0)
    status = add_joins (out, plan, width);
  return status;
}
