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
  const sw_placed *placed; /* pieces in their places of the level and run in hand, from the first post on */
  size_t placed_count;
  sw_length *along; /* by post of the run in hand: how far along the slope it stands from the first */
  size_t stretch_room;
  size_t arc_room;
  size_t fixed_room;
  bool impossible;
} sw_layout_build;

/* Can anything of SECTION be had?  If not it is said, once. */
sw_status sw_layout_check_section (sw_layout_build *b, size_t section, bool *usable);

/* Does a piece that is CUT long and takes TAKE come out of what can be had of SECTION? */
bool sw_layout_fits (const sw_layout_build *b, size_t section, sw_length cut, sw_length take);

/* Stretches, and all arcs of the through levels in them; impossible places are
 * reported and remembered in B. */
sw_status sw_layout_add_arcs (sw_layout_build *b);

#endif
