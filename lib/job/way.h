/* way.h - the ways in which a stretch can be divided into bays
 *
 * A row of spans.csv with `divide` is a stretch between two posts that stay;
 * the posts between them can be set anywhere.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_WAY_H
#define SW_WAY_H

#include "job/job.h"

/* A stretch with more ways is refused, because its limits are too far apart. */
#define SW_WAYS_MAX 5000

typedef struct sw_way
{
  sw_divide kind; /* equal, ends or odd */
  uint32_t bays;
  sw_length equal; /* of odd: the length of all bays but the last */
} sw_way;

/* A row of spans.csv that is to be divided, and the ways to do so. */
typedef struct sw_division
{
  size_t run;
  size_t bay;            /* of the run as it was read */
  sw_length span;        /* centre to centre of the posts that stay */
  sw_length start_reach; /* how far timber reaches past their centres, 0 or more */
  sw_length finish_reach;
  sw_length step; /* posts stand on whole steps: 1 mm, or 1/16 in */
  size_t way_count;
  sw_way *ways; /* by number of bays; for each, equal bays come first, then ends, then odd by length */
  sw_way habit; /* as few equal bays as max-bay allows */
} sw_division;

/* Find the divisions of JOB's fence, in its order.  Bays go from min-bay to max-bay, centre to centre, before posts are
 * moved to whole steps.  The equal bays of `odd` are on a grid of 5 mm, or 1/4 in with inches.  Faults go to REPORT;
 * SW_REJECTED where some stretch has no way, or too many.  O(ways). */
sw_status sw_divisions_new (sw_division **out, size_t *count, const sw_job *job, sw_report *report);
void sw_divisions_free (sw_division *divisions, size_t count);

/* How far post POST (0 to way->bays) is from the near post of DIVISION; for the two posts that stay, this is exact. */
sw_length sw_way_post (const sw_division *division, const sw_way *way, uint32_t post);

#endif
