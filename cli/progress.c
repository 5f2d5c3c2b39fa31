/* progress.c - how far the solver is, for a person who waits
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "progress.h"

#include "message.h"
#include "signals.h"

#include <stdio.h>
#include <unistd.h>

#define QUIET_SECONDS 1.0
#define SECONDS_BETWEEN 0.2

void
sw_cli_progress_begin (sw_cli_progress *progress)
{
  *progress = (sw_cli_progress){ .wanted = isatty (STDERR_FILENO) != 0 };
}

/* Wide enough for any double that a plan can cost. */
#define LINE_BYTES 256

static void
describe (const sw_progress *now, char line[LINE_BYTES])
{
  int used = 0;
  if (!now->has_plan)
    used = snprintf (line, LINE_BYTES, "planning: bound %.2f, no plan yet", now->bound);
  else
    {
      double gap = now->cost > 0 && now->bound < now->cost ? 100 * (now->cost - now->bound) / now->cost : 0;
      used = snprintf (line, LINE_BYTES, "planning: bound %.2f, best %.2f, gap %.2f %%", now->bound, now->cost, gap);
    }
  if (used < 0 || used >= LINE_BYTES)
    return;
  if (now->seconds_left >= 0)
    snprintf (line + used, (size_t) (LINE_BYTES - used), ", %.0f s left", now->seconds_left);
  else
    snprintf (line + used, (size_t) (LINE_BYTES - used), ", %.0f s", now->seconds);
}

bool
sw_cli_progress_show (const sw_progress *now, void *data)
{
  sw_cli_progress *progress = data;
  bool due = now->seconds >= QUIET_SECONDS && (!progress->shown || now->seconds >= progress->last + SECONDS_BETWEEN);
  if (progress->wanted && due)
    {
      char line[LINE_BYTES] = "";
      describe (now, line);
      /* A line that wraps could not be wiped: keep off the last column. */
      fprintf (stderr, "\r\033[K%.*s", (int) sw_cli_width (STDERR_FILENO) - 1, line);
      fflush (stderr);
      progress->shown = true;
      progress->last = now->seconds;
    }
  return !sw_cli_signal_caught ();
}

void
sw_cli_progress_end (sw_cli_progress *progress)
{
  if (progress->shown)
    fputs ("\r\033[K", stderr);
  progress->shown = false;
}
