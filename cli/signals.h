/* signals.h - stopping early with the best plan so far
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_SIGNALS_H
#define SW_CLI_SIGNALS_H

#include <stdbool.h>

/* From now on Ctrl-C and SIGTERM are only noted; a second one ends the program. */
void sw_cli_catch_signals (void);
/* From now on they end the program again. */
void sw_cli_release_signals (void);
/* Has one been noted? */
bool sw_cli_signal_caught (void);
/* Die of the one that was noted, so that a calling shell sees what happened. */
void sw_cli_die_of_signal (void);

#endif
