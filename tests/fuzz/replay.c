/* replay.c - runs a fuzz target over files where there is no libFuzzer
 *
 * Each argument is a file, or a folder of which all files are taken.  The
 * program prints how many files there were; none at all is a failure.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "fuzz.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static size_t
replay_file (const char *path)
{
  FILE *file = fopen (path, "rb");
  struct stat status;
  if (file == NULL || fstat (fileno (file), &status) != 0)
    {
      perror (path);
      exit (EXIT_FAILURE);
    }
  /* The block has the size of the input, so that a sanitizer sees a byte that is read beyond it. */
  size_t size = (size_t)status.st_size;
  uint8_t *data = malloc (size > 0 ? size : 1);
  if (data == NULL || fread (data, 1, size, file) != size)
    {
      perror (path);
      exit (EXIT_FAILURE);
    }
  fclose (file);
  fprintf (stderr, "%s\n", path);
  LLVMFuzzerTestOneInput (data, size);
  free (data);
  return 1;
}

static int
visible (const struct dirent *entry)
{
  return entry->d_name[0] != '.';
}

static size_t
replay (const char *path)
{
  struct dirent **entries = NULL;
  int count = scandir (path, &entries, visible, alphasort);
  if (count < 0)
    return replay_file (path);
  size_t done = 0;
  for (int i = 0; i < count; i++)
    {
      char inside[4096];
      if (snprintf (inside, sizeof inside, "%s/%s", path, entries[i]->d_name) < (int)sizeof inside)
        done += replay_file (inside);
      free (entries[i]);
    }
  free (entries);
  return done;
}

int
main (int count, char **words)
{
  size_t done = 0;
  for (int i = 1; i < count; i++)
    done += replay (words[i]);
  printf ("%zu inputs\n", done);
  return done > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
