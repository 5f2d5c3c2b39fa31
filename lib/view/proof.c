/* proof.c - how good a plan is, in words
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "view/proof.h"

#include "view/figures.h"

#include <inttypes.h>
#include <stdlib.h>

static void
add_why (sw_text *out, const sw_plan *plan)
{
  char seconds[SW_VIEW_THOUSANDTHS];
  int64_t limit = plan->job->settings->time_limit;
  switch (plan->summary.outcome)
    {
    case SW_TIMED_OUT:
      if (limit >= 0)
        {
          sw_view_thousandths (limit, seconds);
          sw_text_printf (out, " The time limit of %s s came first.", seconds);
        }
      else
        sw_text_add (out, " The time limit came first.");
      break;
    case SW_INTERRUPTED:
      sw_text_add (out, " The search was stopped before it was done.");
      break;
    case SW_WITHIN_GAP:
    case SW_PROVED:
      sw_text_add (out, " The search gave up there.");
      break;
    }
}

/* Add what is proved of the bought length, where every plan costs nothing. */
static void
add_free (sw_text *out, const sw_plan *plan)
{
  const sw_summary *sum = &plan->summary;
  char bought[SW_LENGTH_TEXT];
  char least[SW_LENGTH_TEXT];
  char gap[SW_LENGTH_TEXT];
  char percent[SW_VIEW_PERCENT];
  sw_view_bought (plan->job, sum->bought, bought);
  sw_text_add (out, "Every price is 0, so that no plan is cheaper than another. ");
  if (sum->outcome == SW_PROVED)
    {
      sw_text_printf (out, "None can buy less timber than this one, %s.", bought);
      return;
    }
  if (plan->least <= 0 && sum->bought > 0)
    sw_text_printf (out, "This one buys %s; how much less another could buy is not known yet.", bought);
  else if (plan->least >= sum->bought)
    sw_text_printf (out, "This one buys %s, and none with as few joins lined up buys less.", bought);
  else
    {
      sw_view_bought (plan->job, plan->least, least);
      sw_view_bought (plan->job, sum->bought - plan->least, gap);
      sw_view_percent (sum->bought - plan->least, plan->least, 2, percent);
      sw_text_printf (out, "This one buys %s and none can buy less than %s: at most %s too much (%s %%).", bought,
                      least, gap, percent);
    }
  add_why (out, plan);
}

void
sw_proof_sentence (sw_text *out, const sw_plan *plan)
{
  const sw_summary *sum = &plan->summary;
  char cost[SW_LENGTH_TEXT];
  char bound[SW_LENGTH_TEXT];
  char gap[SW_LENGTH_TEXT];
  char percent[SW_VIEW_PERCENT];
  if (plan->job->all_free)
    {
      add_free (out, plan);
      return;
    }
  sw_view_cost (plan, sum->cost, cost);
  if (sum->outcome == SW_PROVED)
    {
      sw_text_printf (out, "No plan can be cheaper: every other one costs %s or more.", cost);
      return;
    }
  if (sum->bound <= 0 && sum->cost > 0)
    sw_text_printf (out, "This plan costs %s; how much cheaper another could be is not known yet.", cost);
  else if (sum->bound >= sum->cost)
    sw_text_printf (out, "This plan costs %s, and no plan with as few joins lined up costs less.", cost);
  else
    {
      sw_view_cost (plan, sum->bound, bound);
      sw_view_cost (plan, sum->cost - sum->bound, gap);
      sw_view_percent (sum->cost - sum->bound, sum->bound, 2, percent);
      sw_text_printf (out, "This plan costs %s and no plan can cost less than %s: at most %s too much (%s %%).", cost,
                      bound, gap, percent);
    }
  add_why (out, plan);
}

#define IN_TURN "first pieces are long and short in turn (--turn keep)"

/* Add what the joins must keep to before cost counts. */
static void
add_stagger (sw_text *out, const sw_plan *plan)
{
  const sw_summary *sum = &plan->summary;
  const bool turned = sw_view_turned (plan->job);
  const char *const pairs = sum->aligned == 1 ? "pair" : "pairs";
  if (plan->job->settings->stagger == SW_STAGGER_OFF || !sw_view_neighbours (plan->job))
    return;
  if (sum->aligned > sum->aligned_bound)
    sw_text_printf (out, "Joins line up in %" PRId64 " %s", sum->aligned, pairs);
  else if (sum->aligned > 0)
    sw_text_printf (out, "%s %" PRId64 " %s of joins or more",
                    turned ? "Every plan in which " IN_TURN " lines up" : "Every plan lines up", sum->aligned, pairs);
  else
    sw_text_add (out, "The plans compared are those in which no joins line up");
  if (sum->always > 0)
    {
      sw_text_add (out, sum->aligned > 0 ? ", plus " : " but ");
      sw_view_always (out, sum->always);
    }
  if (sum->aligned > sum->aligned_bound)
    sw_text_printf (out, "; it is not proved that so many must (at least %" PRId64 " must)%s", sum->aligned_bound,
                    turned ? ". The plans compared are those in which " IN_TURN : "");
  else if (sum->aligned > 0)
    sw_text_printf (out, "; the plans compared are those with %" PRId64, sum->aligned);
  else if (turned)
    sw_text_add (out, sum->always > 0 ? ", and in which " IN_TURN : " and " IN_TURN);
  sw_text_add (out, ". ");
}

static void
add_cost (sw_text *out, const sw_plan *plan)
{
  const sw_settings *settings = plan->job->settings;
  bool spare = false;
  bool delivery = false;
  char cost[SW_MONEY_TEXT];
  if (!plan->summary.priced)
    {
      sw_text_add (out, "Without prices the cost is the length bought. ");
      return;
    }
  for (size_t s = 0; s < plan->job->sections.count; s++)
    spare = spare || plan->job->sections.items[s].spare + plan->job->sections.items[s].spare_rate > 0;
  for (size_t y = 0; y < plan->job->yards.count; y++)
    delivery = delivery || plan->job->yards.items[y].delivery > 0;
  const bool joins = settings->join_cost > 0 && plan->summary.joins > 0;
  if (!spare && !delivery && !joins)
    return;
  sw_text_printf (out, "The cost is the timber%s%s", spare ? " without spare lengths" : "",
                  delivery ? spare ? ", with delivery" : " with delivery" : "");
  if (joins)
    {
      sw_money_format (settings->join_cost, cost);
      sw_text_printf (out, " and %" PRId64 " %s at %s", plan->summary.joins,
                      plan->summary.joins == 1 ? "join" : "joins", cost);
    }
  sw_text_add (out, ". ");
}

void
sw_proof_details (sw_text *out, const sw_plan *plan)
{
  const sw_summary *sum = &plan->summary;
  add_cost (out, plan);
  add_stagger (out, plan);
  if (sum->outcome != SW_PROVED || sum->joins == 0)
    return;
  const char *const timber = plan->summary.priced && !plan->job->all_free ? "for that money" : "with so little timber";
  if (!plan->joins_proved)
    sw_text_printf (out, "Fewer joins than %" PRId64 " %s are not ruled out.", sum->joins, timber);
  else
    {
      sw_text_printf (out, "%" PRId64 " %s the fewest %s", sum->joins, sum->joins == 1 ? "join is" : "joins are", timber);
      if (plan->boards_proved)
        sw_text_printf (out, " and, with so few, %" PRId64 " %s the fewest", sum->boards,
                        sum->boards == 1 ? "board is" : "boards are");
      sw_text_add (out, ".");
    }
}

void
sw_proof_text (const sw_plan *plan, size_t width, sw_text *out)
{
  sw_text line = { 0 };
  sw_text_add (out, "PROOF\n");
  sw_proof_sentence (&line, plan);
  sw_view_paragraph (out, &line, 2, 2, width);
  sw_proof_details (&line, plan);
  if (line.length > 0 || line.failed)
    sw_view_paragraph (out, &line, 2, 2, width);
}
