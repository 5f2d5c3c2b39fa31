/* cmd_plan.c - the command "spanwright plan"
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "command.h"

#include "args.h"
#include "inputs.h"
#include "message.h"
#include "papers.h"
#include "progress.h"
#include "signals.h"

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
  { .name = "out", .letter = 'o', .value = "a folder", .id = OPTION_OUT },
  { .name = "csv", .value = "order, cuts, fit or setout", .id = OPTION_CSV },
  { .name = "svg", .id = OPTION_SVG },
  { .name = "hard-way", .id = OPTION_HARD_WAY, .hidden = true },
};

static const char help[]
    = "Usage: spanwright plan [SPANS.csv|FOLDER] [OPTION]...\n"
      "Prints what to order, what to cut from each board, which piece goes where,\n"
      "and how good the plan is. FOLDER: one with spans.csv, levels.csv ... in it.\n"
      "\n" SW_CLI_INPUT_HELP
      "Out        -o, --out DIR  write tables, order, workbook, page and sheet\n"
      "           --svg  with -o: the sheet as SVG too, a file a page\n"
      "           --csv order|cuts|fit|setout  print that table and nothing else\n"
      "           -h, --help  print this\n"
      "\n"
      "In brackets: the default. A bare LENGTH is millimetres (a stock length up to\n"
      "30 is metres); 2.4m, 240cm, 94.5in, 8ft and 7' 10 1/2\" are read as well.\n"
      "Files and their columns: man spanwright-csv. Everything else: man spanwright.\n";

typedef struct request
{
  sw_cli_inputs inputs;
  const char *out;       /* a folder, or NULL */
  bool svg;
  bool csv;
  sw_table_kind kind;    /* used if CSV */
  bool hard_way;
} request;

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
      wanted->csv = sw_cli_plan_table (value, &wanted->kind);
      if (!wanted->csv)
        sw_cli_message (SW_FAULT, "--csv: no table '%s'; expected order, cuts, fit or setout", value);
      return wanted->csv;
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

/* Print what keeping joins apart costs. */
static sw_status
print_apart (const sw_plan *plan)
{
  char *text = NULL;
  sw_status status = sw_plan_apart_text (plan, sw_cli_width (STDOUT_FILENO), &text);
  if (status == SW_OK && text[0] != '\0')
    {
      sw_cli_print ("\nRULES\n");
      sw_cli_print (text);
    }
  sw_text_free (text);
  return status;
}

/* Print the order once more for somebody at a terminal, where the order has scrolled away.  In a
 * file it stands at the top. */
static sw_status
print_order_again (const request *wanted, const sw_plan *plan)
{
  if (wanted->csv || !isatty (STDOUT_FILENO))
    return SW_OK;
  return sw_cli_print_plan_text (plan, SW_TEXT_AGAIN, "\n");
}

/* Warn of a plan that may not be the cheapest. */
static void
say_outcome (const sw_plan *plan)
{
  sw_summary summary;
  sw_plan_summary (plan, &summary);
  const char *why = sw_cli_why_stopped (summary.outcome);
  if (why == NULL)
    return;
  if (summary.aligned > summary.aligned_bound)
    sw_cli_message (SW_WARNING,
                    "%s: best plan so far; fewer joins that line up (%lld here, at least %lld) are not ruled out",
                    why, (long long) summary.aligned, (long long) summary.aligned_bound);
  else if (summary.cost > summary.bound && summary.bound > 0)
    sw_cli_message (SW_WARNING, "%s: best plan so far; proved to cost at most %.2f %% more than the cheapest", why,
                    100 * (double) (summary.cost - summary.bound) / (double) summary.bound);
  else if (summary.cost > summary.bound)
    sw_cli_message (SW_WARNING, "%s: best plan so far; nothing is proved of its cost", why);
  else
    sw_cli_message (SW_WARNING, "%s: best plan so far; no plan is cheaper, but %sfewer joins or boards may do", why,
                    summary.priced && summary.cost == 0 ? "less timber, " : "");
}

static sw_cli_exit
hand_over (const request *wanted, const sw_plan *plan)
{
  sw_report *report = wanted->inputs.report;
  sw_papers *papers;
  sw_status status = sw_cli_papers_open (&papers, wanted->out, report);
  if (papers != NULL)
    status = sw_papers_plan (papers, plan, report);
  sw_cli_say (report, status);
  say_outcome (plan);
  sw_status printed = wanted->csv ? sw_cli_print_plan_table (plan, wanted->kind)
                                       : sw_cli_print_plan_text (plan, SW_TEXT_ALL, "");
  if (printed == SW_OK && !wanted->csv && !sw_cli_signal_caught ())
    printed = print_apart (plan);
  if (printed != SW_OK)
    sw_cli_message (SW_FAULT, "%s", sw_status_text (printed));
  else
    {
      sw_cli_repeat_warnings ();
      printed = print_order_again (wanted, plan);
    }
  return sw_cli_papers_close (papers, plan, wanted->svg, status, printed, report);
}

static sw_cli_exit
make_plan (void *data)
{
  const request *wanted = data;
  sw_cli_progress progress;
  sw_cli_progress_begin (&progress);
  sw_limits limits = { .progress = sw_cli_progress_show, .data = &progress, .hard_way = wanted->hard_way };
  sw_plan *plan = NULL;
  sw_cli_catch_signals ();
  sw_status status = sw_plan_make (&plan, wanted->inputs.job, &limits, wanted->inputs.report);
  sw_cli_progress_end (&progress);
  sw_cli_exit end = sw_cli_exit_of (status);
  sw_cli_catch_signals ();
  if (status == SW_OK)
    end = hand_over (wanted, plan);
  else
    sw_cli_say (wanted->inputs.report, status);
  sw_cli_release_signals ();
  sw_plan_free (plan);
  /* Without a usable result the status says more than the signal. */
  return end == SW_CLI_OK && sw_cli_signal_caught () ? SW_CLI_SIGNAL : end;
}

sw_cli_exit
sw_cli_plan (int count, char **words)
{
  static const sw_cli_job_command command = { .name = "plan",
                                              .help = help,
                                              .options = options,
                                              .option_count = sizeof options / sizeof options[0],
                                              .take = take_option,
                                              .check = check_request,
                                              .work = make_plan };
  request wanted = { .csv = false };
  return sw_cli_run_on_job (&command, &wanted.inputs, &wanted, count, words);
}
