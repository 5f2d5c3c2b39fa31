/* cmd_verify.c - the command "spanwright verify"
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "command.h"

#include "args.h"
#include "inputs.h"
#include "message.h"
#include "progress.h"
#include "signals.h"

#include <string.h>
#include <strings.h>
#include <sys/stat.h>
#include <unistd.h>

enum
{
  OPTION_PLAN = SW_CLI_OWN,
  OPTION_RULES_ONLY
};

static const sw_cli_option options[] = {
  SW_CLI_INPUT_OPTIONS,
  { .name = "plan", .value = "a folder", .id = OPTION_PLAN },
  { .name = "rules-only", .id = OPTION_RULES_ONLY },
};

static const char help[]
    = "Usage: spanwright verify [SPANS.csv|FOLDER] --plan DIR [OPTION]...\n"
      "Reads the plan that 'spanwright plan -o DIR' wrote, edited or not, and says\n"
      "whether every rule holds and all adds up: each fault with its file and line.\n"
      "The job is the one that DIR keeps; what is named here takes its place.\n"
      "\n" SW_CLI_INPUT_HELP
      "Plan       --plan DIR    with order.csv, cuts.csv, fit.csv, setout.csv in it\n"
      "           --rules-only  do not tell what it costs against the cheapest plan\n"
      "           -h, --help    print this\n"
      "\n"
      "In brackets: the default. Exit status 1 when a fault is found.\n";

typedef struct request
{
  sw_cli_inputs inputs;
  bool rules_only;
} request;

static bool
take_option (const sw_cli_option *option, const char *value, void *data)
{
  request *wanted = data;
  switch (option->id)
    {
    case OPTION_PLAN:
      wanted->inputs.plan = value;
      if (value[0] == '\0')
        sw_cli_message (SW_FAULT, "--plan needs a folder");
      return value[0] != '\0';
    case OPTION_RULES_ONLY:
      wanted->rules_only = true;
      return true;
    default:
      return sw_cli_inputs_take (&wanted->inputs, option, value);
    }
}

static bool
check_request (void *data)
{
  const request *wanted = data;
  const char *plan = wanted->inputs.plan;
  struct stat there;
  if (plan != NULL && stat (plan, &there) == 0 && !S_ISDIR (there.st_mode))
    {
      const size_t length = strlen (plan);
      if (length > 5 && strcasecmp (plan + length - 5, ".xlsx") == 0)
        sw_cli_message (SW_FAULT,
                        "--plan: the workbook '%s' is not read: save its sheets order, cuts, fit and setout as "
                        "order.csv, cuts.csv, fit.csv and setout.csv in a folder, and name that", plan);
      else
        sw_cli_message (SW_FAULT, "--plan: '%s' is a file; expected the folder of a plan", plan);
      return false;
    }
  if (plan != NULL)
    return true;
  sw_cli_message (SW_FAULT, "no plan named: give its folder with --plan; see 'spanwright verify --help'");
  return false;
}

/* Does the plan keep every rule although the solver's proof says that there is no such plan? */
static bool
disproves (const sw_verdict *verdict, const sw_plan *plan)
{
  sw_summary best;
  sw_plan_summary (plan, &best);
  return verdict->cost_known
         && (verdict->aligned < best.aligned_bound
             || (verdict->aligned <= best.aligned && verdict->cost < best.bound));
}

static sw_cli_exit
print_verdict (const request *wanted, const sw_verdict *verdict, const sw_plan *plan)
{
  char *text = NULL;
  sw_status status = sw_verdict_text (verdict, wanted->inputs.job, plan, sw_cli_width (STDOUT_FILENO), &text);
  if (status == SW_OK)
    sw_cli_print (text);
  else
    sw_cli_message (SW_FAULT, "%s", sw_status_text (status));
  sw_text_free (text);
  return sw_cli_exit_of (status);
}

/* Plan the job afresh, to compare the cost of the plan that was read with the cheapest. */
static sw_cli_exit
compare (const request *wanted, const sw_verdict *verdict)
{
  sw_cli_progress progress;
  sw_report *report = wanted->inputs.report;
  sw_plan *plan = NULL;
  sw_cli_progress_begin (&progress);
  sw_limits limits = { .progress = sw_cli_progress_show, .data = &progress };
  sw_cli_catch_signals ();
  sw_status status = sw_plan_make (&plan, wanted->inputs.job, &limits, report);
  sw_cli_progress_end (&progress);
  sw_cli_exit end = SW_CLI_OK;
  if (status == SW_NO_PLAN || (status == SW_OK && disproves (verdict, plan)))
    {
      sw_cli_message (SW_FAULT, "%s; please report this defect",
                      plan == NULL ? "the planner finds no plan, yet this is one"
                                   : "this plan is better than what the planner proves to be the best");
      end = SW_CLI_FAILED;
    }
  else if (status == SW_STOPPED)
    sw_cli_message (SW_NOTE, "stopped before there was a plan to compare with");
  else if (status != SW_OK)
    {
      sw_cli_say (report, status);
      end = sw_cli_exit_of (status);
    }
  sw_cli_exit printed = print_verdict (wanted, verdict, end == SW_CLI_OK ? plan : NULL);
  sw_cli_release_signals ();
  sw_plan_free (plan);
  if (end == SW_CLI_OK)
    end = printed;
  return end == SW_CLI_OK && sw_cli_signal_caught () ? SW_CLI_SIGNAL : end;
}

static sw_cli_exit
verify (void *data)
{
  const request *wanted = data;
  sw_verdict verdict;
  sw_status status = sw_verify (wanted->inputs.job, wanted->inputs.plan, &verdict, wanted->inputs.report);
  sw_cli_say (wanted->inputs.report, status);
  if (status == SW_OK && !wanted->rules_only)
    return compare (wanted, &verdict);
  sw_cli_exit printed = status == SW_OK || status == SW_REJECTED ? print_verdict (wanted, &verdict, NULL) : SW_CLI_OK;
  return status != SW_OK ? sw_cli_exit_of (status) : printed;
}

sw_cli_exit
sw_cli_verify (int count, char **words)
{
  static const sw_cli_job_command command = { .name = "verify",
                                              .help = help,
                                              .options = options,
                                              .option_count = sizeof options / sizeof options[0],
                                              .take = take_option,
                                              .check = check_request,
                                              .work = verify };
  request wanted = { .rules_only = false };
  return sw_cli_run_on_job (&command, &wanted.inputs, &wanted, count, words);
}
