/* suite.h - run a Check suite
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SUITE_H
#define SUITE_H

#include <check.h>

/* Run SUITE and free it; what main shall return.  Check calls a run of no
 * tests a success; this does not. */
int suite_run (Suite *suite);

/* Of WHOLE random jobs so many as shall be tried: a part of them where
 * SW_FEWER is in the environment (4: a quarter, one at least), as it is where
 * each step is slow, under the sanitizers and valgrind. */
int suite_rounds (int whole);

#endif
