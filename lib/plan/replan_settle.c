/* replan_settle.c - the fewest changes for what is bought, where it matters what is bought where
 *
 * A plan with yards, packs and falling prices is made for its cost, and the
 * aims after the cost are left to chance.  When the purchase is settled, the
 * boards that it buys count like those on hand, and the rest is planned like
 * any job.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "plan/replan.h"

#include "plan/plan_once.h"

#include <stdlib.h>

/* Turn JOB into the job after PURCHASES have been made: what they bought costs no more, and nothing else is sold. */
static void
buy (sw_job *job, const sw_purchase *purchases)
{
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      sw_stock *row = &job->stocks.items[s];
      row->limit = purchases[s].bought;
      row->priced = true;
      row->price = 0;
      row->from = row->pack = 1;
      row->price_count = 0;
    }
  job->stocks.offers = false;
  job->priced = true;
  job->all_free = false;
}

/* PLAN was made out of what BEFORE buys, so it takes over the bill. */
static void
take_bill (sw_plan *plan, sw_plan *before)
{
  const sw_summary *bill = &before->summary;
  sw_summary *sum = &plan->summary;
  plan->job = before->job;
  plan->purchases = before->purchases;
  before->purchases = NULL;
  plan->least = before->least;
  for (size_t s = 0; s < plan->job->stocks.count; s++)
    plan->purchases[s].count = 0;
  for (size_t b = 0; b < plan->board_count; b++)
    if (!plan->boards[b].hand)
      plan->purchases[plan->boards[b].stock].count++;
  /* Another purchase of the same cost might change fewer pieces. */
  plan->changes_proved = plan->changes_proved && (bill->bought == 0 || plan->changes == 0);
  sum->priced = bill->priced;
  sum->cost = bill->cost;
  sum->bound = bill->bound;
  sum->aligned_bound = bill->aligned_bound < sum->aligned ? bill->aligned_bound : sum->aligned;
  sum->outcome = bill->outcome;
  plan->seconds += before->seconds;
}

sw_status
sw_replan_settle (sw_plan **plan, const sw_job *job, void (*changed) (sw_layout *layout, const void *data),
                  const void *data, const sw_limits *limits, sw_report *report)
{
  sw_once once = { .changed = changed, .data = data };
  sw_plan *settled = NULL;
  sw_job bought;
  if (!job->stocks.offers || (*plan)->purchases == NULL)
    return SW_OK;
  sw_status status = sw_job_variant (&bought, job);
  if (status == SW_OK)
    {
      buy (&bought, (*plan)->purchases);
      status = sw_plan_once (&settled, &bought, limits, &once, report);
    }
  if (status == SW_OK && settled->summary.aligned <= (*plan)->summary.aligned)
    {
      take_bill (settled, *plan);
      sw_plan_free (*plan);
      *plan = settled;
    }
  else
    sw_plan_free (settled);
  sw_job_variant_clear (&bought);
  /* Where there was no time for a better plan, the one there is will do. */
  return status == SW_NO_MEMORY ? status : SW_OK;
}
