/* compare_note.c - remarks on choices, and tipping prices in words
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "compare/compare.h"

#include "base/decimal.h"
#include "view/figures.h"

#include <inttypes.h>
#include <stdlib.h>

__extension__ typedef __int128 wide;

/* ---- Remarks ------------------------------------------------------------------------- */

static void
add_name (sw_text *out, const sw_comparison *c, size_t choice)
{
  sw_view_name (out, c->choices[choice].name);
}

static void
begin_remark (sw_text *out)
{
  if (out->length > 0)
    sw_text_add (out, "; ");
}

static void
add_unproved (sw_text *out, const sw_plan *plan)
{
  const sw_summary *sum = &plan->summary;
  char bound[SW_LENGTH_TEXT];
  begin_remark (out);
  sw_text_add (out, sum->outcome == SW_TIMED_OUT     ? "the time was up first"
                    : sum->outcome == SW_INTERRUPTED ? "stopped first"
                                                     : "the search gave up");
  if (sum->aligned > sum->aligned_bound)
    {
      sw_text_printf (out, ": not proved that %" PRId64 " pairs of joins must line up", sum->aligned);
      return;
    }
  const bool free_of_cost = plan->job->all_free;
  if ((free_of_cost ? plan->least : sum->bound) <= 0)
    {
      sw_text_printf (out, ": nothing is proved of %s", free_of_cost ? "how much it buys" : "its cost");
      return;
    }
  if (free_of_cost)
    sw_view_bought (plan->job, plan->least, bound);
  else
    sw_view_cost (plan, sum->bound, bound);
  sw_text_printf (out, ": proved only that it cannot be done under %s", bound);
}

/* Add what speaks against the best choice, which is the best by cost alone. */
static void
add_doubts (sw_text *out, const sw_comparison *c)
{
  const sw_summary *best = &c->choices[c->best].plan->summary;
  size_t fewest = c->best;
  for (size_t i = 0; i < c->count; i++)
    if (c->choices[i].plan != NULL && c->choices[i].plan->summary.aligned < c->choices[fewest].plan->summary.aligned)
      fewest = i;
  if (fewest != c->best)
    {
      begin_remark (out);
      sw_text_printf (out, "more joins line up than with ");
      add_name (out, c, fewest);
      sw_text_printf (out, ": %" PRId64 " %s, there %" PRId64, best->aligned, best->aligned == 1 ? "pair" : "pairs",
                      c->choices[fewest].plan->summary.aligned);
    }
  size_t doubtful = 0;
  for (size_t i = 0; i < c->count; i++)
    if (i != c->best
        && (c->choices[i].plan != NULL ? c->choices[i].plan->summary.bound < best->cost
                                       : c->choices[i].status == SW_STOPPED))
      {
        if (doubtful == 0)
          begin_remark (out);
        sw_text_add (out, doubtful++ == 0 ? "not proved to be the best, less might do with " : " or with ");
        add_name (out, c, i);
      }
}

void
sw_compare_note (sw_text *out, const sw_comparison *c, size_t index)
{
  const sw_choice_made *choice = &c->choices[index];
  if (choice->plan == NULL)
    {
      sw_text_add (out, choice->why);
      return;
    }
  if (!sw_compare_proved (choice->plan))
    add_unproved (out, choice->plan);
  if (index == c->best)
    add_doubts (out, c);
}

/* ---- Tipping prices ------------------------------------------------------------------ */

typedef enum rounding
{
  NEAREST,
  DOWN,
  UP
} rounding;

/* Add the part of PRICE, the price of LENGTH, that falls on a metre (a foot), with two to four decimals. */
static void
add_per_metre (sw_text *out, const sw_job *job, sw_money price, sw_length length, rounding how)
{
  const wide unit = job->settings->inches ? 12 * SW_INCH : SW_METRE;
  const wide divisor = (wide)length * 100;
  const wide add = how == NEAREST ? divisor / 2 : how == UP ? divisor - 1 : 0;
  const wide rounded = ((wide)price * unit + add) / divisor;
  char text[SW_DECIMAL_TEXT];
  sw_decimal_format (rounded > INT64_MAX ? INT64_MAX : (int64_t)rounded, 4, 2, text);
  sw_text_add (out, text);
}

static size_t
count_sections (const sw_comparison *c, const sw_tipping *tipping)
{
  size_t count = 0;
  for (size_t s = 0; s < c->job->sections.count; s++)
    count += sw_tipping_row (c, tipping, s) != NULL ? 1 : 0;
  return count;
}

/* Add "5.4 m", and of which section it is if that is not plain. */
static void
add_length (sw_text *out, const sw_comparison *c, const sw_tipping *tipping)
{
  const sw_job *job = c->job;
  char shown[SW_LENGTH_TEXT];
  size_t meant = 0;
  sw_view_stock (job, tipping->length, shown);
  for (const char *p = shown; *p != '\0'; p++)
    if (*p == ' ')
      sw_text_add (out, SW_VIEW_HARD);
    else
      sw_text_add_bytes (out, p, 1);
  for (size_t s = 0; s < job->sections.count; s++)
    meant += sw_choices_mean (job, s) ? 1 : 0;
  for (size_t s = 0; s < job->sections.count && meant > 1 && count_sections (c, tipping) == 1; s++)
    if (sw_tipping_row (c, tipping, s) != NULL)
      {
        sw_text_add (out, " of ");
        sw_view_name (out, job->sections.items[s].name);
      }
}

/* Add "5.4481 a metre, 29.42 a length (now 5.45, 29.43)". */
static void
add_price (sw_text *out, const sw_job *job, const sw_stock *row, sw_money change, rounding how)
{
  char length[SW_MONEY_TEXT];
  char now[SW_MONEY_TEXT];
  sw_money_format (row->price + change, length);
  sw_money_format (row->price, now);
  add_per_metre (out, job, row->price + change, row->length, how);
  sw_text_printf (out, " a %s, %s a length (now ", job->settings->inches ? "foot" : "metre", length);
  add_per_metre (out, job, row->price, row->length, NEAREST);
  sw_text_printf (out, ", %s)", now);
}

/* Add what the length costs when its price changes by CHANGE.  If several sections come in it, add
 * how much more or less a metre costs, and then each section's price by its name. */
static void
add_prices (sw_text *out, const sw_comparison *c, const sw_tipping *tipping, sw_money change, rounding how)
{
  const sw_job *job = c->job;
  const bool one = count_sections (c, tipping) == 1;
  size_t told = 0;
  if (!one)
    {
      const bool less = change < 0;
      add_per_metre (out, job, less ? -change : change, tipping->length,
                     less && how != NEAREST ? (how == UP ? DOWN : UP) : how);
      sw_text_printf (out, " a %s %s than now: ", job->settings->inches ? "foot" : "metre", less ? "less" : "more");
    }
  for (size_t s = 0; s < job->sections.count; s++)
    {
      const sw_stock *row = sw_tipping_row (c, tipping, s);
      if (row == NULL)
        continue;
      if (one)
        {
          add_price (out, job, row, change, how);
          return;
        }
      sw_text_add (out, told++ > 0 ? ", " : "");
      sw_view_name (out, job->sections.items[s].name);
      sw_text_add (out, SW_VIEW_HARD);
      add_per_metre (out, job, row->price + change, row->length, how);
      sw_text_add (out, " (now" SW_VIEW_HARD);
      add_per_metre (out, job, row->price, row->length, NEAREST);
      sw_text_add (out, ")");
    }
}

static void
add_exact (sw_text *out, const sw_comparison *c, const sw_tipping *tipping)
{
  const bool dearer = tipping->to <= 0; /* dearer than the second choice, at today's price */
  add_name (out, c, tipping->first);
  sw_text_add (out, dearer ? " would be cheaper than " : " is cheaper than ");
  add_name (out, c, tipping->second);
  sw_text_add (out, dearer ? " if " : " until ");
  add_length (out, c, tipping);
  sw_text_add (out, !dearer ? " costs " : count_sections (c, tipping) == 1 ? " cost less than " : " cost over ");
  add_prices (out, c, tipping, tipping->from, NEAREST);
}

static void
add_within (sw_text *out, const sw_comparison *c, const sw_tipping *tipping)
{
  add_name (out, c, tipping->first);
  sw_text_add (out, " against ");
  add_name (out, c, tipping->second);
  sw_text_add (out, ", not found exactly for want of proof: ");
  if (tipping->from > INT64_MIN)
    {
      sw_text_add (out, "cheaper at least until ");
      add_length (out, c, tipping);
      sw_text_add (out, " costs ");
      add_prices (out, c, tipping, tipping->from, DOWN);
    }
  if (tipping->to < INT64_MAX)
    {
      sw_text_add (out, tipping->from > INT64_MIN ? "; not cheaper from " : "not cheaper where ");
      add_length (out, c, tipping);
      sw_text_add (out, tipping->from > INT64_MIN ? " at " : " costs ");
      add_prices (out, c, tipping, tipping->to, UP);
      sw_text_add (out, " on");
    }
}

void
sw_tipping_sentence (sw_text *out, const sw_comparison *c, const sw_tipping *tipping)
{
  switch (tipping->tip)
    {
    case SW_TIP_AT:
      if (tipping->exact)
        add_exact (out, c, tipping);
      else
        add_within (out, c, tipping);
      return;
    case SW_TIP_ALWAYS:
      add_name (out, c, tipping->first);
      sw_text_add (out, " is no dearer than ");
      add_name (out, c, tipping->second);
      sw_text_add (out, " whatever ");
      add_length (out, c, tipping);
      sw_text_add (out, " costs: it need not buy any");
      return;
    case SW_TIP_NEVER:
      add_name (out, c, tipping->first);
      sw_text_add (out, " is not cheaper than ");
      add_name (out, c, tipping->second);
      sw_text_add (out, " at any price of ");
      add_length (out, c, tipping);
      return;
    case SW_TIP_UNKNOWN:
      add_name (out, c, tipping->first);
      sw_text_add (out, " against ");
      add_name (out, c, tipping->second);
      sw_text_add (out, ": the price at which they tip was not found, for want of proof");
      return;
    }
}
