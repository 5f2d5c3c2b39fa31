/* cmd_replan.c - spanwright replan
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
  OPTION_PLAN = SW_CLI_OWN,
  OPTION_SITE,
  OPTION_OUT,
  OPTION_CSV,
  OPTION_SVG
};

static const sw_cli_option options[] = {
  SW_CLI_INPUT_OPTIONS,
  { .name = "plan", .value = "a folder", .id = OPTION_PLAN },
  { .name = "site", .value = "a CSV file", .id = OPTION_SITE },
  { .name = "out", .letter = 'o', .value = "a folder", .id = OPTION_OUT },
  { .name = "csv", .value = "order, cuts, fit or setout", .id = OPTION_CSV },
  { .name = "svg", .id = OPTION_SVG },
};

static const char help[]
    = "Usage: spanwright replan --plan DIR --site SITE.csv [SPANS.csv|FOLDER] [OPTION]\n"
      "Plans on from what is fixed, cut and left: what to buy, what to cut now and out\n"
      "of what, which labels change. The job is the one that DIR keeps; what is named\n"
      "here, as it is measured now, takes its place.\n"
      "\n" SW_CLI_INPUT_HELP
      "Site       --plan DIR       the plan that was worked from ('plan -o DIR')\n"
      "           --site SITE.csv  rows of piece or board, state, left; a piece is\n"
      "                            fixed, cut or spoiled, a board bad or cut up\n"
      "Output     -o, --out DIR2   write the new plan there, to verify or plan on from\n"
      "           --svg, --csv order|cuts|fit|setout, -h, --help: as of plan\n"
      "\n"
      "In brackets: the default.\n";

typedef struct request
{
  sw_cli_inputs inputs;
  const char *site;
  const char *out; /* folder, or NULL */
  bool svg;
  bool csv;
  sw_table_kind kind; /* when csv */
} request;

static bool
take_name (const char **name, const sw_cli_option *option, const char *value, const char *what)
{
  *name = value;
  if (value[0] == '\0')
    sw_cli_message (SW_FAULT, "--%s needs %s", option->name, what);
  return value[0] != '\0';
}

static bool
take_option (const sw_cli_option *option, const char *value, void *data)
{
  request *wanted = data;
  switch (option->id)
    {
    case OPTION_PLAN:
      return take_name (&wanted->inputs.plan, option, value, "a folder");
    case OPTION_SITE:
      return take_name (&wanted->site, option, value, "a file name");
    case OPTION_OUT:
      return take_name (&wanted->out, option, value, "a folder");
    case OPTION_CSV:
      wanted->csv = sw_cli_plan_table (value, &wanted->kind);
      if (!wanted->csv)
        sw_cli_message (SW_FAULT, "--csv: no table '%s'; expected order, cuts, fit or setout", value);
      return wanted->csv;
    case OPTION_SVG:
      wanted->svg = true;
      return true;
    default:
      return sw_cli_inputs_take (&wanted->inputs, option, value);
    }
}

static bool
check_request (void *data)
{
  const request *wanted = data;
  bool right = true;
  if (wanted->inputs.plan == NULL)
    {
      sw_cli_message (SW_FAULT, "no plan named: give its folder with --plan; see 'spanwright replan --help'");
      right = false;
    }
  if (wanted->site == NULL)
    {
      sw_cli_message (SW_FAULT, "no site file named: give it with --site; see 'spanwright replan --help'");
      right = false;
    }
  return sw_cli_out_check (wanted->out, wanted->svg) && right;
}

static sw_status
print_plan (const request *wanted, const sw_replan *replan)
{
  char *text = NULL;
  sw_status status = wanted->csv ? sw_cli_print_plan_table (sw_replan_plan (replan), wanted->kind)
                                 : sw_replan_text (replan, sw_cli_width (STDOUT_FILENO), &text);
  if (text != NULL)
    sw_cli_print (text);
  sw_text_free (text);
  if (status != SW_OK)
    sw_cli_message (SW_FAULT, "%s", sw_status_text (status));
  return status;
}

/* A plan that may not be the best is not handed over in silence. */
static void
say_outcome (const sw_plan *plan)
{
  sw_summary summary;
  sw_plan_summary (plan, &summary);
  const char *why = sw_cli_why_stopped (summary.outcome);
  if (why != NULL)
    sw_cli_message (SW_WARNING, "%s: best plan so far; that less would do is not ruled out", why);
}

static sw_cli_exit
hand_over (const request *wanted, const sw_replan *replan)
{
  const sw_plan *plan = sw_replan_plan (replan);
  sw_report *report = wanted->inputs.report;
  sw_papers *papers;
  sw_status status = sw_cli_papers_open (&papers, wanted->out, report);
  if (papers != NULL)
    status = sw_papers_plan (papers, plan, report);
  sw_cli_say (report, status);
  say_outcome (plan);
  sw_status printed = print_plan (wanted, replan);
  if (printed == SW_OK)
    sw_cli_repeat_warnings ();
  return sw_cli_papers_close (papers, plan, wanted->svg, status, printed, report);
}

static sw_cli_exit
replan_job (void *data)
{
  request *wanted = data;
  sw_cli_progress progress;
  sw_replan *replan = NULL;
  sw_sources sources = wanted->inputs.sources;
  sw_replan_request asked = { .plan = wanted->inputs.plan,
                              .site = wanted->site,
                              .sources = &sources,
                              .settings = wanted->inputs.settings };
  if (sources.spans != NULL && sw_cli_is_folder (sources.spans))
    {
      asked.folder = sources.spans;
      sources.spans = NULL;
    }
  sw_cli_progress_begin (&progress);
  sw_limits limits = { .progress = sw_cli_progress_show, .data = &progress };
  sw_cli_catch_signals ();
  sw_status status = sw_replan_make (&replan, &asked, &limits, wanted->inputs.report);
  sw_cli_progress_end (&progress);
  /* An input that cannot be opened is a wrong input, not a failure of ours. */
  sw_cli_exit end = status == SW_IO ? SW_CLI_REJECTED : sw_cli_exit_of (status);
  if (status == SW_OK)
    end = hand_over (wanted, replan);
  else
    sw_cli_say (wanted->inputs.report, status);
  sw_cli_release_signals ();
  sw_replan_free (replan);
  return end == SW_CLI_OK && sw_cli_signal_caught () ? SW_CLI_SIGNAL : end;
}

sw_cli_exit
sw_cli_replan (int count, char **words)
{
  static const sw_cli_job_command command = { .name = "replan",
                                              .help = help,
                                              .options = options,
                                              .option_count = sizeof options / sizeof options[0],
                                              .take = take_option,
                                              .check = check_request,
                                              .reads_itself = true,
                                              .work = replan_job };
  request wanted = { .csv = false };
  return sw_cli_run_on_job (&command, &wanted.inputs, &wanted, count, words);
}
