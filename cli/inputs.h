/* inputs.h - reads the part of a command line that names the job: files and settings
 * SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SW_CLI_INPUTS_H
#define SW_CLI_INPUTS_H

#include "args.h"
#include "command.h"

enum
{
  SW_CLI_LEVELS,
  SW_CLI_STOCK,
  SW_CLI_SECTIONS,
  SW_CLI_EXTRAS,
  SW_CLI_YARDS,
  SW_CLI_FITTINGS,
  SW_CLI_SETTINGS,
  SW_CLI_SETTING,    /* a setting of the job, whose key is the option's name */
  SW_CLI_SWITCH,     /* a setting without a value, which means "yes" */
  SW_CLI_HELP,
  SW_CLI_OWN         /* the ids of a command's own options begin here */
};

/* The first options of every command. */
#define SW_CLI_INPUT_OPTIONS                                                                                           \
  { .name = "levels", .value = "a CSV file", .id = SW_CLI_LEVELS },                                                    \
  { .name = "stock", .value = "a CSV file", .id = SW_CLI_STOCK },                                                      \
  { .name = "sections", .value = "a CSV file", .id = SW_CLI_SECTIONS },                                                \
  { .name = "extras", .value = "a CSV file", .id = SW_CLI_EXTRAS },                                                    \
  { .name = "yards", .value = "a CSV file", .id = SW_CLI_YARDS },                                                      \
  { .name = "fittings", .value = "a CSV file", .id = SW_CLI_FITTINGS },                                                \
  { .name = "settings", .value = "a CSV file", .id = SW_CLI_SETTINGS },                                                \
  { .name = "kerf", .value = "a length", .id = SW_CLI_SETTING },                                                       \
  { .name = "end-trim", .value = "a length", .id = SW_CLI_SETTING },                                                   \
  { .name = "post-width", .value = "a length", .id = SW_CLI_SETTING },                                                 \
  { .name = "post-depth", .value = "a length", .id = SW_CLI_SETTING },                                                 \
  { .name = "measured", .value = "centres or clear", .id = SW_CLI_SETTING },                                           \
  { .name = "rails", .value = "a number", .id = SW_CLI_SETTING },                                                      \
  { .name = "stock-length", .value = "lengths, such as 4.8,5.4", .id = SW_CLI_SETTING },                               \
  { .name = "keep", .value = "a length", .id = SW_CLI_SETTING },                                                       \
  { .name = "min-bearing", .value = "a length", .id = SW_CLI_SETTING },                                                \
  { .name = "join-cost", .value = "an amount of money", .id = SW_CLI_SETTING },                                        \
  { .name = "stagger", .value = "prefer, require or off", .id = SW_CLI_SETTING },                                      \
  { .name = "turn", .value = "keep or off", .id = SW_CLI_SETTING },                                                    \
  { .name = "bow", .value = "a length", .id = SW_CLI_SETTING },                                                        \
  { .name = "max-piece", .value = "a length", .id = SW_CLI_SETTING },                                                  \
  { .name = "round", .value = "a length", .id = SW_CLI_SETTING },                                                      \
  { .name = "picket", .value = "a length", .id = SW_CLI_SETTING },                                                     \
  { .name = "tax", .value = "a rate in per cent", .id = SW_CLI_SETTING },                                              \
  { .name = "job", .value = "a name", .id = SW_CLI_SETTING },                                                          \
  { .name = "date", .value = "a text", .id = SW_CLI_SETTING },                                                         \
  { .name = "inches", .id = SW_CLI_SWITCH },                                                                           \
  { .name = "paper", .value = "a4 or letter", .id = SW_CLI_SETTING },                                                  \
  { .name = "time-limit", .value = "a number of seconds", .id = SW_CLI_SETTING },                                      \
  { .name = "csv-style", .value = "comma or semicolon", .id = SW_CLI_SETTING },                                        \
  { .name = "by", .value = "length or run", .id = SW_CLI_SETTING },                                                    \
  { .name = "help", .letter = 'h', .id = SW_CLI_HELP }

/* The help on these options. */
#define SW_CLI_INPUT_HELP                                                                                              \
  "Files in   --levels FILE  --stock FILE  --sections FILE  --extras FILE\n"                                           \
  "           --yards FILE  --fittings FILE  --settings FILE (rows of key,value)\n"                                    \
  "Timber     --rails N (2)           --stock-length LIST (4.8,5.4)\n"                                                 \
  "           --kerf LENGTH (3)       --end-trim LENGTH (0)    --keep LENGTH (600)\n"                                  \
  "           --max-piece LENGTH      --round LENGTH (1)\n"                                                            \
  "Posts      --post-width LENGTH (100)  --post-depth LENGTH (its width)\n"                                            \
  "           --measured centres|clear   --bow LENGTH (5)\n"                                                           \
  "           --min-bearing LENGTH (38)  --picket LENGTH\n"                                                            \
  "Joins      --stagger prefer|require|off  --turn keep|off  --join-cost MONEY (0)\n"                                  \
  "Order      --job NAME  --date TEXT  --tax PERCENT  --inches  --paper a4|letter\n"                                   \
  "Other      --time-limit SECONDS  --csv-style comma|semicolon  --by length|run\n"

typedef struct sw_cli_inputs
{
  sw_sources sources;
  const char *settings_file;
  const char *plan;          /* a plan's folder, which may keep the job; NULL: none is given */
  sw_settings *settings;
  sw_report *report;
  sw_job *job;
  bool help;
} sw_cli_inputs;

/* Take an option of SW_CLI_INPUT_OPTIONS.  False: its value is not acceptable, and a message says so. */
bool sw_cli_inputs_take (sw_cli_inputs *inputs, const sw_cli_option *option, const char *value);

/* A command that works on a job.  Its functions get the command's own REQUEST.  When one of them
 * fails or returns false, it has printed why. */
typedef struct sw_cli_job_command
{
  const char *name;
  const char *help;
  const sw_cli_option *options; /* SW_CLI_INPUT_OPTIONS come first */
  size_t option_count;
  /* Take one option.  Options that are not the command's own go to sw_cli_inputs_take. */
  bool (*take) (const sw_cli_option *option, const char *value, void *request);
  bool reads_itself;                   /* WORK reads the job; the settings file has been read */
  bool (*check) (void *request);       /* checks all words together; may be NULL */
  sw_cli_exit (*work) (void *request); /* called when the job has been read */
} sw_cli_job_command;

/* Read the words.  Print the help if that is asked for.  Otherwise read the settings and the job,
 * and let the command work.  Everything that is wrong is reported, not only the first fault.
 * INPUTS is part of REQUEST. */
sw_cli_exit sw_cli_run_on_job (const sw_cli_job_command *command, sw_cli_inputs *inputs, void *request, int count,
                               char **words);

/* Is NAME a folder? */
bool sw_cli_is_folder (const char *name);

/* Print all remarks of REPORT, and STATUS if no fault explains it.  REPORT is empty afterwards. */
void sw_cli_say (sw_report *report, sw_status status);

#endif
