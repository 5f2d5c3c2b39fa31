/* cmd_posts.c - spanwright posts
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "command.h"

#include "args.h"
#include "inputs.h"
#include "message.h"
#include "papers.h"
#include "progress.h"
#include "signals.h"

#include <string.h>
#include <unistd.h>

enum
{
  OPTION_OUT = SW_CLI_OWN,
  OPTION_CSV,
  OPTION_SVG,
  OPTION_HARD_WAY
};

static const sw_cli_option options[] = {
  SW_CLI_INPUT_OPTIONS,
  { .name = "min-bay", .value = "a length", .id = SW_CLI_SETTING },
  { .name = "max-bay", .value = "a length", .id = SW_CLI_SETTING },
  { .name = "post-cost", .value = "an amount of money", .id = SW_CLI_SETTING },
  { .name = "out", .letter = 'o', .value = "a folder", .id = OPTION_OUT },
  { .name = "csv", .value = "pegs, spans, order, cuts, fit or setout", .id = OPTION_CSV },
  { .name = "svg", .id = OPTION_SVG },
  { .name = "hard-way", .id = OPTION_HARD_WAY, .hidden = true },
};

static const char help[]
    = "Usage: spanwright posts [SPANS.csv|FOLDER] [OPTION]...\n"
      "Before the posts go in: divides the stretches of the spans (column divide) into\n"
      "bays, together with the timber; prints bays, pegs, what it saves, and the plan.\n"
      "\n"
      "Bays       --min-bay LENGTH (1200) --max-bay LENGTH (2400) --post-cost MONEY (0)\n" SW_CLI_INPUT_HELP
      "Out        -o, --out DIR  write finished spans.csv, pegs.csv and the plan there\n"
      "           --csv pegs|spans|order|cuts|fit|setout  print that table alone\n"
      "           --svg  with -o: the sheet as SVG too, a file a page   -h, --help\n"
      "In brackets: the default. Columns: man spanwright-csv; all else: man spanwright.\n";

typedef enum table
{
  TABLE_NONE,
  TABLE_PEGS,
  TABLE_SPANS,
  TABLE_PLAN
} table;

typedef struct request
{
  sw_cli_inputs inputs;
  const char *out; /* folder, or NULL */
  bool svg;
  table table;
  sw_table_kind kind; /* of TABLE_PLAN */
  bool hard_way;
} request;

static bool
take_table (request *wanted, const char *value)
{
  wanted->table = strcmp (value, "pegs") == 0                ? TABLE_PEGS
                  : strcmp (value, "spans") == 0             ? TABLE_SPANS
                  : sw_cli_plan_table (value, &wanted->kind) ? TABLE_PLAN
                                                             : TABLE_NONE;
  if (wanted->table == TABLE_NONE)
    sw_cli_message (SW_FAULT, "--csv: no table '%s'; expected pegs, spans, order, cuts, fit or setout", value);
  return wanted->table != TABLE_NONE;
}

static bool
take_option (const sw_cli_option *option, const char *value, void *data)
{
  request *wanted = data;
  switch (option->id)
    {
    case OPTION_OUT:
      wanted->out = value;
      if (value[0] == '\0')
        sw_cli_message (SW_FAULT, "-o needs a folder");
      return value[0] != '\0';
    case OPTION_CSV:
      return take_table (wanted, value);
    case OPTION_SVG:
      wanted->svg = true;
      return true;
    case OPTION_HARD_WAY:
      wanted->hard_way = true;
      return true;
    default:
      return sw_cli_inputs_take (&wanted->inputs, option, value);
    }
}

static bool
check_request (void *data)
{
  const request *wanted = data;
  return sw_cli_out_check (wanted->out, wanted->svg);
}

static sw_status
print_table (const request *wanted, const sw_posts *posts)
{
  if (wanted->table == TABLE_PLAN)
    return sw_cli_print_plan_table (sw_posts_plan (posts), wanted->kind);
  sw_table *table = NULL;
  char *bytes = NULL;
  sw_status status = wanted->table == TABLE_PEGS ? sw_posts_table (posts, &table) : sw_posts_spans (posts, &bytes);
  if (status == SW_OK && table != NULL)
    status = sw_cli_print_table (table);
  else if (status == SW_OK)
    sw_cli_print (bytes);
  sw_table_free (table);
  sw_text_free (bytes);
  return status;
}

static sw_status
print_all (const sw_posts *posts)
{
  char *text = NULL;
  sw_status status = sw_posts_text (posts, sw_cli_width (STDOUT_FILENO), &text);
  if (status == SW_OK)
    sw_cli_print (text);
  sw_text_free (text);
  if (status == SW_OK)
    status = sw_cli_print_plan_text (sw_posts_plan (posts), SW_TEXT_ALL, "\n");
  if (status == SW_OK)
    sw_cli_repeat_warnings ();
  /* What to order has scrolled away from whoever reads it on a terminal. */
  if (status == SW_OK && isatty (STDOUT_FILENO))
    status = sw_cli_print_plan_text (sw_posts_plan (posts), SW_TEXT_AGAIN, "\n");
  return status;
}

/* A spacing that may not be the best is not handed over in silence. */
static void
say_outcome (const sw_posts *posts)
{
  sw_posts_figures figures;
  sw_posts_summary (posts, &figures);
  const char *why = sw_cli_why_stopped (figures.outcome);
  if (why == NULL)
    return;
  if (figures.bound > 0)
    sw_cli_message (SW_WARNING, "%s: best spacing so far; proved to cost at most %.2f %% more than the cheapest", why,
                    100 * (double)(figures.cost - figures.bound) / (double)figures.bound);
  else
    sw_cli_message (SW_WARNING, "%s: best spacing so far; nothing is proved of its cost", why);
}

static sw_cli_exit
hand_over (const request *wanted, const sw_posts *posts)
{
  sw_report *report = wanted->inputs.report;
  sw_papers *papers;
  sw_status status = sw_cli_papers_open (&papers, wanted->out, report);
  if (papers != NULL)
    status = sw_papers_posts (papers, posts, report);
  sw_cli_say (report, status);
  say_outcome (posts);
  sw_status printed = wanted->table != TABLE_NONE ? print_table (wanted, posts) : print_all (posts);
  if (printed != SW_OK)
    sw_cli_message (SW_FAULT, "%s", sw_status_text (printed));
  return sw_cli_papers_close (papers, sw_posts_plan (posts), wanted->svg, status, printed, report);
}

static sw_cli_exit
divide (void *data)
{
  const request *wanted = data;
  sw_cli_progress progress;
  sw_cli_progress_begin (&progress);
  sw_limits limits = { .progress = sw_cli_progress_show, .data = &progress, .hard_way = wanted->hard_way };
  sw_posts *posts = NULL;
  sw_cli_catch_signals ();
  sw_status status = sw_posts_make (&posts, wanted->inputs.job, &limits, wanted->inputs.report);
  sw_cli_progress_end (&progress);
  sw_cli_exit end = sw_cli_exit_of (status);
  sw_cli_catch_signals ();
  if (status == SW_OK)
    end = hand_over (wanted, posts);
  else
    sw_cli_say (wanted->inputs.report, status);
  sw_cli_release_signals ();
  sw_posts_free (posts);
  /* With nothing usable the status says more than the signal. */
  return end == SW_CLI_OK && sw_cli_signal_caught () ? SW_CLI_SIGNAL : end;
}

sw_cli_exit
sw_cli_posts (int count, char **words)
{
  static const sw_cli_job_command command = { .name = "posts",
                                              .help = help,
                                              .options = options,
                                              .option_count = sizeof options / sizeof options[0],
                                              .take = take_option,
                                              .check = check_request,
                                              .work = divide };
  request wanted = { .table = TABLE_NONE };
  return sw_cli_run_on_job (&command, &wanted.inputs, &wanted, count, words);
}
