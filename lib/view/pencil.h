/* pencil.h - the short mark that is pencilled on a piece
 *
 * A label such as "front/top rail/1-3" is long to write on timber.  The mark
 * for it is "A2 1-3": a letter a run, a number a level from the lowest, and
 * the posts.  The papers give the key.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PENCIL_H
#define SW_PENCIL_H

#include "base/text.h"
#include "plan/plan.h"

#define SW_PENCIL_RUN 16 /* bytes of a run's letters */

/* "A", "B" ... "Z", "AA" ... of RUN, from 0. */
void sw_pencil_run (size_t run, char out[SW_PENCIL_RUN]);

/* What the marks of extras are found by. */
typedef struct sw_pencils
{
  const sw_plan *plan;
  size_t first_extra; /* of the plan's pieces */
  size_t *extras;     /* of each of the job's extras, the plan's first piece of it */
} sw_pencils;

/* SW_NO_MEMORY.  O(pieces + extras). */
sw_status sw_pencils_make (sw_pencils *out, const sw_plan *plan);
void sw_pencils_clear (sw_pencils *pencils);

/* The mark of piece INDEX of the plan, which no other piece has: "A2 1-3", of
 * a fixing block "A1 b2", of an extra "+1", or "+1.2" for the second of its
 * label.  O(log extras). */
void sw_pencil_add (sw_text *out, const sw_pencils *pencils, size_t index);

#endif
