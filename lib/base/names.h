/* names.h - from a name to a number
 *
 * A crit-bit tree: looking a name up costs its length, whatever names came
 * before, so that no input can make it slow.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_NAMES_H
#define SW_NAMES_H

#include "spanwright.h"

/* { 0 } is an empty one.  Names are compared byte for byte. */
typedef struct sw_names
{
  size_t count;
  size_t capacity;
  struct sw_names_leaf *leaves;
  size_t fork_count;
  size_t fork_capacity;
  struct sw_names_fork *forks;
  size_t root;
} sw_names;

/* Remember VALUE under NAME, which is borrowed and must outlive NAMES.  A
 * name that is there already keeps its older value. */
sw_status sw_names_add (sw_names *names, const char *name, size_t value);
/* VALUE may be NULL. */
bool sw_names_find (const sw_names *names, const char *name, size_t *value);
void sw_names_clear (sw_names *names);

/* NAME in small letters and without spaces, so that names that differ in
 * nothing else are the same; NULL when memory runs out. */
char *sw_names_fold (const char *name);

#endif
