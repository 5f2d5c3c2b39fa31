/* cmd_compare.c - the command "spanwright compare"
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "command.h"

#include "args.h"
#include "inputs.h"
#include "message.h"
#include "progress.h"
#include "signals.h"

#include <unistd.h>

#define MOST_CHOICES 100

enum
{
  OPTION_WITH = SW_CLI_OWN,
  OPTION_FROM,
  OPTION_VARY,
  OPTION_CSV,
  OPTION_HARD_WAY
};

static const sw_cli_option options[] = {
  SW_CLI_INPUT_OPTIONS,
  { .name = "with", .value = "stock lengths, such as 4.8,5.4", .id = OPTION_WITH, .again = true },
  { .name = "from", .value = "yards, such as north or north,south", .id = OPTION_FROM, .again = true },
  { .name = "vary", .value = "a setting and its values, such as kerf=2,3", .id = OPTION_VARY },
  { .name = "csv", .id = OPTION_CSV },
  { .name = "hard-way", .id = OPTION_HARD_WAY, .hidden = true },
};

static const char help[]
    = "Usage: spanwright compare [SPANS.csv|FOLDER] [--with CHOICE]... [OPTION]...\n"
      "Plans once for each choice of stock lengths, of yards, or of what a setting is\n"
      "set to, side by side; with the price of a length at which the choice tips.\n"
      "\n" SW_CLI_INPUT_HELP "Compare    --with 4.8 --with 4.8,5.4   choices, for sections of through levels\n"
      "           --with '4.8;100x25=5.4'     the same, but for one section\n"
      "           --from YARD --from YARD,YARD   choices of yards, as whole orders\n"
      "           --vary KEY=VALUE,VALUE   what a setting costs: stagger=prefer,off\n"
      "           --csv  print the table as CSV and nothing else\n"
      "           -h, --help  print this\n"
      "\n"
      "In brackets: the default. --time-limit is for all plans together.\n";

typedef struct request
{
  sw_cli_inputs inputs;
  const char *choices[MOST_CHOICES];
  size_t choice_count;
  int option;          /* that gave the choices; 0: none has */
  bool mixed;          /* there were several such options */
  bool csv;
  bool hard_way;
} request;

static bool
take_option (const sw_cli_option *option, const char *value, void *data)
{
  request *wanted = data;
  switch (option->id)
    {
    case OPTION_WITH:
    case OPTION_FROM:
    case OPTION_VARY:
      wanted->mixed = wanted->mixed || (wanted->option != 0 && wanted->option != option->id);
      wanted->option = option->id;
      if (wanted->choice_count == MOST_CHOICES)
        {
          sw_cli_message (SW_FAULT, "--%s: more than %d choices: '%s'", option->name, MOST_CHOICES, value);
          return false;
        }
      wanted->choices[wanted->choice_count++] = value;
      return true;
    case OPTION_CSV:
      wanted->csv = true;
      return true;
    case OPTION_HARD_WAY:
      wanted->hard_way = true;
      return true;
    default:
      return sw_cli_inputs_take (&wanted->inputs, option, value);
    }
}

/* Choices of one kind only can be put side by side. */
static bool
check_words (void *data)
{
  const request *wanted = data;
  if (wanted->mixed)
    sw_cli_message (SW_FAULT, "only one of --with, --from and --vary at a time");
  return !wanted->mixed;
}

static sw_cli_exit
print_comparison (const request *wanted, const sw_comparison *comparison)
{
  sw_table *table = NULL;
  char *text = NULL;
  sw_status status = wanted->csv ? sw_comparison_table (comparison, &table)
                                 : sw_comparison_text (comparison, sw_cli_width (STDOUT_FILENO), &text);
  if (status == SW_OK && wanted->csv)
    status = sw_cli_print_table (table);
  else if (status == SW_OK)
    sw_cli_print (text);
  if (status != SW_OK)
    sw_cli_message (SW_FAULT, "%s", sw_status_text (status));
  sw_text_free (text);
  sw_table_free (table);
  return sw_cli_exit_of (status);
}

static sw_cli_exit
compare (void *data)
{
  request *wanted = data;
  sw_cli_progress progress;
  sw_cli_progress_begin (&progress);
  sw_limits limits = { .progress = sw_cli_progress_show, .data = &progress, .hard_way = wanted->hard_way };
  sw_comparison *comparison = NULL;
  sw_report *report = wanted->inputs.report;
  sw_cli_catch_signals ();
  const sw_job *job = wanted->inputs.job;
  sw_status status
      = wanted->option == OPTION_VARY ? sw_compare_setting (&comparison, job, wanted->choices[0], &limits, report)
        : wanted->option == OPTION_FROM
            ? sw_compare_yards (&comparison, job, wanted->choices, wanted->choice_count, &limits, report)
            : sw_compare (&comparison, job, wanted->choices, wanted->choice_count, &limits, report);
  sw_cli_progress_end (&progress);
  sw_cli_exit end = sw_cli_exit_of (status);
  /* If no choice can be built, the table still gives the reason for each. */
  sw_cli_exit printed = comparison != NULL ? print_comparison (wanted, comparison) : SW_CLI_OK;
  if (status == SW_USAGE)
    {
      sw_cli_print_option_report (report, wanted->option == OPTION_VARY   ? "vary"
                                          : wanted->option == OPTION_FROM ? "from"
                                                                          : "with");
      sw_report_clear (report);
    }
  else
    sw_cli_say (report, status);
  sw_cli_release_signals ();
  sw_comparison_free (comparison);
  if (end == SW_CLI_OK)
    end = printed;
  if (end == SW_CLI_OK)
    sw_cli_repeat_warnings ();
  /* Without a usable result the status says more than the signal. */
  return end == SW_CLI_OK && sw_cli_signal_caught () ? SW_CLI_SIGNAL : end;
}

sw_cli_exit
sw_cli_compare (int count, char **words)
{
  static const sw_cli_job_command command = { .name = "compare",
                                              .help = help,
                                              .options = options,
                                              .option_count = sizeof options / sizeof options[0],
                                              .take = take_option,
                                              .check = check_words,
                                              .work = compare };
  request wanted = { .csv = false };
  return sw_cli_run_on_job (&command, &wanted.inputs, &wanted, count, words);
}
