/* suite.h - runs a Check suite
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SUITE_H
#define SUITE_H

#include <check.h>

/* Run SUITE and free it.  Returns what main should return.  Check calls it a success when no test
 * runs; this function does not. */
int suite_run (Suite *suite);

/* How many of WHOLE random jobs to try.  With SW_FEWER in the environment it is only a part of them
 * (4: a quarter), but at least one, because each step is slow under the sanitizers and valgrind. */
int suite_rounds (int whole);

#endif
