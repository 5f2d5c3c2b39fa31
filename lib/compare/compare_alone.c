/* compare_alone.c - tipping prices as text, and one length alone against another alone where none is told
 *
 * Whether all of a fence comes out of 4.8 m or out of 5.4 m is what is asked
 * for most.  Where one of the two is limited, or a length has no single price,
 * no price tips the choice between them, and this says how the two stand.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "compare/compare.h"

#include "view/figures.h"

#include <inttypes.h>

/* How many of SECTION's lengths CHOICE may buy; -1: any number, or none at all. */
static int64_t
to_be_had (const sw_comparison *c, size_t choice, size_t section)
{
  int64_t count = 0;
  for (size_t s = 0; s < c->job->stocks.count; s++)
    {
      const sw_stock *row = &c->job->stocks.items[s];
      if (row->section != section || !c->choices[choice].buys[s] || !sw_choices_mean (c->job, section))
        continue;
      if (row->limit < 0)
        return -1;
      count += row->limit;
    }
  return count > 0 ? count : -1;
}

static bool
is_limited (const sw_comparison *c, size_t choice)
{
  for (size_t g = 0; g < c->job->sections.count; g++)
    if (to_be_had (c, choice, g) >= 0)
      return true;
  return false;
}

/* Add "5.4 alone cannot be built, and only 6 of it can be had". */
static void
add_impossible (sw_text *out, const sw_comparison *c, size_t choice)
{
  size_t meant = 0, told = 0;
  for (size_t g = 0; g < c->job->sections.count; g++)
    meant += sw_choices_mean (c->job, g) ? 1 : 0;
  sw_view_name (out, c->choices[choice].name);
  sw_text_add (out, c->choices[choice].status == SW_NO_PLAN ? " alone cannot be built" : " alone is not known");
  for (size_t g = 0; g < c->job->sections.count; g++)
    {
      const int64_t count = to_be_had (c, choice, g);
      if (count < 0)
        continue;
      sw_text_printf (out, "%s%" PRId64 " of ", told++ == 0 ? ", and only " : ", ", count);
      if (meant > 1)
        sw_view_name (out, c->job->sections.items[g].name);
      else
        sw_text_add (out, "it");
    }
  sw_text_add (out, told > 0 ? " can be had" : "");
}

/* Add "5.4 alone costs 346.00 (81.0 m, 11.0 % waste)"; where there are no prices, "5.4 alone takes 81.0 m (11.0 %
 * waste)". */
static void
add_built (sw_text *out, const sw_comparison *c, size_t choice)
{
  const sw_plan *plan = c->choices[choice].plan;
  const sw_summary *sum = &plan->summary;
  char metres[SW_LENGTH_TEXT];
  char cost[SW_LENGTH_TEXT];
  char waste[SW_VIEW_PERCENT];
  sw_view_bought (c->job, sum->bought, metres);
  sw_view_percent (sw_compare_waste (sum), sum->bought + sum->from_hand, 1, waste);
  sw_view_name (out, c->choices[choice].name);
  if (c->job->priced)
    {
      sw_view_cost (plan, sum->cost, cost);
      sw_text_printf (out, " alone costs %s (%s, %s" SW_VIEW_HARD "%% waste)", cost, metres, waste);
    }
  else
    sw_text_printf (out, " alone takes %s (%s" SW_VIEW_HARD "%% waste)", metres, waste);
}

/* Add how much more the second of PAIR costs. */
static void
add_difference (sw_text *out, const sw_comparison *c, const size_t pair[2])
{
  const sw_plan *dearer = c->choices[pair[1]].plan;
  const int64_t least = c->choices[pair[0]].plan->summary.cost;
  const int64_t more = dearer->summary.cost - least;
  char cost[SW_LENGTH_TEXT];
  char percent[SW_VIEW_PERCENT];
  if (more <= 0)
    {
      sw_text_add (out, ", as much");
      return;
    }
  sw_view_cost (dearer, more, cost);
  sw_view_percent (more, least, 1, percent);
  sw_text_printf (out, ", %s or %s" SW_VIEW_HARD "%% more", cost, percent);
}

/* Add how the two best single lengths stand where one of them is limited and cannot be built, or where lengths have no
 * single price; else nothing. */
static void
add_alone (sw_text *out, const sw_comparison *c)
{
  size_t pair[2] = { 0, 0 };
  if (c->choosing != SW_CHOOSING_LENGTHS || !sw_compare_two_best (c, true, true, pair))
    return;
  const bool both = c->choices[pair[1]].plan != NULL;
  /* Where both are built and have a price each, the tipping price tells it. */
  if (both ? !c->job->stocks.offers : !is_limited (c, pair[0]) && !is_limited (c, pair[1]))
    return;
  sw_view_name (out, c->choices[pair[0]].name);
  sw_text_add (out, " against ");
  sw_view_name (out, c->choices[pair[1]].name);
  sw_text_add (out, ": ");
  for (int i = 0; i < 2; i++)
    {
      sw_text_add (out, i == 0 ? "" : "; ");
      if (c->choices[pair[i]].plan != NULL)
        add_built (out, c, pair[i]);
      else
        add_impossible (out, c, pair[i]);
    }
  if (both)
    add_difference (out, c, pair);
  sw_text_add (out, both ? "." : ". So there is no price at which these two tip.");
}

void
sw_compare_tip_text (sw_text *out, const sw_comparison *c, size_t width)
{
  sw_text text = { 0 };
  size_t planned = 0;
  for (size_t i = 0; i < c->count; i++)
    planned += c->choices[i].plan != NULL ? 1 : 0;
  const bool told = planned >= 2 && c->choosing == SW_CHOOSING_LENGTHS;
  add_alone (&text, c);
  if (text.length == 0 && (!told || (c->job->priced && !c->job->stocks.offers && c->tipping_count == 0)))
    return;
  sw_text_add (out, "\nTIPPING PRICE\n");
  if (text.length > 0)
    sw_view_paragraph (out, &text, 2, 4, width);
  if (told && c->job->stocks.offers)
    sw_text_add (&text, "Not told where yards, packs or prices from a number on are in play: a length has no single "
                        "price there.");
  else if (told && !c->job->priced)
    sw_text_add (&text, "Without prices, choices are compared by the length bought. With prices in the stock file, "
                        "the price at which the choice tips is told here.");
  if (text.length > 0)
    sw_view_paragraph (out, &text, 2, 2, width);
  for (size_t t = 0; t < c->tipping_count; t++)
    {
      sw_tipping_sentence (&text, c, &c->tippings[t]);
      sw_text_add (&text, ".");
      sw_view_paragraph (out, &text, 2, 4, width);
    }
}
