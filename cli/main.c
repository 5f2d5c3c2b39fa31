/* main.c - chooses the command and ends the program
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "command.h"

#include "args.h"
#include "message.h"
#include "signals.h"

#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static const sw_cli_command commands[] = {
  { "start", "a folder with a small job to edit, and every column explained", sw_cli_start },
  { "posts", "before the posts go in: bays chosen together with the timber", sw_cli_posts },
  { "plan", "what to order, what to cut, where each piece goes", sw_cli_plan },
  { "compare", "stock lengths side by side, and the price at which the choice tips", sw_cli_compare },
  { "replan", "on site: plan on from what is fixed, cut and left", sw_cli_replan },
  { "verify", "whether a plan, edited or not, keeps every rule", sw_cli_verify },
};
#define COMMAND_COUNT (sizeof commands / sizeof commands[0])

sw_cli_exit
sw_cli_exit_of (sw_status status)
{
  switch (status)
    {
    case SW_OK:
      return SW_CLI_OK;
    case SW_REJECTED:
      return SW_CLI_REJECTED;
    case SW_USAGE:
    case SW_ABSENT:
      return SW_CLI_USAGE;
    case SW_NO_PLAN:
      return SW_CLI_NO_PLAN;
    case SW_STOPPED:
      return SW_CLI_STOPPED;
    case SW_NO_MEMORY:
    case SW_IO:
    case SW_FAILED:
      break;
    }
  return SW_CLI_FAILED;
}

/* Open the standard descriptors that the caller has closed.  Otherwise the next file to be opened
 * would take their numbers, and messages would land in that file. */
static bool
fill_standard_descriptors (void)
{
  for (int descriptor = STDIN_FILENO; descriptor <= STDERR_FILENO; descriptor++)
    if (fcntl (descriptor, F_GETFD) < 0)
      {
        /* The lowest free number is DESCRIPTOR itself.  It is opened in the wrong direction, so
         * that its use still fails. */
        int got = open ("/dev/null", descriptor == STDIN_FILENO ? O_WRONLY : O_RDONLY);
        if (got != descriptor)
          return false;
      }
  return true;
}

static sw_cli_exit
print_help (void)
{
  sw_cli_print ("Usage: spanwright COMMAND [OPTION]...\n"
                "Plans the timber of a post-and-rail fence out of a CSV of spans.\n"
                "\n"
                "Commands:\n");
  for (size_t i = 0; i < COMMAND_COUNT; i++)
    {
      char line[100];
      snprintf (line, sizeof line, "  %-8s  %s\n", commands[i].name, commands[i].summary);
      sw_cli_print (line);
    }
  sw_cli_print ("\n"
                "  spanwright COMMAND --help   the command's options\n"
                "  spanwright --version        version and licence\n"
                "\n"
                "Exit status: 0 done; 1 input rejected; 2 wrong usage; 3 no plan exists;\n"
                "4 stopped with nothing usable; 5 the program's own failure.\n"
                "Manual: man spanwright, man spanwright-csv.\n");
  return SW_CLI_OK;
}

static sw_cli_exit
print_version (void)
{
  sw_cli_print ("spanwright ");
  sw_cli_print (sw_version ());
  sw_cli_print ("\n"
                "Licence GPL-3.0-or-later. There is no warranty, to the extent permitted by law.\n");
  return SW_CLI_OK;
}

static sw_cli_exit
run (int count, char **words)
{
  if (count < 1)
    {
      sw_cli_message (SW_FAULT, "no command given; see 'spanwright --help'");
      return SW_CLI_USAGE;
    }
  for (size_t i = 0; i < COMMAND_COUNT; i++)
    if (strcmp (words[0], commands[i].name) == 0)
      return commands[i].run (count - 1, words + 1);
  bool help = strcmp (words[0], "--help") == 0 || strcmp (words[0], "-h") == 0;
  if (help || strcmp (words[0], "--version") == 0)
    {
      if (count > 1)
        {
          sw_cli_message (SW_FAULT, "%s stands alone, but '%s' follows it", words[0], words[1]);
          return SW_CLI_USAGE;
        }
      return help ? print_help () : print_version ();
    }
  if (words[0][0] == '-')
    sw_cli_message (SW_FAULT, "unknown option '%s': options stand after a command; see 'spanwright --help'", words[0]);
  else
    sw_cli_message (SW_FAULT, "unknown command '%s'; see 'spanwright --help'", words[0]);
  return SW_CLI_USAGE;
}

int
main (int argc, char **argv)
{
  if (!fill_standard_descriptors ())
    return SW_CLI_FAILED;
  sw_cli_survive_large_files ();
  sw_cli_exit end = run (argc > 0 ? argc - 1 : 0, argv + 1);
  if (!sw_cli_finish_printing ())
    end = SW_CLI_FAILED;
  if (end == SW_CLI_SIGNAL)
    sw_cli_die_of_signal ();
  return (int) end;
}
