/* failing.h - an allocator that fails when it is told to
 *
 * For programs linked with $(WRAP_ALLOCATION): calls out of the library's own
 * objects and the test's, not those inside other libraries.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAILING_H
#define FAILING_H

#include <stdbool.h>
#include <stddef.h>

/* From now on let SUCCESSES allocations pass, and fail every one after them. */
void failing_start (size_t successes);
/* The same, but only one of them fails: those after it pass again. */
void failing_start_once (size_t successes);
/* Let all pass again.  Has one failed since? */
bool failing_stop (void);

#endif
