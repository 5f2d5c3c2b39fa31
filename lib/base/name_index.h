/* name_index.h - from a name to a number
 *
 * A crit-bit tree: looking a name up takes as long as the name, whatever other
 * names there are, so that no input can make it slow.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_NAME_INDEX_H
#define SW_NAME_INDEX_H

#include "spanwright.h"

/* { 0 } is an empty index.  Names are compared byte for byte. */
typedef struct sw_name_index
{
  size_t count;
  size_t capacity;
  struct sw_name_index_leaf *leaves;
  size_t fork_count;
  size_t fork_capacity;
  struct sw_name_index_fork *forks;
  size_t root;
} sw_name_index;

/* Remember VALUE under NAME, which is borrowed and must outlive NAMES.  A name that is known keeps its first value. */
sw_status sw_name_index_add (sw_name_index *names, const char *name, size_t value);
/* VALUE may be NULL. */
bool sw_name_index_find (const sw_name_index *names, const char *name, size_t *value);
void sw_name_index_clear (sw_name_index *names);

/* NAME in small letters and without spaces, so that names that differ in nothing else become the
 * same.  NULL when memory runs out. */
char *sw_name_fold (const char *name);

#endif
