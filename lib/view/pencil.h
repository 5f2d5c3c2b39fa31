/* pencil.h - the short mark that is pencilled on a piece
 *
 * A label such as "front/top rail/1-3" is long to write on timber.  The mark
 * for it is "A2 1-3": a letter for the run, a number for the level, counted
 * from the lowest, and the posts.  The key is on the papers.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PENCIL_H
#define SW_PENCIL_H

#include "base/text.h"
#include "plan/plan.h"

#define SW_PENCIL_RUN 16 /* bytes for the letters of a run */

/* The letters of RUN, which counts from 0: "A", "B" ... "Z", "AA" ... */
void sw_pencil_run (size_t run, char out[SW_PENCIL_RUN]);

/* What the marks of extras are worked out from. */
typedef struct sw_pencils
{
  const sw_plan *plan;
  size_t first_extra; /* index of the plan's pieces */
  size_t *extras;     /* for each of the job's extras: the first piece of it in the plan */
} sw_pencils;

/* Get ready to add marks.  SW_NO_MEMORY.  O(pieces + extras). */
sw_status sw_pencils_make (sw_pencils *out, const sw_plan *plan);
void sw_pencils_clear (sw_pencils *pencils);

/* Add the mark of piece INDEX of the plan, which no other piece has: "A2 1-3"; for a fixing block "A1 b2"; for an extra
 * "+1", or "+1.2" for the second piece of its label.  O(log extras). */
void sw_pencil_add (sw_text *out, const sw_pencils *pencils, size_t index);

#endif
