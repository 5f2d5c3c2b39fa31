/* compare.c - plans a job for each choice of stock lengths, and puts the plans side by side
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "compare/compare.h"

#include "base/memory.h"
#include "job/divided.h"
#include "view/figures.h"

#include <stdlib.h>

/* ---- One choice ------------------------------------------------------------------ */

/* Remove the stock that CHOICE does not buy, but keep what is on hand. */
static sw_status
cut_stock (sw_choice_made *choice, const sw_job *job)
{
  size_t kept = 0;
  sw_status status = sw_job_variant (&choice->job, job);
  if (status != SW_OK)
    return status;
  for (size_t s = 0; s < job->stocks.count; s++)
    {
      sw_stock row = job->stocks.items[s];
      if (!choice->buys[s])
        row.limit = 0;
      if (choice->buys[s] || row.hand > 0)
        choice->job.stocks.items[kept++] = row;
    }
  choice->job.stocks.count = kept;
  return SW_OK;
}

static sw_status
say_why (sw_choice_made *choice, const char *why)
{
  choice->why = sw_copy_text (why);
  return choice->why != NULL ? SW_OK : SW_NO_MEMORY;
}

static sw_status
say_lacking (sw_choice_made *choice, const sw_job *job, sw_comparing choosing)
{
  sw_text text = { 0 };
  sw_text_add (&text, "section ");
  sw_view_name (&text, job->sections.items[choice->lacking].name);
  sw_text_add (&text, choosing == SW_CHOOSING_YARDS ? " is sold by none of these yards" : " comes in none of these lengths");
  choice->status = SW_NO_PLAN;
  choice->why = sw_text_take (&text);
  return choice->why != NULL ? SW_OK : SW_NO_MEMORY;
}

static sw_status
plan_choice (sw_choice_made *choice, const sw_job *job, sw_comparing choosing, sw_relay *relay, int share)
{
  if (choice->why != NULL)
    return SW_OK; /* its reader has said why there is no plan */
  sw_status status = choice->own == NULL ? cut_stock (choice, job) : SW_OK;
  if (status != SW_OK)
    return status;
  if (choice->lacking != SW_NONE)
    return say_lacking (choice, job, choosing);
  if (relay->stopped)
    {
      choice->status = SW_STOPPED;
      return say_why (choice, "stopped before its turn came");
    }
  sw_report *report = sw_report_new ();
  if (report == NULL)
    return SW_NO_MEMORY;
  choice->status = sw_relay_plan (relay, &choice->plan, choice->own != NULL ? choice->own : &choice->job, share, report);
  if (choice->status == SW_NO_PLAN || choice->status == SW_STOPPED)
    {
      const sw_remark *remark = NULL;
      for (size_t i = 0; remark == NULL && i < sw_report_count (report); i++)
        if (sw_report_get (report, i)->severity == SW_FAULT)
          remark = sw_report_get (report, i);
      status = say_why (choice, remark != NULL ? remark->message : sw_status_text (choice->status));
    }
  else
    status = choice->status;
  sw_report_free (report);
  return status;
}

/* ---- Which is best --------------------------------------------------------------- */

static void
find_best (sw_comparison *c)
{
  c->best = SW_NONE;
  for (size_t i = 0; i < c->count; i++)
    if (c->choices[i].plan != NULL && (c->best == SW_NONE || sw_compare_before (c, i, c->best)))
      c->best = i;
}

/* Without any plan, tell whether there can be none or the time was too short. */
static sw_status
verdict (const sw_comparison *c, sw_report *report)
{
  sw_status status = SW_NO_PLAN;
  if (c->best != SW_NONE)
    return SW_OK;
  for (size_t i = 0; i < c->count; i++)
    if (c->choices[i].status == SW_STOPPED)
      status = SW_STOPPED;
  sw_report_add (report, SW_FAULT, NULL, 0, NULL,
                 status == SW_NO_PLAN ? "none of these choices can be built" : "stopped before any choice had a plan");
  return status;
}

/* A reader of choices. */
typedef sw_status choices_reader (sw_comparison *comparison, const char *const *texts, size_t count, sw_report *report);

static sw_status
compare (sw_comparison **out, const sw_job *job, sw_comparing choosing, const char *const *choices, size_t count,
         const sw_limits *limits, sw_report *report)
{
  static choices_reader *const readers[] = { [SW_CHOOSING_LENGTHS] = sw_choices_read,
                                             [SW_CHOOSING_YARDS] = sw_choices_of_yards,
                                             [SW_CHOOSING_SETTING] = sw_choices_of_setting };
  *out = NULL;
  if (sw_divided_check (job, report) != SW_OK)
    return SW_REJECTED;
  sw_comparison *c = sw_alloc (1, sizeof *c);
  if (c == NULL)
    return SW_NO_MEMORY;
  c->job = job;
  c->best = SW_NONE;
  c->choosing = choosing;
  sw_relay relay = { .limits = limits, .scale = 1 };
  sw_watch_begin (&relay.watch, job->settings->time_limit, NULL);
  sw_status status = readers[choosing](c, choices, count, report);
  /* Where the time does not do for all, the last is the one to have: of choices that are not named it is all lengths
   * together. */
  for (size_t i = c->count; i-- > 0 && status == SW_OK;)
    {
      /* If the job has prices, leave a share of the time for the tipping prices. */
      size_t shares = i + 1 + (sw_job_by_length (job) ? 0 : 1);
      status = plan_choice (&c->choices[i], job, choosing, &relay, shares > 1000000 ? 1000000 : (int)shares);
    }
  if (status == SW_OK)
    {
      find_best (c);
      status = sw_compare_tippings (c, &relay);
    }
  if (status != SW_OK)
    {
      sw_comparison_free (c);
      return status;
    }
  *out = c;
  return verdict (c, report);
}

sw_status
sw_compare (sw_comparison **out, const sw_job *job, const char *const *choices, size_t count, const sw_limits *limits,
            sw_report *report)
{
  return compare (out, job, SW_CHOOSING_LENGTHS, choices, count, limits, report);
}

sw_status
sw_compare_yards (sw_comparison **out, const sw_job *job, const char *const *choices, size_t count,
                  const sw_limits *limits, sw_report *report)
{
  return compare (out, job, SW_CHOOSING_YARDS, choices, count, limits, report);
}

sw_status
sw_compare_setting (sw_comparison **out, const sw_job *job, const char *vary, const sw_limits *limits,
                    sw_report *report)
{
  return compare (out, job, SW_CHOOSING_SETTING, &vary, 1, limits, report);
}

void
sw_comparison_free (sw_comparison *c)
{
  if (c == NULL)
    return;
  for (size_t i = 0; i < c->count; i++)
    {
      sw_choice_made *choice = &c->choices[i];
      sw_plan_free (choice->plan);
      sw_job_variant_clear (&choice->job);
      sw_job_free (choice->own);
      free (choice->name);
      free (choice->buys);
      free (choice->why);
    }
  free (c->choices);
  free (c);
}

sw_length
sw_compare_waste (const sw_summary *sum)
{
  return sum->bought + sum->from_hand - sum->used;
}

/* ---- What came of it --------------------------------------------------------------- */

size_t
sw_comparison_count (const sw_comparison *c)
{
  return c->count;
}

bool
sw_comparison_get (const sw_comparison *c, size_t index, sw_compared *out)
{
  if (index >= c->count)
    return false;
  const sw_choice_made *choice = &c->choices[index];
  *out = (sw_compared){
    .choice = choice->name, .status = choice->status, .plan = choice->plan, .why = choice->why, .best = index == c->best
  };
  if (choice->plan != NULL)
    out->over_best = choice->plan->summary.cost - c->choices[c->best].plan->summary.cost;
  return true;
}

size_t
sw_comparison_tippings (const sw_comparison *c)
{
  return c->tipping_count;
}

bool
sw_comparison_tipping (const sw_comparison *c, size_t index, sw_tipping *out)
{
  if (index >= c->tipping_count)
    return false;
  *out = c->tippings[index];
  return true;
}
