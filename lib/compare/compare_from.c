/* compare_from.c - choices of yards
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "compare/compare.h"

#include "base/memory.h"
#include "base/report.h"
#include "csv/value.h"

#include <stdlib.h>
#include <string.h>

/* The yard whose name TEXT begins with, up to its end or a comma; of several the longest, since a name may hold a comma.
 * *AFTER: what follows it. */
static size_t
leading_yard (const sw_job *job, const char *text, const char **after)
{
  size_t found = SW_NO_YARD;
  size_t longest = 0;
  for (size_t y = 0; y < job->yards.count; y++)
    {
      const char *name = job->yards.items[y].name;
      const size_t bytes = strlen (name);
      if (strncmp (text, name, bytes) != 0 || (found != SW_NO_YARD && bytes < longest))
        continue;
      const char *end = text + bytes + strspn (text + bytes, " ");
      if (*end != '\0' && *end != ',')
        continue;
      found = y;
      longest = bytes;
      *after = end;
    }
  return found;
}

/* "north, south" */
static void
add_yards (sw_text *out, const sw_job *job)
{
  for (size_t y = 0; y < job->yards.count; y++)
    {
      char shown[SW_SHOWN];
      sw_show_text (job->yards.items[y].name, shown);
      sw_text_printf (out, "%s%s", y > 0 ? ", " : "", shown);
    }
}

static sw_status
blame (const sw_job *job, const char *text, const char *part, sw_report *report)
{
  sw_text offered = { 0 };
  char whole[SW_SHOWN];
  char shown[SW_SHOWN];
  add_yards (&offered, job);
  char *list = sw_text_take (&offered);
  if (list == NULL)
    return SW_NO_MEMORY;
  sw_show_text (text, whole);
  sw_show_text (part, shown);
  sw_report_add (report, SW_FAULT, NULL, 0, NULL, "choice \"%s\": expected yards of this job with \",\" between (%s), found \"%s\"",
                 whole, list, shown);
  free (list);
  return SW_USAGE;
}

/* Is anything of the job made of SECTION? */
static bool
is_used (const sw_job *job, size_t section)
{
  for (size_t l = 0; l < job->levels.count; l++)
    if (job->levels.items[l].section == section
        || (job->levels.items[l].blocks > 0 && job->levels.items[l].block_section == section))
      return true;
  for (size_t e = 0; e < job->extras.count; e++)
    if (job->extras.items[e].section == section)
      return true;
  return false;
}

/* A section that CHOICE can get none of is lacking. */
static void
find_lacking (sw_choice_made *choice, const sw_job *job)
{
  for (size_t section = job->sections.count; section-- > 0;)
    {
      bool any = !is_used (job, section);
      for (size_t s = 0; s < job->stocks.count; s++)
        any = any || (job->stocks.items[s].section == section && (choice->buys[s] || job->stocks.items[s].hand > 0));
      if (!any)
        choice->lacking = section;
    }
}

static sw_status
read_choice (sw_choice_made *choice, const sw_job *job, const char *text, sw_report *report)
{
  const char *part = text + strspn (text, " ");
  for (;;)
    {
      const char *after = part;
      const size_t yard = leading_yard (job, part, &after);
      if (yard == SW_NO_YARD)
        return blame (job, text, part, report);
      for (size_t s = 0; s < job->stocks.count; s++)
        choice->buys[s] = choice->buys[s] || job->stocks.items[s].yard == yard;
      if (*after == '\0')
        break;
      part = after + 1 + strspn (after + 1, " ");
    }
  find_lacking (choice, job);
  return SW_OK;
}

/* Each yard, and all of them. */
static sw_status
by_default (sw_comparison *c)
{
  const sw_job *job = c->job;
  const size_t count = job->yards.count > 1 ? job->yards.count + 1 : 1;
  c->choices = sw_alloc (count, sizeof *c->choices);
  if (c->choices == NULL)
    return SW_NO_MEMORY;
  sw_status status = SW_OK;
  for (size_t i = 0; i < count && status == SW_OK; i++)
    {
      sw_choice_made *choice = &c->choices[c->count++];
      status = sw_choice_begin (choice, job, i < job->yards.count ? job->yards.items[i].name : "all");
      for (size_t s = 0; s < job->stocks.count && status == SW_OK; s++)
        choice->buys[s] = i == job->yards.count || job->stocks.items[s].yard == i;
      if (status == SW_OK)
        find_lacking (choice, job);
    }
  return status;
}

sw_status
sw_choices_of_yards (sw_comparison *c, const char *const *texts, size_t count, sw_report *report)
{
  if (c->job->yards.count == 0)
    {
      sw_report_add (report, SW_FAULT, NULL, 0, NULL,
                     "this job names no yards: they stand in a column yard of the stock file");
      return SW_USAGE;
    }
  if (count == 0)
    return by_default (c);
  c->choices = sw_alloc (count, sizeof *c->choices);
  sw_status status = c->choices != NULL ? SW_OK : SW_NO_MEMORY;
  bool bad = false;
  for (size_t i = 0; i < count && status == SW_OK; i++)
    {
      status = sw_choice_begin (&c->choices[c->count++], c->job, texts[i]);
      if (status == SW_OK)
        status = read_choice (&c->choices[i], c->job, texts[i], report);
      bad = bad || status == SW_USAGE;
      status = status == SW_USAGE ? SW_OK : status;
    }
  if (status == SW_OK && !bad)
    bad = sw_choices_twice (c, report);
  return status == SW_OK && bad ? SW_USAGE : status;
}
