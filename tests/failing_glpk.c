/* failing_glpk.c - a GLPK that fails when it is told to
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "failing_glpk.h"

#include <glpk.h>
#include <limits.h>
#include <stdbool.h>

failure failing;
int calls_left = INT_MAX;

/* The linker gives these names: see --wrap in ld(1). */
int __real_glp_init_env (void);
int __real_glp_add_cols (glp_prob *lp, int count);
int __real_glp_simplex (glp_prob *lp, const glp_smcp *parm);
int __real_glp_intopt (glp_prob *lp, const glp_iocp *parm);
int __wrap_glp_init_env (void);
int __wrap_glp_add_cols (glp_prob *lp, int count);
int __wrap_glp_simplex (glp_prob *lp, const glp_smcp *parm);
int __wrap_glp_intopt (glp_prob *lp, const glp_iocp *parm);

static void
count_call (bool fails)
{
  if (calls_left-- == 0 || fails)
    glp_error ("forced\n");
}

int
__wrap_glp_init_env (void)
{
  return failing == FAIL_INIT ? 2 : __real_glp_init_env ();
}

int
__wrap_glp_add_cols (glp_prob *lp, int count)
{
  count_call (failing == FAIL_ADD_COLS);
  return __real_glp_add_cols (lp, count);
}

int
__wrap_glp_simplex (glp_prob *lp, const glp_smcp *parm)
{
  count_call (failing == FAIL_SIMPLEX);
  if (failing == FAIL_MEMORY)
    glp_error ("%s: %s\n", "glp_alloc", "no memory available");
  return __real_glp_simplex (lp, parm);
}

int
__wrap_glp_intopt (glp_prob *lp, const glp_iocp *parm)
{
  count_call (failing == FAIL_INTOPT);
  return __real_glp_intopt (lp, parm);
}
