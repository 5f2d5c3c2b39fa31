/* args.h - the words of a command line as options and operands
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_ARGS_H
#define SW_CLI_ARGS_H

#include "spanwright.h"

/* One option: --name, and -letter when there is one. */
typedef struct sw_cli_option
{
  const char *name;
  char letter;         /* 0: none */
  const char *value;   /* what it takes, for messages ("FILE"); NULL: nothing */
  int id;              /* the owner's */
  bool again;          /* may be given more than once */
  bool hidden;         /* never suggested */
} sw_cli_option;

#define SW_CLI_MAX_OPTIONS 64

typedef struct sw_cli_args
{
  const char *command;           /* for the hint to its --help */
  const sw_cli_option *options;
  size_t option_count;           /* up to SW_CLI_MAX_OPTIONS */
  int count;
  char **words;
  int next;
  bool operands_only;            /* after "--" */
  uint64_t seen;                 /* a bit an option */
} sw_cli_args;

typedef enum sw_cli_word
{
  SW_CLI_END,
  SW_CLI_OPTION,
  SW_CLI_OPERAND,
  SW_CLI_WRONG      /* said why already; the next word may be looked at all the same */
} sw_cli_word;

/* The next option (OPTION, and VALUE where it takes one) or operand (VALUE).
 * Options: --name VALUE, --name=VALUE, -l VALUE, -lVALUE, never abbreviated. */
sw_cli_word sw_cli_next (sw_cli_args *args, const sw_cli_option **option, const char **value);

#endif
