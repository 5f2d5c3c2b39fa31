/* compare_apart.c - what keeping joins apart costs
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "compare/compare.h"

#include "view/figures.h"

#include <stdlib.h>

/* A fence of so many places for a piece is planned once more in a moment; with more the command that tells it is named. */
#define FEW_PLACES 400
/* Milliseconds for it, should the moment be a long one. */
#define MOMENT 1000

#define COMMAND "compare --vary stagger=%s,off"

static size_t
count_places (const sw_job *job)
{
  size_t places = 0;
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t l = 0; l < job->levels.count; l++)
      if (job->levels.items[l].through && sw_level_is_on (&job->levels.items[l], r))
        places += job->fence.runs[r].bay_count;
  return places;
}

/* *COST: the least that a plan costs whose joins may line up; *KNOWN: it was found in time. */
static sw_status
plan_without (const sw_plan *plan, int64_t *cost, bool *known)
{
  sw_job job;
  sw_plan *other = NULL;
  sw_status status = sw_job_variant (&job, plan->job);
  *known = false;
  if (status == SW_OK)
    {
      const int64_t limit = job.settings->time_limit;
      job.settings->stagger = SW_STAGGER_OFF;
      job.settings->time_limit = limit >= 0 && limit < MOMENT ? limit : MOMENT;
      status = sw_plan_make (&other, &job, NULL, NULL);
    }
  if (other != NULL)
    {
      *known = other->summary.outcome == SW_PROVED;
      *cost = other->summary.cost;
    }
  sw_plan_free (other);
  sw_job_variant_clear (&job);
  return status == SW_STOPPED || status == SW_NO_PLAN || status == SW_REJECTED ? SW_OK : status;
}

static void
add_words (sw_text *out, const sw_plan *plan, bool known, int64_t without)
{
  const sw_summary *sum = &plan->summary;
  const char *const now = plan->job->settings->stagger == SW_STAGGER_REQUIRE ? "require" : "prefer";
  char cost[SW_LENGTH_TEXT];
  char percent[SW_VIEW_PERCENT];
  if (!known)
    {
      sw_text_printf (out, "What keeping joins apart costs: " COMMAND " tells it.", now);
      return;
    }
  if (sum->cost <= without)
    {
      sw_text_add (out, "Keeping joins apart costs nothing: no plan is cheaper without.");
      return;
    }
  sw_view_cost (plan, sum->cost - without, cost);
  sw_view_percent (sum->cost - without, without, 1, percent);
  sw_text_printf (out, "Keeping joins apart costs %s%s (%s %%); " COMMAND " shows both.", cost,
                  sum->priced ? "" : " of timber", percent, now);
}

sw_status
sw_plan_apart_text (const sw_plan *plan, unsigned width, char **out)
{
  const sw_summary *sum = &plan->summary;
  sw_text text = { 0 };
  sw_text line = { 0 };
  sw_status status = SW_OK;
  bool known = false;
  int64_t without = 0;
  *out = NULL;
  if (plan->job->settings->stagger != SW_STAGGER_OFF && sw_view_neighbours (plan->job) && sum->joins > 0
      && !plan->job->all_free)
    {
      /* What is not proved of the one cannot be held against the other. */
      if (sw_compare_proved (plan) && count_places (plan->job) <= FEW_PLACES)
        status = plan_without (plan, &without, &known);
      if (status == SW_OK)
        add_words (&line, plan, known, without);
      sw_view_paragraph (&text, &line, 2, 2, width == 0 ? 80 : width);
    }
  sw_text_drop (&line);
  if (status != SW_OK)
    {
      sw_text_drop (&text);
      return status;
    }
  *out = sw_text_take (&text);
  return *out != NULL ? SW_OK : SW_NO_MEMORY;
}
