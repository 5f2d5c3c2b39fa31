/* drive.c - plans one job through the library, and prints what was known at which time
 *
 *      drive [-o DIR] --KEY VALUE ...
 *
 * KEY is posts (yes: its stretches are divided), an input file (spans, levels, stock, sections, extras), a setting, or
 * cpu-limit: the CPU seconds of this program after which the solver is told to
 * stop. stdout gets these lines, with blanks between words:
 *
 *      plan WALL CPU COST       a better plan; seconds from the start of this program
 *      bound WALL CPU BOUND     a better bound; costs in money, or metres
 *      end WALL CPU             the solver has returned
 *      NAME VALUE               figures of the plan; cost in millionths of money, or nanometres
 *      peak KIB                 most memory so far
 *
 * With -o the plan's tables are written to DIR after the time has been taken.
 * Exit status: 0 a plan; 3 there is none; 4 none in the time; 1 anything else.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "spanwright.h"

typedef struct drive
{
  struct timespec began;
  double cpu_before; /* CPU seconds of the loader */
  double cpu_limit;  /* 0: no limit */
  bool has_plan;
  bool has_bound;
  double cost;
  double bound;
  bool posts; /* stretches are divided */
} drive;

static double
wall (const drive *d)
{
  struct timespec now;
  clock_gettime (CLOCK_MONOTONIC, &now);
  return (double)(now.tv_sec - d->began.tv_sec) + (double)(now.tv_nsec - d->began.tv_nsec) / 1e9;
}

static double
cpu (const drive *d)
{
  struct timespec used;
  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &used);
  return (double)used.tv_sec + (double)used.tv_nsec / 1e9 - d->cpu_before;
}

/* The peak of this program alone: getrusage would also count the program that started it. */
static long
peak_kib (void)
{
  char line[256];
  long peak = 0;
  FILE *file = fopen ("/proc/self/status", "r");
  if (file == NULL)
    return 0;
  while (fgets (line, sizeof line, file) != NULL)
    if (sscanf (line, "VmHWM: %ld", &peak) == 1)
      break;
  fclose (file);
  return peak;
}

static bool
listen (const sw_progress *progress, void *data)
{
  drive *d = data;
  if (progress->has_plan && (!d->has_plan || progress->cost != d->cost))
    {
      d->has_plan = true;
      d->cost = progress->cost;
      printf ("plan %.4f %.4f %.9f\n", wall (d), cpu (d), d->cost);
    }
  if (!d->has_bound || progress->bound != d->bound)
    {
      d->has_bound = true;
      d->bound = progress->bound;
      printf ("bound %.4f %.4f %.9f\n", wall (d), cpu (d), d->bound);
    }
  return !(d->cpu_limit > 0 && cpu (d) > d->cpu_limit);
}

/* The source called NAME.  NULL: it is a setting. */
static const char **
source_of (sw_sources *sources, const char *name)
{
  const struct
  {
    const char *name;
    const char **place;
  } known[] = { { "spans", &sources->spans },
                { "levels", &sources->levels },
                { "stock", &sources->stock },
                { "sections", &sources->sections },
                { "extras", &sources->extras },
                { "yards", &sources->yards },
                { "fittings", &sources->fittings } };
  for (size_t i = 0; i < sizeof known / sizeof known[0]; i++)
    if (strcmp (known[i].name, name) == 0)
      return known[i].place;
  return NULL;
}

static sw_status
take_words (char **words, sw_sources *sources, sw_settings *settings, drive *d, const char **folder, sw_report *report)
{
  for (size_t i = 1; words[i] != NULL; i += 2)
    {
      if (words[i + 1] == NULL)
        return SW_USAGE;
      if (strcmp (words[i], "-o") == 0)
        {
          *folder = words[i + 1];
          continue;
        }
      if (strncmp (words[i], "--", 2) != 0)
        return SW_USAGE;
      if (strcmp (words[i], "--cpu-limit") == 0)
        {
          char *rest;
          d->cpu_limit = strtod (words[i + 1], &rest);
          if (*rest != '\0' || !(d->cpu_limit > 0))
            return SW_USAGE;
          continue;
        }
      if (strcmp (words[i], "--posts") == 0)
        {
          d->posts = strcmp (words[i + 1], "yes") == 0;
          continue;
        }
      const char **place = source_of (sources, words[i] + 2);
      if (place != NULL)
        {
          *place = words[i + 1];
          continue;
        }
      sw_status status = sw_settings_set (settings, words[i] + 2, words[i + 1], report);
      if (status != SW_OK)
        return status;
    }
  return SW_OK;
}

static const char *const outcomes[] = { [SW_PROVED] = "proved",
                                        [SW_WITHIN_GAP] = "within-gap",
                                        [SW_TIMED_OUT] = "timed-out",
                                        [SW_INTERRUPTED] = "interrupted" };

static void
tell (const sw_plan *plan)
{
  sw_summary s;
  sw_plan_summary (plan, &s);
  printf ("outcome %s\npriced %d\n", outcomes[s.outcome], s.priced);
  printf ("cost %" PRId64 "\nleast %" PRId64 "\n", s.cost, s.bound);
  printf ("aligned %" PRId64 "\naligned_least %" PRId64 "\n", s.aligned, s.aligned_bound);
  printf ("joins %" PRId64 "\nboards %" PRId64 "\n", s.joins, s.boards);
  printf ("bought %" PRId64 "\nused %" PRId64 "\n", s.bought, s.used);
}

/* The same of stretches that are divided; the figures of the plan alone would not count their posts. */
static sw_status
divide (const sw_job *job, const sw_limits *limits, const drive *d, sw_report *report)
{
  sw_posts *posts = NULL;
  sw_status status = sw_posts_make (&posts, job, limits, report);
  printf ("end %.4f %.4f\n", wall (d), cpu (d));
  printf ("peak %ld\n", peak_kib ());
  if (status == SW_OK)
    {
      sw_posts_figures f;
      sw_posts_summary (posts, &f);
      printf ("outcome %s\npriced %d\n", outcomes[f.outcome], f.priced);
      printf ("cost %" PRId64 "\nleast %" PRId64 "\n", f.cost, f.bound);
      printf ("posts %" PRId64 "\nways %" PRId64 "\n", f.posts, f.ways);
    }
  sw_posts_free (posts);
  return status;
}

static sw_status
plan_job (const sw_sources *sources, const sw_settings *settings, drive *d, const char *folder, sw_report *report)
{
  sw_job *job = NULL;
  sw_plan *plan = NULL;
  sw_limits limits = { .progress = listen, .data = d };
  sw_status status = sw_job_read (&job, sources, settings, report);
  if (status == SW_OK && d->posts)
    {
      status = divide (job, &limits, d, report);
      sw_job_free (job);
      return status;
    }
  if (status == SW_OK)
    status = sw_plan_make (&plan, job, &limits, report);
  printf ("end %.4f %.4f\n", wall (d), cpu (d));
  printf ("peak %ld\n", peak_kib ());
  if (status == SW_OK)
    {
      tell (plan);
      if (folder != NULL)
        status = sw_plan_write (plan, folder, report);
    }
  sw_plan_free (plan);
  sw_job_free (job);
  return status;
}

int
main (int argc, char **argv)
{
  (void)argc;
  drive d = { .has_plan = false };
  clock_gettime (CLOCK_MONOTONIC, &d.began);
  d.cpu_before = cpu (&d);
  sw_sources sources = { .spans = NULL };
  const char *folder = NULL;
  sw_report *report = sw_report_new ();
  sw_settings *settings = sw_settings_new ();
  if (report == NULL || settings == NULL)
    {
      fputs ("drive: memory ran out\n", stderr);
      return 1;
    }
  sw_status status = take_words (argv, &sources, settings, &d, &folder, report);
  if (status == SW_OK)
    status = plan_job (&sources, settings, &d, folder, report);
  if (status != SW_OK)
    fprintf (stderr, "drive: %s\n", sw_status_text (status));
  for (size_t i = 0; status != SW_OK && i < sw_report_count (report); i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      fprintf (stderr, "%s:%zu: %s\n", remark->file != NULL ? remark->file : "", remark->line, remark->message);
    }
  sw_settings_free (settings);
  sw_report_free (report);
  if (fflush (stdout) != 0)
    return 1;
  return status == SW_OK ? 0 : status == SW_NO_PLAN ? 3 : status == SW_STOPPED ? 4 : 1;
}
