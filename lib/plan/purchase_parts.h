/* purchase_parts.h - what the files of purchase.h share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PURCHASE_PARTS_H
#define SW_PURCHASE_PARTS_H

#include "plan/purchase.h"

/* The yard of ROW, as a set. */
sw_yard_set sw_yard_bit (const sw_stock *row);
/* The entries of a table of CELL: 0 and every number that may be bought. */
int64_t sw_cell_room (const sw_purchase_cell *cell);
/* BEFORE: the cost of exactly 0 ... COUNT - 1 lengths without ROW.  AFTER: their cost when ROW may be used too.  QUEUE
 * has room for COUNT. */
void sw_cell_add_row (const sw_job *job, const sw_stock *row, const int64_t *before, int64_t *after, int64_t count,
                      int64_t *queue);

#endif
