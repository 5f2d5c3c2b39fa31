/* purchase_parts.h - what the files of purchase.h share
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_PURCHASE_PARTS_H
#define SW_PURCHASE_PARTS_H

#include "plan/purchase.h"

/* The yard of ROW. */
sw_yard_set sw_yard_bit (const sw_stock *row);
/* Numbers of lengths that CELL's tables are made of: 0 and what may be bought. */
int64_t sw_cell_room (const sw_purchase_cell *cell);
/* BEFORE: what exactly 0 ... COUNT - 1 lengths cost without ROW; AFTER: with it too.  QUEUE: room for COUNT. */
void sw_cell_add_row (const sw_job *job, const sw_stock *row, const int64_t *before, int64_t *after, int64_t count,
                      int64_t *queue);

#endif
