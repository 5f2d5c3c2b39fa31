/* compare_vary.c - choices of what a setting is set to
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "compare/compare.h"

#include "base/memory.h"
#include "base/report.h"
#include "csv/value.h"

#include <stdlib.h>
#include <string.h>

/* Settings that say how things are printed or how long is looked for, not what is built. */
static const char *const of_no_use[]
    = { "inches", "paper", "csv-style", "by", "job", "date", "time-limit", "tax", "keep", "min-bearing", "picket" };

#define MOST_VALUES 100

static bool
is_of_no_use (const char *key)
{
  for (size_t i = 0; i < sizeof of_no_use / sizeof *of_no_use; i++)
    if (strcmp (of_no_use[i], key) == 0)
      return true;
  return false;
}

/* The message of the first fault of REPORT, or that of STATUS. */
static const char *
first_fault (const sw_report *report, sw_status status)
{
  for (size_t i = 0; i < sw_report_count (report); i++)
    if (sw_report_get (report, i)->severity == SW_FAULT)
      return sw_report_get (report, i)->message;
  return sw_status_text (status);
}

/* The job with KEY at VALUE; where it cannot be read so, the choice says why. */
static sw_status
read_choice (sw_choice_made *choice, const sw_job *job, const char *key, const char *value, sw_report *report)
{
  sw_settings *settings = sw_settings_copy (job->settings);
  sw_report *own = sw_report_new ();
  sw_status status = settings != NULL && own != NULL ? SW_OK : SW_NO_MEMORY;
  if (status == SW_OK)
    {
      status = sw_settings_set (settings, key, value, own);
      if (status == SW_REJECTED || status == SW_USAGE)
        {
          sw_report_add (report, SW_FAULT, NULL, 0, NULL, "%s=%s: %s", key, value, first_fault (own, status));
          status = SW_USAGE;
        }
    }
  if (status == SW_OK)
    {
      status = sw_job_read_with (&choice->own, job, settings, own);
      if (status == SW_REJECTED || status == SW_USAGE)
        {
          choice->status = SW_NO_PLAN;
          choice->why = sw_copy_text (first_fault (own, status));
          status = choice->why != NULL ? SW_OK : SW_NO_MEMORY;
        }
    }
  sw_settings_free (settings);
  sw_report_free (own);
  return status;
}

static bool
is_key (const char *key)
{
  for (size_t i = 0; sw_settings_key (i) != NULL; i++)
    if (strcmp (sw_settings_key (i), key) == 0)
      return true;
  return false;
}

/* Has a choice before the last its name? */
static bool
is_again (const sw_comparison *c)
{
  for (size_t i = 0; i + 1 < c->count; i++)
    if (strcmp (c->choices[i].name, c->choices[c->count - 1].name) == 0)
      return true;
  return false;
}

/* The values of KEY in LIST, which is broken up. */
static sw_status
read_values (sw_comparison *c, const char *key, char *list, sw_report *report)
{
  size_t count = 1;
  for (const char *p = list; *p != '\0'; p++)
    count += *p == ',' ? 1 : 0;
  if (count > MOST_VALUES)
    {
      sw_report_add (report, SW_FAULT, NULL, 0, NULL, "more than %d values of %s", MOST_VALUES, key);
      return SW_USAGE;
    }
  c->choices = sw_alloc (count, sizeof *c->choices);
  sw_status status = c->choices != NULL ? SW_OK : SW_NO_MEMORY;
  bool bad = false;
  for (char *value = list, *next; value != NULL && status == SW_OK; value = next)
    {
      next = strchr (value, ',');
      if (next != NULL)
        *next++ = '\0';
      sw_text name = { 0 };
      sw_text_printf (&name, "%s=%s", key, value);
      char *text = sw_text_take (&name);
      sw_choice_made *choice = &c->choices[c->count++];
      status = text != NULL ? sw_choice_begin (choice, c->job, text) : SW_NO_MEMORY;
      if (status == SW_OK && is_again (c))
        {
          sw_report_add (report, SW_FAULT, NULL, 0, NULL, "%s stands twice", text);
          status = SW_USAGE;
        }
      free (text);
      if (status == SW_OK)
        status = read_choice (choice, c->job, key, value, report);
      bad = bad || status == SW_USAGE;
      status = status == SW_USAGE ? SW_OK : status;
    }
  return status == SW_OK && bad ? SW_USAGE : status;
}

sw_status
sw_choices_of_setting (sw_comparison *c, const char *const *texts, size_t count, sw_report *report)
{
  const char *text = count > 0 ? texts[0] : "";
  const char *sign = strchr (text, '=');
  char shown[SW_SHOWN];
  sw_show_text (text, shown);
  if (sign == NULL || sign[1] == '\0')
    {
      sw_report_add (report, SW_FAULT, NULL, 0, NULL, "expected KEY=VALUE,VALUE such as kerf=2,3, found \"%s\"", shown);
      return SW_USAGE;
    }
  char *key = sw_copy_text (text);
  if (key == NULL)
    return SW_NO_MEMORY;
  key[sign - text] = '\0';
  sw_status status = SW_OK;
  if (!is_key (key) || is_of_no_use (key))
    {
      sw_report_add (report, SW_FAULT, NULL, 0, NULL,
                     is_key (key) ? "%s changes nothing of what is bought" : "there is no setting \"%s\"", key);
      status = SW_USAGE;
    }
  if (status == SW_OK)
    status = read_values (c, key, key + (sign - text) + 1, report);
  free (key);
  return status;
}
