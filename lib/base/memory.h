/* memory.h - checked allocation
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_MEMORY_H
#define SW_MEMORY_H

#include "spanwright.h"

/* COUNT zeroed elements of SIZE bytes, at least one byte in all.  NULL on overflow or when memory runs out. */
void *sw_alloc (size_t count, size_t size);

/* Make room for NEED elements of SIZE bytes in *ARRAY by doubling *CAPACITY.  On failure nothing
 * changes.  Amortised O(1) an element. */
sw_status sw_grow (void **array, size_t *capacity, size_t need, size_t size);

/* A copy of TEXT; NULL when memory runs out. */
char *sw_copy_text (const char *text);

#endif
