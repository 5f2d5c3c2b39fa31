/* progress.h - how far the solver is, for a person who waits
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_PROGRESS_H
#define SW_CLI_PROGRESS_H

#include "spanwright.h"

typedef struct sw_cli_progress
{
  bool wanted;    /* stderr is a terminal */
  bool shown;     /* a line stands on it now */
  double last;    /* when it was last written, seconds */
} sw_cli_progress;

void sw_cli_progress_begin (sw_cli_progress *progress);
/* The library's callback; DATA is a sw_cli_progress.  Says stop when a signal was caught. */
bool sw_cli_progress_show (const sw_progress *now, void *data);
/* Wipe the line: before anything else is said. */
void sw_cli_progress_end (sw_cli_progress *progress);

#endif
