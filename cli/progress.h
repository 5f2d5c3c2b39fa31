/* progress.h - shows a person who waits how far the solver is
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_PROGRESS_H
#define SW_CLI_PROGRESS_H

#include "spanwright.h"

typedef struct sw_cli_progress
{
  bool wanted;    /* stderr is a terminal */
  bool shown;     /* a line stands on the terminal */
  double last;    /* when the line was last written, in seconds of the solve */
} sw_cli_progress;

void sw_cli_progress_begin (sw_cli_progress *progress);
/* The library's callback.  DATA is a sw_cli_progress.  It says stop when a signal has been caught. */
bool sw_cli_progress_show (const sw_progress *now, void *data);
/* Wipe the line.  This must come before anything else is printed. */
void sw_cli_progress_end (sw_cli_progress *progress);

#endif
