/* verdict.c - what the check of a plan's files has found, in words
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/job.h"
#include "view/figures.h"

#include <inttypes.h>
#include <stdlib.h>

#define DEFAULT_WIDTH 80

typedef struct telling
{
  const sw_verdict *verdict;
  const sw_job *job;
  sw_text *line;
} telling;

static void
add_count (sw_text *line, int64_t count, const char *one, const char *many)
{
  sw_text_printf (line, "%" PRId64 " %s", count, count == 1 ? one : many);
}

static void
show_cost (const telling *tell, int64_t cost, char out[SW_LENGTH_TEXT])
{
  if (tell->verdict->priced)
    sw_money_format (cost, out);
  else
    sw_view_lineal (tell->job, cost, out);
}

static void
add_figures (const telling *tell)
{
  const sw_verdict *verdict = tell->verdict;
  sw_text_add (tell->line, "Every rule holds: ");
  add_count (tell->line, verdict->pieces, "piece from ", "pieces from ");
  add_count (tell->line, verdict->boards, "board, ", "boards, ");
  add_count (tell->line, verdict->joins, "join", "joins");
  if (verdict->aligned > 0)
    {
      sw_text_add (tell->line, ", ");
      add_count (tell->line, verdict->aligned, "pair of them lined up", "pairs of them lined up");
    }
  if (verdict->always > 0)
    {
      sw_text_add (tell->line, ", plus ");
      add_count (tell->line, verdict->always, "pair at posts that are always joined",
                 "pairs at posts that are always joined");
    }
  sw_text_add (tell->line, ".");
}

static void
add_cost (const telling *tell)
{
  char cost[SW_LENGTH_TEXT];
  show_cost (tell, tell->verdict->cost, cost);
  sw_text_printf (tell->line, "The plan costs %s.", cost);
}

/* Add DIFFERENCE, which is not negative, and what it is in per cent of WHOLE. */
static void
add_difference (const telling *tell, int64_t difference, int64_t whole)
{
  char cost[SW_LENGTH_TEXT];
  char percent[SW_VIEW_PERCENT];
  show_cost (tell, difference, cost);
  sw_view_percent (difference, whole, 2, percent);
  sw_text_printf (tell->line, "%s (%s %%)", cost, percent);
}

static void
add_more (const telling *tell, int64_t than)
{
  int64_t difference = tell->verdict->cost - than;
  sw_text_add (tell->line, ": this one costs ");
  add_difference (tell, difference >= 0 ? difference : -difference, than);
  sw_text_add (tell->line, difference >= 0 ? " more." : " less.");
}

static void
add_at_most (const telling *tell, int64_t bound)
{
  sw_text_add (tell->line, ": at most ");
  add_difference (tell, tell->verdict->cost - bound, bound);
  sw_text_add (tell->line, " too much.");
}

/* Compare with the cheapest of the plans that line up fewer joins. */
static void
compare_with_fewer (const telling *tell, const sw_summary *best)
{
  char cost[SW_LENGTH_TEXT];
  show_cost (tell, best->cost, cost);
  if (best->aligned == 0)
    sw_text_add (tell->line, "No joins need to line up");
  else
    {
      sw_text_add (tell->line, "Only ");
      add_count (tell->line, best->aligned, "pair of joins needs to line up", "pairs of joins need to line up");
    }
  sw_text_printf (tell->line, ", and the %s plan of that kind costs %s",
                  best->bound >= best->cost ? "cheapest" : "best known", cost);
  add_more (tell, best->cost);
}

/* Compare with the cheapest of the plans that line up as many. */
static void
compare_cost (const telling *tell, const sw_summary *best)
{
  char cost[SW_LENGTH_TEXT];
  char bound[SW_LENGTH_TEXT];
  int64_t own = tell->verdict->cost;
  show_cost (tell, best->cost, cost);
  show_cost (tell, best->bound, bound);
  if (own <= best->bound)
    {
      /* It may not be proved that so many joins must line up. */
      sw_text_add (tell->line, best->aligned > best->aligned_bound ? "No plan with as few joins lined up costs less."
                                                                   : "No plan can be cheaper.");
      return;
    }
  if (best->bound >= best->cost)
    {
      sw_text_printf (tell->line, "The cheapest plan costs %s", cost);
      add_more (tell, best->cost);
      return;
    }
  if (own <= best->cost)
    sw_text_add (tell->line, "Planning afresh found none that is cheaper");
  else
    sw_text_printf (tell->line, "Planning afresh found one that costs %s", cost);
  if (best->bound <= 0)
    sw_text_add (tell->line, "; nothing is proved of the cost.");
  else
    {
      sw_text_printf (tell->line, ", and no plan can cost less than %s", bound);
      add_at_most (tell, best->bound);
    }
}

static void
compare (const telling *tell, const sw_plan *plan)
{
  sw_summary best;
  sw_plan_summary (plan, &best);
  if (tell->verdict->aligned > best.aligned)
    compare_with_fewer (tell, &best);
  else if (tell->verdict->aligned < best.aligned)
    {
      sw_text_add (tell->line, "Planning afresh found none that lines up so few joins: ");
      add_count (tell->line, best.aligned, "pair.", "pairs.");
    }
  else
    compare_cost (tell, &best);
}

sw_status
sw_verdict_text (const sw_verdict *verdict, const sw_job *job, const sw_plan *plan, unsigned width, char **out)
{
  sw_text text = { 0 };
  sw_text line = { 0 };
  telling tell = { .verdict = verdict, .job = job, .line = &line };
  if (width == 0)
    width = DEFAULT_WIDTH;
  if (verdict->faults > 0)
    {
      add_count (&line, verdict->faults, "fault", "faults");
      sw_text_add (&line, " found: do not cut by this plan.");
    }
  else
    add_figures (&tell);
  sw_view_paragraph (&text, &line, 0, 0, width);
  if (verdict->faults == 0 && verdict->cost_known)
    {
      add_cost (&tell);
      sw_view_paragraph (&text, &line, 0, 0, width);
      if (plan != NULL)
        {
          compare (&tell, plan);
          sw_view_paragraph (&text, &line, 0, 0, width);
        }
    }
  *out = sw_text_take (&text);
  return *out != NULL ? SW_OK : SW_NO_MEMORY;
}
