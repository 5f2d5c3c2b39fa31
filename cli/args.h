/* args.h - reads the words of a command line as options and operands
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_ARGS_H
#define SW_CLI_ARGS_H

#include "spanwright.h"

/* An option: --name, and -letter if it has a letter. */
typedef struct sw_cli_option
{
  const char *name;
  char letter;         /* 0: it has no letter */
  const char *value;   /* kind of its value, for messages ("a file"); NULL: it takes no value */
  int id;              /* chosen by the command */
  bool again;          /* it may be given more than once */
  bool hidden;         /* it is never suggested */
} sw_cli_option;

#define SW_CLI_MAX_OPTIONS 64

typedef struct sw_cli_args
{
  const char *command;           /* for messages that name its --help */
  const sw_cli_option *options;
  size_t option_count;           /* at most SW_CLI_MAX_OPTIONS */
  int count;
  char **words;
  int next;
  bool operands_only;            /* "--" has been read */
  uint64_t seen;                 /* a bit for each option that has been given */
} sw_cli_args;

typedef enum sw_cli_word
{
  SW_CLI_END,
  SW_CLI_OPTION,
  SW_CLI_OPERAND,
  SW_CLI_WRONG      /* the fault has been reported; the next word can be read */
} sw_cli_word;

/* Read the next option (OPTION, with VALUE if it takes one) or operand (VALUE).  Options are --name
 * VALUE, --name=VALUE, -l VALUE or -lVALUE; no name may be abbreviated. */
sw_cli_word sw_cli_next (sw_cli_args *args, const sw_cli_option **option, const char **value);

#endif
