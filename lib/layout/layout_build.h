/* layout_build.h - a layout in the making
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_LAYOUT_BUILD_H
#define SW_LAYOUT_BUILD_H

#include "layout/layout.h"

/* A layout in the making, and what matters only until it is made. */
typedef struct sw_layout_build
{
  const sw_job *job;
  sw_layout *layout;
  sw_report *report;
  sw_length *longest;   /* by section: the longest piece that can be sawn; 0: none */
  sw_length *reach;     /* by section: the longest piece, those that are cut already and fit as they are too */
  bool *told;           /* by section: a report says that it cannot be had */
  size_t *twin;         /* by through level: the first through level that has the same pieces */
  bool *block_told;     /* by level: a report says that its blocks are too long */
  bool *mark;       /* by post of the run in hand */
  const sw_placed *placed; /* pieces in their places of the level and run in hand, from the first post on */
  size_t placed_count;
  sw_length *along; /* by post of the run in hand: its distance from the first along the slope */
  size_t stretch_room;
  size_t arc_room;
  size_t fixed_room;
  bool impossible;
} sw_layout_build;

/* A + B, or the largest or least number if the sum is beyond it.  Nothing near the ends of int64 is
 * ever compared with a sum. */
sw_length sw_layout_sum (sw_length a, sw_length b);
/* The length of BAY along the slope. */
sw_length sw_layout_bay_length (const sw_bay *bay);
/* Where timber of LEVEL begins (finishes) at post POST of RUN, as a distance from the post's centre
 * along the slope.  A start < 0 and a finish > 0 reach past the centre. */
sw_length sw_layout_start_offset (const sw_job *job, const sw_level *level, const sw_run *run, size_t post);
sw_length sw_layout_finish_offset (const sw_job *job, const sw_level *level, const sw_run *run, size_t post);
/* POSITION along a level, rounded to a position that can be cut, halves forward.  A fence that
 * reaches half a millimetre past both its ends then stays as long as it is. */
sw_length sw_layout_rounded (const sw_job *job, sw_length position);
/* Where a piece of LEVEL begins (finishes) at post POST of STRETCH, rounded.  The post stands ALONG
 * the slope from the run's first post. */
sw_length sw_layout_starts_at (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t post,
                               sw_length along);
sw_length sw_layout_finishes_at (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t post,
                                 sw_length along);

/* Can any board of SECTION be had?  If none can, the first call reports it. */
sw_status sw_layout_check_section (sw_layout_build *b, size_t section, bool *usable);

/* May a piece of SECTION be so long? */
bool sw_layout_reaches (const sw_layout_build *b, size_t section, sw_length length);

/* Does a piece that is CUT long and takes TAKE of its board come out of the boards of SECTION that can be had? */
bool sw_layout_fits (const sw_layout_build *b, size_t section, sw_length cut, sw_length take);

/* Find the stretches, and all arcs of the through levels in them.  Impossible places are reported,
 * and B remembers that there are some. */
sw_status sw_layout_add_arcs (sw_layout_build *b);

#endif
