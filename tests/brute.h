/* brute.h - the best solution of a small model, by trying all of them
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BRUTE_H
#define BRUTE_H

#include "model/model.h"

enum
{
  BRUTE_NEEDS = 24,
  BRUTE_SUPPLIES = 12,
  BRUTE_ROWS = 8
};

typedef struct brute
{
  bool possible;
  int64_t aligned;
  int64_t cost; /* granules, joins included */
  int64_t joins;
  int64_t boards;
} brute;

/* The best of MODEL in the order aligned pairs, cost, joins, boards; only
 * layouts with at most MOST_ALIGNED pairs (negative: any number), whose
 * number does not come first then.  False: too large to try. */
bool brute_solve (const sw_model *model, int64_t most_aligned, brute *out);

#endif
