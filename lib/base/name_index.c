/* name_index.c - from a name to a number
 *
 * Crit-bit trees: D. R. Morrison, "PATRICIA - Practical Algorithm To Retrieve
 * Information Coded in Alphanumeric", Journal of the ACM 15 (1968), without its
 * back links.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/name_index.h"
#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

typedef struct sw_name_index_leaf
{
  const char *name;
  size_t value;
} leaf;

/* A fork of the tree.  All names below it agree in the bytes before BYTE, and in the bits of BYTE
 * above MASK.  The bit MASK tells the fork's two sides apart. */
typedef struct sw_name_index_fork
{
  size_t byte;
  unsigned mask;
  size_t side[2];
} fork;

/* A place in the tree is a number: 2i + 1 is leaf i, 2i is fork i. */
static bool
is_leaf (size_t place)
{
  return (place & 1) != 0;
}

static unsigned
byte_at (const char *name, size_t length, size_t index)
{
  return index < length ? (unsigned char)name[index] : 0;
}

static size_t
side_of (const fork *at, const char *name, size_t length)
{
  return (byte_at (name, length, at->byte) & at->mask) != 0 ? 1 : 0;
}

/* The leaf that NAME must be, if it is in the tree, which is not empty. */
static size_t
nearest_leaf (const sw_name_index *names, const char *name, size_t length)
{
  size_t place = names->root;
  while (!is_leaf (place))
    {
      const fork *at = &names->forks[place / 2];
      place = at->side[side_of (at, name, length)];
    }
  return place / 2;
}

bool
sw_name_index_find (const sw_name_index *names, const char *name, size_t *value)
{
  if (names->count == 0)
    return false;
  const leaf *found = &names->leaves[nearest_leaf (names, name, strlen (name))];
  if (strcmp (found->name, name) != 0)
    return false;
  if (value != NULL)
    *value = found->value;
  return true;
}

/* The highest bit in which A and B differ, where A != B. */
static unsigned
highest_difference (unsigned a, unsigned b)
{
  unsigned mask = 0x80;
  while (((a ^ b) & mask) == 0)
    mask >>= 1;
  return mask;
}

/* Hang in the new leaf, which differs from the nearest name first in BYTE at MASK. */
static void
insert_fork (sw_name_index *names, size_t byte, unsigned mask, const char *name, size_t length)
{
  size_t *link = &names->root;
  while (!is_leaf (*link))
    {
      fork *at = &names->forks[*link / 2];
      if (at->byte > byte || (at->byte == byte && at->mask < mask))
        break;
      link = &at->side[side_of (at, name, length)];
    }
  fork *added = &names->forks[names->fork_count];
  added->byte = byte;
  added->mask = mask;
  size_t side = side_of (added, name, length);
  added->side[side] = 2 * names->count + 1;
  added->side[1 - side] = *link;
  *link = 2 * names->fork_count;
  names->fork_count++;
}

sw_status
sw_name_index_add (sw_name_index *names, const char *name, size_t value)
{
  void *leaves = names->leaves;
  sw_status status = sw_grow (&leaves, &names->capacity, names->count + 1, sizeof (leaf));
  names->leaves = leaves;
  if (status != SW_OK)
    return status;
  void *forks = names->forks;
  status = sw_grow (&forks, &names->fork_capacity, names->fork_count + 1, sizeof (fork));
  names->forks = forks;
  if (status != SW_OK)
    return status;

  if (names->count == 0)
    names->root = 1;
  else
    {
      size_t length = strlen (name);
      const char *other = names->leaves[nearest_leaf (names, name, length)].name;
      size_t byte = 0;
      while (name[byte] == other[byte])
        {
          if (name[byte] == '\0')
            return SW_OK;
          byte++;
        }
      unsigned mask = highest_difference ((unsigned char)name[byte], (unsigned char)other[byte]);
      insert_fork (names, byte, mask, name, length);
    }
  names->leaves[names->count].name = name;
  names->leaves[names->count].value = value;
  names->count++;
  return SW_OK;
}

void
sw_name_index_clear (sw_name_index *names)
{
  free (names->leaves);
  free (names->forks);
  memset (names, 0, sizeof *names);
}
