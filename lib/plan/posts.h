/* posts.h - where the posts go: how stretches are divided, and what that saves
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_POSTS_H
#define SW_POSTS_H

#include "plan/choose.h"

/* What another number of posts would do for one stretch while all others stay as chosen. */
typedef struct sw_posts_other
{
  bool possible;   /* it is within the limits, and there is a plan */
  bool known;      /* it was worked out before the time was up */
  bool proved;     /* no plan with so many posts is cheaper */
  int64_t timber;  /* cost of timber and joins */
  int64_t aligned; /* aligned pairs */
} sw_posts_other;

struct sw_posts
{
  const sw_job *job;
  size_t count;
  sw_division *divisions;
  sw_chosen chosen;
  sw_divided habit; /* equal bays of at most max-bay, solved to the end; plan NULL: there is none, or it is the best */
  bool habit_is_best;
  sw_posts_other *fewer; /* for each division */
  sw_posts_other *more;
  double seconds;
};

/* The division into equal bays of at most max-bay, with its plan; plan NULL: there is none. */
const sw_divided *sw_posts_habit (const sw_posts *posts);

#endif
