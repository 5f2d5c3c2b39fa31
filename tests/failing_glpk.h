/* failing_glpk.h - a GLPK that fails when it is told to
 *
 * GLPK's own calls are wrapped by the linker: link with WRAP_GLPK of files.am.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FAILING_GLPK_H
#define FAILING_GLPK_H

typedef enum failure
{
  FAIL_NOT,
  FAIL_ADD_COLS,
  FAIL_SIMPLEX,
  FAIL_INTOPT,
  FAIL_MEMORY, /* as GLPK says it when malloc fails */
  FAIL_INIT
} failure;

/* What fails, each time. */
extern failure failing;
/* Of the calls that add columns or solve, the one that finds none left fails, whatever it is, and no other; INT_MAX at
 * first. */
extern int calls_left;

#endif
