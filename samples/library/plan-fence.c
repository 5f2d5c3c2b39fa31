/* plan-fence.c - plan a fence with libspanwright and print the order for the yard
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 *     plan-fence SPANS.csv [KEY=VALUE]...
 *
 * KEY=VALUE is a setting as in spanwright(1): rails=3, stock-length=4.8,6.0.
 * Exit status: 0 planned; 1 not planned, stderr says why. */
#include <spanwright.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What the library has to say: it never prints by itself. */
static void
print_remarks (const sw_report *report)
{
  static const char *const severity[] = { [SW_NOTE] = "note", [SW_WARNING] = "warning", [SW_FAULT] = "error" };
  for (size_t i = 0; i < sw_report_count (report); i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      fprintf (stderr, "%s: ", severity[remark->severity]);
      if (remark->file != NULL)
        fprintf (stderr, "%s: ", remark->file);
      if (remark->line > 0)
        fprintf (stderr, "line %zu: ", remark->line);
      if (remark->column != NULL)
        fprintf (stderr, "%s: ", remark->column);
      fprintf (stderr, "%s\n", remark->message);
    }
}

/* "rails=3" and the like. */
static sw_status
take_settings (sw_settings *settings, int count, char **words, sw_report *report)
{
  for (int i = 0; i < count; i++)
    {
      char *equals = strchr (words[i], '=');
      if (equals == NULL)
        {
          fprintf (stderr, "error: expected KEY=VALUE, found \"%s\"\n", words[i]);
          return SW_USAGE;
        }
      *equals = '\0';
      sw_status status = sw_settings_set (settings, words[i], equals + 1, report);
      if (status != SW_OK)
        return status;
    }
  return SW_OK;
}

/* The order, and how good the plan is. */
static sw_status
print_order (const sw_plan *plan)
{
  char *text = NULL;
  sw_status status = sw_plan_text (plan, SW_TEXT_ORDER | SW_TEXT_PROOF, 80, &text);
  if (status == SW_OK && fputs (text, stdout) == EOF)
    status = SW_IO;
  sw_text_free (text);
  return status;
}

int
main (int argc, char **argv)
{
  if (argc < 2)
    {
      fprintf (stderr, "Usage: plan-fence SPANS.csv [KEY=VALUE]...\n");
      return EXIT_FAILURE;
    }
  sw_report *report = sw_report_new ();
  sw_settings *settings = sw_settings_new ();
  sw_job *job = NULL;
  sw_plan *plan = NULL;
  sw_status status = report == NULL || settings == NULL ? SW_NO_MEMORY : SW_OK;

  if (status == SW_OK)
    status = take_settings (settings, argc - 2, argv + 2, report);
  if (status == SW_OK)
    {
      sw_sources sources = { .spans = argv[1] };
      status = sw_job_read (&job, &sources, settings, report);
    }
  if (status == SW_OK)
    status = sw_plan_make (&plan, job, NULL, report);
  if (status == SW_OK)
    status = print_order (plan);

  if (report != NULL)
    print_remarks (report);
  if (status != SW_OK)
    fprintf (stderr, "plan-fence: %s\n", sw_status_text (status));
  /* The plan before its job; NULL is fine everywhere. */
  sw_plan_free (plan);
  sw_job_free (job);
  sw_settings_free (settings);
  sw_report_free (report);
  return status == SW_OK ? EXIT_SUCCESS : EXIT_FAILURE;
}
