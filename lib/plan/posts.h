/* posts.h - where the posts go: stretches divided, and what that saves
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_POSTS_H
#define SW_POSTS_H

#include "plan/choose.h"

/* What another number of posts would do for one stretch, all others staying as chosen. */
typedef struct sw_posts_other
{
  bool possible;   /* within the limits, and there is a plan */
  bool known;      /* it was looked at, in the time */
  bool proved;     /* nothing is cheaper with so many posts */
  int64_t timber;  /* cost of timber and joins */
  int64_t aligned; /* pairs of joins that line up */
} sw_posts_other;

struct sw_posts
{
  const sw_job *job;
  size_t count;
  sw_division *divisions;
  sw_chosen chosen;
  sw_divided habit; /* equal bays of at most max-bay, solved to the end; plan NULL: none, or it is the best */
  bool habit_is_best;
  sw_posts_other *fewer; /* a division each */
  sw_posts_other *more;
  double seconds;
};

/* Equal bays of at most max-bay, with their plan; plan NULL: there is none. */
const sw_divided *sw_posts_habit (const sw_posts *posts);

#endif
