/* cmd_start.c - the command "spanwright start"
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "command.h"

#include "args.h"
#include "inputs.h"
#include "message.h"

#include <string.h>

static const sw_cli_option options[] = {
  { .name = "inches", .id = SW_CLI_SWITCH },
  { .name = "csv-style", .value = "comma or semicolon", .id = SW_CLI_SETTING },
  { .name = "help", .letter = 'h', .id = SW_CLI_HELP },
};

static const char help[] = "Usage: spanwright start FOLDER [OPTION]...\n"
                           "Writes a small job into FOLDER, which is made when it does not exist: spans.csv,\n"
                           "levels.csv, stock.csv, sections.csv and settings.csv, to be edited, and\n"
                           "README.txt, which explains every column. Never over a file that is there.\n"
                           "\n"
                           "           --inches  lengths in feet and inches; else in millimetres\n"
                           "           --csv-style comma|semicolon  semicolon: for a spreadsheet that writes\n"
                           "                     4852,5 and not 4852.5\n"
                           "           -h, --help  print this\n"
                           "\n"
                           "Then: spanwright plan FOLDER\n";

typedef struct request
{
  sw_settings *settings;
  sw_report *report;
  const char *folder;
  bool help;
} request;

static bool
take_operand (request *wanted, const char *value)
{
  if (wanted->folder != NULL)
    sw_cli_message (SW_FAULT, "one folder at a time: '%s' follows '%s'", value, wanted->folder);
  else if (value[0] == '\0')
    sw_cli_message (SW_FAULT, "the folder's name is empty");
  else
    {
      wanted->folder = value;
      return true;
    }
  return false;
}

static bool
take_option (request *wanted, const sw_cli_option *option, const char *value)
{
  if (option->id == SW_CLI_HELP)
    {
      wanted->help = true;
      return true;
    }
  sw_status status
      = sw_settings_set (wanted->settings, option->name, option->id == SW_CLI_SWITCH ? "yes" : value, wanted->report);
  sw_cli_print_option_report (wanted->report, option->name);
  if (status != SW_OK && sw_report_count_of (wanted->report, SW_FAULT) == 0)
    sw_cli_message (SW_FAULT, "--%s: %s", option->name, sw_status_text (status));
  sw_report_clear (wanted->report);
  return status == SW_OK;
}

static bool
read_words (request *wanted, int count, char **words)
{
  sw_cli_args args = { .command = "start",
                       .options = options,
                       .option_count = sizeof options / sizeof options[0],
                       .count = count,
                       .words = words };
  const sw_cli_option *option = NULL;
  const char *value = NULL;
  bool right = true;
  for (sw_cli_word word; (word = sw_cli_next (&args, &option, &value)) != SW_CLI_END;)
    if (word == SW_CLI_WRONG)
      right = false;
    else if (word == SW_CLI_OPERAND)
      right = take_operand (wanted, value) && right;
    else
      right = take_option (wanted, option, value) && right;
  if (right && !wanted->help && wanted->folder == NULL)
    {
      sw_cli_message (SW_FAULT, "no folder named; see 'spanwright start --help'");
      right = false;
    }
  return right;
}

/* Would a shell split NAME or change it, and would quotes help? */
static bool
needs_quotes (const char *name)
{
  return strchr (name, '\'') == NULL && strpbrk (name, " \t\"$&();<>|*?[]#~`!\\{}") != NULL;
}

static sw_cli_exit
start (const request *wanted)
{
  sw_status status = sw_start_write (wanted->folder, wanted->settings, wanted->report);
  sw_cli_say (wanted->report, status);
  if (status != SW_OK)
    return sw_cli_exit_of (status);
  sw_cli_print ("A small job to edit is in ");
  sw_cli_print_name (wanted->folder);
  sw_cli_print (": spans.csv, levels.csv, stock.csv, sections.csv,\n"
                "settings.csv; README.txt explains every column. Plan it:\n"
                "  spanwright plan ");
  const char *quote = needs_quotes (wanted->folder) ? "'" : "";
  sw_cli_print (quote);
  sw_cli_print_name (wanted->folder);
  sw_cli_print (quote);
  sw_cli_print ("\n");
  return SW_CLI_OK;
}

sw_cli_exit
sw_cli_start (int count, char **words)
{
  request wanted = { .settings = sw_settings_new (), .report = sw_report_new () };
  sw_cli_exit end = SW_CLI_FAILED;
  if (wanted.settings == NULL || wanted.report == NULL)
    sw_cli_message (SW_FAULT, "%s", sw_status_text (SW_NO_MEMORY));
  else if (!read_words (&wanted, count, words))
    end = SW_CLI_USAGE;
  else if (wanted.help)
    {
      sw_cli_print (help);
      end = SW_CLI_OK;
    }
  else
    end = start (&wanted);
  sw_settings_free (wanted.settings);
  sw_report_free (wanted.report);
  return end;
}
