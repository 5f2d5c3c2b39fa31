/* failing.h - an allocator that fails when it is told to
 *
 * Link a program with $(WRAP_ALLOCATION).  Calls from the library's own objects
 * and from the test are then wrapped; calls inside other libraries are not.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAILING_H
#define FAILING_H

#include <stdbool.h>
#include <stddef.h>

/* From now on let SUCCESSES allocations succeed, and fail all after them. */
void failing_start (size_t successes);
/* From now on let SUCCESSES allocations succeed, and fail only the next one. */
void failing_start_once (size_t successes);
/* From now on let all allocations succeed.  Returns whether one has failed since the start. */
bool failing_stop (void);

#endif
