/* failing.c - an allocator that fails when it is told to
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "failing.h"

static bool on;
static bool once;
static bool failed;
static size_t left;

/* The linker gives these names: see --wrap in ld(1). */
void *__real_malloc (size_t size);
void *__real_calloc (size_t count, size_t size);
void *__real_realloc (void *block, size_t size);
void *__wrap_malloc (size_t size);
void *__wrap_calloc (size_t count, size_t size);
void *__wrap_realloc (void *block, size_t size);

static bool
may_pass (void)
{
  if (!on)
    return true;
  if (left == 0)
    {
      bool passes = once && failed;
      failed = true;
      return passes;
    }
  left--;
  return true;
}

void *
__wrap_malloc (size_t size)
{
  return may_pass () ? __real_malloc (size) : NULL;
}

void *
__wrap_calloc (size_t count, size_t size)
{
  return may_pass () ? __real_calloc (count, size) : NULL;
}

void *
__wrap_realloc (void *block, size_t size)
{
  return may_pass () ? __real_realloc (block, size) : NULL;
}

static void
start (size_t successes, bool only_one)
{
  left = successes;
  once = only_one;
  failed = false;
  on = true;
}

void
failing_start (size_t successes)
{
  start (successes, false);
}

void
failing_start_once (size_t successes)
{
  start (successes, true);
}

bool
failing_stop (void)
{
  on = false;
  return failed;
}
