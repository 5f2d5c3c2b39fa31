/* offer_branch.c - how a node of the search over what is bought where is cut in two
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "plan/offer_tree.h"

#include <math.h>
#include <stdlib.h>

/* A number of lengths in a linear programme that is so near to a whole number is one. */
#define NEARLY_WHOLE 1e-6

/* ---- Cuts in two -------------------------------------------------------------------------- */

static sw_status
branch_on_yard (sw_offer_tree *t, sw_offer_node *node, size_t yard)
{
  const sw_yard_set bit = (sw_yard_set)1 << yard;
  node->thorough = false;
  node->out |= bit;
  sw_status status = sw_offer_open (t, node);
  node->out &= ~bit;
  node->in |= bit;
  node->bound += t->job->yards.items[yard].delivery;
  return status == SW_OK ? sw_offer_open (t, node) : status;
}

/* Below CUT, and from CUT on. */
static sw_status
branch_on_cell (sw_offer_tree *t, sw_offer_node *node, size_t cell, int64_t cut)
{
  const int64_t most = node->most[cell];
  node->thorough = false;
  node->most[cell] = cut - 1;
  sw_status status = sw_offer_open (t, node);
  node->most[cell] = most;
  node->least[cell] = cut;
  return status == SW_OK ? sw_offer_open (t, node) : status;
}

/* Find the paid yard, not yet in, at which NUMBERS of the cells would be bought at the node's costs and which asks most
 * for delivery; SW_NO_YARD: there is none. */
static sw_status
find_yard (const sw_offer_tree *t, const sw_offer_lines *lines, const int64_t *numbers, size_t *yard)
{
  const sw_job *job = t->job;
  sw_purchase *split = sw_alloc (job->stocks.count, sizeof *split);
  *yard = SW_NO_YARD;
  if (split == NULL)
    return SW_NO_MEMORY;
  sw_status status = SW_OK;
  for (size_t c = 0; c < t->buying.cell_count && status == SW_OK; c++)
    {
      const int64_t needed = numbers[c] > lines->paid[c] ? numbers[c] : lines->paid[c];
      status = sw_buying_split (&t->buying, c, lines->costs.yards, needed, split);
    }
  for (size_t s = 0; s < job->stocks.count && status == SW_OK; s++)
    {
      const size_t y = job->stocks.items[s].yard;
      if (split[s].bought == 0 || y == SW_NO_YARD || !(t->buying.paid >> y & 1) || lines->in >> y & 1)
        continue;
      if (*yard == SW_NO_YARD || job->yards.items[y].delivery > job->yards.items[*yard].delivery)
        *yard = y;
    }
  free (split);
  return status;
}

/* ---- Where a plan costs more in truth -------------------------------------------------------- */

/* Find the cell whose cost by the lines is farthest from the truth, and where to cut it. */
static bool
find_cell (const sw_offer_tree *t, const sw_offer_lines *lines, const sw_offer_plan *made, size_t *cell, int64_t *cut)
{
  int64_t widest = 0;
  for (size_t c = 0; c < t->buying.cell_count; c++)
    {
      int64_t at;
      const int64_t needed = made->needed[c];
      if (needed <= lines->paid[c])
        continue;
      const int64_t gap = lines->costs.of[c][needed] - sw_offer_lines_at (lines, c, needed);
      if (gap > widest && sw_offer_lines_cut (lines, c, needed, &at))
        {
          widest = gap;
          *cell = c;
          *cut = at;
        }
    }
  return widest > 0;
}

/* Every line is equal to the true cost, and yet the plan costs more, because a least order is not reached.  Then cut
 * some range of numbers. */
static bool
find_any_cell (const sw_offer_tree *t, const sw_offer_node *node, const sw_offer_lines *lines,
               const sw_offer_plan *made, size_t *cell, int64_t *cut)
{
  int64_t widest = 0;
  for (size_t c = 0; c < t->buying.cell_count; c++)
    {
      const int64_t most = node->most[c] < lines->last[c] ? node->most[c] : lines->last[c];
      const int64_t range = most - node->least[c];
      if (range <= widest)
        continue;
      widest = range;
      *cell = c;
      *cut = made->needed[c] < most ? made->needed[c] + 1 : made->needed[c];
      *cut = *cut > node->least[c] ? *cut : node->least[c] + 1;
      *cut = *cut < most ? *cut : most;
    }
  return widest > 0;
}

sw_status
sw_offer_branch (sw_offer_tree *t, sw_offer_node *node, const sw_offer_lines *lines, const sw_offer_plan *made)
{
  size_t yard;
  size_t cell = 0;
  int64_t cut = 0;
  sw_status status = find_yard (t, lines, made->needed, &yard);
  if (status != SW_OK)
    return status;
  if (yard != SW_NO_YARD)
    return branch_on_yard (t, node, yard);
  bool found = find_cell (t, lines, made, &cell, &cut);
  if (!found && !made->proved)
    {
      /* Its costs are known but its plan is not proved.  A thorough search is worth while after a first look. */
      if (node->thorough && node->bound < t->left_open)
        t->left_open = node->bound;
      if (node->thorough)
        return SW_OK;
      node->thorough = true;
      return sw_offer_open (t, node);
    }
  found = found || (!made->exact_here && find_any_cell (t, node, lines, made, &cell, &cut));
  if (!found)
    {
      /* One number of each length is left, so no purchase of so many costs less than MADE's.  Where that is not
         certain, only the bound is known. */
      if (!made->bill_exact && node->bound < t->left_open)
        t->left_open = node->bound;
      return SW_OK;
    }
  return branch_on_cell (t, node, cell, cut);
}

/* ---- Where the cuts say so ---------------------------------------------------------------------- */

/* Find the cell whose COUNT costs least by the lines against the truth, and where to cut it. */
static bool
find_turn (const sw_offer_tree *t, const sw_offer_lines *lines, const double *count, size_t *cell, int64_t *cut)
{
  double widest = (double)t->buying.unit;
  bool found = false;
  for (size_t c = 0; c < t->buying.cell_count; c++)
    {
      const double gap = sw_offer_lines_gap (lines, c, count[c]);
      if (gap <= widest)
        continue;
      int64_t n = (int64_t)ceil (count[c]);
      if (!sw_offer_lines_cut (lines, c, n, cut))
        {
          /* As many as cost the same are on the same side. */
          while (n > lines->paid[c] + 1 && lines->costs.of[c][n - 1] == lines->costs.of[c][n])
            n--;
          *cut = n;
        }
      *cell = c;
      widest = gap;
      found = true;
    }
  return found;
}

/* Cut NODE in two by COUNT, how many of each cell the cuts ask for at least cost.  *SETTLED: it was. */
static sw_status
branch_on_count (sw_offer_tree *t, sw_offer_node *node, const sw_offer_lines *lines, double *count, int64_t *whole,
                 bool *settled)
{
  size_t yard;
  size_t cell = 0;
  int64_t cut = 0;
  for (size_t c = 0; c < t->buying.cell_count; c++)
    {
      if (fabs (count[c] - round (count[c])) < NEARLY_WHOLE)
        count[c] = round (count[c]);
      whole[c] = (int64_t)ceil (count[c]);
    }
  sw_status status = find_yard (t, lines, whole, &yard);
  *settled = true;
  if (status == SW_OK && yard != SW_NO_YARD)
    return branch_on_yard (t, node, yard);
  if (status == SW_OK && find_turn (t, lines, count, &cell, &cut))
    return branch_on_cell (t, node, cell, cut);
  *settled = false;
  return status;
}

sw_status
sw_offer_look (sw_offer_tree *t, sw_offer_node *node, const sw_offer_lines *lines, bool *settled)
{
  int64_t bound = 0;
  *settled = false;
  /* The cuts hold for plans with as few aligned pairs as can be. */
  if (t->best.plan == NULL || t->best.plan->summary.aligned != t->aligned_bound)
    return SW_OK;
  double *count = sw_alloc (t->buying.cell_count, sizeof *count);
  int64_t *whole = sw_alloc (t->buying.cell_count, sizeof *whole);
  bool bounded = false;
  sw_status status = count != NULL && whole != NULL ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    status = sw_cuts_bound (&t->cuts, lines, t->best.cost, &t->watch, &bounded, &bound, count);
  if (bounded)
    {
      sw_offer_raise (t, node, bound);
      *settled = true;
      if (sw_offer_is_done (t, node, NULL))
        ;
      else if (node->bound > sw_offer_next (t))
        status = sw_offer_open (t, node);
      else
        status = branch_on_count (t, node, lines, count, whole, settled);
    }
  free (count);
  free (whole);
  return status;
}
