/* compare_tip.c - the price of a stock length at which the cheaper of two choices is the other one
 *
 * WITH buys the length where WITHOUT does not, so that what WITHOUT costs, C,
 * does not move.  What WITH costs when a length costs x more than now, f (x),
 * is the least over its plans of a + n x, n being how many such lengths a plan
 * buys: concave and never falling.  Joins that line up come first whatever the
 * price, so that the plans are the same for every x.
 *
 * From a plan that is best at x, with f (x) <= C, the next x is where its line
 * meets C; there f <= C again, and the next plan has a smaller n, until a line
 * that meets C is best there.  That x is a fraction with n below it: prices are
 * multiplied by n for the plan there, so that nothing is rounded.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "compare/compare.h"

#include "base/decimal.h"
#include "job/job_check.h"
#include "base/memory.h"
#include "job/stock.h"

#include <stdlib.h>

__extension__ typedef __int128 wide;

/* Far more plans than any job has needed, which was a handful. */
#define MOST_PLANS 40
/* The most plans tried beyond the last one known to be cheaper, if proofs are missing. */
#define MOST_TRIES 2
#define CENT (SW_MONEY_UNIT / 100)

/* The plan that was found at the price now + x, and what it proves. */
typedef struct point
{
  int64_t above; /* x = above / below, in lowest terms, below > 0 */
  int64_t below;
  int64_t fixed; /* the plan costs fixed + lengths x */
  int64_t lengths;
  wide cost; /* at x, times BELOW */
  wide bound;
  bool proved;
} point;

typedef struct search
{
  sw_comparison *comparison;
  sw_relay *relay;
  sw_tipping *tipping;
  int64_t cost; /* C, what the other choice costs */
  int64_t bound;
  bool proved;
  int64_t least; /* the least x: at it a length of some section costs nothing */
} search;

/* ---- Rows that the two choices differ by --------------------------------------------- */

static bool
buys (const sw_comparison *c, size_t choice, size_t section, sw_length length)
{
  const sw_job *job = c->job;
  for (size_t s = 0; s < job->stocks.count; s++)
    if (job->stocks.items[s].section == section && job->stocks.items[s].length == length)
      return c->choices[choice].buys[s] && job->stocks.items[s].limit != 0;
  return false;
}

/* Does TIPPING vary the price of ROW, because FIRST buys it and SECOND does not? */
static bool
varies (const sw_comparison *c, const sw_tipping *tipping, const sw_stock *row)
{
  return row->length == tipping->length && buys (c, tipping->first, row->section, row->length)
         && !buys (c, tipping->second, row->section, row->length);
}

const sw_stock *
sw_tipping_row (const sw_comparison *c, const sw_tipping *tipping, size_t section)
{
  for (size_t s = 0; s < c->job->stocks.count; s++)
    if (c->job->stocks.items[s].section == section && varies (c, tipping, &c->job->stocks.items[s]))
      return &c->job->stocks.items[s];
  return NULL;
}

/* Is a metre of ROW dearer than one of OTHER?  If they cost the same, is ROW longer? */
static bool
is_dearer (const sw_stock *row, const sw_stock *other)
{
  wide left = (wide)row->price * other->length;
  wide right = (wide)other->price * row->length;
  return left != right ? left > right : row->length > other->length;
}

/* Does exactly one of the choices A and B buy ROW? */
static bool
differs (const sw_comparison *c, size_t a, size_t b, const sw_stock *row)
{
  return buys (c, a, row->section, row->length) != buys (c, b, row->section, row->length);
}

/* Only one of A and B may buy ROW.  Does its plan buy it? */
static bool
is_bought (const sw_comparison *c, size_t a, size_t b, const sw_stock *row)
{
  const sw_plan *plan = c->choices[buys (c, a, row->section, row->length) ? a : b].plan;
  for (size_t i = 0; i < plan->board_count; i++)
    {
      const sw_stock *stock = &plan->job->stocks.items[plan->boards[i].stock];
      if (!plan->boards[i].hand && stock->section == row->section && stock->length == row->length)
        return true;
    }
  return false;
}

/* Choose the length whose price is to vary, of those that one of A and B buys and the other does
 * not.  In each section, a length that is in the order comes before one that is not, and then the
 * dearest a metre is taken.  Of several sections, the one whose length is in the order and then the
 * longest is taken.  False: there is no such length. */
static bool
choose_length (const sw_comparison *c, size_t a, size_t b, sw_tipping *out)
{
  const sw_stocks *stocks = &c->job->stocks;
  const sw_stock *best = NULL;
  bool best_bought = false;
  for (size_t first = 0, end = 0; first < stocks->count; first = end)
    {
      const sw_stock *here = NULL;
      bool bought = false;
      for (; end < stocks->count && stocks->items[end].section == stocks->items[first].section; end++)
        {
          const sw_stock *row = &stocks->items[end];
          if (!differs (c, a, b, row))
            continue;
          const bool row_bought = is_bought (c, a, b, row);
          if (here == NULL || (row_bought != bought ? row_bought : is_dearer (row, here)))
            {
              here = row;
              bought = row_bought;
            }
        }
      if (here != NULL && (best == NULL || (bought != best_bought ? bought : here->length > best->length)))
        {
          best = here;
          best_bought = bought;
        }
    }
  if (best == NULL)
    return false;
  const bool by_a = buys (c, a, best->section, best->length);
  *out = (sw_tipping){ .first = by_a ? a : b, .second = by_a ? b : a, .length = best->length };
  return true;
}

/* ---- A plan at a price --------------------------------------------------------------- */

static void
read_plan (const search *s, const sw_plan *plan, point *at)
{
  const sw_stock *rows = plan->job->stocks.items;
  at->lengths = 0;
  for (size_t b = 0; b < plan->board_count; b++)
    if (!plan->boards[b].hand && varies (s->comparison, s->tipping, &rows[plan->boards[b].stock]))
      at->lengths++;
  at->cost = plan->summary.cost;
  at->bound = plan->summary.bound;
  at->fixed = (int64_t)((at->cost - (wide)at->lengths * at->above) / at->below);
  at->proved = sw_compare_proved (plan);
}

/* Set the prices of JOB to those at x, times at->below.  False: they are too large to add up. */
static bool
reprice (const search *s, const point *at, sw_job *job)
{
  int64_t dearest;
  if (!sw_money_mul (job->settings->join_cost, at->below, &job->settings->join_cost))
    return false;
  dearest = job->settings->join_cost;
  for (size_t i = 0; i < job->stocks.count; i++)
    {
      sw_stock *row = &job->stocks.items[i];
      if (!sw_money_mul (row->price, at->below, &row->price)
          || (varies (s->comparison, s->tipping, row) && !sw_money_add (row->price, at->above, &row->price)))
        return false;
      dearest = row->price > dearest ? row->price : dearest;
    }
  return sw_job_adds_up (job, dearest);
}

/* Make the plan at x and fill in AT.  *DONE: there is a plan. */
static sw_status
plan_at (search *s, point *at, bool *done)
{
  sw_job job;
  sw_plan *plan = NULL;
  sw_report *report = sw_report_new ();
  sw_status status = sw_job_variant (&job, &s->comparison->choices[s->tipping->first].job);
  *done = false;
  if (report == NULL)
    status = SW_NO_MEMORY;
  if (status == SW_OK && reprice (s, at, &job) && !s->relay->stopped && sw_watch_left (&s->relay->watch) > 0)
    {
      s->relay->scale = at->below;
      status = sw_relay_plan (s->relay, &plan, &job, 2, report);
      s->relay->scale = 1;
    }
  if (plan != NULL)
    {
      read_plan (s, plan, at);
      *done = true;
    }
  sw_plan_free (plan);
  sw_job_variant_clear (&job);
  sw_report_free (report);
  return status == SW_STOPPED || status == SW_NO_PLAN ? SW_OK : status;
}

/* ---- The search ---------------------------------------------------------------------- */

static int64_t
floor_of (wide above, wide below)
{
  wide quotient = above / below;
  quotient -= above % below < 0 ? 1 : 0;
  return quotient > INT64_MAX ? INT64_MAX : quotient < INT64_MIN ? INT64_MIN : (int64_t)quotient;
}

/* The point where the line of AT meets C. */
static point
meeting (const search *s, const point *at)
{
  int64_t above = s->cost - at->fixed;
  int64_t divisor = sw_decimal_gcd (above, at->lengths);
  return (point){ .above = above / divisor, .below = at->lengths / divisor };
}

/* Keep the bounds that AT proves, which hold even if its plan is not the best there. */
static void
keep_bounds (const search *s, const point *at)
{
  sw_tipping *tipping = s->tipping;
  if (at->lengths > 0)
    {
      /* Below this price the plan found is cheaper than the other choice can be. */
      int64_t from = floor_of ((wide)s->bound - at->fixed, at->lengths);
      if (from > s->least && from > tipping->from)
        tipping->from = from;
    }
  if (at->bound >= (wide)s->cost * at->below)
    {
      int64_t to = -floor_of (-(wide)at->above, at->below);
      tipping->to = to < tipping->to ? to : tipping->to;
    }
}

static void
settle_at (const search *s, const point *at)
{
  s->tipping->tip = SW_TIP_AT;
  s->tipping->exact = true;
  s->tipping->from = floor_of (at->above, at->below);
  s->tipping->to = -floor_of (-(wide)at->above, at->below);
}

/* Without a proof, close in on the price from above, in whole cents. */
static sw_status
settle_within (search *s, point at)
{
  sw_tipping *tipping = s->tipping;
  sw_status status = SW_OK;
  if (at.lengths == 0 && at.fixed <= s->bound)
    {
      tipping->tip = SW_TIP_ALWAYS;
      return SW_OK;
    }
  for (int i = 0; i < MOST_TRIES && status == SW_OK && tipping->to == INT64_MAX && tipping->from > INT64_MIN; i++)
    {
      bool done;
      int64_t step = i == 0 ? CENT : tipping->from / 50 + 10 * CENT;
      if (!sw_money_add (tipping->from, step < CENT ? CENT : step, &at.above))
        break;
      at.above -= at.above % CENT;
      at.below = 1;
      status = plan_at (s, &at, &done);
      if (!done)
        break;
      keep_bounds (s, &at);
    }
  tipping->tip = tipping->from > INT64_MIN || tipping->to < INT64_MAX ? SW_TIP_AT : SW_TIP_UNKNOWN;
  return status;
}

/* Walk from the plan at today's price to the tipping price. */
static sw_status
walk (search *s, point at)
{
  sw_tipping *tipping = s->tipping;
  bool met = false;   /* AT is where a line met C */
  bool least = false; /* the least price has been tried */
  sw_status status = SW_OK;
  for (int plans = 0; plans < MOST_PLANS; plans++)
    {
      bool done;
      wide level = (wide)s->cost * at.below;
      keep_bounds (s, &at);
      if (!at.proved || !s->proved)
        break;
      if (at.cost == level && (met || (at.lengths > 0 && !least)))
        {
          settle_at (s, &at);
          return SW_OK;
        }
      if ((at.lengths == 0 && at.cost < level) || (least && !met && at.cost >= level))
        {
          tipping->tip = at.cost < level ? SW_TIP_ALWAYS : SW_TIP_NEVER;
          return SW_OK;
        }
      point next = at.lengths > 0 ? meeting (s, &at) : (point){ .above = s->least, .below = 1 };
      met = at.lengths > 0;
      if (at.lengths == 0 || next.above < (wide)s->least * next.below)
        {
          next = (point){ .above = s->least, .below = 1 };
          met = false;
          least = true;
        }
      status = plan_at (s, &next, &done);
      if (!done)
        break;
      at = next;
    }
  return status == SW_OK ? settle_within (s, at) : status;
}

/* Find the tipping price of choices A and B, if they differ by a length. */
static sw_status
add_tipping (sw_comparison *c, sw_relay *relay, size_t a, size_t b)
{
  sw_tipping *tipping = &c->tippings[c->tipping_count];
  search s = { .comparison = c, .relay = relay, .tipping = tipping, .least = INT64_MIN };
  point now = { .above = 0, .below = 1 };
  if (!choose_length (c, a, b, tipping))
    return SW_OK;
  tipping->tip = SW_TIP_UNKNOWN;
  tipping->from = INT64_MIN;
  tipping->to = INT64_MAX;
  c->tipping_count++;
  for (size_t i = 0; i < c->job->stocks.count; i++)
    if (varies (c, tipping, &c->job->stocks.items[i]) && -c->job->stocks.items[i].price > s.least)
      s.least = -c->job->stocks.items[i].price;
  const sw_plan *other = c->choices[tipping->second].plan;
  s.cost = other->summary.cost;
  s.bound = other->summary.bound;
  s.proved = sw_compare_proved (other);
  read_plan (&s, c->choices[tipping->first].plan, &now);
  const sw_summary *first = &c->choices[tipping->first].plan->summary;
  /* If fewer joins may line up, another price may lead to plans of another kind. */
  if (first->aligned != first->aligned_bound || other->summary.aligned != other->summary.aligned_bound)
    return SW_OK;
  return walk (&s, now);
}

/* ---- Which pairs --------------------------------------------------------------------- */

/* Does CHOICE buy one length only, of all sections that a choice is about? */
static bool
is_single (const sw_comparison *c, size_t choice)
{
  sw_length length = 0;
  for (size_t s = 0; s < c->job->stocks.count; s++)
    {
      const sw_stock *row = &c->job->stocks.items[s];
      if (!sw_choices_mean (c->job, row->section) || !buys (c, choice, row->section, row->length))
        continue;
      if (length != 0 && row->length != length)
        return false;
      length = row->length;
    }
  return length != 0;
}

bool
sw_compare_two_best (const sw_comparison *c, bool single, bool unplanned, size_t pair[2])
{
  size_t count = 0;
  for (int planned = 1; planned >= (unplanned ? 0 : 1); planned--)
    for (size_t i = 0; i < c->count; i++)
      {
        if ((c->choices[i].plan != NULL) != (planned == 1) || (single && !is_single (c, i)))
          continue;
        if (count == 0 || (planned == 1 && sw_compare_before (c, i, pair[0])))
          {
            pair[1] = pair[0];
            pair[0] = i;
          }
        else if (count == 1 || (planned == 1 && sw_compare_before (c, i, pair[1])))
          pair[1] = i;
        count++;
      }
  return count >= 2;
}

sw_status
sw_compare_tippings (sw_comparison *c, sw_relay *relay)
{
  size_t best[2] = { 0, 0 };
  size_t single[2] = { 0, 0 };
  /* What a length costs is no single price where yards, packs and prices that fall are in play. */
  if (c->choosing != SW_CHOOSING_LENGTHS || c->job->stocks.offers || sw_job_by_length (c->job)
      || !sw_compare_two_best (c, false, false, best))
    return SW_OK;
  sw_status status = add_tipping (c, relay, best[0], best[1]);
  if (status == SW_OK && sw_compare_two_best (c, true, false, single)
      && (single[0] != best[0] || single[1] != best[1]))
    status = add_tipping (c, relay, single[0], single[1]);
  return status;
}
