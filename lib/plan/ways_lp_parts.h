/* ways_lp_parts.h - what the files of the programme over ways share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_WAYS_LP_PARTS_H
#define SW_WAYS_LP_PARTS_H

#include "plan/ways_lp.h"

#include "lp/growing.h"
#include "price/knapsack.h"

/* A length of a section that some column has. */
typedef struct sw_way_row
{
  size_t section;
  sw_length take;
  int row;                          /* of the programme; 0: not there now, -1: it has no patterns yet */
  int uncovered;                    /* its column */
  int standing, uncovered_standing; /* when the programme was paused */
  int64_t price;                    /* lp->scale a granule */
} sw_way_row;

/* COUNT entries of a column of its own pool; pattern: of which board. */
typedef struct sw_way_column
{
  size_t alternative; /* SIZE_MAX: a pattern */
  size_t board;       /* two a stock row of the job: from the yard, from hand; SIZE_MAX: an exchange */
  int64_t cost;       /* granules */
  size_t first, count;
  int column; /* of the programme; 0: not there now */
  int standing;
} sw_way_column;

typedef struct sw_way_entry
{
  size_t row; /* index into rows */
  double value;
} sw_way_entry;

/* Sums of timber up to so many of its granules are known to be possible or not. */
#define SW_WAYS_SUMS ((int64_t)1 << 19)

struct sw_ways_lp
{
  const sw_alternatives *all;
  sw_watch *watch;
  int64_t granule;
  int64_t timber;    /* granules: what timber and joins cost is a multiple of it */
  int64_t scale;     /* prices are so many a granule */
  int64_t dearest;   /* board, in granules */
  int32_t *next_sum; /* in granules of timber: no sum of boards that are enough lies between this and that */
  sw_knapsack *knapsack;
  sw_strip_work *strips;
  sw_growing *programme; /* NULL: paused */
  bool *allowed;
  double *share; /* an alternative each, of the last programme */

  size_t row_count, row_capacity;
  sw_way_row *rows;
  size_t order_capacity;
  size_t *order;         /* rows by section, shortest first */
  int64_t *worth;        /* of order[i]: the most of it and all shorter of its section */
  size_t *section_first; /* a section each: its first in order; one more at the end */
  bool rows_new;         /* since the boards were made */
  size_t board_models;
  sw_layout boards_layout;
  sw_item *items;
  sw_model *boards; /* one a section that has rows */

  size_t column_count, column_capacity;
  sw_way_column *columns;
  size_t entry_count, entry_capacity;
  sw_way_entry *entries;

  int64_t *limit_price; /* two a stock row */
  int *limit_row;
  int *group_row;
  int *limit_standing, *group_standing;
  bool stands; /* the standings are those of the last programme: the next one begins with them */

  sw_wide *value; /* an alternative each, at the prices of the last sweep that came to it */
  /* the best bound over all alternatives, that of the first solve: of each the value, and what limits take off */
  sw_wide *root_value;
  sw_wide root_less;
  bool root_valid;
  sw_wide bound; /* of this solve */
  /* scratch */
  int64_t *option_price;
  uint8_t *used;
  size_t scratch;
  double *pieces; /* a row each */
  size_t pieces_capacity;
  int *index;
  double *entry_value;
  size_t index_capacity;
};

/* ways_rows.c */
/* The row of a length, made if need be. */
sw_status sw_ways_row (sw_ways_lp *lp, size_t section, sw_length take, size_t *row);
/* Sort the rows and make what their prices are worth ready. */
sw_status sw_ways_order (sw_ways_lp *lp);
/* What a length is worth at the prices: that of the dearest row that it would do for. */
int64_t sw_ways_worth (const sw_ways_lp *lp, size_t section, sw_length take);
/* Patterns that are worth more than their boards; prices are made safe. */
sw_status sw_ways_price_boards (sw_ways_lp *lp, size_t *added);

/* One more column; it comes to the programme with the next sw_ways_bring_in. */
sw_status sw_ways_add_column (sw_ways_lp *lp, const sw_way_column *column, const sw_way_entry *entries, size_t count);

/* ways_columns.c */
/* Write down how all stands, before the programme is freed. */
void sw_ways_note_standings (sw_ways_lp *lp);
/* Bring the programme up to date with rows and columns. */
sw_status sw_ways_bring_in (sw_ways_lp *lp);
/* The least that the pieces of alternative I take of boards, kerfs with them. */
sw_status sw_ways_material (sw_ways_lp *lp, size_t i, sw_wide *sum);
/* Value alternative I at the prices; LAYOUT: and make the layout a column. */
sw_status sw_ways_value (sw_ways_lp *lp, size_t i, bool layout, sw_wide *value);

#endif
