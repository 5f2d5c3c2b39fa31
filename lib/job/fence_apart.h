/* fence_apart.h - rows of one run that do not stand together
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_FENCE_APART_H
#define SW_FENCE_APART_H

#include "job/fence.h"
#include "csv/field.h"

/* The last run that FENCE has has the name of an earlier one, and FIELDS are at
 * its first row.  Where the runs between differ from it in letter case and
 * spaces only, the odd rows are to blame: those whose spelling fewer rows have.
 * They are told, and *TOLD is set.  Runs up to line *BLAMED have been blamed;
 * it goes on with those blamed here.  COLUMN: of the runs' names. */
sw_status sw_fence_blame_apart (const sw_fence *fence, sw_fields *fields, size_t column, size_t *blamed, bool *told);

#endif
