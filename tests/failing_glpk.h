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
  FAIL_MEMORY, /* as GLPK reports it when malloc fails */
  FAIL_INIT
} failure;

/* The kind of call that fails every time. */
extern failure failing;
/* The number of calls that add columns or solve and still succeed.  The call after them fails,
 * whatever it is, and no later one does.  It is INT_MAX at first. */
extern int calls_left;

#endif
