/* table_file.c - a CSV file from the disk into memory
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/table_parts.h"

#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static sw_status
cannot_read (const char *file, const char *why, sw_report *report)
{
  sw_report_add (report, SW_FAULT, file, 0, NULL, "cannot be read: %s", why);
  return sw_report_broken (report) ? SW_NO_MEMORY : SW_IO;
}

/* Report the system's error, which errno holds. */
static sw_status
system_failed (const char *file, sw_report *report)
{
  char reason[SW_TEXT_ERROR];
  return cannot_read (file, sw_text_error (errno, reason), report);
}

/* Read up to SIZE bytes.  False: errno says why not. */
static bool
read_bytes (int descriptor, char *bytes, size_t size, size_t *count)
{
  *count = 0;
  while (*count < size)
    {
      ssize_t got = read (descriptor, bytes + *count, size - *count);
      if (got == 0)
        return true;
      if (got > 0)
        *count += (size_t)got;
      else if (errno != EINTR)
        return false;
    }
  return true;
}

static sw_status
load_open (char **out, size_t *count, int descriptor, const char *file, sw_report *report)
{
  struct stat status;
  if (fstat (descriptor, &status) != 0)
    return system_failed (file, report);
  if (S_ISDIR (status.st_mode))
    return cannot_read (file, "it is a directory; expected a CSV file", report);
  /* A pipe could block for ever or never end. */
  if (!S_ISREG (status.st_mode))
    return cannot_read (file, "it is not a regular file; expected a CSV file", report);
  /* One byte over the limit shows that the file is too large, even if it is still growing. */
  size_t size = SW_TABLE_MAX_BYTES + 1;
  if (status.st_size >= 0 && (uintmax_t)status.st_size < SW_TABLE_MAX_BYTES)
    size = (size_t)status.st_size + 1;
  else if (status.st_size > 0 && (uintmax_t)status.st_size > SW_TABLE_MAX_BYTES)
    return sw_table_refuse_size (file, report);
  char *bytes = malloc (size);
  if (bytes == NULL)
    return SW_NO_MEMORY;
  sw_status result = SW_OK;
  if (!read_bytes (descriptor, bytes, size, count))
    result = system_failed (file, report);
  else if (*count == size && size <= SW_TABLE_MAX_BYTES)
    result = cannot_read (file, "it grew while it was read", report);
  else if (*count > SW_TABLE_MAX_BYTES)
    result = sw_table_refuse_size (file, report);
  if (result == SW_OK)
    *out = bytes;
  else
    free (bytes);
  return result;
}

sw_status
sw_table_load (char **bytes, size_t *count, const char *file, sw_report *report)
{
  *bytes = NULL;
  *count = 0;
  /* With O_NONBLOCK, opening a pipe that nobody writes to does not wait. */
  int descriptor = open (file, O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);
  if (descriptor < 0)
    return system_failed (file, report);
  sw_status status = load_open (bytes, count, descriptor, file, report);
  close (descriptor);
  return status;
}

sw_status
sw_table_read (sw_table **out, const char *file, sw_report *report)
{
  char *bytes;
  size_t count;
  *out = NULL;
  sw_status status = sw_table_load (&bytes, &count, file, report);
  if (status == SW_OK)
    status = sw_table_read_bytes (out, bytes, count, file, report);
  free (bytes);
  return status;
}
