/* fuzz.c - shared by the fuzz targets
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <config.h>

#include "fuzz.h"
#include "job/job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* How often the solver may ask whether to go on, and the seconds for what does not ask. */
#define MOST_STEPS 60
#define SECONDS "2"
#define MOST_PIECES 5000

static const struct
{
  char letter;
  const char *name;
} parts[FUZZ_FILES] = { { 's', "spans.csv" },  { 'l', "levels.csv" },   { 't', "stock.csv" }, { 'c', "sections.csv" },
                        { 'x', "extras.csv" }, { 'e', "settings.csv" }, { 'o', "order.csv" }, { 'u', "cuts.csv" },
                        { 'f', "fit.csv" },    { 'a', "setout.csv" } };

static char folder[64];
static char paths[FUZZ_FILES][128];

_Noreturn void
fuzz_fail (const char *file, int line, const char *what)
{
  fprintf (stderr, "%s:%d: does not hold: %s\n", file, line, what);
  abort ();
}

/* ---- What is shown --------------------------------------------------------- */

static bool
steers (unsigned long code)
{
  return code < 0x20 || (code >= 0x7f && code <= 0x9f) || (code >= 0x202a && code <= 0x202e)
         || (code >= 0x2066 && code <= 0x2069) || code == 0x200e || code == 0x200f || code == 0x61c || code == 0x2028
         || code == 0x2029 || code == 0xfeff;
}

void
fuzz_check_shown (const char *text, bool lines)
{
  const unsigned char *at = (const unsigned char *)text;
  while (*at != '\0')
    {
      int more = *at < 0x80 ? 0 : *at >= 0xf0 ? 3 : *at >= 0xe0 ? 2 : 1;
      FUZZ_HOLDS (*at < 0x80 || (*at >= 0xc2 && *at <= 0xf4));
      unsigned long code = more == 0 ? *at : *at & (0x3fU >> more);
      for (at++; more > 0; more--, at++)
        {
          FUZZ_HOLDS ((*at & 0xc0) == 0x80);
          code = code << 6 | (*at & 0x3fU);
        }
      FUZZ_HOLDS (!steers (code) || (lines && code == '\n'));
    }
}

void
fuzz_check_report (const sw_report *report)
{
  for (size_t i = 0; i < sw_report_count (report); i++)
    {
      const sw_remark *remark = sw_report_get (report, i);
      FUZZ_HOLDS (remark->message != NULL && *remark->message != '\0');
      fuzz_check_shown (remark->message, false);
      if (remark->file != NULL)
        fuzz_check_shown (remark->file, false);
      if (remark->column != NULL)
        fuzz_check_shown (remark->column, false);
    }
}

char *
fuzz_text (const uint8_t *data, size_t size)
{
  char *text = malloc (size + 1);
  FUZZ_HOLDS (text != NULL);
  if (size > 0)
    memcpy (text, data, size);
  text[size] = '\0';
  return text;
}

/* ---- Files ----------------------------------------------------------------- */

static void
clean_up (void)
{
  static const char *const written[]
      = { "order.txt",        "plan.xlsx",      "sheet.pdf",      "job/spans.csv",    "job/levels.csv", "job/stock.csv",
          "job/sections.csv", "job/extras.csv", "job/settings.csv", "job/kept.csv" };
  for (size_t i = 0; i < FUZZ_FILES; i++)
    unlink (paths[i]);
  for (size_t i = 0; i < sizeof written / sizeof *written; i++)
    {
      char path[128];
      snprintf (path, sizeof path, "%s/%s", folder, written[i]);
      unlink (path);
    }
  char kept[128];
  snprintf (kept, sizeof kept, "%s/job", folder);
  rmdir (kept);
  rmdir (folder);
}

const char *
fuzz_folder (void)
{
  if (*folder != '\0')
    return folder;
  /* A million files are written, so that memory is used in place of a disk if there is such a folder. */
  const char *place = access ("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp";
  snprintf (folder, sizeof folder, "%s/spanwright-fuzz-XXXXXX", place);
  FUZZ_HOLDS (mkdtemp (folder) != NULL);
  for (size_t i = 0; i < FUZZ_FILES; i++)
    snprintf (paths[i], sizeof paths[i], "%s/%s", folder, parts[i].name);
  FUZZ_HOLDS (atexit (clean_up) == 0);
  return folder;
}

static const char *
write_part (size_t part, const uint8_t *data, size_t size)
{
  FILE *file = fopen (paths[part], "wb");
  FUZZ_HOLDS (file != NULL);
  FUZZ_HOLDS (size == 0 || fwrite (data, 1, size, file) == size);
  FUZZ_HOLDS (fclose (file) == 0);
  return paths[part];
}

void
fuzz_job_write (fuzz_job *job, const uint8_t *data, size_t size)
{
  const char *names[FUZZ_FILES] = { NULL };
  fuzz_folder ();
  for (size_t i = 0; i < FUZZ_FILES; i++)
    unlink (paths[i]);
  const uint8_t *end = size > 0 ? data + size : data;
  const uint8_t *at = size > 0 ? memchr (data, FUZZ_SPLIT, size) : NULL;
  while (at != NULL && at + 1 < end)
    {
      const uint8_t *next = memchr (at + 1, FUZZ_SPLIT, (size_t)(end - at - 1));
      const uint8_t *from = at + 2;
      size_t bytes = (size_t)((next != NULL ? next : end) - at);
      for (size_t i = 0; i < FUZZ_FILES && bytes >= 2; i++)
        if (parts[i].letter == (char)at[1])
          names[i] = write_part (i, from, bytes - 2);
      at = next;
    }
  *job = (fuzz_job){
    .sources = { .spans = names[0], .levels = names[1], .stock = names[2], .sections = names[3], .extras = names[4] },
    .settings_file = names[5],
    .plan = folder
  };
}

/* ---- From files to a plan -------------------------------------------------- */

sw_job *
fuzz_job_read (const fuzz_job *files, sw_report *report)
{
  sw_settings *settings = sw_settings_new ();
  FUZZ_HOLDS (settings != NULL);
  FUZZ_HOLDS (sw_settings_set (settings, "time-limit", SECONDS, report) == SW_OK);
  sw_job *job = NULL;
  sw_status status = SW_OK;
  if (files->settings_file != NULL)
    status = sw_settings_read (settings, files->settings_file, report);
  if (status == SW_OK)
    status = sw_job_read (&job, &files->sources, settings, report);
  FUZZ_HOLDS (status == SW_OK || status == SW_REJECTED || status == SW_USAGE);
  /* A refusal gives its reason, and what is accepted has no faults. */
  FUZZ_HOLDS ((status == SW_OK) == (sw_report_count_of (report, SW_FAULT) == 0));
  FUZZ_HOLDS ((status == SW_OK) == (job != NULL));
  sw_settings_free (settings);
  fuzz_check_report (report);
  return job;
}

int64_t
fuzz_job_pieces (const sw_job *job)
{
  int64_t pieces = 0;
  int64_t blocks = 0;
  for (size_t i = 0; i < job->extras.count; i++)
    pieces += job->extras.items[i].quantity;
  for (size_t i = 0; i < job->levels.count; i++)
    blocks += 1 + job->levels.items[i].blocks;
  for (size_t r = 0; r < job->fence.run_count; r++)
    pieces += (int64_t)job->fence.runs[r].bay_count * blocks;
  return pieces;
}

bool
fuzz_job_is_small (const sw_job *job)
{
  return fuzz_job_pieces (job) <= MOST_PIECES;
}

void
fuzz_small_job (const uint8_t *data, size_t size, fuzz_use *use)
{
  fuzz_job files;
  fuzz_job_write (&files, data, size);
  sw_report *report = sw_report_new ();
  FUZZ_HOLDS (report != NULL);
  sw_job *job = fuzz_job_read (&files, report);
  size_t run, bay;
  if (job != NULL && sw_fence_undivided (&job->fence, &run, &bay))
    {
      /* Its bays are not chosen yet: it is for sw_posts_make. */
      sw_plan *plan = NULL;
      FUZZ_HOLDS (sw_plan_make (&plan, job, NULL, report) == SW_REJECTED && plan == NULL);
    }
  else if (job != NULL && fuzz_job_is_small (job))
    use (&files, job, size, report);
  sw_job_free (job);
  sw_report_free (report);
}

bool
fuzz_go_on (const sw_progress *progress, void *data)
{
  size_t *steps = data;
  FUZZ_HOLDS (progress->seconds >= 0);
  return ++*steps < MOST_STEPS;
}

sw_plan *
fuzz_plan_make (const sw_job *job, bool hard_way, sw_report *report)
{
  size_t steps = 0;
  sw_limits limits = { .progress = fuzz_go_on, .data = &steps, .hard_way = hard_way };
  sw_plan *plan = NULL;
  sw_report_clear (report);
  sw_status status = sw_plan_make (&plan, job, &limits, report);
  FUZZ_HOLDS (status == SW_OK || status == SW_NO_PLAN || status == SW_STOPPED);
  FUZZ_HOLDS ((status == SW_OK) == (plan != NULL));
  FUZZ_HOLDS ((status == SW_OK) == (sw_report_count_of (report, SW_FAULT) == 0));
  fuzz_check_report (report);
  return plan;
}
