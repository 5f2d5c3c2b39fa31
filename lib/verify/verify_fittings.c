/* verify_fittings.c - fittings are as many as the plan needs
 *
 * Counted a second time, from the job and the files of the plan.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"
#include "verify/verify.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

__extension__ typedef __int128 wide;

/* What is counted, and for what. */
typedef struct tally
{
  const sw_verifier *verifier;
  const sw_fitting *fitting;
} tally;

static bool
counts (const tally *t, size_t run)
{
  return t->fitting->runs == NULL || t->fitting->runs[run];
}

static bool
is_mitred (const sw_run *run, bool at_finish)
{
  const sw_bay *bay = &run->bays[at_finish ? run->bay_count - 1 : 0];
  return (at_finish ? bay->finish : bay->start).kind == SW_END_MITRE;
}

/* Posts of which two runs are told though there is one: where a run ends in a mitre and the next one begins in one. */
static int64_t
shared_posts (const tally *t)
{
  const sw_fence *fence = &t->verifier->job->fence;
  int64_t shared = 0;
  for (size_t r = 0; r < fence->run_count; r++)
    {
      const size_t next = (r + 1) % fence->run_count;
      if (next == 0 && fence->run_count < 3)
        continue;
      shared += counts (t, r) && counts (t, next) && is_mitred (&fence->runs[r], true)
                && is_mitred (&fence->runs[next], false);
    }
  return shared;
}

/* Posts of run R at which there is timber of a level, level by level. */
static int64_t
crossings (const sw_job *job, size_t r)
{
  const sw_run *run = &job->fence.runs[r];
  int64_t found = 0;
  for (size_t l = 0; l < job->levels.count; l++)
    {
      bool before = false;
      if (!sw_level_is_on (&job->levels.items[l], r))
        continue;
      for (size_t b = 0; b < run->bay_count; b++)
        {
          const bool timber = !run->bays[b].opening;
          found += timber || before;
          before = timber;
        }
      found += before;
    }
  return found;
}

/* Of the fence alone: units, or nanometres of it. */
static int64_t
of_fence (const tally *t)
{
  const sw_job *job = t->verifier->job;
  int64_t sum = 0;
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      const sw_run *run = &job->fence.runs[r];
      if (!counts (t, r))
        continue;
      if (t->fitting->per == SW_PER_POST)
        sum += (int64_t)run->bay_count + 1;
      else if (t->fitting->per == SW_PER_END_POST)
        sum += 2;
      else if (t->fitting->per == SW_PER_RUN)
        sum++;
      else if (t->fitting->per == SW_PER_CROSSING)
        sum += crossings (job, r);
      for (size_t b = 0; b < run->bay_count; b++)
        {
          const sw_bay *bay = &run->bays[b];
          if ((t->fitting->per == SW_PER_BAY && !bay->opening) || (t->fitting->per == SW_PER_OPENING && bay->opening))
            sum++;
          else if (t->fitting->per == SW_PER_METRE && !bay->opening)
            sum += bay->span;
        }
    }
  if (t->fitting->per == SW_PER_POST || t->fitting->per == SW_PER_END_POST)
    sum -= shared_posts (t);
  return sum;
}

/* Rows of cuts.csv: of the runs that are meant, or all. */
static int64_t
pieces (const tally *t)
{
  const sw_listing *cuts = &t->verifier->cuts;
  int64_t sum = 0;
  for (size_t row = 0; row < cuts->rows; row++)
    {
      size_t run;
      const char *name = sw_listing_text (cuts, row, SW_CUTS_RUN);
      if (t->fitting->runs == NULL)
        sum++;
      else if ((sw_name_index_find (&t->verifier->runs, name, &run)
                || sw_name_index_find (&t->verifier->run_numbers, name, &run))
               && t->fitting->runs[run])
        sum++;
    }
  /* And those that were cut before and are in their places. */
  for (size_t p = 0; p < t->verifier->job->in_place.count; p++)
    {
      const sw_placed *placed = &t->verifier->job->in_place.items[p];
      sum += t->fitting->runs == NULL || (placed->kind != SW_PLACED_EXTRA && t->fitting->runs[placed->run]) ? 1 : 0;
    }
  return sum;
}

/* Pieces of fit.csv that begin with a join, of which each has one. */
static int64_t
joins (const tally *t)
{
  const sw_verifier *verifier = t->verifier;
  int64_t sum = 0;
  for (size_t p = 0; p < verifier->placed_count; p++)
    {
      const sw_place *place = verifier->placed[p];
      sum += counts (t, place->run)
             && sw_same_word (sw_listing_text (&verifier->fit, place->row, SW_FIT_START_JOIN), "join");
    }
  return sum;
}

/* What FITTING's row comes to, in billionths of a millionth. */
static wide
amount (const sw_verifier *verifier, const sw_fitting *fitting)
{
  const tally t = { verifier, fitting };
  const sw_per per = fitting->per;
  int64_t units = per == SW_PER_JOB     ? 1
                  : per == SW_PER_BOARD ? verifier->verdict->boards
                  : per == SW_PER_PIECE ? pieces (&t)
                  : per == SW_PER_JOIN  ? joins (&t)
                                        : of_fence (&t);
  return (wide)units * fitting->each * (per == SW_PER_METRE ? 1 : 1000000000);
}

/* As many as all rows of the item whose first is ITEM need, rounded up. */
static int64_t
needed (const sw_verifier *verifier, size_t item)
{
  const sw_fittings *fittings = &verifier->job->fittings;
  const wide one = (wide)1000000 * 1000000000;
  wide sum = 0;
  for (size_t i = item; i < fittings->count; i++)
    if (fittings->items[i].first == item)
      sum += amount (verifier, &fittings->items[i]);
  int64_t count = (int64_t)(sum / one + (sum % one > 0));
  /* Less those of the orders before. */
  for (size_t h = 0; h < verifier->job->on_hand.had_count; h++)
    if (strcmp (verifier->job->on_hand.had[h].item, fittings->items[item].item) == 0)
      count -= verifier->job->on_hand.had[h].count;
  return count > 0 ? count : 0;
}

static void
check_line (sw_verifier *verifier, size_t row, size_t item)
{
  const sw_fitting *fitting = &verifier->job->fittings.items[item];
  const int64_t count = needed (verifier, item);
  const int64_t packs = count / fitting->pack + (count % fitting->pack > 0);
  sw_money price;
  sw_verify_count (verifier, row, SW_ORDER_COUNT, count, ", counted out of the plan");
  sw_verify_count (verifier, row, SW_ORDER_SPARE, packs * fitting->pack - count, ", to whole packs");
  if (!fitting->priced)
    {
      sw_verify_no_money (verifier, row, SW_ORDER_UNIT_PRICE);
      sw_verify_no_money (verifier, row, SW_ORDER_PRICE);
      return;
    }
  sw_verify_money (verifier, row, SW_ORDER_UNIT_PRICE, fitting->price);
  if (sw_money_mul (fitting->price, packs, &price))
    sw_verify_money (verifier, row, SW_ORDER_PRICE, price);
}

/* The item that ROW names, or SW_UNKNOWN. */
static size_t
item_of (const sw_verifier *verifier, size_t row)
{
  const sw_fittings *fittings = &verifier->job->fittings;
  const char *name = sw_listing_text (&verifier->order, row, SW_ORDER_DESCRIPTION);
  for (size_t i = 0; i < fittings->count; i++)
    if (fittings->items[i].first == i && strcmp (fittings->items[i].item, name) == 0)
      return i;
  return SW_UNKNOWN;
}

sw_status
sw_verify_fittings (sw_verifier *verifier)
{
  const sw_listing *order = &verifier->order;
  const sw_fittings *fittings = &verifier->job->fittings;
  bool *there = sw_alloc (fittings->count, sizeof *there);
  if (there == NULL)
    return SW_NO_MEMORY;
  const bool has = order->columns[SW_ORDER_KIND] >= 0 && order->columns[SW_ORDER_DESCRIPTION] >= 0;
  for (size_t row = 0; has && row < order->rows; row++)
    {
      char shown[SW_SHOWN];
      if (!sw_same_word (sw_listing_text (order, row, SW_ORDER_KIND), "fitting"))
        continue;
      const size_t item = item_of (verifier, row);
      sw_show_text (sw_listing_text (order, row, SW_ORDER_DESCRIPTION), shown);
      if (item == SW_UNKNOWN)
        SW_VERIFY_FAULT (verifier, order, row, SW_ORDER_DESCRIPTION, "\"%s\": the job has no such fitting", shown);
      else if (there[item])
        SW_VERIFY_FAULT (verifier, order, row, SW_ORDER_DESCRIPTION, "\"%s\" stands twice", shown);
      else
        check_line (verifier, row, item);
      if (item != SW_UNKNOWN)
        there[item] = true;
    }
  for (size_t i = 0; i < fittings->count; i++)
    if (fittings->items[i].first == i && !there[i] && needed (verifier, i) > 0)
      SW_VERIFY_FAULT (verifier, order, SW_UNKNOWN, -1, "\"%s\" is not ordered: the plan needs %" PRId64 " of it",
                       fittings->items[i].item, needed (verifier, i));
  free (there);
  return SW_OK;
}
