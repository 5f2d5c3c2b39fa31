/* signals.h - stopping early with the best plan so far
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_SIGNALS_H
#define SW_CLI_SIGNALS_H

#include <stdbool.h>

/* From now on Ctrl-C and SIGTERM are only noted; the second one after this call ends the program. */
void sw_cli_catch_signals (void);
/* From now on they end the program again. */
void sw_cli_release_signals (void);
/* Has one been noted? */
bool sw_cli_signal_caught (void);
/* And since sw_cli_catch_signals was last called? */
bool sw_cli_signal_anew (void);
/* Die of the one that was noted, so that a calling shell sees what happened. */
void sw_cli_die_of_signal (void);

/* From now on a file that grows over the limit of its size is a failure to
 * write, which can be told and cleaned up after, and no death. */
void sw_cli_survive_large_files (void);
/* Until sw_cli_let_pipe_signal the end of whoever reads stdout is no death
 * either; with that call it is, where it would have been. */
void sw_cli_hold_pipe_signal (void);
void sw_cli_let_pipe_signal (void);

#endif
