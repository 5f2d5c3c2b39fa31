/* growing.h - a linear programme that grows by rows and columns
 *
 * It brings a sum over columns down to the least; no column is under 0.  A
 * failure inside GLPK is caught and becomes SW_FAILED, as in master.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_GROWING_H
#define SW_GROWING_H

#include "lp/master.h"

typedef struct sw_growing sw_growing;

sw_status sw_growing_new (sw_growing **out);
void sw_growing_free (sw_growing *programme);

/* Add a row: at least SIDE (EXACT: exactly SIDE; AT_MOST: at most SIDE).  *ROW counts from 1. */
typedef enum sw_row_kind
{
  SW_ROW_AT_LEAST,
  SW_ROW_AT_MOST,
  SW_ROW_EXACT
} sw_row_kind;
sw_status sw_growing_row (sw_growing *programme, sw_row_kind kind, double side, int *row);
/* Add a column with COUNT entries: VALUE[i] in row ROW[i], each row once.  *COLUMN counts from 1. */
sw_status sw_growing_column (sw_growing *programme, double cost, int count, const int *row, const double *value,
                             int *column);
/* Allow COLUMN to be over 0, or forbid it. */
void sw_growing_allow (sw_growing *programme, int column, bool allowed);

sw_status sw_growing_solve (sw_growing *programme, sw_watch *watch, sw_lp *outcome);
double sw_growing_value (const sw_growing *programme);
double sw_growing_dual (const sw_growing *programme, int row);
double sw_growing_share (const sw_growing *programme, int column);

/* How a row or a column stands in the basis, and the wish that it stands so when the next solve begins.  With them a
 * programme with the same rows and columns goes on from where this one was. */
int sw_growing_row_standing (const sw_growing *programme, int row);
int sw_growing_column_standing (const sw_growing *programme, int column);
void sw_growing_stand_row (sw_growing *programme, int row, int standing);
void sw_growing_stand_column (sw_growing *programme, int column, int standing);

#endif
