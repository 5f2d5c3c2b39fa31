/* linear.h - a linear programme that grows by rows and columns
 *
 * What is made least is a sum over columns, none of which is under 0.  A
 * failure inside GLPK is caught and becomes SW_FAILED, as in master.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_LINEAR_H
#define SW_LINEAR_H

#include "lp/master.h"

typedef struct sw_linear sw_linear;

sw_status sw_linear_new (sw_linear **out);
void sw_linear_free (sw_linear *programme);

/* One more row, at least (EXACT: exactly; AT_MOST: at most) SIDE; *ROW counts from 1. */
typedef enum sw_row_kind
{
  SW_ROW_AT_LEAST,
  SW_ROW_AT_MOST,
  SW_ROW_EXACT
} sw_row_kind;
sw_status sw_linear_row (sw_linear *programme, sw_row_kind kind, double side, int *row);
/* One more column, with COUNT entries: VALUE[i] in row ROW[i], each row once; *COLUMN counts from 1. */
sw_status sw_linear_column (sw_linear *programme, double cost, int count, const int *row, const double *value,
                            int *column);
/* May COLUMN be over 0? */
void sw_linear_allow (sw_linear *programme, int column, bool allowed);

sw_status sw_linear_solve (sw_linear *programme, sw_watch *watch, sw_lp *outcome);
double sw_linear_value (const sw_linear *programme);
double sw_linear_dual (const sw_linear *programme, int row);
double sw_linear_share (const sw_linear *programme, int column);

#endif
