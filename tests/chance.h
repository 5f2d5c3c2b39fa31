/* chance.h - pseudo-random numbers for tests, the same on every machine
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef CHANCE_H
#define CHANCE_H

#include <stdbool.h>
#include <stdint.h>

/* The next number of xorshift64 (Marsaglia 2003).  *STATE must not be 0. */
static inline uint64_t
chance_next (uint64_t *state)
{
  *state ^= *state << 13;
  *state ^= *state >> 7;
  *state ^= *state << 17;
  return *state;
}

static inline int64_t
chance (uint64_t *state, int64_t low, int64_t high)
{
  return low + (int64_t)(chance_next (state) % (uint64_t)(high - low + 1));
}

static inline bool
one_in (uint64_t *state, int64_t n)
{
  return chance (state, 1, n) == 1;
}

#endif
