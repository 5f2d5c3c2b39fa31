/* alternatives.h - every way of dividing the stretches of an unbroken line, each laid out
 *
 * Stretches that timber runs on between belong together: a group is an
 * unbroken line with all that is to be divided in it, an alternative a way for
 * each of them.  What no division changes is a group of its own, with one
 * alternative.
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
  size_t *ways;      /* of each division of the group: index into its ways */
  int64_t posts;     /* set between those that stay */
  int64_t floor;     /* no layout has fewer aligned pairs */
  int64_t high;      /* a layout with so many is known */
  sw_job job;        /* this line alone; borrows from the job */
  sw_layout *layout; /* NULL: it cannot be laid out */
  sw_model *models;
  size_t model_count;
} sw_alternative;

typedef struct sw_group
{
  size_t run;       /* SW_ALTERNATIVES_REST: what no division changes, extras with it */
  size_t first_bay; /* of the job's run; to before last_bay */
  size_t last_bay;
  size_t division_first, division_count;
  size_t first, count; /* alternatives that can be laid out */
} sw_group;

#define SW_ALTERNATIVES_REST SIZE_MAX

typedef struct sw_alternatives
{
  const sw_job *job;
  const sw_division *divisions;
  size_t division_count;
  size_t group_count;
  sw_group *groups; /* in order of the fence; the rest last */
  size_t count, capacity;
  sw_alternative *items; /* by group */
  size_t looked_at;      /* ways of all divisions */
  int64_t floor_posts;   /* of all groups: no plan has fewer */
} sw_alternatives;

/* The groups of DIVISIONS, and their alternatives, out of which those are left
 * that may be best: fewest posts first where posts cost nothing, then fewest
 * aligned pairs; with SLACK over 0 so many posts more, and any pairs.  SW_NO_PLAN: of some group none can be laid out;
 * REPORT says what is in the way of the habit's.  SW_REJECTED: too many alternatives. WATCH: may cut it short
 * (SW_STOPPED).  O(alternatives * that of a layout). */
sw_status sw_alternatives_new (sw_alternatives **out, const sw_job *job, const sw_division *divisions, size_t count,
                               int slack, sw_watch *watch, sw_report *report);
void sw_alternatives_free (sw_alternatives *alternatives);

#endif
