/* columns.h - the columns of the tables that are written and read back
 *
 * The columns stand in the order of the file.  In a job that is shown in
 * inches, a name that ends in _mm ends in _in instead.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_COLUMNS_H
#define SW_COLUMNS_H

/* fit.csv: a piece in its place. */
enum
{
  SW_FIT_RUN, SW_FIT_LEVEL, SW_FIT_SECTION, SW_FIT_FROM, SW_FIT_TO, SW_FIT_BAYS, SW_FIT_PIECE, SW_FIT_BOARD,
  SW_FIT_CUT, SW_FIT_START_CUT, SW_FIT_FINISH_CUT, SW_FIT_START_JOIN, SW_FIT_FINISH_JOIN, SW_FIT_PLUMB,
  SW_FIT_LONG_POINT, SW_FIT_TAKE, SW_FIT_COLUMNS
};
extern const char *const sw_fit_columns[SW_FIT_COLUMNS];

/* cuts.csv: a piece cut from a board.  Only a plan that goes on from another has the last column. */
enum
{
  SW_CUTS_BOARD, SW_CUTS_SECTION, SW_CUTS_SOURCE, SW_CUTS_LENGTH, SW_CUTS_NUMBER, SW_CUTS_PIECE, SW_CUTS_RUN,
  SW_CUTS_LEVEL, SW_CUTS_FROM, SW_CUTS_TO, SW_CUTS_CUT, SW_CUTS_START_CUT, SW_CUTS_FINISH_CUT, SW_CUTS_LEFT,
  SW_CUTS_PLUMB, SW_CUTS_LONG_POINT, SW_CUTS_TAKE, SW_CUTS_TIMBER, SW_CUTS_COLUMNS
};
extern const char *const sw_cuts_columns[SW_CUTS_COLUMNS];

/* order.csv: a line for the yard. */
enum
{
  SW_ORDER_SECTION, SW_ORDER_DESCRIPTION, SW_ORDER_LENGTH, SW_ORDER_COUNT, SW_ORDER_SPARE, SW_ORDER_METRES,
  SW_ORDER_UNIT_PRICE, SW_ORDER_PRICE, SW_ORDER_YARD, SW_ORDER_KIND, SW_ORDER_COLUMNS
};
extern const char *const sw_order_columns[SW_ORDER_COLUMNS];

/* setout.csv: a post at a level. */
enum
{
  SW_SETOUT_RUN, SW_SETOUT_POST, SW_SETOUT_DISTANCE, SW_SETOUT_WIDTH, SW_SETOUT_LEVEL, SW_SETOUT_MARK,
  SW_SETOUT_TOP, SW_SETOUT_HOUSING, SW_SETOUT_DEPTH, SW_SETOUT_JOIN, SW_SETOUT_COLUMNS
};
extern const char *const sw_setout_columns[SW_SETOUT_COLUMNS];

/* compare --csv: a choice. */
enum
{
  SW_COMPARISON_CHOICE, SW_COMPARISON_POSSIBLE, SW_COMPARISON_METRES, SW_COMPARISON_WASTE,
  SW_COMPARISON_JOINS, SW_COMPARISON_ALIGNED, SW_COMPARISON_BOARDS, SW_COMPARISON_PRICE, SW_COMPARISON_BOUND,
  SW_COMPARISON_OVER, SW_COMPARISON_OVER_PERCENT, SW_COMPARISON_NOTE, SW_COMPARISON_COLUMNS
};
extern const char *const sw_comparison_columns[SW_COMPARISON_COLUMNS];

#endif
