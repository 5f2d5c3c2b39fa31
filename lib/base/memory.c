/* memory.c - checked allocation
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "base/memory.h"

#include <stdlib.h>
#include <string.h>

void *
sw_alloc (size_t count, size_t size)
{
  /* calloc makes this check, too, but under a sanitizer it ends the program. */
  if (size > 0 && count > SIZE_MAX / size)
    return NULL;
  return calloc (count > 0 ? count : 1, size > 0 ? size : 1);
}

sw_status
sw_grow (void **array, size_t *capacity, size_t need, size_t size)
{
  if (need <= *capacity)
    return SW_OK;
  size_t wanted = *capacity < 8 ? 8 : *capacity;
  while (wanted < need)
    {
      if (wanted > SIZE_MAX / 2)
        return SW_NO_MEMORY;
      wanted *= 2;
    }
  if (wanted > SIZE_MAX / size)
    return SW_NO_MEMORY;
  void *larger = realloc (*array, wanted * size);
  if (larger == NULL)
    return SW_NO_MEMORY;
  *array = larger;
  *capacity = wanted;
  return SW_OK;
}

char *
sw_copy_text (const char *text)
{
  size_t bytes = strlen (text) + 1;
  char *copy = malloc (bytes);
  if (copy != NULL)
    memcpy (copy, text, bytes);
  return copy;
}
