/* level.h - levels of timber, bottom to top
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_LEVEL_H
#define SW_LEVEL_H

#include "job/stock.h"

/* The most levels of a job.  No fence has more, so that a job with more is a mistake. */
#define SW_LEVELS_MAX 1000

/* How timber on a through level sits on the posts. */
typedef enum sw_seat
{
  SW_SEAT_LET_IN, /* checked into the outer face of the post */
  SW_SEAT_FACE,   /* nailed on, no housing */
  SW_SEAT_TOP     /* laid flat on the posts, centred */
} sw_seat;

typedef struct sw_level
{
  char *name;
  size_t section;
  bool through;            /* runs past posts and is joined on their centres; else each bay has a piece */
  sw_length gap;           /* between posts only */
  sw_seat seat;            /* on through levels only */
  sw_length let_in;        /* depth of the check; 0: as deep as the timber is thick */
  char *only;              /* names of the runs that have the level, as written; NULL: all */
  bool *runs;              /* the same for each run of the fence, once the job is checked; NULL: all */
  bool has_height;
  sw_length height;        /* underside above the datum */
  int64_t blocks;          /* fixing blocks a bay */
  sw_length block_length;
  size_t block_section;
  size_t line;             /* its line in levels.csv; 0: the level comes from --rails */
} sw_level;

typedef struct sw_levels
{
  size_t count;
  sw_level *items;
} sw_levels;

/* Read levels.csv. */
sw_status sw_levels_read (sw_levels *out, sw_sections *sections, const sw_table *table, const sw_settings *settings, sw_report *report);
/* Make the levels "rail 1" ... of section "rail" that --rails asks for. */
sw_status sw_levels_default (sw_levels *out, sw_sections *sections, const sw_settings *settings);
/* Does run RUN of the fence have timber of LEVEL? */
bool sw_level_is_on (const sw_level *level, size_t run);

/* Give heights to the through levels that have none, for the picket of --picket and by the rule in
 * height.c.  FILE is the name of levels.csv, or NULL.  SW_REJECTED: the picket is too short for its
 * rails. */
sw_status sw_levels_fill_heights (sw_levels *levels, const sw_sections *sections, const sw_settings *settings,
                                  const char *file, sw_report *report);
/* How far LEVEL's timber reaches up from its underside: the width of timber on edge, the thickness
 * of timber laid flat.  0: not known. */
sw_length sw_level_tall (const sw_level *level, const sw_sections *sections);
/* Warn once of levels that overlap on any of the RUNS runs.  FILE is the name of levels.csv, or
 * NULL. O(levels^2), and O(RUNS) for each two levels that overlap. */
void sw_levels_check (const sw_levels *levels, const sw_sections *sections, size_t runs, const sw_settings *settings,
                      const char *file, sw_report *report);
void sw_levels_clear (sw_levels *levels);

#endif
