/* compare_text.c - a comparison as text
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "compare/compare.h"

#include "base/memory.h"
#include "view/order.h"
#include "view/figures.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* On a narrower line the figures would not stand side by side. */
#define WIDTH_LEAST 40

/* ---- The table for the eye ----------------------------------------------------------- */

enum
{
  BOUGHT,
  WASTE,
  JOINS,
  ALIGNED,
  BOARDS,
  PRICE,
  OVER,
  PERCENT,
  FIGURES
};

typedef struct line
{
  char figure[FIGURES][SW_LENGTH_TEXT];
} line;

typedef struct layout
{
  const sw_comparison *c;
  const line *heading;
  size_t width;
  size_t name;             /* columns of the choices' names */
  size_t columns[FIGURES]; /* with two blanks in front; 0: not shown */
  bool over_below;         /* what a choice costs more than the best stands on a line of its own */
  bool counts_below;       /* joins and boards stand on a line of their own, too */
} layout;

static void
fill_line (line *out, const sw_comparison *c, const sw_choice_made *choice)
{
  const sw_summary *sum = &choice->plan->summary;
  const int64_t over = sum->cost - c->choices[c->best].plan->summary.cost;
  char percent[SW_VIEW_PERCENT];
  /* The heading has the unit. */
  sw_view_lineal (c->job, sum->bought, out->figure[BOUGHT]);
  out->figure[BOUGHT][strcspn (out->figure[BOUGHT], " ")] = '\0';
  sw_view_percent (sw_compare_waste (sum), sum->bought + sum->from_hand, 1, percent);
  snprintf (out->figure[WASTE], SW_LENGTH_TEXT, "%.44s %%", percent);
  snprintf (out->figure[JOINS], SW_LENGTH_TEXT, "%" PRId64, sum->joins);
  snprintf (out->figure[ALIGNED], SW_LENGTH_TEXT, "%" PRId64, sum->aligned);
  if (choice->plan->job->settings->stagger == SW_STAGGER_OFF)
    snprintf (out->figure[ALIGNED], SW_LENGTH_TEXT, "-");
  snprintf (out->figure[BOARDS], SW_LENGTH_TEXT, "%" PRId64, sum->boards);
  if (c->job->priced)
    sw_view_cost (choice->plan, sum->cost, out->figure[PRICE]);
  if (choice == &c->choices[c->best])
    snprintf (out->figure[OVER], SW_LENGTH_TEXT, "best");
  else if (over == 0)
    snprintf (out->figure[OVER], SW_LENGTH_TEXT, "as much");
  else
    {
      char cost[SW_LENGTH_TEXT];
      sw_view_cost (choice->plan, over, cost);
      snprintf (out->figure[OVER], SW_LENGTH_TEXT, "+%.44s", cost);
      sw_view_percent (over, sum->cost - over, 1, percent);
      snprintf (out->figure[PERCENT], SW_LENGTH_TEXT, "%.44s %%", percent);
    }
}

static const line metric = { { "Metres", "Waste", "Joins", "Lined up", "Boards", "Price", "Over best", "" } };
static const line in_feet = { { "Feet", "Waste", "Joins", "Lined up", "Boards", "Price", "Over best", "" } };

/* Above the choices' names. */
static const char *
heading_of (const sw_comparison *c)
{
  static const char *const headings[]
      = { [SW_CHOOSING_LENGTHS] = "Stock", [SW_CHOOSING_YARDS] = "Yards", [SW_CHOOSING_SETTING] = "Setting" };
  return headings[c->choosing];
}

static size_t
sum_of_columns (const layout *l)
{
  size_t sum = 2 + l->name;
  for (size_t f = 0; f < FIGURES; f++)
    sum += l->columns[f];
  return sum;
}

/* Make each column as wide as its figures.  Names get what is left. */
static void
measure (layout *l, const line *lines)
{
  const sw_comparison *c = l->c;
  size_t longest = strlen (heading_of (l->c));
  for (size_t f = 0; f < FIGURES; f++)
    l->columns[f] = f == PRICE && !c->job->priced ? 0 : strlen (l->heading->figure[f]) + 2;
  for (size_t i = 0; i < c->count; i++)
    {
      size_t name = sw_text_width (c->choices[i].name);
      longest = name > longest ? name : longest;
      for (size_t f = 0; f < FIGURES; f++)
        if (l->columns[f] > 0 && strlen (lines[i].figure[f]) + 2 > l->columns[f])
          l->columns[f] = strlen (lines[i].figure[f]) + 2;
    }
  l->name = strlen (heading_of (l->c));
  if (sum_of_columns (l) > l->width)
    {
      l->over_below = true;
      l->columns[OVER] = l->columns[PERCENT] = 0;
    }
  if (sum_of_columns (l) > l->width)
    {
      l->counts_below = true;
      l->columns[JOINS] = l->columns[ALIGNED] = l->columns[BOARDS] = 0;
    }
  size_t taken = sum_of_columns (l);
  size_t room = l->name + (taken < l->width ? l->width - taken : 0);
  l->name = longest < room ? longest : room;
}

/* Add MARK and NAME at the left, on a line of their own if they are too wide for their column. */
static void
add_label (sw_text *out, const layout *l, const char *mark, const char *name)
{
  sw_text shown = { 0 };
  sw_view_name (&shown, name);
  char *text = sw_view_take (out, &shown);
  if (text == NULL)
    return;
  sw_text_add (out, mark);
  if (sw_text_width (text) <= l->name)
    sw_view_cell (out, text, l->name, false);
  else
    {
      sw_view_wrap (out, text, 2, 4, l->width);
      sw_text_add (out, "\n");
      sw_text_repeat (out, ' ', 2 + l->name);
    }
  free (text);
}

/* Add "2 joins (0 lined up), 4 boards", where their columns have no room. */
static void
add_counts (sw_text *out, const sw_summary *sum, bool staggered)
{
  sw_text_printf (out, "    %" PRId64 " join%s", sum->joins, sum->joins == 1 ? "" : "s");
  if (staggered)
    sw_text_printf (out, " (%" PRId64 " lined up)", sum->aligned);
  sw_text_printf (out, ", %" PRId64 " board%s\n", sum->boards, sum->boards == 1 ? "" : "s");
}

static void
add_figures (sw_text *out, const layout *l, const line *figures)
{
  for (size_t f = 0; f < FIGURES; f++)
    if (l->columns[f] > 0)
      sw_view_cell (out, figures->figure[f], l->columns[f], true);
  sw_view_end_line (out);
}

static void
add_over (sw_text *out, const line *figures)
{
  sw_text_repeat (out, ' ', 4);
  if (figures->figure[PERCENT][0] == '\0')
    sw_text_printf (out, "%s%s\n", figures->figure[OVER], figures->figure[OVER][0] == 'b' ? "" : " as the best");
  else
    sw_text_printf (out, "%s (%s) over the best\n", figures->figure[OVER], figures->figure[PERCENT]);
}

static void
add_rows (sw_text *out, const layout *l, const line *lines)
{
  const sw_comparison *c = l->c;
  add_label (out, l, "  ", heading_of (l->c));
  add_figures (out, l, l->heading);
  for (size_t i = 0; i < c->count; i++)
    {
      const sw_choice_made *choice = &c->choices[i];
      add_label (out, l, i == c->best ? "> " : "  ", choice->name);
      if (choice->plan != NULL)
        {
          add_figures (out, l, &lines[i]);
          if (l->counts_below)
            add_counts (out, &choice->plan->summary, c->job->settings->stagger != SW_STAGGER_OFF);
          if (l->over_below)
            add_over (out, &lines[i]);
          continue;
        }
      sw_text why = { 0 };
      sw_text_add (&why, choice->status == SW_NO_PLAN ? "cannot be built: " : "not known: ");
      sw_text_add (&why, choice->why);
      sw_text_add (out, "  ");
      sw_view_rest (out, &why, l->name + 4, l->name + 4, l->width);
    }
}

static bool
delivered (const sw_job *job)
{
  for (size_t y = 0; y < job->yards.count; y++)
    if (job->yards.items[y].delivery > 0)
      return true;
  return false;
}

/* Say what the figures leave out or contain. */
static void
add_legend (sw_text *out, const layout *l)
{
  const sw_job *job = l->c->job;
  const sw_settings *settings = job->settings;
  bool spare = false;
  sw_text text = { 0 };
  char cost[SW_MONEY_TEXT];
  for (size_t s = 0; s < job->sections.count; s++)
    spare = spare || job->sections.items[s].spare + job->sections.items[s].spare_rate > 0;
  if (spare)
    sw_text_add (&text, "Without spare lengths. ");
  if (settings->join_cost > 0)
    {
      sw_money_format (settings->join_cost, cost);
      sw_text_printf (&text, "The price is the timber%s and %s a join. ", delivered (job) ? " with delivery" : "", cost);
    }
  else if (delivered (job))
    sw_text_add (&text, "The price is the timber with delivery. ");
  if (job->priced && settings->tax >= 0)
    sw_text_add (&text, "Prices are without tax. ");
  /* A post that is always joined is joined in every choice. */
  const int64_t always = l->c->choices[l->c->best].plan->summary.always;
  if (always > 0)
    {
      sw_text_add (&text, "Every choice also lines up ");
      sw_view_always (&text, always);
      sw_text_add (&text, ". ");
    }
  if (text.length > 0 || text.failed)
    sw_view_paragraph (out, &text, 2, 2, l->width);
}

static void
add_notes (sw_text *out, const layout *l)
{
  for (size_t i = 0; i < l->c->count; i++)
    {
      sw_text note = { 0 };
      if (l->c->choices[i].plan != NULL)
        sw_compare_note (&note, l->c, i);
      if (note.length > 0 || note.failed)
        {
          sw_text paragraph = { 0 };
          char *text = sw_view_take (out, &note);
          sw_text_add (&paragraph, "Note on ");
          sw_view_name (&paragraph, l->c->choices[i].name);
          sw_text_printf (&paragraph, ": %s.", text != NULL ? text : "");
          free (text);
          sw_view_paragraph (out, &paragraph, 2, 4, l->width);
        }
      sw_text_drop (&note);
    }
}

/* ---- Orders -------------------------------------------------------------------------- */

/* What a choice orders, by section.  NULL: nothing. */
typedef struct orders
{
  char **sections;
} orders;

static sw_status
fill_orders (orders *out, const sw_plan *plan)
{
  sw_order order;
  out->sections = sw_alloc (plan->job->sections.count, sizeof *out->sections);
  if (out->sections == NULL)
    return SW_NO_MEMORY;
  sw_status status = sw_order_make (&order, plan);
  if (status != SW_OK)
    return status;
  for (size_t l = 0; l < order.line_count; l++)
    {
      sw_order_line *line = &order.lines[l];
      /* The figures are without spare lengths, and so without what packs make of them. */
      line->spare = plan->purchases != NULL ? plan->purchases[line->stock].bought - line->count : 0;
      line->asked = 0;
    }
  for (size_t l = 0; l < order.line_count && status == SW_OK;)
    {
      size_t section = order.lines[l].section;
      sw_text text = { 0 };
      sw_length bought;
      sw_money price;
      if (sw_order_section (&text, &order, &l, &bought, &price))
        {
          out->sections[section] = sw_text_take (&text);
          status = out->sections[section] != NULL ? SW_OK : SW_NO_MEMORY;
        }
      sw_text_drop (&text);
    }
  sw_order_clear (&order);
  return status;
}

static bool
same_text (const char *a, const char *b)
{
  return a == NULL || b == NULL ? a == b : strcmp (a, b) == 0;
}

/* Do all choices that can be built order the same of SECTION?  It is then printed once. */
static bool
is_common (const sw_comparison *c, const orders *all, size_t section)
{
  size_t count = 0;
  for (size_t i = 0; i < c->count; i++)
    if (c->choices[i].plan != NULL)
      {
        count++;
        if (!same_text (all[i].sections[section], all[c->best].sections[section]))
          return false;
      }
  return count > 1;
}

/* Add the lines of one choice: those that all choices have in COMMON, or the others. */
static void
add_order (sw_text *out, const layout *l, const orders *all, size_t choice, const char *name, bool common)
{
  const sw_comparison *c = l->c;
  bool any = false;
  for (size_t s = 0; s < c->job->sections.count; s++)
    {
      const char *text = all[choice].sections[s];
      if (text == NULL || is_common (c, all, s) != common)
        continue;
      if (!any)
        add_label (out, l, "  ", name);
      else
        sw_text_repeat (out, ' ', 2 + l->name);
      any = true;
      sw_text_add (out, "  ");
      sw_view_wrap (out, text, l->name + 4, l->name + 6, l->width);
      sw_text_add (out, "\n");
    }
}

static sw_status
add_orders (sw_text *out, const layout *l)
{
  const sw_comparison *c = l->c;
  orders *all = sw_alloc (c->count, sizeof *all);
  sw_status status = all != NULL ? SW_OK : SW_NO_MEMORY;
  for (size_t i = 0; i < c->count && status == SW_OK; i++)
    if (c->choices[i].plan != NULL)
      status = fill_orders (&all[i], c->choices[i].plan);
  if (status == SW_OK)
    {
      sw_text_add (out, "\nORDERS\n");
      for (size_t i = 0; i < c->count; i++)
        if (c->choices[i].plan != NULL)
          add_order (out, l, all, i, c->choices[i].name, false);
      add_order (out, l, all, c->best, "each", true);
    }
  for (size_t i = 0; all != NULL && i < c->count; i++)
    if (all[i].sections != NULL)
      {
        for (size_t s = 0; s < c->job->sections.count; s++)
          free (all[i].sections[s]);
        free (all[i].sections);
      }
  free (all);
  return status;
}

/* ---- All of it ----------------------------------------------------------------------- */

static void
add_proof (sw_text *out, const layout *l)
{
  const sw_comparison *c = l->c;
  sw_text text = { 0 };
  bool proved = true;
  bool joined = false;
  for (size_t i = 0; i < c->count; i++)
    if (c->choices[i].plan != NULL)
      {
        proved = proved && sw_compare_proved (c->choices[i].plan);
        joined = joined || c->choices[i].plan->summary.joins > 0;
      }
  if (!proved)
    return; /* the notes say which plans are not proved */
  sw_text_add (out, "\nPROOF\n");
  sw_text_add (&text, "No plan of any of these choices can be cheaper");
  if (c->choosing == SW_CHOOSING_SETTING)
    sw_text_add (&text, " by its own rules");
  else if (joined && c->job->settings->stagger != SW_STAGGER_OFF && sw_view_neighbours (c->job))
    sw_text_printf (&text, " with as few joins lined up%s",
                    sw_view_turned (c->job) ? " and first pieces long and short in turn (--turn keep)" : "");
  sw_text_add (&text, ".");
  sw_view_paragraph (out, &text, 2, 2, l->width);
}

static void
add_heading (sw_text *out, const layout *l)
{
  const sw_settings *settings = l->c->job->settings;
  sw_text text = { 0 };
  sw_text_add (&text, "COMPARISON");
  if (settings->job != NULL && settings->job[0] != '\0')
    {
      sw_text_add (&text, " for ");
      sw_view_name (&text, settings->job);
    }
  sw_view_paragraph (out, &text, 0, 2, l->width);
}

sw_status
sw_comparison_text (const sw_comparison *c, unsigned width, char **out)
{
  layout l = { .c = c, .heading = c->job->settings->inches ? &in_feet : &metric };
  sw_text text = { 0 };
  *out = NULL;
  l.width = sw_view_width (width, WIDTH_LEAST);
  line *lines = sw_alloc (c->count, sizeof *lines);
  if (lines == NULL)
    return SW_NO_MEMORY;
  for (size_t i = 0; i < c->count; i++)
    if (c->choices[i].plan != NULL)
      fill_line (&lines[i], c, &c->choices[i]);
  measure (&l, lines);
  add_heading (&text, &l);
  add_rows (&text, &l, lines);
  sw_status status = SW_OK;
  if (c->best != SW_NONE)
    {
      add_legend (&text, &l);
      add_notes (&text, &l);
      status = add_orders (&text, &l);
      sw_compare_tip_text (&text, c, l.width);
      add_proof (&text, &l);
    }
  free (lines);
  if (status != SW_OK)
    {
      sw_text_drop (&text);
      return status;
    }
  *out = sw_text_take (&text);
  return *out != NULL ? SW_OK : SW_NO_MEMORY;
}
