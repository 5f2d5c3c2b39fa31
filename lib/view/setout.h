/* setout.h - running dimensions, marks and housings
 *
 * Lengths are in nanometres.  Functions that return sw_status return SW_OK or
 * SW_NO_MEMORY.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SETOUT_H
#define SW_SETOUT_H

#include "plan/plan.h"
#include "base/text.h"

typedef enum sw_housing
{
  SW_HOUSING_NONE,    /* nothing is cut out of the post */
  SW_HOUSING_THROUGH, /* the timber lies across the post's outer face, which is checked out from side to side */
  SW_HOUSING_STOPPED  /* the timber's end sits in a housing */
} sw_housing;

/* A level on a post, or on one side of it. */
typedef struct sw_mark
{
  bool there;  /* the run has this level; of a far mark: the fence steps here, too, with timber on both sides */
  bool timber; /* there is timber on one side at least */
  sw_housing housing;
  sw_length depth; /* depth of the check or of the housing; 0: there is none, or it is not known */
  bool join;       /* two pieces meet here */
  bool has_mark;   /* there is timber, and the level's height is known */
  sw_length mark;  /* underside above the datum of the run's first post */
  bool has_top;
  sw_length top;
  bool over; /* the timber lies over, on or in the post: it does not stop at the near face */
} sw_mark;

typedef struct sw_setout
{
  const sw_plan *plan;
  size_t *start; /* by run: its first mark */
  sw_mark *marks; /* by run, post, level: the mark of the post or of its near side, then that of its far side */
} sw_setout;

/* Work out every mark.  If timber ends in two ways on one post, a stopped housing counts before a
 * through one, and the deeper before the shallower.  Where the fence steps, each side has a mark of
 * its own.  Levels between posts, on their face or on top of them have no check.  SW_OK or
 * SW_NO_MEMORY.  O(posts * levels + pieces). */
sw_status sw_setout_make (sw_setout *out, const sw_plan *plan);
void sw_setout_clear (sw_setout *setout);
/* The mark of LEVEL on POST.  Where the fence steps with timber on both sides, it is that of the near side. */
const sw_mark *sw_setout_mark (const sw_setout *setout, size_t run, size_t post, size_t level);
/* The mark of the far side where the fence steps with timber on both sides.  NULL elsewhere. */
const sw_mark *sw_setout_far_mark (const sw_setout *setout, size_t run, size_t post, size_t level);

sw_status sw_setout_table (const sw_plan *plan, sw_table **out);
sw_status sw_setout_text (const sw_plan *plan, size_t width, sw_text *out);

#endif
