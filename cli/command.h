/* command.h - the program's commands and exit statuses
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_COMMAND_H
#define SW_CLI_COMMAND_H

#include "spanwright.h"

/* The exit statuses of spanwright(1). */
typedef enum sw_cli_exit
{
  SW_CLI_OK = 0,
  SW_CLI_REJECTED = 1,
  SW_CLI_USAGE = 2,
  SW_CLI_NO_PLAN = 3,
  SW_CLI_STOPPED = 4,
  SW_CLI_FAILED = 5,
  SW_CLI_SIGNAL = 128   /* not a status: end by the signal that was caught */
} sw_cli_exit;

sw_cli_exit sw_cli_exit_of (sw_status status);

/* A command.  RUN gets the words after the command's name. */
typedef struct sw_cli_command
{
  const char *name;
  const char *summary;   /* its line in spanwright --help */
  sw_cli_exit (*run) (int count, char **words);
} sw_cli_command;

sw_cli_exit sw_cli_compare (int count, char **words);
sw_cli_exit sw_cli_plan (int count, char **words);
sw_cli_exit sw_cli_posts (int count, char **words);
sw_cli_exit sw_cli_start (int count, char **words);
sw_cli_exit sw_cli_replan (int count, char **words);
sw_cli_exit sw_cli_verify (int count, char **words);

#endif
