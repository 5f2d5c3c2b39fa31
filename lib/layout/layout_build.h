/* layout_build.h - a layout in the making
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_LAYOUT_BUILD_H
#define SW_LAYOUT_BUILD_H

#include "layout/layout.h"

/* What only matters while a layout is being made. */
typedef struct sw_layout_build
{
  const sw_job *job;
  sw_layout *layout;
  sw_report *report;
  sw_length *longest;   /* by section: the most that can be sawn out of a board; 0: none */
  bool *told;           /* by section: that none can be had has been said */
  size_t *twin;         /* by through level: the first through level whose pieces are the same */
  bool *block_told;     /* by level: that its blocks are too long has been said */
  bool *mark;       /* by post of the run in hand */
  sw_length *along; /* by post of the run in hand: how far along the slope it stands from the first */
  size_t stretch_room;
  size_t arc_room;
  size_t fixed_room;
  bool impossible;
} sw_layout_build;

/* A + B, or where that is too much the largest or least number: no sum is ever
 * compared with anything near the ends of int64. */
sw_length sw_layout_sum (sw_length a, sw_length b);
/* Length of BAY along the slope. */
sw_length sw_layout_bay_length (const sw_bay *bay);
/* Where timber of LEVEL begins at post POST of RUN, from the post's centre
 * along the slope (< 0: it reaches past); where it finishes (> 0: past). */
sw_length sw_layout_start_offset (const sw_job *job, const sw_level *level, const sw_run *run, size_t post);
sw_length sw_layout_finish_offset (const sw_job *job, const sw_level *level, const sw_run *run, size_t post);
/* POSITION along a level to the nearest that is cut, halves forward: a fence
 * that reaches half a millimetre past both its ends stays as long as it is. */
sw_length sw_layout_rounded (const sw_job *job, sw_length position);
/* Where a piece of LEVEL begins at post POST of STRETCH, which is ALONG the
 * slope from the run's first; where it finishes.  Both rounded. */
sw_length sw_layout_starts_at (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t post,
                               sw_length along);
sw_length sw_layout_finishes_at (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t post,
                                 sw_length along);

/* Can anything of SECTION be had?  If not it is said, once. */
sw_status sw_layout_check_section (sw_layout_build *b, size_t section, bool *usable);

/* Does a piece that is CUT long and takes TAKE come out of what can be had of SECTION? */
bool sw_layout_fits (const sw_layout_build *b, size_t section, sw_length cut, sw_length take);

/* Stretches, and all arcs of the through levels in them; impossible places are
 * reported and remembered in B. */
sw_status sw_layout_add_arcs (sw_layout_build *b);

#endif
