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
  int64_t cost; /* in granules, with the joins */
  int64_t joins;
  int64_t boards;
} brute;

/* Find the best solution of MODEL in the order of aligned pairs, cost, joins and boards.  If
 * MOST_ALIGNED is not negative, the number of aligned pairs may be anything up to it and does not
 * come first.  False: the model is too large to try. */
bool brute_solve (const sw_model *model, int64_t most_aligned, brute *out);

#endif
