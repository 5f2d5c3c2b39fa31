/* layout.h - from a job to possible pieces and fixed demands
 *
 * Every rule about where a piece may begin, end and join is in this room.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_LAYOUT_H
#define SW_LAYOUT_H

#include "job/seat.h"

/* A job with more possible pieces is refused, so that memory stays bounded. */
#define SW_LAYOUT_MAX_ARCS 2000000

/* Part of a run from one end of timber to the next, without an end or an opening between.  In a
 * stretch, the timber of a through level is one path of pieces. */
typedef struct sw_stretch
{
  size_t run;
  size_t first; /* post */
  size_t last;  /* post, > first */
} sw_stretch;

#define SW_NO_ITEM SIZE_MAX

/* A possible piece of a through level, from post FROM to post TO of its run. */
typedef struct sw_arc
{
  size_t stretch;
  size_t level; /* index of job->levels */
  size_t from;
  size_t to;
  sw_length cut;  /* length to the long point, > 0 */
  sw_length take; /* what it takes of a board without an ordinary kerf (take.h) */
  size_t item;    /* SW_NO_ITEM: the piece is in its place already, and nothing is cut for it */
  size_t kept;    /* stock row + 1 of a piece on hand that fits here as it is; 0: there is none */
  bool changed;   /* the plan that this one goes on from has no such piece there */
} sw_arc;

typedef enum sw_fixed_kind
{
  SW_FIXED_BETWEEN,
  SW_FIXED_BLOCK,
  SW_FIXED_EXTRA
} sw_fixed_kind;

/* QUANTITY pieces that are needed wherever the joins are. */
typedef struct sw_fixed
{
  sw_fixed_kind kind;
  size_t section;
  sw_length cut;
  sw_length take;
  size_t item;
  size_t kept;   /* as in sw_arc */
  int64_t quantity;
  size_t run; /* between: with level and bay; block: with level */
  size_t level;
  size_t bay;
  size_t extra; /* extra: index of job->extras */
} sw_fixed;

/* A distinct take of a section: a row of the cover constraints.  There, pieces of the same take can
 * replace each other, even if they are cut to different lengths. */
typedef struct sw_item
{
  size_t section;
  sw_length take;
  size_t kept;    /* stock row + 1 of pieces on hand that are these as they are; 0: none */
  int64_t demand; /* of fixed pieces only */
} sw_item;

typedef struct sw_layout
{
  const sw_job *job;
  size_t stretch_count;
  sw_stretch *stretches; /* sorted by run, then post */
  size_t through_count;
  size_t *through; /* indices of the through levels, bottom to top */
  size_t arc_count;
  sw_arc *arcs;      /* sorted by stretch, level, from, to */
  size_t *arc_start; /* at stretch * through_count + t its first arc; one entry more for the end */
  size_t item_count;
  sw_item *items; /* sorted by section, longest first */
  size_t fixed_count;
  sw_fixed *fixed;
  bool buys_first; /* what is bought comes first, and what joins cost in money does not count */
} sw_layout;

/* Make the layout of JOB.  SW_NO_PLAN: on some stretch a level cannot be made from any stock, or a
 * fixed piece is longer than any stock; REPORT says which bay, how long, and what would help.
 * SW_REJECTED: there are more than SW_LAYOUT_MAX_ARCS possible pieces.  O(bays * levels * bays a
 * piece). */
sw_status sw_layout_new (sw_layout **out, const sw_job *job, sw_report *report);
void sw_layout_free (sw_layout *layout);

/* The cut length of a piece of through LEVEL in STRETCH from post FROM to post TO.  It is the
 * difference of two positions along the level, each of which is rounded by itself
 * (sw_settings_round), so that roundings do not add up.  O(TO). */
sw_length sw_layout_cut (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t from, size_t to);
/* What such a piece takes of its board when it is cut to length CUT. */
sw_length sw_layout_take (const sw_job *job, const sw_level *level, const sw_stretch *stretch, size_t from, size_t to,
                          sw_length cut);
/* The clear opening of BAY along the slope, less the level's gap and rounded down (sw_settings_round). */
sw_length sw_layout_between_cut (const sw_job *job, const sw_level *level, const sw_run *run, size_t bay);
sw_length sw_layout_between_take (const sw_job *job, const sw_level *level, const sw_run *run, size_t bay,
                                  sw_length cut);
/* The longest piece that can be sawn out of the boards of SECTION that can be had.  0: there is none. */
sw_length sw_layout_longest (const sw_job *job, size_t section);

#endif
