/* fence_apart.h - finds the misspelt run name where the rows of one run do not stand together
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FENCE_APART_H
#define SW_FENCE_APART_H

#include "job/fence.h"
#include "csv/field.h"

/* The last run of FENCE has the name of an earlier one, and FIELDS are at its first row.  If the
 * runs between them differ from that name in letter case and spaces only, then the rows whose
 * spelling is rarer are misspelt.  They are reported, in the column COLUMN of run names, and *TOLD
 * is set.  Rows up to line *BLAMED have been reported before; *BLAMED moves on to the last row
 * reported here. */
sw_status sw_fence_blame_apart (const sw_fence *fence, sw_fields *fields, size_t column, size_t *blamed, bool *told);

#endif
