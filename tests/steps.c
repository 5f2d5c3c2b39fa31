/* steps.c - work counted in steps, which take the place of time
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "steps.h"

#include <glpk.h>
#include <limits.h>
#include <stdbool.h>
#include <time.h>

static uint64_t steps;
static uint64_t last_look;
static bool counting;
static steps_seen seen;

/* The compiler puts a call of it at every branch. */
void __sanitizer_cov_trace_pc (void);
/* The linker gives these names: see --wrap in ld(1). */
int __real_clock_gettime (clockid_t clock, struct timespec *now);
int __wrap_clock_gettime (clockid_t clock, struct timespec *now);
int __real_glp_simplex (glp_prob *lp, const glp_smcp *parm);
int __wrap_glp_simplex (glp_prob *lp, const glp_smcp *parm);
int __real_glp_intopt (glp_prob *lp, const glp_iocp *parm);
int __wrap_glp_intopt (glp_prob *lp, const glp_iocp *parm);

void
__sanitizer_cov_trace_pc (void)
{
  steps++;
}

static void
look (void)
{
  if (steps - last_look > seen.widest)
    seen.widest = steps - last_look;
  last_look = steps;
  seen.looks++;
}

void
steps_begin (void)
{
  seen = (steps_seen){ 0 };
  steps = last_look = 0;
  counting = true;
}

steps_seen
steps_end (void)
{
  look ();
  counting = false;
  seen.all = steps;
  return seen;
}

int
__wrap_clock_gettime (clockid_t clock, struct timespec *now)
{
  if (!counting || clock != CLOCK_MONOTONIC)
    return __real_clock_gettime (clock, now);
  look ();
  *now = (struct timespec){ .tv_sec = (time_t)(steps / STEPS_A_MS / 1000),
                            .tv_nsec = (long)(steps / STEPS_A_MS % 1000) * 1000000 };
  return 0;
}

/* ---- GLPK ------------------------------------------------------------------------------ */

/* An iteration goes over about every row and column. */
static void
count_iterations (glp_prob *lp, int *before)
{
  const int now = glp_get_it_cnt (lp);
  steps += (uint64_t)(now - *before) * (uint64_t)(glp_get_num_rows (lp) + glp_get_num_cols (lp));
  *before = now;
}

int
__wrap_glp_simplex (glp_prob *lp, const glp_smcp *parm)
{
  glp_smcp timeless = *parm;
  int before = glp_get_it_cnt (lp);
  timeless.tm_lim = INT_MAX;
  const int code = __real_glp_simplex (lp, &timeless);
  count_iterations (lp, &before);
  return code;
}

typedef struct relay
{
  const glp_iocp *parm;
  int before;
} relay;

static void
on_node (glp_tree *tree, void *info)
{
  relay *r = info;
  count_iterations (glp_ios_get_prob (tree), &r->before);
  r->parm->cb_func (tree, r->parm->cb_info);
}

int
__wrap_glp_intopt (glp_prob *lp, const glp_iocp *parm)
{
  glp_iocp timeless = *parm;
  relay r = { .parm = parm, .before = glp_get_it_cnt (lp) };
  timeless.tm_lim = INT_MAX;
  timeless.cb_func = on_node;
  timeless.cb_info = &r;
  const int code = __real_glp_intopt (lp, &timeless);
  count_iterations (lp, &r.before);
  return code;
}
