/* job_levels.c - which runs a level is on, and whether its timber fits their posts and corners
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "job/job_check.h"
#include "base/memory.h"
#include "job/seat.h"
#include "csv/value.h"

#include <stdlib.h>
#include <string.h>

typedef struct checking
{
  sw_job *job;
  sw_report *report;
  sw_name_index runs;
  bool *told; /* by section: a warning has said that the width is missing for plumb cuts */
  size_t faults;
} checking;

/* ---- Runs ---- */

/* Runs that are named in a cell "only". */
typedef struct only
{
  sw_job_file file;
  size_t line;
  bool *runs;
} only;

/* NAME without its outer spaces is a run that ONLY means. */
static void
take_run (checking *checking, const only *only, char *name)
{
  name += strspn (name, " \t");
  size_t length = strlen (name);
  while (length > 0 && (name[length - 1] == ' ' || name[length - 1] == '\t'))
    name[--length] = '\0';
  size_t run;
  if (length == 0)
    return;
  if (sw_name_index_find (&checking->runs, name, &run))
    {
      only->runs[run] = true;
      return;
    }
  char shown[SW_SHOWN];
  sw_show_text (name, shown);
  sw_report_add (checking->report, SW_FAULT, checking->job->files[only->file], only->line, "only",
                 "expected names of runs with \";\" between, found \"%s\", which no run is called", shown);
  checking->faults++;
}

/* *RUNS: a flag a run, for the caller to free; NULL where NAMES is. */
static sw_status
find_runs (checking *checking, const char *written, sw_job_file file, size_t line, bool **runs)
{
  if (written == NULL)
    return SW_OK;
  char *names = sw_copy_text (written);
  *runs = sw_alloc (checking->job->fence.run_count, sizeof **runs);
  if (names == NULL || *runs == NULL)
    {
      free (names);
      return SW_NO_MEMORY;
    }
  const only only = { .file = file, .line = line, .runs = *runs };
  for (char *name = names; name != NULL;)
    {
      char *end = strchr (name, ';');
      if (end != NULL)
        *end++ = '\0';
      take_run (checking, &only, name);
      name = end;
    }
  free (names);
  return SW_OK;
}

/* Refuse a run without any timber: somebody forgot its name. */
static void
check_bare_runs (checking *checking)
{
  const sw_job *job = checking->job;
  for (size_t r = 0; r < job->fence.run_count; r++)
    {
      size_t l = 0;
      while (l < job->levels.count && !sw_level_is_on (&job->levels.items[l], r))
        l++;
      if (l < job->levels.count)
        continue;
      char shown[SW_SHOWN];
      sw_show_text (job->fence.runs[r].name, shown);
      sw_report_add (checking->report, SW_FAULT, job->files[SW_FILE_LEVELS], 0, "only",
                     "expected a level on every run, found none on run \"%s\"", shown);
      checking->faults++;
    }
}

/* ---- Sections ---- */

/* Report that SIZE ("thickness") of LEVEL's section is missing, and WHY it is needed. */
static void
blame_section (checking *checking, const sw_level *level, const char *size, const char *why)
{
  const sw_job *job = checking->job;
  char name[SW_SHOWN];
  char section[SW_SHOWN];
  sw_show_text (level->name, name);
  sw_show_text (job->sections.items[level->section].name, section);
  sw_report_add (checking->report, SW_FAULT, job->files[SW_FILE_LEVELS], level->line, level->line > 0 ? "seat" : NULL,
                 "expected the %s of section \"%s\" in the sections file, since level \"%s\" %s, found none", size,
                 section, name, why);
  checking->faults++;
}

/* Is there a corner on a run that LEVEL is on?  INSIDE_ONLY: only corners of over 180 degrees count. */
static bool
has_mitre (const sw_job *job, const sw_level *level, bool inside_only)
{
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t b = 0; b < job->fence.runs[r].bay_count && sw_level_is_on (level, r); b++)
      {
        const sw_bay *bay = &job->fence.runs[r].bays[b];
        const sw_end *ends[2] = { &bay->start, &bay->finish };
        for (int side = 0; side < 2; side++)
          if (ends[side]->kind == SW_END_MITRE && (!inside_only || ends[side]->angle > 180000))
            return true;
      }
  return false;
}

static bool
is_raked (const sw_job *job, const sw_level *level)
{
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t b = 0; b < job->fence.runs[r].bay_count && sw_level_is_on (level, r); b++)
      if (job->fence.runs[r].bays[b].rise != 0 && !job->fence.runs[r].bays[b].opening)
        return true;
  return false;
}

static void
check_sizes (checking *checking, const sw_level *level)
{
  const sw_job *job = checking->job;
  const sw_section *section = &job->sections.items[level->section];
  const bool thin = section->thickness == 0;
  if (level->through && level->seat == SW_SEAT_TOP)
    {
      if (thin || section->width == 0)
        blame_section (checking, level, thin && section->width == 0 ? "width and thickness" : thin ? "thickness" : "width",
                       "lies on top of its posts");
    }
  else if (level->through && thin && level->let_in > 0)
    blame_section (checking, level, "thickness", "is let in to a depth of its own");
  else if (level->through && thin && level->seat == SW_SEAT_FACE && has_mitre (job, level, false))
    blame_section (checking, level, "thickness", "is mitred on the face of its posts");
  else if (level->through && thin && has_mitre (job, level, true))
    blame_section (checking, level, "thickness", "is mitred at a corner of over 180 degrees");
  if (section->width > 0 || checking->told[level->section] || !is_raked (job, level))
    return;
  char shown[SW_SHOWN];
  sw_show_text (section->name, shown);
  checking->told[level->section] = true;
  sw_report_add (checking->report, SW_WARNING, job->files[SW_FILE_LEVELS], level->line, level->line > 0 ? "section" : NULL,
                 "the width of section \"%s\" is not known, so nothing is reckoned for the plumb cuts of its pieces on a "
                 "slope, which take their width times the slope more out of a board; write the width in the sections file",
                 shown);
}

/* ---- Checks ---- */

/* The depth of the shallowest post that LEVEL passes or ends on.  0: there is none. */
static sw_length
shallowest_post (const sw_job *job, const sw_level *level)
{
  sw_length least = 0;
  for (size_t r = 0; r < job->fence.run_count; r++)
    for (size_t p = 0; p <= job->fence.runs[r].bay_count && sw_level_is_on (level, r); p++)
      {
        const sw_run *run = &job->fence.runs[r];
        const sw_length depth = sw_seat_post_depth (job, run->posts[p].width);
        const bool timber = (p > 0 && !run->bays[p - 1].opening) || (p < run->bay_count && !run->bays[p].opening);
        if (timber && (least == 0 || depth < least))
          least = depth;
      }
  return least;
}

/* A check weakens its post and is best kept to a third of the post's depth (common practice,
 * joinery texts).  Warn once for each section, of its worst check. */
static void
check_depths (checking *checking, size_t section)
{
  const sw_job *job = checking->job;
  sw_length deepest = 0;
  sw_length post = 0;
  size_t line = 0;
  for (size_t l = 0; l < job->levels.count; l++)
    {
      const sw_level *level = &job->levels.items[l];
      const sw_length check = level->section == section ? sw_seat_check (job, level) : 0;
      const sw_length least = check > 0 ? shallowest_post (job, level) : 0;
      /* Of two checks the one that leaves less of its post is worse. */
      if (least == 0 || 3 * check <= least || (deepest > 0 && check - least <= deepest - post))
        continue;
      deepest = check;
      post = least;
      line = level->line;
    }
  if (deepest == 0)
    return;
  char name[SW_SHOWN];
  char depth[SW_SHOWN];
  char post_depth[SW_SHOWN];
  char third[SW_SHOWN];
  sw_show_text (job->sections.items[section].name, name);
  sw_show_length (post, job->settings->inches, post_depth);
  sw_show_lengths (deepest, post / 3 / SW_MM * SW_MM, job->settings->inches, depth, third);
  sw_report_add (checking->report, SW_WARNING, job->files[SW_FILE_LEVELS], line, line > 0 ? "seat" : NULL,
                 "section \"%s\" is let %s into posts that are %s deep; a check is best kept to a third of its post, "
                 "%s: write \"let in DEPTH\" or \"face\", or give the posts' own depth with --post-depth",
                 name, depth, post_depth, third);
}

/* ---- Timber of both sides of a post ---- */

/* The length over which pieces of LEVEL from both sides would overlap at inner POST of run R, where both end. */
static sw_length
lies_over (const sw_job *job, const sw_level *level, size_t r, size_t post)
{
  const sw_run *run = &job->fence.runs[r];
  const sw_bay *near = &run->bays[post - 1];
  const sw_bay *far = &run->bays[post];
  /* At a step the two pieces are at different heights. */
  if (!level->through || !sw_level_is_on (level, r) || near->opening || far->opening || near->finish.kind == SW_END_ON
      || near->step != 0)
    return 0;
  const sw_length width = run->posts[post].width;
  return sw_seat_reach (job, level, &near->finish, width) + sw_seat_reach (job, level, &far->start, width);
}

/* Warn of the first post of a run where two pieces would be in the same place. */
static void
check_both_sides (checking *checking, size_t r)
{
  const sw_job *job = checking->job;
  const sw_run *run = &job->fence.runs[r];
  for (size_t post = 1; post < run->bay_count; post++)
    for (size_t l = 0; l < job->levels.count; l++)
      {
        const sw_length over = lies_over (job, &job->levels.items[l], r, post);
        if (over <= 0)
          continue;
        char run_name[SW_SHOWN];
        char level[SW_SHOWN];
        char length[SW_SHOWN];
        sw_show_text (run->name, run_name);
        sw_show_text (job->levels.items[l].name, level);
        sw_show_length (over, job->settings->inches, length);
        sw_report_add (checking->report, SW_WARNING, job->files[SW_FILE_SPANS], run->bays[post - 1].line, "finish",
                       "at post %zu of run \"%s\" timber of level \"%s\" ends on both sides and would lie %s over each "
                       "other; end one side short, or both on the \"centre\"",
                       post + 1, run_name, level, length);
        return;
      }
}

sw_status
sw_job_check_levels (sw_job *job, sw_report *report)
{
  checking checking = { .job = job, .report = report };
  checking.told = sw_alloc (job->sections.count, sizeof *checking.told);
  sw_status status = checking.told != NULL ? SW_OK : SW_NO_MEMORY;
  for (size_t r = 0; status == SW_OK && r < job->fence.run_count; r++)
    status = sw_name_index_add (&checking.runs, job->fence.runs[r].name, r);
  for (size_t l = 0; status == SW_OK && l < job->levels.count; l++)
    {
      sw_level *level = &job->levels.items[l];
      status = find_runs (&checking, level->only, SW_FILE_LEVELS, level->line, &level->runs);
    }
  if (status == SW_OK && checking.faults == 0)
    check_bare_runs (&checking);
  for (size_t i = 0; status == SW_OK && i < job->fittings.count; i++)
    {
      sw_fitting *fitting = &job->fittings.items[i];
      status = find_runs (&checking, fitting->only, SW_FILE_FITTINGS, fitting->line, &fitting->runs);
    }
  for (size_t l = 0; status == SW_OK && l < job->levels.count; l++)
    check_sizes (&checking, &job->levels.items[l]);
  for (size_t s = 0; status == SW_OK && s < job->sections.count; s++)
    check_depths (&checking, s);
  for (size_t r = 0; status == SW_OK && r < job->fence.run_count; r++)
    check_both_sides (&checking, r);
  sw_name_index_clear (&checking.runs);
  free (checking.told);
  return status == SW_OK && checking.faults > 0 ? SW_REJECTED : status;
}
