/* programme.h - a linear programme that grows by rows and columns
 *
 * What is made least is a sum over columns, none of which is under 0.  A
 * failure inside GLPK is caught and becomes SW_FAILED, as in master.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PROGRAMME_H
#define SW_PROGRAMME_H

#include "lp/master.h"

typedef struct sw_programme sw_programme;

sw_status sw_programme_new (sw_programme **out);
void sw_programme_free (sw_programme *programme);

/* One more row, at least (EXACT: exactly; AT_MOST: at most) SIDE; *ROW counts from 1. */
typedef enum sw_row_kind { SW_ROW_AT_LEAST, SW_ROW_AT_MOST, SW_ROW_EXACT } sw_row_kind;
sw_status sw_programme_row (sw_programme *programme, sw_row_kind kind, double side, int *row);
/* One more column, with COUNT entries: VALUE[i] in row ROW[i], each row once; *COLUMN counts from 1. */
sw_status sw_programme_column (sw_programme *programme, double cost, int count, const int *row, const double *value,
                               int *column);
/* May COLUMN be over 0? */
void sw_programme_allow (sw_programme *programme, int column, bool allowed);

sw_status sw_programme_solve (sw_programme *programme, sw_watch *watch, sw_lp *outcome);
double sw_programme_value (const sw_programme *programme);
double sw_programme_dual (const sw_programme *programme, int row);
double sw_programme_share (const sw_programme *programme, int column);

#endif
