/* progress.c - shows a person who waits how far the solver is
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "progress.h"

#include "message.h"
#include "signals.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define QUIET_SECONDS 1.0
#define SECONDS_BETWEEN 0.2

void
sw_cli_progress_begin (sw_cli_progress *progress)
{
  *progress = (sw_cli_progress){ .wanted = isatty (STDERR_FILENO) != 0 };
}

/* Room for any two costs of a plan as doubles. */
#define LINE_BYTES 1024

/* Say what is looked for, and how much can be gained at most if that is known. */
static int
describe_search (const sw_progress *now, char line[LINE_BYTES])
{
  static const char *const words[] = { [SW_SEEKING_JOINS] = "fewer joins",
                                       [SW_SEEKING_BOARDS] = "fewer boards",
                                       [SW_SEEKING_OFFCUTS] = "longer offcuts" };
  const double gap = now->cost - now->bound;
  if (!now->has_plan && now->bound <= 0)
    return snprintf (line, LINE_BYTES, "planning: looking for a first plan");
  if (!now->has_plan)
    return snprintf (line, LINE_BYTES, "planning: looking for a first plan (none is under %.2f)", now->bound);
  if (now->seeking != SW_SEEKING_COST)
    return snprintf (line, LINE_BYTES, "planning: looking for %s at %.2f", words[now->seeking], now->cost);
  if (gap <= 0)
    return snprintf (line, LINE_BYTES, "planning: looking for one under %.2f", now->cost);
  return snprintf (line, LINE_BYTES, "planning: looking for one under %.2f (by %.2f at most, %.2f %%)", now->cost, gap,
                   100 * gap / now->cost);
}

static void
describe (const sw_progress *now, char line[LINE_BYTES])
{
  int used = describe_search (now, line);
  if (used < 0 || used >= LINE_BYTES)
    return;
  if (now->seconds_left >= 0)
    snprintf (line + used, (size_t) (LINE_BYTES - used), ", %.0f s left", now->seconds_left);
  else
    snprintf (line + used, (size_t) (LINE_BYTES - used), ", %.0f s", now->seconds);
}

/* A line that wraps could not be wiped, so that the last column stays free.  Whole words and what
 * stands in brackets are left out, because half a figure is another figure. */
static void
shorten (char line[LINE_BYTES], size_t width)
{
  if (strlen (line) < width)
    return;
  size_t end = width - 1;
  while (end > 0 && line[end] != ' ')
    end--;
  line[end] = '\0';
  char *bracket = strchr (line, '(');
  if (bracket != NULL && bracket > line && strchr (bracket, ')') == NULL)
    bracket[-1] = '\0';
  end = strlen (line);
  if (end > 0 && line[end - 1] == ',')
    line[end - 1] = '\0';
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
      shorten (line, sw_cli_width (STDERR_FILENO));
      fprintf (stderr, "\r\033[K%s", line);
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
