/* alternatives.h - every way of dividing the stretches of an unbroken line, each laid out
 *
 * Stretches belong together where timber runs on from one to the next.  So a
 * group is an unbroken line with all the stretches in it that are to be
 * divided, and an alternative is a way for each of these.  What no division
 * changes is a group of its own, with one alternative.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_ALTERNATIVES_H
#define SW_ALTERNATIVES_H

#include "job/way.h"
#include "model/model.h"
#include "base/watch.h"
#include "price/strip.h"

/* A line with more alternatives is refused, so that memory stays bounded: 33,000 of 16 bays and three
 * rails take 1.1 GiB. */
#define SW_ALTERNATIVES_MAX 40000

typedef struct sw_alternative
{
  size_t group;
  size_t *ways;      /* for each division of the group: index into its ways */
  int64_t posts;     /* posts that are set between those that stay */
  int64_t floor;     /* no layout has fewer aligned pairs */
  int64_t high;      /* a layout with so many aligned pairs is known */
  sw_job job;        /* this line alone; borrows from the job */
  sw_layout *layout; /* NULL: it cannot be laid out */
  sw_model *models;
  size_t model_count;
} sw_alternative;

typedef struct sw_group
{
  size_t run;       /* SW_ALTERNATIVES_REST: what no division changes, and the extras */
  size_t first_bay; /* of the job's run; up to last_bay, which is not in it */
  size_t last_bay;
  size_t division_first, division_count;
  size_t first, count; /* its alternatives that can be laid out */
} sw_group;

#define SW_ALTERNATIVES_REST SIZE_MAX

typedef struct sw_alternatives
{
  const sw_job *job;
  const sw_division *divisions;
  size_t division_count;
  size_t group_count;
  sw_group *groups; /* in the order of the fence; the rest comes last */
  size_t count, capacity;
  sw_alternative *items; /* by group */
  size_t looked_at;      /* ways of all divisions together */
  int64_t floor_posts;   /* no plan has fewer posts in all groups together */
} sw_alternatives;

/* Make the groups of DIVISIONS, and those of their alternatives that may be the best: where posts cost nothing those
 * with the fewest posts, then those with the fewest aligned pairs.  With SLACK over 0, so many more posts may be used,
 * and any number of pairs.  SW_NO_PLAN: no alternative of some group can be laid out; REPORT says what is in the way of
 * the usual one.  SW_REJECTED: there are too many alternatives.  SW_STOPPED: WATCH cut it short.  O(alternatives * that
 * of a layout). */
sw_status sw_alternatives_new (sw_alternatives **out, const sw_job *job, const sw_division *divisions, size_t count,
                               int slack, sw_watch *watch, sw_report *report);
void sw_alternatives_free (sw_alternatives *alternatives);

#endif
