/* steps.h - the steps of solving one model
 *
 * Each is a leaf: aim.c and part_search.c alone call them, and none calls another.  What they share is below them:
 * what is known (search.h), the linear programme (programme.h), boards one after another (fill.h), what could be better
 * (gather.h). SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_STEPS_H
#define SW_STEPS_H

#include "solve/programme.h"

/* ---- A bound and a plan to begin with */

/* A bound for the present aim from the metres alone, without a linear programme.  ANY_ALIGNED: a bound that holds for
 * any number of aligned pairs.  O(options), and a layout of each strip. */
sw_status sw_bound_by_metres (const sw_search *search, bool any_aligned, int64_t *bound);

/* Make a plan by simple means, so that there is one to print. */
sw_status sw_first_plan (sw_search *search);

/* ---- Plans out of the linear programme */

/* How much of each option the programme's mixture of layouts has; to be freed. */
sw_status sw_mixture (const sw_programme *programme, double **share);
/* Make a layout in USED (for each option) that is as near to the mixture as possible, bay by bay.  When the watch says
 * stop, some strips are left out. */
sw_status sw_round_layout (sw_search *search, const double *share, uint8_t *used);
/* Fix the options of which the mixture has more than ENOUGH, a half at least, or else the one that most of it has, and
 * solve the programme on, until the mixture is one layout.  *WHOLE: USED (for each option) is that layout; else no
 * better plan can come of it. */
sw_status sw_descend (sw_programme *programme, double enough, uint8_t *used, bool *whole);

/* For a model with only boards to choose: fix what the programme nearly decides, and solve on.  Do so once, then again
 * and again, each time deviating from the first dive at one step more (limited discrepancy search), until the best is
 * proved, there were DIVES dives, or WORK (of sw_programme_work) is done. */
sw_status sw_dive (sw_programme *programme, size_t dives, uint64_t work);

/* ---- What is open between bound and plan */

/* List all options and patterns (at most MOST) that a solution as good as the bound could use, and solve over them.
 * Either a solution is found or the bound goes up, and so on until the two meet or there is too much to list. */
sw_status sw_close (sw_search *search, size_t most);

/* Branch and price over the pieces of one section that has no layouts to choose, for the cost, with at most WORK (of
 * its own linear programmes, iterations times rows).  The best becomes better, and when no node is left open the bound
 * meets it.  Where boards are tight the question is only whether there is a solution as good as the bound, which goes
 * up if there is none. */
sw_status sw_branch (const sw_programme *programme, uint64_t work);
/* Must the boards of a solution as good as the bound be so full that all they leave is less than the shortest piece,
 * and is there room for a table that tells such boards?  There is one section. */
bool sw_is_tight (const sw_search *search);

/* ---- A part of the plan anew: what of it is set free */

/* Mark strips by chance until they have OPTIONS options, but not all strips. */
void sw_free_strips (const sw_model *model, size_t options, uint64_t *chance, uint8_t *marked);
/* Set STAYS: how many of each of the best plan's boards stay when the MARKED strips are free.  A board goes when a
 * piece of those strips is cut from it, when it loses more than SPARE (scaled, at the root's prices), or, in a few
 * cases, by chance. */
sw_status sw_free_boards_of (const sw_search *search, const uint8_t *marked, sw_wide spare, uint64_t *chance,
                             int64_t *stays);

/* ---- At the end */

/* Drop the pieces of the best solution, which is valid, that are over the number needed, and pack its boards anew so
 * that what is left is in long pieces.  No earlier aim gets worse. */
sw_status sw_long_offcuts (sw_search *search);

#endif
