/* layout.h - from a job to possible pieces and fixed demands
 *
 * Every rule of where a piece may begin, end and join is here.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_LAYOUT_H
#define SW_LAYOUT_H

#include "job/seat.h"

/* A job with more possible pieces is refused: memory stays bounded. */
#define SW_LAYOUT_MAX_ARCS 2000000

/* An unbroken line of posts of one run: from one end to the next, no end and
 * no opening between.  Timber on through levels is one path of pieces. */
typedef struct sw_stretch
{
  size_t run;
  size_t first; /* post */
  size_t last;  /* post, > first */
} sw_stretch;

#define SW_NO_ITEM SIZE_MAX

/* A possible piece of a through level, from post FROM to post TO. */
typedef struct sw_arc
{
  size_t stretch;
  size_t level; /* index into job->levels */
  size_t from;
  size_t to;
  sw_length cut;  /* to the long point, > 0 */
  sw_length take; /* what it takes of a board without an ordinary kerf: take.h */
  size_t item;    /* SW_NO_ITEM: it is in its place already, and nothing is cut for it */
  bool changed;   /* a plan that goes on from another has this piece where that has another, or longer or shorter */
} sw_arc;

typedef enum sw_fixed_kind
{
  SW_FIXED_BETWEEN,
  SW_FIXED_BLOCK,
  SW_FIXED_EXTRA
} sw_fixed_kind;

/* A piece that is needed whatever the joins are; QUANTITY of them. */
typedef struct sw_fixed
{
  sw_fixed_kind kind;
  size_t section;
  sw_length cut;
  sw_length take;
  size_t item;
  int64_t quantity;
  size_t run; /* between: run, level and bay; block: run and level */
  size_t level;
  size_t bay;
  size_t extra; /* extra: index into job->extras */
} sw_fixed;

/* A distinct section and take: a row of the cover constraints.  Pieces that
 * take as much of a board stand in for each other there, whatever their cut. */
typedef struct sw_item
{
  size_t section;
  sw_length take;
  int64_t demand; /* fixed pieces only */
} sw_item;

typedef struct sw_layout
{
  const sw_job *job;
  size_t stretch_count;
  sw_stretch *stretches; /* by run, then post */
  size_t through_count;
  size_t *through; /* indices of the through levels, bottom to top */
  size_t arc_count;
  sw_arc *arcs;      /* by stretch, level, from, to */
  size_t *arc_start; /* stretch * through_count + t: its first arc; one more at the end */
  size_t item_count;
  sw_item *items; /* by section, longest first */
  size_t fixed_count;
  sw_fixed *fixed;
  bool buys_first; /* what is bought comes first, and what joins cost in money does not count */
} sw_layout;

/* Lay the job out.  SW_NO_PLAN: some stretch of some level cannot be made
 * from any stock, or a fixed piece is longer than all of it; REPORT says
 * which bay, how long, and what would help.  SW_REJECTED: more than
 * SW_LAYOUT_MAX_ARCS possible pieces.
 * O(bays * levels * bays a piece). */
sw_status sw_layout_new (sw_layout **out, const sw_job *job, sw_report *report);
void sw_layout_free (sw_layout *layout);

/* Cut length of a piece of through LEVEL in STRETCH from post FROM to post TO:
 * between two positions along the level, each rounded by itself to what is cut
 * (sw_settings_round), so that roundings do not add up.  O(TO). */
sw_length sw_layout_cut (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t from, size_t to);
/* What such a piece of length CUT takes of its board. */
sw_length sw_layout_take (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t from, size_t to,
                          sw_length cut);
/* Clear opening of BAY less the level's gap, along the slope, rounded down to what is cut. */
sw_length sw_layout_between_cut (const sw_job *job, const sw_level *level, const sw_run *run, size_t bay);
sw_length sw_layout_between_take (const sw_job *job, const sw_level *level, const sw_run *run, size_t bay,
                                  sw_length cut);
/* The most that can be sawn out of a board of SECTION that can be had; 0: none. */
sw_length sw_layout_longest (const sw_job *job, size_t section);

#endif
