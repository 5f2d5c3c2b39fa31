/* book_scratch.c - a file that is gone when it is closed
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "book/book.h"

#include "base/memory.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

/* Open a file in memory, where the system lets a file without a name be opened by one. */
static bool
open_in_memory (sw_scratch *scratch)
{
#ifdef HAVE_MEMFD_CREATE
  scratch->fd = memfd_create (SW_PAPERS_BOOK, MFD_CLOEXEC);
  if (scratch->fd < 0)
    return false;
  snprintf (scratch->path, sizeof scratch->path, "/proc/self/fd/%d", scratch->fd);
  if (access (scratch->path, R_OK | W_OK) == 0)
    return true;
  close (scratch->fd);
  scratch->fd = -1;
#else
  (void)scratch;
#endif
  return false;
}

sw_status
sw_scratch_open (sw_scratch *scratch)
{
  *scratch = (sw_scratch){ .fd = -1 };
  if (open_in_memory (scratch))
    return SW_OK;
  snprintf (scratch->path, sizeof scratch->path, "/tmp/spanwright-XXXXXX");
  scratch->fd = mkstemp (scratch->path);
  scratch->named = scratch->fd >= 0;
  return scratch->named ? SW_OK : SW_IO;
}

sw_status
sw_scratch_read (const sw_scratch *scratch, char **bytes, size_t *count)
{
  struct stat there;
  *bytes = NULL;
  *count = 0;
  if (fstat (scratch->fd, &there) != 0 || lseek (scratch->fd, 0, SEEK_SET) != 0)
    return SW_IO;
  const size_t size = (size_t)there.st_size;
  *bytes = sw_alloc (size + 1, 1);
  if (*bytes == NULL)
    return SW_NO_MEMORY;
  while (*count < size)
    {
      ssize_t some = read (scratch->fd, *bytes + *count, size - *count);
      if (some < 0 && errno == EINTR)
        continue;
      if (some <= 0)
        break;
      *count += (size_t)some;
    }
  if (*count == size)
    return SW_OK;
  free (*bytes);
  *bytes = NULL;
  return SW_IO;
}

void
sw_scratch_close (sw_scratch *scratch)
{
  if (scratch->fd >= 0)
    close (scratch->fd);
  if (scratch->named)
    unlink (scratch->path);
  *scratch = (sw_scratch){ .fd = -1 };
}
