/* signals.h - stops early with the best plan so far
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_SIGNALS_H
#define SW_CLI_SIGNALS_H

#include <stdbool.h>

/* From now on Ctrl-C and SIGTERM are only noted.  The second signal after this call ends the program. */
void sw_cli_catch_signals (void);
/* From now on these signals end the program again. */
void sw_cli_release_signals (void);
/* Has a signal been noted? */
bool sw_cli_signal_caught (void);
/* Has a signal been noted since the last call of sw_cli_catch_signals? */
bool sw_cli_signal_anew (void);
/* End by the signal that was noted, so that a calling shell sees what happened. */
void sw_cli_die_of_signal (void);

/* From now on a file that grows beyond the limit of its size does not end the program.  Writing
 * fails instead, which can be reported and cleaned up after. */
void sw_cli_survive_large_files (void);
/* Until sw_cli_let_pipe_signal, the program does not end when the reader of stdout has gone.  If
 * the reader has gone by then, that call ends the program. */
void sw_cli_hold_pipe_signal (void);
void sw_cli_let_pipe_signal (void);

#endif
