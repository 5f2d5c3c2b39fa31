/* output.c - files that are written whole or not at all
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "csv/output.h"

#include "base/memory.h"
#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

/* A killed run leaves its temporary file behind, and a name may be taken: so many names are tried. */
#define TEMPORARY_TRIES 1000

typedef struct file
{
  char *name;
  char *temporary; /* NULL: the file has its name already */
  bool gone;       /* NAME is to be removed; there is nothing to rename */
  mode_t mode;     /* the mode that a removed file had; 0: none */
} file;

struct sw_output
{
  char *dir;
  int fd;
  bool made; /* DIR was made by this output */
  bool committed;
  bool only_new;
  const sw_output *before; /* an output of the same folder that was committed earlier; NULL: none */
  size_t count;
  size_t capacity;
  file *files;
};

static sw_status
complain (const sw_output *output, const char *name, int error, const char *what, sw_report *report)
{
  char *shown = name != NULL ? sw_text_path (output->dir, name) : sw_copy_text (output->dir);
  if (shown == NULL)
    return SW_NO_MEMORY;
  char reason[SW_TEXT_ERROR];
  sw_report_add (report, SW_FAULT, shown, 0, NULL, "%s: %s", what, sw_text_error (error, reason));
  free (shown);
  return SW_IO;
}

/* Open NAME, a path from the folder AT.  DIR is the whole path and belongs to the output from now
 * on, even on failure. */
static sw_status
open_at (sw_output **out, int at, const char *name, char *dir, int flags, sw_report *report)
{
  sw_output *output = dir != NULL ? sw_alloc (1, sizeof *output) : NULL;
  if (output == NULL)
    {
      free (dir);
      return SW_NO_MEMORY;
    }
  output->fd = -1;
  output->dir = dir;
  sw_status status = SW_OK;
  if (mkdirat (at, name, 0777) == 0)
    output->made = true;
  else if (errno != EEXIST)
    status = complain (output, NULL, errno, "the directory cannot be made", report);
  if (status == SW_OK)
    {
      output->fd = openat (at, name, O_RDONLY | O_DIRECTORY | O_CLOEXEC | flags);
      /* NAME is a file, so that the caller asked for the wrong thing. */
      if (output->fd < 0 && errno == ENOTDIR && flags == 0)
        {
          sw_report_add (report, SW_FAULT, dir, 0, NULL, "is a file, where a directory to write to was expected");
          status = SW_USAGE;
        }
      else if (output->fd < 0)
        status = complain (output, NULL, errno, "the directory cannot be opened", report);
    }
  if (status == SW_OK)
    *out = output;
  else
    sw_output_free (output);
  return status;
}

/* Keep other writers out of OUTPUT's folder until it is freed.  The kernel holds the lock, so that
 * a killed run leaves none behind. */
static sw_status
lock (sw_output *output, sw_report *report)
{
  /* Some file systems have no locks.  Two writers are not kept apart there. */
  if (flock (output->fd, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK)
    return SW_OK;
  /* The other writer uses the folder, so that it must not be removed, even if it was made here. */
  output->made = false;
  sw_report_add (report, SW_FAULT, output->dir, 0, NULL,
                 "another run is writing to this directory at the moment, so this one has written nothing: "
                 "try again when that one has ended, or write to another directory");
  return SW_IO;
}

sw_status
sw_output_open (sw_output **out, const char *dir, sw_report *report)
{
  *out = NULL;
  sw_status status = open_at (out, AT_FDCWD, dir, sw_copy_text (dir), 0, report);
  if (status == SW_OK)
    status = lock (*out, report);
  if (status != SW_OK)
    {
      sw_output_free (*out);
      *out = NULL;
    }
  return status;
}

sw_status
sw_output_open_again (sw_output **out, const sw_output *folder, const sw_output *before, sw_report *report)
{
  sw_status status = open_at (out, folder->fd, ".", sw_copy_text (folder->dir), 0, report);
  if (status == SW_OK)
    (*out)->before = before;
  return status;
}

sw_status
sw_output_open_in (sw_output **out, const sw_output *parent, const char *name, sw_report *report)
{
  return open_at (out, parent->fd, name, sw_text_path (parent->dir, name), O_NOFOLLOW, report);
}

const char *
sw_output_dir (const sw_output *output)
{
  return output->dir;
}

bool
sw_output_is (const sw_output *output, const char *name, const char *file)
{
  struct stat there;
  struct stat input;
  if (file == NULL || fstatat (output->fd, name, &there, AT_SYMLINK_NOFOLLOW) != 0 || stat (file, &input) != 0)
    return false;
  bool same = there.st_dev == input.st_dev && there.st_ino == input.st_ino;
  /* The input may be named by the very link that would be replaced. */
  if (!same && lstat (file, &input) == 0)
    same = there.st_dev == input.st_dev && there.st_ino == input.st_ino;
  return same;
}

sw_status
sw_output_guard (sw_output *output, const char *name, const char *file, sw_report *report)
{
  if (!sw_output_is (output, name, file))
    return SW_OK;
  sw_report_add (report, SW_FAULT, file, 0, NULL,
                 "is an input and would be overwritten by the plan's %s: write to another directory", name);
  return SW_USAGE;
}

bool
sw_output_has (const sw_output *output, const char *name)
{
  struct stat there;
  return fstatat (output->fd, name, &there, AT_SYMLINK_NOFOLLOW) == 0 && !S_ISDIR (there.st_mode);
}

/* The mode of the regular file NAME.  0: there is none. */
static mode_t
mode_there (const sw_output *output, const char *name)
{
  struct stat there;
  if (fstatat (output->fd, name, &there, AT_SYMLINK_NOFOLLOW) != 0 || !S_ISREG (there.st_mode))
    return 0;
  return there.st_mode & (S_IRWXU | S_IRWXG | S_IRWXO);
}

/* The mode of the file that a new file called NAME replaces.  0: it replaces none. */
static mode_t
mode_before (const sw_output *output, const char *name)
{
  mode_t mode = mode_there (output, name);
  const sw_output *before = output->before;
  for (size_t f = 0; mode == 0 && before != NULL && f < before->count; f++)
    if (before->files[f].gone && strcmp (before->files[f].name, name) == 0)
      mode = before->files[f].mode;
  return mode;
}

static bool
write_all (int fd, const char *bytes, size_t count)
{
  while (count > 0)
    {
      ssize_t written = write (fd, bytes, count);
      if (written < 0 && errno == EINTR)
        continue;
      if (written < 0)
        return false;
      bytes += written;
      count -= (size_t)written;
    }
  return true;
}

/* Open a new file under an unused name.  -1: errno says why not. */
static int
open_temporary (const sw_output *output, const char *name, char **temporary)
{
  for (unsigned i = 0; i < TEMPORARY_TRIES; i++)
    {
      sw_text text = { 0 };
      sw_text_printf (&text, ".%s.%ld-%u.tmp", name, (long)getpid (), i);
      *temporary = sw_text_take (&text);
      if (*temporary == NULL)
        {
          errno = ENOMEM;
          return -1;
        }
      int fd = openat (output->fd, *temporary, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
      if (fd >= 0)
        return fd;
      int error = errno;
      free (*temporary);
      *temporary = NULL;
      errno = error;
      if (error != EEXIST)
        return -1;
    }
  errno = EEXIST;
  return -1;
}

/* Add one file to the output.  NULL when memory runs out. */
static file *
add_file (sw_output *output, const char *name)
{
  void *files = output->files;
  sw_status status = sw_grow (&files, &output->capacity, output->count + 1, sizeof (file));
  output->files = files;
  if (status != SW_OK)
    return NULL;
  file *added = &output->files[output->count];
  *added = (file){ .name = sw_copy_text (name) };
  if (added->name == NULL)
    return NULL;
  output->count++;
  return added;
}

sw_status
sw_output_add (sw_output *output, const char *name, const void *bytes, size_t count, sw_report *report)
{
  file *added = add_file (output, name);
  if (added == NULL)
    return SW_NO_MEMORY;
  int fd = open_temporary (output, name, &added->temporary);
  if (fd < 0)
    return errno == ENOMEM ? SW_NO_MEMORY : complain (output, name, errno, "cannot be written", report);
  const mode_t mode = mode_before (output, name);
  /* The file is still empty: whoever may not read the old file must not read the new one.  A file
   * system without modes refuses. */
  if (mode != 0 && fchmod (fd, mode) != 0)
    errno = 0;
  int error = write_all (fd, bytes, count) && fsync (fd) == 0 ? 0 : errno;
  if (close (fd) != 0 && error == 0)
    error = errno;
  return error == 0 ? SW_OK : complain (output, name, error, "cannot be written", report);
}

sw_status
sw_output_remove (sw_output *output, const char *name)
{
  file *added = add_file (output, name);
  if (added == NULL)
    return SW_NO_MEMORY;
  added->gone = true;
  added->mode = mode_there (output, name);
  return SW_OK;
}

void
sw_output_only_new (sw_output *output)
{
  output->only_new = true;
}

static sw_status
refuse_to_replace (const sw_output *output, const char *name, sw_report *report)
{
  char *shown = sw_text_path (output->dir, name);
  if (shown == NULL)
    return SW_NO_MEMORY;
  sw_report_add (report, SW_FAULT, shown, 0, NULL, "is there already: nothing was written");
  free (shown);
  return SW_REJECTED;
}

sw_status
sw_output_ready (const sw_output *output, sw_report *report)
{
  for (size_t f = 0; f < output->count; f++)
    {
      const char *name = output->files[f].name;
      struct stat there;
      if (fstatat (output->fd, name, &there, AT_SYMLINK_NOFOLLOW) != 0)
        continue;
      if (output->only_new)
        return refuse_to_replace (output, name, report);
      if (S_ISDIR (there.st_mode))
        return complain (output, name, EISDIR, "cannot be replaced", report);
    }
  return SW_OK;
}

/* Give FILE its name, and refuse to replace a file of that name. */
static sw_status
link_new (const sw_output *output, const file *file, sw_report *report)
{
  if (linkat (output->fd, file->temporary, output->fd, file->name, 0) == 0)
    {
      unlinkat (output->fd, file->temporary, 0);
      return SW_OK;
    }
  if (errno == EEXIST)
    return refuse_to_replace (output, file->name, report);
  /* Some file systems have no links.  A rename would replace a file, but sw_output_ready has just
   * seen that there is none. */
  if (renameat (output->fd, file->temporary, output->fd, file->name) == 0)
    return SW_OK;
  return complain (output, file->name, errno, "cannot be written", report);
}

static sw_status
settle (const sw_output *output, const file *file, sw_report *report)
{
  if (file->gone)
    return unlinkat (output->fd, file->name, 0) == 0 || errno == ENOENT
               ? SW_OK
               : complain (output, file->name, errno, "cannot be removed", report);
  if (output->only_new)
    return link_new (output, file, report);
  if (renameat (output->fd, file->temporary, output->fd, file->name) != 0)
    return complain (output, file->name, errno, "cannot be replaced", report);
  return SW_OK;
}

sw_status
sw_output_commit (sw_output *output, sw_report *report)
{
  /* A rename cannot be undone, so look for obstacles before the first one. */
  sw_status status = sw_output_ready (output, report);
  size_t done = 0;
  while (status == SW_OK && done < output->count)
    {
      file *file = &output->files[done];
      status = settle (output, file, report);
      if (status != SW_OK)
        break;
      free (file->temporary);
      file->temporary = NULL;
      done++;
      output->committed = true;
    }
  if (status != SW_OK && output->only_new)
    {
      /* New files replaced nothing, so that they can be taken back. */
      for (size_t f = 0; f < done; f++)
        unlinkat (output->fd, output->files[f].name, 0);
      output->committed = false;
    }
  if (status != SW_OK)
    return status;
  output->committed = true;
  /* The new names shall survive a power cut.  Not every file system can promise it. */
  if (fsync (output->fd) != 0 && errno != EINVAL && errno != ENOTSUP && errno != EROFS)
    return complain (output, NULL, errno, "cannot be brought to the disk", report);
  return SW_OK;
}

void
sw_output_date_like (const sw_output *output, const char *name, const char *like)
{
  struct stat there;
  if (fstatat (output->fd, like, &there, 0) != 0)
    return;
  const struct timespec times[2] = { { .tv_nsec = UTIME_OMIT }, there.st_mtim };
  utimensat (output->fd, name, times, AT_SYMLINK_NOFOLLOW);
}

void
sw_output_free (sw_output *output)
{
  if (output == NULL)
    return;
  for (size_t f = 0; f < output->count; f++)
    {
      if (output->files[f].temporary != NULL)
        unlinkat (output->fd, output->files[f].temporary, 0);
      free (output->files[f].temporary);
      free (output->files[f].name);
    }
  free (output->files);
  if (output->fd >= 0)
    close (output->fd);
  if (output->dir != NULL && output->made && !output->committed)
    rmdir (output->dir);
  free (output->dir);
  free (output);
}
