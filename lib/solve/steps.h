/* steps.h - the steps of solving one model
 *
 * Each is a leaf: aim.c and part_search.c alone call them, and none calls another.  What they share is below them:
 * what is known (search.h), the linear programme (programme.h), boards one after another (fill.h), what could be better
 * (gather.h). SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_STEPS_H
#define SW_STEPS_H

#include "solve/programme.h"

/* ---- A bound and a plan to begin with */

/* A bound for the present aim by the metres alone, without a linear programme;
 * ANY_ALIGNED: one that holds however many pairs are aligned.  O(options) and a layout of each strip. */
sw_status sw_bound_by_metres (const sw_search *search, bool any_aligned, int64_t *bound);

/* A plan by simple means, so that there is one to print. */
sw_status sw_first_plan (sw_search *search);

/* ---- Plans out of the linear programme */

/* How much of each option the programme's mixture of layouts has; to be freed. */
sw_status sw_mixture (const sw_programme *programme, double **share);
/* A layout in USED (an option each) as near to the mixture as can be, bay by bay.  Not all strips when the watch says
 * stop. */
sw_status sw_round_layout (sw_search *search, const double *share, uint8_t *used);
/* All strips but a PART of them, which chance draws, stay as the best plan has them. */
void sw_round_keep (const sw_search *search, double part, uint64_t *chance, uint8_t *used);

/* Where there are only boards: decide the boards of the programme as it stands, a part at a time, and solve it again
 * for what is left, until that is few boards; those decided go into SOLUTION. */
sw_status sw_cut_most (sw_programme *programme, sw_solution *solution);

/* Where there are only boards: fix what the programme nearly decides, and solve on: once, then deviating from the first
 * dive at one step more each time (limited discrepancy search), until the best is proved, there were DIVES of them, or
 * WORK (of sw_programme_work) is done. */
sw_status sw_dive (sw_programme *programme, size_t dives, uint64_t work);

/* ---- What is open between bound and plan */

/* Enumerate all options and patterns (at most MOST) that a solution as good
 * as the bound could use and solve over those: either it is found, or the
 * bound goes up, and so on until the two meet or there are too many. */
sw_status sw_close (sw_search *search, size_t most);

/* Branch and price over the pieces of one section that has no layouts to
 * choose, for the cost, at most so many NODES and WORK (of its own linear
 * programmes, iterations times rows): the best becomes better, and when
 * nothing is left open the bound meets it. */
sw_status sw_branch (const sw_programme *programme, int64_t nodes, uint64_t work);

/* ---- A part of the plan anew: what of it is set free */

/* Mark strips by chance until they have so many OPTIONS, not all of them. */
void sw_free_strips (const sw_model *model, size_t options, uint64_t *chance, uint8_t *marked);
/* STAYS: how many of each of the best plan's boards stay where the MARKED strips are free.  Those go that their pieces
 * are cut from, or that lose more than SPARE (scaled, at the root's prices), or one in a few by chance. */
sw_status sw_free_boards_of (const sw_search *search, const uint8_t *marked, sw_wide spare, uint64_t *chance,
                             int64_t *stays);

/* ---- At the end */

/* Of the best solution, valid, drop the pieces over the number needed and
 * pack its boards anew, so that what is left is in long pieces: no aim of
 * those before gets worse. */
sw_status sw_long_offcuts (sw_search *search);

#endif
