/* compare.h - choices of stock lengths side by side, and the price at which one tips
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_COMPARE_H
#define SW_COMPARE_H

#include "base/watch.h"
#include "plan/plan.h"
#include "base/text.h"

/* One choice of what may be bought, and what came of it. */
typedef struct sw_choice_made
{
  char *name;       /* as the caller wrote it, or "4.8,5.4" */
  bool *buys;       /* a row of the job's stock each */
  size_t lacking;   /* a section that comes in none of the lengths; SW_NONE */
  sw_job job;       /* with no other stock than that, and what is on hand */
  sw_plan *plan;    /* NULL: none */
  sw_status status; /* SW_OK, SW_NO_PLAN, SW_STOPPED */
  char *why;        /* there is no plan; else NULL */
} sw_choice_made;

#define SW_TIPPINGS 2

struct sw_comparison
{
  const sw_job *job;
  size_t count;
  sw_choice_made *choices; /* in the order given */
  size_t best;             /* SW_NONE: no choice has a plan */
  size_t tipping_count;
  sw_tipping tippings[SW_TIPPINGS];
};

/* Read the choices TEXTS (COUNT 0: each single length, and all together) for
 * comparison->job.  SW_USAGE: REPORT says which is wrong and what is offered. */
sw_status sw_choices_read (sw_comparison *comparison, const char *const *texts, size_t count, sw_report *report);
/* Does a choice without a section's name mean SECTION? */
bool sw_choices_mean (const sw_job *job, size_t section);

/* Many plans under one time limit and one callback. */
typedef struct sw_relay
{
  sw_watch watch;
  const sw_limits *limits; /* the caller's, or NULL */
  int64_t scale;           /* costs are told divided by this */
  bool stopped;            /* the callback said stop: plan no more */
} sw_relay;

/* Plan JOB, a variant, in 1 / SHARE of the time that is left. */
sw_status sw_relay_plan (sw_relay *relay, sw_plan **out, sw_job *job, int share, sw_report *report);

/* Is the plan proved to be the cheapest of those with the fewest joins lined up? */
bool sw_compare_proved (const sw_plan *plan);
/* Does choice A come before B: cheaper (where all is free: less timber), or at the same cost with fewer joins
 * lined up, joins, boards? */
bool sw_compare_before (const sw_comparison *comparison, size_t a, size_t b);

/* What is cut up and not used. */
sw_length sw_compare_waste (const sw_summary *sum);

/* Find the tipping prices that are told.  O(plans): a handful each. */
sw_status sw_compare_tippings (sw_comparison *comparison, sw_relay *relay);
/* The row of WITH's job that buys LENGTH of SECTION where WITHOUT does not; NULL: none. */
const sw_stock *sw_tipping_row (const sw_comparison *comparison, const sw_tipping *tipping, size_t section);

/* Remarks on choice INDEX; one line, may be empty. */
void sw_compare_note (sw_text *out, const sw_comparison *comparison, size_t index);
/* One line. */
void sw_tipping_sentence (sw_text *out, const sw_comparison *comparison, const sw_tipping *tipping);

#endif
