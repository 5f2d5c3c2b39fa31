/* suite.c - runs a Check suite
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "suite.h"

#include <stdbool.h>
#include <stdlib.h>

int
suite_rounds (int whole)
{
  const char *fewer = getenv ("SW_FEWER");
  int part = fewer != NULL ? atoi (fewer) : 1;
  return part > 1 ? (whole + part - 1) / part : whole;
}

int
suite_run (Suite *suite)
{
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_NORMAL);
  bool sound = srunner_ntests_run (runner) > 0 && srunner_ntests_failed (runner) == 0;
  srunner_free (runner);
  return sound ? EXIT_SUCCESS : EXIT_FAILURE;
}
