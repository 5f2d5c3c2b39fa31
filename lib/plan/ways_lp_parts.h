/* ways_lp_parts.h - what the files of the programme over ways share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_WAYS_LP_PARTS_H
#define SW_WAYS_LP_PARTS_H

#include "plan/ways_lp.h"

#include "lp/master.h"
#include "price/knapsack.h"

/* A length of a section that some column has. */
typedef struct sw_way_row
{
  size_t section;
  sw_length take;
  int row;       /* row of the programme; 0: it is not there yet; -1: it has no patterns yet */
  int64_t price; /* lp->scale units a granule */
} sw_way_row;

/* A column: COUNT entries in a pool of its own kind; of a pattern also its board. */
typedef struct sw_way_column
{
  size_t alternative; /* SIZE_MAX: it is a pattern */
  size_t board;       /* two for each stock of the job: from the yard, then from hand; SIZE_MAX: it is an exchange */
  int64_t cost;       /* granules */
  size_t first, count;
  int column; /* column of the programme; 0: it is not there yet */
} sw_way_column;

typedef struct sw_way_entry
{
  size_t row; /* index into rows */
  double value;
} sw_way_entry;

/* For sums of timber of at most so many granules it is known whether they are possible. */
#define SW_WAYS_SUMS ((int64_t)1 << 19)

struct sw_ways_lp
{
  const sw_alternatives *all;
  sw_watch *watch;
  int64_t granule;
  int64_t timber;    /* granules: the cost of timber and joins is a multiple of it */
  int64_t scale;     /* units of the prices in a granule */
  int64_t dearest;   /* the dearest board, in granules */
  int32_t *next_sum; /* for each sum, in granules of timber: the next sum that enough boards can have */
  sw_knapsack *knapsack;
  sw_strip_work *strips;
  sw_master *programme; /* NULL: not begun */
  bool *allowed;
  double *share; /* for each alternative: its share in the last programme */

  size_t row_count, row_capacity;
  sw_way_row *rows;
  size_t order_capacity;
  size_t *order;         /* rows by section, shortest first */
  int64_t *worth;        /* for each row of `order`: the highest price of it and all shorter ones of its section */
  size_t *section_first; /* for each section: its first place in `order`; one more at the end */
  bool rows_new;         /* rows were added after the models of boards were made */
  size_t board_models;
  sw_layout boards_layout;
  sw_item *items;
  sw_model *boards; /* one for each section that has rows */

  size_t column_count, column_capacity;
  sw_way_column *columns;
  size_t entry_count, entry_capacity;
  sw_way_entry *entries;

  int64_t *limit_price; /* two for each stock */
  int *limit_row;
  int *group_row;

  sw_wide *value; /* for each alternative: its value at the prices of the last sweep that valued it */
  /* the best bound over all alternatives, from the first solve: the value of each, and what limits take off */
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
};

/* ways_rows.c */
/* Find the row of a length, or add it. */
sw_status sw_ways_row (sw_ways_lp *lp, size_t section, sw_length take, size_t *row);
/* Sort the rows, and work out what lengths are worth at their prices. */
sw_status sw_ways_order (sw_ways_lp *lp);
/* The value of a length at the prices: that of the dearest row that it would do for. */
int64_t sw_ways_worth (const sw_ways_lp *lp, size_t section, sw_length take);
/* Add patterns that are worth more than their boards, and make the prices safe. */
sw_status sw_ways_price_boards (sw_ways_lp *lp, size_t *added);

/* Add a column; it enters the programme at the next sw_ways_bring_in. */
sw_status sw_ways_add_column (sw_ways_lp *lp, const sw_way_column *column, const sw_way_entry *entries, size_t count);

/* ways_columns.c */
/* Bring all new rows and columns into the programme. */
sw_status sw_ways_bring_in (sw_ways_lp *lp);
/* The least room that the pieces of alternative I take of boards, with their kerfs. */
sw_status sw_ways_material (sw_ways_lp *lp, size_t i, sw_wide *sum);
/* Value alternative I at the prices.  LAYOUT: make its layout a column too. */
sw_status sw_ways_value (sw_ways_lp *lp, size_t i, bool layout, sw_wide *value);

#endif
