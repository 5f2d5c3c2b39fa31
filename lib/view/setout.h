/* setout.h - running dimensions, marks and housings
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_SETOUT_H
#define SW_SETOUT_H

#include "plan/plan.h"
#include "base/text.h"

typedef enum sw_housing
{
  SW_HOUSING_NONE,    /* nothing is cut out of the post */
  SW_HOUSING_THROUGH, /* the timber lies across the post's outer face, to where it ends: checked out across */
  SW_HOUSING_STOPPED  /* the timber's end sits in a housing */
} sw_housing;

/* A level on a post. */
typedef struct sw_mark
{
  bool there;  /* the run has this level (and, of a far mark, the fence steps here with timber on both sides) */
  bool timber; /* on one side at least */
  sw_housing housing;
  sw_length depth; /* through: of the check; stopped: of the housing; 0: not known, or none */
  bool join;       /* two pieces meet here */
  bool has_mark;   /* the level's height is known, and there is timber */
  sw_length mark;  /* its underside above the datum, which is that of the run's first post */
  bool has_top;
  sw_length top;
  bool over; /* the timber lies over or on the post, or in it: it does not only stop at the near face */
} sw_mark;

typedef struct sw_setout
{
  const sw_plan *plan;
  size_t *start; /* a run's first mark */
  sw_mark *marks; /* by run, post, level: that of the post, or of its near side, and that of its far side */
} sw_setout;

/* Work out every mark.  Where timber ends in two ways on one post, a stopped
 * housing wins over a through one, and the deeper over the shallower; but
 * where the fence steps, each side has a mark of its own.  Levels between
 * posts, on the face of them or on top have no check.
 * O(posts * levels + pieces). */
sw_status sw_setout_make (sw_setout *out, const sw_plan *plan);
void sw_setout_clear (sw_setout *setout);
/* The level on the post; at a step with timber on both sides that of its near side. */
const sw_mark *sw_setout_mark (const sw_setout *setout, size_t run, size_t post, size_t level);
/* At a step with timber on both sides that of its far side; else NULL. */
const sw_mark *sw_setout_far_mark (const sw_setout *setout, size_t run, size_t post, size_t level);

sw_status sw_setout_table (const sw_plan *plan, sw_table **out);
sw_status sw_setout_text (const sw_plan *plan, size_t width, sw_text *out);

#endif
