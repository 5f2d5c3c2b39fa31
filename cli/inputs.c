/* inputs.c - reads the part of a command line that names the job: files and settings
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "inputs.h"

#include "message.h"

#include <sys/stat.h>

void
sw_cli_say (sw_report *report, sw_status status)
{
  sw_cli_print_report (report);
  if (status != SW_OK && sw_report_count_of (report, SW_FAULT) == 0)
    sw_cli_message (SW_FAULT, "%s", sw_status_text (status));
  sw_report_clear (report);
}

/* False: memory ran out, and a message says so. */
static bool
begin (sw_cli_inputs *inputs)
{
  *inputs = (sw_cli_inputs){ .settings = sw_settings_new (), .report = sw_report_new () };
  if (inputs->settings != NULL && inputs->report != NULL)
    return true;
  sw_cli_message (SW_FAULT, "%s", sw_status_text (SW_NO_MEMORY));
  return false;
}

static bool
take_file (const char **file, const sw_cli_option *option, const char *value)
{
  if (value[0] == '\0')
    {
      sw_cli_message (SW_FAULT, "--%s needs a file name", option->name);
      return false;
    }
  *file = value;
  return true;
}

static bool
take_setting (sw_cli_inputs *inputs, const char *key, const char *value)
{
  sw_report_clear (inputs->report);
  sw_status status = sw_settings_set (inputs->settings, key, value, inputs->report);
  if (status != SW_OK && sw_report_count_of (inputs->report, SW_FAULT) == 0)
    sw_cli_message (SW_FAULT, "--%s: %s", key, sw_status_text (status));
  sw_cli_print_option_report (inputs->report, key);
  sw_report_clear (inputs->report);
  return status == SW_OK;
}

bool
sw_cli_inputs_take (sw_cli_inputs *inputs, const sw_cli_option *option, const char *value)
{
  switch (option->id)
    {
    case SW_CLI_LEVELS:
      return take_file (&inputs->sources.levels, option, value);
    case SW_CLI_STOCK:
      return take_file (&inputs->sources.stock, option, value);
    case SW_CLI_SECTIONS:
      return take_file (&inputs->sources.sections, option, value);
    case SW_CLI_EXTRAS:
      return take_file (&inputs->sources.extras, option, value);
    case SW_CLI_YARDS:
      return take_file (&inputs->sources.yards, option, value);
    case SW_CLI_FITTINGS:
      return take_file (&inputs->sources.fittings, option, value);
    case SW_CLI_SETTINGS:
      return take_file (&inputs->settings_file, option, value);
    case SW_CLI_HELP:
      inputs->help = true;
      return true;
    case SW_CLI_SWITCH:
      return take_setting (inputs, option->name, "yes");
    default:
      return take_setting (inputs, option->name, value);
    }
}

/* The operand is the file of spans or the job's folder. */
static bool
take_operand (sw_cli_inputs *inputs, const char *value)
{
  if (inputs->sources.spans != NULL)
    {
      sw_cli_message (SW_FAULT, "one spans file or folder at a time: '%s' follows '%s'", value, inputs->sources.spans);
      return false;
    }
  if (value[0] == '\0')
    {
      sw_cli_message (SW_FAULT, "the name of the spans file or folder is empty");
      return false;
    }
  inputs->sources.spans = value;
  return true;
}

static bool
read_words (const sw_cli_job_command *command, sw_cli_inputs *inputs, void *request, int count, char **words)
{
  sw_cli_args args = { .command = command->name,
                       .options = command->options,
                       .option_count = command->option_count,
                       .count = count,
                       .words = words };
  const sw_cli_option *option = NULL;
  const char *value = NULL;
  bool right = true;
  for (sw_cli_word word; (word = sw_cli_next (&args, &option, &value)) != SW_CLI_END;)
    if (word == SW_CLI_WRONG)
      right = false;
    else if (word == SW_CLI_OPERAND)
      right = take_operand (inputs, value) && right;
    else
      right = command->take (option, value, request) && right;
  if (right && !inputs->help && command->check != NULL)
    right = command->check (request);
  return right;
}

bool
sw_cli_is_folder (const char *name)
{
  struct stat status;
  return stat (name, &status) == 0 && S_ISDIR (status.st_mode);
}

/* Read the job from the place that the words name: a folder, or a plan's folder that keeps its job, or files. */
static sw_status
read_from_place (sw_cli_inputs *inputs)
{
  sw_sources sources = inputs->sources;
  if (sources.spans != NULL && sw_cli_is_folder (sources.spans))
    {
      sources.spans = NULL;
      return sw_job_read_folder (&inputs->job, inputs->sources.spans, &sources, inputs->settings, inputs->report);
    }
  if (inputs->plan != NULL)
    return sw_job_read_kept (&inputs->job, inputs->plan, &sources, inputs->settings, inputs->report);
  return sw_job_read (&inputs->job, &sources, inputs->settings, inputs->report);
}

/* Read the settings file and the job, and print all remarks. */
static sw_cli_exit
read_job (sw_cli_inputs *inputs, const char *command, bool settings_only)
{
  if (inputs->sources.spans == NULL && inputs->sources.extras == NULL && inputs->plan == NULL)
    {
      sw_cli_message (SW_FAULT,
                      "nothing to plan: name a spans file, or a job's folder (or --extras); see 'spanwright %s --help'",
                      command);
      return SW_CLI_USAGE;
    }
  sw_status status = SW_OK;
  if (inputs->settings_file != NULL)
    status = sw_settings_read (inputs->settings, inputs->settings_file, inputs->report);
  if (status == SW_OK && !settings_only)
    status = read_from_place (inputs);
  sw_cli_say (inputs->report, status);
  /* An input that cannot be opened is a wrong input, not a failure of the program. */
  return status == SW_IO ? SW_CLI_REJECTED : sw_cli_exit_of (status);
}

sw_cli_exit
sw_cli_run_on_job (const sw_cli_job_command *command, sw_cli_inputs *inputs, void *request, int count, char **words)
{
  sw_cli_exit end = SW_CLI_FAILED;
  if (begin (inputs))
    {
      if (!read_words (command, inputs, request, count, words))
        end = SW_CLI_USAGE;
      else if (inputs->help)
        {
          sw_cli_print (command->help);
          end = SW_CLI_OK;
        }
      else
        {
          end = read_job (inputs, command->name, command->reads_itself);
          if (end == SW_CLI_OK)
            end = command->work (request);
        }
    }
  sw_job_free (inputs->job);
  sw_settings_free (inputs->settings);
  sw_report_free (inputs->report);
  return end;
}
