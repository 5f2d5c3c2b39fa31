/* suite.h - run a Check suite
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SUITE_H
#define SUITE_H

#include <check.h>

/* Run SUITE and free it; what main shall return.  Check calls a run of no
 * tests a success; this does not. */
int suite_run (Suite *suite);

#endif
