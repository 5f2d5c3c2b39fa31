/* compare.h - choices of stock lengths side by side, and the price at which one tips
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_COMPARE_H
#define SW_COMPARE_H

#include "base/watch.h"
#include "plan/plan.h"
#include "base/text.h"

/* One choice of what may be bought, and its plan. */
typedef struct sw_choice_made
{
  char *name;       /* as the caller wrote it, or such as "4.8,5.4" */
  bool *buys;       /* by stock of the job */
  size_t lacking;   /* index of a section that no length of the choice is for, or SW_NONE */
  sw_job job;       /* a variant with only this stock and what is on hand */
  sw_job *own;      /* or a whole job with another setting; NULL: there is none */
  sw_plan *plan;    /* NULL: there is no plan */
  sw_status status; /* SW_OK, SW_NO_PLAN or SW_STOPPED */
  char *why;        /* why there is no plan; else NULL */
} sw_choice_made;

#define SW_TIPPINGS 2

/* What the choices of a comparison are of. */
typedef enum sw_comparing
{
  SW_CHOOSING_LENGTHS,
  SW_CHOOSING_YARDS,
  SW_CHOOSING_SETTING
} sw_comparing;

struct sw_comparison
{
  const sw_job *job;
  size_t count;
  sw_choice_made *choices; /* in the order in which they were given */
  size_t best;             /* SW_NONE: no choice has a plan */
  sw_comparing choosing;   /* what the choices are of */
  size_t tipping_count;
  sw_tipping tippings[SW_TIPPINGS];
};

/* Read the choices TEXTS for comparison->job.  COUNT 0: take each single length, and all of them
 * together.  SW_USAGE: REPORT says which choice is wrong, and what is offered. */
sw_status sw_choices_read (sw_comparison *comparison, const char *const *texts, size_t count, sw_report *report);
/* compare_from.c: the same where each text is a yard, or several with ',' between. */
sw_status sw_choices_of_yards (sw_comparison *comparison, const char *const *texts, size_t count, sw_report *report);
/* compare_vary.c: the same of one text, KEY=VALUE,VALUE: a setting and what it is set to in turn. */
sw_status sw_choices_of_setting (sw_comparison *comparison, const char *const *texts, size_t count, sw_report *report);
/* Begin CHOICE, called NAME: nothing is bought yet. */
sw_status sw_choice_begin (sw_choice_made *choice, const sw_job *job, const char *name);
/* Is one choice the same as another?  Then it is told, for each. */
bool sw_choices_twice (const sw_comparison *comparison, sw_report *report);
/* Is SECTION one of those that a choice means when it names none? */
bool sw_choices_mean (const sw_job *job, size_t section);

/* Many plans share one time limit and one callback. */
typedef struct sw_relay
{
  sw_watch watch;
  const sw_limits *limits; /* those of the caller, or NULL */
  int64_t scale;           /* a cost is divided by this before it is told */
  bool stopped;            /* the callback has said stop: no further plan is made */
} sw_relay;

/* Plan JOB, a variant, in 1 / SHARE of the time that is left. */
sw_status sw_relay_plan (sw_relay *relay, sw_plan **out, sw_job *job, int share, sw_report *report);

/* Is it proved that PLAN is the cheapest of the plans with the fewest joins lined up? */
bool sw_compare_proved (const sw_plan *plan);
/* Is choice A better than B?  It is cheaper (if all is free: it buys less timber), or costs as much
 * with fewer joins lined up, then fewer joins, then fewer boards.  Of equal choices the earlier is
 * better. */
bool sw_compare_before (const sw_comparison *comparison, size_t a, size_t b);

/* The length that is cut up and not used. */
sw_length sw_compare_waste (const sw_summary *sum);

/* Find the tipping prices that are worth telling.  It makes a handful of plans for each. */
sw_status sw_compare_tippings (sw_comparison *comparison, sw_relay *relay);
/* The stock of SECTION whose price TIPPING varies.  NULL: there is none. */
const sw_stock *sw_tipping_row (const sw_comparison *comparison, const sw_tipping *tipping, size_t section);

/* Find the two best choices, or the two best of a single length; after those with a plan, where UNPLANNED, those
 * without.  False: there are no two. */
bool sw_compare_two_best (const sw_comparison *comparison, bool single, bool unplanned, size_t pair[2]);

/* Add the remarks on choice INDEX, as one line that may be empty. */
void sw_compare_note (sw_text *out, const sw_comparison *comparison, size_t index);
/* Add TIPPING in words, as one line. */
void sw_tipping_sentence (sw_text *out, const sw_comparison *comparison, const sw_tipping *tipping);
/* compare_alone.c: add the part of the text that tells tipping prices, or why there are none. */
void sw_compare_tip_text (sw_text *out, const sw_comparison *comparison, size_t width);

#endif
